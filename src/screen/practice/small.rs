//! Turns the small moments of practice into pages: help, a hint, giving it up, the wait for the debrief.

use super::page::{Effect, Page, World, boxed};
use crate::practice::{Move, Reasons, Room};
use crate::screen::keys::{Bound, Hint, acts, find, hints, way};
use crate::screen::lines::{Lines, blank, flow, hanging, line, minutes, para};
use crate::screen::pages::help::help_lines;
use crate::screen::parts::{self, of_20};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};

const GOOD_TO_KNOW: &[&str] = &[
    "The pump is not there, and nothing of this reaches the real records.",
    "Every move is saved before it is made; a job that was left goes on where it was.",
    "Prove zero before hands go in. A move that would be unsafe is not done, and the job fails.",
    "Name the cause, not the damage: why it broke, not what is broken.",
    "PgUp and PgDn scroll; so do the arrows where there is nothing to choose.",
];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Back,
    Theme,
    GiveUp,
}

const HELP: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to where you were", Act::Back),
    way(
        &[KeyCode::Char('l')],
        "l",
        "next theme",
        "dark, light for the sun, high contrast, without colours",
        Act::Theme,
    ),
];

const BACK: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to where you were", Act::Back)];

const GIVE_UP: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('y')], "y", "yes, give it up", "give it up and hear what it was", Act::GiveUp),
    acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to the job", Act::Back),
];

fn act(key: KeyEvent, table: &[Bound<Act>]) -> Vec<Effect> {
    match find(table, key.code) {
        Some(Act::Back) => vec![Effect::Close],
        Some(Act::Theme) => vec![Effect::NextTheme],
        Some(Act::GiveUp) => vec![Effect::Make(Move::GivesUp)],
        None => Vec::new(),
    }
}

/// Opens help for a page with these keys.
pub(super) fn help(below: Vec<Hint>) -> Effect {
    Effect::Open(boxed(HelpPage { below }))
}

/// Help for the page below.
struct HelpPage {
    below: Vec<Hint>,
}

impl Page for HelpPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(HELP)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let body = help_lines(&self.below, GOOD_TO_KNOW, Columns::of(world.size.0).full, &world.theme);
        Sheet { place: "HELP", title: "what can be done there".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        act(key, HELP)
    }
}

/// What the planner would do next.
pub(super) struct HintPage {
    reasons: Reasons,
}

impl HintPage {
    /// As the job stands.
    pub(super) fn new(world: &World) -> Option<Self> {
        let exercise = world.exercise.as_ref()?;
        Some(Self { reasons: exercise.reasons(&Room::planned(exercise)) })
    }
}

/// A move of the planner with its reasons.
pub(super) fn reasons_lines(reasons: &Reasons, columns: usize, theme: &Theme) -> Lines {
    let mut lines = para(&reasons.says, columns, theme.strong);
    if let Some(step) = &reasons.step {
        lines.extend(hanging(("Takes:", theme.dim), (&parts::effort(step), theme.text), columns));
    }
    for answer in &reasons.answers {
        let causes: Vec<String> =
            answer.likely.iter().map(|(name, share)| format!("{name} {}", of_20(*share))).collect();
        lines.extend(flow(
            &[("If", theme.dim), (&format!("{}:", answer.words), theme.strong), (&causes.join(", "), theme.text)],
            columns,
        ));
    }
    lines
}

impl Page for HintPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(BACK)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let columns = Columns::of(world.size.0).full;
        let cautions = self.reasons.step.as_ref().map(|step| step.cautions.as_slice()).unwrap_or_default();
        let cautions = parts::cautions(cautions, columns, &world.theme);
        let body = reasons_lines(&self.reasons, columns, &world.theme);
        Sheet { place: "HINT", title: "what the planner would do".to_owned(), cautions, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        act(key, BACK)
    }
}

/// Giving it up is asked once more: it ends the job.
pub(super) struct GiveUp;

impl Page for GiveUp {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(GIVE_UP)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = para("Give it up? That ends this job, and you hear what it was.", columns, theme.strong);
        if let Some(exercise) = &world.exercise {
            let spent = minutes(exercise.minutes());
            body.push(blank());
            body.push(line(&format!("{} checks, {spent} so far.", exercise.done.len()), theme.text));
        }
        Sheet { place: "GIVE IT UP", title: "the job ends".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        act(key, GIVE_UP)
    }
}

/// The planner plays the same pump; the debrief comes behind it.
pub(super) struct Ending;

impl Page for Ending {
    fn is_ending(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        Vec::new()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let says = format!("the planner works on the same pump, to compare{}", theme.marks.cut);
        let body = para(&says, columns, theme.strong);
        Sheet { place: "WORKING", title: "a moment".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, _key: KeyEvent, _world: &World) -> Vec<Effect> {
        Vec::new()
    }
}
