//! Pump sheets.

use super::put::{EVIL, EVIL_ESCAPED, hole, link, pipe, write};
use super::rig::Row;

const EXPECT: &[&str] = &["expect", "@a.pump.ron"];

/// A sheet with this name and these other fields.
fn sheet(name: &str, rest: &str) -> String {
    format!(
        "(version: 1, name: \"{name}\", family: \"oil_backed\", data: {{\"displacement_per_turn\": \"0.06 L\", \"pump_speed\": \"500 rpm\", \"working_pressure\": \"70 bar\"}}, {rest})"
    )
}

pub const ROWS: &[Row] = &[
    Row {
        what: "control, bidi, tag and hidden characters in the name",
        put: |to| write(to, "a.pump.ron", sheet(EVIL, "")),
        run: EXPECT,
        typed: "",
        code: 0,
        says: "]0;owned[2J31mq: what it should read",
    },
    Row {
        what: "the same in every text of a job's sheet, into the journal and the record",
        put: |to| {
            let text = sheet(EVIL_ESCAPED, &format!("remarks: [\"{EVIL_ESCAPED}\"], place: \"{EVIL_ESCAPED}\""));
            write(to, "a.pump.ron", text);
        },
        run: &["job", "--plain", "--pump", "@a.pump.ron"],
        typed: "it rattles like gravel\n1\n\n\n\nsheet\nclose\n1\n1\n\n\n\n\n",
        code: 0,
        says: "is saved in",
    },
    Row {
        what: "a name like a path, as part of a file name",
        put: |to| write(to, "a.pump.ron", sheet("../../../tmp/x", "")),
        run: &["job", "--plain", "--pump", "@a.pump.ron"],
        typed: "it rattles like gravel\n",
        code: 0,
        says: "data/jobs/0001-tmp-x.journal",
    },
    Row {
        what: "a name of half a million letters",
        put: |to| write(to, "a.pump.ron", sheet(&"ab ".repeat(170_000), "")),
        run: &["job", "--plain", "--pump", "@a.pump.ron"],
        typed: "it rattles like gravel\n",
        code: 0,
        says: "data/jobs/0001-ab-ab-ab",
    },
    Row {
        what: "a name of nothing but marks",
        put: |to| write(to, "a.pump.ron", sheet("/././.", "")),
        run: &["job", "--plain", "--pump", "@a.pump.ron"],
        typed: "it rattles like gravel\n",
        code: 0,
        says: "data/jobs/0001-untitled.journal",
    },
    Row {
        what: "1 MiB and a byte",
        put: |to| hole(to, "a.pump.ron", 1024 * 1024 + 1),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "a.pump.ron has more than 1048576 bytes",
    },
    Row {
        what: "an endless device",
        put: |to| link(to, "a.pump.ron", "/dev/zero"),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "a.pump.ron is a device; name an ordinary file",
    },
    Row {
        what: "a pipe that nobody writes into",
        put: |to| pipe(to, "a.pump.ron"),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "a.pump.ron is a pipe; name an ordinary file",
    },
    Row {
        what: "a folder",
        put: |to| write(to, "a.pump.ron/x", ""),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "a.pump.ron is a folder; name an ordinary file",
    },
    Row {
        what: "a link to itself",
        put: |to| link(to, "a.pump.ron", "a.pump.ron"),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "cannot open",
    },
    Row {
        what: "invalid UTF-8, as JSON",
        put: |to| write(to, "a.pump.ron", b"(version: 1, name: \"\xff\")"),
        run: &["expect", "@a.pump.ron", "--json"],
        typed: "",
        code: 2,
        says: "is not UTF-8 text at byte 20 (line 1)",
    },
    Row {
        what: "brackets nested 100,000 deep",
        put: |to| write(to, "a.pump.ron", format!("(version: 1, remarks: {}", "[".repeat(100_000))),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "a.pump.ron:1:",
    },
    Row {
        what: "a newer version",
        put: |to| write(to, "a.pump.ron", "(version: 7, name: \"a\", family: \"oil_backed\")"),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "version 7 is not known here",
    },
    Row {
        what: "one key twice",
        put: |to| {
            write(
                to,
                "a.pump.ron",
                sheet("a", "usual: {\"inlet_pressure_full\": \"1 bar\", \"inlet_pressure_full\": \"2 bar\"}"),
            );
        },
        run: EXPECT,
        typed: "",
        code: 2,
        says: "`inlet_pressure_full` stands twice; only the last would count",
    },
    Row {
        what: "40,000 names that are none",
        put: |to| {
            let names: Vec<String> = (0..40_000).map(|at| format!("\"n{at}\": \"1 bar\",")).collect();
            let names = names.concat();
            write(to, "a.pump.ron", sheet("a", &format!("usual: {{{names}}}")));
        },
        run: EXPECT,
        typed: "",
        code: 2,
        says: "`n0` is not a reading",
    },
    Row {
        what: "four thousand million chambers",
        put: |to| write(to, "a.pump.ron", sheet("a", "chambers: 4294967295")),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "chambers",
    },
    Row {
        what: "no chamber",
        put: |to| write(to, "a.pump.ron", sheet("a", "chambers: 0")),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "chambers",
    },
    Row {
        what: "numbers without end and none at all",
        put: |to| {
            let text = sheet("a", "").replace("500 rpm", "1e999 rpm").replace("70 bar", "NaN bar");
            write(to, "a.pump.ron", text);
        },
        run: EXPECT,
        typed: "",
        code: 2,
        says: "1e999 rpm",
    },
    Row {
        what: "a speed of 10^300 turns",
        put: |to| write(to, "a.pump.ron", sheet("a", "").replace("500 rpm", &format!("1{} rpm", "0".repeat(300)))),
        run: EXPECT,
        typed: "",
        code: 2,
        says: "rpm",
    },
];
