//! Turns the end of a job into its named ending, a remark and the record.

use super::{ABOVE, above, digits, list_row, next, with};
use crate::job::{Ending, Event, Next, Status};
use crate::knowledge::schema::Id;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, Role, acts, arrows, find, hints};
use crate::screen::lines::{Lines, blank, flow, hanging, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

/// A way to end.
#[derive(Debug, Clone)]
struct Way {
    says: String,
    ending: Ending,
    cause: Option<Id>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Choose,
    Down,
    Up,
}

const KEYS: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "the chosen one", "end the job in the chosen way", Act::Choose)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Remark {
    Close,
    Drop,
}

const REMARK: &[Bound<Remark>] = &[
    acts(&[KeyCode::Enter], "Enter", "close the job", "close the job and write the record", Remark::Close),
    acts(&[KeyCode::Esc], "Esc", "back", "back to the ways to end", Remark::Drop),
];

const THOUGHT: &[Bound<Remark>] = &[
    acts(&[KeyCode::Enter], "Enter", "next", "the next question; empty skips it", Remark::Close),
    acts(&[KeyCode::Esc], "Esc", "back", "back", Remark::Drop),
];

/// The page that ends a job.
#[derive(Debug)]
pub(in crate::screen) struct Close {
    ways: Vec<Way>,
    at: usize,
    /// What is being typed: a question's answer, then the remark.
    remark: Option<Field>,
    /// Questions before closing, those answered first.
    thoughts: Vec<(&'static str, &'static str, String)>,
    /// Answers so far; empty = skipped.
    said: Vec<String>,
}

impl Close {
    /// One way per confirmed cause, then the ending the questions came to, then handing over.
    pub(in crate::screen) fn new(world: &World) -> Option<Self> {
        let sitting = world.sitting()?;
        let confirmed = sitting.likely(usize::MAX).into_iter().filter(|row| row.status == Status::Confirmed);
        let mut ways: Vec<Way> = confirmed
            .map(|row| Way {
                says: format!("cause confirmed: {}", row.name),
                ending: Ending::Confirmed,
                cause: Some(row.id),
            })
            .collect();
        if let Next::Ended(ending) = sitting.next()
            && ending != Ending::Confirmed
        {
            ways.push(Way { says: ending.words().to_owned(), ending, cause: None });
        }
        let harmed = sitting.broke().into_iter().filter(|broke| broke.because.is_none());
        ways.extend(harmed.map(|broke| Way {
            says: format!("{} put right; why it broke stays open", broke.name),
            ending: Ending::DamageOnly,
            cause: None,
        }));
        ways.push(Way { says: "handed over to somebody else".to_owned(), ending: Ending::HandedOver, cause: None });
        Some(Self { ways, at: 0, remark: None, thoughts: Vec::new(), said: Vec::new() })
    }

    fn choose(&mut self, at: usize, world: &World) -> Vec<Effect> {
        if let (Some(way), Some(sitting)) = (self.ways.get(at), world.sitting()) {
            self.thoughts = match way.ending {
                Ending::HandedOver => Vec::new(),
                _ => sitting.second_thoughts(way.cause.as_deref()).questions,
            };
            (self.at, self.remark) = (at, Some(Field::default()));
            self.said.clear();
        }
        Vec::new()
    }

    /// The question being answered; none once it is the remark's turn.
    fn thought(&self) -> Option<&(&'static str, &'static str, String)> {
        self.thoughts.get(self.said.len())
    }

    /// Ends the job; what was thought before closing is kept with it.
    fn close(&self, words: &str, world: &World) -> Vec<Effect> {
        let (Some(way), Some(sitting)) = (self.ways.get(self.at), world.sitting()) else { return Vec::new() };
        let event = match sitting.close(way.ending, way.cause.clone(), words) {
            Ok(event) => event,
            Err(refused) => return vec![Effect::Say(format!("Not closed: {refused}."))],
        };
        let thoughts = self
            .thoughts
            .iter()
            .zip(&self.said)
            .map(|((id, ..), words)| Event::SecondThought { question: (*id).to_owned(), words: words.clone() });
        let said = Effect::Say(format!("Closed: {}.", way.says));
        let kept = thoughts.chain([event]).map(Effect::Keep);
        kept.chain([Effect::ToJob, said, Effect::Record]).collect()
    }

    fn type_remark(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(field) = &mut self.remark else { return Vec::new() };
        match find(REMARK, key.code) {
            Some(Remark::Close) if self.said.len() < self.thoughts.len() => {
                self.said.push(field.trimmed().to_owned());
                self.remark = Some(Field::default());
                Vec::new()
            }
            Some(Remark::Close) => {
                let words = field.trimmed().to_owned();
                self.close(&words, world)
            }
            Some(Remark::Drop) => {
                self.remark = if self.said.pop().is_some() { Some(Field::default()) } else { None };
                Vec::new()
            }
            None => {
                field.press(key);
                Vec::new()
            }
        }
    }

    /// What is asked for above the field.
    fn entry(&self, field: &Field, world: &World, columns: usize) -> Lines {
        let theme = &world.theme;
        if let Some((_, question, hint)) = self.thought() {
            let number = format!("{} of {}", self.said.len() + 1, self.thoughts.len());
            let mut lines =
                flow(&[("Before closing,", theme.dim), (&number, theme.dim), (question, theme.strong)], columns);
            if !hint.is_empty() {
                lines.extend(hanging(("Think of:", theme.dim), (hint, theme.text), columns));
            }
            lines.push(field.line("(empty: skipped)", columns, theme));
            return lines;
        }
        let ending = self.ways.get(self.at).map(|way| way.ending);
        let needs = ending.is_some_and(|ending| world.sitting().is_some_and(|sitting| sitting.needs_reason(ending)));
        let ask = if needs {
            "It is not known why this broke. State the reason for closing all the same."
        } else {
            "A remark for the record; it may stay empty."
        };
        let mut lines = para(ask, columns, theme.text);
        lines.push(field.line("Remark:", columns, theme));
        lines
    }
}

impl Page for Close {
    fn is_typing(&self) -> bool {
        self.remark.is_some()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        if self.thought().is_some() && self.remark.is_some() {
            return hints(THOUGHT);
        }
        if self.remark.is_some() {
            return hints(REMARK);
        }
        let mut all = vec![Hint {
            key: KeyCode::Char('1'),
            shown: digits(self.ways.len()),
            short: "choose".to_owned(),
            title: "end the job in that way".to_owned(),
            role: Role::Answer,
        }];
        all.extend(with(KEYS, LIST));
        all.extend(hints(ABOVE));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = para("How does this job end?", columns, theme.strong);
        body.push(blank());
        let mut focus = None;
        for (at, way) in self.ways.iter().enumerate() {
            let first = body.len();
            body.extend(list_row(&format!("{}  {}", at + 1, way.says), "", at == self.at, (columns, theme)));
            if at == self.at {
                focus = Some((first, body.len()));
            }
        }
        body.push(blank());
        let place = world.desk.as_ref().map(|desk| desk.keeper.place()).unwrap_or_default();
        body.extend(para(&format!("The job is saved in {place}. The record goes beside it."), columns, theme.text));
        body.extend(para("Leaving without an ending keeps the job open.", columns, theme.text));
        let entry = self.remark.as_ref().map(|field| self.entry(field, world, columns));
        let title = "a named ending, and the record".to_owned();
        Sheet { place: "END OF THE JOB", title, body, entry: entry.unwrap_or_default(), focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if self.remark.is_some() {
            return self.type_remark(key, world);
        }
        if let KeyCode::Char(digit @ '1'..='9') = key.code {
            return self.choose(usize::from(digit as u8 - b'1'), world);
        }
        match find(KEYS, key.code).or_else(|| find(LIST, key.code)) {
            Some(Act::Choose) => self.choose(self.at, world),
            Some(Act::Down) => {
                self.at = next(self.at, self.ways.len());
                Vec::new()
            }
            Some(Act::Up) => {
                self.at = self.at.saturating_sub(1);
                Vec::new()
            }
            None => above(key, self, world),
        }
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(field) = &mut self.remark {
            field.paste(text);
        }
    }
}
