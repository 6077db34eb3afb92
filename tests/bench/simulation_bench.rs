//! Turns the pump that is not there into timings: simulated over real time, settled states and full detail.
//!
//! Bars on one core: settled states at 0.2 ms at least 150 times real time, full detail at 0.1 ms at least 50 times.
//! What the processor gave to this program counts where the system tells it; the clock counts others at work too.
//! `simulation_bench [ROUNDS]`.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "processor.rs"]
mod processor;

use processor::on_processor;
use std::time::Instant;
use weephole::physics::steady::{Design, Liquid, Part, Pump, State};
use weephole::simulation::{Detail, Run, faults, settle};

/// Faults that make the step easy, usual and hard.
const FAULTS: [&str; 8] = [
    "strainer_clogged",
    "debris_under_inlet_valve",
    "valves_run_past_life",
    "inlet_joint_draws_air",
    "cells_not_primed",
    "relief_dirt_on_seat",
    "damper_gas_lost",
    "belt_not_retensioned",
];

fn reference() -> Pump {
    let design = Design { flow: 0.5e-3, pressure: 7e6, speed: 500.0 / 60.0 };
    Pump::usual(3, design, Liquid::water(293.15).unwrap()).with(Part::DamperVolume, 0.4e-3)
}

fn main() {
    let rounds: usize = std::env::args().nth(1).and_then(|word| word.parse().ok()).unwrap_or(5);
    let pump = reference();
    for (name, detail, bar) in [("settled, 0.2 ms", Detail::Settled, 150.0), ("full, 0.1 ms", Detail::Full, 50.0)] {
        let mut ratios = Vec::new();
        for _ in 0..rounds {
            for id in FAULTS {
                let works = faults::put(&pump, &[faults::named(id).unwrap().at(0.7)]);
                ratios.push(ratio(|| settle(&works, State::default(), detail).unwrap().simulated));
            }
        }
        told(name, bar, ratios);
    }
    let works = faults::put(&pump, &[]);
    let mut ratios = Vec::new();
    for _ in 0..rounds {
        let mut run = Run::new(&works, State::default(), Detail::Full).unwrap();
        ratios.push(ratio(|| {
            while run.simulated() < 5.0 {
                run.turn(|_| ()).unwrap();
            }
            run.simulated()
        }));
    }
    told("a healthy pump running, 0.1 ms", 50.0, ratios);
}

/// Simulated seconds over those that they took.
fn ratio(work: impl FnOnce() -> f64) -> f64 {
    let (start, busy) = (Instant::now(), on_processor());
    let simulated = work();
    let took = on_processor().zip(busy).map(|(to, from)| (to - from) / 1e3);
    simulated / took.filter(|took| 0.0 < *took).unwrap_or(start.elapsed().as_secs_f64())
}

fn told(name: &str, bar: f64, mut ratios: Vec<f64>) {
    ratios.sort_by(f64::total_cmp);
    let (worst, median, best) = (ratios[0], ratios[ratios.len() / 2], ratios[ratios.len() - 1]);
    println!("{name}: {median:.0} times real time (median of {}; {worst:.0} to {best:.0}); bar {bar:.0}", ratios.len());
}
