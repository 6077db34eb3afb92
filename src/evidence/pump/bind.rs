//! Turns the physics that knowledge writes as text into suspects and readings of the model, and slips of the pen into
//! problems.

use super::model::MOST_SUSPECTS;
use crate::knowledge::schema::{Amount, Condition, Id, PartMove, Physics, Reading};
use crate::knowledge::{Knowledge, Problem, Severity, did_you_mean, difference_of, dimension_named};
use crate::physics::likelihood::{Misread, Suspect};
use crate::physics::steady::{CARDS, Change, Effect, Move, Output, Part, Spread, State};
use crate::quantity::{Dimension, parse};

/// Name of the rule in problems.
const RULE: &str = "unknown_physics";

/// What a reading shows, by the model's names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// What it shows.
    pub output: Output,
    /// Running state.
    pub state: State,
    /// As a share of the healthy pump's.
    pub of_healthy: bool,
}

/// A text of the physics that means nothing: path inside the entry, what is wrong, what to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Slip {
    path: Vec<String>,
    message: String,
    hint: String,
}

/// What a reading shows; `None` where the physics does not know it.
pub fn shown(reading: &Reading) -> Option<Result<Shown, Slip>> {
    reading.physics.as_ref().map(|physics| {
        let output = output(&physics.shows, &["physics", "shows"])?;
        let state = State::parse(&physics.state).map_err(|word| {
            let known: Vec<&str> = State::words().collect();
            slip(&["physics", "state"], &word, "a word of a running state", &known)
        })?;
        let asked = if physics.of_healthy { Dimension::Ratio } else { output.card().dimension };
        if dimension_named(&reading.quantity) != Some(asked) {
            let message =
                format!("`{}` is {}, this reading takes `{}`", physics.shows, asked.phrase(), reading.quantity);
            let hint = "name another, or write `of_healthy: true` for a share of the healthy value".to_owned();
            return Err(Slip { path: vec!["physics".to_owned()], message, hint });
        }
        Ok(Shown { output, state, of_healthy: physics.of_healthy })
    })
}

/// What a condition does; `None` where it does nothing that the physics knows.
pub(super) fn suspect(condition: &Condition) -> Option<Result<Suspect, Slip>> {
    condition.physics.as_ref().map(|physics| match physics {
        Physics::Moves(moves) => {
            let all = moves.iter().enumerate().map(|(at, one)| moved(at, one));
            all.collect::<Result<_, _>>().map(|moves| Suspect::Fault(Effect { moves }))
        }
        Physics::Misreads(outputs, by) => misreads(outputs, by).map(Suspect::Gauge),
    })
}

/// Everything in the physics of the knowledge that means nothing to the model.
pub fn physics_problems(knowledge: &Knowledge) -> Vec<Problem> {
    let conditions = knowledge.all.conditions.iter().filter_map(|(id, entry)| Some((id, suspect(entry)?.err()?)));
    let readings = knowledge.all.readings.iter().filter_map(|(id, entry)| Some((id, shown(entry)?.err()?)));
    let problem = |(id, slip): (&Id, Slip)| {
        let path: Vec<&str> = slip.path.iter().map(String::as_str).collect();
        knowledge.problem(Severity::Error, RULE, id, &path, (slip.message, slip.hint))
    };
    conditions.chain(readings).map(problem).chain(too_many(knowledge)).collect()
}

/// More conditions than the model can weigh; the first one that it may have to leave out is named.
fn too_many(knowledge: &Knowledge) -> Option<Problem> {
    let mut known = knowledge.all.conditions.iter().filter(|(_, entry)| entry.physics.is_some());
    let (id, _) = known.nth(MOST_SUSPECTS)?;
    let message =
        format!("more than {MOST_SUSPECTS} conditions move the pump's model; it weighs the first ones of a family");
    let hint = "leave `physics` out where a condition moves no gauge by much".to_owned();
    Some(knowledge.problem(Severity::Warning, RULE, id, &["physics"], (message, hint)))
}

fn moved(at: usize, one: &PartMove) -> Result<Move, Slip> {
    let at = at.to_string();
    let path = ["physics", &at, "what"];
    let known: Vec<&str> = CARDS.iter().map(|card| card.name).collect();
    let part = Part::named(&one.what).ok_or_else(|| slip(&path, &one.what, "a part of the pump model", &known))?;
    let dimension = part.card().dimension;
    let both = |(from, to): (&String, &String), dimension: Dimension| {
        let path = ["physics", &at, "by"];
        Ok((value(from, dimension, &path)?, value(to, dimension, &path)?))
    };
    let (change, ends) = match &one.by {
        Amount::Times(from, to) => (Change::Times(*from, *to), (*from, *to)),
        Amount::Add(from, to) => {
            let ends = both((from, to), difference_of(dimension))?;
            (Change::Add(ends.0, ends.1), ends)
        }
        Amount::To(from, to) => {
            let ends = both((from, to), dimension)?;
            (Change::To(ends.0, ends.1), ends)
        }
    };
    if one.log && ends.0 * ends.1 <= 0.0 {
        let message = "logarithms need two ends above nothing".to_owned();
        let hint = "leave `log` out, or begin a little above nothing".to_owned();
        return Err(Slip { path: ["physics", &at].map(str::to_owned).to_vec(), message, hint });
    }
    Ok(Move { part, change, spread: if one.log { Spread::Log } else { Spread::Even } })
}

fn misreads(outputs: &[String], by: &str) -> Result<Misread, Slip> {
    let found: Result<Vec<Output>, Slip> =
        outputs.iter().enumerate().map(|(at, name)| output(name, &["physics", "0", &at.to_string()])).collect();
    let outputs = found?;
    if let Ok(share) = parse(by, Dimension::Ratio, None) {
        return Ok(Misread { outputs, by: share.quantity.si(), share: true });
    }
    let dimension = outputs.first().map_or(Dimension::Ratio, |output| difference_of(output.card().dimension));
    let by = value(by, dimension, &["physics", "1"])?;
    Ok(Misread { outputs, by, share: false })
}

fn output(name: &str, path: &[&str]) -> Result<Output, Slip> {
    let known: Vec<&str> = Output::ALL.iter().map(|output| output.card().name).collect();
    Output::named(name).ok_or_else(|| slip(path, name, "a reading of the pump model", &known))
}

fn value(text: &str, dimension: Dimension, path: &[&str]) -> Result<f64, Slip> {
    parse(text, dimension, None).map(|parsed| parsed.quantity.si()).map_err(|error| Slip {
        path: path.iter().map(|&step| step.to_owned()).collect(),
        message: format!("`{text}`: {error}"),
        hint: format!("write {} with one of: {}", dimension.phrase(), dimension.allowed_units()),
    })
}

fn slip(path: &[&str], word: &str, what: &str, known: &[&str]) -> Slip {
    let near = did_you_mean(word, known.iter().copied());
    let hint = near.map_or_else(|| format!("known: {}", known.join(", ")), |near| format!("did you mean `{near}`?"));
    let path = path.iter().map(|&step| step.to_owned()).collect();
    Slip { path, message: format!("`{word}` is not {what}"), hint }
}
