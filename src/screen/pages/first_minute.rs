//! Turns a question of the first minute into numbered choices, and a choice into what it answers.

use super::thinking::Thinking;
use super::{boxed, common, digits, list_row, next};
use crate::knowledge::schema::{FirstQuestion, Id};
use crate::screen::keys::{Bound, COMMON, Hint, Role, acts, arrows, find, hints};
use crate::screen::lines::{blank, para};
use crate::screen::page::{Effect, Page, Purpose, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Choose,
    Skip,
    Down,
    Up,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "the chosen one", "answer with the chosen row", Act::Choose),
    acts(&[KeyCode::Char('s')], "s", "skip", "skip this question", Act::Skip),
];

const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

/// A question of the first minute.
#[derive(Debug)]
pub(in crate::screen) struct FirstMinute {
    id: Id,
    /// Place among the questions, from 0.
    number: usize,
    at: usize,
}

/// The next question that was not answered, from this one on, or the walk round the pump.
pub(in crate::screen) fn page_after(world: &World, from: usize) -> Box<dyn Page> {
    let open = |id: &Id| world.sitting().is_none_or(|sitting| !sitting.job.first_minute.contains_key(id));
    let mut questions = world.knowledge.all.first_minute.keys().enumerate().skip(from);
    match questions.find(|(_, id)| open(id)) {
        Some((number, id)) => boxed(FirstMinute { id: id.clone(), number, at: 0 }),
        None => boxed(Thinking::new(Purpose::Walk)),
    }
}

impl FirstMinute {
    fn question<'w>(&self, world: &'w World) -> Option<&'w FirstQuestion> {
        world.knowledge.all.first_minute.get(&self.id)
    }

    fn many(&self, world: &World) -> usize {
        self.question(world).map_or(0, |question| question.choices.len())
    }

    fn choose(&self, at: usize, world: &World) -> Vec<Effect> {
        let event = world.sitting().and_then(|sitting| sitting.first_minute(&self.id, at));
        let Some(event) = event else { return Vec::new() };
        let say = self.question(world).and_then(|question| question.choices.get(at)).map(|choice| choice.say.clone());
        vec![
            Effect::Keep(event),
            Effect::Say(format!("Saved: {}.", say.unwrap_or_default())),
            Effect::Job(page_after(world, self.number + 1)),
        ]
    }
}

/// The choice behind a digit: 1 to 9, then 0 for the tenth.
fn digit(key: KeyCode) -> Option<usize> {
    let KeyCode::Char(letter) = key else { return None };
    letter.to_digit(10).and_then(|digit| usize::try_from((digit + 9) % 10).ok())
}

impl Page for FirstMinute {
    fn hints(&self, world: &World) -> Vec<Hint> {
        let shown = digits(self.many(world));
        let mut all = vec![Hint {
            key: KeyCode::Char('1'),
            shown,
            short: "choose".to_owned(),
            title: "answer with that row".to_owned(),
            role: Role::Answer,
        }];
        all.extend(hints(KEYS));
        all.extend(hints(LIST));
        all.extend(hints(COMMON));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let Some(question) = self.question(world) else { return Sheet::default() };
        let pinned = para(&question.question, columns, theme.strong);
        let (mut body, mut focus) = (vec![blank()], None);
        for (at, choice) in question.choices.iter().enumerate() {
            let first = body.len();
            let number = match at {
                0..=8 => (at + 1).to_string(),
                9 => "0".to_owned(),
                _ => " ".to_owned(),
            };
            body.extend(list_row(&format!("{number}  {}", choice.say), "", at == self.at, (columns, theme)));
            if at == self.at {
                focus = Some((first, body.len()));
            }
        }
        let many = world.knowledge.all.first_minute.len();
        let title = format!("question {} of {many}, each may be skipped", self.number + 1);
        Sheet { place: "FIRST MINUTE", title, pinned, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if let Some(at) = digit(key.code) {
            return self.choose(at, world);
        }
        match find(KEYS, key.code).or_else(|| find(LIST, key.code)) {
            Some(Act::Choose) => self.choose(self.at, world),
            Some(Act::Skip) => vec![Effect::Job(page_after(world, self.number + 1))],
            Some(Act::Down) => {
                self.at = next(self.at, self.many(world));
                Vec::new()
            }
            Some(Act::Up) => {
                self.at = self.at.saturating_sub(1);
                Vec::new()
            }
            None => common(key, self, world),
        }
    }
}
