//! Edits of knowledge folders that lead elsewhere, or whose kept old texts were tampered with.

use super::put::{link, write};
use super::rig::Row;

const OWN: &str = "(version: 1, sources: {\"own_log\": (title: \"x\", kind: published)})";
const SET: &[&str] = &["knowledge", "set", "sources.own_log.title", "y", "--knowledge", "@k"];
const UNDO: &[&str] = &["knowledge", "undo", "--knowledge", "@k"];

/// The record of an edit of this file whose old text lies in that one.
fn record(file: &str, backup: &str) -> String {
    serde_json::json!({
        "number": 1, "words": ["\u{1b}[2Jx"],
        "files": [{ "name": file, "backup": backup, "before": "0", "after": "0" }],
    })
    .to_string()
}

pub const ROWS: &[Row] = &[
    Row {
        what: "a new file in the folder above",
        put: |to| write(to, "k/own.ron", OWN),
        run: &[
            "knowledge",
            "add",
            "sources",
            "s2",
            "title=x",
            "kind=published",
            "--file",
            "../x.ron",
            "--knowledge",
            "@k",
        ],
        typed: "",
        code: 2,
        says: "`../x.ron` is not the name of a knowledge file",
    },
    Row {
        what: "a new file by its whole path",
        put: |to| write(to, "k/own.ron", OWN),
        run: &[
            "knowledge",
            "add",
            "sources",
            "s2",
            "title=x",
            "kind=published",
            "--file",
            "/tmp/x.ron",
            "--knowledge",
            "@k",
        ],
        typed: "",
        code: 2,
        says: "`/tmp/x.ron` is not the name of a knowledge file",
    },
    Row {
        what: "an id with a path and an escape sequence",
        put: |to| write(to, "k/own.ron", OWN),
        run: &["knowledge", "add", "sources", "../\u{1b}[31m", "title=x", "kind=published", "--knowledge", "@k"],
        typed: "",
        code: 2,
        says: "nothing was saved: ",
    },
    Row {
        what: "a value that closes a bracket of the file",
        put: |to| write(to, "k/own.ron", OWN),
        run: &[
            "knowledge",
            "add",
            "sources",
            "s2",
            "title=x",
            "kind=published), \"s3\": (title: \"y\"",
            "--knowledge",
            "@k",
        ],
        typed: "",
        code: 2,
        says: "nothing was saved: ",
    },
    Row {
        what: "an entry of a hundred thousand brackets on standard input",
        put: |to| write(to, "k/own.ron", OWN),
        run: &["knowledge", "add", "sources", "s2", "--knowledge", "@k"],
        typed: "((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((",
        code: 2,
        says: "nothing was saved: ",
    },
    Row {
        what: "an entry without end on standard input",
        put: |to| write(to, "k/own.ron", OWN),
        run: &["knowledge", "add", "sources", "s2", "--knowledge", "@k"],
        typed: "/dev/zero",
        code: 2,
        says: "bytes",
    },
    Row {
        what: "old texts kept outside, behind a link",
        put: |to| {
            write(to, "k/own.ron", OWN);
            write(to, "far/x", "");
            link(to, "k/backups", "../far");
        },
        run: SET,
        typed: "",
        code: 1,
        says: "backups leads out of its folder; copy the file in instead",
    },
    Row {
        what: "a file in place of the old texts",
        put: |to| {
            write(to, "k/own.ron", OWN);
            write(to, "k/backups", "x");
        },
        run: SET,
        typed: "",
        code: 1,
        says: "backups",
    },
    Row {
        what: "a record of an edit that is no record",
        put: |to| {
            write(to, "k/own.ron", OWN);
            write(to, "k/backups/0001.edit.json", "{\"number\":");
        },
        run: UNDO,
        typed: "",
        code: 1,
        says: "0001.edit.json is damaged; put back by hand what is wanted from the folder",
    },
    Row {
        what: "a record of an edit nested 100,000 deep",
        put: |to| {
            write(to, "k/own.ron", OWN);
            write(to, "k/backups/0001.edit.json", "[".repeat(100_000));
        },
        run: UNDO,
        typed: "",
        code: 1,
        says: "0001.edit.json is damaged",
    },
    Row {
        what: "a record whose file leads out of the folder",
        put: |to| {
            write(to, "k/own.ron", OWN);
            write(to, "far.ron", OWN);
            write(to, "k/backups/x.0001.ron.old", "x");
            write(to, "k/backups/0001.edit.json", record("../far.ron", "x.0001.ron.old"));
        },
        run: UNDO,
        typed: "",
        code: 1,
        says: "far.ron leads out of its folder",
    },
    Row {
        what: "a record whose old text leads out of the folder",
        put: |to| {
            write(to, "k/own.ron", OWN);
            write(to, "k/backups/0001.edit.json", record("own.ron", "../../../etc/passwd"));
        },
        run: UNDO,
        typed: "",
        code: 1,
        says: "passwd leads out of its folder",
    },
    Row {
        what: "the last number of an edit there is",
        put: |to| {
            write(to, "may_k/own.ron", OWN);
            write(to, "may_k/backups/own.999999999.ron.old", "x");
        },
        run: &["knowledge", "set", "sources.own_log.title", "y", "--knowledge", "@may_k"],
        typed: "",
        code: 1,
        says: "the last number",
    },
    Row {
        what: "decisions on learned numbers that are none",
        put: |to| {
            write(to, "k/own.ron", OWN);
            write(to, "k/learned.jsonl", "{\"path\":\"\u{9b}2J\n\u{1b}[31m\n");
        },
        run: &["knowledge", "learn", "--knowledge", "@k"],
        typed: "",
        code: 2,
        says: "learned.jsonl",
    },
    Row {
        what: "decisions on learned numbers from an endless device",
        put: |to| {
            write(to, "k/own.ron", OWN);
            link(to, "k/learned.jsonl", "/dev/zero");
        },
        run: &["knowledge", "learn", "--knowledge", "@k"],
        typed: "",
        code: 2,
        says: "learned.jsonl is a device; name an ordinary file",
    },
];
