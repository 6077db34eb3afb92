//! Keys and picture of the pump sheet's form on the screen.
#![allow(clippy::unwrap_used, clippy::panic, dead_code)]

#[path = "fixtures/screen/bench.rs"]
mod bench;

use bench::{Bench, Memory, holds};
use weephole::job::Event;

#[test]
fn a_field_is_filled_in_and_its_way_of_knowing_changed() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("tf");
    holds(&bench.text(), "PUMP SHEET");
    holds(&bench.text(), "Would help most: displacement per turn, pump speed, working pressure");
    bench.press("↓↓^").type_in("62 lm").press("^");
    holds(&bench.text(), "Not taken:");
    bench.press("!^").type_in("62.4 mL").press("^");
    holds(&bench.text(), "Saved in this job: displacement per turn: 62.4 mL.");
    holds(&bench.text(), "guessed");
    bench.press("k");
    holds(&bench.text(), "measured");
    let Event::Sheet { pump } = bench.memory().last() else { unreachable!("a sheet was saved") };
    assert_eq!(pump.sheet.data["displacement_per_turn"], "62.4 mL");
    bench.press("w");
    holds(&bench.text(), "Pump sheet not written");
}
