//! Turns an idea that was looked into, into a page: where it stands, the look that settles it, the proposed step beside it.

use super::step::StepPage;
use super::{ABOVE, above, boxed, gate, why_cause};
use crate::job::{AfterAnswer, IdeaOfCause, IdeaView, Look, StepView};
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::likely::style_of;
use crate::screen::lines::{Lines, blank, flow, line, minutes, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::parts::{self, percent};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crate::text::capital;
use crossterm::event::{KeyCode, KeyEvent};

const START: &[Bound<()>] =
    &[acts(&[KeyCode::Char('s'), KeyCode::Enter], "s", "start this check", "start the check that settles it", ())];

/// What an idea comes to.
#[derive(Debug)]
pub(in crate::screen) struct IdeaPage {
    idea: IdeaView,
}

impl IdeaPage {
    /// About this cause or check.
    pub(in crate::screen) fn new(id: &str, world: &World) -> Option<Self> {
        Some(Self { idea: world.sitting()?.idea(id)? })
    }

    /// The check, where it can be started; isolation comes first as always.
    fn start(&self, world: &World) -> Vec<Effect> {
        let Look::Ready { step, .. } = &self.idea.look else { return Vec::new() };
        let gate = world.sitting().and_then(|sitting| sitting.gate_before(step));
        let page: Option<Box<dyn Page>> = match gate {
            Some(gate) => Some(boxed(gate::GatePage::before_chosen(gate))),
            None => StepPage::new(step.clone()).map(boxed),
        };
        page.map(|page| vec![Effect::ToJob, Effect::Job(page)]).unwrap_or_default()
    }

    fn look(&self, columns: usize, theme: &Theme) -> Lines {
        match &self.idea.look {
            Look::Ready { step, answers, is_direct } => {
                let head = match (self.idea.cause.is_some(), is_direct) {
                    (true, true) => "THE CHEAPEST LOOK AT IT",
                    (true, false) => "NOTHING LOOKS AT IT DIRECTLY; MOST TELLING",
                    (false, _) => "THE CHECK",
                };
                let mut lines = step_lines(head, step, columns, theme);
                if let Some(ask) = step.asks.first() {
                    lines.extend(para(&ask.question, columns, theme.text));
                }
                lines.extend(answers.iter().flat_map(|answer| after(answer, columns, theme)));
                lines
            }
            Look::NotNow { step, why } => {
                let mut lines = vec![line("THE CHECK THAT WOULD SETTLE IT", theme.heading)];
                lines.extend(para(&capital(&step.name), columns, theme.strong));
                lines.extend(para(&format!("Not now: {why}."), columns, theme.trouble));
                lines
            }
            Look::Nothing => para("Nothing that is still open would settle it.", columns, theme.text),
        }
    }
}

fn cause_lines(cause: &IdeaOfCause, columns: usize, theme: &Theme) -> Lines {
    let (row, (place, many)) = (&cause.row, cause.place);
    let stands =
        format!("{} of 20 jobs like this, {}, {}; number {place} of {many}", row.of_20, row.word, row.status.word());
    let mut lines = para(&stands, columns, style_of(row.status, theme));
    if let Some((remedy, wrong, takes)) = &cause.at_once {
        let wrong = format!("{} it is not the cause,", percent(*wrong));
        let cost = format!("at a cost of {}.", minutes(*takes));
        let remedy = format!("If you put it right now ({remedy}): in");
        lines.extend(flow(&[(&remedy, theme.text), (&wrong, theme.strong), (&cost, theme.text)], columns));
    }
    lines.push(blank());
    if let Some(why) = &cause.why {
        lines.extend(why_cause::for_and_against(why, columns, theme));
    }
    lines
}

/// A check with its effort and its worth.
fn step_lines(head: &str, step: &StepView, columns: usize, theme: &Theme) -> Lines {
    let worth = if step.worth < 0.0 {
        format!("costs {} more than it saves", minutes(-step.worth))
    } else {
        format!("saves {} beyond that", minutes(step.worth))
    };
    let mut lines = vec![line(head, theme.heading)];
    lines.extend(para(&capital(&step.name), columns, theme.strong));
    lines.extend(para(&format!("{}; {worth}", parts::effort(step)), columns, theme.text));
    lines
}

fn after(answer: &AfterAnswer, columns: usize, theme: &Theme) -> Lines {
    let causes: Vec<String> = answer.likely.iter().map(|(name, p)| format!("{name} {}", percent(*p))).collect();
    let words = format!("{} ({}):", answer.words, percent(answer.probability));
    flow(&[("If", theme.text), (&words, theme.strong), (&causes.join(", "), theme.text)], columns)
}

impl Page for IdeaPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all = if matches!(self.idea.look, Look::Ready { .. }) { hints(START) } else { Vec::new() };
        all.extend(hints(ABOVE));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = Lines::new();
        if let Some(cause) = &self.idea.cause {
            body.extend(cause_lines(cause, columns, theme));
        }
        body.extend(self.look(columns, theme));
        if let Some(step) = &self.idea.proposed {
            body.push(blank());
            body.extend(step_lines("PROPOSED INSTEAD", step, columns, theme));
        }
        let cautions = match &self.idea.look {
            Look::Ready { step, .. } | Look::NotNow { step, .. } => step.cautions.as_slice(),
            Look::Nothing => &[],
        };
        let cautions = parts::cautions(cautions, columns, theme);
        Sheet { place: "MY IDEA", title: self.idea.name.clone(), cautions, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match find(START, key.code) {
            Some(()) => self.start(world),
            None => above(key, self, world),
        }
    }

    fn refresh(&mut self, world: &World) {
        if let Some(page) = Self::new(&self.idea.id, world) {
            *self = page;
        }
    }
}
