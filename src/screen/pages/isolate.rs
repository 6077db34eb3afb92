//! Turns the gate before a step that opens something into a page: proved by somebody, not possible now, or left out.

use super::step::StepPage;
use super::{ABOVE, above, boxed, common, skip};
use crate::job::{Event, StepView};
use crate::screen::keys::{Bound, COMMON, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, hanging, line, numbered, para};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::signed::{Signed, Signing, ZERO};
use crossterm::event::{KeyCode, KeyEvent};

const RULE: &str = "Isolate by the site procedure and local code; licensed practice where it is asked.";

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Isolated,
    CannotNow,
    LeaveOut,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('i')], "i", "isolated and proved", "isolated, zero proved; by whom and how", Act::Isolated),
    acts(&[KeyCode::Char('a')], "a", "cannot isolate now", "cannot isolate now; nothing is opened", Act::CannotNow),
];

const LEAVE_OUT: &[Bound<Act>] = &[acts(
    &[KeyCode::Char('b'), KeyCode::Char('k')],
    "b",
    "leave this check out",
    "leave this one check out, with a reason",
    Act::LeaveOut,
)];

/// The gate.
#[derive(Debug)]
pub(in crate::screen) struct Isolate {
    /// The step it guards; none when isolation is asked again.
    step: Option<StepView>,
    /// True if somebody chose the step: then it follows, whatever is proposed.
    is_chosen: bool,
    signed: Option<Signed>,
}

impl Isolate {
    /// Before this step.
    pub(in crate::screen) fn before(step: StepView) -> Self {
        Self { step: Some(step), is_chosen: false, signed: None }
    }

    /// Before this step, which somebody chose.
    pub(in crate::screen) fn before_chosen(step: StepView) -> Self {
        Self { step: Some(step), is_chosen: true, signed: None }
    }

    /// Asked again, after it was not possible.
    pub(in crate::screen) fn again() -> Self {
        Self { step: None, is_chosen: false, signed: None }
    }

    fn answered(&self, proved: bool, words: String) -> Vec<Effect> {
        let said = if proved {
            "Saved. Prove zero again whenever pressure may have come back."
        } else {
            "Saved. Nothing that must be opened is asked now."
        };
        let mut effects = vec![Effect::Keep(Event::Isolation { proved, words }), Effect::Say(said.to_owned())];
        if self.step.is_none() {
            effects.push(Effect::Close);
        }
        if proved && self.is_chosen {
            let page = self.step.clone().and_then(StepPage::new);
            effects.extend(page.map(|page| Effect::Job(boxed(page))));
        }
        effects
    }

    fn act(&mut self, action: Act) -> Vec<Effect> {
        match (action, &self.step) {
            (Act::Isolated, _) => {
                self.signed = Some(Signed::new("Who proved zero, and how?", ZERO));
                Vec::new()
            }
            (Act::CannotNow, _) => self.answered(false, "not possible now".to_owned()),
            (Act::LeaveOut, Some(step)) => vec![Effect::Open(boxed(skip::Skip::new(&step.check, &step.name)))],
            (Act::LeaveOut, None) => Vec::new(),
        }
    }

    fn body(&self, world: &World, columns: usize) -> Lines {
        let theme = &world.theme;
        let mut body = para(RULE, columns, theme.strong);
        if self.step.as_ref().is_some_and(|step| !step.cautions.is_empty()) {
            body.insert(0, blank());
        }
        let order = ["Know the energy.", "Shut down.", "Isolate.", "Lock and tag.", "Relieve what is stored."];
        body.extend(para(&order.join(" "), columns, theme.text));
        body.push(blank());
        body.push(line("TWO PROOFS OF ZERO", theme.heading));
        let proofs = ["The gauge shows zero.", "An open drain runs no more."].map(str::to_owned);
        body.extend(numbered(&proofs, columns, theme.strong));
        body.extend(para(
            "Pressure hides between valves, in dampers, on the oil side and the inlet side.",
            columns,
            theme.text,
        ));
        if let Some(step) = &self.step {
            body.push(blank());
            body.extend(hanging(("Next check:", theme.dim), (&step.name, theme.text), columns));
            body.extend(hanging(("Takes:", theme.dim), (&parts::effort(step), theme.text), columns));
        }
        body
    }
}

impl Page for Isolate {
    fn kind(&self) -> Kind {
        if self.step.is_some() { Kind::Step } else { Kind::Other }
    }

    fn is_typing(&self) -> bool {
        self.signed.as_ref().is_some_and(Signed::is_typing)
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        if let Some(signed) = &self.signed {
            return signed.hints();
        }
        let mut all = hints(KEYS);
        if self.step.is_some() {
            all.extend(hints(LEAVE_OUT));
            all.extend(hints(COMMON));
        } else {
            all.extend(hints(ABOVE));
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let cautions = self.step.as_ref().map(|step| step.cautions.as_slice()).unwrap_or_default();
        let pinned = parts::cautions(cautions, columns, theme);
        let title = self.step.as_ref().map_or("asked again".to_owned(), |step| format!("before: {}", step.name));
        let entry = self.signed.as_ref().map(|signed| signed.lines(columns, theme)).unwrap_or_default();
        let body = self.body(world, columns);
        Sheet { place: "ISOLATION", title, pinned, body, entry, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if let Some(signed) = &mut self.signed {
            return match signed.press(key) {
                Signing::Goes => Vec::new(),
                Signing::Dropped => {
                    self.signed = None;
                    Vec::new()
                }
                Signing::Done(words) => self.answered(true, words),
            };
        }
        let own = find(KEYS, key.code);
        match (own.or_else(|| self.step.as_ref().and_then(|_| find(LEAVE_OUT, key.code))), &self.step) {
            (Some(action), _) => self.act(action),
            (None, Some(_)) => common(key, self, world),
            (None, None) => above(key, self, world),
        }
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(signed) = &mut self.signed {
            signed.paste(text);
        }
    }
}
