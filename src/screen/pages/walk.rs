//! Turns the outside looks worth most into one page, answered in any order, with the likely causes above or beside.
//!
//! The rows keep their places while the page is open: nothing is swapped under the hand.

use super::thinking::Thinking;
use super::{boxed, common, list_row, next, why_ask};
use crate::evidence::Answer;
use crate::job::{Given, LookRow, Sitting};
use crate::knowledge::schema::PumpState;
use crate::screen::keys::{ANSWERS, Bound, COMMON, Hint, acts, arrows, find, hints, way};
use crate::screen::likely;
use crate::screen::lines::{Lines, blank, flow, line, minutes};
use crate::screen::page::{Effect, Page, Purpose, World};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};

/// Looks of one round at most.
pub(in crate::screen) const LOOKS: usize = 8;
/// Columns from which the likely causes stand beside the looks.
const BESIDE: u16 = 110;
/// Rows from which there is room for more than the looks themselves.
const TALL: u16 = 18;
/// Columns below which answers have no column of their own.
const NARROW: usize = 60;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    GoOn,
    Down,
    Up,
    Why,
}

const GO_ON: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('g')], "g", "to the questions", "end the round, go on to the questions", Act::GoOn)];

const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

const WHY: &[Bound<Act>] = &[way(&[KeyCode::Char('w')], "w", "why", "why this look is worth its minutes", Act::Why)];

/// The walk round the pump.
#[derive(Debug)]
pub(in crate::screen) struct Walk {
    rows: Vec<LookRow>,
    at: usize,
}

impl Walk {
    /// With these looks.
    pub(in crate::screen) fn new(rows: Vec<LookRow>) -> Self {
        Self { rows, at: 0 }
    }

    fn answer(&mut self, answer: Answer, sitting: &Sitting) -> Vec<Effect> {
        let Some(row) = self.rows.get(self.at) else { return Vec::new() };
        if !may(row, sitting) {
            return vec![Effect::Say("Not with the pump stopped. Choose another row, or g.".to_owned())];
        }
        let said = format!("Saved: {}: {}.", sitting.name_of(&row.id), answer.words());
        let effects = match sitting.answer(&row.id, answer, Some(&row.check)) {
            Ok(event) => vec![Effect::Keep(event), Effect::Say(said)],
            Err(refused) => return vec![Effect::Say(refused.to_string())],
        };
        self.go_to_open(sitting);
        effects
    }

    /// The next row without an answer, if there is one.
    fn go_to_open(&mut self, sitting: &Sitting) {
        let many = self.rows.len();
        let open = |at: &usize| {
            self.rows.get(*at).is_some_and(|row| may(row, sitting) && !sitting.job.given.contains_key(&row.id))
        };
        let after = (1..many).map(|step| (self.at + step) % many).find(open);
        self.at = after.unwrap_or(self.at);
    }

    fn looks(&self, sitting: &Sitting, columns: usize, world: &World) -> (Lines, Option<(usize, usize)>) {
        let done = self.rows.iter().filter(|row| sitting.job.given.contains_key(&row.id)).count();
        let head = format!("LOOKS  {done} of {} answered, in any order", self.rows.len());
        let (mut lines, mut focus) = (vec![line(&head, world.theme.heading)], None);
        for (at, row) in self.rows.iter().enumerate() {
            let first = lines.len();
            let end = format!("{:15}", said(row, sitting));
            let end = if columns < NARROW { end.trim_end() } else { &end };
            lines.extend(list_row(&row.question, end, at == self.at, (columns, &world.theme)));
            if at == self.at && world.size.1 < TALL {
                lines.extend(how_to(row, columns, &world.theme));
            }
            if at == self.at {
                focus = Some((first, lines.len()));
            }
        }
        (lines, focus)
    }

    /// Caution or way of the chosen look; rows are kept free, so that the list does not move where there is room.
    fn tall(&self, is_tall: bool, make: impl Fn(&LookRow) -> Lines) -> Lines {
        let mut lines = self.rows.get(self.at).map(&make).unwrap_or_default();
        if is_tall {
            let most = self.rows.iter().map(|row| make(row).len()).max().unwrap_or(0);
            lines.resize_with(most, blank);
        }
        lines
    }
}

/// False where the look needs a running pump and it must not run.
fn may(row: &LookRow, sitting: &Sitting) -> bool {
    let check = sitting.knowledge.all.checks.get(&row.check);
    sitting.allowed().running || check.is_none_or(|check| check.state != PumpState::Running)
}

/// How to find out, and how long it takes.
fn how_to(row: &LookRow, columns: usize, theme: &Theme) -> Lines {
    let takes = minutes(row.minutes);
    if row.how.is_empty() {
        return flow(&[("Takes", theme.dim), (&takes, theme.dim)], columns);
    }
    flow(&[("How:", theme.dim), (&row.how, theme.text), (&format!("({takes})"), theme.dim)], columns)
}

fn said(row: &LookRow, sitting: &Sitting) -> &'static str {
    match sitting.job.given.get(&row.id) {
        Some((Given::Answer(answer), ..)) => answer.words(),
        Some(_) => "measured",
        None if !may(row, sitting) => "pump stopped",
        None => "",
    }
}

impl Page for Walk {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all = hints(ANSWERS);
        all.extend(hints(GO_ON));
        all.extend(hints(LIST));
        all.extend(hints(WHY));
        all.extend(hints(COMMON));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let (theme, (width, height)) = (&world.theme, world.size);
        let columns = Columns::of(width);
        let is_tall = TALL <= height;
        let caution = self.tall(is_tall, |row| {
            row.caution.as_ref().map(|caution| parts::caution(caution, columns.full, theme)).unwrap_or_default()
        });
        let cautions = if caution.is_empty() { Vec::new() } else { vec![caution] };
        let entry = if is_tall { self.tall(true, |row| how_to(row, columns.full, theme)) } else { Lines::new() };
        let beside = BESIDE <= width;
        let (mut body, mut focus) = self.looks(sitting, if beside { columns.body } else { columns.full }, world);
        let mut side = Vec::new();
        if beside {
            side = likely::beside(sitting, columns.side, theme);
        } else if is_tall {
            let most = usize::from(height).saturating_sub(12 + self.rows.len()).clamp(3, 10);
            let mut above = likely::rows(sitting, most, columns.full, theme);
            above.push(blank());
            focus = focus.map(|(first, end)| (first + above.len(), end + above.len()));
            above.append(&mut body);
            body = above;
        } else {
            body.push(blank());
            body.extend(likely::rows(sitting, likely::BESIDE, columns.full, theme));
        }
        let title = "nothing is opened".to_owned();
        Sheet { place: "WALK ROUND THE PUMP", title, cautions, body, side, entry, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        if let Some(answer) = find(ANSWERS, key.code) {
            return self.answer(answer, sitting);
        }
        let action = [GO_ON, LIST, WHY].into_iter().find_map(|table| find(table, key.code));
        match action {
            Some(Act::GoOn) => vec![Effect::Job(boxed(Thinking::new(Purpose::Step)))],
            Some(Act::Down) => {
                self.at = next(self.at, self.rows.len());
                Vec::new()
            }
            Some(Act::Up) => {
                self.at = self.at.saturating_sub(1);
                Vec::new()
            }
            Some(Act::Why) => self.rows.get(self.at).map(|row| why_ask::open(&row.id, sitting)).into_iter().collect(),
            None => common(key, self, world),
        }
    }
}
