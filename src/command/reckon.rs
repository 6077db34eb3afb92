//! `weephole reckon`: the laws, and one of them worked out for numbers with units.

use super::arguments::Reckon;
use super::{Failure, bring, print};
use crate::knowledge::did_you_mean;
use crate::physics::catalogue::{self, ReckonError, Reckoned};
use crate::physics::{Card, Listed};
use crate::quantity::{ParseProblem, Quantity, parse, short_number};
use serde_json::{Value, json};

/// Significant digits of a printed result: more than any of the formulas is good for.
const DIGITS: usize = 6;

/// Runs `reckon`.
pub fn run(reckon: &Reckon) -> Result<(), Failure> {
    let told = |failure: Failure| if reckon.json { told_as_json(&failure) } else { failure };
    let Some(name) = &reckon.law else {
        list(reckon.json);
        return Ok(());
    };
    let law = catalogue::find(name).map_err(|error| told(in_words(&error)))?;
    let reckoned = worked_out(law, &reckon.given).map_err(told)?;
    if reckon.json {
        print::json(&result_as_json(law.card(), &reckoned));
    } else {
        print::out(&result_as_text(law.card(), &reckoned));
    }
    Ok(())
}

/// What is wrong as the only problem of a JSON answer.
fn told_as_json(failure: &Failure) -> Failure {
    let mut problem = bring::unreadable(&failure.to_string());
    problem["rule"] = json!("bad_input");
    problem["hint"] = json!("`weephole reckon --json` lists the laws with their inputs and units");
    print::json(&json!({ "problems": [problem] }));
    Failure::Told
}

fn worked_out(law: &'static dyn Listed, given: &[String]) -> Result<Reckoned, Failure> {
    let card = law.card();
    let given: Result<Vec<(&str, Quantity)>, Failure> = given.iter().map(|text| assignment(card, text)).collect();
    catalogue::reckon(card.name, &given?).map_err(|error| in_words(&error))
}

/// `key=value unit` as the key and the quantity it asks for; what could be meant otherwise is told.
fn assignment(card: Card, text: &str) -> Result<(&str, Quantity), Failure> {
    let Some((key, value)) = text.split_once('=') else {
        return Err(Failure::Bad(format!("`{text}`: write key=\"value unit\", as in {}", example(card))));
    };
    let input = catalogue::input(card, key).map_err(|error| in_words(&error))?;
    let parsed = parse(value, input.dimension, None).map_err(|error| {
        let unit_at_fault = matches!(
            error.problem,
            ParseProblem::OtherDimension { .. } | ParseProblem::UnknownUnit { .. } | ParseProblem::MissingUnit(_)
        );
        let units = catalogue::accepted_units(input.dimension);
        let accepted = if unit_at_fault { format!(" (accepted: {units})") } else { String::new() };
        Failure::Bad(format!("`{}`: {error}{accepted}", input.key))
    })?;
    for doubt in &parsed.doubts {
        print::error(&format!("`{}`: {doubt}", input.key));
    }
    Ok((key, parsed.quantity))
}

fn example(card: Card) -> String {
    let one = card.inputs.first().map(|input| format!("{}=\"1 {}\"", input.key, input.unit));
    one.unwrap_or_default()
}

/// The error with what is nearest to a mistyped name or key.
fn in_words(error: &ReckonError) -> Failure {
    let hint = match error {
        ReckonError::UnknownLaw(name) => did_you_mean(name, catalogue::all().map(|law| law.card().name))
            .map_or("; `weephole reckon` lists them".to_owned(), |near| format!("; did you mean `{near}`?")),
        ReckonError::UnknownKey { law, key } => {
            let keys = catalogue::find(law).map(|law| law.card().inputs).unwrap_or_default();
            did_you_mean(key, keys.iter().map(|input| input.key))
                .map(|near| format!("; did you mean `{near}`?"))
                .unwrap_or_default()
        }
        _ => String::new(),
    };
    Failure::Bad(format!("{error}{hint}"))
}

fn list(as_json: bool) {
    let cards = catalogue::all().map(Listed::card);
    if as_json {
        print::json(&json!({ "laws": cards.map(card_as_json).collect::<Vec<Value>>() }));
        return;
    }
    let line = |card: Card| {
        let keys: Vec<String> =
            card.inputs
                .iter()
                .map(|input| {
                    if input.unit.is_empty() { input.key.to_owned() } else { format!("{} [{}]", input.key, input.unit) }
                })
                .collect();
        format!("{}\n    {}\n    from {}", card.name, card.formula, keys.join(", "))
    };
    print::out(&cards.map(line).collect::<Vec<_>>().join("\n"));
}

fn card_as_json(card: Card) -> Value {
    let inputs = card.inputs.iter().map(|input| json!({ "name": input.key, "unit": input.unit }));
    let outputs = card.outputs.iter().map(|output| json!({ "name": output.name, "unit": output.unit }));
    json!({
        "name": card.name,
        "formula": card.formula,
        "inputs": inputs.collect::<Vec<Value>>(),
        "outputs": outputs.collect::<Vec<Value>>(),
        "range": card.range,
        "source": card.source,
    })
}

fn result_as_json(card: Card, reckoned: &Reckoned) -> Value {
    let values = reckoned.values.iter().map(|value| {
        let number = value.quantity.value_in(value.unit).unwrap_or(value.quantity.si());
        json!({ "name": value.name, "value": number, "unit": value.unit })
    });
    json!({
        "law": card.name,
        "result": values.collect::<Vec<Value>>(),
        "in_range": reckoned.in_range(),
        "source": card.source,
    })
}

fn result_as_text(card: Card, reckoned: &Reckoned) -> String {
    let mut lines: Vec<String> = Vec::new();
    for value in &reckoned.values {
        let number = value.quantity.value_in(value.unit).unwrap_or(value.quantity.si());
        lines.push(format!("{} = {} {}", value.name, short_number(number, DIGITS), value.unit).trim_end().to_owned());
    }
    lines.push(format!("  {}", card.formula));
    lines.push(format!("  holds: {}", card.range));
    lines.push(format!("  source: {}", card.source));
    lines.extend(reckoned.outside.iter().map(|outside| format!("  beyond what the source vouches for: {outside}")));
    lines.join("\n")
}
