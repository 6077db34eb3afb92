//! Turns a small job into the least expected minutes any rule can reach, by dynamic programming over all states.
//!
//! Depth first with memory. The bound is the cost of somebody who knows what is wrong: the repairs and openings of the
//! true faults are needed in any case. A state whose minutes cannot come below the limit is left with a lower bound.

use super::policies::Minutes;
use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};
use weephole::planning::{Action, Branch, Place, Record, Sketch, State, members};

/// A hasher for keys that are numbers already.
#[derive(Default)]
pub struct Mixed(u64);

impl Hasher for Mixed {
    fn finish(&self) -> u64 {
        self.0
    }
    fn write(&mut self, _: &[u8]) {}
    fn write_u64(&mut self, key: u64) {
        let mixed = (key ^ (key >> 32)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        self.0 = mixed ^ (mixed >> 29);
    }
}

#[derive(Clone, Copy)]
struct Known {
    minutes: f64,
    /// The best action; none if the minutes are only a lower bound.
    best: Option<Action>,
}

/// The search.
pub struct Optimum<'a> {
    sketch: &'a Sketch,
    bounded: bool,
    known: HashMap<u64, Known, BuildHasherDefault<Mixed>>,
}

impl<'a> Optimum<'a> {
    pub fn new(sketch: &'a Sketch, bounded: bool) -> Self {
        Self { sketch, bounded, known: HashMap::default() }
    }

    /// Least expected minutes from the beginning. `limit` is known to be reached by some rule.
    pub fn minutes(&mut self, limit: f64) -> f64 {
        self.solve(&Place::new(self.sketch, State::new(self.sketch)), if self.bounded { limit } else { f64::INFINITY })
    }

    /// States held.
    pub fn states(&self) -> usize {
        self.known.len()
    }

    /// The best action of a state.
    pub fn action(&mut self, place: &Place<'a>) -> Action {
        self.solve(place, f64::INFINITY);
        self.known[&self.key(&place.state)].best.unwrap()
    }

    fn solve(&mut self, place: &Place<'a>, limit: f64) -> f64 {
        let key = self.key(&place.state);
        if let Some(known) = self.known.get(&key)
            && (known.best.is_some() || limit <= known.minutes)
        {
            return known.minutes;
        }
        let mut best = Known { minutes: f64::INFINITY, best: None };
        let mut floor = f64::INFINITY;
        for tried in tries(place) {
            let cut = best.minutes.min(limit);
            if self.bounded && cut <= tried.floor {
                floor = floor.min(tried.floor);
                continue;
            }
            let minutes = self.outcome(&tried, cut);
            if minutes < cut {
                best = Known { minutes, best: Some(tried.action) };
            } else {
                floor = floor.min(minutes);
            }
        }
        if best.best.is_none() {
            best.minutes = floor;
        }
        self.known.insert(key, best);
        best.minutes
    }

    /// Minutes of one action, exact below the cut.
    fn outcome(&mut self, tried: &Try<'a>, cut: f64) -> f64 {
        let mut minutes = tried.floor;
        for (branch, least) in &tried.branches {
            let Some(after) = &branch.after else { continue };
            minutes -= branch.probability * least;
            let limit = if self.bounded { (cut - minutes) / branch.probability + 1e-9 } else { f64::INFINITY };
            minutes += branch.probability * self.solve(after, limit);
            if self.bounded && cut <= minutes {
                break;
            }
        }
        minutes
    }

    /// A state in few bits: only what can still matter of each record.
    fn key(&self, state: &State) -> u64 {
        let causes = self.sketch.costs().causes.len();
        let (mut key, mut used) = (0_u64, 0);
        let mut put = |value: u64, bits: usize| {
            key |= value << used;
            used += bits;
            assert!(used <= 64, "too many states for a key");
        };
        for set in [state.fine, state.bad, state.repaired] {
            put(set, causes);
        }
        for (question, record) in state.records.iter().enumerate() {
            let movers = self.sketch.movers(question);
            let packed =
                |set: u64| members(movers).enumerate().map(|(at, cause)| (set >> cause & 1) << at).sum::<u64>();
            let bits = movers.count_ones() as usize;
            let (kind, first, second) = match *record {
                Record::Open => (0, 0, 0),
                Record::Told { answer: 0, at } => (1, at, 0),
                Record::Told { at, .. } => (2, at, 0),
                Record::Gone { yes_at, no_at } => (3, yes_at, no_at),
            };
            put(kind, 2);
            put(packed(first), bits);
            put(packed(second), bits);
        }
        key
    }

    /// Minutes of the optimum by number of faults, followed from the beginning.
    pub fn by_faults(&mut self) -> Minutes {
        let start = Place::new(self.sketch, State::new(self.sketch));
        super::policies::evaluate(&start, &mut |place| self.action(place))
    }
}

struct Try<'a> {
    action: Action,
    floor: f64,
    branches: Vec<(Branch<'a>, f64)>,
}

/// All actions, those with the lowest bound first.
fn tries<'a>(place: &Place<'a>) -> Vec<Try<'a>> {
    let mut tries: Vec<Try<'a>> = place
        .actions()
        .into_iter()
        .filter_map(|action| {
            let branches: Vec<(Branch<'a>, f64)> = place
                .branches(action)
                .into_iter()
                .map(|branch| {
                    let least = least(&branch);
                    (branch, least)
                })
                .collect();
            let idle = branches.len() == 1 && branches[0].0.after.is_some();
            let floor = place.minutes(action) + branches.iter().map(|(b, least)| b.probability * least).sum::<f64>();
            (!idle).then_some(Try { action, floor, branches })
        })
        .collect();
    tries.sort_by(|a, b| a.floor.total_cmp(&b.floor));
    tries
}

/// Minutes of somebody who knows what is wrong.
fn least(branch: &Branch) -> f64 {
    let Some(place) = &branch.after else { return 0.0 };
    let costs = place.sketch.costs();
    let mut sum = 0.0;
    for (set, weight) in place.sketch.sets().iter().zip(&place.weights) {
        if *weight > 0.0 {
            let mut openings = 0;
            let mut minutes = 0.0;
            for cause in members(set.causes & !place.state.repaired) {
                minutes += costs.causes[cause].repair_minutes;
                openings |= costs.causes[cause].repair_openings;
            }
            sum += weight * (minutes + costs.minutes_to_open(openings, place.state.paid));
        }
    }
    sum / place.mass
}
