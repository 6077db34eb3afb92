//! Checks which way every fault moves flow, pressure, vacuum and ripple, and that the speed stays: the fault signatures that
//! follow from displacement, orifice, suction line and drive (derived; the rows bearing, gauge, air locked in the outlet and
//! vortex are not of the steady model). An entry counts where the change exceeds the gauge's error.
#![allow(clippy::unwrap_used, clippy::panic)]

mod common;
#[path = "common/pumps.rs"]
mod pumps;

use weephole::evidence::{PumpData, PumpModel};
use weephole::knowledge::{Graph, Knowledge, Scale};
use weephole::physics::likelihood::Suspect;
use weephole::physics::steady::{Output, Readings, State, Steady};

/// What a column says: up, down, unchanged, or nothing that the steady model could be held to (~, …).
#[derive(Clone, Copy, PartialEq, Debug)]
enum Way {
    Up,
    Down,
    Same,
    Any,
}
use Way::{Any, Down, Same, Up};

/// The pump of a row: one that works well, or one whose inlet margin the fault uses up.
#[derive(Clone, Copy, PartialEq)]
enum On {
    Sound,
    Starving,
}

/// Condition, pump, flow at the outlet, pressure, vacuum, ripple once a turn; the speed of all but the last ones stays.
type Row = (&'static str, On, [Way; 4]);

const SPEED_STAYS: [Row; 17] = [
    ("inlet_restricted", On::Starving, [Down, Down, Up, Any]),
    ("lift_high", On::Starving, [Down, Down, Up, Any]),
    ("air_in", On::Sound, [Down, Any, Any, Any]),
    ("inlet_valve_open", On::Sound, [Down, Down, Down, Up]),
    ("outlet_valve_open", On::Sound, [Down, Down, Down, Up]),
    ("valves_worn", On::Sound, [Down, Down, Down, Same]),
    ("diaphragm_leak", On::Sound, [Down, Any, Down, Up]),
    ("oil_low", On::Sound, [Down, Any, Down, Up]),
    ("oil_thick", On::Sound, [Down, Any, Any, Any]),
    ("orifice_worn", On::Sound, [Same, Down, Same, Same]),
    ("orifice_plugged", On::Sound, [Any, Up, Same, Same]),
    ("relief_passing", On::Sound, [Down, Down, Same, Same]),
    ("damper_discharged", On::Sound, [Same, Any, Same, Same]),
    ("liquid_hot", On::Starving, [Down, Down, Any, Any]),
    ("accel_head_high", On::Sound, [Any, Any, Same, Any]),
    ("inlet_over_pressure", On::Sound, [Any, Same, Down, Same]),
    ("cell_unprimed", On::Sound, [Down, Down, Down, Up]),
];
const SPEED_FALLS: [Row; 2] =
    [("belt_slip", On::Sound, [Down, Down, Down, Same]), ("motor_slow", On::Sound, [Down, Down, Down, Same])];
const SPEED_RISES: [Row; 1] = [("too_fast", On::Sound, [Up, Up, Up, Same])];

/// What each column shows, and the reading of the shipped knowledge whose error counts.
const COLUMNS: [(Output, &str); 4] = [
    (Output::DeliveredFlow, "delivered_flow_full"),
    (Output::OutletPressure, "outlet_pressure"),
    (Output::InletPressure, "inlet_pressure_full"),
    (Output::OncePerTurn, "once_per_turn_ripple"),
];

struct Bench {
    graph: Graph,
    sound: PumpModel,
    starving: PumpModel,
}

impl Bench {
    fn new(knowledge: &Knowledge) -> Self {
        let mut data = PumpData::of(&pumps::sheet(knowledge, "triplex.pump.ron"));
        let (graph, sound) = pumps::model(knowledge, &data);
        // A lift of 6 m with a small strainer: the median of each inlet fault uses the margin up.
        for (name, value) in [("level_over_inlet", -6.5), ("strainer_losses", 40.0)] {
            data.data.iter_mut().find(|entry| entry.0 == name).unwrap().1 = value;
        }
        let (_, starving) = pumps::model(knowledge, &data);
        Self { graph, sound, starving }
    }

    /// Healthy readings, and those with a condition at its median severity.
    fn both(&self, condition: &str, on: On) -> [Readings; 2] {
        let model = if on == On::Sound { &self.sound } else { &self.starving };
        let node = self.graph.node(condition).unwrap();
        let place = model.nodes().iter().position(|known| *known == node).unwrap();
        let suspects = model.suspects();
        let Suspect::Fault(effect) = &suspects[place] else { panic!("{condition} moves no pump") };
        let sound = model.built().pump;
        let mut pump = sound;
        effect.put(&mut pump, 0.5);
        let steady = Steady::new(sound.chambers);
        [sound, pump].map(|pump| steady.solve(&pump, &sound, State::default()).unwrap())
    }
}

fn way(output: Output, [healthy, faulty]: [Readings; 2], error: f64) -> Way {
    // A vacuum that grows is a gauge pressure that falls.
    let sign = if output == Output::InletPressure { -1.0 } else { 1.0 };
    match sign * (faulty[output as usize] - healthy[output as usize]) {
        change if error < change => Up,
        change if change < -error => Down,
        _ => Same,
    }
}

#[test]
fn every_fault_moves_what_it_should() {
    let knowledge = common::shipped().knowledge;
    let bench = Bench::new(&knowledge);
    let (mut asserted, mut moved) = (0, 0);
    for (condition, on, columns) in SPEED_STAYS.iter().chain(&SPEED_FALLS).chain(&SPEED_RISES) {
        let readings = bench.both(condition, *on);
        for ((output, reading), wanted) in COLUMNS.into_iter().zip(columns) {
            let error = Scale::of(&knowledge.all.readings[reading]).unwrap().error;
            let found = way(output, readings, error);
            if *wanted == Any || (found == Same && *wanted != Same) {
                continue;
            }
            assert_eq!(found, *wanted, "{condition}: {}", output.card().name);
            asserted += 1;
            moved += usize::from(*wanted != Same);
        }
    }
    assert!(35 <= asserted && asserted <= 2 * moved, "{moved} of {asserted} entries move");
}

#[test]
fn the_speed_stays_within_two_per_cent_where_the_drive_is_sound() {
    let knowledge = common::shipped().knowledge;
    let bench = Bench::new(&knowledge);
    let ratio = |(condition, on, _): &Row| {
        let [healthy, faulty] = bench.both(condition, *on);
        faulty[Output::PumpSpeed as usize] / healthy[Output::PumpSpeed as usize]
    };
    for row in &SPEED_STAYS {
        assert!((ratio(row) - 1.0).abs() <= 0.02, "{}: {}", row.0, ratio(row));
    }
    assert!(SPEED_FALLS.iter().all(|row| ratio(row) < 0.98) && SPEED_RISES.iter().all(|row| 1.02 < ratio(row)));
}

/// One of three chambers dead at the gravest: two thirds of the flow, and 52 % of the healthy mean once a turn in the flow;
/// behind a damper that its low pressure has shut the pressure swings by more.
#[test]
fn a_dead_chamber_costs_a_third() {
    let knowledge = common::shipped().knowledge;
    let bench = Bench::new(&knowledge);
    for condition in ["inlet_valve_open", "outlet_valve_open", "valves_stuck_shut"] {
        let node = bench.graph.node(condition).unwrap();
        let place = bench.sound.nodes().iter().position(|known| *known == node).unwrap();
        let suspects = bench.sound.suspects();
        let Suspect::Fault(effect) = &suspects[place] else { panic!("{condition} moves no pump") };
        let sound = bench.sound.built().pump;
        let mut pump = sound;
        effect.put(&mut pump, 1.0);
        let steady = Steady::new(3);
        let of = |pump| steady.solve(pump, &sound, State::default()).unwrap();
        let (healthy, faulty) = (of(&sound), of(&pump));
        let flow = faulty[Output::DeliveredFlow as usize] / healthy[Output::DeliveredFlow as usize];
        assert!((flow - 2.0 / 3.0).abs() < 0.03, "{condition}: {flow}");
        assert!(0.5 < faulty[Output::OncePerTurn as usize], "{condition}");
    }
}
