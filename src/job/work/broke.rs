//! Turns a part that was found harmed into the question why it broke: its look first, then its causes, and what the
//! named cause leaves unexplained.

use crate::evidence::Answer;
use crate::job::enter::{Refused, limited};
use crate::job::event::{Ending, Event};
use crate::job::fold::Given;
use crate::job::sitting::Sitting;
use crate::job::status::Status;
use crate::job::views::{LikelyRow, StepView};
use crate::knowledge::NodeKind;
use crate::knowledge::schema::{Id, MayRun, PumpState};
use crate::planning::{Step, WHILE_THERE};

/// Causes of a harmed part shown.
const CAUSES: usize = 4;
/// A cause explains a look of the part if its strongest way there is at least this.
const EXPLAINS: f64 = 0.05;

/// A part found harmed, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Broke {
    /// The damage.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The cause that is confirmed, if one is.
    pub because: Option<String>,
    /// What may have led to it, most probable first.
    pub causes: Vec<LikelyRow>,
    /// Looks of the part that were answered with yes.
    pub looks: Vec<String>,
    /// Of these, what the confirmed or first cause does not account for.
    pub unexplained: Vec<String>,
}

/// Three short questions before closing, each with what may help to answer it.
#[derive(Debug, Clone, PartialEq)]
pub struct SecondThoughts {
    /// Question id, question, and a hint that may be empty.
    pub questions: Vec<(&'static str, &'static str, String)>,
}

impl Sitting {
    /// Damage that a direct look found.
    pub(in crate::job) fn found_damage(&self) -> Vec<usize> {
        let damage = self.graph.of_kind(NodeKind::Damage).into_iter();
        damage.filter(|&node| self.verdict_yes(node).is_some()).collect()
    }

    /// The direct look that found a node, answered by a plain yes.
    fn verdict_yes(&self, node: usize) -> Option<&Id> {
        let id = &self.graph.nodes[node].id;
        let found = self.job.given.iter().find(|(finding, (given, ..))| {
            *given == Given::Answer(Answer::Yes)
                && self.knowledge.all.findings.get(*finding).is_some_and(|f| f.verdict_on.as_ref() == Some(id))
        });
        found.map(|(finding, _)| finding)
    }

    /// Damage that was found and has no confirmed cause above it.
    pub(in crate::job) fn open_damage(&self) -> Vec<usize> {
        let confirmed: Vec<usize> =
            self.statuses.iter().filter(|(_, status)| *status == Status::Confirmed).map(|(node, _)| *node).collect();
        let mut found = self.found_damage();
        found.retain(|&damage| !confirmed.iter().any(|&cause| self.graph.chain(cause, damage).is_some()));
        found
    }

    /// Nodes from which a node may come, itself included.
    fn above(&self, node: usize) -> Vec<bool> {
        let mut above = vec![false; self.graph.nodes.len()];
        above[node] = true;
        for at in (0..self.graph.nodes.len()).rev().filter(|at| *at <= node) {
            if above[at] {
                for (parent, _) in &self.graph.nodes[at].parents {
                    above[*parent] = true;
                }
            }
        }
        above
    }

    /// Looks of a harmed part: findings of the opened pump that it or its causes show, in the order of the check.
    fn looks_of(&self, damage: usize) -> Vec<(Id, Id)> {
        let (all, above) = (&self.knowledge.all, self.above(damage));
        let Some(verdict) = self.verdict_yes(damage) else { return Vec::new() };
        let checks = all.checks.iter().filter(|(id, check)| {
            check.yields.contains(verdict) && check.opens() && !self.job.barred.contains_key(*id)
        });
        let is_look = |id: &&Id| {
            all.findings.get(*id).is_some_and(|f| f.verdict_on.is_none() && f.state == PumpState::Opened)
                && self.graph.findings.get(*id).is_some_and(|leaf| leaf.parents.iter().any(|(p, _)| above[*p]))
        };
        let mut looks: Vec<(Id, Id)> = Vec::new();
        for (check, entry) in checks {
            for id in entry.yields.iter().filter(is_look) {
                if !looks.iter().any(|(_, look)| look == id) {
                    looks.push((check.clone(), id.clone()));
                }
            }
        }
        looks
    }

    /// The look of a part that was just found harmed, before anything else is asked; nothing once one was answered.
    pub(in crate::job) fn look_first(&self) -> Option<StepView> {
        if !self.allowed().opening {
            return None;
        }
        self.open_damage().into_iter().find_map(|damage| {
            let looks = self.looks_of(damage);
            if looks.iter().any(|(_, look)| self.job.given.contains_key(look)) {
                return None;
            }
            let check = looks.first()?.0.clone();
            let saves = |id: &Id| self.plan().saves.get(id).copied().unwrap_or_default();
            let mut asks: Vec<Id> = looks.into_iter().filter(|(of, _)| *of == check).map(|(_, look)| look).collect();
            asks.sort_by(|a, b| saves(b).total_cmp(&saves(a)));
            let entry = self.knowledge.all.checks.get(&check)?;
            let opens = entry.opening.clone().filter(|_| !self.gates().open_checks.contains(&check));
            let opening = opens.as_ref().and_then(|id| self.knowledge.all.openings.get(id));
            let own = if opens.is_none() { entry.minutes.min(WHILE_THERE) } else { entry.minutes };
            let minutes = own + opening.map_or(0.0, |opening| opening.minutes);
            self.step_view(&Step { check, asks, minutes, worth: 0.0, opens, saves: 0.0 })
        })
    }

    /// Parts found harmed, and why they broke.
    pub fn broke(&self) -> Vec<Broke> {
        self.found_damage().into_iter().map(|damage| self.why_broke(damage)).collect()
    }

    fn why_broke(&self, damage: usize) -> Broke {
        let above = self.above(damage);
        let rows = self.likely(usize::MAX).into_iter();
        let rows = rows.filter(|row| self.graph.node(&row.id).is_some_and(|node| above[node]));
        let causes: Vec<LikelyRow> = rows.take(CAUSES).collect();
        let because = causes.iter().find(|row| row.status == Status::Confirmed);
        let named = because.or_else(|| causes.first()).and_then(|row| self.graph.node(&row.id));
        let seen: Vec<Id> = self.looks_of(damage).into_iter().map(|(_, look)| look).collect();
        let seen: Vec<Id> = seen.into_iter().filter(|look| self.is_yes(look)).collect();
        let open = seen.iter().filter(|look| !named.is_some_and(|cause| self.explains(cause, look)));
        Broke {
            id: self.graph.nodes[damage].id.clone(),
            name: self.graph.nodes[damage].name.clone(),
            because: because.map(|row| row.name.clone()),
            unexplained: open.map(|look| self.name_of(look)).collect(),
            looks: seen.iter().map(|look| self.name_of(look)).collect(),
            causes,
        }
    }

    fn is_yes(&self, finding: &str) -> bool {
        matches!(self.job.given.get(finding), Some((Given::Answer(answer), ..)) if answer.leans_yes())
    }

    /// True if there is a way from the cause to the look that is not negligible.
    fn explains(&self, cause: usize, look: &str) -> bool {
        let Some(leaf) = self.graph.findings.get(look) else { return false };
        let reach = |to: usize| {
            self.graph.chain(cause, to).map_or(0.0, |chain| {
                chain.windows(2).map(|pair| self.graph.strength(pair[0], pair[1])).product::<f64>()
            })
        };
        leaf.parents.iter().any(|&(parent, strength)| EXPLAINS <= strength * reach(parent))
    }

    /// True if closing this way needs a stated reason: a part was found harmed, and it is not known why.
    pub fn needs_reason(&self, ending: Ending) -> bool {
        ending != Ending::HandedOver && !self.open_damage().is_empty()
    }

    /// Closes the job. Refused where a part was found harmed, it is not known why, and no reason is stated.
    pub fn close(&self, ending: Ending, cause: Option<Id>, words: &str) -> Result<Event, Refused> {
        if self.needs_reason(ending) && words.trim().chars().count() < 2 {
            let damage = self.open_damage().first().map(|&node| self.graph.nodes[node].name.clone());
            return Err(Refused::NoReason(damage.unwrap_or_default()));
        }
        Ok(Event::Closed { ending, cause, words: limited(words) })
    }

    /// The three questions before a job is closed on this cause.
    pub fn second_thoughts(&self, cause: Option<&str>) -> SecondThoughts {
        let rows = self.likely(usize::MAX);
        let others = || rows.iter().filter(|row| Some(row.id.as_str()) != cause);
        let what_else: Vec<String> =
            others().take(2).map(|row| format!("{} ({} of 20)", row.name, row.of_20)).collect();
        let turning = self.doubts().and_then(|doubts| doubts.turning.into_iter().next());
        let if_wrong = turning.map(|turn| format!("{}: {} would put {} first", turn.name, turn.answer, turn.leader.0));
        let grave = others().find(|row| row.status != Status::RuledOut && self.is_grave(&row.id));
        let grave = grave.map(|row| format!("{} ({})", row.name, row.status.word()));
        SecondThoughts {
            questions: vec![
                ("what_else", "What else fits what was seen?", what_else.join("; ")),
                ("if_wrong", "What would you see if you were wrong?", if_wrong.unwrap_or_default()),
                ("not_to_miss", "Which cause must not be missed here, and is it out?", grave.unwrap_or_default()),
            ],
        }
    }

    /// True for a cause that leads straight to something with which the pump must not run on.
    fn is_grave(&self, cause: &str) -> bool {
        let all = &self.knowledge.all;
        let leads_to = all.causes.get(cause).map(|cause| &cause.leads_to);
        leads_to.into_iter().flat_map(|links| links.keys()).any(|id| {
            let entry = all.conditions.get(id).or_else(|| all.damage.get(id));
            entry.and_then(|entry| entry.run_on.as_ref()).is_some_and(|run_on| run_on.may == MayRun::No)
        })
    }
}
