//! Turns seeded small jobs into a table: what each step rule costs over the exact optimum.
//!
//! `cargo run --release --example policy_exam [-- [--json] [INSTANCES]]`
#![allow(clippy::unwrap_used, clippy::print_stdout)]

mod exam;

use exam::instances::{Family, MANY_FAULTS, ONE_FAULT, SOME_FAULTS, of_program_size};
use exam::policies::Rule;
use exam::score::{Ratios, Solved, solve};
use serde_json::{Value, json};
use std::time::Instant;
use weephole::planning::{State, Work, advise};

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let json = args.iter().any(|arg| arg == "--json");
    let instances = args.iter().find_map(|arg| arg.parse().ok()).unwrap_or(40);
    let mut families = Vec::new();
    for family in [ONE_FAULT, SOME_FAULTS, MANY_FAULTS] {
        let started = Instant::now();
        let solved: Vec<Solved> = (0..instances).map(|number| solve(&family, number)).collect();
        let ratios: Vec<Ratios> = (0..Rule::ALL.len()).map(|rule| Ratios::of(&solved, rule)).collect();
        if !json {
            print(&family, &solved, &ratios);
            println!("  {:.0} s\n", started.elapsed().as_secs_f64());
        }
        let rows: Vec<Value> = Rule::ALL.iter().zip(&ratios).map(|(rule, ratios)| ratios.json(*rule)).collect();
        families.push(json!({"jobs": family.name, "seed": family.seed, "instances": instances, "policies": rows}));
    }
    let step = step_times();
    if json {
        println!("{}", json!({"families": families, "step": step}));
    } else {
        println!("one step at program size (12 causes, 100 sets, 16 questions): {step}");
    }
}

fn print(family: &Family, solved: &[Solved], ratios: &[Ratios]) {
    let count = solved.len() as f64;
    let optimum = solved.iter().map(|one| one.optimum.mean()).sum::<f64>() / count;
    let sunk = solved.iter().map(|one| one.optimum.sunk()).sum::<f64>() / count;
    let states = solved.iter().map(|one| one.states).max().unwrap_or_default();
    println!("{}: {} instances, seed {}", family.name, solved.len(), family.seed);
    println!("  optimum {optimum:.0} min, of which repairs of true faults {sunk:.0} min; at most {states} states");
    let heads = ["mean", "95 % interval", "p95", "max", "<=1.03", "avoidable"];
    let [mean, interval, p95, max, within, avoidable] = heads;
    println!(
        "  {:<42}{mean:>8}{interval:>17}{p95:>8}{max:>8}{within:>8}{avoidable:>11}  1, 2, 3 faults: mean (max)",
        "cost / optimum"
    );
    for (rule, r) in Rule::ALL.iter().zip(ratios) {
        let interval = format!("{:.4}–{:.4}", r.interval.0, r.interval.1);
        let class =
            |(mean, max): (f64, f64)| if mean.is_finite() { format!("{mean:.3} ({max:.3})") } else { "–".to_owned() };
        print!("  {:<42}{:>8.4}{interval:>17}{:>8.3}{:>8.3}", rule.name(), r.mean, r.p95, r.worst);
        println!("{:>8.2}{:>11.3}  {}", r.share_within_3_percent, r.avoidable, r.by_faults.map(class).join(" "));
    }
}

/// Time and work of the first step on jobs of the size the program hands over.
fn step_times() -> Value {
    let (mut times, mut work) = (Vec::new(), 0);
    let mut passes = std::collections::BTreeMap::new();
    for number in 0..24 {
        let sketch = of_program_size(number);
        let started = Instant::now();
        let advice = advise(&sketch, &State::new(&sketch), Work::STEP);
        times.push(started.elapsed().as_secs_f64() * 1000.0);
        work = work.max(advice.work.0);
        *passes.entry(format!("{} plies, reach {}", advice.how.plies, advice.how.reach)).or_insert(0) += 1;
    }
    times.sort_by(f64::total_cmp);
    json!({"jobs": times.len(), "ms_median": times[times.len() / 2], "ms_max": times.last(), "work_max": work, "passes": passes})
}
