//! Turns orders that only show something into lines: the list, the trail, terms, help.

use super::console::Halt;
use super::orders::{self, Order};
use super::session::Session;
use crate::job::LikelyRow;
use crate::knowledge::search;

/// Causes listed.
pub(super) const CAUSES: usize = 8;

/// Terms listed at most.
const TERMS: usize = 5;

impl Session<'_> {
    /// Shows what is asked for. Orders that do more are obeyed by the main loop.
    pub(super) fn show(&mut self, order: &Order) -> Result<(), Halt> {
        match order {
            Order::Why => self.why(),
            Order::WhyCause(number) => self.why_cause(*number),
            Order::Doubts => self.doubts(),
            Order::Numbers => self.numbers(),
            Order::Checks => self.checks(),
            Order::Likely => self.likely(),
            Order::Trail => self.trail(),
            Order::Results => self.results(),
            Order::Sheet(words) => self.sheet(words),
            Order::Settings => self.settings(),
            Order::Note(text) => self.note(text),
            Order::Photo(typed) => self.photo(typed),
            Order::Handover => self.handover(),
            Order::Words(term) => self.term(term),
            _ => self.help(),
        }
    }

    /// The likely causes, numbered.
    pub(super) fn likely(&mut self) -> Result<(), Halt> {
        let rows: Vec<String> = self.sitting.likely(CAUSES).iter().map(likely_line).collect();
        self.listed = self.sitting.job.entries.len();
        self.say("")?;
        self.say("Likely causes, of 20 jobs like this:")?;
        self.say_numbered(&rows)?;
        self.trouble()
    }

    /// Says when the answers cannot be weighed together.
    pub(super) fn trouble(&mut self) -> Result<(), Halt> {
        let Some(trouble) = self.sitting.trouble() else { return Ok(()) };
        self.say(&trouble)?;
        self.say("Look through the trail; `change N` or `withdraw N` mends it.")
    }

    fn trail(&mut self) -> Result<(), Halt> {
        let rows: Vec<String> = self
            .sitting
            .trail()
            .iter()
            .map(|row| {
                let aside = row.set_aside.as_ref().map_or(String::new(), |why| format!("; does not count: {why}"));
                format!("{}: {} ({}){aside}", row.name, row.answer, row.from)
            })
            .collect();
        self.say(if rows.is_empty() { "Nothing was answered yet." } else { "Answered so far:" })?;
        self.say_numbered(&rows)?;
        let barred: Vec<String> = self
            .sitting
            .job
            .barred
            .iter()
            .map(|(check, reason)| format!("Not possible now: {} ({reason})", self.sitting.name_of(check)))
            .collect();
        for line in barred {
            self.say(&line)?;
        }
        Ok(())
    }

    /// The page for the next shift.
    fn handover(&mut self) -> Result<(), Halt> {
        let page = self.sitting.handover();
        self.say(&format!("For the next shift: {}", page.pump))?;
        for (title, lines) in page.parts() {
            self.say(&format!("{title}:"))?;
            for line in lines {
                self.say(&format!("  {line}"))?;
            }
        }
        Ok(())
    }

    /// A term, or the nearest ones; without a term, all of them.
    fn term(&mut self, term: &str) -> Result<(), Halt> {
        let knowledge = std::rc::Rc::clone(&self.sitting.knowledge);
        let glossary = &knowledge.all.glossary;
        if term.is_empty() {
            let all: Vec<&str> = glossary.keys().map(String::as_str).collect();
            return self.say(&format!("Terms: {}.", all.join(", ")));
        }
        let exact = glossary.get_key_value(term).into_iter();
        let candidates: Vec<(&str, Vec<&str>)> =
            glossary.keys().map(|key| (key.as_str(), vec![key.as_str()])).collect();
        let hits = search(term, &candidates);
        let near = hits.iter().filter(|hit| hit.id != term).filter_map(|hit| glossary.get_key_value(&hit.id));
        let found: Vec<(&String, &String)> = exact.chain(near).take(TERMS).collect();
        if found.is_empty() {
            return self.say("That term is not explained here. `words` alone lists them.");
        }
        for (key, meaning) in found {
            self.say(&format!("  {key}: {meaning}"))?;
        }
        Ok(())
    }

    fn help(&mut self) -> Result<(), Halt> {
        self.say("These words work at every prompt:")?;
        for line in orders::help_lines() {
            self.say(&line)?;
        }
        self.say("An empty line always means: not now.")
    }
}

/// One row of the list.
pub(super) fn likely_line(row: &LikelyRow) -> String {
    format!("{}: {} of 20, {}, {}", row.name, row.of_20, row.word, row.status.word())
}
