//! Turns a gate into its lines, and the answers to them into the events to be saved.
//!
//! Lines after the isolation and first-run lists of 29 CFR 1910.147 (know, shut down, isolate, lock, relieve, verify) and
//! common practice of the trade.

use super::{GateKind, GateLine, GateView, Takes};
use crate::job::enter::limited;
use crate::job::event::{Event, ZeroProof};

/// What an answer to a line is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Said {
    /// Words.
    Words(String),
    /// Yes.
    Yes,
    /// No.
    No,
}

/// Words that do not name a liquid.
const NOT_KNOWN: &[&str] = &["?", "unknown", "not known", "don't know", "dont know", "no idea", "no"];

const fn words(id: &'static str, ask: &'static str) -> GateLine {
    GateLine { id, ask, takes: Takes::Words, was: None }
}

const fn yes(id: &'static str, ask: &'static str) -> GateLine {
    GateLine { id, ask, takes: Takes::Yes, was: None }
}

/// What is in the pump.
pub(super) const LIQUID: GateLine =
    words("liquid", "What is in the pump? Name; hot, toxic, flammable? Read its data sheet.");

/// Before anything is opened.
pub(super) const ISOLATION: &[GateLine] = &[
    words("who", "Who isolates? Initials and role, and who else works here."),
    words("what", "What is isolated and relieved? Drive, valves, damper, oil side, inlet side."),
    yes("start tried", "Drive locked and tagged, start tried and dead?"),
    yes("gauge at zero", "First proof: did the gauge fall to zero while the pressure fell?"),
    yes("drain without flow", "Second proof: is the drain open, and nothing flows? Blocked proves nothing."),
];

/// Before the first start after work on the pump.
pub(super) const FIRST_RUN: &[GateLine] = &[
    words("who", "Who starts the pump? Initials and role."),
    yes("tools counted", "Tools and rags counted, tray empty, no part left over?"),
    yes("covers on", "Covers, plugs and washers on, bolts drawn up?"),
    yes("guard on", "Guard back on with all its screws?"),
    yes("oil at its mark", "Oil at its mark, breather free?"),
    yes("turned by hand", "Turned two turns by hand, no tight spot?"),
    yes("inlet open", "Inlet fully open, supply full?"),
    yes("outlet open", "Outlet open, to a place that may take the liquid?"),
    yes("relief line free", "Relief and bypass lines free and led away?"),
    yes("people clear", "Locks off by who put them on, people told and clear?"),
    yes("hand at the stop", "One hand at the stop, eyes on the gauge?"),
];

impl GateView {
    /// The events that these answers come to, line by line from the first; a "no" ends the gate as not possible.
    pub fn events(&self, said: &[Said]) -> Vec<Event> {
        let missing: Vec<&GateLine> = self
            .lines
            .iter()
            .enumerate()
            .filter(|(at, line)| !is_answered(line, said.get(*at)))
            .map(|(_, line)| line)
            .collect();
        let word = |id: &str| {
            let at = self.lines.iter().position(|line| line.id == id);
            match at.and_then(|at| said.get(at)) {
                Some(Said::Words(words)) => limited(words),
                _ => String::new(),
            }
        };
        let mut events = Vec::new();
        if self.lines.iter().any(|line| line.id == LIQUID.id) && !missing.iter().any(|line| line.id == LIQUID.id) {
            events.push(Event::Liquid { name: word(LIQUID.id) });
        }
        events.push(match (self.kind, missing.first()) {
            (GateKind::FirstRun, _) => {
                let open = missing.iter().map(|line| line.id.to_owned()).collect();
                Event::FirstRun { who: word("who"), open }
            }
            (GateKind::Isolation, None) => Event::ZeroProved(ZeroProof { who: word("who"), isolated: word("what") }),
            (GateKind::Isolation, Some(line)) => {
                Event::Isolation { proved: false, words: format!("not answered with yes: {}", line.id) }
            }
        });
        events
    }

    /// The events of a gate that is passed, these words to every line that takes words: for stories and trials.
    pub fn all_yes(&self, words: &str) -> Vec<Event> {
        let said = |line: &GateLine| match line.takes {
            Takes::Words => Said::Words(words.to_owned()),
            Takes::Yes => Said::Yes,
        };
        self.events(&self.lines.iter().map(said).collect::<Vec<_>>())
    }

    /// The event for "cannot do this now".
    pub fn refused(&self, why: &str) -> Event {
        let why = if why.trim().is_empty() { "not possible now" } else { why };
        match self.kind {
            GateKind::Isolation => Event::Isolation { proved: false, words: limited(why) },
            GateKind::FirstRun => Event::FirstRun { who: String::new(), open: vec![limited(why)] },
        }
    }
}

/// True if the answer lets the gate go on: a plain yes, or words that name something.
pub fn is_answered(line: &GateLine, said: Option<&Said>) -> bool {
    match (line.takes, said) {
        (Takes::Yes, Some(Said::Yes)) => true,
        (Takes::Words, Some(Said::Words(words))) => {
            let words = words.trim();
            let names = 2 <= words.chars().count();
            names && (line.id != LIQUID.id || !NOT_KNOWN.contains(&words.to_lowercase().as_str()))
        }
        _ => false,
    }
}
