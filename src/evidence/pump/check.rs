//! Turns a pump sheet into its numbers, and one that no pump can have into problems at their place in the file.

use super::bind::{Shown, shown};
use super::data::PumpData;
use crate::knowledge::sheet::{SheetRead, read_sheet};
use crate::knowledge::{Knowledge, Problem, SmallFile, SourceText};
use crate::physics::laws::atmosphere::vacuum_ceiling;
use crate::physics::sheet::{build, impossible};
use crate::physics::steady::{Output, Part, State};
use crate::quantity::{Dimension, Quantity, echo};
use crate::text::clean;

/// Name of the rule in problems.
const RULE: &str = "impossible";

/// Reads a pump sheet with everything that is wrong with it, numbers that no pump has included.
pub fn read_pump_sheet(source: &SourceText, knowledge: &Knowledge) -> SheetRead {
    let mut read = read_sheet(source, knowledge);
    if read.problems.is_empty() {
        read.problems = sheet_problems(&read, source, knowledge);
    }
    read
}

/// What cannot be on a sheet that reads well: numbers that exclude each other, a vacuum deeper than the air allows, words
/// that name no running state.
fn sheet_problems(read: &SheetRead, source: &SourceText, knowledge: &Knowledge) -> Vec<Problem> {
    let mut file = SmallFile::read(source);
    file.problems.clear();
    let sheet = PumpData::of(read).sheet(&read.usual);
    for remark in impossible(&sheet) {
        file.add(&["data", remark.field.name()], RULE, remark.message, remark.hint.to_owned());
    }
    for (at, (words, _)) in read.baselines.iter().enumerate() {
        if let Err(word) = State::parse(words) {
            let known: Vec<&str> = State::words().collect();
            file.unknown(&["baselines", &at.to_string(), "state"], &clean(&word), "a word of a running state", known);
        }
    }
    if file.problems.is_empty() {
        match build(&sheet) {
            Ok(Some(built)) => {
                too_deep(read, knowledge, (built.pump[Part::Barometer], built.pump.liquid.vapour), &mut file);
            }
            Ok(None) => {}
            Err(wrong) => file.add(&["data"], RULE, wrong.to_string(), "correct it, or leave it out".to_owned()),
        }
    }
    file.problems
}

/// Usual values of the inlet gauge below what the barometer and the liquid allow.
fn too_deep(read: &SheetRead, knowledge: &Knowledge, (barometer, vapour): (f64, f64), file: &mut SmallFile) {
    let Ok(ceiling) = vacuum_ceiling(barometer, vapour) else { return };
    for (id, quantity) in &read.usual {
        let known = knowledge.all.readings.get(id).and_then(shown);
        let Some(Ok(Shown { output: Output::InletPressure, .. })) = known else { continue };
        if quantity.si() < ceiling {
            let deepest = Quantity::new(Dimension::GaugePressure, ceiling).map_or_else(|_| String::new(), echo);
            let message = format!("no gauge can show more vacuum here than {deepest}");
            let hint = "check the gauge's zero and its unit; the air pressure less the vapour pressure is all there is";
            file.add(&["usual", id], RULE, message, hint.to_owned());
        }
    }
}
