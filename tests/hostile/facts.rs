//! Facts files, and the pump sheets they name.

use super::put::{EVIL, hole, link, pipe, write};
use super::rig::Row;

const RANK: &[&str] = &["rank", "@a.ron"];
const RANK_JSON: &[&str] = &["rank", "@a.ron", "--json"];
const SHEET: &str = "(version: 1, name: \"a\", family: \"oil_backed\")";

/// Facts with these fields.
fn facts(fields: &str) -> String {
    format!("(family: \"oil_backed\", complaint: [\"low_flow\"], {fields})")
}

pub const ROWS: &[Row] = &[
    Row {
        what: "control, bidi, tag and hidden characters in ids and numbers",
        put: |to| {
            write(
                to,
                "a.ron",
                facts(&format!("findings: {{\"{EVIL}\": yes}}, readings: {{\"inlet_pressure_full\": \"{EVIL}\"}}")),
            );
        },
        run: RANK,
        typed: "",
        code: 2,
        says: "`]0;owned[2J31mq` is not a finding",
    },
    Row {
        what: "the same, as JSON",
        put: |to| write(to, "a.ron", facts(&format!("findings: {{\"{EVIL}\": yes}}"))),
        run: RANK_JSON,
        typed: "",
        code: 2,
        says: "`]0;owned[2J31mq` is not a finding",
    },
    Row {
        what: "a pump sheet whose missing path holds escape sequences, as JSON",
        put: |to| write(to, "a.ron", facts("pump: \"no\\u{9b}31m\\u{202e}.pump.ron\"")),
        run: RANK_JSON,
        typed: "",
        code: 2,
        says: ".pump.ron",
    },
    Row {
        what: "a pump sheet in the folder above",
        put: |to| write(to, "a.ron", facts("pump: \"../a.pump.ron\"")),
        run: RANK,
        typed: "",
        code: 2,
        says: "the pump sheet `../a.pump.ron` is outside; name a sheet in the folder of the facts file, or below it",
    },
    Row {
        what: "a pump sheet by its whole path",
        put: |to| write(to, "a.ron", facts("pump: \"/etc/passwd\"")),
        run: RANK,
        typed: "",
        code: 2,
        says: "the pump sheet `/etc/passwd` is outside",
    },
    Row {
        what: "a pump sheet with NUL in its name",
        put: |to| write(to, "a.ron", facts("pump: \"a\\u{0}b.pump.ron\"")),
        run: RANK,
        typed: "",
        code: 2,
        says: "ab.pump.ron",
    },
    Row {
        what: "a pump sheet behind a link that leads out",
        put: |to| {
            write(to, "far.pump.ron", SHEET);
            link(to, "in/a.pump.ron", "../far.pump.ron");
            write(to, "in/a.ron", facts("pump: \"a.pump.ron\""));
        },
        run: &["rank", "@in/a.ron"],
        typed: "",
        code: 2,
        says: "a link leads out of the folder of the facts file",
    },
    Row {
        what: "a pump sheet that is an endless device",
        put: |to| {
            link(to, "a.pump.ron", "/dev/zero");
            write(to, "a.ron", facts("pump: \"a.pump.ron\""));
        },
        run: RANK,
        typed: "",
        code: 2,
        says: "a link leads out of the folder of the facts file",
    },
    Row {
        what: "1 MiB and a byte",
        put: |to| hole(to, "a.ron", 1024 * 1024 + 1),
        run: RANK,
        typed: "",
        code: 2,
        says: "a.ron has more than 1048576 bytes",
    },
    Row {
        what: "an endless device",
        put: |to| link(to, "a.ron", "/dev/urandom"),
        run: RANK,
        typed: "",
        code: 2,
        says: "a.ron is a device; name an ordinary file",
    },
    Row {
        what: "a pipe that nobody writes into",
        put: |to| pipe(to, "a.ron"),
        run: RANK,
        typed: "",
        code: 2,
        says: "a.ron is a pipe; name an ordinary file",
    },
    Row {
        what: "a file of the system that says it is empty and is not",
        put: |to| link(to, "a.ron", "/proc/self/status"),
        run: RANK,
        typed: "",
        code: 2,
        says: "a.ron:1:1",
    },
    Row {
        what: "UTF-16",
        put: |to| write(to, "a.ron", b"\xfe\xff\0(\0f"),
        run: RANK,
        typed: "",
        code: 2,
        says: "a.ron is not UTF-8 text at byte 0 (line 1); save it again as UTF-8",
    },
    Row {
        what: "brackets nested 100,000 deep",
        put: |to| write(to, "a.ron", format!("(family: \"a\", complaint: {}", "[".repeat(100_000))),
        run: RANK,
        typed: "",
        code: 2,
        says: "a.ron:1:",
    },
    Row {
        what: "40,000 ids that are none",
        put: |to| {
            let ids: Vec<String> = (0..40_000).map(|at| format!("\"n{at}\": yes,")).collect();
            let ids = ids.concat();
            write(to, "a.ron", facts(&format!("findings: {{{ids}}}")));
        },
        run: RANK,
        typed: "",
        code: 2,
        says: "`n0` is not a finding",
    },
    Row {
        what: "one complaint 50,000 times",
        put: |to| {
            write(to, "a.ron", format!("(family: \"oil_backed\", complaint: [{}])", "\"low_flow\",".repeat(50_000)));
        },
        run: RANK,
        typed: "",
        code: 0,
        says: "Likely causes",
    },
    Row {
        what: "one finding twice",
        put: |to| write(to, "a.ron", facts("findings: {\"oil_milky\": yes, \"oil_milky\": no}")),
        run: RANK,
        typed: "",
        code: 2,
        says: "`oil_milky` stands twice; only the last would count",
    },
    Row {
        what: "numbers without end and none at all",
        put: |to| {
            write(
                to,
                "a.ron",
                facts("readings: {\"inlet_pressure_full\": \"1e999 bar\", \"outlet_pressure_work\": \"NaN bar\"}"),
            );
        },
        run: RANK,
        typed: "",
        code: 2,
        says: "1e999 bar",
    },
    Row {
        what: "every finding of the knowledge answered yes",
        put: |to| {
            let folder = super::rig::shipped_findings();
            let all: Vec<String> = folder.iter().map(|id| format!("\"{id}\": yes,")).collect();
            let all = all.concat();
            write(to, "a.ron", facts(&format!("findings: {{{all}}}")));
        },
        run: RANK,
        typed: "",
        code: 0,
        says: "Likely causes",
    },
];
