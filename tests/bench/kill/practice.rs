//! Practice by lines: checks, thoughts and gates on a simulated pump.

use super::{Table, goes_on, killed, on, only_journal, place};
use std::path::Path;
use std::time::Duration;
use weephole::simulation::Chance;

/// Moves typed in a run.
const MOVES: usize = 25;
/// The lesson.
const LESSON: &str = "lesson_pressure_gone_jet_fine";
/// What is typed: an order, or words for a check with the number of the match.
const TYPED: &[&str] = &[
    "think valves\n1",
    "think air\n2",
    "read motor current\n1",
    "inlet gauge\n1",
    "inlet gauge\n2",
    "outlet gauge\n1",
    "listen\n1",
    "open all valves\n1",
    "isolate",
    "ready",
    "found",
    "strainer\n1",
    "bucket\n1",
    "needle outlet",
    "walk\n1",
    "oil\n1",
];

/// A practice job that is killed, and taken up again.
pub fn one(program: &Path, after: Option<Duration>, chance: &mut Chance, table: &mut Table) {
    let place = place();
    let lines: Vec<&str> = (0..MOVES).map(|_| TYPED[chance.below(TYPED.len())]).collect();
    let words = ["practice", LESSON, "--seed", "3", "--with", "alone"];
    let said = killed(&mut on(program, place.path(), &words), &(lines.join("\n") + "\n"), after, table);
    let acknowledged = said.lines().filter(|line| is_told(line)).count();
    table.said += acknowledged;
    let Some((_, read)) = only_journal(&place.path().join("practice")) else {
        if 0 < acknowledged {
            table.lost.push(format!("{acknowledged} moves told, and no journal"));
        }
        return;
    };
    let scan = match read {
        Ok(scan) => scan,
        Err(why) => return table.lost.push(why),
    };
    table.kept += scan.events.len();
    table.torn += usize::from(scan.flaw.is_some());
    let moves = scan.events.iter().filter(|line| !line.contains("\"move\":\"began\"")).count();
    if moves < acknowledged {
        table.lost.push(format!("{acknowledged} moves told, {moves} kept"));
    }
    if !goes_on(&mut on(program, place.path(), &["practice"]), "found\nleave\n") {
        table.lost.push(format!("the practice job with {moves} moves does not go on"));
    }
}

/// A line that tells that a move was made: a check with its minutes, a thought, something unsafe.
fn is_told(line: &str) -> bool {
    let check = line.ends_with(" min.") && !line.starts_with(' ');
    check || line == "Noted." || line.starts_with("STOP. Unsafe")
}
