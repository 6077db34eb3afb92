//! The words behind `weephole trial`.

use clap::Args;
use std::path::PathBuf;

/// Play simulated jobs whose faults are known, and say how well the program finds them.
///
/// Every figure has a 95 % interval. The same seed gives the same jobs, whatever the number of threads.
#[derive(Debug, Args)]
#[allow(clippy::struct_excessive_bools)] // one per switch
pub struct Trial {
    /// Jobs.
    #[arg(long, value_name = "COUNT", default_value_t = 400, value_parser = clap::value_parser!(u32).range(1..=100_000))]
    pub jobs: u32,
    /// Seed of all jobs.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// Faults per job, 1 to 3.
    #[arg(long, value_name = "COUNT", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=3))]
    pub faults: u8,
    /// Share of answers that are the wrong way round, such as 3% or 0.03.
    #[arg(long, value_name = "SHARE", default_value = "3%", value_parser = share)]
    pub wrong: f64,
    /// Share of findings and readings that nobody can tell.
    #[arg(long, value_name = "SHARE", default_value = "20%", value_parser = share)]
    pub cannot_tell: f64,
    /// How far off the strengths are that the planner believes in: standard deviation of their log-odds.
    #[arg(long, value_name = "NUMBER", default_value = "0.5", value_parser = deviation, allow_hyphen_values = true)]
    pub mismatch: f64,
    /// Faults that are not in the graph, instead of those that are.
    #[arg(long, conflicts_with = "paired")]
    pub outside: bool,
    /// Every fault as often as any other, instead of by its share of jobs.
    #[arg(long)]
    pub evenly: bool,
    /// Play the first 50 jobs by the rule of the screen too, which thinks ahead, and print the difference.
    #[arg(long)]
    pub paired: bool,
    /// Pump family.
    #[arg(long, default_value = "oil_backed", value_name = "FAMILY")]
    pub family: String,
    /// File of finished jobs, one JSON value a line: those in it are not played again, new ones are added.
    #[arg(long, value_name = "FILE")]
    pub keep: Option<PathBuf>,
    /// Threads; without it as many as there are cores.
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u8).range(1..=64))]
    pub threads: Option<u8>,
    /// One JSON value and nothing else.
    #[arg(long)]
    pub json: bool,
}

/// "3%", "3 %" or "0.03", from 0 to 1.
fn share(text: &str) -> Result<f64, String> {
    let number = |text: &str| text.trim().parse::<f64>().ok();
    let share = match text.trim().strip_suffix('%') {
        Some(percent) => number(percent).map(|percent| percent / 100.0),
        None => number(text),
    };
    let hint = "say a share from 0 to 1, or a percentage, such as 3%";
    share.filter(|share| (0.0..=1.0).contains(share)).ok_or_else(|| hint.to_owned())
}

/// A standard deviation from 0 to 5.
fn deviation(text: &str) -> Result<f64, String> {
    let number = text.trim().parse::<f64>().ok().filter(|number| (0.0..=5.0).contains(number));
    number.ok_or_else(|| "say a number from 0 to 5; 0 leaves the graph as it is".to_owned())
}
