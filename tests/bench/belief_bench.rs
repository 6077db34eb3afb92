//! Turns a stored network into timings of the belief engine, checked against reference answers where given.
//!
//! `belief_bench NET.json [POSTERIORS.json [WORTHS_CASE0.json …]]` prints one JSON object; times in milliseconds, one core,
//! the median of a few repetitions per case. The network as it stands: no answer error, no exclusions, not conditioned on
//! at least one cause. Worth = expected drop of the summed entropy of all causes, bits, readings in the file's bins; above
//! 200 causes the timed list is the screened one.

#![allow(clippy::unwrap_used, clippy::print_stdout, clippy::print_stderr, clippy::expect_used)]

#[path = "../common/nets.rs"]
mod nets;
#[path = "peak.rs"]
mod peak;

use nets::NetFile;
use peak::peak_mib;
use serde_json::{Map, Value, json};
use std::hint::black_box;
use std::path::Path;
use std::time::Instant;
use weephole::belief::{FOR_BELIEF, Likelihood, Posterior, Question, bits, causes_posterior, lighten, outcomes, sift};

/// Above so many causes, the timed list of worths is the screened one.
const SCREENED_ABOVE: usize = 200;
/// Questions of the screened list that are computed exactly.
const EXACT: usize = 40;
/// Questions whose outcomes are held at once.
const AT_ONCE: usize = 500;
/// Cases whose worths are printed.
const WORTHS_PRINTED: usize = 3;
/// Repetitions of each timing.
const REPEATS: usize = 5;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let Some(net) = arguments.first() else {
        eprintln!("usage: belief_bench NET.json [POSTERIORS.json [WORTHS_CASE0.json …]]");
        std::process::exit(2);
    };
    match bench(Path::new(net), &arguments[1..]) {
        Ok(report) => println!("{report}"),
        Err(message) => {
            eprintln!("{message}");
            std::process::exit(1);
        }
    }
}

fn bench(net: &Path, references: &[String]) -> Result<Value, String> {
    let file = NetFile::read(net)?;
    let references: Vec<Value> = references.iter().map(|path| read(path)).collect::<Result<_, _>>()?;
    let (mut cases, mut posterior_ms, mut worth_ms, mut first_ms) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut off = Differences::default();
    for (number, evidence) in file.cases.iter().enumerate() {
        let (now, time) = timed(|| causes_posterior(&file.network, evidence));
        let now = now.map_err(|error| format!("case {number}: {error}"))?;
        posterior_ms.push(time);
        let posteriors: Vec<f64> = file.causes.iter().map(|&cause| now.present[cause]).collect();
        off.posteriors(&posteriors, references.first().map(|all| &all[number]));
        let (names, questions) = file.open(number);
        let (_, first) = timed(|| first_list(&file, evidence, &now, &questions));
        first_ms.push(first);
        if file.causes.len() <= SCREENED_ABOVE {
            worth_ms.push(timed(|| worths(&file, evidence, &now, &questions)).1);
        } else {
            worth_ms.push(first);
        }
        let mut case = json!({ "posteriors": posteriors });
        if number < WORTHS_PRINTED {
            let worths: Map<String, Value> = names
                .iter()
                .zip(worths(&file, evidence, &now, &questions))
                .filter_map(|(name, worth)| Some(((*name).to_owned(), json!(worth?))))
                .collect();
            off.worths(&worths, references.get(number + 1));
            case["worths"] = Value::Object(worths);
        }
        cases.push(case);
    }
    Ok(json!({
        "cases": cases,
        "max_posterior_difference": off.posterior,
        "max_worth_difference": off.worth,
        "posterior_ms_median": median(&posterior_ms),
        "posterior_ms_max": highest(&posterior_ms),
        "worth_ms_median": median(&worth_ms),
        "worth_ms_max": highest(&worth_ms),
        "first_list_ms_max": highest(&first_ms),
        "peak_mib": peak_mib(),
    }))
}

/// Worth of every question, bits; none where it cannot be computed exactly.
fn worths(file: &NetFile, evidence: &[Likelihood], now: &Posterior, questions: &[Question]) -> Vec<Option<f64>> {
    let present: Vec<f64> = file.causes.iter().map(|&cause| now.present[cause]).collect();
    let mut worths = Vec::with_capacity(questions.len());
    for some in questions.chunks(AT_ONCE) {
        let found = outcomes(&file.network, evidence, some, &file.causes).expect("the belief exists already");
        worths.extend(found.iter().map(|outcomes| outcomes.as_ref().map(|outcomes| bits(&present, outcomes))));
    }
    worths
}

/// The ranked list a user would see first: roughly sifted, the best computed exactly.
fn first_list(file: &NetFile, evidence: &[Likelihood], now: &Posterior, questions: &[Question]) -> Vec<(usize, f64)> {
    let cells = lighten(&file.network, evidence, FOR_BELIEF).cells;
    let best =
        sift(&file.network, evidence, &now.present, (&file.causes, questions), (EXACT, cells)).expect("a belief");
    let few: Vec<Question> = best.iter().map(|&at| questions[at].clone()).collect();
    let exact = worths(file, evidence, now, &few);
    let mut list: Vec<(usize, f64)> =
        best.into_iter().zip(exact).filter_map(|(at, worth)| Some((at, worth?))).collect();
    list.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    list
}

/// A result and the median of the milliseconds it took, warm.
fn timed<T>(mut work: impl FnMut() -> T) -> (T, f64) {
    let mut times = Vec::new();
    let mut result = black_box(work());
    for _ in 0..REPEATS {
        let start = Instant::now();
        result = black_box(work());
        times.push(start.elapsed().as_secs_f64() * 1e3);
    }
    (result, median(&times))
}

/// Largest differences from the references; none without one.
#[derive(Default)]
struct Differences {
    posterior: Option<f64>,
    worth: Option<f64>,
}

impl Differences {
    fn posteriors(&mut self, ours: &[f64], reference: Option<&Value>) {
        let theirs = reference.and_then(Value::as_array).into_iter().flatten().map(|value| value.as_f64().unwrap());
        for (ours, theirs) in ours.iter().zip(theirs) {
            self.posterior = Some(self.posterior.unwrap_or(0.0).max((ours - theirs).abs()));
        }
    }

    fn worths(&mut self, ours: &Map<String, Value>, reference: Option<&Value>) {
        for (name, theirs) in reference.and_then(Value::as_object).into_iter().flatten() {
            let ours = ours.get(name).and_then(Value::as_f64).unwrap_or(f64::INFINITY);
            self.worth = Some(self.worth.unwrap_or(0.0).max((ours - theirs.as_f64().unwrap()).abs()));
        }
    }
}

fn read(path: &str) -> Result<Value, String> {
    let text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
    serde_json::from_str(&text).map_err(|error| format!("{path}: {error}"))
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    match sorted.len() {
        0 => 0.0,
        n if n % 2 == 1 => sorted[n / 2],
        n => f64::midpoint(sorted[n / 2 - 1], sorted[n / 2]),
    }
}

fn highest(values: &[f64]) -> f64 {
    values.iter().copied().fold(0.0, f64::max)
}
