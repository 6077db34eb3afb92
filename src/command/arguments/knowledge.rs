//! The words behind `weephole knowledge`.

use clap::{Args, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Look at the knowledge and check it.
#[derive(Debug, Args)]
pub struct KnowledgePart {
    /// What to do with it.
    #[command(subcommand)]
    pub work: KnowledgeWork,
}

/// Work on the knowledge.
#[derive(Debug, Subcommand)]
pub enum KnowledgeWork {
    /// Say everything that is wrong with it.
    Check {
        /// One JSON value and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Try it on its cases: where the true cause comes out.
    Try {
        /// One JSON value and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// List the entries of one kind.
    List {
        /// causes, conditions, damage, findings, readings, checks, remedies, procedures or families.
        kind: String,
        /// One JSON value and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Print the cause graph of a pump family for other programs.
    Export {
        /// Format of the file.
        #[arg(long)]
        format: Format,
        /// Pump family.
        #[arg(long, default_value = "oil_backed", value_name = "FAMILY")]
        family: String,
    },
    /// Change one value of a knowledge folder.
    Set {
        /// Where, such as `findings.low_flow.shown_by.valves_worn.strength`.
        path: String,
        /// The new value; a strength as a word, share(0.43), "8 of 20" or lowest/best/highest.
        #[arg(allow_hyphen_values = true)]
        value: String,
        /// How it is proved and who looked at it.
        #[command(flatten)]
        proving: Proving,
    },
    /// Add an entry or a link, from fields or as RON from standard input.
    Add {
        /// causes, conditions, damage, findings, readings, checks, remedies, procedures, cautions, … or link.
        kind: String,
        /// Id of the new entry; for a link, where it comes from.
        id: String,
        /// For a link, where it leads to first; then FIELD=VALUE, such as minutes=12.
        #[arg(value_name = "FIELD=VALUE")]
        fields: Vec<String>,
        /// File of the folder to add it to; without it, where its like stands.
        #[arg(long, value_name = "NAME")]
        file: Option<String>,
        /// How it is proved and who looked at it.
        #[command(flatten)]
        proving: Proving,
    },
    /// Take an entry out; its id is kept and never given again, and another entry takes its place everywhere.
    Retire {
        /// Kind of the entry.
        kind: String,
        /// Its id.
        id: String,
        /// Id of the entry of the same kind that takes its place.
        #[arg(long = "use", value_name = "OTHER")]
        instead: String,
        /// How it is proved and who looked at it.
        #[command(flatten)]
        proving: Proving,
    },
    /// Take the last edit back.
    Undo,
    /// Write the knowledge that counts into a new folder, to be edited there.
    Unpack {
        /// A folder that is not there, or empty.
        folder: PathBuf,
    },
    /// Say in words what is different between two folders.
    Changes {
        /// Folder with the old files, or `built-in`.
        old: PathBuf,
        /// Folder with the new files, or `built-in`.
        new: PathBuf,
        /// One JSON value and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Draw the cause graph, or what is around one entry.
    Picture {
        /// Format of the picture.
        #[arg(long, value_enum)]
        format: PictureFormat,
        /// Id of the cause, condition, damage, finding or reading to draw around.
        #[arg(long, value_name = "ID")]
        around: Option<String>,
        /// Links up and down from there.
        #[arg(long, value_name = "COUNT", default_value_t = 2, requires = "around")]
        steps: usize,
    },
    /// Tables of causes by symptom, to print and hang on the wall.
    Wall {
        /// One finding; without it, every symptom that is a complaint.
        finding: Option<String>,
        /// A page to print.
        #[arg(long, conflicts_with = "markdown")]
        html: bool,
        /// Markdown, as without a switch.
        #[arg(long)]
        markdown: bool,
        /// Pump family.
        #[arg(long, default_value = "oil_backed", value_name = "FAMILY")]
        family: String,
    },
    /// Write the knowledge that counts into one file with its hash.
    Pack {
        /// A file that is not there.
        file: PathBuf,
    },
    /// Check a packed file and write its knowledge into a new folder.
    Open {
        /// The packed file.
        file: PathBuf,
        /// A folder that is not there, or empty.
        folder: PathBuf,
    },
    /// Say what confirmed jobs make of its numbers; accept or reject each.
    Learn(Learn),
    /// Say where it is blind: causes nothing tells apart, links that rest on practice or memory, old reviews, disputes.
    BlindSpots(BlindSpots),
}

/// How an edit is proved before it is saved.
#[derive(Debug, Clone, Default, Args)]
#[allow(clippy::struct_excessive_bools)] // one per switch
pub struct Proving {
    /// Play the cases it can move before and after, and say which come out otherwise; not saved if one gets worse.
    #[arg(long)]
    pub prove: bool,
    /// With --prove, ask the cases step by step too, not only with all facts given; slower.
    #[arg(long, requires = "prove")]
    pub asked: bool,
    /// With --prove, save it even if a case gets worse.
    #[arg(long, requires = "prove")]
    pub even_if_worse: bool,
    /// Only say what it does; save nothing.
    #[arg(long)]
    pub without_saving: bool,
    /// Initials and role of the second person who read it; needed for safety text.
    #[arg(long, value_name = "INITIALS")]
    pub second: Option<String>,
}

/// Formats of `knowledge picture`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PictureFormat {
    /// For graph-drawing programs.
    Dot,
    /// A drawing by itself.
    Svg,
}

/// Say what confirmed jobs make of its numbers; accept or reject each.
///
/// Without --write nothing is written into the knowledge: what is accepted is told as path and value. Every decision is kept
/// in learned.jsonl beside the files of --knowledge.
#[derive(Debug, Args)]
pub struct Learn {
    /// Days in which a job loses half its weight; without it all jobs weigh the same.
    #[arg(long, value_name = "DAYS", value_parser = above_zero)]
    pub half_life: Option<f64>,
    /// Every number that was counted, not only those that need a change.
    #[arg(long)]
    pub all: bool,
    /// Path of a number to be changed; may be given several times.
    #[arg(long, value_name = "PATH", requires = "by")]
    pub accept: Vec<String>,
    /// Path of a number that stays; may be given several times.
    #[arg(long, value_name = "PATH", requires = "by")]
    pub reject: Vec<String>,
    /// Initials and role of who decides.
    #[arg(long, value_name = "INITIALS")]
    pub by: Option<String>,
    /// Write what is accepted into the files of --knowledge, as one edit that can be taken back.
    #[arg(long, requires = "accept", conflicts_with = "json")]
    pub write: bool,
    /// How it is proved and who looked at it.
    #[command(flatten)]
    pub proving: Proving,
    /// One JSON value and nothing else.
    #[arg(long)]
    pub json: bool,
}

/// Say where the knowledge is blind.
#[derive(Debug, Args)]
pub struct BlindSpots {
    /// Pump family.
    #[arg(long, default_value = "oil_backed", value_name = "FAMILY")]
    pub family: String,
    /// Causes count as told apart if some answer differs by so much between them.
    #[arg(long, default_value_t = 0.65, value_name = "SHARE", value_parser = share)]
    pub apart: f64,
    /// Months after which a review is old.
    #[arg(long, default_value_t = 24, value_name = "MONTHS")]
    pub stale: u32,
    /// Rows of each list at most; 0 = all. JSON holds all.
    #[arg(long, default_value_t = 20, value_name = "COUNT")]
    pub most: usize,
    /// One JSON value and nothing else.
    #[arg(long)]
    pub json: bool,
}

fn above_zero(text: &str) -> Result<f64, String> {
    let number: f64 = text.parse().map_err(|_| format!("`{text}` is not a number"))?;
    if number.is_finite() && 0.0 < number { Ok(number) } else { Err("it must be above 0".to_owned()) }
}

fn share(text: &str) -> Result<f64, String> {
    let number: f64 = text.parse().map_err(|_| format!("`{text}` is not a number"))?;
    if (0.0..=1.0).contains(&number) { Ok(number) } else { Err("it must lie between 0 and 1".to_owned()) }
}

/// Formats of `knowledge export`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// Bayesian interchange format: opens in general-purpose Bayesian-network libraries.
    Bif,
}
