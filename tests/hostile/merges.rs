//! Folders of another laptop, taken in by `jobs merge`.

use super::put::{EVIL, complaint, hole, journal, line, link, opened, pipe, write};
use super::rig::Row;

const MERGE: &[&str] = &["jobs", "merge", "@b"];

pub const ROWS: &[Row] = &[
    Row {
        what: "nothing but a link out of the folder",
        put: |to| {
            journal(to, "far.journal", &[opened("a"), complaint("x")]);
            link(to, "b/0001-a.journal", "../far.journal");
        },
        run: MERGE,
        typed: "",
        code: 1,
        says: "left out: ",
    },
    Row {
        what: "links that lead to each other",
        put: |to| {
            link(to, "b/a.journal", "b.journal");
            link(to, "b/b.journal", "a.journal");
        },
        run: MERGE,
        typed: "",
        code: 1,
        says: "cannot be read; check that it exists and who may read it",
    },
    Row {
        what: "a pipe and an endless device",
        put: |to| {
            pipe(to, "b/a.journal");
            link(to, "b/b.journal", "/dev/zero");
        },
        run: MERGE,
        typed: "",
        code: 1,
        says: "2 of the files could not be taken in; the others were",
    },
    Row {
        what: "a file in place of the folder",
        put: |to| write(to, "b", "x"),
        run: MERGE,
        typed: "",
        code: 1,
        says: "Not a directory",
    },
    Row {
        what: "a letter, beside a sound job with escape sequences in every text",
        put: |to| {
            write(to, "b/0001-letter.journal", "Dear all,\n");
            journal(to, "b/0002-a.journal", &[opened(EVIL), complaint(EVIL)]);
        },
        run: MERGE,
        typed: "",
        code: 1,
        says: "new here: job 1",
    },
    Row {
        what: "a newer version",
        put: |to| journal(to, "b/0001-a.journal", &[opened("a").replace("\"version\":2", "\"version\":999")]),
        run: MERGE,
        typed: "",
        code: 1,
        says: "has version 999; a newer program is needed",
    },
    Row {
        what: "a harmed line in the middle",
        put: |to| {
            journal(to, "b/0001-a.journal", &[opened("a"), complaint("x"), complaint("y")]);
            let text = std::fs::read_to_string(to.join("b/0001-a.journal")).unwrap();
            write(to, "b/0001-a.journal", text.replacen("\"words\":\"x\"", "\"words\":\"z\"", 1));
        },
        run: MERGE,
        typed: "",
        code: 1,
        says: "is damaged in line 2, 1 good lines follow; it was left as it is: restore it from a copy",
    },
    Row {
        what: "64 MiB and a byte",
        put: |to| hole(to, "b/0001-a.journal", 64 * 1024 * 1024 + 1),
        run: MERGE,
        typed: "",
        code: 1,
        says: "has more than 67108864 bytes",
    },
    Row {
        what: "a pump named like a path",
        put: |to| journal(to, "b/0001-a.journal", &[opened("../../../../tmp/x"), complaint("x")]),
        run: MERGE,
        typed: "",
        code: 0,
        says: "new here: job 1",
    },
    Row {
        what: "a file name with escape sequences and a line break",
        put: |to| journal(to, "b/\u{1b}[31m\n\u{202e}0001.journal", &[opened("a"), complaint("x")]),
        run: MERGE,
        typed: "",
        code: 0,
        says: "[31m 0001.journal: new here: job 1",
    },
    Row {
        what: "one job twice, and the same with a line of its own",
        put: |to| {
            journal(to, "b/1.journal", &[opened("a"), complaint("x")]);
            journal(to, "b/2.journal", &[opened("a"), complaint("x")]);
            journal(to, "b/3.journal", &[opened("a"), line(9, "\"what\":\"note\",\"text\":\"other\"")]);
        },
        run: MERGE,
        typed: "",
        code: 0,
        says: "went another way than job 1; both are kept, this one as job 2",
    },
    Row {
        what: "a sheet in a job that claims a path",
        put: |to| {
            let sheet = "\"sheet\":{\"version\":1,\"name\":\"../x\",\"family\":\"oil_backed\"}";
            let first = opened("a").replace("\"lines\":", &format!("{sheet},\"lines\":"));
            journal(to, "b/1.journal", &[first, complaint("x")]);
        },
        run: MERGE,
        typed: "",
        code: 0,
        says: "new here: job 1",
    },
];
