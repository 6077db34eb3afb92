//! Turns a practice job at work into its page: the story, what was found, the dials, and what can be done.

use super::gate::GatePage;
use super::gauges::{self, GaugesPage};
use super::page::{Effect, Page, World, boxed};
use super::search::Search;
use super::small::{GiveUp, HintPage, help, reasons_lines};
use crate::job::GateKind;
use crate::knowledge::schema::Help;
use crate::practice::{Exercise, Move, Reasons, Room};
use crate::screen::keys::{Bound, Hint, acts, find, hints, way};
use crate::screen::likely;
use crate::screen::lines::{Lines, blank, flow, hanging, line, minutes, span, two_ends};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Next,
    Check,
    Think,
    Isolate,
    Ready,
    Stop,
    Name,
    Gauges,
    Likely,
    Hint,
    GiveUp,
    Help,
    Leave,
}

const SHOWN: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "the planner's next move", "the planner makes its next move", Act::Next)];

const DO: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('c')], "c", "check", "look for a check by words, and do it", Act::Check),
    acts(&[KeyCode::Char('t')], "t", "think", "say what you think it is, before you look", Act::Think),
    acts(&[KeyCode::Char('n')], "n", "name it", "name what it is and how sure, and end the job", Act::Name),
    acts(&[KeyCode::Char('i')], "i", "isolate", "stop, lock, relieve, prove zero energy twice", Act::Isolate),
    acts(&[KeyCode::Char('r')], "r", "ready to run", "walk the list before the first run", Act::Ready),
    acts(&[KeyCode::Char('s')], "s", "stop for good", "stop the pump for good", Act::Stop),
];

const HALF: &[Bound<Act>] = &[
    way(&[KeyCode::Char('x')], "x", "hint", "what the planner would do next, and why", Act::Hint),
    way(&[KeyCode::Char('l')], "l", "likely", "the likely causes", Act::Likely),
];

const REST: &[Bound<Act>] = &[
    way(&[KeyCode::Char('g')], "g", "gauges", "watch the gauges, larger", Act::Gauges),
    way(&[KeyCode::Char('u')], "u", "surrender", "give it up and hear what it was", Act::GiveUp),
    way(&[KeyCode::Char('h'), KeyCode::Char('?')], "h", "help", "this help", Act::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave; the job can be taken up again", Act::Leave),
];

/// Columns by which what was found stands behind its check.
const INDENT: usize = 2;

/// The page of the job.
pub(super) struct JobPage {
    /// True if the planner does it.
    is_shown: bool,
    /// What it does next; worked out between keys.
    planned: Option<(Move, Reasons)>,
}

impl JobPage {
    /// For a job with this help.
    pub(super) fn new(help: Help) -> Self {
        Self { is_shown: help == Help::Shown, planned: None }
    }

    fn tables(world: &World) -> Vec<&'static [Bound<Act>]> {
        match world.exercise.as_ref().map(|exercise| exercise.help) {
            Some(Help::Shown) => vec![SHOWN, REST],
            Some(Help::Half) => vec![DO, HALF, REST],
            _ => vec![DO, REST],
        }
    }

    fn act(&self, action: Act, world: &World) -> Vec<Effect> {
        let page: Option<Box<dyn Page>> = match action {
            Act::Next => return self.planned.iter().map(|(made, _)| Effect::Make(made.clone())).collect(),
            Act::Check => Some(boxed(Search::check())),
            Act::Think => Some(boxed(Search::think())),
            Act::Name => Some(boxed(Search::name(Vec::new()))),
            Act::Isolate => return gate(GateKind::Isolation, Move::Isolates, world),
            Act::Ready => return gate(GateKind::FirstRun, Move::Readies, world),
            Act::Stop => return vec![Effect::Make(Move::Stops)],
            Act::Gauges => Some(boxed(GaugesPage)),
            Act::Likely => Some(boxed(LikelyPage)),
            Act::Hint => HintPage::new(world).map(boxed),
            Act::GiveUp => Some(boxed(GiveUp)),
            Act::Help => return vec![help(self.hints(world))],
            Act::Leave => return vec![Effect::Leave],
        };
        page.map(Effect::Open).into_iter().collect()
    }

    fn body(&self, exercise: &Exercise, columns: usize, theme: &Theme) -> Lines {
        let mut body = story(exercise, columns, theme);
        if exercise.help == Help::Shown {
            body.push(blank());
            body.push(line("NEXT", theme.heading));
            match &self.planned {
                Some((_, reasons)) => body.extend(reasons_lines(reasons, columns, theme)),
                None => body.push(line(&format!("working it out{}", theme.marks.cut), theme.dim)),
            }
        }
        body.push(blank());
        body.extend(found(exercise, columns, theme));
        body
    }
}

/// The list before a gate is passed; if nothing calls for it, the job says so itself.
fn gate(kind: GateKind, made: Move, world: &World) -> Vec<Effect> {
    let Some(exercise) = &world.exercise else { return Vec::new() };
    if exercise.may(&made).is_err() {
        return vec![Effect::Make(made)];
    }
    vec![Effect::Open(boxed(GatePage::new(exercise.sitting.gate(kind), made)))]
}

/// The story a job begins with, and what was thought.
fn story(exercise: &Exercise, columns: usize, theme: &Theme) -> Lines {
    let lesson = &exercise.lesson.1;
    let told = format!("\"{}\"", lesson.told);
    let mut lines = hanging(("Operator:", theme.dim), (&told, theme.strong), columns);
    for reason in lesson.unavailable.values() {
        lines.extend(hanging(("Not possible:", theme.dim), (reason, theme.text), columns));
    }
    for (done, node) in &exercise.thoughts {
        let label = if *done == 0 { "First thought:".to_owned() } else { format!("Thought after {done}:") };
        lines.extend(hanging((&label, theme.dim), (&exercise.sitting.name_of(node), theme.text), columns));
    }
    lines
}

/// What was found so far, the newest check first.
fn found(exercise: &Exercise, columns: usize, theme: &Theme) -> Lines {
    let spent = format!("FOUND SO FAR  {} checks, {:.0} min", exercise.done.len(), exercise.minutes());
    let mut lines = vec![line(&spent, theme.heading)];
    if exercise.done.is_empty() {
        lines.push(line("Nothing yet.", theme.dim));
    }
    for done in exercise.done.iter().rev() {
        let took = minutes(done.minutes);
        lines.push(two_ends((&done.name, theme.text), (&took, theme.dim), columns, theme.marks.cut));
        for found in &done.found {
            let label = format!("{}:", found.name);
            let pieces = [(label.as_str(), theme.dim), (found.words.as_str(), theme.strong)];
            for mut row in flow(&pieces, columns.saturating_sub(INDENT).max(1)) {
                row.spans.insert(0, span(&" ".repeat(INDENT), theme.text));
                lines.push(row);
            }
        }
    }
    lines
}

impl Page for JobPage {
    fn shows_dials(&self) -> bool {
        true
    }

    fn is_working(&self) -> bool {
        self.planned.is_none() && self.is_shown
    }

    fn work(&mut self, world: &World) {
        if let Some(exercise) = &world.exercise {
            let made = Room::planned(exercise);
            let reasons = exercise.reasons(&made);
            self.planned = Some((made, reasons));
        }
    }

    fn refresh(&mut self, _world: &World) {
        self.planned = None;
    }

    fn hints(&self, world: &World) -> Vec<Hint> {
        Self::tables(world).into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0));
        let Some(exercise) = &world.exercise else { return Sheet::default() };
        let mut side = gauges::beside(world, columns.side);
        if exercise.help == Help::Half {
            side.push(vec![blank()]);
            side.extend(likely::beside(&exercise.sitting, columns.side, theme));
        }
        let step = self.planned.as_ref().and_then(|(_, reasons)| reasons.step.as_ref());
        let cautions = step.map(|step| step.cautions.as_slice()).unwrap_or_default();
        Sheet {
            place: "AT THE PUMP",
            title: exercise.lesson.1.name.clone(),
            cautions: parts::cautions(cautions, columns.full, theme),
            body: self.body(exercise, columns.body, theme),
            side,
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let action = Self::tables(world).into_iter().find_map(|table| find(table, key.code));
        action.map(|action| self.act(action, world)).unwrap_or_default()
    }
}

/// The likely causes over the full width.
struct LikelyPage;

const BACK: &[Bound<()>] = &[acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to the job", ())];

impl Page for LikelyPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(BACK)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(exercise) = &world.exercise else { return Sheet::default() };
        let body = likely::rows(&exercise.sitting, 20, Columns::of(world.size.0).full, &world.theme);
        Sheet { place: "LIKELY", title: "as things stand".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        find(BACK, key.code).map(|()| Effect::Close).into_iter().collect()
    }
}
