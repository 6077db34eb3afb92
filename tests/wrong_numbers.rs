//! Numbers that cannot be, put into everything that takes numbers: nothing panics, nothing hangs, and no result is "not a number".
//!
//! Laws, parts, fields, faults, findings, dimensions and units come from the program's own tables, so that a new one is tried
//! without a new test here.

#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use proptest::prelude::{ProptestConfig, Strategy, any, prop, prop_assert, prop_oneof, proptest};
use proptest::test_runner::RngSeed;
use std::fmt::Debug;
use std::rc::Rc;
use weephole::evidence::{PumpData, PumpModel, bins, density};
use weephole::knowledge::sheet::HowKnown;
use weephole::knowledge::{Graph, Healthy, Knowledge, Scale};
use weephole::physics::catalogue::{all, reckon};
use weephole::physics::kinematics::{Drive, extremes, position};
use weephole::physics::sheet::{Field, Known, PumpSheet, build, figures, impossible, rebuild, warnings};
use weephole::physics::steady::{CARDS, Design, Liquid, Output, Part, Pump, State, Steady};
use weephole::planning::{CauseCost, Costs, in_order, minutes_left};
use weephole::quantity::{Dimension, Quantity, echo, exact_text, in_unit, parse_strict, short_number};
use weephole::simulation::faults::{self, Present};
use weephole::simulation::instruments::{Bucket, Gauge, Simple};
use weephole::simulation::{Detail, Works, person, settle, trace};

/// Numbers at the edges: none, endless, zero of both signs, the smallest, the largest, absolute zero, a vacuum deeper than any.
const ODD: [f64; 20] = [
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    0.0,
    -0.0,
    5e-324,
    -5e-324,
    f64::MIN_POSITIVE,
    1e-300,
    -1e-9,
    1.0,
    -1.0,
    -273.15,
    -101_326.0,
    1e9,
    -1e9,
    1e300,
    -1e300,
    f64::MAX,
    f64::MIN,
];

/// An odd number, or any at all.
fn odd() -> impl Strategy<Value = f64> {
    prop_oneof![3 => prop::sample::select(ODD.to_vec()), 1 => any::<f64>()]
}

/// What is shown holds no "NaN" and no "inf".
#[track_caller]
fn shown(text: &str) {
    let word =
        text.split(|c: char| c != '_' && !c.is_alphanumeric()).find(|word| ["NaN", "inf", "infinity"].contains(word));
    assert!(word.is_none(), "{word:?} is shown: {text}");
}

/// A result with all its numbers, as it prints.
#[track_caller]
fn numbers(result: &impl Debug) {
    shown(&format!("{result:?}"));
}

/// Every law with one odd input among usual ones, with two, and with nothing but odd ones.
#[test]
fn no_law_takes_or_gives_what_is_no_number() {
    for law in all() {
        let card = law.card();
        let middle = |at: usize| {
            let (low, high) = card.inputs[at].published();
            let middle = f64::midpoint(low, high);
            if card.inputs[at].is_whole() { middle.round() } else { middle }
        };
        let usual: Vec<f64> = (0..card.inputs.len()).map(middle).collect();
        let tried = |values: &[f64]| {
            for found in [law.outputs(values).map(|(outputs, _)| outputs), law.published(values)] {
                match found {
                    Ok(outputs) => {
                        assert!(outputs.iter().all(|o| o.is_finite()), "{} {values:?} {outputs:?}", card.name);
                    }
                    Err(error) => shown(&error.to_string()),
                }
            }
        };
        for (at, one) in (0..usual.len()).flat_map(|at| ODD.map(|one| (at, one))) {
            let mut values = usual.clone();
            values[at] = one;
            tried(&values);
            for (second, other) in (at + 1..usual.len()).flat_map(|second| ODD.map(|other| (second, other))) {
                let mut values = values.clone();
                values[second] = other;
                tried(&values);
            }
        }
        for one in ODD {
            tried(&vec![one; usual.len()]);
        }
        tried(&[]);
    }
}

/// The same by name, with quantities: what comes out can be shown in its unit.
#[test]
fn laws_by_name_show_only_numbers() {
    for law in all() {
        let card = law.card();
        for one in ODD {
            let given: Vec<(&str, Quantity)> = card
                .inputs
                .iter()
                .filter_map(|input| Some((input.key, Quantity::new(input.dimension, one).ok()?)))
                .collect();
            match reckon(card.name, &given) {
                Ok(found) => found.values.iter().for_each(|value| {
                    shown(&echo(value.quantity));
                    shown(&value.quantity.value_in(value.unit).map(|v| v.to_string()).unwrap_or_default());
                }),
                Err(error) => shown(&error.to_string()),
            }
        }
    }
}

/// The same cases each time.
fn fixed(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, rng_seed: RngSeed::Fixed(1), failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(fixed(256))]

    /// A quantity is a number and shows as one in every unit, and its file text reads back to it.
    #[test]
    fn quantities_hold_and_show_only_numbers(dimension in prop::sample::select(Dimension::ALL.to_vec()), si in odd(), digits in any::<usize>()) {
        shown(&short_number(si, digits));
        let Ok(quantity) = Quantity::new(dimension, si) else {
            prop_assert!(!si.is_finite() || si < 0.0);
            return Ok(());
        };
        prop_assert!(quantity.si().is_finite());
        shown(&echo(quantity));
        shown(&quantity.to_string());
        for unit in dimension.units() {
            shown(&in_unit(quantity, unit));
            if let Ok(other) = Quantity::from_unit(dimension, si, unit) {
                shown(&echo(other));
            }
        }
        let text = exact_text(quantity);
        prop_assert!(parse_strict(&text, dimension) == Ok(quantity), "{}", text);
    }

    /// A number against a reading's bands: the four likelihoods are numbers from 0 to 1, and the bins sum to one.
    #[test]
    fn readings_weigh_any_number(
        (low, high, from, to) in (odd(), odd(), odd(), odd()),
        (error, x, usual) in (odd(), odd(), prop::option::of(odd())),
        of_usual in any::<bool>(),
    ) {
        // What a knowledge file may say: finite, in order, an error above zero.
        let fair = [low, high, from, to, error].iter().all(|n| n.is_finite()) && low < high && from < to && 0.0 < error;
        if !fair {
            return Ok(());
        }
        let healthy = if of_usual { Healthy::OfUsual(from, to) } else { Healthy::Between(from, to) };
        let scale = Scale { dimension: Dimension::GaugePressure, healthy, low, high, error };
        if let Some(found) = density(&scale, x, usual) {
            prop_assert!(found.iter().all(|d| (0.0..=1.0).contains(d)), "{:?} {} {:?}: {:?}", scale, x, usual, found);
        }
        for states in bins(&scale, usual).unwrap_or_default() {
            prop_assert!(states.iter().all(|p| (-1e-9..=1.0 + 1e-9).contains(p)), "{:?} {:?}: {:?}", scale, usual, states);
        }
    }

    /// Flow of any chambers: numbers, and an end.
    #[test]
    fn any_drive_has_an_end(cranks in odd(), sides in prop::sample::select(vec![1.0, 2.0]), ratio in prop::option::of(odd()), dead in any::<u32>()) {
        numbers(&extremes(Drive { cranks, sides, rod_ratio: ratio }, dead));
        let place = position(1.0, ratio.filter(|ratio| (1.0..1e6).contains(ratio)));
        prop_assert!((0.0..=1.0).contains(&place));
    }

    /// Minutes of any checks and repairs, and any chances: the list is in order and comes to an end.
    #[test]
    fn the_list_of_causes_takes_any_minutes(
        rows in prop::collection::vec((odd(), odd(), any::<u64>(), any::<u64>(), any::<bool>(), odd()), 0..60),
        openings in prop::collection::vec(odd(), 0..4),
        done in any::<u64>(),
    ) {
        // What a knowledge file may say of minutes, and what a belief may be.
        let minutes = |n: f64| if n.is_finite() { n.abs().min(100_000.0) } else { 0.0 };
        let cause = |row: &(f64, f64, u64, u64, bool, f64)| CauseCost {
            node: 0,
            look: row.4.then(|| "look".to_owned()),
            look_minutes: minutes(row.0),
            look_openings: row.2,
            repair_minutes: minutes(row.1),
            repair_openings: row.3,
        };
        let costs = Costs::of_causes(rows.iter().map(cause).collect(), openings.into_iter().map(minutes).collect());
        let present: Vec<f64> = rows.iter().map(|row| if row.5.is_nan() { 0.0 } else { row.5.clamp(0.0, 1.0) }).collect();
        let left = minutes_left(&costs, &present, done);
        prop_assert!(left.is_finite() && 0.0 <= left, "{}", left);
        prop_assert!(in_order(&costs, &present, done).len() <= rows.len());
    }

    /// Instruments of any make at any pressure, flow and current.
    #[test]
    fn instruments_show_what_is_on_their_dial(
        (low, high, class, bias, lag) in (odd(), odd(), odd(), odd(), odd()),
        (value, error, step) in (odd(), odd(), odd()),
        seed in any::<u64>(),
    ) {
        let finite = |n: f64| if n.is_finite() { n.clamp(-1e12, 1e12) } else { 0.0 };
        let mut gauge = Gauge::usual(low, high);
        (gauge.class, gauge.bias, gauge.lag) = ((finite(class), finite(class)), finite(bias), lag);
        numbers(&(gauge.dial(finite(value), seed), gauge.read(finite(value), seed, 1)));
        numbers(&gauge.needle([finite(value), 0.0, finite(error)], finite(step).abs(), seed));
        let simple = Simple { share: finite(error), plain: finite(error), digit: 0.1 };
        numbers(&simple.read(finite(value), seed, "x"));
        numbers(&Bucket { volume: (0.02, finite(error).abs().min(1.0)), watch: finite(error).abs() }.read(value, seed));
    }
}

thread_local! {
    static SHIPPED: Rc<Knowledge> = Rc::new(common::shipped().knowledge);
}

fn usual_pump(chambers: u32) -> Pump {
    let design = Design { flow: 0.5e-3, pressure: 7e6, speed: 500.0 / 60.0 };
    Pump::usual(chambers, design, Liquid::water(293.15).unwrap())
}

/// Running states, by the words of the table.
fn states() -> Vec<State> {
    State::words().map(|word| State::parse(word).unwrap()).collect()
}

/// Every part of the steady model odd, in every running state: readings, or a refusal in words.
#[test]
fn no_part_makes_the_steady_model_show_what_is_no_number() {
    let steady = Steady::new(3);
    let sound = usual_pump(3);
    for card in &CARDS {
        for one in ODD {
            for state in states() {
                let pump = sound.with(card.part, one);
                for (pump, sound) in [(pump, sound), (pump, pump)] {
                    match steady.solve(&pump, &sound, state) {
                        Ok(readings) => numbers(&readings),
                        Err(error) => shown(&error.to_string()),
                    }
                }
            }
        }
    }
    for chambers in [0, 1, 2, 12] {
        let pump = usual_pump(chambers);
        for state in states() {
            if let Ok(readings) = Steady::new(chambers).solve(&pump, &pump, state) {
                numbers(&readings);
            }
        }
    }
}

/// Every field of a pump sheet odd: a pump, or a refusal in words.
#[test]
fn no_sheet_makes_a_pump_of_what_is_no_number() {
    let whole = |sheet: PumpSheet| {
        [(Field::DisplacementPerTurn, 62.4e-6), (Field::PumpSpeed, 8.33), (Field::WorkingPressure, 7e6)]
            .into_iter()
            .fold(
                sheet,
                |sheet, (field, value)| {
                    if sheet.get(field).is_some() { sheet } else { sheet.with(field, value, Known::ReadOff) }
                },
            )
    };
    for (field, ..) in Field::ALL {
        for one in ODD {
            sheet_shows(&whole(PumpSheet::default().with(*field, one, Known::Measured)));
        }
    }
    for chambers in [0, 1, 2, 12, 13, 1000, u32::MAX] {
        sheet_shows(&whole(PumpSheet { chambers: Some(chambers), ..PumpSheet::default() }));
    }
}

fn sheet_shows(sheet: &PumpSheet) {
    for remark in impossible(sheet) {
        shown(&remark.message);
    }
    match rebuild(sheet) {
        Ok(found) => numbers(&found),
        Err(error) => shown(&error.to_string()),
    }
    let built = match build(sheet) {
        Ok(Some(built)) => built,
        Ok(None) => return,
        Err(error) => return shown(&error.to_string()),
    };
    match figures(&built) {
        Ok(figures) => {
            numbers(&figures);
            for warning in warnings(sheet, &built, &figures) {
                shown(&warning.message);
            }
        }
        Err(error) => shown(&error.to_string()),
    }
}

proptest! {
    #![proptest_config(fixed(24))]

    /// Numbers of a pump as a journal may hold them, which no sheet checked: bands and readings, or a refusal in words.
    #[test]
    fn a_pump_out_of_a_journal_shows_only_numbers(
        fields in prop::collection::vec((prop::sample::select(Field::ALL.to_vec()), odd()), 0..4),
        chambers in prop::option::of(any::<u32>()),
    ) {
        let knowledge = SHIPPED.with(Rc::clone);
        let graph = Graph::new(&knowledge, "oil_backed", None);
        let usual = [("displacement_per_turn", 62.4e-6), ("pump_speed", 8.33), ("working_pressure", 7e6)];
        let usual = usual.map(|(name, value)| (name.to_owned(), value, HowKnown::Measured));
        let fields = fields.into_iter().map(|((_, name, _), value)| (name.to_owned(), value, HowKnown::Measured));
        let data = PumpData { chambers, data: usual.into_iter().chain(fields).collect(), ..PumpData::default() };
        match PumpModel::of(&knowledge, &graph, &data, &indexmap::IndexMap::default()) {
            Ok(Some(model)) => match model.expectation(&knowledge, &graph, None) {
                Ok(found) => numbers(&(found.healthy, found.conditions, found.figures)),
                Err(error) => shown(&error.to_string()),
            },
            Ok(None) => {}
            Err(error) => shown(&error.to_string()),
        }
    }
}

/// Severities that are none, and every fault: what is put in is a fault of 0 to 1.
#[test]
fn a_severity_is_a_number_from_none_to_grave() {
    for fault in faults::all() {
        for severity in ODD {
            let present = fault.at(severity);
            assert!((0.0..=1.0).contains(&present.severity), "{} at {severity}", fault.id);
            let direct = Present { severity, hours: severity, ..present };
            assert!(direct.now().is_none_or(|now| (0.0..=1.0).contains(&now)), "{} at {severity}", fault.id);
            let finding = person::from_numbers().next().unwrap_or("came_slowly");
            assert!((0.0..=1.0).contains(&person::noticed(fault, finding, present.severity)));
        }
    }
}

/// Every fault beyond grave and in a chamber that is not there, simulated.
#[test]
fn every_fault_beyond_grave_settles() {
    let pump = usual_pump(3);
    for (at, fault) in faults::all().enumerate() {
        let severity = ODD[at % ODD.len()];
        let works = faults::put(&pump, &[Present { severity, ..fault.at(1.0).in_chamber(usize::MAX) }]);
        settled(&works, State::default());
    }
}

/// Every part of the pump odd, simulated in a few states: readings, or a refusal in words.
#[test]
fn no_part_makes_the_simulation_hang_or_show_what_is_no_number() {
    for (at, card) in CARDS.iter().enumerate() {
        for turn in 0..3 {
            let one = ODD[(7 * at + 3 * turn) % ODD.len()];
            let pump = usual_pump(3).with(card.part, one);
            settled(&Works::of(&pump, &usual_pump(3)), states()[(at + turn) % states().len()]);
        }
    }
    for chambers in [0, 1, 12] {
        let pump = usual_pump(chambers);
        settled(&Works::of(&pump, &pump), State::default());
        if let Ok(points) = trace(&Works::of(&pump, &pump), State::default(), 0.2, Detail::Settled) {
            numbers(&points);
        }
    }
}

fn settled(works: &Works, state: State) {
    match settle(works, state, Detail::Settled) {
        Ok(settled) => {
            numbers(&settled.readings);
            assert!(settled.of(Output::OutletPressure).is_finite());
            numbers(&(settled.each, settled.bypass, settled.into_case, settled.inlet_least));
        }
        Err(error) => shown(&error.to_string()),
    }
}

/// What the usual pump shows is not refused: the guards above let through what is a pump.
#[test]
fn a_usual_pump_is_still_a_pump() {
    let pump = usual_pump(3);
    let readings = Steady::new(3).solve(&pump, &pump, State::default()).unwrap();
    assert!(1e6 < readings[Output::OutletPressure as usize] && pump[Part::Displacement] > 0.0);
}
