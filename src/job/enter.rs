//! Turns what a person enters into an event to be saved, or into a question back.

use super::event::Event;
use super::sitting::Sitting;
use crate::evidence::{Answer, Shown, State, number_key, of_key, shown};
use crate::knowledge::schema::Id;
use crate::knowledge::{did_you_mean, dimension_named, plausible};
use crate::quantity::{Parsed, Verdict, echo_entered, find_unit, in_unit, judge, parse};
use crate::text::clean;
use thiserror::Error;

/// Longest remark taken, in characters.
const WORDS_LIMIT: usize = 400;

/// An entered number, understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Entered {
    /// The event to save.
    pub event: Event,
    /// The number in two units.
    pub echo: String,
    /// Questions back; the number counts once the person lets it stand.
    pub doubts: Vec<String>,
}

/// Why an entry is not taken.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Refused {
    /// There is no such finding or reading.
    #[error("there is no `{word}`{}", near.as_ref().map_or(String::new(), |near| format!("; did you mean `{near}`?")))]
    Unknown {
        /// As typed.
        word: String,
        /// Nearest id.
        near: Option<String>,
    },
    /// Not a number with a unit of the right kind.
    #[error("{0}")]
    NotANumber(String),
    /// Not a running state.
    #[error("{0}")]
    State(String),
    /// A part was found harmed, and it is not known why: closing needs a reason.
    #[error("it is not known why this happened: {0}; state a reason for closing all the same")]
    NoReason(String),
    /// A number no gauge can show.
    #[error("{0}")]
    Impossible(String),
}

impl Sitting {
    /// The operator's words and the findings they name.
    pub fn complaint(&self, words: &str, findings: &[Id]) -> Event {
        Event::Complaint { words: limited(words), findings: findings.to_vec() }
    }

    /// An answer to a question of the first minute, by the number of the choice; the words are kept with it.
    pub fn first_minute(&self, question: &str, choice: usize) -> Option<Event> {
        let chosen = self.knowledge.all.first_minute.get(question)?.choices.get(choice)?;
        Some(Event::FirstMinute {
            question: question.to_owned(),
            say: chosen.say.clone(),
            yes: chosen.yes.clone(),
            no: chosen.no.clone(),
        })
    }

    /// An answer to a finding. A reading takes only answers that say nothing (cannot be read, does not apply).
    pub fn answer(&self, finding: &str, answer: Answer, check: Option<&str>) -> Result<Event, Refused> {
        let silent_reading = !answer.speaks() && self.knowledge.all.readings.contains_key(finding);
        if silent_reading || self.knowledge.all.findings.contains_key(finding) {
            return Ok(Event::Answered { finding: finding.to_owned(), answer, check: check.map(str::to_owned) });
        }
        Err(Self::unknown(finding, self.knowledge.all.findings.keys()))
    }

    /// A number for a reading or key; behind `@` may stand words of the running state it was taken in.
    pub fn measure(&self, reading: &str, text: &str, check: Option<&str>) -> Result<Entered, Refused> {
        let (key, number) = self.keyed(reading, text)?;
        let (parsed, doubts) = self.number(reading, number)?;
        let event = Event::Measured {
            reading: key,
            text: limited(number),
            si: parsed.quantity.si(),
            check: check.map(str::to_owned),
        };
        Ok(Entered { event, echo: echo_entered(&parsed), doubts })
    }

    /// A number known in SI, entered in the reading's own unit, with what was entered; can't-tell where there is none.
    pub fn entered_si(&self, reading: &str, si: Option<f64>, check: Option<&str>) -> Option<(Event, String)> {
        let Some(si) = si else {
            let answer = Answer::CantTell;
            return Some((self.answer(reading, answer, check).ok()?, answer.words().to_owned()));
        };
        let quantity = self.quantity_of(reading, si)?;
        let unit = find_unit(quantity.dimension(), &self.reading_of(reading)?.unit)?;
        let text = in_unit(quantity, unit);
        Some((self.measure(reading, &text, check).ok()?.event, text))
    }

    /// The usual value of a reading on this pump.
    pub fn usual(&self, reading: &str, text: &str) -> Result<Entered, Refused> {
        let (key, number) = self.keyed(reading, text)?;
        let (parsed, doubts) = self.number(reading, number)?;
        let event = Event::Usual { reading: key, text: limited(number), si: parsed.quantity.si() };
        Ok(Entered { event, echo: echo_entered(&parsed), doubts })
    }

    /// Takes an answer or number back.
    pub fn withdraw(&self, id: &str) -> Result<Event, Refused> {
        if self.job.given.contains_key(id) {
            return Ok(Event::Withdrawn { id: id.to_owned() });
        }
        Err(Self::unknown(id, self.job.given.keys()))
    }

    /// The key of a number, with the running state typed behind it, and the number alone.
    fn keyed<'t>(&self, reading: &str, text: &'t str) -> Result<(Id, &'t str), Refused> {
        let Some((number, words)) = text.split_once('@') else { return Ok((reading.to_owned(), text)) };
        self.in_state(reading, words).map(|key| (key, number.trim()))
    }

    /// The key of a reading taken in a running state: words change the state that the reading is usually taken in.
    pub fn in_state(&self, reading: &str, words: &str) -> Result<Id, Refused> {
        let (id, before) = of_key(reading);
        if words.trim().is_empty() {
            return Ok(reading.to_owned());
        }
        let shown = self.knowledge.all.readings.get(id).and_then(shown);
        let Some(Ok(Shown { state: own, .. })) = shown else {
            let name = self.name_of(id);
            return Err(Refused::State(format!("{name} is always read in one running state; leave `@` out")));
        };
        let start = if before.is_empty() { own } else { State::parse(before).unwrap_or(own) };
        let state = start.with_words(&clean(words)).map_err(|word| {
            let known: Vec<&str> = State::words().collect();
            let near = did_you_mean(&word, known.iter().copied());
            let near = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            Refused::State(format!("`{word}` is no word of a running state; {near}words: {}", known.join(", ")))
        })?;
        Ok(number_key(id, &if state == own { String::new() } else { state_words(state) }))
    }

    fn number(&self, key: &str, text: &str) -> Result<(Parsed, Vec<String>), Refused> {
        let id = of_key(key).0;
        let reading = self.knowledge.all.readings.get(id);
        let reading = reading.ok_or_else(|| Self::unknown(id, self.knowledge.all.readings.keys()))?;
        let dimension = dimension_named(&reading.quantity)
            .ok_or_else(|| Refused::NotANumber(format!("the knowledge gives no kind of quantity for `{id}`")))?;
        let parsed = parse(text, dimension, None).map_err(|error| Refused::NotANumber(clean(&error.to_string())))?;
        let mut doubts: Vec<String> = parsed.doubts.iter().map(ToString::to_string).collect();
        match judge(&parsed, plausible(reading).as_ref()) {
            Verdict::Plausible => {}
            Verdict::Doubtful(doubt) => doubts.push(doubt.to_string()),
            Verdict::Impossible(impossible) => return Err(Refused::Impossible(impossible.to_string())),
        }
        Ok((parsed, doubts))
    }

    fn unknown<'k>(word: &str, known: impl Iterator<Item = &'k Id>) -> Refused {
        let near = did_you_mean(word, known.map(String::as_str)).map(str::to_owned);
        Refused::Unknown { word: limited(word), near }
    }
}

/// Words of a state that are never empty.
fn state_words(state: State) -> String {
    let words = state.key();
    if words.is_empty() { "full".to_owned() } else { words }
}

/// Clean, and not longer than a remark may be.
pub(super) fn limited(text: &str) -> String {
    clean(text).trim().chars().take(WORDS_LIMIT).collect()
}
