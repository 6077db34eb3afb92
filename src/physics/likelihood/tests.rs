//! Checks likelihoods against bell curves by hand, baselines, gauges that misread, and orders that must not matter.

#![allow(clippy::unwrap_used)]

use super::{Expected, Misread, Number, Suspect, sets_of};
use crate::physics::sheet::{Field, Known, PumpSheet, build};
use crate::physics::steady::{Change, Effect, Move, Output, Part, Spread, State};
use proptest::prelude::*;

/// An invented triplex of 30 L/min at 70 bar.
fn expected(known: Known, wider: f64) -> Expected {
    let sheet = PumpSheet { chambers: Some(3), ..PumpSheet::default() }
        .with(Field::DisplacementPerTurn, 62.4e-6 * wider, known)
        .with(Field::PumpSpeed, 500.0 / 60.0, known)
        .with(Field::MotorSpeed, 1450.0 / 60.0, known)
        .with(Field::MotorPower, 5500.0, known)
        .with(Field::WorkingPressure, 7e6, known)
        .with(Field::ReliefSetting, 9.5e6, known);
    let moves = |part, change, spread| Suspect::Fault(Effect { moves: vec![Move { part, change, spread }] });
    let suspects = vec![
        moves(Part::Level, Change::Add(-2.0, -2.0), Spread::Even),
        moves(Part::OrificeArea, Change::Times(1.1, 1.6), Spread::Even),
        moves(Part::ValveWear, Change::Add(0.04, 0.3), Spread::Log),
        Suspect::Gauge(Misread { outputs: vec![Output::OutletPressure], by: 1.3e6, share: false }),
    ];
    Expected::new(build(&sheet).unwrap().unwrap(), suspects).unwrap()
}

const LEVEL: u64 = 1;
const ORIFICE: u64 = 2;
const GAUGE: u64 = 8;

fn number(output: Output, value: f64) -> Number {
    let (error, scale) = match output {
        Output::InletPressure => (1.3e3, (-100e3, 100e3)),
        Output::OutletPressure => (1e5, (0.0, 2e7)),
        Output::DeliveredFlow => (0.5e-3 / 60.0, (0.0, 1e-3)),
        _ => (0.2, (0.0, 50.0)),
    };
    Number { state: State::default(), output, of_healthy: false, value, error, scale, baseline: None }
}

/// With one number and one severity a likelihood is half a bell curve, half the same with 2 % from anywhere; its width and
/// middle are read from the band, which goes another way.
#[test]
fn one_number_is_a_bell_curve_with_tails() {
    let mut expected = expected(Known::Measured, 1.0);
    let asked = number(Output::InletPressure, -15e3);
    let by_hand = |expected: &mut Expected, set: u64| {
        let band = expected.band(&asked, set).unwrap();
        let deviation = (band.high - band.low) / (2.0 * 1.644_853_626_951);
        let z = (asked.value - band.mid) / deviation;
        let bell = libm::exp(-0.5 * z * z) / deviation / std::f64::consts::TAU.sqrt();
        0.5 * bell + 0.5 * (0.98 * bell + 0.02 / (asked.scale.1 - asked.scale.0))
    };
    let found = expected.weigh(&[asked], &[0, LEVEL]).unwrap().likelihoods;
    let wanted = by_hand(&mut expected, LEVEL) / by_hand(&mut expected, 0);
    assert!((found[1] / found[0] / wanted - 1.0).abs() < 1e-6, "{found:?} {wanted}");
}

/// A wrong displacement on the sheet moves what the healthy pump should show; a baseline puts it right again.
#[test]
fn a_baseline_goes_before_the_sheet() {
    for wider in [0.92, 1.0, 1.08] {
        let mut expected = expected(Known::Guessed, wider);
        let bare = number(Output::OutletPressure, 0.0);
        let held = Number { baseline: Some(7e6), ..bare };
        let (loose, tight) = (expected.band(&bare, 0).unwrap(), expected.band(&held, 0).unwrap());
        assert!((tight.mid - 7e6).abs() < 1.0, "{tight:?}");
        assert!(tight.high - tight.low < 0.6 * (loose.high - loose.low), "{tight:?} {loose:?}");
        let worn = expected.band(&held, ORIFICE).unwrap();
        assert!(worn.high < tight.mid, "{worn:?}");
    }
}

/// One gauge far off and all else healthy: the gauge is likelier than the orifice, and no fault is likelier than both.
#[test]
fn a_gauge_may_be_what_is_wrong() {
    let mut expected = expected(Known::Measured, 1.0);
    let sound = |output| {
        let value = expected.clone().band(&number(output, 0.0), 0).unwrap().mid;
        Number { baseline: Some(value), ..number(output, value) }
    };
    let mut numbers = vec![sound(Output::DeliveredFlow), sound(Output::MotorCurrent), sound(Output::OutletPressure)];
    numbers[2].value = 4.5e6;
    let sets = sets_of(&[0, 1, 2, 3], 3);
    let weighed = expected.weigh(&numbers, &sets).unwrap();
    let of = |set: u64| weighed.likelihoods[sets.iter().position(|&other| other == set).unwrap()];
    assert!(3.0 * of(ORIFICE) < of(GAUGE), "{} {}", of(ORIFICE), of(GAUGE));
    assert!(3.0 * of(0) < of(GAUGE), "{} {}", of(0), of(GAUGE));
    assert!(0.9 < of(GAUGE), "{}", of(GAUGE));
}

#[test]
fn suspects_matter_where_they_move_something() {
    let mut expected = expected(Known::Measured, 1.0);
    assert_eq!(expected.matter_to(&[number(Output::InletPressure, 0.0)]).unwrap(), [0]);
    assert_eq!(expected.matter_to(&[number(Output::OutletPressure, 0.0)]).unwrap(), [1, 2, 3]);
}

/// Numbers that no set explains lie far from all of them.
#[test]
fn numbers_that_fit_nothing_are_far_off() {
    let mut expected = expected(Known::Measured, 1.0);
    let sets = sets_of(&[0, 1, 2, 3], 3);
    let mut distance = |flow: f64, pressure: f64| {
        let numbers = [number(Output::DeliveredFlow, flow), number(Output::OutletPressure, pressure)];
        expected.weigh(&numbers, &sets).unwrap().distance
    };
    let fits = distance(0.5e-3, 7e6);
    assert!(fits < 2.0 && 20.0 < distance(0.7e-3, 7e6), "{fits}");
}

proptest! {
    /// The order of the numbers does not matter to the last bit, nor what was asked before.
    #[test]
    fn order_does_not_matter(flow in 0.3e-3..0.6e-3_f64, pressure in 3e6..9e6_f64, inlet in -40e3..5e3_f64) {
        let numbers = [
            number(Output::DeliveredFlow, flow),
            number(Output::OutletPressure, pressure),
            number(Output::InletPressure, inlet),
        ];
        let turned = [numbers[2], numbers[0], numbers[1]];
        let sets = sets_of(&[0, 1, 2, 3], 3);
        let mut fresh = expected(Known::Measured, 1.0);
        let first = fresh.weigh(&numbers, &sets).unwrap();
        let mut used = expected(Known::Measured, 1.0);
        used.weigh(&[numbers[1]], &sets).unwrap();
        prop_assert_eq!(&first, &used.weigh(&turned, &sets).unwrap());
        prop_assert!(first.likelihoods.iter().all(|likelihood| (0.0..=1.0).contains(likelihood)));
    }
}
