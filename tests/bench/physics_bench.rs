//! Turns one pump sheet into timings: rows of single suspects, rows of all sets, one more number, and the belief with it.
//!
//! Bars: singles 20 ms, all sets of a running state 1.5 s, a new number 30 ms; milliseconds, one core.
//! The clock counts others at work too; what the processor gave to this program stands beside it.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "../common/mod.rs"]
mod common;
#[path = "processor.rs"]
mod processor;
#[path = "../common/pumps.rs"]
mod pumps;

use processor::on_processor;
use std::time::Instant;
use weephole::belief::{Likelihood, causes_posterior, posterior};
use weephole::evidence::{PumpData, network};
use weephole::physics::likelihood::Number;

/// Readings at work, with what a healthy pump of the sheet shows, a little off.
const READINGS: [(&str, f64); 8] = [
    ("outlet_pressure", 6.4e6),
    ("delivered_flow_full", 27.9e-3 / 60.0),
    ("motor_current", 8.2),
    ("pump_rpm", 501.0 / 60.0),
    ("inlet_pressure_full", -11.3e3),
    ("once_per_turn_ripple", 0.004),
    ("bypass_flow", 0.001),
    ("nozzle_pressure", 0.99),
];

fn main() {
    let knowledge = common::shipped().knowledge;
    let data = PumpData::of(&pumps::sheet(&knowledge, "triplex.pump.ron"));
    let (graph, model) = pumps::model(&knowledge, &data);
    let network = network(&graph).unwrap();
    let numbers: Vec<Number> =
        READINGS.iter().map(|(id, value)| model.number(&knowledge, id, *value, None).unwrap()).collect();
    println!("{} suspects, {} numbers", model.nodes().len(), numbers.len());
    let singles = timed("rows of all single suspects (bar 20 ms)", || {
        for number in &numbers {
            model.band(number, &[model.nodes()[0]]).unwrap();
        }
        model.live(&numbers).unwrap().len()
    });
    println!("  {singles} suspects matter to the {} numbers", numbers.len());
    timed("rows of all sets of three, all numbers weighed (bar 1500 ms)", || model.factor(&numbers).unwrap());
    for count in [1, 4, 8] {
        let factor =
            timed(&format!("{count} numbers weighed (bar 30 ms)"), || model.factor(&numbers[..count]).unwrap());
        let Some((factor, _)) = factor else { continue };
        if let Likelihood::Sets(sets) = &factor {
            println!("  {} nodes, {} sets", sets.nodes.len(), sets.sets.len());
        }
        let likelihoods = [factor];
        timed("  belief in causes", || causes_posterior(&network, &likelihoods).unwrap());
        let belief = timed("  belief in every node", || posterior(&network, &likelihoods).unwrap());
        let mut order: Vec<usize> = model.nodes().to_vec();
        order.sort_by(|a, b| belief.present[*b].total_cmp(&belief.present[*a]));
        let leading = order.iter().take(5).map(|&node| format!("{} {:.2}", graph.nodes[node].id, belief.present[node]));
        println!("  {}; error bound {:.1e}", leading.collect::<Vec<_>>().join(", "), belief.error_bound);
    }
}

fn timed<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let (start, busy) = (Instant::now(), on_processor());
    let done = work();
    let busy =
        on_processor().zip(busy).map_or_else(String::new, |(to, from)| format!(", {:.1} on the processor", to - from));
    println!("{what}: {:.1} ms{busy}", start.elapsed().as_secs_f64() * 1e3);
    done
}
