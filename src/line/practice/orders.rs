//! Turns what is typed in practice into orders; help is printed from the same table.

use crate::practice::Move;
use crate::text::fold;

/// What somebody wants in practice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Order {
    /// Say what is thought to be the matter.
    Think(String),
    /// Name it and end the job.
    Name(String),
    /// Prove zero energy.
    Isolate,
    /// Walk the list before the first run.
    Ready,
    /// Stop the pump for good.
    Stop,
    /// What the planner would do, where help allows it.
    Hint,
    /// The likely causes, where help allows it.
    Likely,
    /// What was found so far.
    Found,
    /// Watch a needle.
    Needle(String),
    /// Give it up.
    GiveUp,
    /// What can be typed.
    Help,
    /// Stop here; the job can be taken up again.
    Leave,
}

/// One row of the table: how it is typed, what it does.
type Row = (&'static str, &'static str, fn(&str) -> Order);

const TABLE: &[Row] = &[
    ("think WORDS", "say what you think it is, before you look", |rest| Order::Think(rest.to_owned())),
    ("isolate", "stop, lock, relieve, prove zero energy twice", |_| Order::Isolate),
    ("ready", "walk the list before the first run", |_| Order::Ready),
    ("stop", "stop the pump for good", |_| Order::Stop),
    ("found", "what was found so far, and the minutes", |_| Order::Found),
    ("needle WORDS", "watch a gauge for some seconds", |rest| Order::Needle(rest.to_owned())),
    ("likely", "the likely causes (with half help)", |_| Order::Likely),
    ("hint", "what the planner would do next (with half help)", |_| Order::Hint),
    ("name WORDS", "name what it is, and end the job", |rest| Order::Name(rest.to_owned())),
    ("surrender", "give it up and hear what it was", |_| Order::GiveUp),
    ("help", "this list", |_| Order::Help),
    ("leave", "stop here; the job can be taken up again", |_| Order::Leave),
];

/// The words of practice: how each is typed and what it does.
pub fn practice_words() -> impl Iterator<Item = (&'static str, &'static str)> {
    TABLE.iter().map(|(form, does, _)| (*form, *does))
}

/// How a move is typed, where an order makes it.
pub(super) fn order_of(made: &Move) -> &'static str {
    match made {
        Move::Isolates => "isolate",
        Move::Readies => "ready",
        Move::Stops => "stop",
        _ => "help",
    }
}

/// A line as an order; anything else is words for a check.
pub(super) fn read(line: &str) -> Option<Order> {
    let (first, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
    let first = fold(first);
    let row = TABLE.iter().find(|(form, ..)| form.split(' ').next() == Some(first.as_str()))?;
    let takes_words = row.0.contains(' ');
    (takes_words || rest.trim().is_empty()).then(|| row.2(rest.trim()))
}
