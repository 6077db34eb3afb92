//! Turns what was picked into what is named: how sure in percent, anything else, and the end of the job.

use super::page::{Effect, Page, World, boxed};
use super::search::Search;
use crate::knowledge::schema::Id;
use crate::practice::Move;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, flow, hanging, line, para};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Take,
    Drop,
    End,
    More,
}

const TYPING: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "take it", "take the number", Act::Take),
    acts(&[KeyCode::Esc], "Esc", "back", "back to the job; nothing is named", Act::Drop),
];
/// A number that was refused must be changed before it can be taken.
const REFUSED: &[Bound<Act>] = &[acts(&[KeyCode::Esc], "Esc", "back", "back to the job; nothing is named", Act::Drop)];
/// Naming ends the job, so Enter does not do it.
const READ: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('z')], "z", "that is all: name it", "name it and end the job", Act::End),
    acts(&[KeyCode::Char('a')], "a", "and something else", "name another cause beside it", Act::More),
    acts(&[KeyCode::Esc], "Esc", "back", "back to the job; nothing is named", Act::Drop),
];

/// What is named.
pub(super) struct Naming {
    named: Vec<(Id, f64)>,
    /// How sure of this one is still to be said.
    open: Option<Id>,
    field: Field,
    is_wrong: bool,
}

impl Naming {
    /// One more beside what was named already.
    pub(super) fn new(named: Vec<(Id, f64)>, id: Id) -> Self {
        Self { named, open: Some(id), field: Field::default(), is_wrong: false }
    }

    fn table(&self) -> &'static [Bound<Act>] {
        match (&self.open, self.is_wrong) {
            (Some(_), false) => TYPING,
            (Some(_), true) => REFUSED,
            (None, _) => READ,
        }
    }

    fn take(&mut self) {
        match (percent(self.field.trimmed()), self.open.take()) {
            (Some(sure), Some(id)) => {
                self.named.retain(|(known, _)| *known != id);
                self.named.push((id, sure));
                self.field = Field::default();
            }
            (_, open) => (self.open, self.is_wrong) = (open, true),
        }
    }
}

/// A number from 1 to 99, with or without its sign, as a share.
fn percent(typed: &str) -> Option<f64> {
    let number = typed.trim_end_matches(['%', ' ']).replace(',', ".").parse::<f64>().ok()?;
    (1.0..=99.0).contains(&number).then_some(number / 100.0)
}

impl Page for Naming {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(self.table())
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let Some(exercise) = &world.exercise else { return Sheet::default() };
        let mut body = Lines::new();
        for (id, sure) in &self.named {
            let label = format!("{:>3.0} %", 100.0 * sure);
            body.extend(hanging((&label, theme.strong), (&exercise.sitting.name_of(id), theme.text), columns));
        }
        let mut entry = Lines::new();
        if let Some(id) = &self.open {
            body.extend(hanging(("  ? %", theme.strong), (&exercise.sitting.name_of(id), theme.strong), columns));
            entry.push(self.field.line("How sure are you, 1 to 99 %?", columns, theme));
            if self.is_wrong {
                entry.extend(flow(&[("That is no number from 1 to 99.", theme.trouble)], columns));
            }
        } else {
            body.push(blank());
            body.extend(para("Not named yet. Naming it ends the job.", columns, theme.trouble));
        }
        body.insert(0, line("THE MATTER IS", theme.heading));
        Sheet {
            place: "NAME IT",
            title: "what is the matter, and how sure".to_owned(),
            body,
            entry,
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        match find(self.table(), key.code) {
            Some(Act::Take) => self.take(),
            Some(Act::Drop) => return vec![Effect::Close],
            Some(Act::End) => return vec![Effect::Make(Move::Names { nodes: self.named.clone() })],
            Some(Act::More) => return vec![Effect::Close, Effect::Open(boxed(Search::name(self.named.clone())))],
            None if self.open.is_some() => self.is_wrong &= !self.field.press(key),
            None => {}
        }
        Vec::new()
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if self.open.is_some() {
            self.field.paste(text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::percent;

    #[test]
    fn how_sure_is_a_number_from_1_to_99() {
        assert_eq!(percent("80"), Some(0.8));
        assert_eq!(percent("62,5 %"), Some(0.625));
        for wrong in ["", "0", "100", "sure", "-5", "NaN"] {
            assert_eq!(percent(wrong), None, "{wrong}");
        }
    }
}
