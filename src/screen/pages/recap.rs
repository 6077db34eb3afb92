//! Turns a job that is taken up again into a recap: what was said, how it stands, what is isolated, how old it is.

use super::thinking::Thinking;
use super::{boxed, complaint, first_minute, help};
use crate::job::{Isolation, Sitting, Where, stamp};
use crate::screen::keys::{Bound, Hint, acts, find, hints, way};
use crate::screen::likely;
use crate::screen::lines::{Lines, blank, flow, hanging, line, para};
use crate::screen::page::{Effect, Page, Purpose, World};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    GoOn,
    Help,
    Leave,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter, KeyCode::Char('g')], "Enter", "go on", "go on where the job stands", Act::GoOn),
    way(&[KeyCode::Char('h')], "h", "help", "this help", Act::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave; the job is saved", Act::Leave),
];

/// The recap.
#[derive(Debug)]
pub(in crate::screen) struct Recap {
    notices: Vec<String>,
}

impl Recap {
    /// With what must be told first.
    pub(in crate::screen) fn new(notices: Vec<String>) -> Self {
        Self { notices }
    }

    fn body(&self, sitting: &Sitting, columns: usize, theme: &Theme) -> Lines {
        let mut body: Lines = Lines::new();
        for notice in &self.notices {
            body.extend(flow(&[("Note:", theme.trouble), (notice, theme.text)], columns));
            body.push(blank());
        }
        let job = &sitting.job;
        if let Some((ending, ..)) = &job.closed {
            body.extend(para(&format!("This job was closed: {}.", ending.words()), columns, theme.strong));
        }
        for words in &job.words {
            body.extend(hanging(("The operator said:", theme.dim), (words, theme.strong), columns));
        }
        if job.words.is_empty() {
            body.push(line("No complaint was taken down yet.", theme.text));
        }
        body.extend(isolation(sitting, columns, theme));
        for (check, reason) in &job.barred {
            let text = format!("{} ({reason})", sitting.name_of(check));
            body.extend(hanging(("Left out:", theme.dim), (&text, theme.text), columns));
        }
        if let Some(last) = job.last {
            let when = format!("{}.", stamp(last));
            body.extend(hanging(("Last worked on:", theme.dim), (&when, theme.text), columns));
            body.extend(para("Take readings again if the pump ran since.", columns, theme.text));
        }
        body
    }
}

/// What is isolated, as far as it was proved.
fn isolation(sitting: &Sitting, columns: usize, theme: &Theme) -> Lines {
    match &sitting.gates().isolation {
        Isolation::Open => Lines::new(),
        Isolation::Proved(words, _) => flow(
            &[
                ("Isolation was proved:", theme.dim),
                (&format!("{words}."), theme.strong),
                ("Prove zero again before you reach in.", theme.trouble),
            ],
            columns,
        ),
        Isolation::Lapsed(words, why) => flow(
            &[
                ("Isolation was proved:", theme.dim),
                (&format!("{words}."), theme.text),
                (&format!("It counts no more: {}.", why.words()), theme.trouble),
            ],
            columns,
        ),
        Isolation::NotPossible(words) => {
            hanging(("Isolation was not possible:", theme.dim), (words, theme.text), columns)
        }
    }
}

/// Where a job stands, from what is in it.
pub(in crate::screen) fn page_of(world: &World) -> Box<dyn Page> {
    let Some(sitting) = world.sitting() else { return boxed(Thinking::new(Purpose::Step)) };
    let asked = sitting.job.given.values().any(|(_, _, from)| matches!(from, Where::Check(_)));
    match (sitting.has_complaint(), asked || sitting.job.closed.is_some()) {
        (_, true) => boxed(Thinking::new(Purpose::Step)),
        (true, false) => first_minute::page_after(world, 0),
        (false, false) => boxed(complaint::Complaint::new(world)),
    }
}

impl Page for Recap {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let (theme, columns) = (&world.theme, Columns::of(world.size.0));
        Sheet {
            place: "WHERE IT STANDS",
            title: "job taken up again".to_owned(),
            body: self.body(sitting, columns.body, theme),
            side: likely::beside(sitting, columns.side, theme),
            foot: parts::trail(sitting, columns.full, theme),
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match find(KEYS, key.code) {
            Some(Act::GoOn) => vec![Effect::Job(page_of(world))],
            Some(Act::Help) => vec![Effect::Open(boxed(help::Help::new(self.hints(world))))],
            Some(Act::Leave) => vec![Effect::Leave],
            None => Vec::new(),
        }
    }
}
