//! Turns the pump sheet into the settings of a rebuild, in words: end play, bolts, belt, press fits, oil, priming.

use super::sitting::Sitting;
use crate::evidence::{PumpData, Rebuild, rebuild};
use crate::quantity::{Dimension, Quantity, echo, find_unit, in_unit};

/// One setting of a rebuild.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// What is set.
    pub title: &'static str,
    /// How, one sentence each.
    pub lines: Vec<String>,
    /// Words of a remedy that it belongs to.
    words: &'static [&'static str],
}

impl Setting {
    /// True if it belongs to work that is told in these words, lower case.
    pub(super) fn belongs_to(&self, told: &str) -> bool {
        self.words.iter().any(|word| told.contains(word))
    }
}

/// Priming and acceptance after any work on the liquid or oil side (common practice, no source).
const PRIMING: [&str; 6] = [
    "Fill and bleed the oil cells; leave the outlet open to a bucket.",
    "Turn by hand until every chamber delivers and no air leaves the oil.",
    "Start at low pressure with the outlet open; raise it in steps.",
    "Check the oil level again after a few minutes and after the first hour.",
    "Accept it with equal beats, one for each chamber a turn, and no swing once a turn.",
    "Accept it only with clear oil and a level that stays.",
];

impl Sitting {
    /// The settings of a rebuild of this pump.
    pub fn settings(&self) -> Vec<Setting> {
        let nothing = PumpData::default();
        let data = self.job.pump.as_ref().map_or(&nothing, |pump| &pump.data);
        match rebuild(&data.sheet(&self.facts.usual)) {
            Ok(found) => settings(&found),
            Err(error) => {
                let lines = vec![format!("the pump sheet has a number that no part has: {error}; correct it")];
                vec![Setting { title: "Settings", lines, words: &[] }]
            }
        }
    }
}

fn settings(found: &Rebuild) -> Vec<Setting> {
    let setting = |title, words, lines| Setting { title, lines, words };
    vec![
        setting("Bearing end play", &["bearing", "end play", "adjuster", "crosshead", "cam"], end_play(found)),
        setting("Cover bolts", &["bolt", "cover", "head", "diaphragm", "manifold"], bolts(found)),
        setting("Belt", &["belt", "sheave"], belt(found)),
        setting("Press fit", &["bearing", "race", "press fit"], heating(found)),
        setting("Oil fill", &["oil", "diaphragm", "cell"], oil(found)),
        setting(
            "Priming and acceptance",
            &["diaphragm", "oil", "cell", "valve", "bleed", "prime"],
            PRIMING.map(str::to_owned).to_vec(),
        ),
    ]
}

fn words(dimension: Dimension, si: f64) -> String {
    Quantity::new(dimension, si).map_or_else(|_| String::new(), echo)
}

/// A small length as dial indicators show it: millimetres and inches.
fn at_the_dial(metres: f64) -> String {
    let Ok(length) = Quantity::new(Dimension::Length, metres) else { return String::new() };
    let shown = ["mm", "in"].map(|unit| find_unit(Dimension::Length, unit).map(|unit| in_unit(length, unit)));
    shown.into_iter().flatten().collect::<Vec<_>>().join(" = ")
}

fn end_play(found: &Rebuild) -> Vec<String> {
    let wanted = at_the_dial(found.end_play);
    let source = if found.end_play_known { "from the pump sheet" } else { "common practice, no source" };
    let mut lines = vec![format!("Set {wanted} ({source}).")];
    lines.push("Read it at a dial on the shaft end, pushed both ways, cold: write the reading down.".to_owned());
    if let Some(advance) = found.quarter_turn {
        let advance = at_the_dial(advance);
        lines.push(format!("A quarter turn of the adjuster moves it {advance}; seating can take up half of that."));
    }
    lines.push("Turns of the adjuster never stand for the dial reading.".to_owned());
    lines
}

fn bolts(found: &Rebuild) -> Vec<String> {
    let Some((passes, known)) = &found.bolts else {
        return vec!["Not known: put bolt_torque, or bolt_size, bolt_pitch and bolt_proof, on the sheet.".to_owned()];
    };
    let [first, second, last] = passes.map(|torque| words(Dimension::Torque, torque));
    let source = if *known {
        "the maker's torque, from the pump sheet"
    } else {
        "from size and grade, lubricated thread, 75 % of the proof stress"
    };
    vec![
        format!("Crosswise in three passes: {first}, {second}, {last} ({source})."),
        "Then once round at the last torque; again after 24 hours or the first heat.".to_owned(),
    ]
}

fn belt(found: &Rebuild) -> Vec<String> {
    let Some([span, deflection]) = found.belt.map(|pair| pair.map(|length| words(Dimension::Length, length))) else {
        return vec!["Not known: put shaft_distance, motor_sheave and pump_sheave on the sheet.".to_owned()];
    };
    vec![
        format!("Free span {span}: {deflection} at mid-span under the belt's test force."),
        "New belts again after 24 to 48 hours.".to_owned(),
    ]
}

fn heating(found: &Rebuild) -> Vec<String> {
    match found.heating {
        None => vec!["Not known: put bearing_seat and bearing_interference on the sheet.".to_owned()],
        Some((_, false)) => {
            vec!["This fit needs more heat than a bearing bears: check seat and bearing, or press.".to_owned()]
        }
        Some((hot, true)) => {
            let hot = words(Dimension::Temperature, hot);
            vec![format!("Heat the bearing to {hot}, evenly, never with a flame; hold it until it grips.")]
        }
    }
}

fn oil(found: &Rebuild) -> Vec<String> {
    let fill = found.oil_fill.map(|fill| words(Dimension::Volume, fill));
    let told = fill.map_or_else(
        || "Not known: put oil_fill on the sheet; fill to the middle of the glass.".to_owned(),
        |fill| format!("{fill} into the drained pump; the glass decides."),
    );
    vec![told]
}
