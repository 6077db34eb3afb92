//! Turns a job into the page for the next shift: where it stands, what is isolated, what must not be done, what is open.

use super::fold::Given;
use super::gates::{FirstRun, GateKind, Isolation};
use super::next::Next;
use super::sitting::Sitting;
use super::views::stamp;
use crate::quantity::echo_text;

/// Causes told.
const CAUSES: usize = 3;
/// Readings told.
const READINGS: usize = 6;

/// The page for the next shift. Every list is in the order to be read; an empty list has nothing to tell.
#[derive(Debug, Clone, PartialEq)]
pub struct Handover {
    /// The pump, as people call it.
    pub pump: String,
    /// Where the job stands.
    pub stands: Vec<String>,
    /// What is isolated, as said, and since when.
    pub isolated: Vec<String>,
    /// What must not be done, and why.
    pub must_not: Vec<String>,
    /// What was done.
    pub done: Vec<String>,
    /// What is open or could not be done.
    pub open: Vec<String>,
}

impl Handover {
    /// The parts with their headings, in the order of the page; parts with nothing to tell say so or are left out.
    pub fn parts(&self) -> Vec<(&'static str, &[String])> {
        let parts = [
            ("Must not be done", self.must_not.as_slice()),
            ("Isolated", &self.isolated),
            ("Where the job stands", &self.stands),
            ("Open", &self.open),
            ("Done", &self.done),
        ];
        parts.into_iter().filter(|(_, lines)| !lines.is_empty()).collect()
    }
}

impl Sitting {
    /// The page for the next shift. Times are in UTC, as in the record.
    pub fn handover(&self) -> Handover {
        Handover {
            pump: self.header().pump,
            stands: self.stands(),
            isolated: self.isolated(),
            must_not: self.must_not(),
            done: self.done(),
            open: self.open_work(),
        }
    }

    fn stands(&self) -> Vec<String> {
        let mut lines: Vec<String> = self.job.words.iter().map(|words| format!("Complaint: \"{words}\"")).collect();
        lines.extend(self.likely(CAUSES).into_iter().map(|row| {
            let (name, status, of_20) = (row.name, row.status.word(), row.of_20);
            format!("{name}: {status}, {of_20} of 20 jobs like this")
        }));
        lines.push(match &self.job.closed {
            Some((ending, cause, words)) => {
                let cause = cause.as_ref().map(|id| format!(": {}", self.name_of(id))).unwrap_or_default();
                let words = if words.is_empty() { String::new() } else { format!(" ({words})") };
                format!("Ended: {}{cause}{words}", ending.words())
            }
            None => "The job is open".to_owned(),
        });
        lines.extend(self.job.signed.iter().map(|who| format!("Signed: {who}")));
        lines.extend(self.job.follow_up.map(|on| format!("Look again on {on}")));
        if let Some(last) = self.job.last {
            lines.push(format!("Last entry {}", stamp(last)));
        }
        lines
    }

    fn isolated(&self) -> Vec<String> {
        let mut lines = vec![match &self.gates().isolation {
            Isolation::Proved(words, at) => format!("Isolated and proved {}: {words}", stamp(*at)),
            Isolation::Lapsed(words, why) => format!("Isolation was proved, but {}: {words}", why.words()),
            Isolation::NotPossible(words) => format!("Isolation was not possible: {words}"),
            Isolation::Open => "This job holds no entry that anything is isolated. Look for yourself.".to_owned(),
        }];
        lines.extend(self.gates().liquid.iter().map(|liquid| format!("In the pump: {liquid}")));
        lines
    }

    fn must_not(&self) -> Vec<String> {
        let rules = self.knowledge.all.stop_rules.iter().filter(|(id, _)| self.triggered(id));
        let mut lines: Vec<String> = rules
            .map(|(id, rule)| match self.job.stops.get(id) {
                Some((false, words)) => {
                    format!("Stop rule \"{}\" holds; the site decided to run on: {words}", rule.name)
                }
                _ => format!("Do not start the pump: {}. {}", rule.name, rule.why),
            })
            .collect();
        match &self.gates().isolation {
            Isolation::Proved(..) | Isolation::Lapsed(..) => lines.push(
                "Do not take off a lock or start: the site procedure says who may. Prove zero again before going on."
                    .to_owned(),
            ),
            Isolation::NotPossible(words) => lines.push(format!("Do not open: isolation was not possible ({words})")),
            Isolation::Open => lines.push("Do not open: nothing here says that zero energy was proved".to_owned()),
        }
        match &self.gates().first_run {
            FirstRun::Needed => {
                lines.push("Do not start before the lines before the first run are answered".to_owned());
            }
            FirstRun::NotYet(open) => lines.push(format!("Do not start: still open are {}", open.join(", "))),
            FirstRun::NotNeeded | FirstRun::Cleared(..) => {}
        }
        lines
    }

    fn done(&self) -> Vec<String> {
        let begun = self.job.begun();
        let mut lines: Vec<String> = begun.iter().map(|check| self.name_of(check)).collect();
        let numbers = self.job.given.iter().rev().filter_map(|(id, (given, at, _))| match given {
            Given::Number(text, _) => {
                let shown = self.facts().numbers.get(id).map_or(text.clone(), |m| echo_text(text, m.quantity));
                Some(format!("{}: {shown}, read {}", self.name_of(id), stamp(*at)))
            }
            Given::Answer(_) => None,
        });
        lines.extend(numbers.take(READINGS));
        lines
    }

    fn open_work(&self) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        if self.job.closed.is_none() {
            lines.push(match self.next() {
                Next::Stop(stop) => format!("Answer the stop rule first: {}", stop.name),
                Next::Gate(gate) if gate.kind == GateKind::FirstRun => {
                    "Next: the lines before the first run".to_owned()
                }
                Next::Gate(gate) => format!("Next: isolate and prove zero, then {}", gate.before),
                Next::Sheet(step) => {
                    format!("Rebuild sheet open: {}, step {} of {}: {}", step.name, step.step.0, step.step.1, step.act)
                }
                Next::Try(view) => format!("Put right and not tried: {}", view.changed.join("; ")),
                Next::Return(view) => format!("Return to service, still needed: {}", view.open.join(", ")),
                Next::Ask(step) => format!("Next: {}", step.name),
                Next::Ended(ending) => format!("The questions ended: {}", ending.words()),
            });
        }
        let barred = self.job.barred.iter();
        lines.extend(barred.map(|(check, reason)| format!("Not done: {} ({reason})", self.name_of(check))));
        let unexplained = self.results(CAUSES).unexplained;
        lines.extend(unexplained.into_iter().map(|said| format!("Not explained yet: {said}")));
        lines.extend(self.trouble());
        lines
    }
}
