//! Turns weighted fault sets into a list of causes to treat one after the other, and the minutes that list takes.
//!
//! V = Σ P(x)·r + Σ A·(k + opening): repairs of true faults are sunk; what can be saved is looking at, or repairing, the
//! wrong thing. A is the chance that some fault is left among the causes not yet treated, from the **joint** weights, so
//! several faults at once count as what they are. k is the cheaper of looking first and repairing straight away. Two
//! orders are tried, by P(x) per minute and by P(x is all that is left) per minute, with the whole minutes of a look or of a
//! repair straight away; both lists can be carried out, so the shorter one is a bound. Unopened groups compete as a whole:
//! Σ score / (opening + Σ minutes). Exact for looks without error. For single faults both orders are the optimal one
//! (Kadane and Simon 1977).

use super::costs::Openings;
use super::sketch::{Causes, Sketch, bit, members};
use super::walk::State;

/// The list ends when the job is open with less than this chance.
const OPEN: f64 = 1e-3;
/// Sets with less than this share of the weight are left out.
const NEGLIGIBLE: f64 = 1e-6;
/// What a cause's own chance counts beside P(it is all that is left): decides only where the latter says nothing.
const TRACE: f64 = 1e-6;
/// A cause is treated for at least this many minutes, so that no score is infinite.
const LEAST_MINUTES: f64 = 0.1;

/// What the best list comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointList {
    /// Expected minutes to a pump that is well, times the sum of the weights.
    pub weighted_minutes: f64,
    /// The cause it begins with, if any is left.
    pub first: Option<JointEntry>,
    /// Fault sets visited: a measure of the work done, the same on every machine.
    pub work: u64,
}

/// One entry of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JointEntry {
    /// The cause.
    pub cause: usize,
    /// True if repairing straight away is cheaper than looking first.
    pub repair_now: bool,
}

#[derive(Clone, Copy)]
enum Order {
    /// P(x) per minute: good where companions are frequent.
    Present,
    /// P(x is all that is left) per minute: good where one fault is the rule.
    Cures,
}

/// The better of two lists that treat causes in order with no more questions.
pub fn joint_list(sketch: &Sketch, state: &State, weights: &[f64]) -> JointList {
    let walk = Walk::new(sketch, state, weights);
    let (present, cures) = (walk.clone().run(Order::Present), walk.run(Order::Cures));
    let work = present.work + cures.work;
    let better = if cures.weighted_minutes < present.weighted_minutes { cures } else { present };
    JointList { work, ..better }
}

/// A list in the making.
#[derive(Clone)]
struct Walk<'a> {
    sketch: &'a Sketch,
    state: &'a State,
    /// Causes still to treat that may be present.
    untreated: Causes,
    paid: Openings,
    /// What is left of every set with weight.
    left: Vec<(Causes, f64)>,
    /// Weight with each cause present.
    present: Vec<f64>,
    /// Weight with something present that the repair of each cause puts right.
    cured: Vec<f64>,
    /// Weight in which a remedy is all that is left to do, at the first cause it puts right.
    alone: [f64; 64],
    /// Room for the candidates of one step.
    treats: Vec<Treat>,
}

/// One way to treat one cause.
#[derive(Clone, Copy)]
struct Treat {
    entry: JointEntry,
    minutes: f64,
    opens: Openings,
    opening: f64,
    /// What moves it forward, and the minutes that hold it back: a repair straight away holds back with all its minutes,
    /// the useful ones too (exchange two neighbours of the list and compare).
    score: f64,
    whole: f64,
}

impl<'a> Walk<'a> {
    fn new(sketch: &'a Sketch, state: &'a State, weights: &[f64]) -> Self {
        let count = sketch.costs().causes.len();
        let (mut present, mut cured) = (vec![0.0; count], vec![0.0; count]);
        let mut left = Vec::with_capacity(weights.len());
        let mut untreated = 0;
        let least = NEGLIGIBLE * weights.iter().sum::<f64>();
        for (set, &weight) in sketch.sets().iter().zip(weights) {
            let causes = set.causes & !state.repaired;
            if weight <= least || causes == 0 {
                continue;
            }
            left.push((causes, weight));
            untreated |= causes;
            let mut reached = 0;
            for cause in members(causes) {
                present[cause] += weight;
                reached |= sketch.cures(cause);
            }
            for cause in members(reached) {
                cured[cause] += weight;
            }
        }
        Self {
            sketch,
            state,
            untreated,
            paid: state.paid,
            left,
            present,
            cured,
            alone: [0.0; 64],
            treats: Vec::with_capacity(count),
        }
    }

    fn run(mut self, order: Order) -> JointList {
        let whole = self.treated(0);
        let mut list = JointList { weighted_minutes: self.sunk(), first: None, work: self.left.len() as u64 };
        let mut open = whole;
        while OPEN * whole < open
            && let Some(treat) = self.next(order, open)
        {
            list.weighted_minutes += open * (treat.minutes + treat.opening);
            list.first = list.first.or(Some(treat.entry));
            list.work += self.left.len() as u64;
            self.paid |= treat.opens;
            let cause = treat.entry.cause;
            let treated = if treat.entry.repair_now { self.sketch.cures(cause) } else { bit(cause) };
            self.untreated &= !treated;
            open = self.treated(treated);
        }
        list
    }

    /// Repairs that true faults need anyway, once per remedy.
    fn sunk(&self) -> f64 {
        let costs = &self.sketch.costs().causes;
        let first = |cause: &usize| self.sketch.cures(*cause).trailing_zeros() as usize == *cause;
        (0..costs.len()).filter(first).map(|cause| self.cured[cause] * costs[cause].repair_minutes).sum()
    }

    /// The next cause to treat: the best by itself, or the first of the best unopened group.
    fn next(&mut self, order: Order, open: f64) -> Option<Treat> {
        let last = self.sketch.elsewhere().map_or(0, bit);
        let candidates = if self.untreated & !last == 0 { self.untreated } else { self.untreated & !last };
        let mut treats = std::mem::take(&mut self.treats);
        treats.clear();
        treats.extend(members(candidates).map(|cause| self.treat(cause, order, open)));
        let mut found: Option<(f64, Treat)> = None;
        for (at, treat) in treats.iter().enumerate() {
            found = better(found, treat.score, treat.whole + treat.opening, *treat);
            let new_group = 0.0 < treat.opening && treats[..at].iter().all(|earlier| earlier.opens != treat.opens);
            if new_group && let Some((score, minutes, first)) = self.group(&treats, treat.opens) {
                found = better(found, score, minutes + treat.opening, first);
            }
        }
        self.treats = treats;
        found.map(|(_, treat)| treat)
    }

    /// Score and minutes of everything one opening gives access to, and its best entry.
    fn group(&self, treats: &[Treat], opens: Openings) -> Option<(f64, f64, Treat)> {
        let (mut score, mut minutes, mut first) = (0.0, 0.0, None);
        for treat in treats.iter().filter(|treat| treat.opens & !(self.paid | opens) == 0) {
            score += treat.score;
            minutes += treat.whole;
            if treat.opens == opens {
                first = better(first, treat.score, treat.whole, *treat);
            }
        }
        first.map(|(_, first)| (score, minutes, first))
    }

    /// Takes causes off the list; the weight that stays open. Also finds the weight in which each remedy is all that is
    /// left. Without branches: this is where the work is.
    fn treated(&mut self, treated: Causes) -> f64 {
        self.alone.fill(0.0);
        let (mut kept, mut open) = (0, 0.0);
        for at in 0..self.left.len() {
            let (causes, weight) = self.left[at];
            let causes = causes & !treated;
            let weight = if causes == 0 { 0.0 } else { weight };
            self.left[kept] = (causes, weight);
            kept += usize::from(causes != 0);
            open += weight;
            let cures = self.sketch.cures(causes.trailing_zeros() as usize & 63);
            self.alone[cures.trailing_zeros() as usize & 63] += if causes & !cures == 0 { weight } else { 0.0 };
        }
        self.left.truncate(kept);
        open
    }

    /// The cheaper of looking at a cause and repairing it straight away.
    fn treat(&self, cause: usize, order: Order, open: f64) -> Treat {
        let costs = self.sketch.costs();
        let cost = &costs.causes[cause];
        let wrong = (1.0 - self.cured[cause] / open).max(0.0);
        let opening = costs.minutes_to_open(cost.repair_openings, self.paid);
        let score = match order {
            Order::Present => self.present[cause],
            Order::Cures => {
                self.alone[self.sketch.cures(cause).trailing_zeros() as usize] + TRACE * self.present[cause]
            }
        };
        let entry = JointEntry { cause, repair_now: true };
        let minutes = wrong * cost.repair_minutes;
        let repair = Treat { entry, minutes, opens: cost.repair_openings, opening, score, whole: cost.repair_minutes };
        if cost.look.is_none() || (self.state.fine | self.state.bad) & bit(cause) != 0 {
            return repair;
        }
        let after = costs.minutes_to_open(cost.repair_openings, self.paid | cost.look_openings);
        let minutes = cost.look_minutes + self.present[cause] / open * after;
        let look = Treat {
            entry: JointEntry { cause, repair_now: false },
            minutes,
            whole: minutes,
            opens: cost.look_openings,
            opening: costs.minutes_to_open(cost.look_openings, self.paid),
            score,
        };
        if look.minutes + look.opening <= repair.minutes + repair.opening { look } else { repair }
    }
}

/// The treatment with the higher score per minute; the first among equals.
fn better(found: Option<(f64, Treat)>, score: f64, minutes: f64, treat: Treat) -> Option<(f64, Treat)> {
    let rate = score / minutes.max(LEAST_MINUTES);
    found.filter(|(best, _)| rate <= *best).or(Some((rate, treat)))
}
