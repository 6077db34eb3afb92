//! Turns one finding or reading into its question, and keys into its answer.
//!
//! Shared by the page of a step, the walk round the pump, the trail and what is told without being asked.

use super::dial::dial_lines;
use super::face::has_room;
use super::keys::{ANSWERS, Bound, Hint, NO_NUMBER, Role, acts, find, hints};
use super::lines::{Lines, flow, hanging, para};
use super::number::{NumberEntry, Typing, Which};
use super::page::{Effect, World};
use super::pages::usual::Usual;
use super::theme::Theme;
use crate::evidence::Answer;
use crate::job::{AskView, NumberView, Sitting};
use crate::knowledge::schema::Id;
use crossterm::event::{KeyCode, KeyEvent};

/// A question being answered.
#[derive(Debug)]
pub(super) struct Ask {
    /// What is asked.
    pub view: AskView,
    check: Option<Id>,
    number: Option<NumberEntry>,
    /// Reading or key that a number goes to: the running state is part of it.
    key: Id,
    /// The running state in full, where the number depends on it.
    state: Option<String>,
    /// The key whose number will be weighed at once: what that takes is made.
    ready_for: Option<Id>,
}

const STATE: &[Bound<()>] =
    &[acts(&[KeyCode::Char('s')], "s", "other state", "the pump runs otherwise: the next running state", ())];

/// What a key has come to.
pub(super) enum Pressed {
    /// Not a key of the question.
    NotMine,
    /// Taken; nothing is settled yet.
    Taken,
    /// Not an answer the job takes; why.
    Refused(String),
    /// Answered: what is to be saved and said, then what opens.
    Answered(Vec<Effect>, Option<Effect>),
}

impl Ask {
    /// A question of a check, or one that nobody asked.
    pub(super) fn new(view: AskView, check: Option<&Id>) -> Self {
        let (key, state) = (view.id.clone(), view.number.as_ref().and_then(|number| number.state.clone()));
        Self { view, check: check.cloned(), number: None, key, state, ready_for: None }
    }

    /// What can be done now.
    pub(super) fn hints(&self) -> Vec<Hint> {
        match (&self.number, &self.view.number) {
            (Some(number), _) => number.hints(),
            (None, Some(view)) => {
                let mut all = vec![Hint {
                    key: KeyCode::Char('1'),
                    shown: "0-9".to_owned(),
                    short: format!("type the number, {}", view.unit),
                    title: "begin to type the number with its unit".to_owned(),
                    role: Role::Answer,
                }];
                all.extend(hints(NO_NUMBER));
                all.extend(self.state.iter().flat_map(|_| hints(STATE)));
                all
            }
            (None, None) => hints(ANSWERS),
        }
    }

    /// True while a number is being entered: no other key counts then.
    pub(super) fn is_busy(&self) -> bool {
        self.number.is_some()
    }

    /// True while letters are typed.
    pub(super) fn is_typing(&self) -> bool {
        self.number.as_ref().is_some_and(NumberEntry::is_typing)
    }

    /// True while there is something to make that the number will take.
    pub(super) fn is_working(&self) -> bool {
        self.view.number.is_some() && self.ready_for.as_ref() != Some(&self.key)
    }

    /// Makes a portion of it, while the person is at the gauge.
    pub(super) fn work(&mut self, sitting: &Sitting) {
        if sitting.prepare_for(&self.key) {
            self.ready_for = Some(self.key.clone());
        }
    }

    /// Takes a key.
    pub(super) fn press(&mut self, key: KeyEvent, sitting: &Sitting) -> Pressed {
        if let Some(number) = &mut self.number {
            return match number.press(key, sitting) {
                Typing::Goes => Pressed::Taken,
                Typing::Dropped => {
                    self.number = None;
                    Pressed::Taken
                }
                Typing::Stands(event, echo) => {
                    self.number = None;
                    self.stands(vec![Effect::Keep(*event), Effect::Say(saved(&self.view.name, &echo))])
                }
            };
        }
        let table = if self.view.number.is_some() { NO_NUMBER } else { ANSWERS };
        if let Some(answer) = find(table, key.code) {
            return self.answered(answer, sitting);
        }
        if self.state.is_some() && find(STATE, key.code).is_some() {
            self.other_state(sitting);
            return Pressed::Taken;
        }
        if self.view.number.is_some() && NumberEntry::begins(key.code) {
            self.begin().press(key, sitting);
            return Pressed::Taken;
        }
        Pressed::NotMine
    }

    /// Pasted text is a number.
    pub(super) fn paste(&mut self, text: &str, sitting: &Sitting) {
        if self.view.number.is_some() {
            self.begin().paste(text, sitting);
        }
    }

    /// The running state after this one.
    fn other_state(&mut self, sitting: &Sitting) {
        let states = sitting.states_of(&self.key);
        let at = states.iter().position(|(key, _)| *key == self.key).map_or(0, |at| at + 1);
        if let Some((key, state)) = states.into_iter().cycle().nth(at) {
            (self.key, self.state) = (key, Some(state));
        }
    }

    /// What the number should be on this pump, with the number typed so far.
    pub(super) fn dial(&self, sitting: &Sitting, columns: usize, world: &World) -> Lines {
        let Some(dial) = self.state.as_ref().and_then(|_| sitting.dial(&self.key)) else { return Lines::new() };
        let value = self.number.as_ref().and_then(NumberEntry::value);
        let value = value.filter(|(key, _)| *key == self.key).and_then(|(key, si)| sitting.on_dial(key, si));
        dial_lines(&dial, value.as_ref(), (columns, has_room(world.size)), &world.theme)
    }

    fn begin(&mut self) -> &mut NumberEntry {
        let (id, check) = (&self.key, self.check.as_ref());
        self.number.get_or_insert_with(|| NumberEntry::new(id, check, Which::Now))
    }

    fn answered(&self, answer: Answer, sitting: &Sitting) -> Pressed {
        let said = saved(&self.view.name, answer.words());
        match sitting.answer(&self.view.id, answer, self.check.as_deref()) {
            Ok(event) => Pressed::Answered(vec![Effect::Keep(event), Effect::Say(said)], None),
            Err(refused) => Pressed::Refused(refused.to_string()),
        }
    }

    /// A number that says nothing without the usual one asks for that next.
    fn stands(&self, effects: Vec<Effect>) -> Pressed {
        let needs_usual = self.view.number.as_ref().is_some_and(|number| number.needs_usual);
        let usual = needs_usual.then(|| Effect::Open(Box::new(Usual::new(&self.view))));
        Pressed::Answered(effects, usual)
    }

    /// The question.
    pub(super) fn question(&self, columns: usize, theme: &Theme) -> Lines {
        para(&self.view.question, columns, theme.strong)
    }

    /// How to find out.
    pub(super) fn how(&self, columns: usize, theme: &Theme) -> Lines {
        let mut lines = Lines::new();
        let label = if self.view.number.is_some() { "With:" } else { "How:" };
        part(&mut lines, label, &self.view.how, (columns, theme));
        if let Some(number) = &self.view.number {
            lines.extend(number_lines(number, columns, theme));
            part(&mut lines, "Running state:", self.state.as_deref().unwrap_or_default(), (columns, theme));
        }
        part(&mut lines, "Not to be confused with:", &self.view.look_alike, (columns, theme));
        lines
    }

    /// What is being typed.
    pub(super) fn entry(&self, world: &World, columns: usize) -> Lines {
        let unit = self.view.number.as_ref().map(|number| number.unit.as_str()).unwrap_or_default();
        self.number.as_ref().map(|number| number.lines(unit, columns, &world.theme)).unwrap_or_default()
    }
}

fn number_lines(number: &NumberView, columns: usize, theme: &Theme) -> Lines {
    let mut lines = Lines::new();
    part(&mut lines, "Take it at:", &number.running_state, (columns, theme));
    lines.extend(hanging(("Healthy:", theme.dim), (&number.healthy, theme.strong), columns));
    match &number.usual {
        Some(usual) => lines.extend(hanging(("Usual here:", theme.dim), (usual, theme.strong), columns)),
        None if number.needs_usual => lines.extend(flow(&[("Usual here: not known yet.", theme.dim)], columns)),
        None => {}
    }
    lines
}

/// A labelled part, unless there is nothing to say.
pub(super) fn part(lines: &mut Lines, label: &str, text: &str, (columns, theme): (usize, &Theme)) {
    if !text.is_empty() {
        lines.extend(hanging((label, theme.dim), (text, theme.text), columns));
    }
}

fn saved(name: &str, answer: &str) -> String {
    format!("Saved: {name}: {answer}.")
}
