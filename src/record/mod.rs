//! Turns a job into its record: one plain view, written as Markdown, HTML, JSON or CSV, byte for byte the same each time.
//!
//! [`Sitting`](crate::job::Sitting) → [`RecordView`] → [`write`]. Nothing is computed in a format, nothing is written to disk here.

mod beliefs;
mod csv;
mod handover;
mod html;
mod markdown;
mod readings;
mod sources;
mod view;
mod work;

pub use beliefs::{BeliefLine, BeliefStep, Beliefs, Ranked};
pub use readings::{Again, Gauge, ReadingRow};
pub use view::{CauseTold, LikelyCause, MadeWith, RECORD_VERSION, RecordView, TrailTold};

use crate::job::Sitting;
use crate::quantity::short_number;
use crate::text;

/// Said at the end of every record.
const SITE_RULES: &str =
    "Isolation, opening and work on the pump follow the site procedure, local codes and licensed practice.";

/// Heads the codes of a record.
const CODED: &str = "Coded in the manner of ISO 14224, from memory";

/// How a record is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// Markdown.
    Markdown,
    /// One self-contained page: no script, nothing loaded, made to be printed.
    Html,
    /// Every part of the view.
    Json,
    /// The numbers taken, one per line; no cell can become a formula.
    Csv,
    /// The short page for the next shift, in Markdown.
    Handover,
}

/// The record of a job, LF at line ends and one at the end.
pub fn write(sitting: &Sitting, format: Format) -> String {
    let view = || RecordView::of(sitting);
    match format {
        Format::Markdown => markdown::render(&view()),
        Format::Html => html::render(&view()),
        Format::Json => text::json(&format!("{:#}\n", serde_json::json!(view()))),
        Format::Csv => csv::render(&view()),
        Format::Handover => handover::render(sitting),
    }
}

/// The record of a job in Markdown.
pub fn markdown(sitting: &Sitting) -> String {
    write(sitting, Format::Markdown)
}

/// The head of a record: label and value.
fn head_lines(view: &RecordView) -> Vec<(&'static str, String)> {
    let made = &view.made_with;
    let mut lines = vec![
        ("Pump family:", view.family.clone()),
        ("Opened", format!("{}, last entry {}", view.opened, view.last)),
        ("Program", format!("{}, knowledge {} ({})", made.program, made.release, made.hash)),
    ];
    if let Some(read_with) = &made.read_with {
        lines.push(("Lists and numbers here were worked out with knowledge", read_with.clone()));
    }
    match &view.ended {
        Some(ended) => lines.push(("Ended:", ended.clone())),
        None => lines.push(("Not closed", String::new())),
    }
    lines.extend(view.signed.iter().map(|who| ("Signed:", who.clone())));
    lines.extend(view.follow_up.iter().map(|on| ("Look again on", on.clone())));
    lines
}

/// The codes as lines, headed by [`CODED`].
fn code_lines(view: &RecordView) -> Vec<String> {
    view.codes.iter().map(|(kind, code)| format!("{kind}: {code}")).collect()
}

/// A value with its unit, three digits.
fn with_unit(value: f64, unit: &str) -> String {
    format!("{} {unit}", short_number(value, 3)).trim_end().to_owned()
}

/// The healthy band of a gauge in its unit, or that none is known.
fn band_words(gauge: &Gauge) -> String {
    match gauge.healthy {
        Some((from, to)) => format!("{} to {}", short_number(from, 3), with_unit(to, &gauge.unit)),
        None => "not known".to_owned(),
    }
}

/// The value before the work, or a dash.
fn before_words(again: &Again) -> String {
    again.before.map_or_else(|| "–".to_owned(), |before| with_unit(before, &again.after.unit))
}

/// A cause and its probability.
fn ranked_words(ranked: &Ranked) -> String {
    format!("{} {:.1} %", ranked.name, 100.0 * ranked.probability)
}
