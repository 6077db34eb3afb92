//! Turns the results of a job into a page per leading cause; shown by itself when the questions have ended.

use super::result_lines::{broke_lines, cause_lines, open_ends};
use super::{ABOVE, above, boxed, close, common, fix, step, trail, why_cause};
use crate::job::{Ending, Event, Results, Sitting};
use crate::screen::keys::{Bound, COMMON, Common, Hint, acts, find, hints, way};
use crate::screen::likely;
use crate::screen::lines::{Lines, blank, para};
use crate::screen::page::{Desk, Effect, Kind, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

/// Leading causes shown.
const CAUSES: usize = 3;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    End,
    Fix,
    Reopen,
    Next,
    Last,
    Cause,
    Trail,
}

const END: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('e')], "e", "end the job", "end the job and write the record", Act::End)];

const REOPEN: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('o')], "o", "open the job again", "open the closed job again", Act::Reopen)];

const CAUSE_KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Right, KeyCode::Tab], "Right", "next cause", "the next leading cause", Act::Next),
    acts(&[KeyCode::Left], "Left", "cause before", "the leading cause before it", Act::Last),
];

const FIX: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('f')], "f", "put it right", "put something right, or say what was changed", Act::Fix)];

const WHY: &[Bound<Act>] =
    &[way(&[KeyCode::Char('c')], "c", "why this cause", "why this cause stands there", Act::Cause)];

const TRAIL: &[Bound<Act>] =
    &[way(&[KeyCode::Char('t')], "t", "trail", "the trail: change an answer or take it back", Act::Trail)];

/// The results.
#[derive(Debug)]
pub(in crate::screen) struct ResultsPage {
    results: Results,
    at: usize,
    /// How the questions have ended; none if they have not.
    ended: Option<Ending>,
}

/// The leading causes; behind the first, only those that are found now and then.
fn leading(sitting: &Sitting) -> Results {
    let mut results = sitting.results(CAUSES);
    let first = results.causes.first().map(|cause| cause.row.id.clone());
    results.causes.retain(|cause| 0 < cause.row.of_20 || Some(&cause.row.id) == first.as_ref());
    results
}

impl ResultsPage {
    /// In the middle of a job.
    pub(in crate::screen) fn so_far(world: &World) -> Option<Self> {
        Some(Self { results: leading(world.sitting()?), at: 0, ended: None })
    }

    /// Where the questions have ended.
    pub(in crate::screen) fn ended(ending: Ending, desk: &Desk) -> Self {
        Self { results: leading(&desk.sitting), at: 0, ended: Some(ending) }
    }

    fn is_closed(&self) -> bool {
        self.results.closed.is_some()
    }

    /// Own keys just now.
    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        let mut tables = if self.is_closed() { vec![REOPEN] } else { vec![FIX, END] };
        if 1 < self.results.causes.len() {
            tables.push(CAUSE_KEYS);
        }
        tables.push(WHY);
        if self.ended.is_none() {
            tables.push(TRAIL);
        }
        tables
    }

    fn act(&mut self, action: Act, world: &World) -> Vec<Effect> {
        let many = self.results.causes.len();
        match action {
            Act::End => close::Close::new(world).map(|page| Effect::Open(boxed(page))).into_iter().collect(),
            Act::Fix => vec![Effect::Open(boxed(fix::Fix::default()))],
            Act::Reopen => vec![Effect::Keep(Event::Reopened), Effect::Say("The job is open again.".to_owned())],
            Act::Next => {
                self.at = if self.at + 1 < many { self.at + 1 } else { 0 };
                Vec::new()
            }
            Act::Last => {
                self.at = self.at.checked_sub(1).unwrap_or(many.saturating_sub(1));
                Vec::new()
            }
            Act::Cause => {
                let cause = self.results.causes.get(self.at);
                let page = cause.and_then(|cause| why_cause::WhyCausePage::about(&cause.row.id, world));
                page.map(|page| Effect::Open(boxed(page))).into_iter().collect()
            }
            Act::Trail => vec![Effect::Open(boxed(trail::TrailPage::new()))],
        }
    }

    fn how_it_stands(&self, world: &World, columns: usize) -> Lines {
        let theme = &world.theme;
        let mut lines = Lines::new();
        match (self.results.closed, self.ended) {
            (Some(ending), _) => {
                lines.extend(para(&format!("This job is closed: {}.", ending.words()), columns, theme.strong));
            }
            (None, Some(ending)) => {
                lines.extend(para(&format!("The questions end here: {}.", ending.words()), columns, theme.strong));
            }
            (None, None) => {}
        }
        let record = world.desk.as_ref().and_then(|desk| desk.record.as_ref());
        if let (Some(record), true) = (record, self.is_closed()) {
            lines.extend(para(&format!("Record: {record}"), columns, theme.text));
        }
        if !lines.is_empty() {
            lines.push(blank());
        }
        lines
    }

    /// Ways of the page where the questions have ended.
    fn ended_ways(&self) -> Vec<Hint> {
        let taken = |action: Common| {
            matches!(action, Common::WhyCause | Common::Results)
                || (self.is_closed() && matches!(action, Common::Trail | Common::Tell | Common::Idea))
        };
        let open = COMMON.iter().filter(|bound| !taken(bound.action));
        open.flat_map(|bound| hints(std::slice::from_ref(bound))).collect()
    }
}

impl Page for ResultsPage {
    fn kind(&self) -> Kind {
        if self.ended.is_some() { Kind::Step } else { Kind::Other }
    }

    fn hints(&self, world: &World) -> Vec<Hint> {
        let mut all: Vec<Hint> = self.tables().into_iter().flat_map(hints).collect();
        if let Some((_, keys)) = step::barred(world).filter(|_| !self.is_closed()) {
            all.extend(hints(keys));
        }
        if self.ended.is_some() {
            all.extend(self.ended_ways());
        } else {
            all.extend(hints(ABOVE));
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let (theme, columns) = (&world.theme, Columns::of(world.size.0));
        let mut body = self.how_it_stands(world, columns.body);
        body.extend(broke_lines(&sitting.broke(), columns.body, theme));
        let many = self.results.causes.len();
        let title = self.results.causes.get(self.at).map_or("so far".to_owned(), |cause| {
            body.extend(cause_lines(cause, columns.body, theme));
            format!("{}  ({} of {many})", cause.row.name, self.at + 1)
        });
        body.extend(open_ends(&self.results, columns.body, theme));
        let side = likely::beside(sitting, columns.side, theme);
        let place = match (self.is_closed(), self.ended) {
            (true, _) => "CLOSED JOB",
            (false, Some(_)) => "RESULTS",
            (false, None) => "RESULTS SO FAR",
        };
        Sheet { place, title, body, side, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if let Some(action) = self.tables().into_iter().find_map(|table| find(table, key.code)) {
            return self.act(action, world);
        }
        if let Some(effects) = step::after_all(key.code, world).filter(|_| !self.is_closed()) {
            return effects;
        }
        match self.ended {
            None => above(key, self, world),
            Some(_) if self.ended_ways().iter().any(|hint| find(COMMON, hint.key) == find(COMMON, key.code)) => {
                common(key, self, world)
            }
            Some(_) => Vec::new(),
        }
    }

    fn refresh(&mut self, world: &World) {
        if let Some(sitting) = world.sitting() {
            self.results = leading(sitting);
            self.at = self.at.min(self.results.causes.len().saturating_sub(1));
        }
    }
}
