//! Turns the debrief of a practice job into a page: the path beside the planner's, and the one thing to do better.

use super::page::{Effect, Page, World};
use crate::knowledge::schema::SignalWord;
use crate::practice::{Debrief, Ended, StepRow};
use crate::screen::chart::bar;
use crate::screen::keys::{Bound, Hint, acts, find, hints, way};
use crate::screen::lines::{Lines, blank, flow, hanging, line, minutes, para, sentence, span, two_ends};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::text::Line;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    GoOn,
    Leave,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "what to practise next", "what to practise next", Act::GoOn),
    way(&[KeyCode::Char('q')], "q", "leave", "leave the program", Act::Leave),
];

/// Cells of a bar.
const CELLS: usize = 20;

/// What there is to learn.
pub(super) struct Debriefed {
    ended: Ended,
}

impl Debriefed {
    /// Of a job that has ended.
    pub(super) fn new(ended: Ended) -> Self {
        Self { ended }
    }
}

/// What it was, what was named, what to do better.
fn outcome(ended: &Ended, columns: usize, theme: &Theme) -> Lines {
    let told = &ended.debrief;
    let named: Vec<String> = told.named.iter().map(|(name, sure)| format!("{name} ({sure:.0} %)")).collect();
    let named = if named.is_empty() { "nothing".to_owned() } else { named.join("; ") };
    let mut lines = hanging(("It was:", theme.dim), (&told.truth.join("; "), theme.strong), columns);
    lines.extend(hanging(("You named:", theme.dim), (&named, theme.text), columns));
    for (what, instead) in &told.unsafe_moves {
        let (what, instead) = (sentence(what), sentence(instead));
        let word = (SignalWord::Warning.word(), theme.signal(SignalWord::Warning));
        lines.extend(flow(&[word, ("Unsafe:", theme.strong), (&what, theme.strong), (&instead, theme.text)], columns));
    }
    lines.extend(hanging(("To do better:", theme.heading), (&told.better, theme.strong), columns));
    lines.extend(told.remarks.iter().flat_map(|remark| para(remark, columns, theme.text)));
    lines
}

/// Minutes saved per minute, check by check, against the best that was open then.
fn path(told: &Debrief, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line(&format!("YOUR CHECKS  {:.0} min", told.minutes.0), theme.heading)];
    let key = format!("{} minutes saved per minute; {} up to the best then open", theme.marks.full, theme.marks.empty);
    lines.extend(para(&key, columns, theme.dim));
    let most = told.steps.iter().map(|row| row.rates.1).fold(0.0, f64::max);
    if told.steps.is_empty() {
        lines.push(line("None.", theme.text));
    }
    for row in &told.steps {
        lines.extend(step(row, most, columns, theme));
    }
    lines
}

fn step(row: &StepRow, most: f64, columns: usize, theme: &Theme) -> Lines {
    let cells = CELLS.min(columns);
    let share = |rate: f64| if 0.0 < most { rate / most } else { 0.0 };
    let took = minutes(row.minutes);
    let mut lines = vec![two_ends((&row.name, theme.text), (&took, theme.dim), columns, theme.marks.cut)];
    let mut spans = bar((share(row.rates.0), share(row.rates.1)), cells, theme);
    spans.push(span(&format!("  {:.1} of {:.1}", row.rates.0, row.rates.1), theme.strong));
    lines.push(Line::from(spans));
    if row.idle {
        lines.extend(hanging(("  ", theme.dim), ("It could tell next to nothing.", theme.trouble), columns));
    }
    if let Some(best) = &row.best {
        lines.extend(hanging(("  Better then:", theme.dim), (best, theme.text), columns));
    }
    lines
}

fn planner(told: &Debrief, columns: usize, theme: &Theme) -> Lines {
    let head = format!("THE PLANNER ON THE SAME PUMP  {:.0} min", told.minutes.1);
    let mut lines = vec![line(&head, theme.heading)];
    for (name, took) in &told.planner {
        lines.push(two_ends((name, theme.text), (&minutes(*took), theme.dim), columns, theme.marks.cut));
    }
    lines
}

fn teaches(told: &Debrief, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("WHAT IT TEACHES", theme.heading)];
    lines.extend(para(&told.teaches, columns, theme.text));
    if let Some((words, cause)) = &told.related {
        let words = format!("\"{words}\"");
        lines.extend(hanging(("A real one:", theme.dim), (&words, theme.text), columns));
        lines.extend(hanging(("It was:", theme.dim), (cause, theme.text), columns));
    }
    lines
}

impl Page for Debriefed {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let told = &self.ended.debrief;
        let mut body = outcome(&self.ended, columns, theme);
        for part in [path(told, columns, theme), planner(told, columns, theme), teaches(told, columns, theme)] {
            body.push(blank());
            body.extend(part);
        }
        let marks = &self.ended.marks;
        let outcome = if marks.passed() { "passed" } else { "not passed" };
        let title = format!("{outcome}; help: {}, seed {}", marks.help.word(), marks.seed);
        Sheet { place: "DEBRIEF", title, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        match find(KEYS, key.code) {
            Some(Act::GoOn) => vec![Effect::ToChoice],
            Some(Act::Leave) => vec![Effect::Leave],
            None => Vec::new(),
        }
    }
}
