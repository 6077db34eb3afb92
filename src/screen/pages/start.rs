//! Turns the jobs of this machine into the first page: a new job, or one to take up again.

use super::{boxed, help, list_row, next};
use crate::job::JobLine;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, blank, line, para};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crate::text::{cut_with, pad};
use crossterm::event::{KeyCode, KeyEvent};

const WHAT: &str = "This helps to find out why a pump misbehaves. It asks what is worth most per minute. \
                    It says why it asks, and it keeps every answer at once.";
const FIRST: &str = "Site isolation procedure, local codes and licensed practice go first. Always.";

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    New,
    TakeUp,
    Down,
    Up,
    Theme,
    Help,
    Leave,
}

const NEW: &[Bound<Act>] = &[acts(&[KeyCode::Char('n')], "n", "new job", "begin a new job", Act::New)];

const TAKE_UP: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "take up the chosen job", "take up the chosen job again", Act::TakeUp)];

const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

const REST: &[Bound<Act>] = &[
    way(
        &[KeyCode::Char('l')],
        "l",
        "next theme",
        "dark, light for the sun, high contrast, without colours",
        Act::Theme,
    ),
    way(&[KeyCode::Char('?'), KeyCode::Char('h')], "?", "help", "this help", Act::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave the program", Act::Leave),
];

/// Columns below which a job takes rows of its own instead of one row in columns.
const NARROW: usize = 60;

/// The first page.
#[derive(Debug, Default)]
pub(in crate::screen) struct Start {
    at: usize,
}

impl Start {
    fn tables(world: &World) -> Vec<&'static [Bound<Act>]> {
        if world.jobs.is_empty() { vec![NEW, REST] } else { vec![NEW, TAKE_UP, LIST, REST] }
    }

    fn chosen<'w>(&self, world: &'w World) -> Option<&'w JobLine> {
        world.jobs.get(self.at.min(world.jobs.len().saturating_sub(1)))
    }

    fn rows(&self, world: &World, columns: usize, body: &mut Lines) -> Option<(usize, usize)> {
        let theme = &world.theme;
        if world.jobs.is_empty() {
            body.push(line("No jobs yet.", theme.dim));
            return None;
        }
        body.push(line("JOBS TO TAKE UP AGAIN", theme.heading));
        let at = self.at.min(world.jobs.len() - 1);
        let mut focus = None;
        for (row, job) in world.jobs.iter().enumerate() {
            let first = body.len();
            let state = if job.open { "" } else { "closed" };
            if columns < NARROW {
                let (family, said) = (family_of(job, world), said(job));
                body.extend(list_row(&format!("{}  {family}: {said}", job.number), state, row == at, (columns, theme)));
            } else {
                let end = format!("{state:6}  {}", job.last);
                let text = job_text(job, columns.saturating_sub(crate::text::width(&end) + 4), world);
                body.extend(list_row(&text, &end, row == at, (columns, theme)));
            }
            if row == at {
                focus = Some((first, body.len()));
            }
        }
        focus
    }
}

/// Number, pump and complaint in one row.
fn job_text(job: &JobLine, columns: usize, world: &World) -> String {
    let (family, complaint) = (family_of(job, world), said(job));
    let cut = world.theme.marks.cut;
    let pump = pad(&cut_with(family, columns / 3, cut), columns / 3);
    cut_with(&format!("{:>3}  {pump}  {complaint}", job.number), columns, cut)
}

fn family_of<'w>(job: &'w JobLine, world: &'w World) -> &'w str {
    world.knowledge.all.families.get(&job.pump).map_or(job.pump.as_str(), |family| family.name.as_str())
}

fn said(job: &JobLine) -> String {
    match (&job.trouble, job.complaint.as_str()) {
        (Some(trouble), _) => format!("cannot be read well: {trouble}"),
        (None, "") => "no complaint yet".to_owned(),
        (None, said) => said.to_owned(),
    }
}

impl Page for Start {
    fn kind(&self) -> Kind {
        Kind::Start
    }

    fn hints(&self, world: &World) -> Vec<Hint> {
        Self::tables(world).into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = para(WHAT, columns, theme.text);
        body.push(blank());
        body.extend(para(FIRST, columns, theme.strong));
        body.push(blank());
        let focus = self.rows(world, columns, &mut body);
        Sheet { place: "START", title: "fault diagnosis at the pump".to_owned(), body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let action = Self::tables(world).into_iter().find_map(|table| find(table, key.code));
        match action {
            Some(Act::New) => vec![Effect::Begin],
            Some(Act::TakeUp) => self.chosen(world).map(|job| Effect::TakeUp(job.number)).into_iter().collect(),
            Some(Act::Down) => {
                self.at = next(self.at, world.jobs.len());
                Vec::new()
            }
            Some(Act::Up) => {
                self.at = self.at.saturating_sub(1);
                Vec::new()
            }
            Some(Act::Theme) => vec![Effect::NextTheme],
            Some(Act::Help) => vec![Effect::Open(boxed(help::Help::new(self.hints(world))))],
            Some(Act::Leave) => vec![Effect::Leave],
            None => Vec::new(),
        }
    }
}
