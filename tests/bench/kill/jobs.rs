//! Jobs by lines: whatever may be typed, and the rebuild sheets of a torn diaphragm.

use super::{Table, goes_on, killed, on, only_journal, place};
use std::path::Path;
use std::time::Duration;
use weephole::simulation::Chance;

/// Lines typed in a run.
const LINES: usize = 60;
/// Complaints to begin with.
const COMPLAINTS: &[&str] =
    &["sounds like gravel", "it lost pressure", "oil is milky", "belt squeals", "it pulses", "weak"];
/// What may be typed at any prompt.
const TYPED: &[&str] = &[
    "y",
    "n",
    "?",
    "p",
    "u",
    "1",
    "2",
    "1 2",
    "",
    "done",
    "n",
    "y",
    "12 inHg vac",
    "60 bar",
    "28 L/min",
    "note it is hot",
    "trail",
    "withdraw 1",
    "change 1",
    "likely",
    "tell oil level",
    "changed strainer",
    "fix",
    "isolate",
    "start",
    "skip",
    "service",
    "why",
    "aside",
    "480 rpm",
    "no gauge",
    "sheet",
];
/// Milky oil, the pump stopped, the diaphragms to be renewed, isolation proved.
const TO_THE_SHEETS: &[&str] =
    &["oil is milky", "1", "y", "2", "", "fix", "1", "1", "water", "Ann, fitter", "drive and valves", "y", "y", "y"];
/// What may be typed at a step of a sheet: mostly that it is done.
const AT_A_STEP: &[&str] = &["y", "y", "y", "y", "y", "y", "n", "n, a burr", "0.1 mm", "note a burr"];

/// A job with random lines.
pub fn any(program: &Path, after: Option<Duration>, chance: &mut Chance, table: &mut Table) {
    let complaint = COMPLAINTS[chance.below(COMPLAINTS.len())];
    let mut lines = vec![complaint, "1"];
    lines.extend((0..LINES).map(|_| TYPED[chance.below(TYPED.len())]));
    one(program, &lines, after, table);
}

/// A rebuild with random answers at its steps.
pub fn rebuild(program: &Path, after: Option<Duration>, chance: &mut Chance, table: &mut Table) {
    let mut lines = TO_THE_SHEETS.to_vec();
    lines.extend((0..LINES).map(|_| AT_A_STEP[chance.below(AT_A_STEP.len())]));
    one(program, &lines, after, table);
}

fn one(program: &Path, lines: &[&str], after: Option<Duration>, table: &mut Table) {
    let place = place();
    let said = killed(&mut on(program, place.path(), &[]), &(lines.join("\n") + "\n"), after, table);
    let acknowledged = said.lines().filter(|line| line.starts_with("Saved")).count();
    table.said += acknowledged;
    let Some((_, read)) = only_journal(place.path()) else {
        if 0 < acknowledged {
            table.lost.push(format!("{acknowledged} answers said to be saved, and no journal"));
        }
        return;
    };
    let scan = match read {
        Ok(scan) => scan,
        Err(why) => return table.lost.push(why),
    };
    table.kept += scan.events.len();
    table.torn += usize::from(scan.flaw.is_some());
    let answers = scan.events.iter().filter(|event| is_acknowledged(event)).count();
    if answers < acknowledged {
        table.lost.push(format!("{acknowledged} said to be saved, {answers} kept"));
    }
    let many = scan.events.len();
    if 0 < many && !goes_on(&mut on(program, place.path(), &["job", "--resume", "1"]), "") {
        table.lost.push(format!("the job with {many} entries does not go on"));
    }
}

/// True for an entry that the program acknowledges with a line of its own.
fn is_acknowledged(event: &str) -> bool {
    let silent = ["\"opened\"", "\"liquid\"", "\"back\""];
    !silent.iter().any(|what| event.contains(&format!("\"what\":{what}")))
}
