//! Turns what was changed and not tried yet into the page that asks what came of it.

use super::common;
use crate::job::{Event, Outcome, TryView};
use crate::screen::keys::{Bound, COMMON, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, hanging, para};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

const KEYS: &[Bound<Outcome>] = &[
    acts(&[KeyCode::Char('n')], "n", "no effect", "no effect: it is as before", Outcome::Same),
    acts(&[KeyCode::Char('b')], "b", "better, not well", "better, but not well", Outcome::Better),
    acts(&[KeyCode::Char('w')], "w", "works: complaint gone", "it works: the complaint is gone", Outcome::Well),
];

/// The page.
#[derive(Debug)]
pub(in crate::screen) struct TryPage {
    view: TryView,
}

impl TryPage {
    /// For what was changed.
    pub(in crate::screen) fn new(view: TryView) -> Self {
        Self { view }
    }
}

impl Page for TryPage {
    fn kind(&self) -> Kind {
        Kind::Step
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all = hints(KEYS);
        all.extend(hints(COMMON));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = Lines::new();
        for changed in &self.view.changed {
            body.extend(para(changed, columns, theme.strong));
        }
        for complaint in &self.view.complaint {
            body.extend(hanging(("The complaint was:", theme.dim), (complaint, theme.text), columns));
        }
        body.push(blank());
        body.extend(para("Run the pump at its duty. What came of it?", columns, theme.strong));
        body.push(blank());
        let rule = "\"It works\" counts as proof once the readings are back where they belong.";
        body.extend(para(rule, columns, theme.text));
        Sheet { place: "TRY IT", title: "one change at a time".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(outcome) = find(KEYS, key.code) else { return common(key, self, world) };
        let said = match outcome {
            Outcome::Well => "Saved. Now the readings: are they back?",
            _ => "Saved: that speaks against it. What hung on it may be asked again.",
        };
        vec![Effect::Keep(Event::Tried { outcome, words: String::new() }), Effect::Say(said.to_owned())]
    }
}
