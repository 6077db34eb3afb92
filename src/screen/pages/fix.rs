//! Turns "put it right" into two pages: what is to be put right, by the list or by words, and what its remedy takes.

use super::thinking::Thinking;
use super::{ABOVE, above, boxed, list_row, next};
use crate::job::RemedyPlan;
use crate::knowledge::schema::Id;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, blank, hanging, line, minutes, numbered, para};
use crate::screen::page::{Effect, Page, Purpose, World};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crate::text::capital;
use crossterm::event::{KeyCode, KeyEvent};

/// Rows listed at most.
const LISTED: usize = 12;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Open,
    Back,
    Down,
    Up,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "this one", "what it takes to put the chosen row right", Act::Open),
    way(&[KeyCode::Esc], "Esc", "back", "back to where you were", Act::Back),
];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

/// What is to be put right.
#[derive(Debug, Default)]
pub(in crate::screen) struct Fix {
    words: Field,
    at: usize,
}

impl Fix {
    fn rows(&self, world: &World) -> Vec<Id> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        match self.words.trimmed() {
            "" => sitting.to_put_right(LISTED),
            words => sitting.changeable(words, LISTED).into_iter().map(|hit| hit.id).collect(),
        }
    }
}

impl Page for Fix {
    fn is_typing(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        KEYS.iter().flat_map(|key| hints(std::slice::from_ref(key))).chain(hints(LIST)).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let rows = self.rows(world);
        let at = self.at.min(rows.len().saturating_sub(1));
        let mut body = para("Choose, or type what was changed.", columns, theme.text);
        let mut focus = None;
        for (row, id) in rows.iter().enumerate() {
            let first = body.len();
            let name = world.sitting().map(|sitting| sitting.name_of(id)).unwrap_or_default();
            body.extend(list_row(&name, "", row == at, (columns, theme)));
            if row == at {
                focus = Some((first, body.len()));
            }
        }
        if rows.is_empty() {
            body.extend(para("No cause or part is called like that.", columns, theme.trouble));
        }
        let pinned = vec![self.words.line("Put right:", columns, theme)];
        Sheet { place: "PUT IT RIGHT", title: "a cause or a part".to_owned(), pinned, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let rows = self.rows(world);
        match find(KEYS, key.code).or_else(|| find(LIST, key.code)) {
            Some(Act::Open) => {
                let page = rows.get(self.at.min(rows.len().saturating_sub(1))).map(|id| RemedyPage::new(id, world));
                return page.map(|page| Effect::Open(boxed(page))).into_iter().collect();
            }
            Some(Act::Back) => return vec![Effect::Close],
            Some(Act::Down) => self.at = next(self.at, rows.len()),
            Some(Act::Up) => self.at = self.at.saturating_sub(1),
            None => {
                if self.words.press(key) {
                    self.at = 0;
                }
            }
        }
        Vec::new()
    }

    fn paste(&mut self, text: &str, _world: &World) {
        self.words.paste(text);
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Sheets,
    Done,
    Save,
    Drop,
}

const SHEETS: &[Bound<Way>] = &[acts(
    &[KeyCode::Char('s')],
    "s",
    "start the rebuild sheets",
    "play the rebuild sheets step by step",
    Way::Sheets,
)];
const DONE: &[Bound<Way>] =
    &[acts(&[KeyCode::Char('d')], "d", "it is done", "it is done: say so, then try the pump", Way::Done)];
const TYPING: &[Bound<Way>] = &[
    acts(&[KeyCode::Enter], "Enter", "save", "save that it was changed", Way::Save),
    acts(&[KeyCode::Esc], "Esc", "back", "back; nothing is saved", Way::Drop),
];

/// What a remedy takes.
#[derive(Debug)]
pub(in crate::screen) struct RemedyPage {
    node: Id,
    plan: Option<RemedyPlan>,
    words: Option<Field>,
}

impl RemedyPage {
    fn new(node: &str, world: &World) -> Self {
        let plan = world.sitting().and_then(|sitting| sitting.remedy_plan(node));
        Self { node: node.to_owned(), plan, words: None }
    }

    fn tables(&self) -> Vec<&'static [Bound<Way>]> {
        match (&self.words, &self.plan) {
            (Some(_), _) => vec![TYPING],
            (None, Some(plan)) if !plan.sheets.is_empty() => vec![SHEETS, DONE],
            _ => vec![DONE],
        }
    }

    fn body(plan: &RemedyPlan, columns: usize, theme: &Theme) -> Lines {
        let opens = plan.opens.as_ref();
        let opens = opens.map_or(String::new(), |(name, takes)| format!("; open: {name}, {}", minutes(*takes)));
        let takes = format!(
            "{}: {}, {} hands-on{opens}",
            capital(plan.remedy.kind),
            plan.remedy.name,
            minutes(plan.remedy.minutes)
        );
        let mut body = para(&takes, columns, theme.strong);
        body.push(blank());
        body.push(line("HAVE AT HAND BEFORE ANYTHING IS OPENED", theme.heading));
        body.extend(para(&plan.parts.join(", "), columns, theme.text));
        if !plan.settings.is_empty() {
            body.extend(hanging(("Settings:", theme.dim), (&plan.settings.join(", "), theme.text), columns));
        }
        body.push(blank());
        body.push(line("STEPS", theme.heading));
        body.extend(numbered(&plan.remedy.steps, columns, theme.text));
        for (_, name, (low, high)) in &plan.sheets {
            let sheet = format!("{name}, {low:.0} to {high:.0} min");
            body.extend(hanging(("Rebuild sheet:", theme.dim), (&sheet, theme.text), columns));
        }
        body.extend(hanging(("Proved by:", theme.dim), (&plan.remedy.proof.join("; "), theme.text), columns));
        body
    }
}

impl Page for RemedyPage {
    fn is_typing(&self) -> bool {
        self.words.is_some()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all: Vec<Hint> = self.tables().into_iter().flat_map(hints).collect();
        if self.words.is_none() {
            all.extend(hints(ABOVE));
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let body = match &self.plan {
            Some(plan) => Self::body(plan, columns, theme),
            None => para("The knowledge has no remedy for this.", columns, theme.text),
        };
        let cautions = self.plan.as_ref().map(|plan| plan.cautions.as_slice()).unwrap_or_default();
        let entry = self.words.as_ref().map(|field| vec![field.line("What was done, and by whom:", columns, theme)]);
        let title = world.sitting().map(|sitting| sitting.name_of(&self.node)).unwrap_or_default();
        let cautions = parts::cautions(cautions, columns, theme);
        Sheet { place: "PUT IT RIGHT", title, cautions, body, entry: entry.unwrap_or_default(), ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        let go_on = || Effect::Job(boxed(Thinking::new(Purpose::Step)));
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Way::Sheets) => {
                let event = self.plan.as_ref().map(|plan| sitting.begin_sheets(plan));
                event.map(|event| vec![Effect::Keep(event), Effect::ToJob, go_on()]).unwrap_or_default()
            }
            Some(Way::Done) => {
                self.words = Some(Field::default());
                Vec::new()
            }
            Some(Way::Save) => {
                let words = self.words.as_ref().map(|field| field.trimmed().to_owned()).unwrap_or_default();
                let said = Effect::Say("Saved. One change at a time: now try the pump.".to_owned());
                vec![Effect::Keep(sitting.changed(&self.node, &words)), Effect::ToJob, go_on(), said]
            }
            Some(Way::Drop) => {
                self.words = None;
                Vec::new()
            }
            None => match &mut self.words {
                Some(field) => {
                    field.press(key);
                    Vec::new()
                }
                None => above(key, self, world),
            },
        }
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(field) = &mut self.words {
            field.paste(text);
        }
    }
}
