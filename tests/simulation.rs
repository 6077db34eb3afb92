//! Checks the pump that is not there against the shipped knowledge (ids only), the fault signatures, and what instruments
//! and people make of it.

#![allow(clippy::unwrap_used)]

mod common;

use std::collections::BTreeSet;
use weephole::knowledge::Knowledge;
use weephole::physics::steady::{Design, Liquid, Output, Part, Pump, State};
use weephole::simulation::faults::{self, Onset, Present};
use weephole::simulation::instruments::{Gauge, Instruments};
use weephole::simulation::person::{self, Answer, Person, Scene, complaints, table};
use weephole::simulation::{Detail, Settled, Works, settle};

/// The reference pump: assumed, of usual size. 3 chambers, 30 L/min at 70 bar, 500 rpm, damper of 0.4 L.
fn reference() -> Pump {
    let design = Design { flow: 0.5e-3, pressure: 7e6, speed: 500.0 / 60.0 };
    Pump::usual(3, design, Liquid::water(293.15).unwrap()).with(Part::DamperVolume, 0.4e-3)
}

fn fault(id: &str, severity: f64) -> Present {
    faults::named(id).unwrap().at(severity)
}

fn shown(pump: &Pump, present: &[Present], words: &str) -> Settled {
    settle(&faults::put(pump, present), State::parse(words).unwrap(), Detail::Settled).unwrap()
}

fn is_known(knowledge: &Knowledge, id: &str) -> bool {
    knowledge.all.causes.contains_key(id)
}

/// Faults and findings are joined to the knowledge by ids: those that it has must be there, those on no list must not.
#[test]
fn ids_are_those_of_the_knowledge() {
    let knowledge = common::shipped().knowledge;
    let mut ids = BTreeSet::new();
    for fault in faults::all() {
        assert!(ids.insert(fault.id), "{} twice", fault.id);
        assert_eq!(is_known(&knowledge, fault.id), !fault.outside, "{}", fault.id);
        if !fault.outside {
            let verdict = &knowledge.all.findings[format!("found_{}", fault.id).as_str()];
            assert_eq!(verdict.verdict_on.as_deref(), Some(fault.id));
        }
    }
    assert!(45 <= faults::all().filter(|fault| !fault.outside).count());
    assert!(6 <= faults::all().filter(|fault| fault.outside).count());
    for id in person::from_numbers() {
        assert!(knowledge.all.findings.contains_key(id), "{id}");
    }
}

/// Every fault has a row of its own with at least eight findings, all of them known, and shares that are chances.
#[test]
fn every_fault_shows_something_of_its_own() {
    let knowledge = common::shipped().knowledge;
    let mut rows = BTreeSet::new();
    for row in table::rows() {
        assert!(rows.insert(row.fault), "{} twice", row.fault);
        assert!(faults::named(row.fault).is_some(), "{}", row.fault);
        assert!(8 <= row.shows.len(), "{}: {} findings", row.fault, row.shows.len());
        let mut seen = BTreeSet::new();
        for &(finding, slight, grave) in row.shows {
            assert!(seen.insert(finding), "{}: {finding} twice", row.fault);
            assert!(knowledge.all.findings.contains_key(finding), "{}: {finding}", row.fault);
            assert!((0.0..1.0).contains(&slight) && (0.0..1.0).contains(&grave), "{}: {finding}", row.fault);
        }
    }
    assert!(faults::all().all(|fault| rows.contains(fault.id)));
}

/// What is found harmed is a direct look at a part, of a fault with a row, once each, and a chance.
#[test]
fn harm_is_a_look_at_a_part() {
    let knowledge = common::shipped().knowledge;
    let mut seen = BTreeSet::new();
    for (fault, harmed) in table::harm() {
        assert!(table::rows().any(|row| row.fault == fault), "{fault}");
        for &(finding, slight, grave) in harmed {
            assert!(seen.insert((fault, finding)), "{fault}: {finding} twice");
            let part = knowledge.all.findings[finding].verdict_on.as_deref().unwrap();
            assert!(knowledge.all.damage.contains_key(part), "{fault}: {finding}");
            assert!(0.0 < slight && slight <= grave && grave < 1.0, "{fault}: {finding}");
        }
    }
}

/// A fault changes the pump, or says what it leaves alone.
#[test]
fn a_fault_does_something_or_says_what_not() {
    let sound = Works::of(&reference(), &reference());
    for one in faults::all() {
        let same = faults::put(&reference(), &[one.at(0.7)]) == sound;
        assert!(!same || !one.untouched.is_empty(), "{} does nothing", one.id);
        assert_eq!(faults::put(&reference(), &[one.at(0.7).after(-1.0)]), sound, "{} before it began", one.id);
    }
    let slow = faults::all().find(|one| one.onset == Onset::Slow).unwrap();
    let grown: Vec<f64> = [0.0, 50.0, 100.0, 500.0].map(|hours| slow.at(0.8).after(hours).now().unwrap()).to_vec();
    assert_eq!(grown, [0.0, 0.4, 0.8, 0.8]);
}

/// What a column says: up, down, unchanged, or nothing (~).
#[derive(Clone, Copy, PartialEq, Debug)]
enum Way {
    Up,
    Down,
    Same,
    Any,
}
use Way::{Any, Down, Same, Up};

/// Fault, severity, then flow, pressure, vacuum, once a turn, speed.
type Row = (&'static str, f64, [Way; 5]);

/// Signatures that follow from displacement, orifice, suction line and drive (derived). Vacuum and speed follow the load a
/// little: only more than 2 kPa and 3 % count.
const SIGNATURES: [Row; 19] = [
    ("strainer_clogged", 0.5, [Same, Same, Up, Same, Same]),
    ("strainer_clogged", 1.0, [Down, Down, Up, Same, Same]),
    ("pump_set_too_high", 0.7, [Same, Same, Up, Same, Same]),
    ("inlet_joint_draws_air", 0.7, [Down, Down, Same, Same, Same]),
    ("debris_under_inlet_valve", 0.8, [Down, Down, Same, Up, Same]),
    ("debris_under_outlet_valve", 0.8, [Down, Down, Same, Up, Same]),
    ("valves_run_past_life", 0.5, [Down, Down, Same, Same, Same]),
    ("diaphragm_life_over", 0.8, [Down, Down, Same, Up, Same]),
    ("cells_not_primed", 0.6, [Down, Down, Same, Up, Same]),
    ("belt_not_retensioned", 0.7, [Down, Down, Same, Same, Down]),
    ("speed_set_low", 0.5, [Down, Down, Same, Same, Down]),
    ("sheave_ratio_fast", 0.6, [Up, Up, Same, Same, Up]),
    ("nozzle_worn", 0.5, [Same, Down, Same, Same, Same]),
    ("nozzle_plugged", 0.7, [Down, Up, Same, Same, Same]),
    ("relief_dirt_on_seat", 0.4, [Down, Down, Same, Same, Same]),
    ("outlet_valve_shut", 0.4, [Down, Up, Same, Same, Same]),
    ("damper_gas_lost", 1.0, [Same, Same, Same, Same, Same]),
    ("bearing_hours_over", 1.0, [Same, Same, Same, Same, Same]),
    ("outlet_gauge_faulty", 1.0, [Same, Same, Same, Same, Same]),
];

#[test]
fn every_fault_moves_what_it_should() {
    let healthy = shown(&reference(), &[], "");
    let way = |change: f64, enough: f64| match change {
        change if enough < change => Up,
        change if change < -enough => Down,
        _ => Same,
    };
    for (id, severity, wanted) in SIGNATURES {
        let now = shown(&reference(), &[fault(id, severity)], "");
        let ratio = |output: Output| now.of(output) / healthy.of(output) - 1.0;
        let deeper = healthy.of(Output::InletPressure) - now.of(Output::InletPressure);
        let found = [
            way(ratio(Output::DeliveredFlow), 0.025),
            way(ratio(Output::OutletPressure), 0.025),
            way(deeper, 2e3),
            way(now.of(Output::OncePerTurn) - healthy.of(Output::OncePerTurn), 0.003),
            way(ratio(Output::PumpSpeed), 0.03),
        ];
        let right = found.iter().zip(wanted).all(|(found, wanted)| wanted == Any || *found == wanted);
        assert!(right, "{id} at {severity}: {found:?}, not {wanted:?}");
    }
    let shaken = shown(&reference(), &[fault("damper_gas_lost", 1.0)], "");
    assert!(10.0 * healthy.of(Output::RippleAtN) < shaken.of(Output::RippleAtN), "a lost damper shows at N");
    let warm = shown(&reference(), &[fault("bearing_hours_over", 1.0)], "");
    assert!(healthy.of(Output::OilTemperature) + 5.0 < warm.of(Output::OilTemperature), "a worn bearing shows as heat");
}

/// The test that parts them: fed from a vessel above the pump, air and starving vanish, valves and drive stay (derived).
#[test]
fn flooding_takes_inlet_faults_away() {
    let healthy = shown(&reference(), &[], "flooded");
    for (id, vanishes) in [
        ("inlet_joint_draws_air", true),
        ("strainer_clogged", true),
        ("inlet_hose_collapses", true),
        ("feed_supply_short", true),
        ("debris_under_inlet_valve", false),
        ("valves_run_past_life", false),
        ("belt_wet_or_oily", false),
    ] {
        let now = shown(&reference(), &[fault(id, 1.0)], "flooded");
        let flow = now.of(Output::DeliveredFlow) / healthy.of(Output::DeliveredFlow);
        assert_eq!(0.97 < flow, vanishes, "{id}: {flow}");
    }
}

/// Leaks lose as much at half speed as at full speed; a slipping belt does not (derived from the orifice law).
#[test]
fn two_speeds_part_leak_from_slip() {
    let lost = |id: &str, words: &str| {
        let flow = |present: &[Present]| {
            let now = shown(&reference(), present, words);
            now.of(Output::DeliveredFlow) + now.bypass
        };
        flow(&[]) - flow(&[fault(id, 0.6)])
    };
    let ratio = |id: &str| lost(id, "half, held") / lost(id, "held");
    let worn = ratio("valves_run_past_life");
    assert!((0.8..1.25).contains(&worn), "{worn}");
    let slips = ratio("belt_not_retensioned");
    assert!((0.35..0.65).contains(&slips), "{slips}");
}

/// A chamber that opens its oil relief too early keeps its flow with the outlet open and loses it at pressure.
#[test]
fn a_low_inner_relief_loses_only_at_pressure() {
    let inner = [fault("inner_relief_low", 0.6)];
    let share = |words: &str| {
        let flow = |present: &[Present]| shown(&reference(), present, words).of(Output::DeliveredFlow);
        flow(&inner) / flow(&[])
    };
    assert!(share("") < 0.9 && 0.97 < share("open"), "{} {}", share(""), share("open"));
}

/// Class, range, lag, snubber, stuck (ASME B40.100 grade B: 3 % of span outside the middle half, 2 % within).
#[test]
fn a_gauge_has_a_class_a_range_and_a_lag() {
    let gauge = Gauge::usual(0.0, 12e6);
    let off: Vec<f64> = (0..400).map(|seed| gauge.dial(6e6, seed) - 6e6).collect();
    let within = off.iter().filter(|off| off.abs() <= 0.02 * 12e6).count();
    assert!((370..=394).contains(&within), "{within} of 400 within the class: two standard deviations hold 95 %");
    assert_eq!(gauge.dial(6e6, 5).to_bits(), gauge.dial(6e6, 5).to_bits());
    assert!((gauge.dial(40e6, 3) - 12e6).abs() < 1e-6, "the needle stands at the stop");
    let exact = Gauge { class: (0.0, 0.0), ..gauge };
    let step = 1e-3;
    let jump = || std::iter::once(0.0).chain(std::iter::repeat_n(6e6, 51));
    let needle = exact.needle(jump(), step, 1);
    let share = needle.last().unwrap() / 6e6;
    assert!((share - (1.0 - (-1.02_f64).exp())).abs() < 0.01, "one time constant after a jump: {share}");
    let snubbed = Gauge { snubber: 1.0, ..exact }.needle(jump(), step, 1);
    assert!(snubbed.last().unwrap() / 6e6 < 0.06);
    let stuck = Gauge { stuck: Some(4e6), ..exact };
    assert!((stuck.dial(7e6, 2) - 4e6).abs() < 1e-9);
}

/// Readings scatter as the instruments say, and a faulty gauge lies while the pump is well.
#[test]
fn instruments_show_the_pump_with_their_errors() {
    let healthy = shown(&reference(), &[], "");
    let works = Works::of(&reference(), &reference());
    let mut off = Vec::new();
    for seed in 0..200 {
        let set = Instruments::at(&works, seed);
        let flow = set.read(Output::DeliveredFlow, &healthy, 0).unwrap();
        off.push(flow / healthy.of(Output::DeliveredFlow) - 1.0);
        let speed = set.read(Output::PumpSpeed, &healthy, 0).unwrap();
        assert!((speed - healthy.of(Output::PumpSpeed)).abs() < 0.1, "{speed}");
        assert_eq!(set.read(Output::VapourMargin, &healthy, 0), None);
    }
    // 20 L ± 0.2 L in 40 s ± 0.5 s: √(1 %² + 1.25 %²) = 1.6 %.
    let sd = (off.iter().map(|off| off * off).sum::<f64>() / 200.0).sqrt();
    assert!((0.013..0.020).contains(&sd), "{sd}");
    let faulty = faults::put(&reference(), &[fault("outlet_gauge_faulty", 0.8)]);
    let set = Instruments::at(&faulty, 4);
    let read = set.read(Output::OutletPressure, &healthy, 0).unwrap();
    assert!(read < 0.8 * healthy.of(Output::OutletPressure), "{read}");
    assert_eq!(set.read(Output::OutletPressure, &healthy, 7), set.read(Output::OutletPressure, &healthy, 7));
}

fn share(finding: &str, present: &[Present]) -> f64 {
    person::share(finding, &mut Scene::new(&reference(), present)).unwrap()
}

/// A sound pump alarms hardly anyone.
#[test]
fn a_sound_pump_shows_nothing() {
    let mut scene = Scene::new(&reference(), &[]);
    for finding in person::from_numbers() {
        let share = person::share(finding, &mut scene).unwrap();
        let fine = ["all_readings_as_baseline", "swing_within_log"].contains(&finding);
        if fine {
            assert!(0.9 < share, "{finding}: {share}");
        } else {
            assert!(share < 0.06, "{finding}: {share}");
        }
    }
}

/// What follows from the numbers, for faults whose signature is not in doubt (derived).
#[test]
fn people_notice_what_the_numbers_tell() {
    for (id, severity, finding, shows) in [
        ("strainer_clogged", 0.8, "vacuum_deeper_than_usual", true),
        ("strainer_clogged", 0.8, "vacuum_jumps_over_strainer", true),
        ("strainer_clogged", 1.0, "crackle_noise", true),
        ("strainer_clogged", 1.0, "flooding_helps", true),
        ("debris_under_outlet_valve", 1.0, "pulse_each_turn", true),
        ("debris_under_outlet_valve", 1.0, "flow_short_by_one_chamber", true),
        ("debris_under_outlet_valve", 1.0, "cover_feels_dead", true),
        ("debris_under_outlet_valve", 1.0, "flooding_helps", false),
        ("valves_run_past_life", 0.6, "loss_same_at_half_speed", true),
        ("valves_run_past_life", 0.6, "known_orifice_low", true),
        ("nozzle_worn", 0.6, "pressure_low", true),
        ("nozzle_worn", 0.6, "low_flow", false),
        ("nozzle_worn", 0.6, "known_orifice_low", false),
        ("relief_set_high", 0.8, "pressure_jumps_on_shutoff", true),
        ("inner_relief_low", 0.8, "falls_with_pressure", true),
        ("belt_not_retensioned", 0.7, "shaft_turns_slow", true),
        ("sheave_ratio_fast", 0.8, "current_over_plate", true),
        ("bypass_left_open", 0.5, "bypass_line_flows", true),
        ("bypass_left_open", 0.9, "current_near_idle", true),
        ("outlet_filter_clogged", 0.6, "far_outlet_weaker", true),
        ("outlet_gauge_faulty", 0.8, "pressure_low", true),
        ("outlet_gauge_faulty", 0.8, "second_gauge_differs", true),
        ("flow_measure_wrong", 0.8, "low_flow", true),
        ("damper_gas_lost", 1.0, "needle_shakes_fast", true),
        ("end_play_too_small", 0.8, "oil_hot_to_touch", true),
        ("oil_wrong_type", 0.8, "all_readings_as_baseline", false),
    ] {
        let found = share(finding, &[fault(id, severity)]);
        assert_eq!(0.5 < found, shows, "{id} {severity} {finding}: {found}");
    }
}

/// Errors come as often as they are said to, and the same seed gives the same person.
#[test]
fn people_err_as_often_as_said() {
    let mut scene = Scene::new(&reference(), &[fault("strainer_clogged", 1.0)]);
    let chance = person::share("strainer_dirty_seen", &mut scene).unwrap();
    let kind = person::kind("strainer_dirty_seen");
    let mut count = [0_u32; 3];
    for seed in 0..2000 {
        let person = Person { seed, errs: 1.0 };
        let answer = person.answer("strainer_dirty_seen", &mut scene).unwrap();
        assert_eq!(answer, person.answer("strainer_dirty_seen", &mut scene).unwrap());
        count[answer as usize] += 1;
    }
    let told = 1.0 - kind.unknown;
    let yes = told * (chance * (1.0 - kind.missed) + (1.0 - chance) * kind.false_yes);
    let found = f64::from(count[Answer::Yes as usize]) / 2000.0;
    assert!((found - yes).abs() < 4.0 * (yes * (1.0 - yes) / 2000.0).sqrt(), "{found}, not {yes}");
    // Who never errs says what shows.
    for seed in 0..50 {
        let sure = Person { seed, errs: 0.0 };
        let shows = sure.shows("strainer_dirty_seen", &mut scene).unwrap();
        let said = sure.answer("strainer_dirty_seen", &mut scene).unwrap();
        assert_eq!(said, if shows { Answer::Yes } else { Answer::No });
    }
}

/// Operators complain of one thing or two that people do complain of, mostly of what shows.
#[test]
fn operators_tell_a_story() {
    let knowledge = common::shipped().knowledge;
    // What a dead chamber, a torn diaphragm, a dripping seal and a damper without effect show.
    let dead = ["low_flow", "pressure_low", "knock_each_turn", "pipes_shake", "outlet_needle_swings"];
    let torn = ["oil_milky", "rupture_alarm_on", "low_flow", "pressure_low"];
    for (id, severity, wanted) in [
        ("debris_under_outlet_valve", 1.0, &dead[..]),
        ("diaphragm_life_over", 0.9, &torn[..]),
        ("shaft_seal_aged", 0.9, &["oil_drips_at_shaft"][..]),
        ("outside_damper_neck_plugged", 0.9, &["pipes_shake", "outlet_needle_swings"][..]),
    ] {
        let mut scene = Scene::new(&reference(), &[fault(id, severity)]);
        let mut right = 0;
        for seed in 0..100 {
            let told = complaints(&mut scene, seed).unwrap();
            assert_eq!(told, complaints(&mut scene, seed).unwrap());
            assert!((1..=2).contains(&told.len()), "{told:?}");
            for finding in &told {
                assert!(!knowledge.all.findings[*finding].aliases.is_empty(), "{finding} is no complaint");
            }
            right += u32::from(told.iter().any(|finding| wanted.contains(finding)));
        }
        assert!(70 <= right, "{id}: {right} of 100");
    }
}
