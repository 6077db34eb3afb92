//! Lines that are typed or piped into a job, practice, and the command line itself.

use super::put::{LONG, write};
use super::rig::Row;

const JOB: &[&str] = &["job", "--plain"];

pub const ROWS: &[Row] = &[
    Row {
        what: "control, bidi, tag and hidden characters at every prompt",
        put: |_| {},
        run: JOB,
        typed: "\u{1b}]0;owned\u{7}gravel\u{9b}31m\u{202e}\n1\n\u{90}\u{200b}\n\u{e0041}\n\nnote \u{1b}[2J\u{7f}\u{0}x\ntrail\n\u{feff}\n",
        code: 0,
        says: "is saved in",
    },
    Row {
        what: "a line of two million letters",
        put: |_| {},
        run: JOB,
        typed: LONG,
        code: 0,
        says: "That line is too long. Only its first 4096 bytes are taken.",
    },
    Row {
        what: "bytes without end and without a line break",
        put: |_| {},
        run: JOB,
        typed: "/dev/zero",
        code: 1,
        says: "a line without end",
    },
    Row {
        what: "numbers of rows beyond any list",
        put: |_| {},
        run: JOB,
        typed: "gravel\n99999999999999999999 -1 0 1e9\n18446744073709551616\n",
        code: 0,
        says: "is saved in",
    },
    Row {
        what: "orders with nothing, too much and nonsense behind them",
        put: |_| {},
        run: JOB,
        typed: "gravel\n1\n\n\ndone\nwithdraw\nwithdraw 99999999999\nchange -1\ntell\nnote\nchanged\nfix fix fix\naside 1e999\nwhy why\nservice\nisolate\n12 inHg vac vac\nNaN bar\n-1e400 bar\n",
        code: 0,
        says: "is saved in",
    },
    Row {
        what: "Markdown, a script and a formula as a complaint",
        put: |_| {},
        run: JOB,
        typed: "=cmd|'/c x'!A1 <script>x</script> ![x](y)\n\n\n\n",
        code: 0,
        says: "is saved in",
    },
    Row {
        what: "control characters in practice",
        put: |_| {},
        run: &["practice", "--plain"],
        typed: "1\n1\n\u{1b}[2J\n\u{9b}\n\u{202e}x\n",
        code: 0,
        says: "",
    },
    Row {
        what: "an escape sequence as a command",
        put: |_| {},
        run: &["\u{1b}[31mdiagnose\u{9b}2J\u{202e}"],
        typed: "",
        code: 2,
        says: "unrecognized subcommand '[31mdiagnose2J'",
    },
    Row {
        what: "an escape sequence as a pump family",
        put: |_| {},
        run: &["job", "--plain", "--family", "wind\u{1b}[31m\u{202e}mill"],
        typed: "",
        code: 2,
        says: "`wind[31mmill` is not a pump family",
    },
    Row {
        what: "an escape sequence as the law to reckon with, as JSON",
        put: |_| {},
        run: &["reckon", "law\u{9b}31m\u{202e}", "x\u{9b}=1", "--json"],
        typed: "",
        code: 2,
        says: "law",
    },
    Row {
        what: "a job number beyond any",
        put: |_| {},
        run: &["record", "4294967296"],
        typed: "",
        code: 2,
        says: "4294967296 is not in 0..=4294967295",
    },
    Row {
        what: "a data folder below a file",
        put: |to| write(to, "x", ""),
        run: &["jobs", "merge", "@x/y"],
        typed: "",
        code: 1,
        says: "Not a directory",
    },
    Row {
        what: "a record written over a folder",
        put: |to| {
            write(to, "record/x", "");
            let lines = [super::put::opened("a"), super::put::complaint("x")];
            super::put::journal(to, "a.journal", &lines);
        },
        run: &["record", "--journal", "@a.journal", "--out", "@record"],
        typed: "",
        code: 1,
        says: "record is a folder; name an ordinary file",
    },
    Row {
        what: "a record written into a full device",
        put: |to| {
            let lines = [super::put::opened("a"), super::put::complaint("x")];
            super::put::journal(to, "a.journal", &lines);
        },
        run: &["record", "--journal", "@a.journal", "--out", "/dev/full"],
        typed: "",
        code: 1,
        says: "/dev/full is a device; name an ordinary file",
    },
];
