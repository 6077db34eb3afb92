//! Turns the results of a job into lines: chain, confirming checks, readings, remedy.

use super::console::Halt;
use super::session::Session;
use super::show::likely_line;
use super::step::minutes;
use crate::job::{Broke, ChainLink, Confirming, ExpectedReading, RemedyView, ResultCause, Status};
use crate::text::capital;

/// Leading causes shown.
const CAUSES: usize = 3;

impl Session<'_> {
    /// The results so far.
    pub(super) fn results(&mut self) -> Result<(), Halt> {
        let results = self.sitting.results(CAUSES);
        self.say("")?;
        self.say("Results so far:")?;
        for (at, cause) in results.causes.iter().enumerate().filter(|(at, cause)| *at == 0 || 0 < cause.row.of_20) {
            self.result(at + 1, cause)?;
        }
        for broke in self.sitting.broke() {
            self.broke(&broke)?;
        }
        for complaint in &results.unexplained {
            self.say(&format!("Still improbable with the leading causes: {complaint}"))?;
        }
        if let Some(row) = self.not_in_graph() {
            self.say(&row)?;
        }
        if !results.conflict.1.is_empty() {
            self.say(&format!("The answers fit badly. Check again first: {}.", results.conflict.1.join("; ")))?;
        }
        if let Some(ending) = results.closed {
            self.say(&format!("Closed: {}.", ending.words()))?;
        }
        self.trouble()
    }

    /// The row of the list that stands for everything the knowledge does not hold.
    fn not_in_graph(&self) -> Option<String> {
        let causes = &self.sitting.knowledge.all.causes;
        let rows = self.sitting.likely(usize::MAX);
        let row = rows.iter().find(|row| causes.get(&row.id).is_some_and(|cause| cause.stands_for_unknown))?;
        Some(format!("{}: {} of 20", row.name, row.of_20))
    }

    fn result(&mut self, number: usize, cause: &ResultCause) -> Result<(), Halt> {
        self.say(&format!("{number}. {}", likely_line(&cause.row)))?;
        self.say(&format!("   Chain: {}", chain(&cause.chain)))?;
        self.say_inner("What usually lets it happen", &cause.lets_it_happen)?;
        for check in cause.confirm.iter().filter(|_| cause.row.status != Status::Confirmed) {
            self.say(&format!("   Would confirm it: {}", confirming(check)))?;
        }
        for reading in &cause.readings {
            self.say(&format!("   Would speak for it: {}", expected(reading)))?;
        }
        for view in &cause.run_on {
            let said = format!("   Until a planned stop: {}: {}. {}", view.name, view.may.words(), view.limits);
            self.say(&said)?;
        }
        match &cause.remedy {
            Some(remedy) => self.remedy(remedy),
            None => Ok(()),
        }
    }

    /// Why a part that was found harmed broke.
    fn broke(&mut self, broke: &Broke) -> Result<(), Halt> {
        let because = broke.because.as_deref().unwrap_or("not known yet");
        self.say(&format!("Why did it break? {}: {because}", broke.name))?;
        if broke.because.is_none() {
            let causes: Vec<String> =
                broke.causes.iter().map(|row| format!("{} {} of 20", row.name, row.of_20)).collect();
            self.say_inner("May have led to it", &causes.join(", "))?;
        }
        self.say_inner("How it looks", &broke.looks.join("; "))?;
        self.say_inner("Stays unexplained by that", &broke.unexplained.join("; "))
    }

    fn remedy(&mut self, remedy: &RemedyView) -> Result<(), Halt> {
        self.say(&format!("   {}: {}, {}", capital(remedy.kind), remedy.name, minutes(remedy.minutes)))?;
        for (at, step) in remedy.steps.iter().enumerate() {
            self.say(&format!("     {}. {step}", at + 1))?;
        }
        self.say_inner("Parts", &remedy.parts.join(", "))?;
        self.say_settings(&remedy.settings, "   ")?;
        self.say_inner("Proved by", &remedy.proof.join("; "))
    }

    fn say_inner(&mut self, name: &str, text: &str) -> Result<(), Halt> {
        if text.is_empty() { Ok(()) } else { self.say(&format!("   {name}: {text}")) }
    }
}

fn chain(links: &[ChainLink]) -> String {
    links.iter().map(|link| format!("{} ({})", link.name, link.kind)).collect::<Vec<_>>().join(" -> ")
}

fn confirming(check: &Confirming) -> String {
    let opens = check.opens.as_ref().map_or(String::new(), |opens| format!(", open first: {opens}"));
    format!("{}, {}{opens}; finds it in {:.0} of 20", check.name, minutes(check.minutes), check.finds_of_20)
}

fn expected(reading: &ExpectedReading) -> String {
    format!("{} {} the healthy {}, in {:.0} of 20", reading.name, reading.way, reading.healthy, reading.of_20)
}
