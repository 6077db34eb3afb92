//! Checks sheets: what is filled in, what is refused, what is warned of.

#![allow(clippy::unwrap_used)]

use super::{Field, Known, PumpSheet, build, figures, impossible, warnings};
use crate::physics::steady::{Output, Part};

/// An invented triplex: 0.0624 L a turn, 500 rpm, 70 bar.
fn sheet() -> PumpSheet {
    let known = Known::Measured;
    PumpSheet { chambers: Some(3), ..PumpSheet::default() }
        .with(Field::DisplacementPerTurn, 62.4e-6, known)
        .with(Field::PumpSpeed, 500.0 / 60.0, known)
        .with(Field::MotorSpeed, 1450.0 / 60.0, known)
        .with(Field::MotorPower, 5500.0, known)
        .with(Field::WorkingPressure, 7e6, known)
        .with(Field::ReliefSetting, 8.2e6, known)
}

fn messages(sheet: &PumpSheet) -> String {
    let mut found = impossible(sheet);
    if found.is_empty()
        && let Some(built) = build(sheet).unwrap()
    {
        found.extend(warnings(sheet, &built, &figures(&built).unwrap()));
    }
    let lines = found.iter().map(|remark| format!("{}: {}; {}", remark.field.name(), remark.message, remark.hint));
    lines.collect::<Vec<_>>().join(
        "
",
    )
}

/// The healthy pump built from a sheet works at the point that the sheet names.
#[test]
fn the_healthy_pump_works_at_its_design() {
    let built = build(&sheet()).unwrap().unwrap();
    let healthy = figures(&built).unwrap().healthy;
    let of = |output: Output| healthy[output as usize];
    assert!((of(Output::OutletPressure) / 7e6 - 1.0).abs() < 0.01, "{healthy:?}");
    assert!((of(Output::PumpSpeed) * 60.0 / 500.0 - 1.0).abs() < 0.005, "{healthy:?}");
    assert!((of(Output::DeliveredFlow) / built.pump.design.flow - 1.0).abs() < 0.01, "{healthy:?}");
    assert_eq!(messages(&sheet()), "");
}

#[test]
fn unmeasured_starts_four_times_as_wide() {
    let width = |sheet: &PumpSheet, part| {
        let built = build(sheet).unwrap().unwrap();
        built.widths.iter().find(|width| width.0 == part).unwrap().1
    };
    let guessed = sheet().with(Field::ReliefSetting, 8.2e6, Known::Guessed);
    let (wide, narrow) = (width(&guessed, Part::ReliefOpening), width(&sheet(), Part::ReliefOpening));
    assert!((wide / narrow - 4.0).abs() < 1e-12);
    let level = sheet().with(Field::LevelOverInlet, -1.0, Known::Measured);
    assert!(width(&level, Part::Level) < width(&sheet(), Part::Level));
}

/// A number that no pump has is named, and not left out without a word.
#[test]
fn a_number_of_no_pump_is_told() {
    for value in [1e20, -1e300, f64::INFINITY, f64::NAN] {
        let said = messages(&sheet().with(Field::MotorPower, value, Known::Measured));
        assert!(said.starts_with("motor_power: no pump has such a number"), "{value}: {said}");
    }
}

#[test]
fn too_little_is_known_to_build() {
    for field in [Field::DisplacementPerTurn, Field::PumpSpeed, Field::WorkingPressure] {
        let mut less = sheet();
        less.given.remove(&field);
        assert_eq!(build(&less).unwrap(), None, "{}", field.name());
    }
}

#[test]
fn what_cannot_be_is_said_with_what_to_do() {
    let known = Known::ReadOff;
    let swapped = sheet().with(Field::MotorSheave, 0.29, known).with(Field::PumpSheave, 0.1, known);
    for (sheet, says) in [
        (sheet().with(Field::ReliefSetting, 6.5e6, known), "relief_setting: the relief opens at 65.0 bar"),
        (swapped, "the two pitch diameters are swapped"),
        (sheet().with(Field::MotorPower, 1500.0, known), "the liquid alone takes 3.6 kW"),
        (sheet().with(Field::LevelOverInlet, -12.0, known), "no pump lifts water 10 m"),
    ] {
        let said = messages(&sheet);
        assert!(said.contains(says), "{said}");
    }
}

#[test]
fn bad_design_is_warned_of() {
    let known = Known::Measured;
    for (sheet, says) in [
        (sheet().with(Field::InletBore, 0.019, known), "narrow inlet bore for this flow"),
        (sheet().with(Field::InletLength, 9.0, known), "long run of inlet pipe: 9.0 m"),
        (sheet().with(Field::ReliefSetting, 7.3e6, known), "relief margin is thin: 4 %"),
        (sheet().with(Field::RoomTemperature, 268.15, known), "oil is stiff at room temperature"),
        (sheet().with(Field::LevelOverInlet, -9.5, known), "the healthy pump starves"),
        (sheet().with(Field::OrificeBore, 0.0035, known), "these nozzles need"),
        (sheet().with(Field::DamperCharge, 7.5e6, known), "keeps it shut"),
    ] {
        let said = messages(&sheet);
        assert!(said.contains(says), "{says}: {said}");
    }
}
