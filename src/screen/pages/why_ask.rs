//! Turns the worth of a question into words: what each answer would mean.

use super::{ABOVE, above, boxed};
use crate::job::{AfterAnswer, Sitting, WhyStep};
use crate::screen::keys::{Hint, hints};
use crate::screen::lines::{Lines, blank, flow, minutes, two_ends};
use crate::screen::page::{Effect, Page, World};
use crate::screen::parts::of_20;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::KeyEvent;

/// Why a question is asked.
#[derive(Debug)]
pub(in crate::screen) struct WhyAsk {
    name: String,
    why: WhyStep,
}

/// Opens the page, or says that there is nothing to tell.
pub(super) fn open(id: &str, sitting: &Sitting) -> Effect {
    match sitting.why_ask(id) {
        Some(why) => Effect::Open(boxed(WhyAsk { name: sitting.name_of(id), why })),
        None => Effect::Say("Nothing hangs on this question alone.".to_owned()),
    }
}

fn answer_lines(answer: &AfterAnswer, columns: usize, theme: &Theme) -> Lines {
    let how_often = format!("({} jobs like this):", of_20(answer.probability));
    let mut lines = flow(&[("If", theme.text), (&answer.words, theme.strong), (&how_often, theme.text)], columns);
    let (name, share) = (columns.min(64), 8);
    for (cause, probability) in &answer.likely {
        let left = format!("  {cause}");
        let right = format!("{:>share$}", of_20(*probability));
        lines.push(two_ends((&left, theme.text), (&right, theme.strong), name, theme.marks.cut));
    }
    lines.push(blank());
    lines
}

impl Page for WhyAsk {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(ABOVE)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let (takes, saves) = (minutes(self.why.minutes), minutes(self.why.saves));
        let mut body = flow(
            &[
                ("It takes", theme.text),
                (&takes, theme.strong),
                ("and shortens the rest of the job by", theme.text),
                (&saves, theme.strong),
                ("on average.", theme.text),
            ],
            columns,
        );
        body.push(blank());
        body.extend(self.why.answers.iter().flat_map(|answer| answer_lines(answer, columns, theme)));
        Sheet { place: "WHY THIS QUESTION", title: self.name.clone(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        above(key, self, world)
    }
}
