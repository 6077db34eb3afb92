//! Journals and what is made of them: records in every format, jobs taken up again, lists.

use super::put::{EVIL, complaint, hole, journal, line, link, opened, pipe, write};
use super::rig::Row;
use std::path::Path;

const RECORD: &[&str] = &["record", "--journal", "@a.journal"];

/// A job whose every text holds `words`.
fn job(to: &Path, words: &str) {
    let said = serde_json::json!(words);
    let number = format!("\"what\":\"measured\",\"reading\":\"inlet_pressure_full\",\"text\":{said},\"si\":-40000.0");
    let note = format!("\"what\":\"note\",\"text\":{said}");
    let unknown = format!("\"what\":\"answered\",\"finding\":{said},\"answer\":\"yes\"");
    let lines = [opened(words), complaint(words), line(2, &number), line(3, &note), line(4, &unknown)];
    journal(to, "a.journal", &lines);
}

pub const ROWS: &[Row] = &[
    Row {
        what: "control, bidi, tag and hidden characters in every text, as Markdown",
        put: |to| job(to, EVIL),
        run: RECORD,
        typed: "",
        code: 0,
        says: "> \\]0;owned\\[2J31mq",
    },
    Row {
        what: "the same, as a page",
        put: |to| job(to, EVIL),
        run: &["record", "--journal", "@a.journal", "--format", "html", "--out", "@record.html"],
        typed: "",
        code: 0,
        says: "",
    },
    Row {
        what: "the same, as JSON in a file",
        put: |to| job(to, EVIL),
        run: &["record", "--journal", "@a.journal", "--format", "json", "--out", "@record.json"],
        typed: "",
        code: 0,
        says: "",
    },
    Row {
        what: "the same, as a table in a file",
        put: |to| job(to, EVIL),
        run: &["record", "--journal", "@a.journal", "--format", "csv", "--out", "@record.csv"],
        typed: "",
        code: 0,
        says: "",
    },
    Row {
        what: "the same, as the page for the next shift",
        put: |to| job(to, EVIL),
        run: &["record", "--journal", "@a.journal", "--format", "handover"],
        typed: "",
        code: 0,
        says: "owned",
    },
    Row {
        what: "a formula in every text, as a table",
        put: |to| job(to, "=HYPERLINK(\"http://x\",\"y\")"),
        run: &["record", "--journal", "@a.journal", "--format", "csv"],
        typed: "",
        code: 0,
        says: ",\"'=HYPERLINK(\"\"http://x\"\",\"\"y\"\")\",",
    },
    Row {
        what: "a formula behind a hidden character, as a table",
        put: |to| job(to, "\u{200b}@SUM(A1)"),
        run: &["record", "--journal", "@a.journal", "--format", "csv"],
        typed: "",
        code: 0,
        says: ",'@SUM(A1),",
    },
    Row {
        what: "a script in every text, as a page",
        put: |to| job(to, "</td><script>alert(1)</script>"),
        run: &["record", "--journal", "@a.journal", "--format", "html"],
        typed: "",
        code: 0,
        says: "&lt;/td&gt;&lt;script&gt;alert(1)&lt;/script&gt;",
    },
    Row {
        what: "links, pictures and markup in every text, as Markdown",
        put: |to| job(to, "![x](http://x) <img src=x> # h | a"),
        run: RECORD,
        typed: "",
        code: 0,
        says: "!\\[x\\](http://x) \\<img src=x\\> # h \\| a",
    },
    Row {
        what: "a letter",
        put: |to| write(to, "a.journal", "Dear all,\n"),
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal is not a job journal and was left as it is; name another file",
    },
    Row { what: "nothing", put: |to| write(to, "a.journal", ""), run: RECORD, typed: "", code: 1, says: "journal" },
    Row {
        what: "an endless device",
        put: |to| link(to, "a.journal", "/dev/zero"),
        run: &["job", "--plain", "--journal", "@a.journal"],
        typed: "",
        code: 1,
        says: "a.journal is a device; name an ordinary file",
    },
    Row {
        what: "a pipe that nobody writes into",
        put: |to| pipe(to, "a.journal"),
        run: &["job", "--plain", "--journal", "@a.journal"],
        typed: "",
        code: 1,
        says: "a.journal is a pipe; name an ordinary file",
    },
    Row {
        what: "a folder",
        put: |to| write(to, "a.journal/x", ""),
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal is a folder; name an ordinary file",
    },
    Row {
        what: "64 MiB and a byte",
        put: |to| hole(to, "a.journal", 64 * 1024 * 1024 + 1),
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal has more than 67108864 bytes",
    },
    Row {
        what: "64 MiB of nothing but NUL",
        put: |to| hole(to, "a.journal", 64 * 1024 * 1024),
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal is not a job journal",
    },
    Row {
        what: "200,000 remarks",
        put: |to| {
            let note = line(2, "\"what\":\"note\",\"text\":\"x\"");
            let mut lines = vec![opened("a"), complaint("x")];
            lines.extend(std::iter::repeat_n(note, 200_000));
            journal(to, "data/jobs/0001-a.journal", &lines);
        },
        run: &["jobs"],
        typed: "",
        code: 0,
        says: "1  2026-11-02",
    },
    Row {
        what: "a line of a million open brackets, with a right check",
        put: |to| journal(to, "a.journal", &[opened("a"), "[".repeat(1_000_000)]),
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal:2: this line is not an entry of a job",
    },
    Row {
        what: "a number too large for any, with a right check",
        put: |to| {
            let number = "\"what\":\"measured\",\"reading\":\"inlet_pressure_full\",\"text\":\"x\",\"si\":1e999";
            journal(to, "a.journal", &[opened("a"), line(1, number)]);
        },
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal:2: this line is not an entry of a job: number out of range",
    },
    Row {
        what: "a pressure far below a vacuum",
        put: |to| {
            let number = "\"what\":\"measured\",\"reading\":\"inlet_pressure_full\",\"text\":\"x\",\"si\":-1e300";
            journal(to, "a.journal", &[opened("a"), complaint("x"), line(1, number)]);
        },
        run: RECORD,
        typed: "",
        code: 0,
        says: "inlet gauge at full speed",
    },
    Row {
        what: "a newer version",
        put: |to| journal(to, "a.journal", &[opened("a").replace("\"version\":2", "\"version\":999")]),
        run: RECORD,
        typed: "",
        code: 1,
        says: "999",
    },
    Row {
        what: "an event that is none, with an escape sequence in it",
        put: |to| journal(to, "a.journal", &[opened("a"), line(1, "\"what\":\"\u{9b}31m\u{202e}\"")]),
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal:2: this line is not an entry of a job: unknown variant `31m`",
    },
    Row {
        what: "opened twice, where the later opening counts",
        put: |to| journal(to, "a.journal", &[opened("a"), complaint("x"), opened("b")]),
        run: RECORD,
        typed: "",
        code: 0,
        says: "# Job record: b",
    },
    Row {
        what: "no opening at all",
        put: |to| journal(to, "a.journal", &[complaint("x")]),
        run: RECORD,
        typed: "",
        code: 1,
        says: "opening",
    },
    Row {
        what: "a family that is none",
        put: |to| journal(to, "a.journal", &[opened("a").replace("oil_backed", "wind\u{9b}mill"), complaint("x")]),
        run: RECORD,
        typed: "",
        code: 1,
        says: "windmill",
    },
    Row {
        what: "a clock that jumps back a year and to the ends of time",
        put: |to| {
            let at = |time: &str| complaint("x").replace("2026-11-02T07:01:00Z", time);
            let times = ["2025-01-01T00:00:00Z", "9999-12-30T22:00:00Z", "-009999-01-02T01:59:59Z"];
            let mut lines = vec![opened("a")];
            lines.extend(times.map(at));
            journal(to, "a.journal", &lines);
        },
        run: RECORD,
        typed: "",
        code: 0,
        says: "Likely causes",
    },
    Row {
        what: "entries of the year 2099, taken up again by a clock that is far behind",
        put: |to| {
            let later = [opened("a"), complaint("it rattles")].map(|line| line.replace("2026-11-02", "2099-11-02"));
            journal(to, "data/jobs/0001-may_grow.journal", &later);
        },
        run: &["job", "--plain", "--resume", "1"],
        typed: "1\n1\ndone\nnote later, or earlier\nisolate\nwater\nAnn, fitter\ndrive\ny\ny\ny\n",
        code: 0,
        says: "Saved as a remark.",
    },
    Row {
        what: "a time that is none",
        put: |to| journal(to, "a.journal", &[opened("a").replace("2026-11-02", "2026-13-45")]),
        run: RECORD,
        typed: "",
        code: 1,
        says: "a.journal:1: this line is not an entry of a job",
    },
    Row {
        what: "a harmed line in the middle",
        put: |to| {
            job(to, "x");
            let text = std::fs::read_to_string(to.join("a.journal")).unwrap();
            write(to, "a.journal", text.replace("\"what\":\"note\"", "\"what\":\"nose\""));
        },
        run: RECORD,
        typed: "",
        code: 0,
        says: "line 4 is damaged; this record ends before it and leaves out 1 good entries after it",
    },
    Row {
        what: "invalid UTF-8 in the last line",
        put: |to| {
            job(to, "x");
            let mut bytes = std::fs::read(to.join("a.journal")).unwrap();
            let end = bytes.len();
            bytes[end - 9] = 0xff;
            write(to, "a.journal", bytes);
        },
        run: RECORD,
        typed: "",
        code: 0,
        says: "the last entry (line 5) was cut short and is not in this record",
    },
    Row {
        what: "a job behind a link to an endless device, in the list",
        put: |to| link(to, "data/jobs/0001-a.journal", "/dev/zero"),
        run: &["jobs"],
        typed: "",
        code: 0,
        says: "There are no jobs yet.",
    },
    Row {
        what: "the last number of a job there is",
        put: |to| journal(to, "data/jobs/999999999-a.journal", &[opened("a"), complaint("x")]),
        run: &["job", "--plain"],
        typed: "\nit rattles\n",
        code: 1,
        says: "holds the last number there is; move its highest job away",
    },
    Row {
        what: "a file in place of the folder of jobs",
        put: |to| write(to, "data/jobs", "x"),
        run: &["job", "--plain"],
        typed: "it rattles\n",
        code: 1,
        says: "jobs is not a folder; name a folder for jobs",
    },
    Row {
        what: "a folder in place of the file that keeps the order of numbers",
        put: |to| write(to, "data/jobs/.numbering/x", ""),
        run: &["job", "--plain"],
        typed: "it rattles\n",
        code: 1,
        says: "cannot lock",
    },
    Row {
        what: "an index of jobs that is an endless device",
        put: |to| {
            journal(to, "data/jobs/0001-a.journal", &[opened("a"), complaint("it rattles")]);
            link(to, "data/cache/jobs.index", "/dev/zero");
        },
        run: &["jobs", "--json"],
        typed: "",
        code: 0,
        says: "it rattles",
    },
    Row {
        what: "escape sequences in a job, in the list as JSON",
        put: |to| journal(to, "data/jobs/0001-a.journal", &[opened(EVIL), complaint(EVIL)]),
        run: &["jobs", "--json"],
        typed: "",
        code: 0,
        says: "\\u009b31m",
    },
    Row {
        what: "a formula in the name of a pump, in the list as a table",
        put: |to| journal(to, "data/jobs/0001-a.journal", &[opened("=1+1"), complaint("+cmd|x")]),
        run: &["jobs", "--csv"],
        typed: "",
        code: 0,
        says: ",'=1+1,oil_backed,'+cmd|x,",
    },
    Row {
        what: "ids with escape sequences, in the rows for counting",
        put: |to| {
            let answer = line(2, "\"what\":\"answered\",\"finding\":\"\u{9b}31m\u{202e}\",\"answer\":\"yes\"");
            journal(to, "data/jobs/0001-a.journal", &[opened("a"), complaint("x"), answer]);
        },
        run: &["jobs", "export", "--out", "@record.jsonl"],
        typed: "",
        code: 0,
        says: "lines in",
    },
    Row {
        what: "usual values kept for a pump that are none",
        put: |to| {
            write(to, "a.pump.ron", "(version: 1, name: \"a\", family: \"oil_backed\")");
            write(to, "data/usual_a.json", "{\"x\":[\"\u{9b}31m\"");
        },
        run: &["job", "--plain", "--pump", "@a.pump.ron"],
        typed: "it rattles like gravel\n",
        code: 0,
        says: "usual_a.json does not hold usual values",
    },
];
