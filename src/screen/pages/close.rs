//! Turns the end of a job into its named ending, a remark and the record.

use super::{ABOVE, above, digits, list_row, next, with};
use crate::job::{Ending, Event, Next, Status};
use crate::knowledge::schema::Id;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, Role, acts, arrows, find, hints};
use crate::screen::lines::{blank, para};
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

/// The page that ends a job.
#[derive(Debug)]
pub(in crate::screen) struct Close {
    ways: Vec<Way>,
    at: usize,
    remark: Option<Field>,
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
        ways.push(Way { says: "handed over to somebody else".to_owned(), ending: Ending::HandedOver, cause: None });
        Some(Self { ways, at: 0, remark: None })
    }

    fn choose(&mut self, at: usize) -> Vec<Effect> {
        if at < self.ways.len() {
            self.at = at;
            self.remark = Some(Field::default());
        }
        Vec::new()
    }

    fn type_remark(&mut self, key: KeyEvent) -> Vec<Effect> {
        let Some(field) = &mut self.remark else { return Vec::new() };
        match find(REMARK, key.code) {
            Some(Remark::Close) => {
                let words = field.trimmed().to_owned();
                let Some(way) = self.ways.get(self.at).cloned() else { return Vec::new() };
                let said = format!("Closed: {}.", way.says);
                let event = Event::Closed { ending: way.ending, cause: way.cause, words };
                vec![Effect::Keep(event), Effect::ToJob, Effect::Say(said), Effect::Record]
            }
            Some(Remark::Drop) => {
                self.remark = None;
                Vec::new()
            }
            None => {
                field.press(key);
                Vec::new()
            }
        }
    }
}

impl Page for Close {
    fn is_typing(&self) -> bool {
        self.remark.is_some()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
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
        let entry = self.remark.as_ref().map(|field| {
            let mut lines = para("A remark for the record; it may stay empty.", columns, theme.text);
            lines.push(field.line("Remark:", columns, theme));
            lines
        });
        let title = "a named ending, and the record".to_owned();
        Sheet { place: "END OF THE JOB", title, body, entry: entry.unwrap_or_default(), focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if self.remark.is_some() {
            return self.type_remark(key);
        }
        if let KeyCode::Char(digit @ '1'..='9') = key.code {
            return self.choose(usize::from(digit as u8 - b'1'));
        }
        match find(KEYS, key.code).or_else(|| find(LIST, key.code)) {
            Some(Act::Choose) => self.choose(self.at),
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
