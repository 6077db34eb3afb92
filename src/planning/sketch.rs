//! Turns weighted sets of faults, questions and minutes into a sketch: a picture of a job small enough to think ahead on.
//!
//! A sketch knows no graph. Its sets stand for what may be wrong (posterior samples, or all combinations of few causes),
//! its questions for what each answer is worth in each set. Hidden noise is drawn once per job and **shared** between
//! before and after a repair: asked twice, a question answers the same; a "no" stays for ever; a "yes" may be asked again
//! when a part behind it has been repaired, and the old "yes" stays as evidence about the state before. A look-ahead that
//! forgot the old "yes" would repair in order to forget.

use super::costs::{Costs, Openings};
use std::collections::HashMap;
use thiserror::Error;

/// A set of causes of the sketch, one bit each.
pub type Causes = u64;

/// The answer "no, the sign is not there" of a question with two answers.
pub const NO: usize = 0;
/// The answer "yes, the sign is there" of a question with two answers.
pub const YES: usize = 1;

/// How far a look at a cause can be trusted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LookError {
    /// Chance that a bad part is seen as bad.
    pub sensitivity: f64,
    /// Chance that a good part is taken for bad.
    pub false_positive: f64,
}

/// What may be wrong together, and how likely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaultSet {
    /// The causes present.
    pub causes: Causes,
    /// Weight, not negative; the weights need not sum to one. Sets of weight zero tell what a question answers once
    /// parts are repaired.
    pub weight: f64,
}

/// A question of the sketch.
#[derive(Debug, Clone, PartialEq)]
pub struct SketchQuestion {
    /// Minutes without openings.
    pub minutes: f64,
    /// Openings it needs.
    pub openings: Openings,
    /// Chance of each answer in each set: `[answer][set]`, summing to one over the answers. With two answers the first
    /// is [`NO`], the second [`YES`], and repairing a cause must not make the "yes" more likely.
    pub answers: Vec<Vec<f64>>,
}

/// What a sketch is made of.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SketchParts {
    /// Minutes per cause and per opening; at most 64 causes.
    pub costs: Costs,
    /// Per cause, how far its look can be trusted.
    pub looks: Vec<LookError>,
    /// Per cause, a label of its remedy: causes with the same label are put right by the same repair and need not be
    /// told apart.
    pub remedies: Vec<usize>,
    /// What may be wrong. Each set once.
    pub sets: Vec<FaultSet>,
    /// What may be asked.
    pub questions: Vec<SketchQuestion>,
    /// The cause that stands for everything outside the sketch, if there is one: it is always treated last.
    pub elsewhere: Option<usize>,
}

/// Why parts do not make a sketch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum SketchError {
    /// More causes than bits, or a set that names a cause which is not there.
    #[error("a sketch holds at most 64 causes, and sets name only those")]
    Causes,
    /// Looks, remedies or answers do not have one entry per cause or set.
    #[error("a sketch needs one look and one remedy per cause and one likelihood per answer and set")]
    Shape,
    /// A chance or a weight is not a number in its range.
    #[error("a chance or a weight of the sketch is out of range")]
    Range,
    /// A set stands there twice.
    #[error("a fault set stands in the sketch twice")]
    Twice,
}

/// A job in few causes, sets and questions.
#[derive(Debug, Clone)]
pub struct Sketch {
    parts: SketchParts,
    /// Per cause, everything its repair puts right.
    cures: [Causes; 64],
    /// Where each set stands.
    places: HashMap<Causes, usize>,
    /// Per question, the causes whose repair can change its answer while the job goes on.
    movers: Vec<Causes>,
}

impl Sketch {
    /// Checks the parts once; whatever works on a sketch is total.
    pub fn new(parts: SketchParts) -> Result<Self, SketchError> {
        let count = parts.costs.causes.len();
        let known: Causes = if count < 64 { (1 << count) - 1 } else { Causes::MAX };
        if 64 < count || parts.sets.iter().any(|set| set.causes & !known != 0) {
            return Err(SketchError::Causes);
        }
        check_shape(&parts)?;
        check_range(&parts)?;
        let places: HashMap<Causes, usize> = parts.sets.iter().enumerate().map(|(at, set)| (set.causes, at)).collect();
        if places.len() < parts.sets.len() {
            return Err(SketchError::Twice);
        }
        let same = |remedy: usize| (0..count).filter(|other| parts.remedies[*other] == remedy).map(bit).sum();
        let mut cures = [0; 64];
        parts.remedies.iter().zip(&mut cures).for_each(|(remedy, cures)| *cures = same(*remedy));
        let mut sketch = Self { parts, cures, places, movers: Vec::new() };
        sketch.movers = sketch.parts.questions.iter().map(|question| sketch.movers_of(question)).collect();
        Ok(sketch)
    }

    /// Minutes per cause and opening.
    pub fn costs(&self) -> &Costs {
        &self.parts.costs
    }

    /// How far the look at a cause can be trusted.
    pub fn look(&self, cause: usize) -> LookError {
        self.parts.looks[cause]
    }

    /// Everything the repair of a cause puts right, itself included.
    pub fn cures(&self, cause: usize) -> Causes {
        self.cures[cause]
    }

    /// What may be wrong.
    pub fn sets(&self) -> &[FaultSet] {
        &self.parts.sets
    }

    /// What may be asked.
    pub fn questions(&self) -> &[SketchQuestion] {
        &self.parts.questions
    }

    /// The cause that stands for everything outside.
    pub fn elsewhere(&self) -> Option<usize> {
        self.parts.elsewhere
    }

    /// Causes whose repair can change the answer of a question while the job goes on.
    pub fn movers(&self, question: usize) -> Causes {
        self.movers[question]
    }

    /// Chance of an answer in a set of which some causes have been repaired. Where the sketch does not know the set that
    /// is left, the answer counts as unchanged.
    pub fn likelihood(&self, question: usize, answer: usize, set: usize, repaired: Causes) -> f64 {
        let likelihoods = &self.parts.questions[question].answers[answer];
        let causes = self.parts.sets[set].causes;
        if causes & repaired == 0 {
            return likelihoods[set];
        }
        likelihoods[self.places.get(&(causes & !repaired)).copied().unwrap_or(set)]
    }

    fn movers_of(&self, question: &SketchQuestion) -> Causes {
        let mut movers = 0;
        for (before, set) in self.parts.sets.iter().enumerate() {
            for cause in members(set.causes) {
                let left = set.causes & !self.cures[cause];
                let differs =
                    |after: usize| question.answers.iter().any(|chance| 1e-12 < (chance[before] - chance[after]).abs());
                if left != 0 && self.places.get(&left).is_some_and(|after| differs(*after)) {
                    movers |= self.cures[cause];
                }
            }
        }
        movers
    }
}

/// The set of one cause.
pub fn bit(cause: usize) -> Causes {
    1 << cause
}

/// The causes of a set, ascending.
pub fn members(mut causes: Causes) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let next = (causes != 0).then(|| causes.trailing_zeros() as usize)?;
        causes &= causes - 1;
        Some(next)
    })
}

fn check_shape(parts: &SketchParts) -> Result<(), SketchError> {
    let (count, sets) = (parts.costs.causes.len(), parts.sets.len());
    let whole = |question: &SketchQuestion| {
        2 <= question.answers.len() && question.answers.iter().all(|likelihoods| likelihoods.len() == sets)
    };
    let elsewhere = parts.elsewhere.is_none_or(|cause| cause < count);
    let fits = parts.looks.len() == count && parts.remedies.len() == count && parts.questions.iter().all(whole);
    if fits && elsewhere { Ok(()) } else { Err(SketchError::Shape) }
}

fn check_range(parts: &SketchParts) -> Result<(), SketchError> {
    let chance = |p: f64| (0.0..=1.0).contains(&p);
    let not_negative = |value: f64| 0.0 <= value && value.is_finite();
    let causes =
        parts.costs.causes.iter().all(|cost| not_negative(cost.look_minutes) && not_negative(cost.repair_minutes));
    let looks = parts.looks.iter().all(|look| chance(look.sensitivity) && chance(look.false_positive));
    let sets = parts.sets.iter().all(|set| not_negative(set.weight));
    let questions = parts.questions.iter().all(|question| {
        let sums = (0..parts.sets.len()).map(|set| question.answers.iter().map(|answer| answer[set]).sum::<f64>());
        let fair = sums.into_iter().all(|sum| (sum - 1.0).abs() < 1e-6);
        not_negative(question.minutes) && fair && question.answers.iter().flatten().all(|p| chance(*p))
    });
    if causes && looks && sets && questions { Ok(()) } else { Err(SketchError::Range) }
}
