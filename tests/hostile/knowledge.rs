//! Knowledge folders: what stands in their files, how they are named, and what is put in the place of a file.

use super::put::{EVIL, EVIL_ESCAPED, LONG_NAME, hole, link, pipe, write};
use super::rig::Row;

const CHECK: &[&str] = &["knowledge", "check", "--knowledge", "@k"];
const SOUND: &str = "(version: 1)";

/// A finding of this id and name.
fn finding(id: &str, name: &str) -> String {
    format!(
        "(version: 1, findings: {{\"{id}\": (name: \"{name}\", question: \"Is it {name}?\", aliases: [\"{name}\"])}})"
    )
}

/// So many entries, each of this text with its number for `#`.
fn many(kind: &str, entry: &str, count: usize) -> String {
    let entries: Vec<String> = (0..count).map(|at| entry.replace('#', &at.to_string())).collect();
    format!("(version: 1, {kind}: {{{}}})", entries.join(","))
}

pub const ROWS: &[Row] = &[
    Row {
        what: "control, bidi, tag and hidden characters in names",
        put: |to| write(to, "k/own.ron", finding("hum", EVIL)),
        run: &["knowledge", "show", "hum", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "]0;owned[2J31mq (hum, findings)",
    },
    Row {
        what: "the same written as escapes, with NUL, as JSON",
        put: |to| write(to, "k/own.ron", finding("hum", EVIL_ESCAPED)),
        run: &["knowledge", "list", "findings", "--json", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "\\u001b]0;owned\\u0007\\u001b[2J\\u009b31m\\u0090q\\u202e",
    },
    Row {
        what: "an id with a zero-width blank",
        put: |to| write(to, "k/own.ron", finding("low\u{200b}flow", "x")),
        run: CHECK,
        typed: "",
        code: 2,
        says: "this id is not plain",
    },
    Row {
        what: "an id of look-alike letters",
        put: |to| write(to, "k/own.ron", finding("l\u{43e}w_flow", "x")),
        run: CHECK,
        typed: "",
        code: 2,
        says: "this id is not plain",
    },
    Row {
        what: "an id like a path",
        put: |to| write(to, "k/own.ron", finding("../../x", "x")),
        run: CHECK,
        typed: "",
        code: 2,
        says: "this id is not plain",
    },
    Row {
        what: "NUL between the values",
        put: |to| write(to, "k/own.ron", "(version: 1,\0 findings: {})"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron:1:13",
    },
    Row {
        what: "invalid UTF-8",
        put: |to| write(to, "k/own.ron", b"(version: 1,\n release: \"a\xc3\x28\")"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron is not UTF-8 text at byte 25 (line 2); save it again as UTF-8",
    },
    Row {
        what: "UTF-16 with its mark",
        put: |to| write(to, "k/own.ron", b"\xff\xfe(\0v\0e\0r\0)\0"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron is not UTF-8 text at byte 0 (line 1)",
    },
    Row {
        what: "a byte order mark in front, which is dropped",
        put: |to| write(to, "k/own.ron", format!("\u{feff}{SOUND}")),
        run: CHECK,
        typed: "",
        code: 0,
        says: "0 errors, 0 warnings",
    },
    Row {
        what: "8 MiB and a byte",
        put: |to| hole(to, "k/own.ron", 8 * 1024 * 1024 + 1),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron has more than 8388608 bytes; check that it is the right file, or split it",
    },
    Row {
        what: "nine files of 7.9 MB",
        put: |to| {
            (0..9).for_each(|at| write(to, &format!("k/own{at}.ron"), format!("{SOUND}{}", " ".repeat(7_900_000))));
        },
        run: CHECK,
        typed: "",
        code: 2,
        says: "its files have more than 67108864 bytes together; check that it is the right folder",
    },
    Row {
        what: "an endless device behind a link",
        put: |to| link(to, "k/own.ron", "/dev/zero"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron is a link that leads out of its folder; copy the file in instead",
    },
    Row {
        what: "a pipe that nobody writes into",
        put: |to| pipe(to, "k/own.ron"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron is not an ordinary file; remove it",
    },
    Row {
        what: "a folder named like a file",
        put: |to| write(to, "k/own.ron/readme.txt", "x"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "there is no knowledge file (*.ron) in this folder",
    },
    Row {
        what: "a file in place of the folder",
        put: |to| write(to, "k", SOUND),
        run: CHECK,
        typed: "",
        code: 2,
        says: "k: Not a directory",
    },
    Row {
        what: "a device in place of the folder",
        put: |to| link(to, "k", "/dev/null"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "Not a directory",
    },
    Row {
        what: "a link to a file outside",
        put: |to| {
            write(to, "far.ron", SOUND);
            link(to, "k/own.ron", "../far.ron");
        },
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron is a link that leads out of its folder",
    },
    Row {
        what: "links that lead to each other",
        put: |to| {
            link(to, "k/a.ron", "b.ron");
            link(to, "k/b.ron", "a.ron");
        },
        run: CHECK,
        typed: "",
        code: 2,
        says: "b.ron cannot be read; check that it exists and who may read it",
    },
    Row {
        what: "a folder that links to the one above",
        put: |to| {
            write(to, "k/own.ron", SOUND);
            link(to, "k/sub/again", "..");
        },
        run: CHECK,
        typed: "",
        code: 0,
        says: "0 errors",
    },
    Row {
        what: "folders six deep",
        put: |to| {
            write(to, "k/own.ron", SOUND);
            write(to, "k/1/2/3/4/5/6/deep.ron", SOUND);
        },
        run: CHECK,
        typed: "",
        code: 0,
        says: "lies more than 4 folders deep; move it up",
    },
    Row {
        what: "a million open brackets",
        put: |to| write(to, "k/own.ron", format!("(version: 1, release: {}", "(".repeat(1_000_000))),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron:1:",
    },
    Row {
        what: "words with brackets, 200,000 deep",
        put: |to| write(to, "k/own.ron", format!("(version: 1, release: {}", "Some(".repeat(200_000))),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron:1:28: cannot read this: Expected string",
    },
    Row {
        what: "comments in comments, 300,000 deep",
        put: |to| write(to, "k/own.ron", "/*".repeat(300_000)),
        run: CHECK,
        typed: "",
        code: 2,
        says: "Unclosed block comment",
    },
    Row {
        what: "a map of 200,000 entries",
        put: |to| write(to, "k/own.ron", many("sources", "\"s#\":(title:\"x\",kind:published)", 200_000)),
        run: CHECK,
        typed: "",
        code: 2,
        says: "there are more than 20000 entries up to this file",
    },
    Row {
        what: "one key 200,000 times",
        put: |to| write(to, "k/own.ron", many("sources", "\"s\":(title:\"x\",kind:published)", 200_000)),
        run: CHECK,
        typed: "",
        code: 2,
        says: "`s` stands twice, first at 1:24; only the last would count",
    },
    Row {
        what: "5,000 findings that nothing leads to and nobody asks",
        put: |to| write(to, "k/own.ron", many("findings", "\"f#\":(name:\"x#\",question:\"Is?\")", 5_000)),
        run: &["knowledge", "list", "findings", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "f4999",
    },
    Row {
        what: "1,500 causes that nothing tells apart",
        put: |to| {
            let cause = "\"c#\":(name:\"x#\",place:\"p\",shares:{\"oil_backed\":0.001},basis:guess)";
            write(to, "k/own.ron", many("causes", cause, 1_500));
        },
        run: &["knowledge", "list", "causes", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "c1499",
    },
    Row {
        what: "50,000 numbers that are none",
        put: |to| {
            write(
                to,
                "k/own.ron",
                format!("(version: 1, glossary: {{}}, excludes: {{\"a\": [{}]}})", "inf,".repeat(50_000)),
            );
        },
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron:1:",
    },
    Row {
        what: "NaN, infinity and 1e999 as numbers",
        put: |to| {
            let condition = |id: &str, leak: &str| format!("\"{id}\": (name: \"{id}\", leak: {leak})");
            let all = [condition("a1", "NaN"), condition("a2", "inf"), condition("a3", "1e999")].join(",");
            write(to, "k/own.ron", format!("(version: 1, conditions: {{{all}}})"));
        },
        run: CHECK,
        typed: "",
        code: 2,
        says: "`1e999` is not a finite number",
    },
    Row {
        what: "an id of another file once more",
        put: |to| write(to, "k/own.ron", "(version: 1, sources: {\"low_flow\": (title: \"x\", kind: published)})"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "the id `low_flow` stands again; it is already in findings/delivery.ron:",
    },
    Row {
        what: "a newer version",
        put: |to| write(to, "k/own.ron", "(version: 999)"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "this program reads version 1; a newer program is needed for newer files",
    },
    Row {
        what: "version 0, and a version too large for a number",
        put: |to| {
            write(to, "k/a.ron", "(version: 0)");
            write(to, "k/b.ron", "(version: 99999999999999999999)");
        },
        run: CHECK,
        typed: "",
        code: 2,
        says: "version 0 of the file format is not known here",
    },
    Row {
        what: "a field that is none, with a control character in its name",
        put: |to| write(to, "k/own.ron", "(version: 1, findings: {\"a\": (r#na\u{9b}me: \"x\")})"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron:1:",
    },
    Row {
        what: "retired ids in a circle",
        put: |to| {
            let one = |id: &str, other: &str| format!("\"{id}\": (name: \"x\", instead: \"{other}\")");
            write(to, "k/own.ron", format!("(version: 1, retired: {{{}, {}}})", one("ra", "rb"), one("rb", "ra")));
        },
        run: CHECK,
        typed: "",
        code: 0,
        says: "0 errors",
    },
    Row {
        what: "a cause that leads back to itself",
        put: |to| {
            let condition = |id: &str, other: &str| {
                format!(
                    "\"{id}\": (name: \"{id}\", leak: 0.01, leads_to: {{\"{other}\": (strength: often, basis: guess)}})"
                )
            };
            write(
                to,
                "k/own.ron",
                format!("(version: 1, conditions: {{{}, {}}})", condition("za", "zb"), condition("zb", "za")),
            );
        },
        run: CHECK,
        typed: "",
        code: 2,
        says: "circle",
    },
    Row {
        what: "a file name with escape sequences and a line break",
        put: |to| write(to, "k/\u{1b}[31mown\n\u{202e}.ron", "(version: 1"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "[31mown .ron:1:9",
    },
    Row {
        what: "a folder name with escape sequences",
        put: |_| {},
        run: &["knowledge", "check", "--knowledge", "@\u{1b}[31mk\u{9b}2J\u{202e}"],
        typed: "",
        code: 2,
        says: "[31mk2J: No such file",
    },
    Row {
        what: "a folder whose name is too long",
        put: |_| {},
        run: &["knowledge", "check", "--knowledge", LONG_NAME],
        typed: "",
        code: 2,
        says: "File name too long",
    },
    Row {
        what: "a script in a name, on the page for the wall",
        put: |to| write(to, "k/glossary.ron", "(version: 1, glossary: {\"<script>alert(1)</script>\": \"x\"})"),
        run: CHECK,
        typed: "",
        code: 0,
        says: "0 errors",
    },
    Row {
        what: "a script in a finding, on the page for the wall",
        put: |to| {
            let link = "\"valves_worn\": (strength: often, basis: guess)";
            let text = format!(
                "(version: 1, findings: {{\"hum\": (name: \"<script>x\", question: \"\\\"onload=\\\"x?\", aliases: [\"</td>\"], shown_by: {{{link}}})}})"
            );
            write(to, "k/own.ron", text);
        },
        run: &["knowledge", "wall", "hum", "--html", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "&lt;script&gt;x",
    },
    Row {
        what: "quotes, brackets and a script in a name, as a picture",
        put: |to| {
            let link = "\"valves_worn\": (strength: often, basis: guess)";
            let text = format!(
                "(version: 1, findings: {{\"hum\": (name: \"</text><script>x\", question: \"Is?\", shown_by: {{{link}}})}})"
            );
            write(to, "k/own.ron", text);
        },
        run: &["knowledge", "picture", "--format", "svg", "--around", "hum", "--steps", "1", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "&lt;/text&gt;&lt;script&gt;x",
    },
    Row {
        what: "quotes and brackets in a name, as a graph",
        put: |to| {
            let link = "\"valves_worn\": (strength: often, basis: guess)";
            let text = format!(
                "(version: 1, findings: {{\"hum\": (name: \"x\\\"]; evil [label=\\\"\\\\\", question: \"Is?\", shown_by: {{{link}}})}})"
            );
            write(to, "k/own.ron", text);
        },
        run: &["knowledge", "picture", "--format", "dot", "--around", "hum", "--steps", "1", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "x\\\"]; evil",
    },
];
