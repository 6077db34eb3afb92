//! `weephole expect`: what one pump should read, healthy and with each fault, from its sheet.

use super::arguments::{Arguments, Expect};
use super::{Failure, bring, print};
use crate::evidence::{Expectation, Expected, PumpData, PumpModel, read_pump_sheet};
use crate::knowledge::{Graph, Knowledge, did_you_mean};
use crate::physics::likelihood::Band;
use crate::physics::sheet::Figures;
use crate::physics::steady::State;
use crate::quantity::{Dimension, Quantity, echo, find_unit, in_unit};
use serde_json::{Value, json};

/// Runs `expect`.
pub fn run(arguments: &Arguments, expect: &Expect) -> Result<(), Failure> {
    let told = |failure: Failure| if expect.json { bring::failure_as_json(&failure) } else { failure };
    let state = expect.state.as_deref().map(state).transpose().map_err(told)?;
    let knowledge = if expect.json { bring::knowledge_or_json(arguments)? } else { bring::knowledge(arguments)? };
    let source = bring::small_file(&expect.pump).map_err(told)?;
    let read = read_pump_sheet(&source, &knowledge);
    if !read.problems.is_empty() {
        if expect.json {
            print::json(&json!({ "problems": read.problems }));
        } else {
            bring::tell_problems(&read.problems, &source);
        }
        return Err(Failure::Told);
    }
    let graph = Graph::new(&knowledge, &read.sheet.family, read.sheet.fitted.as_deref());
    let model = PumpModel::of(&knowledge, &graph, &PumpData::of(&read), &read.usual);
    let model = model.map_err(|error| told(Failure::Bad(error.to_string())))?;
    let too_little = || {
        let hint =
            "give displacement_per_turn, pump_speed and working_pressure, or usual values of flow, speed and pressure";
        told(Failure::Bad(format!("{}: too little is known of this pump; {hint}", source.name)))
    };
    let model = model.ok_or_else(too_little)?;
    let found = model.expectation(&knowledge, &graph, state);
    let found = found.map_err(|error| told(Failure::Could(error.to_string())))?;
    if expect.json {
        print::json(&as_json(&knowledge, &found));
    } else {
        print::out(&as_text(&knowledge, &read.sheet.name, &found));
    }
    Ok(())
}

fn state(words: &str) -> Result<State, Failure> {
    State::parse(words).map_err(|word| {
        let known: Vec<&str> = State::words().collect();
        let near = did_you_mean(&word, known.iter().copied());
        let hint = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
        Failure::Bad(format!("`{word}` is not a word of a running state; {hint}words: {}", known.join(", ")))
    })
}

fn as_json(knowledge: &Knowledge, found: &Expectation) -> Value {
    let rows = |rows: &[Expected]| rows.iter().map(|row| row_as_json(knowledge, row)).collect::<Vec<Value>>();
    let conditions = found.conditions.iter().map(|(id, _, all)| json!({ "id": id, "readings": rows(all) }));
    let warnings = found
        .warnings
        .iter()
        .map(|warning| json!({ "field": warning.field.name(), "message": warning.message, "hint": warning.hint }));
    let figures = &found.figures;
    json!({
        "healthy": rows(&found.healthy),
        "conditions": conditions.collect::<Vec<Value>>(),
        "npsh_margin_m": figures.vapour_margin,
        "delivery_margin_m": figures.delivery_margin,
        "acceleration_head_m": figures.acceleration_head,
        "inlet_velocity_m_s": figures.inlet_velocity,
        "inlet_velocity_limit_m_s": figures.velocity_limit,
        "ripple_hz": figures.ripple,
        "motor_rpm": figures.motor_speed * 60.0,
        "pump_rpm": figures.pump_speed * 60.0,
        "relief_margin": figures.relief_margin,
        "oil_mm2_s": figures.oil.map(|viscosity| viscosity * 1e6),
        "measure": found.measure.iter().map(|(field, share)| json!({ "field": field, "share": share })).collect::<Vec<_>>(),
        "warnings": warnings.collect::<Vec<Value>>(),
    })
}

fn row_as_json(knowledge: &Knowledge, row: &Expected) -> Value {
    let unit = unit_of(knowledge, row);
    let value = |si: f64| quantity(row.dimension, si).and_then(|quantity| quantity.value_in(unit).ok()).unwrap_or(si);
    let Band { low, mid, high } = row.band;
    json!({ "reading": row.reading, "state": row.state.to_string(), "low": value(low), "mid": value(mid),
            "high": value(high), "unit": unit })
}

fn unit_of<'a>(knowledge: &'a Knowledge, row: &Expected) -> &'a str {
    knowledge.all.readings.get(&row.reading).map_or("", |reading| reading.unit.as_str())
}

fn quantity(dimension: Dimension, si: f64) -> Option<Quantity> {
    Quantity::new(dimension, si).ok()
}

fn as_text(knowledge: &Knowledge, name: &str, found: &Expectation) -> String {
    let mut lines = vec![format!("{name}: what it should read")];
    lines.extend(found.healthy.iter().map(|row| line(knowledge, row)));
    for (_, condition, rows) in &found.conditions {
        let told: Vec<&Expected> =
            rows.iter().zip(&found.healthy).filter(|(row, sound)| stands_out(row, sound)).map(|pair| pair.0).collect();
        if !told.is_empty() {
            lines.push(format!("if {condition}"));
            lines.extend(told.into_iter().map(|row| line(knowledge, row)));
        }
    }
    lines.push("figures of the design".to_owned());
    lines.extend(figures(&found.figures));
    for (field, share) in &found.measure {
        lines.push(format!("measure {field}: it makes up to {:.0} % of what is uncertain here", 100.0 * share));
    }
    lines.extend(found.warnings.iter().map(|warning| format!("WARNING {}; {}", warning.message, warning.hint)));
    lines.join("\n")
}

/// The middle of the band lies outside the healthy one.
fn stands_out(row: &Expected, sound: &Expected) -> bool {
    row.band.mid < sound.band.low || sound.band.high < row.band.mid
}

fn line(knowledge: &Knowledge, row: &Expected) -> String {
    let reading = knowledge.all.readings.get(&row.reading);
    let name = reading.map_or(row.reading.as_str(), |reading| reading.name.as_str());
    let shown = |si: f64| {
        let unit = find_unit(row.dimension, unit_of(knowledge, row));
        quantity(row.dimension, si).zip(unit).map_or_else(String::new, |(quantity, unit)| in_unit(quantity, unit))
    };
    let both = quantity(row.dimension, row.band.mid).map_or_else(String::new, echo);
    format!("  {name} ({}): {} to {}, middle {both}", row.state, shown(row.band.low), shown(row.band.high))
}

fn figures(figures: &Figures) -> Vec<String> {
    let two = |dimension: Dimension, si: f64| quantity(dimension, si).map_or_else(String::new, echo);
    let [once, healthy, twice] = figures.ripple;
    let [warm, cold] = figures.oil.map(|viscosity| viscosity * 1e6);
    let length = |metres: f64| two(Dimension::Length, metres);
    vec![
        format!(
            "  inlet velocity {}, practice keeps below {}",
            two(Dimension::Velocity, figures.inlet_velocity),
            two(Dimension::Velocity, figures.velocity_limit)
        ),
        format!("  acceleration head {}", length(figures.acceleration_head)),
        format!("  inlet head to spare before vapour forms {}", length(figures.vapour_margin)),
        format!("  inlet head to spare before delivery is lost {}", length(figures.delivery_margin)),
        format!("  ripple: {once:.1} Hz once a turn, {healthy:.1} Hz and {twice:.1} Hz healthy"),
        format!(
            "  motor {}, pump {}",
            two(Dimension::Speed, figures.motor_speed),
            two(Dimension::Speed, figures.pump_speed)
        ),
        format!("  relief opens {:.0} % over the working pressure", 100.0 * figures.relief_margin),
        format!("  oil {warm:.0} mm2/s at work, {cold:.0} mm2/s at room temperature"),
    ]
}
