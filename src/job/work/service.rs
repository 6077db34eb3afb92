//! Turns the return-to-service list into lines to be answered, judged against this pump's usual values and the declared
//! bands, and into "passed" or "not yet" with what is off.

use crate::job::enter::{Refused, limited};
use crate::job::event::Event;
use crate::job::sitting::Sitting;
use crate::job::views::healthy_words;
use crate::knowledge::schema::{Band, Id, Reading, ServiceLine};
use crate::knowledge::{Scale, applies};
use crate::quantity::echo;

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct ServiceLineView {
    /// Id.
    pub id: Id,
    /// What it is about.
    pub name: String,
    /// The question; for a number, what to read.
    pub ask: String,
    /// How to find out.
    pub how: String,
    /// For a number: unit and band in words.
    pub number: Option<(String, String)>,
    /// Where to look first when it is off.
    pub off: String,
    /// True if the return cannot pass without it.
    pub must: bool,
    /// What was said: as shown, and passed, off or left out.
    pub said: Option<(String, Option<bool>)>,
}

/// The whole list.
#[derive(Debug, Clone, PartialEq)]
pub struct ServiceView {
    /// Lines of this pump, in order.
    pub lines: Vec<ServiceLineView>,
    /// Names of lines that are off, with where to look first.
    pub off: Vec<String>,
    /// Names of lines that are still needed.
    pub open: Vec<String>,
    /// True if nothing is off and every needed line passed.
    pub passes: bool,
}

fn is_off(line: &ServiceLineView) -> bool {
    matches!(line.said, Some((_, Some(false))))
}

impl Sitting {
    /// The return-to-service list as far as it is answered.
    pub fn service(&self) -> ServiceView {
        let lines: Vec<ServiceLineView> = self.service_lines().map(|(id, line)| self.service_line(id, line)).collect();
        let off: Vec<String> = lines
            .iter()
            .filter(|line| is_off(line))
            .map(|line| format!("{}; look first at {}", line.name, line.off))
            .collect();
        let open: Vec<String> =
            lines.iter().filter(|line| self.is_open(line) && !is_off(line)).map(|line| line.name.clone()).collect();
        ServiceView { passes: off.is_empty() && open.is_empty(), lines, off, open }
    }

    /// True if the return cannot pass without this line, and it is not settled.
    fn is_open(&self, line: &ServiceLineView) -> bool {
        line.must && !self.is_settled(&line.id)
    }

    /// True if a line passed, or its number is noted as the first usual value of this pump.
    fn is_settled(&self, line: &str) -> bool {
        let proof = self.job.work.proof.get(line);
        proof.is_some_and(|proof| proof.passed == Some(true) || (proof.passed.is_none() && proof.si.is_some()))
    }

    /// Lines that apply to this pump.
    fn service_lines(&self) -> impl Iterator<Item = (&Id, &ServiceLine)> {
        let fitted = self.job.pump.as_ref().and_then(|pump| pump.fitted.as_ref());
        self.knowledge.all.service.iter().filter(move |(_, line)| {
            let family = applies(&line.families, &self.job.family);
            let has = |what: &String| fitted.is_none_or(|fitted| fitted.contains(what));
            family && line.fitted.as_ref().is_none_or(has)
        })
    }

    fn service_line(&self, id: &Id, line: &ServiceLine) -> ServiceLineView {
        let reading = self.reading_of_line(line);
        let said = self.job.work.proof.get(id).map(|proof| (proof.text.clone(), proof.passed));
        ServiceLineView {
            id: id.clone(),
            name: line.name.clone(),
            ask: line.ask.clone(),
            how: line.how.clone(),
            number: reading.as_ref().map(|reading| (reading.unit.clone(), self.band_words(line, reading))),
            off: line.off.clone(),
            must: line.must,
            said,
        }
    }

    /// The reading of a line, with the line's own band if it has one.
    fn reading_of_line(&self, line: &ServiceLine) -> Option<Reading> {
        let mut reading = self.knowledge.all.readings.get(line.reading.as_ref()?)?.clone();
        if let Some(band) = &line.band {
            reading.healthy = band.clone();
        }
        Some(reading)
    }

    fn band_words(&self, line: &ServiceLine, reading: &Reading) -> String {
        let usual = line.reading.as_ref().and_then(|id| self.facts().usual.get(id));
        match (&reading.healthy, usual) {
            (Band::OfUsual(..), Some(usual)) => format!("{} ({})", healthy_words(reading), echo(*usual)),
            (Band::OfUsual(..), None) => format!("{}, which is not known: it becomes that", healthy_words(reading)),
            _ => healthy_words(reading),
        }
    }

    /// A number for a line, judged: within its band and the gauge's error it passes. Without the usual value that its
    /// band needs, it is noted only.
    pub fn prove(&self, id: &str, text: &str) -> Result<(Event, String, Vec<String>), Refused> {
        let line = self.knowledge.all.service.get(id);
        let line = line.ok_or_else(|| Refused::Unknown { word: limited(id), near: None })?;
        let (Some(reading_id), Some(reading)) = (&line.reading, self.reading_of_line(line)) else {
            return Err(Refused::NotANumber("this line is answered with yes or no".to_owned()));
        };
        let entered = self.measure(reading_id, text, None)?;
        let Event::Measured { si, text, .. } = entered.event else {
            return Err(Refused::NotANumber("this is not a number".to_owned()));
        };
        let passed = self.is_in_band(reading_id, &reading, si);
        let event =
            Event::ProofLine { line: id.to_owned(), reading: Some(reading_id.clone()), text, si: Some(si), passed };
        Ok((event, entered.echo, entered.doubts))
    }

    fn is_in_band(&self, id: &str, reading: &Reading, si: f64) -> Option<bool> {
        let scale = Scale::of(reading).ok()?;
        let (low, high) = scale.healthy.ends(self.facts().usual.get(id).map(|usual| usual.si()))?;
        Some(low - scale.error <= si && si <= high + scale.error)
    }

    /// An answer to a line without a number: passed, off, or left out with a reason.
    pub fn prove_seen(&self, id: &str, passed: Option<bool>, words: &str) -> Event {
        let text = match (passed, words.trim()) {
            (Some(true), "") => "yes",
            (Some(false), "") => "no",
            (None, "") => "not now",
            (_, words) => words,
        };
        Event::ProofLine { line: id.to_owned(), reading: None, text: limited(text), si: None, passed }
    }

    /// Numbers of the list that did not fail, by reading, as typed and in SI: the usual values of this pump once it passed.
    pub fn good_values(&self) -> Vec<(Id, String, f64)> {
        let lines = self.job.work.proof.values().filter(|line| line.passed != Some(false));
        lines.filter_map(|line| Some((line.reading.clone()?, line.text.clone(), line.si?))).collect()
    }

    /// Decides the return to service: passed if nothing is off and every needed line passed, else not yet.
    pub fn returned(&self, words: &str) -> Event {
        let view = self.service();
        let holds_back = |line: &&ServiceLineView| is_off(line) || self.is_open(line);
        let off = view.lines.iter().filter(holds_back).map(|line| line.id.clone()).collect();
        Event::Returned { passed: view.passes, off, words: limited(words) }
    }
}
