//! Packed knowledge from anybody.

use super::put::{EVIL, hole, link, packed, pipe, write};
use super::rig::Row;
use std::path::Path;

const OPEN: &[&str] = &["knowledge", "open", "@a.pack", "@new"];
const SOUND: &str = "(version: 1)";

/// A packed file of one file of this name.
fn named(to: &Path, name: &str) {
    write(to, "a.pack", packed(&[(name.to_owned(), SOUND.to_owned())]));
}

/// What makes a knowledge by itself: it would be used if it could.
fn sound(to: &Path) -> String {
    let cause = "\"c1\": (name: \"worn\", place: \"p\", shares: {\"f1\": 1.0}, basis: guess)";
    let family = "\"f1\": (name: \"f\", recognise: \"r\")";
    let text = format!("(version: 1, families: {{{family}}}, causes: {{{cause}}})");
    let pack = packed(&[("own.ron".to_owned(), text)]);
    write(to, "a.pack", &pack);
    pack
}

pub const ROWS: &[Row] = &[
    Row {
        what: "sound, as a measure",
        put: |to| drop(sound(to)),
        run: OPEN,
        typed: "",
        code: 0,
        says: "1 files written to ",
    },
    Row {
        what: "a byte changed",
        put: |to| {
            let pack = sound(to);
            write(to, "a.pack", pack.replace("worn", "torn"));
        },
        run: OPEN,
        typed: "",
        code: 2,
        says: "the hash does not fit what is in the file: it was cut short or changed",
    },
    Row {
        what: "cut short",
        put: |to| {
            let pack = sound(to);
            write(to, "a.pack", &pack[..pack.len() / 2]);
        },
        run: OPEN,
        typed: "",
        code: 2,
        says: "this is not a packed knowledge",
    },
    Row {
        what: "a newer version",
        put: |to| {
            let pack = sound(to);
            write(
                to,
                "a.pack",
                pack.replace("\"version\":1,\"", "\"version\":2,\"").replace("\"version\":1}", "\"version\":2}"),
            );
        },
        run: OPEN,
        typed: "",
        code: 2,
        says: "version 2 is not known here; a newer program is needed for newer files",
    },
    Row {
        what: "another format with an escape sequence in its name",
        put: |to| {
            let pack = sound(to);
            write(to, "a.pack", pack.replace("weephole knowledge", "other\u{9b}31m\u{202e}"));
        },
        run: OPEN,
        typed: "",
        code: 2,
        says: "`other31m` version 1 is not known here",
    },
    Row {
        what: "a name in the folder above",
        put: |to| named(to, "../x.ron"),
        run: OPEN,
        typed: "",
        code: 2,
        says: "`../x.ron` is not the name of a knowledge file; do not open this file",
    },
    Row {
        what: "a whole path",
        put: |to| named(to, "/tmp/x.ron"),
        run: OPEN,
        typed: "",
        code: 2,
        says: "`/tmp/x.ron` is not the name of a knowledge file",
    },
    Row {
        what: "a name with NUL",
        put: |to| named(to, "a\0.ron"),
        run: OPEN,
        typed: "",
        code: 2,
        says: "`a.ron` is not the name of a knowledge file",
    },
    Row {
        what: "a name with control, bidi and hidden characters",
        put: |to| named(to, &format!("{EVIL}.ron")),
        run: OPEN,
        typed: "",
        code: 2,
        says: "is not the name of a knowledge file",
    },
    Row {
        what: "a name of a million letters",
        put: |to| named(to, &format!("{}.ron", "a".repeat(1_000_000))),
        run: OPEN,
        typed: "",
        code: 2,
        says: "is not the name of a knowledge file",
    },
    Row {
        what: "one name in two spellings",
        put: |to| {
            let file = |name: &str| (name.to_owned(), SOUND.to_owned());
            write(to, "a.pack", packed(&[file("own.ron"), file("OWN.ron")]));
        },
        run: OPEN,
        typed: "",
        code: 2,
        says: "the name `OWN.ron` stands twice; do not open this file",
    },
    Row {
        what: "200,000 files",
        put: |to| {
            let files: Vec<(String, String)> =
                (0..200_000).map(|at| (format!("f{at}.ron"), SOUND.to_owned())).collect();
            write(to, "a.pack", packed(&files));
        },
        run: OPEN,
        typed: "",
        code: 2,
        says: "there are more than 1000 files in it",
    },
    Row {
        what: "brackets nested a million deep",
        put: |to| write(to, "a.pack", "[".repeat(1_000_000)),
        run: OPEN,
        typed: "",
        code: 2,
        says: "this is not a packed knowledge",
    },
    Row {
        what: "knowledge that cannot be used",
        put: |to| write(to, "a.pack", packed(&[("own.ron".to_owned(), "(version: 1, causes: {".to_owned())])),
        run: OPEN,
        typed: "",
        code: 2,
        says: "nothing was written: the knowledge in this file cannot be used",
    },
    Row {
        what: "64 MiB and a byte",
        put: |to| hole(to, "a.pack", 64 * 1024 * 1024 + 1),
        run: OPEN,
        typed: "",
        code: 2,
        says: "a.pack has more than 67108864 bytes",
    },
    Row {
        what: "an endless device",
        put: |to| link(to, "a.pack", "/dev/zero"),
        run: OPEN,
        typed: "",
        code: 2,
        says: "a.pack is a device; name an ordinary file",
    },
    Row {
        what: "a pipe that nobody writes into",
        put: |to| pipe(to, "a.pack"),
        run: OPEN,
        typed: "",
        code: 2,
        says: "a.pack is a pipe; name an ordinary file",
    },
    Row {
        what: "invalid UTF-8",
        put: |to| write(to, "a.pack", b"{\"format\":\"\xff\"}"),
        run: OPEN,
        typed: "",
        code: 2,
        says: "a.pack is not UTF-8 text at byte 11",
    },
    Row {
        what: "opened where a link leads elsewhere",
        put: |to| {
            sound(to);
            write(to, "far/x", "");
            link(to, "new", "far");
        },
        run: OPEN,
        typed: "",
        code: 1,
        says: "is there already; name one that is not, nothing is overwritten",
    },
];
