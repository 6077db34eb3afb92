//! Turns seeded jobs drawn from the networks themselves into marks for the belief and for the conflict measure.
//!
//! `cargo run --release --example belief_exam -- [--json] [--seed N] [--jobs N] [--net NAME]`. A job: causes, conditions and damage drawn
//! from the network's own numbers with at least one cause; a complaint drawn evenly, jobs in which it is not true drawn
//! anew; then 8 (and 15) answers, drawn from those that tell most given the complaint. In the model the answers are wrong
//! as often as the knowledge declares. In the second part nothing is wrong but what the exam turns around: each answer
//! with a chance of 5 %.
#![allow(clippy::unwrap_used, clippy::print_stdout, clippy::cast_precision_loss, dead_code)]

#[path = "../common/mod.rs"]
mod common;
#[path = "exam_nets.rs"]
pub mod nets;

use nets::{Dice, Job, Net};
use serde_json::{Value, json};
use weephole::belief::{Explanation, Likelihood, explain, fault_sets, posterior};

/// Share of answers turned around.
const TURNED: f64 = 0.05;
/// Draws for an interval.
const BOOTSTRAP: usize = 1000;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let number = |name: &str, otherwise: u64| {
        let at = arguments.iter().position(|word| word == name);
        at.and_then(|at| arguments.get(at + 1)).map_or(otherwise, |text| text.parse().unwrap())
    };
    let (seed, jobs) = (number("--seed", 1), usize::try_from(number("--jobs", 1500)).unwrap());
    let only = arguments.iter().position(|word| word == "--net").and_then(|at| arguments.get(at + 1));
    let mut all = Vec::new();
    for net in nets::all().into_iter().filter(|net| only.is_none_or(|name| *name == net.name)) {
        for answers in [8, 15] {
            let mut marks = in_model(&net, answers, jobs, seed);
            marks["fault_sets_ms"] = json!(fault_set_times(&net, answers, seed));
            marks["wrong_answers"] = with_wrong(&net, answers, jobs / 4, seed + 1);
            all.push(marks);
        }
    }
    if arguments.iter().any(|word| word == "--json") {
        println!("{}", json!({"seed": seed, "exams": all}));
    } else {
        println!("seed {seed}");
        for exam in &all {
            println!("{}", serde_json::to_string_pretty(exam).unwrap());
        }
    }
}

/// Milliseconds of the four most probable sets of causes over 40 jobs: median and longest.
fn fault_set_times(net: &Net, answers: usize, seed: u64) -> [f64; 2] {
    let mut dice = Dice::new(seed);
    let mut times: Vec<f64> = (0..40)
        .map(|_| {
            let said = net.job(answers, true, &mut dice).said;
            let present = posterior(&net.network, &said).unwrap().present;
            let begun = std::time::Instant::now();
            fault_sets(&net.network, &said, &present, 4).unwrap();
            begun.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    [times[20], times[39]]
}

/// One graded job: confidence in the leading cause, and whether it is right.
struct Graded {
    confidence: f64,
    right: bool,
    in_three: bool,
    brier: f64,
    log_score: f64,
}

/// Marks for the belief, answers wrong as often as declared.
pub fn in_model(net: &Net, answers: usize, jobs: usize, seed: u64) -> Value {
    let mut dice = Dice::new(seed);
    let graded: Vec<Graded> = (0..jobs).map(|_| grade(net, &net.job(answers, true, &mut dice))).collect();
    let mean = |of: &dyn Fn(&Graded) -> f64| graded.iter().map(of).sum::<f64>() / jobs as f64;
    let sure: Vec<&Graded> = graded.iter().filter(|job| 0.9 < job.confidence).collect();
    let right_when_sure = sure.iter().filter(|job| job.right).count() as f64 / sure.len().max(1) as f64;
    let pairs: Vec<(f64, bool)> = graded.iter().map(|job| (job.confidence, job.right)).collect();
    json!({
        "net": net.name, "answers": answers, "jobs": jobs, "seed": seed,
        "top_1": mean(&|job| f64::from(u8::from(job.right))),
        "top_3": mean(&|job| f64::from(u8::from(job.in_three))),
        "mean_confidence": mean(&|job| job.confidence),
        "calibration_error": calibration_error(&pairs),
        "calibration_error_95": bootstrap(&pairs, &mut dice),
        "calibration_error_by_chance": by_chance(&pairs, &mut dice),
        "brier_sum": mean(&|job| job.brier),
        "log_score_bits": mean(&|job| job.log_score),
        "surer_than_90": sure.len(), "right_when_surer_than_90": right_when_sure,
    })
}

fn grade(net: &Net, job: &Job) -> Graded {
    let belief = posterior(&net.network, &job.said).unwrap();
    let mut ranked = net.causes.clone();
    ranked.sort_by(|a, b| belief.present[*b].total_cmp(&belief.present[*a]));
    let (mut brier, mut log_score) = (0.0, 0.0);
    for &cause in &net.causes {
        let (p, there) = (belief.present[cause], job.truth[cause]);
        brier += (p - f64::from(u8::from(there))).powi(2);
        log_score -= if there { p } else { 1.0 - p }.max(1e-12).log2();
    }
    Graded {
        confidence: belief.present[ranked[0]],
        right: job.truth[ranked[0]],
        in_three: ranked[..3].iter().any(|&cause| job.truth[cause]),
        brier,
        log_score,
    }
}

/// Mean distance of confidence and share of right ones over ten bins, weighted by how many fall into each.
pub fn calibration_error(jobs: &[(f64, bool)]) -> f64 {
    let mut bins = [(0.0, 0.0); 10];
    for &(confidence, right) in jobs {
        let bin = (0..10).rev().find(|bin| f64::from(*bin) / 10.0 <= confidence).unwrap_or(0);
        bins[usize::try_from(bin).unwrap()].0 += confidence;
        bins[usize::try_from(bin).unwrap()].1 += f64::from(u8::from(right));
    }
    bins.iter().map(|(sure, right)| (sure - right).abs()).sum::<f64>() / jobs.len() as f64
}

/// Middle 95 % of the calibration error over jobs drawn anew with replacement.
fn bootstrap(jobs: &[(f64, bool)], dice: &mut Dice) -> [f64; 2] {
    let mut errors: Vec<f64> = (0..BOOTSTRAP)
        .map(|_| calibration_error(&(0..jobs.len()).map(|_| jobs[dice.below(jobs.len())]).collect::<Vec<_>>()))
        .collect();
    errors.sort_by(f64::total_cmp);
    [errors[BOOTSTRAP / 40], errors[BOOTSTRAP - 1 - BOOTSTRAP / 40]]
}

/// The calibration error that perfect confidence would show in so many jobs, on average.
fn by_chance(jobs: &[(f64, bool)], dice: &mut Dice) -> f64 {
    let draw = |dice: &mut Dice| jobs.iter().map(|&(sure, _)| (sure, dice.chance(sure))).collect::<Vec<_>>();
    (0..BOOTSTRAP).map(|_| calibration_error(&draw(dice))).sum::<f64>() / BOOTSTRAP as f64
}

/// Marks for the conflict measure: each answer turned around with a chance of 5 %, else as it truly is.
pub fn with_wrong(net: &Net, answers: usize, jobs: usize, seed: u64) -> Value {
    let mut dice = Dice::new(seed);
    let mut explained: Vec<(Explanation, Vec<bool>)> = Vec::new();
    for _ in 0..jobs {
        let mut job = net.job(answers, false, &mut dice);
        let turned: Vec<bool> = (0..job.said.len()).map(|at| 0 < at && dice.chance(TURNED)).collect();
        for (said, turned) in job.said.iter_mut().zip(&turned) {
            if *turned {
                turn(said);
            }
        }
        explained.push((explain(&net.network, &job.said, &[]).unwrap(), turned));
    }
    let (bad, good): (Vec<_>, Vec<_>) = explained.iter().partition(|(_, turned)| turned.contains(&true));
    let share = |of: &[&(Explanation, Vec<bool>)], holds: &dyn Fn(&Explanation, &[bool]) -> bool| {
        of.iter().filter(|(why, turned)| holds(why, turned)).count() as f64 / of.len().max(1) as f64
    };
    let names = |why: &Explanation, turned: &[bool]| why.suspects().iter().any(|&at| turned[at]);
    json!({
        "jobs": jobs, "seed": seed, "with_a_wrong_answer": bad.len(),
        "wrong_one_in_top_two": share(&bad, &names),
        "alarm_with_a_wrong_answer": share(&bad, &|why, _| why.is_alarm()),
        "alarm_and_wrong_one_in_top_two": share(&bad, &|why, turned| why.is_alarm() && names(why, turned)),
        "false_alarms": share(&good, &|why, _| why.is_alarm()),
    })
}

/// The opposite answer.
fn turn(said: &mut Likelihood) {
    if let Likelihood::Leaf { if_true, if_false, .. } = said {
        std::mem::swap(if_true, if_false);
    }
}
