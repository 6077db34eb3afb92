//! Turns the last few suspects into a sketch and the advice on it back into proposals.
//!
//! While many causes are open, the single-fault list decides. Once few causes carry nearly all of the belief, those few,
//! alone and together, make a sketch on which the next steps are compared by thinking ahead. The shares of the sets are
//! exact; what a question answers in a set is estimated as if its parents were independent given the causes.

use super::ahead::{Work, advise};
use super::costs::{CauseCost, Costs, openings, own_minutes};
use super::list::minutes_left;
use super::sketch::{FaultSet, LookError, Sketch, SketchParts, SketchQuestion};
use super::steps::{Planner, Proposal, Proposed, Rule, Step};
use super::walk::{Action, State};
use crate::belief::{GivenSet, Question, given_sets};
use crate::knowledge::schema::Id;
use indexmap::IndexMap;

/// Causes of the sketch.
const SUSPECTS: usize = 8;
/// Of these, so many are combined by three; all are combined by two.
const BY_THREE: usize = 5;
/// Questions of the sketch.
const QUESTIONS: usize = 12;
/// Minutes for everything outside the sketch, at least.
const ELSEWHERE: f64 = 30.0;
/// Sets with a smaller share are left out.
const LEAST_SHARE: f64 = 1e-9;

/// What an action of the sketch asks.
struct Ask {
    check: Id,
    item: Id,
    question: Question,
}

/// The last suspects with what can be done about them.
struct EndGame<'a, 'k> {
    planner: &'a Planner<'k>,
    costs: &'a Costs,
    /// Places of the suspects among the costs' causes.
    suspects: Vec<usize>,
    asks: Vec<Ask>,
    /// Per suspect, its direct look.
    looks: Vec<Option<Ask>>,
}

/// Proposals by thinking ahead, best first; `None` while more causes are open than a sketch holds. `steps` are the checks
/// by the single-fault list, best first, `questions` what they ask.
pub(super) fn end_game(
    planner: &Planner,
    costs: &Costs,
    rule: Rule,
    (steps, questions): (&[Step], &IndexMap<Id, Question>),
) -> Option<Vec<Proposed>> {
    let chances: Vec<f64> = costs.causes.iter().map(|cost| planner.present[cost.node]).collect();
    let mut suspects: Vec<usize> = (0..chances.len()).collect();
    suspects.sort_by(|&a, &b| chances[b].total_cmp(&chances[a]).then(a.cmp(&b)));
    suspects.truncate(SUSPECTS);
    let carried: f64 = suspects.iter().map(|&cause| chances[cause]).sum();
    if carried < rule.end_game * chances.iter().sum::<f64>() {
        return None;
    }
    let mut game = EndGame { planner, costs, suspects, asks: Vec::new(), looks: Vec::new() };
    game.looks = game.suspects.iter().map(|&cause| game.look(cause, questions)).collect();
    game.asks = game.asks(steps, questions);
    let sketch = Sketch::new(game.parts(&chances, rule)?).ok()?;
    let mut state = State::new(&sketch);
    state.paid = planner.asked.opened;
    let advice = advise(&sketch, &state, Work::STEP);
    let proposed = advice
        .actions
        .iter()
        .map(|ranked| Proposed { proposal: game.proposal(ranked.action), minutes: ranked.minutes });
    Some(proposed.collect())
}

impl EndGame<'_, '_> {
    fn id(&self, cause: usize) -> &Id {
        &self.planner.graph.nodes[self.costs.causes[cause].node].id
    }

    fn is_verdict_on(&self, item: &str, node: &Id) -> bool {
        let finding = self.planner.knowledge.all.findings.get(item);
        finding.is_some_and(|finding| finding.verdict_on.as_ref() == Some(node))
    }

    fn look(&self, cause: usize, questions: &IndexMap<Id, Question>) -> Option<Ask> {
        let check = self.costs.causes[cause].look.as_ref()?;
        let yields = &self.planner.knowledge.all.checks.get(check)?.yields;
        let item = yields.iter().find(|item| self.is_verdict_on(item, self.id(cause)))?;
        Some(Ask { check: check.clone(), item: item.clone(), question: questions.get(item)?.clone() })
    }

    /// The most telling question of each of the best checks; direct looks at suspects are actions of their own.
    fn asks(&self, steps: &[Step], questions: &IndexMap<Id, Question>) -> Vec<Ask> {
        let is_look = |item: &Id| self.suspects.iter().any(|&cause| self.is_verdict_on(item, self.id(cause)));
        let telling = steps.iter().filter_map(|step| {
            let item = step.asks.iter().find(|item| !is_look(item) && questions.contains_key(*item))?;
            Some(Ask { check: step.check.clone(), item: item.clone(), question: questions[item].clone() })
        });
        telling.take(QUESTIONS).collect()
    }

    fn parts(&self, chances: &[f64], rule: Rule) -> Option<SketchParts> {
        let nodes: Vec<usize> = self.suspects.iter().map(|&cause| self.costs.causes[cause].node).collect();
        let masks = combinations(nodes.len());
        let found = given_sets(self.planner.network, self.planner.likelihoods, (&nodes, &masks)).ok()?;
        let elsewhere = nodes.len();
        let kept: Vec<(u64, &GivenSet)> =
            masks.into_iter().zip(&found).filter(|(_, given)| LEAST_SHARE < given.share).collect();
        let sets = kept
            .iter()
            .map(|&(set, given)| FaultSet { causes: if set == 0 { 1 << elsewhere } else { set }, weight: given.share });
        Some(SketchParts {
            sets: sets.collect(),
            costs: self.few_costs(chances, rule),
            looks: self.look_errors(),
            remedies: self.remedies(),
            questions: self.asks.iter().map(|ask| self.question(ask, &kept)).collect(),
            elsewhere: Some(elsewhere),
        })
    }

    /// Minutes of the suspects, and of everything else as one.
    fn few_costs(&self, chances: &[f64], rule: Rule) -> Costs {
        let mut others = chances.to_vec();
        self.suspects.iter().for_each(|&cause| others[cause] = 0.0);
        let minutes = minutes_left(self.costs, &others, self.planner.asked.opened) / rule.overstated;
        let mut causes: Vec<CauseCost> = self.suspects.iter().map(|&cause| self.costs.causes[cause].clone()).collect();
        for (cost, look) in causes.iter_mut().zip(&self.looks) {
            cost.look = cost.look.take().filter(|_| look.is_some());
        }
        causes.push(CauseCost {
            node: usize::MAX,
            look: None,
            look_minutes: 0.0,
            look_openings: 0,
            repair_minutes: minutes.max(ELSEWHERE),
            repair_openings: 0,
        });
        Costs::of_causes(causes, self.costs.opening_minutes().to_vec())
    }

    fn look_errors(&self) -> Vec<LookError> {
        let error = |ask: &Option<Ask>| match ask.as_ref().map(|ask| &ask.question) {
            Some(Question::Leaf { leaf, .. }) => {
                let missed: f64 = leaf.parents.iter().map(|(_, strength)| 1.0 - strength).product();
                LookError { sensitivity: 1.0 - (1.0 - leaf.leak) * missed, false_positive: leaf.leak }
            }
            _ => LookError { sensitivity: 1.0, false_positive: 0.0 },
        };
        self.looks.iter().chain([&None]).map(error).collect()
    }

    /// One label per remedy, so that causes put right by the same work need not be told apart.
    fn remedies(&self) -> Vec<usize> {
        let all = &self.planner.knowledge.all;
        let remedy = |cause: usize| all.causes.get(self.id(cause)).and_then(|entry| entry.remedy.as_ref());
        let known = self.suspects.iter().enumerate().map(|(place, &cause)| {
            let same =
                self.suspects.iter().position(|&other| remedy(cause).is_some() && remedy(other) == remedy(cause));
            same.unwrap_or(place)
        });
        known.chain([self.suspects.len()]).collect()
    }

    fn question(&self, ask: &Ask, sets: &[(u64, &GivenSet)]) -> SketchQuestion {
        let check = self.planner.knowledge.all.checks.get(&ask.check);
        let by_set: Vec<Vec<f64>> = sets.iter().map(|(_, given)| given.answers(&ask.question)).collect();
        let mut answers: Vec<Vec<f64>> = (0..by_set.first().map_or(0, Vec::len))
            .map(|answer| by_set.iter().map(|chances| chances[answer]).collect())
            .collect();
        if answers.len() == 2 {
            // A sketch has the "no" first.
            answers.swap(0, 1);
        }
        SketchQuestion {
            minutes: check.map_or(0.0, |entry| own_minutes(&self.planner.asked.begun, &ask.check, entry.minutes)),
            openings: openings(self.planner.knowledge, check.and_then(|entry| entry.opening.as_ref())),
            answers,
        }
    }

    fn proposal(&self, action: Action) -> Proposal {
        let ask = match action {
            Action::Ask(question) => self.asks.get(question),
            Action::Look(cause) => self.looks.get(cause).and_then(Option::as_ref),
            Action::Repair(cause) => {
                return self.suspects.get(cause).map_or(Proposal::Nothing, |&cause| Proposal::Repair { cause });
            }
        };
        ask.map_or(Proposal::Nothing, |ask| Proposal::Check { check: ask.check.clone(), ask: ask.item.clone() })
    }
}

/// None, one, two, or three of the first few.
fn combinations(suspects: usize) -> Vec<u64> {
    let few = |set: &u64| match set.count_ones() {
        0..=2 => true,
        3 => *set < 1 << BY_THREE,
        _ => false,
    };
    (0..1_u64 << suspects).filter(few).collect()
}

#[cfg(test)]
mod tests {
    use super::combinations;

    /// Of eight: none, eight alone, 28 pairs, and ten triples of the first five.
    #[test]
    fn sets_of_a_sketch() {
        assert_eq!(combinations(8).len(), 1 + 8 + 28 + 10);
        assert!(combinations(0) == [0] && combinations(1) == [0, 1]);
    }
}
