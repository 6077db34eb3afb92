//! Turns small sketches worked by hand, or by enumeration of the hidden noise, into checks of list, walk and advice.
#![allow(clippy::unwrap_used)]

use super::{
    Action, CauseCost, Causes, Costs, FaultSet, LookError, NO, Place, Sketch, SketchError, SketchParts, SketchQuestion,
    State, Work, YES, advise, joint_list,
};
use proptest::prelude::*;

fn cost(look: Option<f64>, repair: f64, openings: u64) -> CauseCost {
    CauseCost {
        node: 0,
        look: look.map(|_| "look".to_owned()),
        look_minutes: look.unwrap_or_default(),
        look_openings: openings,
        repair_minutes: repair,
        repair_openings: openings,
    }
}

/// A sketch with looks that do not err; openings of 30 and 50 min.
fn parts(causes: Vec<CauseCost>, sets: &[(Causes, f64)]) -> SketchParts {
    let count = causes.len();
    SketchParts {
        costs: Costs::of_causes(causes, vec![30.0, 50.0]),
        looks: vec![LookError { sensitivity: 1.0, false_positive: 0.0 }; count],
        remedies: (0..count).collect(),
        sets: sets.iter().map(|&(causes, weight)| FaultSet { causes, weight }).collect(),
        ..SketchParts::default()
    }
}

fn question(minutes: f64, no: Vec<f64>) -> SketchQuestion {
    let yes = no.iter().map(|no| 1.0 - no).collect();
    SketchQuestion { minutes, openings: 0, answers: vec![no, yes] }
}

fn minutes(sketch: &Sketch) -> f64 {
    let place = Place::new(sketch, State::new(sketch));
    joint_list(sketch, &place.state, &place.weights).weighted_minutes / place.mass
}

fn after<'a>(place: &Place<'a>, action: Action, outcome: usize) -> Place<'a> {
    place.branches(action)[outcome].after.clone().unwrap()
}

/// By hand: sets {0} 0.5, {1} 0.3, {0, 1} 0.2; repairs 100 and 60 min, looks 10 and 20 min. Sunk 0.7·100 + 0.5·60 = 100.
/// Both orders begin with cause 0 (0.7/10 against 0.5/20; alone 0.5/10 against 0.3/20): 1·10. Then A = P(1 present) = 0.5
/// and cause 1 is certain: nothing wasted. V = 110; one fault at a time would give Σ p = 1.2 and another A.
#[test]
fn two_faults_at_once_by_hand() {
    let causes = vec![cost(Some(10.0), 100.0, 0), cost(Some(20.0), 60.0, 0)];
    let sketch = Sketch::new(parts(causes, &[(0b01, 0.5), (0b10, 0.3), (0b11, 0.2)])).unwrap();
    assert!((minutes(&sketch) - 110.0).abs() < 1e-9, "{}", minutes(&sketch));
}

/// By hand: causes 1 and 2 lie behind one opening of 30 min, cause 0 in the open; p = 0.2, 0.4, 0.4; looks 10, 2, 2 min;
/// repairs 500 min. Alone the rates are 0.2/10 = 0.020 and 0.4/32 = 0.0125, the opened group as a whole 0.8/34 = 0.0235.
/// So 1, 2, 0: 500 + 1·32 + 0.6·2 + 0.2·0 = 533.2.
#[test]
fn an_opening_is_paid_once_for_all_behind_it() {
    let causes = vec![cost(Some(10.0), 500.0, 0), cost(Some(2.0), 500.0, 1), cost(Some(2.0), 500.0, 1)];
    let sketch = Sketch::new(parts(causes, &[(0b001, 0.2), (0b010, 0.4), (0b100, 0.4)])).unwrap();
    let place = Place::new(&sketch, State::new(&sketch));
    assert_eq!(joint_list(&sketch, &place.state, &place.weights).first.unwrap().cause, 1);
    assert!((minutes(&sketch) - 533.2).abs() < 1e-9, "{}", minutes(&sketch));
}

/// Two causes with one remedy are one: a question that only tells them apart is not worth a minute, the repair is
/// counted once, and both are well after it.
#[test]
fn causes_with_one_remedy_need_not_be_told_apart() {
    let causes = vec![cost(Some(10.0), 40.0, 0), cost(Some(10.0), 40.0, 0), cost(None, 90.0, 0)];
    let mut parts = parts(causes, &[(0b001, 0.45), (0b010, 0.45), (0b100, 0.1)]);
    parts.remedies = vec![7, 7, 8];
    parts.questions = vec![question(1.0, vec![1.0, 0.0, 1.0])];
    let sketch = Sketch::new(parts.clone()).unwrap();
    let place = Place::new(&sketch, State::new(&sketch));
    // 0.9·40 + 0.1·90 of true faults, and 0.1·40 for the repair in vain.
    assert!((minutes(&sketch) - 49.0).abs() < 1e-9, "{}", minutes(&sketch));
    assert!(matches!(advise(&sketch, &place.state, Work::STEP).actions[0].action, Action::Repair(0 | 1)));
    assert_eq!(after(&place, Action::Repair(0), 0).state.repaired, 0b011);
    parts.remedies = vec![7, 9, 8];
    let apart = Sketch::new(parts).unwrap();
    assert_eq!(advise(&apart, &State::new(&apart), Work::STEP).actions[0].action, Action::Ask(0));
}

/// Everything outside the sketch is treated last, however cheap, and is never proposed while something else is left.
#[test]
fn elsewhere_comes_last() {
    let causes = vec![cost(None, 100.0, 0), cost(None, 1.0, 0)];
    let mut parts = parts(causes, &[(0b01, 0.5), (0b10, 0.5)]);
    parts.elsewhere = Some(1);
    let sketch = Sketch::new(parts).unwrap();
    let advice = advise(&sketch, &State::new(&sketch), Work::STEP);
    let proposed: Vec<Action> = advice.actions.iter().map(|ranked| ranked.action).collect();
    assert_eq!(proposed, [Action::Repair(0)]);
    let place = Place::new(&sketch, State::new(&sketch));
    let rest = after(&place, Action::Repair(0), 0);
    assert_eq!(advise(&sketch, &rest.state, Work::STEP).actions[0].action, Action::Repair(1));
}

/// Without budget the base rule stands; nothing to repair, nothing to do; the same facts give the same advice.
#[test]
fn advice_at_the_edges() {
    let causes = vec![cost(Some(5.0), 50.0, 0), cost(Some(9.0), 70.0, 2)];
    let mut parts = parts(causes, &[(0b01, 0.5), (0b10, 0.4), (0b11, 0.1)]);
    parts.questions = vec![question(1.0, vec![0.9, 0.1, 0.1])];
    let sketch = Sketch::new(parts.clone()).unwrap();
    let start = State::new(&sketch);
    assert_eq!(advise(&sketch, &start, Work(0)).how.plies, 0);
    assert!(advise(&sketch, &start, Work::STEP).how.plies > 1);
    assert_eq!(advise(&sketch, &start, Work::STEP), advise(&sketch, &start, Work::STEP));
    parts.sets.iter_mut().for_each(|set| set.weight = 0.0);
    let nothing = Sketch::new(parts).unwrap();
    assert!(advise(&nothing, &start, Work::STEP).actions.is_empty());
}

/// What does not fit together is refused, by name.
#[test]
fn parts_are_checked() {
    let good = parts(vec![cost(None, 10.0, 0)], &[(0b1, 1.0)]);
    let refused = |change: &dyn Fn(&mut SketchParts)| {
        let mut parts = good.clone();
        change(&mut parts);
        Sketch::new(parts).err()
    };
    assert_eq!(refused(&|_| {}), None);
    assert_eq!(refused(&|parts| parts.sets[0].causes = 0b10), Some(SketchError::Causes));
    assert_eq!(refused(&|parts| parts.looks.clear()), Some(SketchError::Shape));
    assert_eq!(refused(&|parts| parts.elsewhere = Some(1)), Some(SketchError::Shape));
    assert_eq!(refused(&|parts| parts.questions.push(question(1.0, Vec::new()))), Some(SketchError::Shape));
    assert_eq!(refused(&|parts| parts.questions.push(question(1.0, vec![f64::NAN]))), Some(SketchError::Range));
    assert_eq!(refused(&|parts| parts.sets[0].weight = -1.0), Some(SketchError::Range));
    assert_eq!(refused(&|parts| parts.sets.push(parts.sets[0])), Some(SketchError::Twice));
}

/// Shared noise, by enumeration: two causes, one leak and two inhibitors drawn once per job. Chance of the sequence "yes
/// with `first` repaired, not well, then the second answer with `second` repaired".
fn by_enumeration(priors: [f64; 2], misses: [f64; 2], silent: f64, (first, second): (Causes, Causes)) -> [f64; 2] {
    let mut sequence = [0.0; 2];
    let pick = |p: f64, happens: bool| if happens { p } else { 1.0 - p };
    for world in 0..32_u64 {
        let on = |bit: u64| world >> bit & 1 == 1;
        let faults = world & 0b11;
        let chance = pick(priors[0], on(0)) * pick(priors[1], on(1)) * pick(1.0 - silent, on(2));
        let chance = chance * pick(misses[0], on(3)) * pick(misses[1], on(4));
        let sign = |repaired: Causes| {
            let shows = |cause: u64| (faults & !repaired) >> cause & 1 == 1 && !on(3 + cause);
            on(2) || shows(0) || shows(1)
        };
        if faults & !second != 0 && sign(first) {
            sequence[usize::from(sign(second))] += chance;
        }
    }
    sequence
}

proptest! {
    /// A "yes", a repair, the question again: the weights are those of the world with noise drawn once. A walk that forgot
    /// the old "yes", or drew the noise anew, fails here.
    #[test]
    fn a_question_after_a_repair_shares_its_noise(
        priors in prop::array::uniform2(0.05..0.95_f64),
        misses in prop::array::uniform2(0.0..1.0_f64),
        silent in 0.5..1.0_f64,
    ) {
        let chance = |set: Causes| [0, 1].map(|cause| if set >> cause & 1 == 1 { priors[cause] } else { 1.0 - priors[cause] });
        let sets: Vec<(Causes, f64)> = (0..4).map(|set| (set, chance(set).iter().product())).collect();
        let mut parts = parts(vec![cost(None, 10.0, 0), cost(None, 10.0, 0)], &sets);
        let no = |set: usize| silent * [1.0, misses[0], misses[1], misses[0] * misses[1]][set];
        parts.questions = vec![question(1.0, (0..4).map(no).collect())];
        let sketch = Sketch::new(parts).unwrap();
        let yes = Place::new(&sketch, State::new(&sketch));
        let yes = after(&yes, Action::Ask(0), YES);
        let repaired = after(&yes, Action::Repair(0), 0);
        let expected = by_enumeration(priors, misses, silent, (0, 0b01));
        for answer in [NO, YES] {
            let weights = repaired.weights_after(Action::Ask(0), answer);
            prop_assert!((weights.iter().sum::<f64>() - expected[answer]).abs() < 1e-12);
            let again = Place::new(&sketch, repaired.state_after(Action::Ask(0), answer));
            prop_assert!((again.mass - expected[answer]).abs() < 1e-12);
        }
    }

    /// One fault, looks without error, nothing to open: chance over cost is the optimal order (Kadane and Simon 1977), so
    /// the joint list is as short as the best of all orders.
    #[test]
    fn chance_over_cost_is_the_best_of_all_orders(
        rows in prop::collection::vec((0.05..1.0_f64, 1.0..60.0_f64), 5),
    ) {
        let whole: f64 = rows.iter().map(|row| row.0).sum();
        let sets: Vec<(Causes, f64)> = rows.iter().enumerate().map(|(cause, row)| (1 << cause, row.0 / whole)).collect();
        // The repair is the look: it ends the job if the fault is there.
        let sketch = Sketch::new(parts(rows.iter().map(|row| cost(None, row.1, 0)).collect(), &sets)).unwrap();
        let mut order: Vec<usize> = (0..rows.len()).collect();
        let best = shortest(&mut order, 0, &|order| {
            let mut open = 1.0;
            let treat = |cause: &usize| { let minutes = open * rows[*cause].1; open -= sets[*cause].1; minutes };
            order.iter().map(treat).sum()
        });
        prop_assert!((minutes(&sketch) - best).abs() < 1e-9, "{} {best}", minutes(&sketch));
    }
}

/// The least value over all orders of the rest.
fn shortest(order: &mut Vec<usize>, from: usize, value: &dyn Fn(&[usize]) -> f64) -> f64 {
    if from == order.len() {
        return value(order);
    }
    let mut least = f64::INFINITY;
    for other in from..order.len() {
        order.swap(from, other);
        least = least.min(shortest(order, from + 1, value));
        order.swap(from, other);
    }
    least
}
