//! Figures against published values, and small numbers against a hand's reckoning; tests only.

#![allow(clippy::unwrap_used)]

use super::reply::Replier;
use super::work::Work;
use super::{Effort, Figure, Ground, JobMarks, Kept, KeptError, Settings, calibration_error, disagreements, noisy};
use crate::knowledge::{Graph, Knowledge, SourceText, load};
use crate::rig::sound;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Two causes that one finding joins, one more with the remedy of the first, and the direct looks at them.
const SMALL: &str = r#"(
    version: 1,
    families: {"oil_backed": (name: "pump", recognise: "oil behind the diaphragm")},
    sources: {"practice": (title: "common practice, no source", kind: common_practice)},
    openings: {"isolate": (name: "isolate", minutes: 12.0), "lid": (name: "lid off", minutes: 6.0, needs: ["isolate"])},
    remedies: {
        "clean": (name: "clean it", kind: remedy, minutes: 20.0, opening: "lid", steps: ["Clean."], proof: ["It is clean."]),
        "open_it": (name: "open it", kind: remedy, minutes: 2.0, steps: ["Open."], proof: ["It is open."]),
    },
    causes: {
        "strainer_clogged": (name: "strainer clogged", place: "inlet", shares: {"oil_backed": 500}, basis: guess,
            remedy: "clean", leads_to: {"starved": (strength: usually, basis: guess)}),
        "strainer_too_fine": (name: "strainer too fine", place: "inlet", shares: {"oil_backed": 200}, basis: guess,
            remedy: "clean", leads_to: {"starved": (strength: half, basis: guess)}),
        "inlet_isolating_valve_part_shut": (name: "valve part shut", place: "inlet", shares: {"oil_backed": 400},
            basis: guess, remedy: "open_it", leads_to: {"starved": (strength: usually, basis: guess)}),
        "unknown": (name: "something not in this graph", place: "other", shares: {"oil_backed": 50}, basis: guess,
            stands_for_unknown: true, leads_to: {"starved": (strength: half, basis: guess)}),
    },
    conditions: {"starved": (name: "starved", leak: 0.01)},
    findings: {
        "low_flow": (name: "low flow", question: "Is it?", aliases: ["weak"], leak: 0.02,
            shown_by: {"starved": (strength: often, basis: guess)}),
        "pressure_low": (name: "low pressure", question: "Is it?", aliases: ["weak gauge"], leak: 0.02,
            shown_by: {"starved": (strength: often, basis: guess)}),
        "crackle_noise": (name: "crackles", question: "Does it?", aliases: ["gravel"], leak: 0.02,
            shown_by: {"starved": (strength: often, basis: guess)}),
        "strainer_dirty_seen": (name: "dirty", question: "Is it?", leak: 0.02,
            shown_by: {"strainer_clogged": (strength: usually, basis: guess)}),
        "bubbles_at_inlet": (name: "bubbles", question: "Any?", leak: 0.02,
            shown_by: {"strainer_clogged": (strength: nearly_always, basis: guess)}),
        "found_strainer_clogged": (name: "clogged", question: "Is it?", verdict_on: "strainer_clogged"),
        "found_strainer_too_fine": (name: "too fine", question: "Is it?", verdict_on: "strainer_too_fine"),
        "found_inlet_isolating_valve_part_shut":
            (name: "shut", question: "Is it?", verdict_on: "inlet_isolating_valve_part_shut"),
    },
    readings: {
        "vacuum": (name: "inlet gauge", question: "What does it show?", instrument: "gauge", running_state: "full speed",
            quantity: "gauge_pressure", unit: "bar", healthy: between("-0.3 bar", "0.1 bar"), scale: ("-1 bar", "2 bar"),
            gauge_error: "0.02 bar", moved_by: {"starved": (way: down, strength: often, basis: guess)}),
    },
    checks: {
        "look_at_valve": (name: "look at the valve", minutes: 2.0, state: any,
            yields: ["found_inlet_isolating_valve_part_shut"], steps: ["Look."]),
        "open_strainer": (name: "open the strainer", minutes: 5.0, state: opened, opening: "lid",
            yields: ["found_strainer_clogged", "found_strainer_too_fine", "strainer_dirty_seen"], steps: ["Open."]),
        "read_vacuum": (name: "read the gauge", minutes: 3.0, state: running, yields: ["vacuum"], steps: ["Read."]),
    },
)"#;

fn small() -> Rc<Knowledge> {
    let loaded = load(vec![SourceText { name: "small.ron".to_owned(), text: SMALL.to_owned() }]);
    let all = &loaded.knowledge.all;
    assert_eq!((all.causes.len(), all.findings.len(), all.checks.len()), (4, 8, 3), "{:#?}", loaded.problems);
    Rc::new(loaded.knowledge)
}

fn settings() -> Settings {
    Settings {
        family: "oil_backed".to_owned(),
        seed: 1,
        faults: 1,
        wrong: 0.0,
        cannot_tell: 0.0,
        mismatch: 0.0,
        outside: false,
        evenly: false,
    }
}

fn assert_near(figure: Figure, value: f64, (low, high): (f64, f64), within: f64) {
    let told = (figure.value.unwrap(), figure.low.unwrap(), figure.high.unwrap());
    let near = |a: f64, b: f64| (a - b).abs() <= within;
    assert!(near(told.0, value) && near(told.1, low) && near(told.2, high), "{told:?}");
}

/// Newcombe, Statistics in Medicine 17 (1998) 857, table I, method 3: 81 of 263, 15 of 148, 0 of 20, 1 of 29.
#[test]
fn wilson_intervals_are_the_published_ones() {
    assert_near(Figure::share(81, 263), 81.0 / 263.0, (0.2553, 0.3662), 5e-5);
    assert_near(Figure::share(15, 148), 15.0 / 148.0, (0.0624, 0.1605), 5e-5);
    assert_near(Figure::share(0, 20), 0.0, (0.0, 0.1611), 5e-5);
    assert_near(Figure::share(1, 29), 1.0 / 29.0, (0.0061, 0.1718), 5e-5);
    assert_eq!(Figure::share(0, 0), Figure::default());
}

/// By hand: 2, 4, 9 have mean 5 and standard deviation √13, so 5 ± 1.96 · √(13/3).
#[test]
fn means_medians_and_ratios_are_those_of_a_hand() {
    let half = 1.959_964 * (13.0_f64 / 3.0).sqrt();
    assert_near(Figure::mean(&[2.0, 4.0, 9.0]), 5.0, (5.0 - half, 5.0 + half), 1e-5);
    assert_eq!(Figure::median(&[9.0, 2.0, 4.0]).value, Some(4.0));
    assert_eq!(Figure::median(&[9.0, 2.0, 4.0, 5.0]).value, Some(4.5));
    assert_eq!(Figure::ratio(&[(1.0, 2.0), (3.0, 2.0)]).value, Some(1.0));
    assert_eq!(Figure::ratio(&[]), Figure::default());
    assert_eq!(Figure::mean(&[]).n, 0);
}

/// Drawing a mean anew gives about its normal interval, the same each time: 0 to 99 a hundred times, ± 1.96 · 28.9/10.
#[test]
fn drawing_anew_agrees_with_the_normal_interval() {
    let values: Vec<(f64, f64)> = (0..100).map(|value| (f64::from(value), 1.0)).collect();
    let (drawn, normal) = (Figure::ratio(&values), Figure::mean(&values.iter().map(|pair| pair.0).collect::<Vec<_>>()));
    assert_near(drawn, normal.value.unwrap(), (normal.low.unwrap(), normal.high.unwrap()), 0.7);
    assert_eq!(drawn, Figure::ratio(&values));
}

/// By hand: bin 0.9 to 1 holds 0.95 (so) and 0.91 (not so): |1.86 − 1|; bin 0.1 to 0.2 holds 0.1 (not so): 0.1; 0.96 over 3.
#[test]
fn calibration_is_that_of_a_hand() {
    let beliefs = [(0.95, true), (0.91, false), (0.1, false)];
    assert!((calibration_error(beliefs.iter()).unwrap() - 0.96 / 3.0).abs() < 1e-12);
    let right = [(1.0, true), (1.0, true)];
    assert!(calibration_error(right.iter()).unwrap().abs() < 1e-12);
    assert_eq!(calibration_error([].iter()), None);
}

#[test]
fn no_mismatch_leaves_the_graph_as_it_is() {
    let knowledge = small();
    let graph = |knowledge: &Knowledge| format!("{:?}", Graph::new(knowledge, "oil_backed", None));
    assert_eq!(noisy(&knowledge, 0.0, 3).all, knowledge.all);
    assert_eq!(graph(&noisy(&knowledge, 0.0, 3)), graph(&knowledge));
    assert_ne!(graph(&noisy(&knowledge, 0.5, 3)), graph(&knowledge));
}

/// The noise of the log-odds has the standard deviation asked for: within four standard errors over 400 seeds.
#[test]
fn noise_is_as_wide_as_asked() {
    let knowledge = small();
    let odds = |share: f64| (share / (1.0 - share)).ln();
    let moved: Vec<f64> = (0..400)
        .map(|seed| {
            let link = noisy(&knowledge, 0.5, seed).all.findings["low_flow"].shown_by["starved"].strength.number();
            (odds(link) - odds(0.75)) / 0.5
        })
        .collect();
    let square = moved.iter().map(|one| one * one).sum::<f64>() / 400.0;
    assert!((square - 1.0).abs() < 4.0 * (2.0_f64 / 400.0).sqrt(), "{square}");
    let mean = moved.iter().sum::<f64>() / 400.0;
    assert!(mean.abs() < 4.0 / 20.0, "{mean}");
}

/// By hand: strainer opened (12 isolating, 6 lid, 5), one more look there 2, gauge 3, and the lid again after the pump ran;
/// then a wasted repair: 20 minutes, the lid already off.
#[test]
fn minutes_are_those_of_a_hand() {
    let knowledge = small();
    let sound = sound(1).unwrap();
    let faults = [("inlet_isolating_valve_part_shut".to_owned(), 0.8)];
    let replier = Replier::new((&knowledge, &sound), &faults, (1, 0.0, 0.0)).unwrap();
    let mut work = Work::new(&knowledge, replier, &faults);
    for (check, minutes) in [("open_strainer", 23.0), ("open_strainer", 25.0), ("read_vacuum", 28.0)] {
        work.tally.check(&knowledge, check);
        assert!((work.tally.effort.minutes - minutes).abs() < 1e-9, "{check}: {:?}", work.tally.effort);
    }
    work.tally.check(&knowledge, "open_strainer");
    assert!((work.tally.effort.minutes - 48.0).abs() < 1e-9 && work.tally.effort.openings == 2);
    assert!(!work.put_right("strainer_clogged").unwrap());
    assert!((work.tally.effort.minutes - 68.0).abs() < 1e-9 && !work.is_solved());
    assert!((work.effort().minutes - 308.0).abs() < 1e-9, "given up now: help is called");
    assert!(work.put_right("inlet_isolating_valve_part_shut").unwrap() && work.is_solved());
    assert_eq!(work.effort(), Effort { minutes: 68.0, answers: 4, repairs: 2, openings: 2, wrong: 0, solved: true });
}

/// What is confirmed and not there counts once; a cause with the remedy of the fault counts as the fault.
#[test]
fn confirmations_are_judged_by_what_would_be_done() {
    let knowledge = small();
    let sound = sound(1).unwrap();
    let faults = [("strainer_clogged".to_owned(), 0.8)];
    let replier = Replier::new((&knowledge, &sound), &faults, (1, 0.0, 0.0)).unwrap();
    let mut work = Work::new(&knowledge, replier, &faults);
    work.confirm("inlet_isolating_valve_part_shut");
    work.confirm("inlet_isolating_valve_part_shut");
    assert!(work.tally.effort.wrong == 1 && !work.is_solved());
    work.confirm("strainer_too_fine");
    assert!(work.tally.effort.wrong == 1 && work.is_solved());
}

/// Where nobody errs, the fault of a small graph is found, with the planner and in the fixed order.
#[test]
fn a_small_job_is_solved_both_ways() {
    let knowledge = small();
    for number in [0, 1] {
        let ground = Ground::new(&knowledge, &settings(), number).unwrap();
        let marks = ground.play(number).unwrap();
        assert_eq!(marks, ground.play(number).unwrap(), "the same job again");
        assert_eq!(marks.stands.iter().map(|stand| stand.answers).collect::<Vec<_>>(), [0, 5, 10, 15]);
        assert!(marks.planned.solved && marks.fixed.unwrap().solved, "{marks:#?}");
        assert_eq!((marks.planned.wrong, marks.stands[3].best()), (0, 1), "{marks:#?}");
    }
}

/// Nobody can tell anything: nothing but repairs is left.
#[test]
fn who_cannot_tell_anything_repairs_on_the_chance() {
    let knowledge = small();
    let mute = Settings { cannot_tell: 1.0, ..settings() };
    let marks = Ground::new(&knowledge, &mute, 0).unwrap().play(0).unwrap();
    assert!(0 < marks.planned.repairs && marks.planned.solved, "{marks:#?}");
}

#[test]
fn two_faults_are_both_found() {
    let knowledge = small();
    let two = Settings { faults: 2, ..settings() };
    let marks = Ground::new(&knowledge, &two, 0).unwrap().play(0).unwrap();
    assert_eq!((marks.truth.len(), marks.stands[0].ranks.len()), (2, 2));
    assert!(marks.planned.solved, "{marks:#?}");
    let three = Settings { faults: 3, ..settings() };
    let error = Ground::new(&knowledge, &three, 0).unwrap().play(0).unwrap_err();
    assert!(error.to_string().contains("too few faults"), "{error}");
}

/// The simulation shows no bubbles with a clogged strainer: the small graph that says so is told.
#[test]
fn a_link_that_the_simulation_does_not_have_is_named() {
    let knowledge = small();
    let found = disagreements(&knowledge, &Graph::new(&knowledge, "oil_backed", None));
    let bubbles = found.iter().find(|one| one.finding == "bubbles_at_inlet").unwrap();
    assert_eq!((bubbles.fault.as_str(), bubbles.steps), ("strainer_clogged", 6));
    assert!(
        !found.iter().any(|one| one.finding == "strainer_dirty_seen" && one.fault == "strainer_clogged"),
        "{found:#?}"
    );
}

#[test]
fn kept_jobs_come_back_and_others_are_refused() {
    let knowledge = small();
    let kept = Kept::of(&knowledge, &settings());
    let job = Ground::new(&knowledge, &settings(), 0).unwrap().play(0).unwrap();
    let jobs: BTreeMap<usize, JobMarks> = [(0, job)].into();
    let text = kept.write(&jobs);
    assert_eq!(kept.read(&text).unwrap(), jobs);
    assert!(kept.read("").unwrap().is_empty());
    let other = Kept::of(&knowledge, &Settings { seed: 2, ..settings() });
    assert!(matches!(other.read(&text), Err(KeptError::Settings(_))));
    let mut others = (*knowledge).clone();
    others.hash = "other".to_owned();
    assert!(matches!(Kept::of(&others, &settings()).read(&text), Err(KeptError::Knowledge(_))));
    assert_eq!(kept.read("{}\n"), Err(KeptError::NotKept));
    assert_eq!(kept.read(&(text + "{torn")), Err(KeptError::Line(3)));
}
