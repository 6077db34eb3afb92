//! Turns a step rule into its expected minutes on a small job, exactly, by the true number of faults.

use std::collections::HashMap;
use weephole::planning::{
    Action, CauseCost, Costs, Place, Record, Sketch, State, Work, advise, base_rule, in_order, joint_list, minutes_left,
};

/// Fewest bits of knowledge for which [`Rule::Information`] still asks.
const LEAST_BITS: f64 = 0.05;

/// A rule for the next step.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Rule {
    FixedOrder,
    ListOnly,
    Information,
    SingleFault,
    Joint,
    Shipped,
}

impl Rule {
    pub const ALL: [Self; 6] =
        [Self::FixedOrder, Self::ListOnly, Self::Information, Self::SingleFault, Self::Joint, Self::Shipped];

    pub fn name(self) -> &'static str {
        match self {
            Self::FixedOrder => "fixed order: all questions, cheapest first",
            Self::ListOnly => "cost/probability, no questions",
            Self::Information => "information per minute, stop at 0.05 bit",
            Self::SingleFault => "base rule, single-fault list",
            Self::Joint => "base rule, joint list",
            Self::Shipped => "shipped: base rule improved",
        }
    }

    /// Expected minutes from the beginning.
    pub fn minutes(self, sketch: &Sketch) -> Minutes {
        evaluate(&Place::new(sketch, State::new(sketch)), &mut |place| self.choose(place))
    }

    fn choose(self, place: &Place) -> Action {
        match self {
            Self::FixedOrder => {
                let dearer = |a: &Action, b: &Action| place.minutes(*a).total_cmp(&place.minutes(*b));
                first_asks(place).into_iter().min_by(dearer).unwrap_or_else(|| first_of_list(place))
            }
            Self::ListOnly => first_of_list(place),
            Self::Information => most_bits(place).unwrap_or_else(|| first_of_list(place)),
            Self::SingleFault => single_fault(place),
            Self::Joint => base_rule(place).unwrap().action,
            Self::Shipped => advise(place.sketch, &place.state, Work::STEP).actions[0].action,
        }
    }
}

/// Expected minutes of a job by the true number of faults (1, 2, 3 and more): joint with the weight of each.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Minutes {
    pub weighted: [f64; 3],
    pub weights: [f64; 3],
    /// Minutes of somebody who knows what is wrong, times the weight.
    pub unavoidable: f64,
}

impl Minutes {
    /// Expected minutes over all numbers of faults.
    pub fn mean(&self) -> f64 {
        self.weighted.iter().sum::<f64>() / self.weights.iter().sum::<f64>()
    }

    /// Expected repairs of the true faults.
    pub fn sunk(&self) -> f64 {
        self.unavoidable / self.weights.iter().sum::<f64>()
    }
}

fn class(causes: u64) -> usize {
    (causes.count_ones() as usize).clamp(1, 3) - 1
}

/// Follows a rule through every state it can reach.
pub fn evaluate<'a>(start: &Place<'a>, choose: &mut dyn FnMut(&Place<'a>) -> Action) -> Minutes {
    let mut minutes = Minutes { weighted: follow(start, choose, &mut HashMap::new()), ..Minutes::default() };
    for (set, weight) in start.sketch.sets().iter().zip(&start.weights) {
        minutes.weights[class(set.causes)] += weight;
        let repairs = weephole::planning::members(set.causes);
        minutes.unavoidable +=
            weight * repairs.map(|cause| start.sketch.costs().causes[cause].repair_minutes).sum::<f64>();
    }
    minutes
}

fn follow<'a>(
    place: &Place<'a>,
    choose: &mut dyn FnMut(&Place<'a>) -> Action,
    known: &mut HashMap<State, [f64; 3]>,
) -> [f64; 3] {
    if let Some(minutes) = known.get(&place.state) {
        return *minutes;
    }
    let action = choose(place);
    let own = place.minutes(action);
    let mut weighted = [0.0; 3];
    for (set, weight) in place.sketch.sets().iter().zip(&place.weights) {
        weighted[class(set.causes)] += weight * own;
    }
    for after in place.branches(action).into_iter().filter_map(|branch| branch.after) {
        for (sum, more) in weighted.iter_mut().zip(follow(&after, choose, known)) {
            *sum += more;
        }
    }
    known.insert(place.state.clone(), weighted);
    weighted
}

/// Questions never asked.
fn first_asks(place: &Place) -> Vec<Action> {
    let fresh = |action: &Action| matches!(action, Action::Ask(q) if place.state.records[*q] == Record::Open);
    place.actions().into_iter().filter(fresh).collect()
}

fn first_of_list(place: &Place) -> Action {
    let entry = joint_list(place.sketch, &place.state, &place.weights).first.unwrap();
    if entry.repair_now { Action::Repair(entry.cause) } else { Action::Look(entry.cause) }
}

/// The question that lowers the entropy of the fault sets most per minute, if any lowers it enough.
fn most_bits(place: &Place) -> Option<Action> {
    let now = entropy(place);
    let asks = place.actions().into_iter().filter(|action| matches!(action, Action::Ask(_)));
    let gains = asks.map(|ask| {
        let after =
            |branch: weephole::planning::Branch| branch.probability * branch.after.as_ref().map_or(0.0, entropy);
        (ask, now - place.branches(ask).into_iter().map(after).sum::<f64>())
    });
    let worth = gains.filter(|(_, bits)| LEAST_BITS <= *bits);
    let best = worth.max_by(|a, b| (a.1 / place.minutes(a.0)).total_cmp(&(b.1 / place.minutes(b.0))));
    best.map(|(ask, _)| ask)
}

fn entropy(place: &Place) -> f64 {
    let chances = place.weights.iter().map(|weight| weight / place.mass).filter(|p| 0.0 < *p);
    chances.map(|p| -p * libm::log2(p)).sum()
}

/// One step by the single-fault list of `planning::list`, on the chances of the causes alone.
fn single_fault(place: &Place) -> Action {
    let list = in_order(&costs_now(place), &chances(place), place.state.paid);
    let first = list.first().map_or_else(
        || first_of_list(place),
        |entry| if entry.repair_now { Action::Repair(entry.cause) } else { Action::Look(entry.cause) },
    );
    let value = |place: &Place| minutes_left(&costs_now(place), &chances(place), place.state.paid);
    let mut best = (value(place), first);
    for ask in place.actions().into_iter().filter(|action| matches!(action, Action::Ask(_))) {
        let after = |branch: &weephole::planning::Branch| branch.probability * branch.after.as_ref().map_or(0.0, value);
        let minutes = place.minutes(ask) + place.branches(ask).iter().map(after).sum::<f64>();
        if minutes < best.0 {
            best = (minutes, ask);
        }
    }
    best.1
}

fn chances(place: &Place) -> Vec<f64> {
    (0..place.sketch.costs().causes.len()).map(|cause| place.present(cause)).collect()
}

/// Costs without the looks already done.
fn costs_now(place: &Place) -> Costs {
    let mut costs = place.sketch.costs().clone();
    let looked = place.state.fine | place.state.bad;
    let done = |(cause, _): &(usize, &mut CauseCost)| looked >> cause & 1 == 1;
    costs.causes.iter_mut().enumerate().filter(done).for_each(|(_, cost)| cost.look = None);
    costs
}
