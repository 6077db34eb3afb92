//! Turns an unsafe move into the page that must be seen before anything else: what it would have done, what comes first.

use super::page::{Effect, Page, World};
use crate::knowledge::schema::SignalWord;
use crate::practice::{Miss, Move};
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{blank, flow, para, sentence};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

/// Not Enter: it must be read.
const KEYS: &[Bound<()>] = &[acts(&[KeyCode::Char('g')], "g", "I have read it: go on", "go on, and learn from it", ())];

/// An unsafe move.
pub(super) struct Missed {
    miss: Miss,
}

impl Missed {
    /// For this move.
    pub(super) fn new(miss: Miss) -> Self {
        Self { miss }
    }
}

impl Page for Missed {
    fn is_grave(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    /// The signal word is that of the gravest caution; without one, harm was possible.
    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let rank = self.miss.cautions.iter().map(|caution| caution.rank).min().unwrap_or(SignalWord::Warning);
        let rank = rank.min(SignalWord::Warning);
        // What ran on too long has happened; anything else was not done.
        let lead = if self.miss.instead.1 == Move::Stops { "Unsafe" } else { "Unsafe, so it was not done" };
        let what = format!("{lead}: {}.", self.miss.what);
        let instead = sentence(&self.miss.instead.0);
        let sign = format!("{} {}", theme.sign(rank), rank.word());
        let mut cautions =
            vec![flow(&[(&sign, theme.signal(rank)), (&what, theme.strong), (&instead, theme.text)], columns)];
        cautions.extend(parts::cautions(&self.miss.cautions, columns, theme));
        let mut body = vec![blank()];
        body.extend(para("This job is failed. Go on with it and learn from it.", columns, theme.trouble));
        Sheet {
            place: "UNSAFE",
            title: "this could have harmed somebody".to_owned(),
            cautions,
            body,
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        find(KEYS, key.code).map(|()| Effect::Close).into_iter().collect()
    }
}
