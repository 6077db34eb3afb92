//! Turns a step of a rebuild sheet into a page: what to do, the hold point, the number that passes it, where it goes back to.

use super::{boxed, common, service};
use crate::job::{Event, Judged, SheetView};
use crate::screen::field::Field;
use crate::screen::keys::{Bound, COMMON, Hint, acts, find, hints, typing, way};
use crate::screen::lines::{Lines, blank, flow, hanging, line, para};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Holds,
    Fails,
    Number,
    NotHere,
    Aside,
    List,
    Done,
    Drop,
}

const YES: &[Bound<Act>] = &[acts(&[KeyCode::Char('y')], "y", "it holds", "the hold point holds: go on", Act::Holds)];
const NUMBER: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "enter the number", "enter the number that is judged", Act::Number)];
const NO: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('n')], "n", "it fails: go back", "it does not hold: go back", Act::Fails)];
const NOT_HERE: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('x')], "x", "not on this design", "this step does not apply to this design", Act::NotHere)];
const WAYS: &[Bound<Act>] = &[
    way(&[KeyCode::Char('a')], "a", "put aside", "put the sheets aside and go on with the questions", Act::Aside),
    way(&[KeyCode::Char('s')], "s", "service list", "the return-to-service list", Act::List),
];
const TYPING: &[Bound<Act>] = &typing(Act::Done, Act::Drop);

/// What is being typed.
#[derive(Debug)]
enum Typing {
    Number(Field),
    Failing(Field, Option<Judged>),
    OwnSheet(Field, Judged),
    Aside(Field),
}

/// The page of a step.
#[derive(Debug)]
pub(in crate::screen) struct RebuildPage {
    step: SheetView,
    typing: Option<Typing>,
}

impl RebuildPage {
    /// For this step.
    pub(in crate::screen) fn new(step: SheetView) -> Self {
        Self { step, typing: None }
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        if self.typing.is_some() {
            return vec![TYPING];
        }
        let mut tables = vec![if self.step.number.is_some() { NUMBER } else { YES }];
        if self.step.hold_point.is_some() {
            tables.push(NO);
        }
        if self.step.by_design {
            tables.push(NOT_HERE);
        }
        tables.push(WAYS);
        tables
    }

    fn keep(&self, world: &World, passed: bool, words: &str, value: Option<(String, f64)>) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        let events = sitting.sheet_events(&self.step, passed, words, value);
        let said = if passed {
            "Saved.".to_owned()
        } else {
            format!("Saved: it does not hold. Back to step {}.", self.step.back_to.0)
        };
        events.into_iter().map(Effect::Keep).chain([Effect::Say(said)]).collect()
    }

    fn act(&mut self, action: Act, world: &World) -> Vec<Effect> {
        match action {
            Act::Holds => return self.keep(world, true, "", None),
            Act::NotHere => return self.keep(world, true, "not on this design", None),
            Act::Fails => self.typing = Some(Typing::Failing(Field::default(), None)),
            Act::Number => self.typing = Some(Typing::Number(Field::default())),
            Act::Aside => self.typing = Some(Typing::Aside(Field::default())),
            Act::List => return vec![Effect::Open(boxed(service::ServicePage::above()))],
            Act::Drop => self.typing = None,
            Act::Done => return self.done(world),
        }
        Vec::new()
    }

    fn done(&mut self, world: &World) -> Vec<Effect> {
        match self.typing.take() {
            Some(Typing::Number(field)) => self.judge(field, world),
            Some(Typing::Failing(field, judged)) => {
                let value = judged.as_ref().map(|judged| judged.value.clone());
                let judged = judged.map_or(String::new(), |judged| format!("{}; ", judged.words));
                self.keep(world, false, &format!("{judged}{}", field.trimmed()), value)
            }
            Some(Typing::OwnSheet(field, judged)) if field.trimmed().is_empty() => {
                self.typing = Some(Typing::Failing(Field::default(), Some(judged)));
                Vec::new()
            }
            Some(Typing::OwnSheet(field, judged)) => {
                let words = format!("{}; own sheet: {}", judged.words, field.trimmed());
                self.keep(world, true, &words, Some(judged.value))
            }
            Some(Typing::Aside(field)) => {
                vec![Effect::Keep(Event::SheetsLeft { words: field.trimmed().to_owned() })]
            }
            None => Vec::new(),
        }
    }

    fn judge(&mut self, field: Field, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        let is_typical = self.step.number.as_ref().is_some_and(|(.., typical)| *typical);
        match sitting.judge_step(&self.step, field.trimmed()) {
            Ok(judged) if judged.is_in => self.keep(world, true, &judged.words, Some(judged.value)),
            Ok(judged) => {
                let said = format!("{}.", judged.words);
                self.typing = Some(if is_typical {
                    Typing::OwnSheet(Field::default(), judged)
                } else {
                    Typing::Failing(Field::default(), Some(judged))
                });
                vec![Effect::Say(said)]
            }
            Err(refused) => {
                self.typing = Some(Typing::Number(field));
                vec![Effect::Say(refused.to_string())]
            }
        }
    }

    fn body(&self, world: &World, columns: usize) -> Lines {
        let (theme, step) = (&world.theme, &self.step);
        let mut body = para(&step.act, columns, theme.strong);
        let mut part = |label: &str, text: &str| {
            if !text.is_empty() {
                body.extend(hanging((label, theme.dim), (text, theme.text), columns));
            }
        };
        part("Parts:", &step.parts.join(", "));
        for rule in &step.renewal {
            part("Renewal:", rule);
        }
        if step.by_design {
            part("Design:", "on some designs only");
        }
        if let Some(hold) = &step.hold_point {
            body.push(blank());
            body.push(line("HOLD POINT", theme.heading));
            body.extend(para(hold, columns, theme.strong));
        }
        let mut part = |label: &str, text: &str| {
            if !text.is_empty() {
                body.extend(hanging((label, theme.dim), (text, theme.text), columns));
            }
        };
        part("Accept:", step.accept.as_deref().unwrap_or_default());
        if let Some((unit, band, typical)) = &step.number {
            let typical = if *typical { "; typical, not yours: your sheet goes first" } else { "" };
            part("To be entered:", &format!("{band}, in {unit} or another unit{typical}"));
        }
        if step.hold_point.is_some() {
            part("If it fails:", &format!("back to step {}: {}", step.back_to.0, step.back_to.1));
        }
        if 0 < step.failed {
            body.extend(para(&format!("Times it failed so far: {}.", step.failed), columns, theme.trouble));
        }
        body
    }

    fn entry(&self, world: &World, columns: usize) -> Lines {
        let theme = &world.theme;
        let (label, field) = match &self.typing {
            None => return Lines::new(),
            Some(Typing::Number(field)) => (">", field),
            Some(Typing::Failing(field, _)) => ("What was seen:", field),
            Some(Typing::OwnSheet(field, _)) => ("This pump's own sheet says (empty: it fails):", field),
            Some(Typing::Aside(field)) => ("Put aside because:", field),
        };
        let mut lines = Lines::new();
        if let Some(Typing::Failing(..)) = &self.typing {
            let back = format!("It goes back to step {}. Not saved yet.", self.step.back_to.0);
            lines.extend(flow(&[(&back, theme.trouble)], columns));
        }
        lines.push(field.line(label, columns, theme));
        lines
    }

    fn field(&mut self) -> Option<&mut Field> {
        match &mut self.typing {
            Some(
                Typing::Number(field) | Typing::Failing(field, _) | Typing::OwnSheet(field, _) | Typing::Aside(field),
            ) => Some(field),
            None => None,
        }
    }
}

impl Page for RebuildPage {
    fn kind(&self) -> Kind {
        Kind::Step
    }

    fn is_typing(&self) -> bool {
        self.typing.is_some()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all: Vec<Hint> = self.tables().into_iter().flat_map(hints).collect();
        if self.typing.is_none() {
            all.extend(hints(COMMON));
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let (step, place) = (&self.step, self.step.place);
        Sheet {
            place: "REBUILD",
            title: format!(
                "{}, step {} of {}  (sheet {} of {})",
                step.name, step.step.0, step.step.1, place.0, place.1
            ),
            cautions: parts::cautions(&step.cautions, columns, theme),
            body: self.body(world, columns),
            entry: self.entry(world, columns),
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if let Some(action) = self.tables().into_iter().find_map(|table| find(table, key.code)) {
            return self.act(action, world);
        }
        if let (KeyCode::Char('0'..='9'), None, true) = (key.code, &self.typing, self.step.number.is_some()) {
            self.typing = Some(Typing::Number(Field::default()));
        }
        match self.field() {
            Some(field) => {
                field.press(key);
                Vec::new()
            }
            None => common(key, self, world),
        }
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(field) = self.field() {
            field.paste(text);
        }
    }
}
