//! Turns simulated pumps into answers by the ids of a small knowledge; tests only.

#![allow(clippy::unwrap_used)]

use super::{Rig, RigError, SimulatedPump, lesson_problems, made};
use crate::evidence::Answer;
use crate::knowledge::{Knowledge, SourceText, load};
use crate::physics::steady::{Output, Part, State};
use crate::simulation::person::taken_by_hand;
use crate::simulation::{Detail, Works, settle};
use std::rc::Rc;

const SMALL: &str = r#"(
    version: 1,
    families: {"oil_backed": (name: "pump", recognise: "oil behind the diaphragm")},
    sources: {"practice": (title: "common practice, no source", kind: common_practice)},
    causes: {"strainer_clogged": (name: "strainer clogged", place: "inlet", shares: {"oil_backed": 700}, basis: guess)},
    findings: {"found_strainer_clogged": (name: "strainer is clogged", question: "Is it?", verdict_on: "strainer_clogged")},
    readings: {
        "vacuum": (name: "inlet gauge", question: "What does it show?", instrument: "gauge", running_state: "full speed",
            quantity: "gauge_pressure", unit: "bar", healthy: between("-0.3 bar", "0.1 bar"), scale: ("-1 bar", "2 bar"),
            gauge_error: "0.02 bar", physics: (shows: "inlet_pressure")),
        "torque": (name: "torque", question: "How tight?", instrument: "wrench", running_state: "still",
            quantity: "torque", unit: "N m", healthy: between("10 N m", "20 N m"), scale: ("0 N m", "90 N m"),
            gauge_error: "1 N m"),
    },
    lessons: {"one": (name: "Weak", family: "oil_backed", told: "weak", complaint: ["found_strainer_clogged"],
        faults: {"strainer_cloged": 0.5}, alike: "inlet", teaches: "Look.", source: "common practice, no source")},
)"#;

fn small() -> Rc<Knowledge> {
    Rc::new(load(vec![SourceText { name: "small.ron".to_owned(), text: SMALL.to_owned() }]).knowledge)
}

fn pump(fault: &str, severity: f64) -> SimulatedPump {
    SimulatedPump::new(&small(), &[(fault.to_owned(), severity)], (5, 0.0)).unwrap()
}

/// A clogged strainer pulls the inlet gauge down, and a look finds it; who never errs says so every time.
#[test]
fn the_pump_answers_by_the_ids_of_the_knowledge() {
    let mut sick = pump("strainer_clogged", 0.9);
    let usual = sick.usual("vacuum").unwrap();
    let now = sick.read("vacuum").unwrap();
    assert!(now < usual - 5e3, "{now} Pa against {usual} Pa");
    assert!((sick.read("vacuum").unwrap() - now).abs() < 1e-12, "the same when asked again");
    assert_eq!(sick.look("found_strainer_clogged"), Answer::Yes);
    assert_eq!(pump("normal_behaviour", 0.5).look("found_strainer_clogged"), Answer::No);
    assert_eq!((sick.read("torque"), sick.needle("torque").len()), (None, 0), "the physics does not know it");
    let needle = sick.needle("vacuum");
    assert!(100 < needle.len() && needle.iter().all(|(time, value)| *time <= 2.0 && value.is_finite()));
}

#[test]
fn the_same_seed_is_the_same_pump() {
    let seeds: Vec<_> = (0..50).map(|seed| made(seed).unwrap()).collect();
    assert_eq!(seeds, (0..50).map(|seed| made(seed).unwrap()).collect::<Vec<_>>());
    assert!(seeds.iter().any(|pump| pump.chambers == 5) && seeds.iter().any(|pump| pump.chambers == 3));
    assert!(seeds.iter().all(|pump| (-2.0..=1.0).contains(&pump[Part::Level]) && 0.0 <= pump[Part::DamperVolume]));
}

/// A sound pump is sized for its duty: the settled outlet pressure is that of its design within 8 %, no liquid goes through the
/// relief, and the motor is not overloaded.
#[test]
fn a_made_pump_does_what_it_is_made_for() {
    for seed in 0..8 {
        let pump = made(seed).unwrap();
        let settled = settle(&Works::of(&pump, &pump), State::default(), Detail::Settled).unwrap();
        let pressure = settled.of(Output::OutletPressure) / pump.design.pressure;
        assert!((pressure - 1.0).abs() < 0.08, "seed {seed}: {pressure} of the design pressure");
        assert!(settled.bypass < 0.002 * settled.swept, "seed {seed}: {} through the relief", settled.bypass);
        let load = settled.of(Output::MotorCurrent) / pump[Part::CurrentRated];
        assert!((0.5..0.95).contains(&load), "seed {seed}: {load} of the plate current");
    }
}

#[test]
fn a_fault_that_is_not_there_is_named_with_its_place() {
    let error = SimulatedPump::new(&small(), &[("strainer_cloged".to_owned(), 0.5)], (1, 1.0)).err().unwrap();
    assert!(matches!(&error, RigError::NoSuchFault(..)) && error.to_string().contains("`strainer_clogged`"), "{error}");
    let problems = lesson_problems(&small());
    assert_eq!(problems.len(), 1);
    let line = SMALL.lines().position(|line| line.contains("strainer_cloged")).unwrap() + 1;
    assert_eq!((problems[0].line, problems[0].rule), (line, "unknown_fault"));
    assert!(problems[0].hint.contains("strainer_clogged"));
}

/// Every number that is taken by hand is one on every pump, and a belt that is slack gives more than a sound one.
#[test]
fn numbers_taken_by_hand_go_with_what_is_found() {
    let deflection = |fault: &str| {
        let mut seen = [0.0; 20];
        for (seed, seen) in (0..).zip(&mut seen) {
            let faults = [(fault.to_owned(), 0.9)];
            *seen = SimulatedPump::new(&small(), &faults, (seed, 1.0)).unwrap().read("belt_deflection").unwrap();
        }
        seen.iter().sum::<f64>() / 20.0
    };
    assert!(1.5 * deflection("normal_behaviour") < deflection("belt_not_retensioned"));
    for id in taken_by_hand() {
        let mut sick = pump("inlet_joint_draws_air", 0.7);
        let value = sick.read(id);
        assert!(value.is_none_or(f64::is_finite) && (value.is_some() || id == "damper_charge"), "{id}: {value:?}");
    }
}

/// A line of 38 mm and 3 m holds 3.4 L; at 0.5 L/s and a third of that for air it is filled twice in 39 s. Who left air
/// in the cells waits minutes.
#[test]
fn priming_takes_seconds_when_sound_and_minutes_with_air_left_in() {
    let sound = pump("normal_behaviour", 0.5).read("prime_time").unwrap();
    assert!((3.0..60.0).contains(&sound), "{sound} s");
    assert!(100.0 < pump("cells_not_primed", 0.9).read("prime_time").unwrap());
}
