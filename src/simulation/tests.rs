//! Checks the time-domain pump against published laws, the steady model, and the figures of a study of this model.

#![allow(clippy::unwrap_used)]

use super::pump::turn::{Moment, Turn};
use super::{Detail, Run, Settled, Works, faults, settle, trace, warm_up};
use crate::physics::laws::acceleration::acceleration_head;
use crate::physics::laws::air::gas_binding;
use crate::physics::laws::ripple::{dead_chamber, flow_variation_rods, flow_variation_sinusoidal};
use crate::physics::steady::{Design, Liquid, Output, Part, Pump, State, Steady};
use proptest::prelude::*;

/// The reference pump: assumed, of usual size. 3 chambers, 30 L/min at 70 bar, 500 rpm, damper of 0.4 L.
fn reference() -> Pump {
    let design = Design { flow: 0.5e-3, pressure: 7e6, speed: 500.0 / 60.0 };
    Pump::usual(3, design, Liquid::water(293.15).unwrap()).with(Part::DamperVolume, 0.4e-3)
}

fn at_work(pump: &Pump) -> Settled {
    settle(&Works::of(pump, &reference()), State::default(), Detail::Settled).unwrap()
}

/// L/min, bar, kPa.
fn three(settled: &Settled) -> [f64; 3] {
    [
        settled.of(Output::DeliveredFlow) * 6e4,
        settled.of(Output::OutletPressure) / 1e5,
        settled.of(Output::InletPressure) / 1e3,
    ]
}

fn close(found: f64, wanted: f64, share: f64, what: &str) {
    assert!((found / wanted - 1.0).abs() <= share, "{what}: {found}, not {wanted}");
}

/// Turns at a fixed speed, whatever the load.
fn at_rpm(pump: &Pump, rpm: f64) -> Pump {
    let ratio = pump[Part::SpeedRatio] * (1.0 - pump[Part::BeltSlip]);
    pump.with(Part::MotorSlip, 0.0).with(Part::MotorSynchronous, rpm / 60.0 / ratio)
}

/// A pump whose liquid, oil and valves give way to nothing: what is left is kinematics.
fn ideal(chambers: u32, rods: Option<f64>, rpm: f64) -> Works {
    let mut pump = at_rpm(&reference(), rpm);
    pump.chambers = chambers;
    pump[Part::DamperVolume] = 10e-3;
    let mut works = Works::of(&pump, &pump);
    works.stiffness = (1e12, 1e12);
    works.rods = rods;
    // Neither line nor manifold shakes: only what the chambers ask for is looked at.
    works.inlet.compliance = 1e-6;
    for chamber in &mut works.chambers {
        chamber.oil.loss = 0.0;
        for valve in [&mut chamber.inlet, &mut chamber.outlet] {
            (valve.opening, valve.closing) = (50e-6, 50e-6);
        }
    }
    works
}

const FINE: Detail = Detail::Steps(20e-6);

/// The third turn of a pump.
fn a_turn(works: &Works, watch: impl FnMut(Moment)) -> Turn {
    let mut run = Run::new(works, State::default(), FINE).unwrap();
    run.turn(|_| ()).unwrap();
    run.turn(|_| ()).unwrap();
    run.turn(watch).unwrap()
}

/// Flow over a turn in eighths of a millisecond, so that the instant in which one valve takes over from another does not
/// count.
fn evened(works: &Works) -> (Turn, Vec<f64>) {
    let mut flows = Vec::new();
    let turn = a_turn(works, |moment| flows.push(moment.delivered));
    let wide = 7;
    let evened = (0..flows.len()).map(|at| (0..wide).map(|by| flows[(at + by) % flows.len()]).sum::<f64>() / 7.0);
    (turn, evened.collect())
}

/// Flow variation of ideal pumps of 3 and 5 chambers, per cent of the mean above and below: 4.72/9.31 and 1.66/3.31 as a
/// sine, 6.17/16.95 and 1.86/5.20 with rods of six crank radii (Pump Handbook's table, from memory: 6/17 and 2/5).
#[test]
fn flow_varies_as_the_kinematics_say() {
    for (chambers, rods) in [(3_u32, None), (5, None), (3, Some(6.0)), (5, Some(6.0))] {
        let n = f64::from(chambers);
        let [above, below, _] = match rods {
            None => flow_variation_sinusoidal(n, 1.0).unwrap(),
            Some(ratio) => flow_variation_rods(n, 1.0, ratio).unwrap(),
        };
        let (turn, flows) = evened(&ideal(chambers, rods, 500.0));
        let below = below.abs();
        let most = flows.iter().copied().fold(f64::MIN, f64::max) / turn.flow.mean - 1.0;
        let least = 1.0 - flows.iter().copied().fold(f64::MAX, f64::min) / turn.flow.mean;
        assert!((most - above).abs() < 0.003, "{chambers} {rods:?}: {most} above, not {above}");
        // The valve change-over blunts the cusp: 10.2 % instead of 9.31 in the study.
        assert!(below - 0.004 < least && least < below + 0.012, "{chambers} {rods:?}: {least} below, not {below}");
        let swept = n * 20.8e-6 * 500.0 / 60.0;
        close(turn.flow.mean, swept, 2e-3, "mean displacement");
    }
    // Healthy three chambers ripple at 2N: 2/35 of the mean, and not once a turn.
    let (turn, _) = evened(&ideal(3, None, 500.0));
    assert!((turn.flow_lines[3] / turn.flow.mean - 2.0 / 35.0).abs() < 0.001, "{:?}", turn.flow_lines);
    assert!(turn.flow_lines[0] / turn.flow.mean < 1e-3);
}

/// One dead chamber of N: mean (N - 1)/N, once a turn π/(2N) of the healthy mean, twice 2/(3N); inlet and outlet valve alike.
#[test]
fn a_dead_chamber_beats_once_a_turn() {
    for chambers in [3_u32, 5] {
        let healthy = a_turn(&ideal(chambers, None, 500.0), |_| ()).flow.mean;
        let [mean, once, twice, _] = dead_chamber(f64::from(chambers)).unwrap();
        for inlet in [true, false] {
            let mut works = ideal(chambers, None, 500.0);
            let dead = &mut works.chambers[0];
            if inlet {
                (dead.inlet.held, dead.inlet.area) = (1.0, 1e-3);
            } else {
                (dead.outlet.held, dead.outlet.area) = (1.0, 1e-3);
            }
            let turn = a_turn(&works, |_| ());
            close(turn.flow.mean / healthy, mean, 0.003, "mean");
            close(turn.flow_lines[0] / healthy, once, 0.01, "once a turn");
            close(turn.flow_lines[1] / healthy, twice, 0.01, "twice a turn");
        }
    }
}

/// The steepest fall of what the chambers ask for is the acceleration head: 1.384, 3.845, 7.535 m at 300, 500 and 700 rpm
/// (HI constant of a sinusoidal triplex, π²/180, K 1); a study of this model found 1.393, 3.854, 7.534.
#[test]
fn the_inlet_column_asks_for_the_published_head() {
    let bore: f64 = 0.038;
    let area = std::f64::consts::FRAC_PI_4 * bore * bore;
    for (rpm, wanted) in [(300.0, 1.384), (500.0, 3.845), (700.0, 7.535)] {
        let works = ideal(3, None, rpm);
        let mut drawn = Vec::new();
        let turn = a_turn(&works, |moment| drawn.push((moment.time, moment.drawn)));
        let fall = |pair: &[(f64, f64)]| {
            let (first, last) = (pair[0], pair[pair.len() - 1]);
            (first.1 - last.1) / (last.0 - first.0)
        };
        // Over half a millisecond; where a valve closes late what it still passes does not count.
        let falls: Vec<f64> = drawn.windows(25).map(fall).collect();
        let steepest = falls.iter().copied().fold(f64::MIN, f64::max);
        let head = 3.0 / (9.806_65 * area) * steepest;
        let velocity = turn.flow.mean / area;
        let constant = std::f64::consts::PI.powi(2) / 180.0;
        let law = acceleration_head(3.0, velocity, rpm / 60.0, constant, 1.0).unwrap();
        close(law, wanted, 0.01, "law");
        close(head, wanted, 0.03, "head");
    }
}

/// Relief that opens at 82 bar, all flow at 90.2: outlet nine tenths and shut (a study of this model: 82.2 bar and
/// 0.95 L/min back, 90.23 bar and 30.1 L/min).
#[test]
fn the_relief_opens_and_takes_all() {
    let sound = reference();
    let smaller = at_work(&sound.with(Part::OrificeArea, 0.9 * sound[Part::OrificeArea]));
    close(three(&smaller)[1], 82.2, 0.01, "a little back");
    close(smaller.bypass * 6e4, 0.95, 0.25, "a little back");
    let shut = settle(&Works::of(&sound, &sound), State::parse("shut").unwrap(), Detail::Settled).unwrap();
    close(three(&shut)[1], 90.2, 0.01, "all back");
    close(shut.bypass * 6e4, 30.1, 0.01, "all back");
}

/// No gauge can show more vacuum than the barometer less the vapour pressure, 99.0 kPa at 20 °C; at 10 m of lift hardly
/// anything comes (a study of this model: mean -97.9 kPa, 0.1 L/min). At 4.5 m nothing is missing yet.
#[test]
fn the_vacuum_has_a_ceiling() {
    let ceiling = (2339.0 - 101_325.0) / 1e3;
    let starved = at_work(&reference().with(Part::Level, -10.0));
    let [flow, _, inlet] = three(&starved);
    assert!(ceiling < inlet && ceiling * 1e3 < starved.inlet_least, "{inlet} kPa");
    assert!(inlet < -97.0 && flow < 0.5, "{inlet} kPa, {flow} L/min");
    assert!(0.9 < starved.vapour);
    let lifting = at_work(&reference().with(Part::Level, -4.5));
    close(three(&lifting)[0], 30.27, 0.003, "flow at 4.5 m");
    assert!(lifting.vapour < 0.01);
}

/// A chamber of three times its stroke in clearance compresses gas 1.33 to 1: dry, it primes into an outlet at 1.1 bar
/// absolute and not into one at 2 bar (the law of gas binding).
#[test]
fn a_dry_pump_primes_only_below_its_compression() {
    let limit = gas_binding(3.0).unwrap();
    for (after, primes) in [(1.1e5, true), (2.0e5, false)] {
        assert_eq!(after / 101_325.0 < limit, primes);
        let mut works = ideal(3, None, 500.0);
        // So soft an outlet keeps its pressure.
        works.outlet.hose = 1e-3;
        works.pump[Part::Level] = -0.1;
        for chamber in &mut works.chambers {
            chamber.clearance = 3.0 * chamber.swept;
        }
        let mut run = Run::new(&works, State::default(), Detail::Full).unwrap();
        run.run_dry(after);
        let first = run.turn(|_| ()).unwrap();
        for _ in 0..30 {
            run.turn(|_| ()).unwrap();
        }
        let last = run.turn(|_| ()).unwrap();
        let swept = works.swept() / last.time;
        assert_eq!(0.01 < first.delivered / swept, primes, "gas out at first: {}", first.delivered / swept);
        assert_eq!(0.5 < last.delivered / swept, primes, "at last: {}", last.delivered / swept);
    }
}

/// Stiff oil starves the cells and heats itself: the flow comes back within the hour. What no inlet fault does.
#[test]
fn cold_oil_recovers() {
    let cold = reference().with(Part::RoomTemperature, 263.15).with(Part::OilViscosity, 150e-6);
    let shown = warm_up(&Works::of(&cold, &cold), State::default(), 600.0, 7).unwrap();
    let flows: Vec<f64> = shown.iter().map(|settled| three(settled)[0]).collect();
    let warmth: Vec<f64> = shown.iter().map(|settled| settled.of(Output::OilTemperature)).collect();
    assert!(flows[0] < 0.8 * flows[6], "{flows:?}");
    assert!(flows.windows(2).all(|pair| pair[0] < pair[1] + 0.05), "{flows:?}");
    assert!(warmth.windows(2).all(|pair| pair[0] < pair[1]), "{warmth:?}");
    close(flows[6], 30.2, 0.02, "warm");
}

/// A cell with 5, 10, 20 and 40 mL of air: 25.1, 23.2, 21.7, 19.9 L/min (a study of this model; healthy 30.26, dead 19.8).
/// Ours differs by up to 6 % between those ends, where valves and inlet of the two differ most. Oil 5 mL short is made up in
/// a few turns.
#[test]
fn air_behind_a_diaphragm_takes_its_stroke() {
    let sound = at_rpm(&reference(), 500.0);
    let flow = |air: f64, short: f64| {
        let mut works = Works::of(&sound, &sound);
        (works.chambers[0].oil.air, works.chambers[0].oil.short) = (air, short);
        three(&settle(&works, State::default(), Detail::Settled).unwrap())[0]
    };
    for (air, wanted) in [(5e-6, 25.1), (10e-6, 23.2), (20e-6, 21.7), (40e-6, 19.9)] {
        close(flow(air, 0.0), wanted, 0.07, "unprimed");
    }
    close(flow(0.0, 5e-6), 30.26, 0.003, "made up");
}

/// Name, pump, tolerated share of flow and of outlet pressure.
type Case = (&'static str, Pump, (f64, f64));

const PLAIN: (f64, f64) = (0.03, 0.06);
const MUCH_AIR: (f64, f64) = (0.09, 0.18);
const DEAD_CHAMBER: (f64, f64) = (0.13, 0.13);

fn cases() -> Vec<Case> {
    let sound = reference();
    let times = |part: Part, by: f64| sound.with(part, by * sound[part]);
    let air = |share: f64| sound.with(Part::Gas, share).with(Part::Regrowth, 0.96);
    let level = |metres: f64| sound.with(Part::Level, metres);
    let both = times(Part::ReliefOpening, 0.6).with(Part::ValveWear, 0.1);
    vec![
        ("healthy", sound, PLAIN),
        ("strainer x 10", times(Part::StrainerLosses, 10.0), PLAIN),
        ("strainer x 40", times(Part::StrainerLosses, 40.0), PLAIN),
        ("lift 4.5 m", level(-4.5), PLAIN),
        ("lift 9.25 m, starving", level(-9.25), PLAIN),
        ("lift 9.5 m, starving", level(-9.5), PLAIN),
        ("70 degC, lift 6 m", level(-6.0).with(Part::LiquidTemperature, 343.15), PLAIN),
        ("450 rpm", at_rpm(&sound, 450.0), PLAIN),
        ("650 rpm", at_rpm(&sound, 650.0), PLAIN),
        ("worn 6 %", sound.with(Part::ValveWear, 0.06), PLAIN),
        ("worn 30 %", sound.with(Part::ValveWear, 0.3), PLAIN),
        ("relief at 80 %", times(Part::ReliefOpening, 0.8), PLAIN),
        ("relief at 60 %", times(Part::ReliefOpening, 0.6), PLAIN),
        ("orifice x 1.3", times(Part::OrificeArea, 1.3), PLAIN),
        ("orifice x 0.6", times(Part::OrificeArea, 0.6), PLAIN),
        ("orifice x 0.3", times(Part::OrificeArea, 0.3), PLAIN),
        ("outlet blocked", sound.with(Part::OutletLosses, 1.0), PLAIN),
        ("leak outside", sound.with(Part::OutsideArea, 0.2), PLAIN),
        ("supply short", sound.with(Part::Supply, 0.8), PLAIN),
        ("belt slips", sound.with(Part::BeltSlip, 0.12), PLAIN),
        ("worn, relief at 60 %", both, PLAIN),
        ("no damper", sound.with(Part::DamperVolume, 0.0), PLAIN),
        ("air 2 %", air(0.02), PLAIN),
        ("air 5 %", air(0.05), PLAIN),
        ("air 10 %", air(0.10), MUCH_AIR),
        ("air 20 %", air(0.20), MUCH_AIR),
        ("outlet valve open", sound.with(Part::OutletValveLeak, 1.0), DEAD_CHAMBER),
        ("inlet valve open", sound.with(Part::InletValveLeak, 1.0), DEAD_CHAMBER),
    ]
}

/// Two sets of equations for one pump: steady balance and time domain.
#[test]
fn its_means_are_those_of_the_steady_model() {
    for (name, pump, (of_flow, of_pressure)) in cases() {
        let settled = at_work(&pump);
        let steady = Steady::new(3).solve(&pump, &reference(), State::default()).unwrap();
        let wanted = |output: Output| steady[output as usize];
        close(settled.of(Output::DeliveredFlow), wanted(Output::DeliveredFlow), of_flow, name);
        close(settled.of(Output::OutletPressure), wanted(Output::OutletPressure), of_pressure, name);
        close(settled.of(Output::PumpSpeed), wanted(Output::PumpSpeed), 0.005, name);
        assert!((settled.of(Output::OilTemperature) - wanted(Output::OilTemperature)).abs() < 3.0, "{name}: oil");
        // A feed that runs short ends in vapour here, at the line's pressure there.
        let off = (settled.of(Output::InletPressure) - wanted(Output::InletPressure)).abs();
        assert!(off < 1300.0 || name == "supply short", "{name}: inlet {off} Pa off");
        assert!(settled.rough < 0.02, "{name}: {} of the steps not found", settled.rough);
        let leaves = settled.of(Output::DeliveredFlow) + settled.bypass + settled.outside;
        let comes: f64 = settled.each.iter().sum::<f64>() / 3.0 * settled.swept;
        close(comes, leaves, 0.01, name);
    }
}

/// The length of the step does not move the mean flow, not even with air, no damper, a stuck valve, lift and a strainer
/// (a study of this model: 13.60 to 13.57 L/min for 0.4 to 0.02 ms).
#[test]
fn the_step_does_not_matter() {
    let hard = reference()
        .with(Part::Gas, 0.1)
        .with(Part::DamperVolume, 0.0)
        .with(Part::InletValveLeak, 1.0)
        .with(Part::Level, -6.0)
        .with(Part::StrainerLosses, 80.0);
    for (pump, share) in [(reference(), 0.002), (hard, 0.02)] {
        let works = Works::of(&pump, &reference());
        let flow = |step: f64| three(&settle(&works, State::default(), Detail::Steps(step)).unwrap())[0];
        let finest = flow(0.05e-3);
        for step in [0.1e-3, 0.2e-3, 0.4e-3] {
            close(flow(step), finest, share, "flow");
        }
    }
}

#[test]
fn the_same_pump_gives_the_same_bytes() {
    let present =
        [faults::named("strainer_clogged").unwrap().at(0.7), faults::named("spring_fatigue").unwrap().at(0.4)];
    let once = || {
        let works = faults::put(&reference(), &present);
        let settled = settle(&works, State::default(), Detail::Settled).unwrap();
        let curve = trace(&works, State::default(), 0.3, Detail::Settled).unwrap();
        let bits: Vec<u64> = settled.readings.iter().map(|value| value.to_bits()).collect();
        (bits, curve.iter().map(|point| point.outlet.to_bits()).collect::<Vec<_>>())
    };
    assert_eq!(once(), once());
}

/// Curves: evenly spaced, as long as asked, and their mean is the settled reading.
#[test]
fn a_curve_shows_what_the_gauge_means() {
    let works = Works::of(&reference(), &reference());
    let curve = trace(&works, State::default(), 1.0, Detail::Full).unwrap();
    let mean = curve.iter().map(|point| point.outlet).sum::<f64>() / curve.len() as f64;
    let settled = settle(&works, State::default(), Detail::Full).unwrap();
    close(mean, settled.of(Output::OutletPressure), 0.002, "mean of the curve");
    assert!((curve.last().unwrap().time - 1.0).abs() < 2e-4);
    let still = trace(&works, State::parse("standing").unwrap(), 1.0, Detail::Full).unwrap();
    close(still[0].inlet, -998.2 * 9.806_65, 1e-3, "standing");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    /// Whatever faults meet in whatever state, the readings are numbers, the inlet keeps above its ceiling, and the step
    /// finds its pressures.
    #[test]
    fn every_mixture_has_an_answer(
        places in proptest::collection::vec((0_usize..200, 0.0..=1.0_f64, 0_usize..5), 0..4),
        (speed, chambers) in (20_u8..=110, 1_u32..=7),
    ) {
        let known: Vec<_> = faults::all().collect();
        let put: Vec<_> = places
            .iter()
            .map(|&(at, severity, chamber)| known[at % known.len()].at(severity).in_chamber(chamber))
            .collect();
        let mut pump = reference();
        pump.chambers = chambers;
        let works = faults::put(&pump, &put);
        let settled = settle(&works, State { speed, ..State::default() }, Detail::Settled).unwrap();
        prop_assert!(settled.readings.iter().all(|value| value.is_finite()), "{put:?} {settled:?}");
        prop_assert!(-1e-6 <= settled.of(Output::DeliveredFlow), "{settled:?}");
        prop_assert!(-works.pump[Part::Barometer] < settled.of(Output::InletPressure));
        prop_assert!(settled.rough < 0.1, "{put:?}: {}", settled.rough);
    }
}
