//! Turns everything given so far into a list whose rows can be answered anew or taken back.

use super::{ABOVE, above, asked, boxed, list_row, next, pump_sheet, with};
use crate::job::{Course, Isolation, Sitting, TrailRow};
use crate::screen::chart;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, blank, cell, hanging, line, para, span};
use crate::screen::page::{Effect, Page, World};
use crate::screen::parts::of_20;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Change,
    Withdraw,
    PumpSheet,
    Down,
    Up,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "answer anew", "answer the chosen row anew", Act::Change),
    acts(&[KeyCode::Char('d')], "d", "take back", "take the answer back, as if never given", Act::Withdraw),
];

const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

const SHEET: &[Bound<Act>] =
    &[way(&[KeyCode::Char('f')], "f", "pump sheet", "the pump sheet: fill it in, see what would help", Act::PumpSheet)];

/// Causes whose way is drawn.
const DRAWN: usize = 3;

/// The trail.
pub(in crate::screen) struct TrailPage {
    at: usize,
    /// How the list moved; worked out between keys.
    course: Course,
    /// True once it is whole.
    is_drawn: bool,
}

impl TrailPage {
    /// With the newest row chosen.
    pub(in crate::screen) fn new() -> Self {
        Self { at: 0, course: Course::default(), is_drawn: false }
    }

    fn chosen(&self, world: &World) -> Option<TrailRow> {
        world.sitting().and_then(|sitting| sitting.trail().into_iter().rev().nth(self.at))
    }

    fn withdraw(&self, world: &World) -> Vec<Effect> {
        let (Some(row), Some(sitting)) = (self.chosen(world), world.sitting()) else { return Vec::new() };
        match sitting.withdraw(&row.id) {
            Ok(event) => vec![Effect::Keep(event), Effect::Say(format!("Taken back: {}.", row.name))],
            Err(refused) => vec![Effect::Say(refused.to_string())],
        }
    }

    fn change(&self, world: &World) -> Vec<Effect> {
        let Some(row) = self.chosen(world) else { return Vec::new() };
        match asked::Asked::anew(&row.id, world) {
            Some(page) => vec![Effect::Open(boxed(page))],
            None => vec![Effect::Say("The knowledge no longer holds this question. d takes it back.".to_owned())],
        }
    }
}

fn row_lines(row: &TrailRow, chosen: bool, columns: usize, theme: &Theme) -> Lines {
    let from = if columns < 60 { String::new() } else { format!("  {:12}", row.from) };
    let end = format!("{}{from}", row.answer);
    let end = if columns / 2 < crate::text::width(&end) { String::new() } else { end };
    let mut lines = if end.is_empty() {
        list_row(&format!("{}: {}", row.name, row.answer), "", chosen, (columns, theme))
    } else {
        list_row(&row.name, &end, chosen, (columns, theme))
    };
    if let Some(why) = &row.set_aside {
        lines.extend(hanging(("    does not count:", theme.dim), (why, theme.dim), columns));
    }
    lines
}

/// How isolation stands, once it was asked.
fn isolation(sitting: &Sitting) -> Option<(&'static str, String)> {
    match &sitting.gates().isolation {
        Isolation::Open => None,
        Isolation::Proved(words, at) => {
            Some(("Isolated and proved:", format!("{words} ({})", at.strftime("%H:%M UTC"))))
        }
        Isolation::Lapsed(words, why) => Some(("Proved, but counts no more:", format!("{words}; {}", why.words()))),
        Isolation::NotPossible(words) => Some(("Isolation not possible:", words.clone())),
    }
}

/// What was decided beside the answers.
fn decisions(sitting: &Sitting, columns: usize, theme: &Theme) -> Lines {
    let mut lines = Lines::new();
    for (check, reason) in &sitting.job.barred {
        let text = format!("{} ({reason})", sitting.name_of(check));
        lines.extend(hanging(("Not possible now:", theme.dim), (&text, theme.text), columns));
    }
    if let Some((label, words)) = isolation(sitting) {
        lines.extend(hanging((label, theme.dim), (&words, theme.text), columns));
    }
    if let Some(liquid) = &sitting.gates().liquid {
        lines.extend(hanging(("Liquid:", theme.dim), (liquid, theme.text), columns));
    }
    for repair in &sitting.job.work.repairs {
        lines.extend(hanging(("Changed:", theme.dim), (&sitting.repair_words(repair), theme.text), columns));
    }
    for (rule, (stopped, words)) in &sitting.job.stops {
        let name = sitting.knowledge.all.stop_rules.get(rule).map_or(rule.as_str(), |rule| rule.name.as_str());
        let what = if *stopped { "pump stopped" } else { "site decided to run on:" };
        lines.extend(hanging(("Stop rule:", theme.dim), (&format!("{name}, {what} {words}"), theme.text), columns));
    }
    for note in &sitting.job.notes {
        lines.extend(hanging(("Remark:", theme.dim), (note, theme.text), columns));
    }
    lines
}

/// How the shares of the leading causes moved, a row each, the newest entry at the right end.
fn moved(course: &Course, sitting: &Sitting, columns: usize, theme: &Theme) -> Lines {
    let rows = sitting.likely(DRAWN);
    if rows.iter().all(|row| course.shares_of(&row.id).len() < 2) {
        return Lines::new();
    }
    let mut lines = vec![line("HOW THE LIST MOVED, ENTRY BY ENTRY", theme.heading)];
    let (name, now) = (if columns < 60 { 0 } else { columns / 2 }, 9);
    for row in rows {
        let shares = course.shares_of(&row.id);
        let room = columns.saturating_sub(name + now).max(1);
        let newest = shares.get(shares.len().saturating_sub(room)..).unwrap_or_default();
        if name == 0 {
            lines.push(line(&cell(&row.name, columns, theme.marks.cut), theme.text));
        }
        for mut drawn in chart::columns(newest, 1, theme.bar, theme) {
            if 0 < name {
                drawn.spans.insert(0, span(&format!("{} ", cell(&row.name, name - 1, theme.marks.cut)), theme.text));
            }
            drawn.spans.push(span(&format!(" {}", of_20(row.probability)), theme.text));
            lines.push(drawn);
        }
    }
    lines.push(blank());
    lines
}

impl Page for TrailPage {
    fn is_working(&self) -> bool {
        !self.is_drawn
    }

    fn work(&mut self, world: &World) {
        let Some(sitting) = world.sitting() else { return };
        self.course.go_on(sitting);
        self.is_drawn = self.course.is_whole(sitting);
    }

    fn hints(&self, world: &World) -> Vec<Hint> {
        if self.chosen(world).is_none() {
            return with(SHEET, ABOVE);
        }
        let mut all = hints(KEYS);
        all.extend(hints(LIST));
        all.extend(with(SHEET, ABOVE));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let (mut body, mut focus) = (Lines::new(), None);
        for words in &sitting.job.words {
            body.extend(hanging(("The operator said:", theme.dim), (words, theme.text), columns));
        }
        for (question, said) in &sitting.job.first_minute {
            let asked = sitting.knowledge.all.first_minute.get(question).map_or(question, |entry| &entry.question);
            body.extend(hanging((asked, theme.dim), (said, theme.text), columns));
        }
        body.push(blank());
        let rows = sitting.trail();
        body.push(line(
            if rows.is_empty() { "Nothing is answered yet." } else { "ANSWERS, NEWEST FIRST" },
            theme.heading,
        ));
        for (at, row) in rows.iter().rev().enumerate() {
            let first = body.len();
            body.extend(row_lines(row, at == self.at, columns, theme));
            if at == self.at {
                focus = Some((first, body.len()));
            }
        }
        body.push(blank());
        body.extend(decisions(sitting, columns, theme));
        if self.is_drawn {
            body.extend(moved(&self.course, sitting, columns, theme));
        }
        body.extend(para("A change counts as if it had been entered so at first.", columns, theme.dim));
        Sheet {
            place: "TRAIL",
            title: "everything said, seen and measured".to_owned(),
            body,
            focus,
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let many = world.sitting().map_or(0, |sitting| sitting.trail().len());
        match find(KEYS, key.code).or_else(|| find(LIST, key.code)).or_else(|| find(SHEET, key.code)) {
            Some(Act::Change) => self.change(world),
            Some(Act::Withdraw) => self.withdraw(world),
            Some(Act::PumpSheet) => vec![Effect::Open(boxed(pump_sheet::PumpSheetPage::default()))],
            Some(Act::Down) => {
                self.at = next(self.at, many);
                Vec::new()
            }
            Some(Act::Up) => {
                self.at = self.at.saturating_sub(1);
                Vec::new()
            }
            None => above(key, self, world),
        }
    }

    fn refresh(&mut self, world: &World) {
        let many = world.sitting().map_or(0, |sitting| sitting.trail().len());
        self.at = self.at.min(many.saturating_sub(1));
        (self.course, self.is_drawn) = (Course::default(), false);
    }
}
