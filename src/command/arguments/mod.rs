//! The words of the command line.

mod knowledge;
mod trial;

use crate::knowledge::schema::Help;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

pub use knowledge::{BlindSpots, Format, KnowledgePart, KnowledgeWork, Learn, PictureFormat, Proving};
pub use trial::Trial;

/// Find the fault of an oil-backed diaphragm pump, from the complaint to a named cause.
///
/// Without a command it opens a job: full screen at a terminal, by lines through a pipe or with --plain.
/// Site isolation procedures, local codes and licensed practice go before anything said here.
#[derive(Debug, Parser)]
#[command(name = "weephole", version, max_term_width = 100)]
pub struct Arguments {
    /// Folder where jobs are kept; made if missing.
    #[arg(long, global = true, value_name = "DIR")]
    pub data_dir: Option<PathBuf>,
    /// Folder with knowledge files; each takes the place of the built-in file of the same name.
    #[arg(long, global = true, value_name = "DIR")]
    pub knowledge: Option<PathBuf>,
    /// By lines, without moving the cursor.
    #[arg(long, global = true)]
    pub plain: bool,
    /// Colours of the full screen, for this once; a key there keeps another one.
    #[arg(long, global = true, value_enum, value_name = "THEME")]
    pub theme: Option<ThemeWord>,
    /// Marks, bars and dials of the full screen in ASCII.
    #[arg(long, global = true)]
    pub ascii: bool,
    /// What to do; nothing = open a job.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// Words for the themes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ThemeWord {
    /// Light text on black.
    Dark,
    /// Dark text on white, for the sun.
    Light,
    /// The brightest on black.
    HighContrast,
    /// Without colours: bold and reverse only.
    Mono,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Open a job, or take one up again.
    Job(Job),
    /// Look at the knowledge and check it.
    Knowledge(KnowledgePart),
    /// Rank causes and next steps from a file of facts.
    Rank(Rank),
    /// Work out a law of physics: what a pump should read.
    Reckon(Reckon),
    /// What a pump should read, healthy and with each fault, from its sheet.
    Expect(Expect),
    /// Print the record of a job.
    Record(Record),
    /// List and search past jobs, or take in those of another laptop.
    Jobs(Jobs),
    /// Practise on pumps that are not there; nothing of it reaches the real jobs.
    Practice(PracticePart),
    /// Print completions for a shell.
    Completions {
        /// Shell.
        #[arg(value_enum)]
        shell: Shell,
    },
    /// Print the manual page, or write one for every command into a folder.
    Man {
        /// Folder for the pages; made if missing.
        #[arg(long, value_name = "DIR")]
        folder: Option<PathBuf>,
    },
    /// Play simulated jobs whose faults are known, and say how well the program finds them.
    Trial(Trial),
}

/// Open a job, or take one up again.
#[derive(Debug, Args)]
pub struct Job {
    /// Number of the job to take up again.
    #[arg(long, value_name = "NUMBER")]
    pub resume: Option<u32>,
    /// Journal file of the job to take up again.
    #[arg(long, value_name = "FILE", conflicts_with = "resume")]
    pub journal: Option<PathBuf>,
    /// Pump sheet of the pump (*.pump.ron).
    #[arg(long, value_name = "FILE")]
    pub pump: Option<PathBuf>,
    /// Pump family of a new job.
    #[arg(long, default_value = "oil_backed", value_name = "FAMILY")]
    pub family: String,
}

/// Rank causes and next steps from a file of facts.
#[derive(Debug, Args)]
pub struct Rank {
    /// Facts (RON).
    pub facts: PathBuf,
    /// One JSON value and nothing else.
    #[arg(long)]
    pub json: bool,
}

/// Work out a law of physics: what a pump should read.
///
/// Without a law it lists them all.
#[derive(Debug, Args)]
pub struct Reckon {
    /// Name of the law.
    pub law: Option<String>,
    /// What goes in, such as diameter="2 mm".
    #[arg(value_name = "KEY=VALUE UNIT")]
    pub given: Vec<String>,
    /// One JSON value and nothing else.
    #[arg(long)]
    pub json: bool,
}

/// What a pump should read, healthy and with each fault, from its sheet.
#[derive(Debug, Args)]
pub struct Expect {
    /// Pump sheet (*.pump.ron).
    pub pump: PathBuf,
    /// Running state in words parted by commas, such as "half, flooded"; without it each reading in its own state.
    #[arg(long, value_name = "WORDS")]
    pub state: Option<String>,
    /// One JSON value and nothing else.
    #[arg(long)]
    pub json: bool,
}

/// Print the record of a job, the same each time: it is worked out from the journal alone.
#[derive(Debug, Args)]
pub struct Record {
    /// Number of the job.
    #[arg(required_unless_present = "journal")]
    pub number: Option<u32>,
    /// Journal file instead of a number.
    #[arg(long, value_name = "FILE", conflicts_with = "number")]
    pub journal: Option<PathBuf>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = RecordFormat::Md)]
    pub format: RecordFormat,
    /// File to write instead of printing; an old one is replaced.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}

/// Formats of `record`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum RecordFormat {
    /// Markdown.
    Md,
    /// One page without script or anything loaded; made to be printed.
    Html,
    /// Every part of the record as one JSON value.
    Json,
    /// The numbers taken, as a table.
    Csv,
    /// The short page for the next shift, in Markdown.
    Handover,
}

/// Shells that complete words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Shell {
    /// bash.
    Bash,
    /// zsh.
    Zsh,
    /// fish.
    Fish,
    /// PowerShell.
    Powershell,
}

/// Practise on pumps that are not there: choose a lesson, or let the growing intervals choose.
#[derive(Debug, Args)]
pub struct PracticePart {
    /// Lesson; without one the list of what is due is shown.
    pub lesson: Option<String>,
    /// Seed of the pump: the same seed, the same pump.
    #[arg(long, value_name = "NUMBER")]
    pub seed: Option<u64>,
    /// Help: watch it done, half of it, or none.
    #[arg(long, value_enum)]
    pub with: Option<HelpWord>,
}

/// Words for help in practice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum HelpWord {
    /// Watch the planner do it, with reasons.
    Shown,
    /// Likely causes in sight, hints to be had.
    Half,
    /// Alone.
    Alone,
}

impl From<HelpWord> for Help {
    fn from(word: HelpWord) -> Self {
        match word {
            HelpWord::Shown => Self::Shown,
            HelpWord::Half => Self::Half,
            HelpWord::Alone => Self::Alone,
        }
    }
}

/// List and search past jobs, newest first; with words, those that fit best first.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true)]
#[allow(clippy::struct_excessive_bools)] // one per switch
pub struct Jobs {
    /// Words to look for in pump, complaint, cause, remark, number or id; all must fit, if only nearly.
    pub words: Vec<String>,
    /// Only pumps whose name holds this.
    #[arg(long, value_name = "NAME")]
    pub pump: Option<String>,
    /// Only jobs that are not closed.
    #[arg(long)]
    pub open: bool,
    /// Only jobs that came back: same pump, and same cause or complaint as an earlier one.
    #[arg(long)]
    pub came_back: bool,
    /// Days within which a job counts as come back.
    #[arg(long, value_name = "DAYS", default_value_t = 90, value_parser = clap::value_parser!(i64).range(0..))]
    pub within: i64,
    /// Only jobs whose follow-up date has come.
    #[arg(long)]
    pub due: bool,
    /// Jobs listed at most; 0 = all. JSON and CSV hold all.
    #[arg(long, value_name = "COUNT", default_value_t = 50)]
    pub most: usize,
    /// One JSON value and nothing else.
    #[arg(long)]
    pub json: bool,
    /// A table; no cell can become a formula.
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
    /// Work on jobs.
    #[command(subcommand)]
    pub work: Option<JobsWork>,
}

/// Work on jobs.
#[derive(Debug, Subcommand)]
pub enum JobsWork {
    /// Take in the journals of another laptop: of the same job the longer one is kept, and both where they went
    /// different ways.
    Merge {
        /// Folder with journals, such as the data folder of the other laptop.
        folder: PathBuf,
    },
    /// Print what the jobs tell as flat lines of JSON, for counting over many sites: nothing that anybody typed.
    Export(JobsExport),
    /// Make a case of a confirmed job: an entry to try the knowledge on, printed, or added to a knowledge folder.
    Case(JobsCase),
}

/// Make a case of a confirmed job.
#[derive(Debug, Args)]
pub struct JobsCase {
    /// Number of the job.
    pub number: u32,
    /// Knowledge folder to add it to, as an edit that can be taken back.
    #[arg(long, value_name = "DIR")]
    pub to: Option<PathBuf>,
    /// With --to, only say what it does; save nothing.
    #[arg(long, requires = "to")]
    pub without_saving: bool,
}

/// Print what the jobs tell as flat lines of JSON.
#[derive(Debug, Args)]
pub struct JobsExport {
    /// How it is written.
    #[arg(long, value_enum, default_value_t = RowsFormat::Jsonl)]
    pub format: RowsFormat,
    /// File to write instead of printing; an old one is replaced.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}

/// Formats of `jobs export`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum RowsFormat {
    /// One JSON object a line.
    Jsonl,
}
