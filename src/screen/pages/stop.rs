//! Turns a stop rule that holds into the page that overrides every other one until it is answered.

use super::{asked, boxed, help};
use crate::evidence::Answer;
use crate::job::{Event, Given, StopView};
use crate::knowledge::schema::SignalWord;
use crate::screen::keys::{Bound, Hint, acts, find, hints, way};
use crate::screen::lines::{Lines, blank, flow, line, numbered};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::signed::{RUN_ON, Signed, Signing};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Stopped,
    RunOn,
    Change,
    Help,
    Leave,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('s')], "s", "the pump is stopped", "the pump is stopped; go on with it stopped", Act::Stopped),
    acts(&[KeyCode::Char('d')], "d", "the site decided to run on", "the site decided to run on; by whom", Act::RunOn),
    acts(&[KeyCode::Char('t')], "t", "change that answer", "change the answer that led here", Act::Change),
    way(&[KeyCode::Char('h')], "h", "help", "this help", Act::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave; the job is saved, and this page comes again", Act::Leave),
];

/// A stop rule.
#[derive(Debug)]
pub(in crate::screen) struct StopPage {
    stop: StopView,
    run_on: Option<Signed>,
}

impl StopPage {
    /// For this rule.
    pub(in crate::screen) fn new(stop: StopView) -> Self {
        Self { stop, run_on: None }
    }

    fn answered(&self, stopped: bool, words: String) -> Vec<Effect> {
        let said =
            if stopped { "Saved. The questions go on with the pump stopped." } else { "Saved: the site runs on." };
        vec![
            Effect::Keep(Event::StopAnswered { rule: self.stop.rule.clone(), stopped, words }),
            Effect::Say(said.to_owned()),
        ]
    }

    /// The answer that triggered the rule.
    fn trigger(&self, world: &World) -> Option<String> {
        let rule = world.knowledge.all.stop_rules.get(&self.stop.rule)?;
        let sitting = world.sitting()?;
        let leans = |id: &&String| {
            let given = sitting.job.given.get(*id).map(|(given, ..)| given);
            matches!(given, Some(Given::Answer(Answer::Yes | Answer::ProbablyYes)))
        };
        rule.when_yes.iter().find(leans).cloned()
    }

    fn act(&mut self, action: Act, world: &World) -> Vec<Effect> {
        match action {
            Act::Stopped => self.answered(true, String::new()),
            Act::RunOn => {
                self.run_on = Some(Signed::new("Who decided to run on, and why?", RUN_ON));
                Vec::new()
            }
            Act::Change => {
                let page = self.trigger(world).and_then(|id| asked::Asked::anew(&id, world));
                page.map(|page| Effect::Open(boxed(page))).into_iter().collect()
            }
            Act::Help => vec![Effect::Open(boxed(help::Help::new(self.hints(world))))],
            Act::Leave => vec![Effect::Leave],
        }
    }

    fn body(&self, world: &World, columns: usize) -> Lines {
        let theme = &world.theme;
        let mut body = vec![blank(), line("DO THIS NOW", theme.heading)];
        body.extend(numbered(&self.stop.act, columns, theme.strong));
        if let Some(id) = self.trigger(world) {
            let name = world.sitting().map(|sitting| sitting.name_of(&id)).unwrap_or_default();
            body.push(blank());
            body.extend(flow(&[("Because of the answer:", theme.dim), (&name, theme.text)], columns));
        }
        body
    }
}

impl Page for StopPage {
    fn kind(&self) -> Kind {
        Kind::Stop(self.stop.rule.clone())
    }

    fn is_typing(&self) -> bool {
        self.run_on.as_ref().is_some_and(Signed::is_typing)
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.run_on.as_ref().map_or_else(|| hints(KEYS), Signed::hints)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let rank = self.stop.cautions.iter().map(|caution| caution.rank).min().unwrap_or(SignalWord::Caution);
        let why = format!("{}.", self.stop.name.trim_end_matches('.'));
        let why = crate::text::capital(&why);
        let sign = format!("{} STOP", theme.sign(rank));
        let mut cautions =
            vec![flow(&[(&sign, theme.signal(rank)), (&why, theme.strong), (&self.stop.why, theme.text)], columns)];
        cautions.extend(parts::cautions(&self.stop.cautions, columns, theme));
        let entry = self.run_on.as_ref().map(|signed| signed.lines(columns, theme)).unwrap_or_default();
        let body = self.body(world, columns);
        Sheet {
            place: "STOP",
            title: "this comes before any question".to_owned(),
            cautions,
            body,
            entry,
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if let Some(signed) = &mut self.run_on {
            return match signed.press(key) {
                Signing::Goes => Vec::new(),
                Signing::Dropped => {
                    self.run_on = None;
                    Vec::new()
                }
                Signing::Done(words) => self.answered(false, words),
            };
        }
        find(KEYS, key.code).map(|action| self.act(action, world)).unwrap_or_default()
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(signed) = &mut self.run_on {
            signed.paste(text);
        }
    }
}
