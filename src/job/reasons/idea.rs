//! Turns somebody's own idea, a cause or a check, into what the job says of it: where it stands, what to look at, what the
//! look is worth beside the proposed step, and the risk of acting on it at once.

use super::{AfterAnswer, WhyCause};
use crate::belief::outcomes;
use crate::job::gates::FirstRun;
use crate::job::sitting::Sitting;
use crate::job::views::{LikelyRow, StepView, caution_views};
use crate::knowledge::schema::{Id, PumpState};
use crate::knowledge::{Hit, NodeKind, applies, search};
use crate::planning::{minutes_to_repair, step_of};

/// What an idea comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct IdeaView {
    /// Cause or check.
    pub id: Id,
    /// Name.
    pub name: String,
    /// The cause, if the idea is one.
    pub cause: Option<IdeaOfCause>,
    /// The check that would settle it, or the check itself.
    pub look: Look,
    /// The step proposed, unless it is the same check.
    pub proposed: Option<StepView>,
}

/// A cause somebody thinks of.
#[derive(Debug, Clone, PartialEq)]
pub struct IdeaOfCause {
    /// Its row of the list.
    pub row: LikelyRow,
    /// Its place in the list, from 1, and how many there are.
    pub place: (usize, usize),
    /// Answers for and against it.
    pub why: Option<WhyCause>,
    /// The remedy, the chance that it is in vain if done now, and the minutes it takes; none without a remedy.
    pub at_once: Option<(String, f64, f64)>,
}

/// The check that would settle an idea.
#[derive(Debug, Clone, PartialEq)]
pub enum Look {
    /// It can be done now.
    Ready {
        /// The check; its first question settles the idea.
        step: StepView,
        /// What each answer to that question would mean: for a cause, its probability then; for a check, the likely
        /// causes then.
        answers: Vec<AfterAnswer>,
        /// True if it looks at the cause itself.
        is_direct: bool,
    },
    /// It cannot be done now.
    NotNow {
        /// The check as it would be, cautions included.
        step: StepView,
        /// Why not.
        why: String,
    },
    /// Nothing that is still open would settle it.
    Nothing,
}

impl Sitting {
    /// Causes and checks of this family by name and everyday words, best first; nothing for an empty query.
    pub fn ideas(&self, words: &str, most: usize) -> Vec<Hit> {
        if words.trim().is_empty() {
            return Vec::new();
        }
        let all = &self.knowledge.all;
        let causes = all.causes.iter().filter(|(id, _)| self.graph.node(id).is_some());
        let causes = causes.map(|(id, cause)| {
            let texts = std::iter::once(&cause.name).chain(&cause.aliases).map(String::as_str).collect();
            (id.as_str(), texts)
        });
        let checks = all.checks.iter().filter(|(_, check)| applies(&check.families, &self.job.family));
        let checks = checks.map(|(id, check)| (id.as_str(), vec![check.name.as_str()]));
        let mut hits = search(words, &causes.chain(checks).collect::<Vec<_>>());
        // Most ideas are causes: as with complaints, what is meant most often counts double.
        hits.sort_by_key(|hit| std::cmp::Reverse(hit.score * if all.causes.contains_key(&hit.id) { 2 } else { 1 }));
        hits.truncate(most);
        hits
    }

    /// What an idea comes to; `None` for something that is neither a cause of this family nor a check.
    pub fn idea(&self, id: &str) -> Option<IdeaView> {
        let cause = self.graph.node(id).filter(|&node| self.graph.nodes[node].kind == NodeKind::Cause);
        let look = match cause {
            Some(node) => self.look_at(node),
            None => self.own_check(self.knowledge.all.checks.get_key_value(id)?.0),
        };
        let own = match &look {
            Look::Ready { step, .. } => Some(step.check.clone()),
            _ => None,
        };
        Some(IdeaView {
            id: id.to_owned(),
            name: self.name_of(id),
            cause: cause.map(|node| self.idea_of_cause(node)),
            proposed: self.next_step().filter(|step| Some(&step.check) != own.as_ref()),
            look,
        })
    }

    fn idea_of_cause(&self, node: usize) -> IdeaOfCause {
        let rows = self.likely(usize::MAX);
        let id = &self.graph.nodes[node].id;
        let at = rows.iter().position(|row| row.id == *id).unwrap_or_default();
        let remedy = self.knowledge.all.causes.get(id).and_then(|cause| cause.remedy.as_ref());
        let remedy = remedy.and_then(|remedy| self.knowledge.all.remedies.get(remedy));
        let minutes = self.with_planner(|planner| minutes_to_repair(planner, node)).flatten();
        IdeaOfCause {
            row: rows[at].clone(),
            place: (at + 1, rows.len()),
            why: self.why_cause(id),
            at_once: remedy
                .zip(minutes)
                .map(|(remedy, minutes)| (remedy.name.clone(), 1.0 - self.present(node), minutes)),
        }
    }

    /// The cheapest direct look at a cause; without one, the open question that moves it most.
    fn look_at(&self, node: usize) -> Look {
        let direct = self.confirming(&self.graph.nodes[node].id);
        let open = |check: &Id| self.verdict_of(check, node).filter(|finding| !self.settled().contains(finding));
        let cheapest = self.with_planner(|planner| {
            let costs = planner.costs();
            costs.causes.iter().find(|cost| cost.node == node).and_then(|cost| cost.look.clone())
        });
        if let Some(check) = cheapest.flatten()
            && let Some(look) = self.ready(&check, open(&check).as_ref(), Some(node))
        {
            return look;
        }
        let barred = direct.iter().find(|way| open(&way.check).is_some());
        match barred.and_then(|way| self.not_now(&way.check)) {
            Some(look) => look,
            None => self.most_telling(node).unwrap_or(Look::Nothing),
        }
    }

    /// The finding of a check that is a verdict on a node.
    fn verdict_of(&self, check: &Id, node: usize) -> Option<Id> {
        let (all, id) = (&self.knowledge.all, &self.graph.nodes[node].id);
        let mut yields = all.checks.get(check)?.yields.iter();
        yields.find(|y| all.findings.get(*y).is_some_and(|finding| finding.verdict_on.as_ref() == Some(id))).cloned()
    }

    fn own_check(&self, check: &Id) -> Look {
        let ready = self.ready(check, None, None);
        ready.or_else(|| self.not_now(check)).unwrap_or(Look::Nothing)
    }

    /// The check as a step, `first` asked first; `None` if it may not be done now or has nothing left to tell.
    fn ready(&self, check: &Id, first: Option<&Id>, cause: Option<usize>) -> Option<Look> {
        let step = self.with_planner(|planner| step_of(planner, check, |id| self.question(id)).ok().flatten())??;
        let mut step = self.step_view(&step)?;
        if let Some(at) = step.asks.iter().position(|ask| Some(&ask.id) == first) {
            let ask = step.asks.remove(at);
            step.asks.insert(0, ask);
        }
        let asked = step.asks.first()?.id.clone();
        let answers = match cause {
            Some(node) => self.after_for(&asked, node),
            None => self.why_ask(&asked).map(|why| why.answers).unwrap_or_default(),
        };
        Some(Look::Ready { step, answers, is_direct: cause.is_none() || first.is_some() })
    }

    /// The check with the reason why it cannot be done now; `None` if nothing stands against it but that it has nothing
    /// left to tell.
    fn not_now(&self, check: &Id) -> Option<Look> {
        let entry = self.knowledge.all.checks.get(check)?;
        let allowed = self.allowed();
        let opens = entry.opens();
        let why = if let Some(reason) = self.job.barred.get(check) {
            format!("said not to be possible: {reason}")
        } else if !applies(&entry.families, &self.job.family) {
            "not on this pump family".to_owned()
        } else if !allowed.running && entry.state == PumpState::Running {
            self.why_no_run()
        } else if !allowed.opening && opens {
            "isolation was said not to be possible, so nothing is opened".to_owned()
        } else {
            return None;
        };
        let opening = entry.opening.as_ref().and_then(|id| self.knowledge.all.openings.get(id));
        let step = StepView {
            check: check.clone(),
            name: entry.name.clone(),
            steps: entry.steps.clone(),
            tools: entry.tools.clone(),
            cautions: caution_views(&self.knowledge, &entry.cautions),
            minutes: entry.minutes,
            worth: 0.0,
            opens: opening.map(|opening| opening.name.clone()),
            state: entry.state,
            needs_isolation: opens,
            asks: Vec::new(),
        };
        Some(Look::NotNow { step, why })
    }

    fn why_no_run(&self) -> String {
        match &self.gates.first_run {
            FirstRun::NotYet(open) => format!("the first-run gate is not passed: {}", open.join(", ")),
            _ => "the pump must not run now: a stop rule stands".to_owned(),
        }
    }

    /// The step whose question moves the cause most on average, of those the plan has worked out.
    fn most_telling(&self, node: usize) -> Option<Look> {
        let now = self.present(node);
        let asked = self.plan().saves.keys().filter_map(|id| Some((id, self.question(id)?)));
        let (ids, questions): (Vec<&Id>, Vec<_>) = asked.unzip();
        let found = outcomes(&self.network, &self.evidence.likelihoods(), &questions, &[node]).ok()?;
        let moves = found.iter().map(|outcomes| {
            let answers = outcomes.iter().flat_map(|outcomes| &outcomes.outcomes);
            answers.map(|answer| answer.probability * (answer.present[0] - now).abs()).sum::<f64>()
        });
        let (most, id) = moves.zip(ids).max_by(|a, b| a.0.total_cmp(&b.0))?;
        let step = self.plan().steps.iter().find(|step| 1e-3 < most && step.asks.contains(id))?;
        let look = self.ready(&step.check, Some(id), Some(node))?;
        Some(match look {
            Look::Ready { step, answers, .. } => Look::Ready { step, answers, is_direct: false },
            other => other,
        })
    }

    /// Per answer: how probable it is, and the probability of the cause after it.
    fn after_for(&self, id: &str, node: usize) -> Vec<AfterAnswer> {
        let Some(question) = self.question(id) else { return Vec::new() };
        let words = super::answer_words(&question);
        let found = outcomes(&self.network, &self.evidence.likelihoods(), &[question], &[node]);
        let found = found.ok().and_then(|found| found.into_iter().next()?);
        let outcomes = found.map(|outcomes| outcomes.outcomes).unwrap_or_default();
        let name = &self.graph.nodes[node].name;
        words
            .iter()
            .zip(outcomes)
            .map(|(word, outcome)| AfterAnswer {
                words: (*word).to_owned(),
                probability: outcome.probability,
                likely: vec![(name.clone(), outcome.present[0])],
            })
            .collect()
    }
}
