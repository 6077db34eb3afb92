//! Turns a gate into a page: its lines answered one by one, then recorded by a key that does nothing else; or not possible
//! now, or the check left out.

use super::step::StepPage;
use super::{ABOVE, above, boxed, common, skip};
use crate::job::{GateKind, GateLine, GateView, Said, Takes, is_answered};
use crate::screen::field::Field;
use crate::screen::keys::{Bound, COMMON, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, flow, hanging, line, para};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

const RULE: &str = "By the site isolation procedure and local codes; licensed practice where it is asked.";
const HIDES: &str = "Pressure hides between valves, in dampers, on the oil side and the inlet side.";
const HOT: &str = "Warm liquid shut in on the inlet side: leave it a way out.";

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Begin,
    CannotNow,
    LeaveOut,
    Next,
    Yes,
    No,
    Back,
    Record,
    Again,
}

const BEGIN_ISOLATION: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('i')], "i", "isolated: say how", "isolated; say who, what and both proofs", Act::Begin),
    acts(&[KeyCode::Char('a')], "a", "can't do this now", "cannot be isolated now; nothing is opened", Act::CannotNow),
];

const BEGIN_FIRST_RUN: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('i')], "i", "go through the lines", "answer the lines one by one", Act::Begin),
    acts(&[KeyCode::Char('a')], "a", "can't do this now", "not possible now; the pump is not started", Act::CannotNow),
];

const LEAVE_OUT: &[Bound<Act>] = &[acts(
    &[KeyCode::Char('b'), KeyCode::Char('k')],
    "b",
    "leave this check out",
    "leave this one check out, with a reason",
    Act::LeaveOut,
)];

const TYPING: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "next line", "the next line; nothing is saved yet", Act::Next),
    acts(&[KeyCode::Esc], "Esc", "back", "back; nothing is saved", Act::Back),
];

const YES_NO: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('y')], "y", "yes", "yes", Act::Yes),
    acts(&[KeyCode::Char('n')], "n", "no", "no: then this is not passed", Act::No),
    acts(&[KeyCode::Esc], "Esc", "back", "back one line; nothing is saved", Act::Back),
];

const LAST_ISOLATION: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('z')], "z", "zero is proved twice: record it", "record that zero is proved", Act::Record),
    acts(&[KeyCode::Esc], "Esc", "once more", "answer once more; nothing is saved", Act::Again),
];

const LAST_FIRST_RUN: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('z')], "z", "every line is yes: record it", "record that every line is yes", Act::Record),
    acts(&[KeyCode::Esc], "Esc", "once more", "answer once more; nothing is saved", Act::Again),
];

/// How far the answering has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stage {
    Shown,
    Answering,
    Read,
}

/// The gate.
#[derive(Debug)]
pub(in crate::screen) struct GatePage {
    gate: GateView,
    /// True if somebody chose the step: then it follows, whatever is proposed.
    is_chosen: bool,
    /// True if it guards what is proposed next, or what was chosen; false if it is asked by itself.
    is_step: bool,
    said: Vec<Said>,
    field: Field,
    is_short: bool,
    stage: Stage,
}

impl GatePage {
    fn of(gate: GateView, is_step: bool) -> Self {
        Self {
            gate,
            is_chosen: false,
            is_step,
            said: Vec::new(),
            field: Field::default(),
            is_short: false,
            stage: Stage::Shown,
        }
    }

    /// Before what is proposed.
    pub(in crate::screen) fn before(gate: GateView) -> Self {
        Self::of(gate, true)
    }

    /// Before a step that somebody chose.
    pub(in crate::screen) fn before_chosen(gate: GateView) -> Self {
        Self { is_chosen: true, ..Self::of(gate, true) }
    }

    /// Asked again, after it was not possible.
    pub(in crate::screen) fn again(gate: GateView) -> Self {
        Self::of(gate, false)
    }

    fn line(&self) -> Option<&GateLine> {
        self.gate.lines.get(self.said.len())
    }

    fn takes_words(&self) -> bool {
        self.stage == Stage::Answering && self.line().is_some_and(|line| line.takes == Takes::Words)
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        let is_isolation = self.gate.kind == GateKind::Isolation;
        match self.stage {
            Stage::Shown => {
                let begin = if is_isolation { BEGIN_ISOLATION } else { BEGIN_FIRST_RUN };
                if self.gate.step.is_some() { vec![begin, LEAVE_OUT] } else { vec![begin] }
            }
            Stage::Answering if self.takes_words() => vec![TYPING],
            Stage::Answering => vec![YES_NO],
            Stage::Read => vec![if is_isolation { LAST_ISOLATION } else { LAST_FIRST_RUN }],
        }
    }

    /// What was said last time stands in the field, to be kept or changed.
    fn fill(&mut self) {
        self.field = Field::default();
        self.is_short = false;
        if let Some(was) = self.line().and_then(|line| line.was.clone()) {
            self.field.paste(&was);
        }
        if self.line().is_none() {
            self.stage = Stage::Read;
        }
    }

    fn say(&mut self, said: Said) {
        self.said.push(said);
        self.fill();
    }

    fn back(&mut self) {
        if self.said.pop().is_none() {
            self.stage = Stage::Shown;
        }
        self.fill();
    }

    fn next_words(&mut self) {
        let said = Said::Words(self.field.trimmed().to_owned());
        if self.line().is_some_and(|line| is_answered(line, Some(&said))) {
            self.say(said);
        } else {
            self.is_short = true;
        }
    }

    /// Saves what was said: passed with all lines, else not possible.
    fn record(&self) -> Vec<Effect> {
        let passed = self.said.len() == self.gate.lines.len() && !self.said.contains(&Said::No);
        let mut effects: Vec<Effect> = self.gate.events(&self.said).into_iter().map(Effect::Keep).collect();
        effects.push(self.told(passed));
        self.ended(effects, passed)
    }

    fn refuse(&self) -> Vec<Effect> {
        self.ended(vec![Effect::Keep(self.gate.refused("")), self.told(false)], false)
    }

    fn ended(&self, mut effects: Vec<Effect>, passed: bool) -> Vec<Effect> {
        if !self.is_step {
            effects.push(Effect::Close);
        }
        if passed && self.is_chosen {
            let page = self.gate.step.as_deref().cloned().and_then(StepPage::new);
            effects.extend(page.map(|page| Effect::Job(boxed(page))));
        }
        effects
    }

    fn told(&self, passed: bool) -> Effect {
        let said = match (self.gate.kind, passed) {
            (GateKind::Isolation, true) => "Saved. Prove zero again whenever pressure may have come back.",
            (GateKind::Isolation, false) => "Saved. Nothing that must be opened is asked now.",
            (GateKind::FirstRun, true) => "Saved. Stand clear of covers and hose ends at the start.",
            (GateKind::FirstRun, false) => "Saved. No start is offered now.",
        };
        Effect::Say(said.to_owned())
    }

    fn act(&mut self, action: Act) -> Vec<Effect> {
        match action {
            Act::Begin | Act::Again => {
                self.stage = Stage::Answering;
                self.said.clear();
                self.fill();
            }
            Act::CannotNow => return self.refuse(),
            Act::LeaveOut => {
                let step = self.gate.step.as_deref();
                let page = step.map(|step| skip::Skip::new(&step.check, &step.name));
                return page.map(|page| Effect::Open(boxed(page))).into_iter().collect();
            }
            Act::Next => self.next_words(),
            Act::Yes => self.say(Said::Yes),
            Act::No => {
                self.said.push(Said::No);
                return self.record();
            }
            Act::Back => self.back(),
            Act::Record => return self.record(),
        }
        Vec::new()
    }

    fn body(&self, world: &World, columns: usize) -> (Lines, Option<(usize, usize)>) {
        let theme = &world.theme;
        let mut body = para(RULE, columns, theme.strong);
        if let Some(again) = &self.gate.again {
            body.extend(para(again, columns, theme.trouble));
        }
        if self.gate.kind == GateKind::Isolation && self.stage == Stage::Shown {
            body.extend(para(&format!("{HIDES} {HOT}"), columns, theme.text));
        }
        body.push(blank());
        let head = match self.gate.kind {
            GateKind::Isolation => "TWO PROOFS OF ZERO, AND BY WHOM",
            GateKind::FirstRun => "BEFORE THE FIRST TURN UNDER POWER",
        };
        body.push(line(head, theme.heading));
        let mut focus = None;
        for (at, gate_line) in self.gate.lines.iter().enumerate() {
            let first = body.len();
            let is_open = self.stage == Stage::Answering && at == self.said.len();
            let style = if is_open { theme.strong } else { theme.text };
            body.extend(hanging((&format!("{}.", at + 1), style), (gate_line.ask, style), columns));
            let answer = match self.said.get(at) {
                Some(Said::Words(words)) => words.as_str(),
                Some(Said::Yes) => "yes",
                Some(Said::No) => "no",
                None => "",
            };
            if !answer.is_empty() {
                body.extend(hanging(("  ", theme.dim), (answer, theme.good), columns));
            }
            if is_open {
                focus = Some((first, body.len()));
            }
        }
        if let Some(step) = &self.gate.step {
            body.push(blank());
            body.extend(hanging(("Next check:", theme.dim), (&step.name, theme.text), columns));
            body.extend(hanging(("Takes:", theme.dim), (&parts::effort(step), theme.text), columns));
        }
        (body, focus)
    }

    fn entry(&self, world: &World, columns: usize) -> Lines {
        let theme = &world.theme;
        match self.stage {
            Stage::Shown => Lines::new(),
            Stage::Read => flow(&[("Not recorded yet.", theme.trouble)], columns),
            Stage::Answering if self.takes_words() => {
                let mut lines = vec![self.field.line(">", columns, theme)];
                if self.is_short {
                    let what = match self.line().map(|line| line.id) {
                        Some("liquid") => "An unknown liquid is not opened. Name it, or go back.",
                        Some("who") => "Somebody must be named.",
                        _ => "A few words are needed.",
                    };
                    lines.extend(flow(&[(what, theme.trouble)], columns));
                }
                lines
            }
            Stage::Answering => {
                let ask = self.line().map(|line| line.ask).unwrap_or_default();
                flow(&[(ask, theme.strong)], columns)
            }
        }
    }
}

impl Page for GatePage {
    fn kind(&self) -> Kind {
        if self.is_step { Kind::Step } else { Kind::Other }
    }

    fn is_typing(&self) -> bool {
        self.takes_words()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all: Vec<Hint> = self.tables().into_iter().flat_map(hints).collect();
        if self.stage == Stage::Shown {
            all.extend(if self.is_step { hints(COMMON) } else { hints(ABOVE) });
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let cautions = parts::cautions(&self.gate.cautions, columns, theme);
        let (place, title) = match self.gate.kind {
            GateKind::Isolation => ("ISOLATION", &self.gate.before),
            GateKind::FirstRun => ("FIRST RUN", &self.gate.before),
        };
        let title = if title.is_empty() { "asked again".to_owned() } else { format!("before: {title}") };
        let (body, focus) = self.body(world, columns);
        let entry = self.entry(world, columns);
        Sheet { place, title, cautions, body, entry, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if let Some(action) = self.tables().into_iter().find_map(|table| find(table, key.code)) {
            return self.act(action);
        }
        if self.takes_words() {
            self.field.press(key);
            self.is_short = false;
            return Vec::new();
        }
        match (self.stage, self.is_step) {
            (Stage::Shown, true) => common(key, self, world),
            (Stage::Shown, false) => above(key, self, world),
            _ => Vec::new(),
        }
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if self.takes_words() {
            self.field.paste(text);
        }
    }
}
