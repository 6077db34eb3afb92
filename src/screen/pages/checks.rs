//! Turns all open checks into a page: the best at once, the complete list as it grows between keys.

use super::{ABOVE, above};
use crate::job::{AllChecks, Sitting};
use crate::screen::keys::{Hint, hints};
use crate::screen::lines::{blank, hanging, line, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::KeyEvent;

/// All open checks with what each saves. The list stays as it is until the whole is there, so that nothing moves while
/// somebody reads.
#[derive(Debug)]
pub(in crate::screen) struct ChecksPage {
    all: AllChecks,
}

impl ChecksPage {
    /// As things stand.
    pub(in crate::screen) fn new(world: &World) -> Self {
        Self { all: world.sitting().map(Sitting::all_checks).unwrap_or_default() }
    }
}

impl Page for ChecksPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(ABOVE)
    }

    fn is_working(&self) -> bool {
        !self.all.is_whole()
    }

    fn work(&mut self, world: &World) {
        if let Some(sitting) = world.sitting() {
            sitting.more_checks(&mut self.all);
        }
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let mut body = para("Minutes it takes, minutes it saves beyond that at least:", columns, theme.dim);
        for step in &self.all.steps {
            let label = format!("{:>4.0} {:>+6.1}", step.minutes, step.worth);
            body.extend(hanging((&label, theme.strong), (&sitting.name_of(&step.check), theme.text), columns));
        }
        body.push(blank());
        let (done, whole) = self.all.progress();
        let left_out = sitting.plan().left_out;
        body.push(line(&progress(done, whole, theme.marks.cut), theme.dim));
        if 0.0 < left_out {
            body.extend(para(&crate::job::rests_on(left_out), columns, theme.dim));
        }
        Sheet { place: "OPEN CHECKS", title: "every check that is open".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        above(key, self, world)
    }

    fn refresh(&mut self, world: &World) {
        *self = Self::new(world);
    }
}

fn progress(done: usize, whole: usize, cut: &str) -> String {
    if done == whole {
        format!("Complete: {whole} questions worked out.")
    } else {
        format!("The best of {done} questions; the other {} are being worked out{cut}", whole - done)
    }
}
