//! Turns what is open about the belief into a page: causes together, what stays unexplained, what to recheck, what would
//! change the list.

use super::{ABOVE, above, with};
use crate::job::{Doubts, Sitting, Sway, TurningAnswer, Unexplained};
use crate::screen::keys::{Bound, Hint, find, hints, way};
use crate::screen::lines::{Lines, blank, flow, hanging, line, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::parts::percent;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::style::Style;

const KEYS: &[Bound<()>] =
    &[way(&[KeyCode::Char('n')], "n", "numbers", "which numbers of the knowledge the first cause rests on", ())];

/// What is open.
#[derive(Debug)]
pub(in crate::screen) struct DoubtsPage {
    doubts: Option<Doubts>,
    /// Worked out when asked for: it takes longest.
    numbers: Option<(String, Vec<Sway>)>,
}

impl DoubtsPage {
    /// As things stand.
    pub(in crate::screen) fn new(world: &World) -> Self {
        Self { doubts: world.sitting().and_then(Sitting::doubts), numbers: None }
    }
}

fn together(doubts: &Doubts, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("CAUSES TOGETHER, AND NO OTHER", theme.heading)];
    for (names, share) in &doubts.together {
        let names = if let [only] = names.as_slice() { format!("{only} alone") } else { names.join(" and ") };
        lines.extend(share_of(*share, (&names, theme.text), columns, theme));
    }
    lines.extend(share_of(doubts.others, ("every other combination", theme.dim), columns, theme));
    lines.push(blank());
    lines
}

fn share_of(share: f64, text: (&str, Style), columns: usize, theme: &Theme) -> Lines {
    hanging((&format!("{:>4}", percent(share)), theme.strong), text, columns)
}

fn unexplained(answers: &[Unexplained], columns: usize, theme: &Theme) -> Lines {
    if answers.is_empty() {
        return Lines::new();
    }
    let mut lines = vec![line("STILL UNEXPLAINED BY THE FIRST OF THESE", theme.heading)];
    for answer in answers {
        let share = format!("(would be so in {})", percent(answer.probability));
        lines.extend(flow(&[(&answer.said, theme.text), (&share, theme.dim)], columns));
    }
    lines.push(blank());
    lines
}

fn recheck(doubts: &Doubts, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("HOW THE ANSWERS FIT", theme.heading)];
    lines.extend(if doubts.fits_badly {
        para("They fit badly. Check again first:", columns, theme.trouble)
    } else {
        para("They fit together. If one of them is wrong after all, most likely:", columns, theme.text)
    });
    for (said, wrong) in &doubts.recheck {
        let wrong = format!("(wrong in {})", percent(*wrong));
        lines.extend(flow(&[(said, theme.strong), (&wrong, theme.dim)], columns));
    }
    lines.push(blank());
    lines
}

fn turning(doubts: &Doubts, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("WHAT WOULD PUT ANOTHER CAUSE FIRST", theme.heading)];
    if doubts.turning.is_empty() {
        let text = format!("No single answer worked out so far would displace {}.", doubts.leader);
        lines.extend(para(&text, columns, theme.text));
    }
    for TurningAnswer { name, answer, probability, leader: (leader, then), .. } in &doubts.turning {
        let label = format!("{name}: {answer} ({})", percent(*probability));
        let then = format!("{} {leader}, {}", theme.marks.leads, percent(*then));
        lines.extend(flow(&[(&label, theme.text), (&then, theme.strong)], columns));
    }
    lines.push(blank());
    lines
}

fn sways(leader: &str, sways: &[Sway], columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("NUMBERS ON WHICH IT RESTS", theme.heading)];
    if sways.is_empty() {
        let text = format!("No single number of the knowledge moves {leader} much.");
        lines.extend(para(&text, columns, theme.text));
    } else {
        let text = format!("Share of {leader} with the odds of each number halved, doubled:");
        lines.extend(para(&text, columns, theme.dim));
    }
    for Sway { what, now, source, then, .. } in sways {
        let [half, double] = then.map(percent);
        let source = if source.is_empty() { "no source given" } else { source };
        let text = format!("{what}: {} ({source}): {half}, {double}", percent(*now));
        lines.extend(hanging((theme.marks.dot, theme.dim), (&text, theme.text), columns));
    }
    lines
}

impl Page for DoubtsPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        if self.doubts.is_none() || self.numbers.is_some() { hints(ABOVE) } else { with(KEYS, ABOVE) }
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let body = match &self.doubts {
            Some(doubts) => [
                together(doubts, columns, theme),
                unexplained(&doubts.unexplained, columns, theme),
                recheck(doubts, columns, theme),
                turning(doubts, columns, theme),
                self.numbers.iter().flat_map(|(leader, all)| sways(leader, all, columns, theme)).collect(),
            ]
            .concat(),
            None => para("Nothing can be told before the answers can be weighed.", columns, theme.text),
        };
        Sheet { place: "DOUBTS", title: "what is open about the list".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if self.numbers.is_none() && find(KEYS, key.code).is_some() {
            self.numbers = world.sitting().and_then(Sitting::numbers_that_matter);
            return Vec::new();
        }
        above(key, self, world)
    }

    fn refresh(&mut self, world: &World) {
        *self = Self::new(world);
    }
}
