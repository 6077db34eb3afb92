//! Turns the operator's words into findings, then asks the questions of the first minute.

use super::console::Halt;
use super::find::with_alias;
use super::session::{Phase, Session, Wants};
use crate::knowledge::schema::{FirstQuestion, Id};

/// What is known of the complaint before it is saved.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Heard {
    /// Words whose matches are being chosen from.
    words: Option<String>,
    /// Times nothing was found.
    misses: usize,
    /// True once the list of usual complaints is offered.
    list: bool,
}

impl Session<'_> {
    /// Asks for the complaint, or goes on where an order interrupted.
    pub(super) fn complaint(&mut self, heard: &Heard) -> Result<(), Halt> {
        if heard.list {
            return self.usual_complaints();
        }
        let words = match &heard.words {
            Some(words) => Some(words.clone()),
            None => self.hear(ask_words(heard), Wants::Words)?,
        };
        let Some(words) = words else {
            self.phase = Phase::Complaint(Heard { list: true, ..Heard::default() });
            return Ok(());
        };
        self.phase = Phase::Complaint(Heard { words: Some(words.clone()), ..heard.clone() });
        self.match_words(&words, heard)
    }

    /// Lists what the words may mean and saves what was chosen.
    fn match_words(&mut self, words: &str, heard: &Heard) -> Result<(), Halt> {
        let hits = self.complaints(words);
        if hits.is_empty() {
            return self.no_match(words, heard);
        }
        let lines: Vec<String> =
            hits.iter().map(|hit| with_alias(&self.sitting.name_of(&hit.id), &hit.matched)).collect();
        self.say("Which of these fit?")?;
        let chosen = self.choose_some(&lines)?;
        let ids: Vec<Id> = chosen.into_iter().filter_map(|at| hits.get(at)).map(|hit| hit.id.clone()).collect();
        self.save_complaint(words, &ids)
    }

    /// Nothing in the knowledge is called like that; the words are kept all the same.
    fn no_match(&mut self, words: &str, heard: &Heard) -> Result<(), Halt> {
        let event = self.sitting.complaint(words, &[]);
        if !self.keep(event)? {
            self.phase = Phase::Complaint(heard.clone());
            return Ok(());
        }
        self.say("Nothing here is called like that. Your words are kept.")?;
        let misses = heard.misses + 1;
        self.phase = Phase::Complaint(Heard { words: None, misses, list: 1 < misses });
        Ok(())
    }

    /// The complaints people have most words for, numbered.
    fn usual_complaints(&mut self) -> Result<(), Halt> {
        let usual = self.most_named();
        self.say("The most usual complaints:")?;
        let lines: Vec<String> = usual.iter().map(|id| self.sitting.name_of(id)).collect();
        let chosen = self.choose_some(&lines)?;
        let ids: Vec<Id> = chosen.iter().filter_map(|at| usual.get(*at)).cloned().collect();
        if ids.is_empty() {
            self.phase = Phase::FirstMinute(0);
            return Ok(());
        }
        let names: Vec<&str> = chosen.iter().filter_map(|at| lines.get(*at)).map(String::as_str).collect();
        self.save_complaint(&format!("from the list: {}", names.join("; ")), &ids)
    }

    fn save_complaint(&mut self, words: &str, ids: &[Id]) -> Result<(), Halt> {
        let event = self.sitting.complaint(words, ids);
        if self.keep(event)? {
            let names: Vec<String> = ids.iter().map(|id| self.sitting.name_of(id)).collect();
            let names = if names.is_empty() { "the words alone".to_owned() } else { names.join("; ") };
            self.say(&format!("Saved: {names}."))?;
            self.phase = Phase::FirstMinute(0);
        }
        Ok(())
    }

    /// Saves words that were typed but not settled yet; says nothing, since this is on the way out.
    pub(super) fn save_heard(&mut self) {
        let Phase::Complaint(Heard { words: Some(words), .. }) = &self.phase else { return };
        let event = self.sitting.complaint(words, &[]);
        match self.keeper.keep(event) {
            Ok(entry) => self.sitting.apply(entry),
            Err(_) => self.unsaved = true,
        }
        self.phase = Phase::FirstMinute(0);
    }

    /// One question of the first minute; those answered earlier are passed over.
    pub(super) fn first_minute(&mut self, at: usize) -> Result<(), Halt> {
        let knowledge = std::rc::Rc::clone(&self.sitting.knowledge);
        let Some((id, question)) = knowledge.all.first_minute.get_index(at) else {
            self.likely()?;
            self.phase = Phase::Round;
            return Ok(());
        };
        let settled = self.sitting.job.first_minute.contains_key(id);
        if settled || self.first_answer(id, question)? {
            self.phase = Phase::FirstMinute(at + 1);
        }
        Ok(())
    }

    /// False if the answer could not be saved.
    fn first_answer(&mut self, id: &str, question: &FirstQuestion) -> Result<bool, Halt> {
        self.say("")?;
        self.say(&question.question)?;
        let lines: Vec<String> = question.choices.iter().map(|choice| choice.say.clone()).collect();
        let Some(at) = self.choose_one(&lines, "One number; empty line: not now.")? else { return Ok(true) };
        match self.sitting.first_minute(id, at) {
            Some(event) => self.keep(event),
            None => Ok(true),
        }
    }
}

fn ask_words(heard: &Heard) -> &'static str {
    if heard.misses == 0 {
        "What does the operator complain of? In their words; empty line: a list to choose from."
    } else {
        "Say it another way? Empty line: a list to choose from."
    }
}
