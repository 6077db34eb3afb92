//! Turns band, scale and error texts of readings that are not quantities into problems.

use super::Rule;
use crate::knowledge::band::{Scale, dimension_named};
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::{Accepted, Reading};
use crate::quantity::parse;

/// Every quantity has a unit of the right kind.
pub const RULE: Rule = Rule {
    name: "bad_quantity",
    finds: "a number without unit, an unknown unit, a unit of another kind, a band upside down",
    matters: "a band in the wrong unit condemns a healthy pump",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    for (id, procedure) in &knowledge.all.procedures {
        for (at, step) in procedure.steps.iter().enumerate() {
            let wrong = step.measure.as_ref().and_then(|accepted| wrong_bound(accepted).map(|wrong| (at, wrong)));
            if let Some((at, message)) = wrong {
                let hint = "write a number with a unit of that kind, the lower one as `low`".to_owned();
                let at = at.to_string();
                let path = ["steps", at.as_str(), "measure"];
                problems.push(knowledge.problem(Severity::Error, RULE.name, id, &path, (message, hint)));
            }
        }
    }
    for (id, line) in &knowledge.all.service {
        let reading = line.reading.as_ref().and_then(|reading| knowledge.all.readings.get(reading));
        let (Some(band), Some(reading)) = (&line.band, reading) else { continue };
        let own = Reading { healthy: band.clone(), ..reading.clone() };
        if let Err(wrong) = Scale::of(&own) {
            let path = ["band"];
            problems.push(knowledge.problem(Severity::Error, RULE.name, id, &path, (wrong.message, wrong.hint)));
        }
    }
    for (id, reading) in &knowledge.all.readings {
        if let Err(wrong) = Scale::of(reading) {
            problems.push(knowledge.problem(Severity::Error, RULE.name, id, &wrong.path, (wrong.message, wrong.hint)));
        }
    }
}

/// What is wrong with the bounds of a hold point's number.
fn wrong_bound(accepted: &Accepted) -> Option<String> {
    let Some(dimension) = dimension_named(&accepted.quantity) else {
        return Some(format!("`{}` is not a kind of quantity", accepted.quantity));
    };
    let mut bounds: Vec<f64> = Vec::new();
    for text in accepted.low.iter().chain(&accepted.high) {
        match parse(text, dimension, None) {
            Ok(parsed) => bounds.push(parsed.quantity.si()),
            Err(error) => return Some(format!("`{text}`: {error}")),
        }
    }
    let upside_down = bounds.windows(2).any(|pair| pair[1] <= pair[0]);
    upside_down.then(|| "the first value must be the lower one".to_owned())
}
