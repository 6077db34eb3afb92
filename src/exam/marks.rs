//! What one job came to, and how far belief and truth part.

use crate::job::Sitting;
use crate::knowledge::schema::Id;
use crate::trial::{Ranking, decision_class};
use serde::{Deserialize, Serialize};

/// Answers after which it is noted where the truth stands.
pub const AFTER: [usize; 4] = [0, 5, 10, 15];
/// Answers after which the belief itself is judged.
const JUDGED_AFTER: usize = 10;
/// A decision class below this share of the belief is not judged.
const WORTH_JUDGING: f64 = 0.02;
/// Bins of the calibration error.
const BINS: usize = 10;

/// The marks of one job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct JobMarks {
    /// Number of the job, from 0.
    pub number: usize,
    /// The faults that are there.
    pub truth: Vec<Id>,
    /// How bad each is, 0 to 1.
    pub severity: Vec<f64>,
    /// What the operator complained of.
    pub complaint: Vec<Id>,
    /// Pumps drawn before this one that showed nothing to complain of.
    pub redrawn: usize,
    /// Where the truth stands after 0, 5, 10 and 15 answers.
    pub stands: Vec<Stand>,
    /// The belief after ten answers.
    pub believed: Believed,
    /// What the planner asked or put right, in order, each with what came of it.
    pub trail: Vec<(Id, String)>,
    /// What it took with the planner.
    pub planned: Effort,
    /// What it took in a fixed order; none for faults outside the graph.
    pub fixed: Option<Effort>,
}

/// Where the truth stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stand {
    /// Answers given, at most.
    pub answers: usize,
    /// Rank of each fault's decision class, from 1; a class that was found and put right counts as first.
    pub ranks: Vec<usize>,
    /// The cause that stands first.
    pub first: Id,
}

impl Stand {
    /// Rank of the best placed fault.
    pub fn best(&self) -> usize {
        self.ranks.iter().copied().min().unwrap_or(usize::MAX)
    }

    /// Rank of the worst placed fault.
    pub fn worst(&self) -> usize {
        self.ranks.iter().copied().max().unwrap_or(usize::MAX)
    }
}

/// Decision classes worth judging, and how far the whole list is off.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Believed {
    /// Chance that something of the class is there, as believed, and whether it is.
    pub classes: Vec<(f64, bool)>,
    /// Halved Brier score of the list, 0 to 1.
    pub brier: f64,
}

impl Believed {
    /// The belief of a job as it stands, beside the faults that are there.
    pub fn of(sitting: &Sitting, there: &[Id]) -> Self {
        let knowledge = &sitting.knowledge;
        let wanted: Vec<&str> = there.iter().map(|cause| decision_class(knowledge, cause)).collect();
        let rows = sitting.likely(usize::MAX);
        let ranking = Ranking::of(sitting);
        let chance = |class: &str| {
            let of_class = rows.iter().filter(|row| decision_class(knowledge, &row.id) == class);
            kept(1.0 - of_class.map(|row| 1.0 - row.probability).product::<f64>())
        };
        let classes = ranking.0.iter().map(|class| (chance(&class.class), wanted.contains(&class.class.as_str())));
        let classes = classes.filter(|(chance, _)| WORTH_JUDGING < *chance).collect();
        Self { classes, brier: kept(ranking.brier(knowledge, there)) }
    }

    /// True if the belief is due to be judged after so many answers.
    pub(super) fn is_due(answers: usize) -> bool {
        answers == JUDGED_AFTER
    }
}

/// What a way of working took.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Effort {
    /// Minutes until every fault was found: checks, openings, isolating, repairs that were not needed. A job given up has
    /// the minutes of calling for help on top.
    pub minutes: f64,
    /// Answers, can't-tells counted.
    pub answers: usize,
    /// Things put right.
    pub repairs: usize,
    /// Openings done.
    pub openings: usize,
    /// Causes confirmed that are not there.
    pub wrong: usize,
    /// True if every fault was found.
    pub solved: bool,
}

/// A number as a file keeps it: nine decimals, which come back from JSON to the bit.
pub fn kept(number: f64) -> f64 {
    (number * 1e9).round() / 1e9
}

/// Calibration error: beliefs sorted into ten bins of equal width, the distance in each between what was believed and what
/// was so, weighed by how many there are (Naeini, Cooper and Hauskrecht, AAAI 2015). `None` without beliefs.
pub fn calibration_error<'a>(beliefs: impl Iterator<Item = &'a (f64, bool)>) -> Option<f64> {
    let mut bins = [(0.0, 0.0, 0.0); BINS];
    for (chance, is_so) in beliefs {
        let place = (1..BINS).filter(|edge| *edge as f64 / BINS as f64 <= *chance).count();
        let bin = &mut bins[place];
        *bin = (bin.0 + chance, bin.1 + f64::from(u8::from(*is_so)), bin.2 + 1.0);
    }
    let count: f64 = bins.iter().map(|bin| bin.2).sum();
    (0.0 < count).then(|| bins.iter().map(|bin| (bin.0 - bin.1).abs()).sum::<f64>() / count)
}
