//! Turns what is due into the first page of practice: a group of look-alikes, or any lesson.

use super::helps::Helps;
use super::page::{Effect, Page, World, boxed};
use super::progress::ProgressPage;
use super::small::help;
use crate::knowledge::schema::{Help, Id};
use crate::practice::open_helps;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, blank, line, para};
use crate::screen::pages::{list_row, next};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

const WHAT: &str = "Pumps that are not there. What looks alike comes back at growing intervals. \
                    Nothing of this reaches the real records.";

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Choose,
    Down,
    Up,
    All,
    Progress,
    Theme,
    Help,
    Leave,
}

const CHOOSE: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "practise the chosen row", "practise the chosen row", Act::Choose)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const REST: &[Bound<Act>] = &[
    way(&[KeyCode::Char('a')], "a", "all lessons, or what is due", "every lesson, or groups by what is due", Act::All),
    way(&[KeyCode::Char('p')], "p", "progress", "how practice goes", Act::Progress),
    way(
        &[KeyCode::Char('l')],
        "l",
        "next theme",
        "dark, light for the sun, high contrast, without colours",
        Act::Theme,
    ),
    way(&[KeyCode::Char('h'), KeyCode::Char('?')], "h", "help", "this help", Act::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave the program", Act::Leave),
];

/// What to practise.
#[derive(Debug, Default)]
pub(super) struct Choose {
    at: usize,
    shows_all: bool,
}

/// Lesson, text, and what stands at the right end.
type Row = (Id, String, String);

impl Choose {
    fn rows(&self, world: &World) -> Vec<Row> {
        let lessons = &world.knowledge.all.lessons;
        if self.shows_all {
            let helps = |most: Help| if most == Help::Alone { "alone" } else { most.word() };
            let row = |(id, lesson): (&Id, &crate::knowledge::schema::Lesson)| {
                let most = open_helps(lesson).first().copied().unwrap_or(Help::Alone);
                (id.clone(), lesson.name.clone(), format!("help: {}", helps(most)))
            };
            return lessons.iter().map(row).collect();
        }
        let name = |id: &Id| lessons.get(id).map_or("", |lesson| lesson.name.as_str());
        let row = |due: &crate::practice::Due| {
            (due.lesson.clone(), format!("{}: {}", due.group(), name(&due.lesson)), due.when())
        };
        world.groups.iter().map(row).collect()
    }

    fn tables(world: &World) -> Vec<&'static [Bound<Act>]> {
        if world.knowledge.all.lessons.is_empty() { vec![REST] } else { vec![CHOOSE, LIST, REST] }
    }
}

impl Page for Choose {
    fn hints(&self, world: &World) -> Vec<Hint> {
        Self::tables(world).into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = para(WHAT, columns, theme.text);
        body.push(blank());
        let rows = self.rows(world);
        body.push(if self.shows_all {
            line("EVERY LESSON, AND THE MOST HELP IT ALLOWS", theme.heading)
        } else {
            line("WHAT LOOKS ALIKE, AND WHEN IT IS DUE", theme.heading)
        });
        if rows.is_empty() {
            body.push(line("This knowledge has no lessons; nothing to practise.", theme.text));
        }
        let mut focus = None;
        for (at, (_, text, end)) in rows.iter().enumerate() {
            let first = body.len();
            let lines: Lines = list_row(text, end, at == self.at, (columns, theme));
            body.extend(lines);
            if at == self.at {
                focus = Some((first, body.len()));
            }
        }
        Sheet { place: "PRACTICE", title: "what to practise".to_owned(), body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match Self::tables(world).into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Choose) => {
                let rows = self.rows(world);
                let page = rows.get(self.at).map(|(lesson, ..)| Helps::new(lesson, None, world));
                return page.map(|page| Effect::Open(boxed(page))).into_iter().collect();
            }
            Some(Act::Down) => self.at = next(self.at, self.rows(world).len()),
            Some(Act::Up) => self.at = self.at.saturating_sub(1),
            Some(Act::All) => (self.at, self.shows_all) = (0, !self.shows_all),
            Some(Act::Progress) => return vec![Effect::Open(boxed(ProgressPage))],
            Some(Act::Theme) => return vec![Effect::NextTheme],
            Some(Act::Help) => return vec![help(self.hints(world))],
            Some(Act::Leave) => return vec![Effect::Leave],
            None => {}
        }
        Vec::new()
    }
}
