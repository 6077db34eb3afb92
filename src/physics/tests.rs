//! Turns every law, at random inputs, into proof that none panics, none yields what is no number, and the steady ones stay steady.

#![allow(clippy::unwrap_used)]

use proptest::prelude::{Just, Strategy, any, prop, prop_assert, prop_assume, prop_oneof, proptest};

use super::catalogue::{all, reckon};
use super::law::{Card, Listed};
use super::laws::{pipe, suction, water};
use crate::quantity::{Dimension, Quantity};
use std::collections::BTreeSet;

#[test]
fn every_law_is_complete() {
    let mut names = BTreeSet::new();
    for law in all() {
        let card = law.card();
        assert!(names.insert(card.name), "{} stands twice", card.name);
        assert!(!card.formula.is_empty() && !card.range.is_empty() && !card.source.is_empty(), "{}", card.name);
        let mut keys = BTreeSet::new();
        for input in card.inputs {
            assert!(keys.insert(input.key), "{}: {} stands twice", card.name, input.key);
            assert!(has_unit(input.dimension, input.unit), "{}: {} in {}", card.name, input.key, input.unit);
            assert!(input.published().0 < input.published().1, "{}: {}", card.name, input.key);
        }
        for output in card.outputs {
            assert!(has_unit(output.dimension, output.unit), "{}: {} in {}", card.name, output.name, output.unit);
        }
    }
    assert!(25 <= names.len());
}

fn has_unit(dimension: Dimension, symbol: &str) -> bool {
    dimension.units().iter().any(|unit| unit.symbol() == symbol)
}

fn any_law() -> impl Strategy<Value = &'static dyn Listed> {
    prop::sample::select(all().collect::<Vec<_>>())
}

/// Shares of the published ranges, for laws of up to eight inputs.
fn shares() -> impl Strategy<Value = [f64; 8]> {
    prop::array::uniform8(prop_oneof![8 => 0.0f64..=1.0, 1 => Just(0.0), 1 => Just(1.0)])
}

/// A point inside all published ranges: small inputs are as likely as large ones.
fn inside(card: Card, shares: [f64; 8]) -> Vec<f64> {
    card.inputs.iter().zip(shares).map(|(input, share)| place(input.published(), share, input.is_whole())).collect()
}

fn place((low, high): (f64, f64), share: f64, whole: bool) -> f64 {
    let even = low + share * (high - low);
    let value = if 0.0 < low && 50.0 < high / low { low * (high / low).powf(share) } else { even };
    if whole { value.round() } else { value.clamp(low, high) }
}

proptest! {
    #[test]
    fn no_input_makes_a_law_panic_or_yield_no_number(
        law in any_law(),
        wild in prop::array::uniform8(any::<f64>()),
        shares in shares(),
        which in any::<u8>(),
    ) {
        let inside = inside(law.card(), shares);
        let mixed: Vec<f64> =
            inside.iter().enumerate().map(|(at, value)| if which >> at & 1 == 1 { wild[at] } else { *value }).collect();
        for values in [&wild[..inside.len()], &mixed] {
            if let Ok((outputs, _)) = law.outputs(values) {
                prop_assert!(outputs.iter().all(|output| output.is_finite()), "{} {:?}", law.card().name, values);
            }
            if let Err(error) = law.published(values) {
                prop_assert!(error.to_string().contains(" is outside "), "{}", error);
            }
        }
    }

    #[test]
    fn inside_the_published_range_only_a_named_input_is_refused(law in any_law(), shares in shares()) {
        let card = law.card();
        match law.published(&inside(card, shares)) {
            Ok(outputs) => prop_assert!(outputs.iter().all(|output| output.is_finite())),
            Err(error) => {
                prop_assert!(card.inputs.iter().any(|input| input.key == error.input), "{}", error);
                prop_assert!(!error.to_string().contains("gives no number"), "{}: {}", card.name, error);
            }
        }
    }

    #[test]
    fn both_doors_give_the_same(law in any_law(), shares in shares()) {
        let values = inside(law.card(), shares);
        let (strict, lenient) = (law.published(&values).ok(), law.outputs(&values).ok());
        prop_assert!(strict == lenient.as_ref().map(|found| found.0.clone()));
        prop_assert!(lenient.is_none_or(|found| found.1.is_empty()));
    }

    #[test]
    fn steady_laws_stay_steady(
        (name, key, output, rises) in prop::sample::select(STEADY.to_vec()),
        shares in shares(),
        step in 0.001f64..1.0,
    ) {
        let card = all().map(Listed::card).find(|card| card.name == name).unwrap();
        let at = card.inputs.iter().position(|input| input.key == key).unwrap();
        let low = inside(card, shares);
        let mut high = shares;
        high[at] += step * (1.0 - high[at]);
        let high = inside(card, high);
        let law = all().find(|law| law.card().name == name).unwrap();
        // At the top of the range, or where two inputs exclude each other, there is nothing to compare.
        if let (true, Ok(before), Ok(after)) = (low[at] < high[at], law.published(&low), law.published(&high)) {
            let change = if rises { after[output] - before[output] } else { before[output] - after[output] };
            let noise = 1e-12 * before[output].abs().max(after[output].abs());
            prop_assert!(-noise <= change, "{}: {:?} {:?} against {:?} {:?}", name, low, before, high, after);
        }
    }

    /// The reading of the gauge law put into the gauge form gives the NPSH of the system form, to 1e-9.
    #[test]
    fn inlet_gauge_and_system_give_the_same_npsh(
        (flow, bore, length) in (1e-5f64..5e-3, 0.02f64..0.15, 0.1f64..15.0),
        (level, losses, celsius) in (-2.0f64..5.0, 0.0f64..20.0, 1.0f64..60.0),
        (barometer, acceleration) in (60e3f64..104e3, 0.0f64..3.0),
    ) {
        let kelvin = celsius + 273.15;
        let vapour = water::vapour_pressure(kelvin).unwrap();
        let density = water::water_density(kelvin, 101_325.0).unwrap();
        let viscosity = water::water_viscosity(kelvin, density).unwrap()[0];
        let velocity = pipe::pipe_velocity(flow, bore).unwrap();
        prop_assume!(velocity < 20.0);
        let reynolds = pipe::reynolds(density, velocity, bore, viscosity).unwrap();
        let friction = pipe::friction_factor(reynolds, 45e-6 / bore).unwrap();
        let lost = pipe::pipe_loss(friction, length, bore, losses, velocity, density).unwrap()[0];
        let gauge = suction::inlet_gauge(density, level, velocity, friction, length, bore, losses).unwrap();
        let by_system = suction::npsh_system(barometer, vapour, density, level, lost, acceleration);
        let by_gauge = suction::npsh_gauge(barometer, gauge, vapour, density, 0.0, velocity, acceleration);
        match (by_gauge, by_system) {
            (Ok(by_gauge), Ok(by_system)) => {
                prop_assert!((by_gauge - by_system).abs() <= 1e-9 * by_system.abs().max(1.0), "{} {}", by_gauge, by_system);
            }
            // A vacuum above the ceiling, or a loss beyond any line.
            (Err(error), _) | (_, Err(error)) => prop_assert!(["gauge", "friction_head"].contains(&error.input), "{}", error),
        }
    }
}

/// Law, input, place of the output, and whether it rises with the input.
const STEADY: [(&str, &str, usize, bool); 33] = [
    ("barometer_at_altitude", "altitude", 0, false),
    ("barometer_simple", "altitude", 0, false),
    ("vapour_pressure", "temperature", 0, true),
    ("vapour_pressure_simple", "temperature", 0, true),
    ("water_density", "pressure", 0, true),
    ("water_bulk_modulus", "pressure", 0, true),
    ("npsh_system", "vapour_pressure", 0, false),
    ("npsh_gauge", "gauge", 0, true),
    ("lift_allowed", "surface_pressure", 0, true),
    ("inlet_gauge", "losses", 0, false),
    ("separation_speed", "lift", 0, false),
    ("acceleration_head", "speed", 0, true),
    ("acceleration_constant_rods", "rod_ratio", 0, false),
    ("friction_laminar", "reynolds", 0, false),
    ("friction_colebrook", "reynolds", 0, false),
    ("friction_colebrook", "relative_roughness", 0, true),
    ("friction_swamee_jain", "reynolds", 0, false),
    ("friction_haaland", "relative_roughness", 0, true),
    ("fitting_two_k", "reynolds", 0, false),
    ("displacement", "stroke", 0, true),
    ("slip", "flow", 0, false),
    ("compressibility_efficiency", "rise", 0, false),
    ("sheave_speed", "motor_sheave", 0, true),
    ("orifice_flow", "drop", 0, true),
    ("orifice_pressure", "flow", 0, true),
    ("orifice_wear", "growth", 0, false),
    ("viscosity_index", "at_40", 0, false),
    ("oil_at_100", "index", 0, true),
    ("oil_of_grade", "temperature", 0, false),
    ("saybolt_to_viscosity", "seconds", 0, true),
    ("discharge_delay", "gas", 0, true),
    ("gas_binding", "clearance", 0, false),
    ("dissolved_air", "pressure", 0, true),
];

#[test]
fn what_is_given_wrong_is_named() {
    let of = |dimension, value, unit| Quantity::of(dimension, value, unit).unwrap();
    let drop = of(Dimension::PressureDifference, 150.0, "bar");
    let error = |name: &str, given: &[(&str, Quantity)]| reckon(name, given).unwrap_err().to_string();
    assert_eq!(error("orifice", &[]), "`orifice` is no law");
    assert_eq!(
        error("orifice_flow", &[("pressure", drop)]),
        "`orifice_flow` does not ask for `pressure`; it asks for diameter, drop, density, coefficient"
    );
    assert_eq!(error("orifice_flow", &[("drop", drop), ("drop", drop)]), "`drop` is given twice");
    assert_eq!(
        error("pressure_head", &[("density", of(Dimension::Density, 998.0, "kg/m3"))]),
        "`pressure_head` needs difference (pressure difference, kPa)"
    );
    assert_eq!(
        error("orifice_wear", &[("growth", drop)]),
        "`growth`: this is a pressure difference; a ratio is asked for; accepted: %, times, ppm"
    );
}

#[test]
fn outside_the_published_range_the_value_comes_with_a_word() {
    let altitude = |metres| [("altitude", Quantity::of(Dimension::Length, metres, "m").unwrap())];
    assert!(!reckon("barometer_simple", &altitude(6000.0)).unwrap().in_range());
    assert!(reckon("barometer_simple", &altitude(60_000.0)).is_err());
    let hot = [("temperature", Quantity::of(Dimension::Temperature, 120.0, "°C").unwrap())];
    let reckoned = reckon("vapour_pressure_simple", &hot).unwrap();
    assert!(!reckoned.in_range());
    assert_eq!(reckoned.outside[0].input, "temperature");
    assert!(
        reckon("Vapour pressure", &[("temperature", Quantity::of(Dimension::Temperature, 20.0, "°C").unwrap())])
            .unwrap()
            .in_range()
    );
}
