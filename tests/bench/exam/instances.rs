//! Turns a seed into a small job: causes, noisy questions, looks with errors, openings, repairs.
//!
//! Spreads are log-uniform between the limits named beside each; hidden noise is persistent (see `planning::Sketch`).

use weephole::planning::{CauseCost, Causes, Costs, FaultSet, LookError, Sketch, SketchParts, SketchQuestion};

/// A small seeded generator (`SplitMix64`; Steele, Lea and Flood 2014): the same numbers on every machine.
pub struct Dice(pub u64);

impl Dice {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Even between two limits.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Even on a logarithmic scale.
    pub fn spread(&mut self, low: f64, high: f64) -> f64 {
        libm::exp(self.between(libm::log(low), libm::log(high)))
    }

    /// Below a limit.
    pub fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.bits() % limit as u64).unwrap()
    }
}

/// A kind of job.
#[derive(Clone, Copy)]
pub struct Family {
    pub name: &'static str,
    pub seed: u64,
    causes: usize,
    questions: usize,
    /// Limits of the priors; none: one fault exactly.
    priors: Option<(f64, f64)>,
}

/// One fault; 8 causes, 7 noisy questions; the look is the repair (a look that cannot err ends the job).
pub const ONE_FAULT: Family = Family { name: "one fault", seed: 7, causes: 8, questions: 7, priors: None };
/// Mostly one fault: P(2 faults) about 0.24, P(3 or more) about 0.04.
pub const SOME_FAULTS: Family =
    Family { name: "mostly one fault", seed: 11, causes: 5, questions: 5, priors: Some((0.03, 0.4)) };
/// Several faults are the rule: P(2 faults) about 0.36, P(3 or more) about 0.17.
pub const MANY_FAULTS: Family =
    Family { name: "several faults the rule", seed: 13, causes: 5, questions: 5, priors: Some((0.12, 0.5)) };
/// As many faults as in [`MANY_FAULTS`], small enough for an optimum without bounds.
pub const TINY: Family = Family { name: "tiny", seed: 19, causes: 3, questions: 3, priors: Some((0.12, 0.5)) };

impl Family {
    /// The instance of a number.
    pub fn instance(&self, number: usize) -> Sketch {
        let mut dice = Dice(self.seed.wrapping_mul(0x1000_0000).wrapping_add(number as u64));
        dice.bits();
        let parts = match self.priors {
            None => one_fault(&mut dice, self.causes, self.questions),
            Some(priors) => several(&mut dice, self.causes, self.questions, priors),
        };
        Sketch::new(parts).unwrap()
    }
}

fn one_fault(dice: &mut Dice, causes: usize, questions: usize) -> SketchParts {
    let sets: Vec<FaultSet> =
        (0..causes).map(|cause| FaultSet { causes: 1 << cause, weight: dice.spread(0.02, 0.4) }).collect();
    let costs = (0..causes).map(|_| cost(None, dice.spread(5.0, 120.0), 0)).collect();
    parts(dice, Costs::of_causes(costs, Vec::new()), sets, questions)
}

fn several(dice: &mut Dice, causes: usize, questions: usize, (low, high): (f64, f64)) -> SketchParts {
    let priors: Vec<f64> = (0..causes).map(|_| dice.spread(low, high)).collect();
    let chance = |set: Causes| -> f64 {
        let one = |(cause, prior): (usize, &f64)| if set >> cause & 1 == 1 { *prior } else { 1.0 - prior };
        if set == 0 { 0.0 } else { priors.iter().enumerate().map(one).product() }
    };
    let sets = (0..1 << causes).map(|set| FaultSet { causes: set, weight: chance(set) }).collect();
    let openings = (0..2).map(|_| if dice.below(2) == 0 { 0.0 } else { dice.spread(10.0, 60.0) }).collect();
    let costs = (0..causes)
        .map(|_| {
            let group = 1 << dice.below(2);
            cost(Some(dice.spread(5.0, 120.0)), dice.spread(15.0, 125.0), group)
        })
        .collect();
    parts(dice, Costs::of_causes(costs, openings), sets, questions)
}

fn parts(dice: &mut Dice, costs: Costs, sets: Vec<FaultSet>, questions: usize) -> SketchParts {
    let count = costs.causes.len();
    let looks = (0..count)
        .map(|_| LookError { sensitivity: dice.between(0.94, 1.0), false_positive: dice.between(0.0, 0.04) })
        .collect();
    let questions = (0..questions).map(|_| question(dice, count, &sets)).collect();
    SketchParts { costs, looks, remedies: (0..count).collect(), sets, questions, elsewhere: None }
}

/// A noisy-OR of one to three causes: strength 0.3–0.95, leak 0.01–0.06, 0.5–15 min.
pub fn question(dice: &mut Dice, causes: usize, sets: &[FaultSet]) -> SketchQuestion {
    let minutes = dice.spread(0.5, 15.0);
    let silent = 1.0 - dice.between(0.01, 0.06);
    let mut misses = vec![1.0; causes];
    for _ in 0..=dice.below(3) {
        misses[dice.below(causes)] = 1.0 - dice.between(0.3, 0.95);
    }
    let no =
        |set: &FaultSet| silent * (0..causes).filter(|c| set.causes >> c & 1 == 1).map(|c| misses[c]).product::<f64>();
    let no: Vec<f64> = sets.iter().map(no).collect();
    let yes = no.iter().map(|no| 1.0 - no).collect();
    SketchQuestion { minutes, openings: 0, answers: vec![no, yes] }
}

pub fn cost(look: Option<f64>, repair_minutes: f64, openings: u64) -> CauseCost {
    CauseCost {
        node: 0,
        look: look.map(|_| "look".to_owned()),
        look_minutes: look.unwrap_or_default(),
        look_openings: openings,
        repair_minutes,
        repair_openings: openings,
    }
}

/// A job of the size the program hands over: 12 causes, 100 sets of one to three faults, 16 questions.
pub fn of_program_size(number: u64) -> Sketch {
    let mut dice = Dice(0x0b1e_0000 + number);
    let mut sets: Vec<FaultSet> =
        (0..12).map(|c| FaultSet { causes: 1 << c, weight: dice.spread(0.01, 0.2) }).collect();
    while sets.len() < 100 {
        let causes = (0..=1 + dice.below(2)).map(|_| 1 << dice.below(12)).fold(0, |set: Causes, one: Causes| set | one);
        if sets.iter().all(|set| set.causes != causes) {
            sets.push(FaultSet { causes, weight: dice.spread(0.0005, 0.02) });
        }
    }
    let openings = vec![0.0, 15.0, 40.0];
    let costs = (0..12)
        .map(|_| {
            let group = 1 << dice.below(3);
            cost(Some(dice.spread(5.0, 60.0)), dice.spread(15.0, 125.0), group)
        })
        .collect();
    Sketch::new(parts(&mut dice, Costs::of_causes(costs, openings), sets, 16)).unwrap()
}
