//! Turns the belief about causes into a list of decision classes: causes with the same remedy are one decision.

use crate::job::Sitting;
use crate::knowledge::Knowledge;
use crate::knowledge::schema::Id;

/// Causes about which the same would be done.
#[derive(Debug, Clone, PartialEq)]
pub struct DecisionClass {
    /// Its remedy; a cause without one is a class of its own.
    pub class: Id,
    /// Its most probable cause.
    pub first: Id,
    /// Share of the belief its causes carry together; all classes sum to one.
    pub share: f64,
}

/// All decision classes, in the order in which their most probable causes stand in the list that a person sees.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranking(pub Vec<DecisionClass>);

/// The decision class of a cause: its remedy, or itself if it has none.
pub fn decision_class<'a>(knowledge: &'a Knowledge, cause: &'a str) -> &'a str {
    knowledge.all.causes.get(cause).and_then(|cause| cause.remedy.as_deref()).unwrap_or(cause)
}

impl Ranking {
    /// The list of a job as it stands.
    pub fn of(sitting: &Sitting) -> Self {
        let rows = sitting.likely(usize::MAX).into_iter();
        Self::of_causes(&sitting.knowledge, rows.map(|row| (row.id, row.probability)))
    }

    /// The list of causes with their probabilities, most probable first.
    pub fn of_causes(knowledge: &Knowledge, causes: impl Iterator<Item = (Id, f64)>) -> Self {
        let mut classes: Vec<DecisionClass> = Vec::new();
        for (cause, share) in causes {
            let class = decision_class(knowledge, &cause);
            match classes.iter_mut().find(|known| known.class == class) {
                Some(known) => known.share += share,
                None => classes.push(DecisionClass { class: class.to_owned(), first: cause, share }),
            }
        }
        let whole: f64 = classes.iter().map(|class| class.share).sum();
        for class in classes.iter_mut().filter(|_| 0.0 < whole) {
            class.share /= whole;
        }
        Self(classes)
    }

    /// Rank, from 1, of the best placed of these causes' classes; `None` if none is in the graph.
    pub fn rank(&self, knowledge: &Knowledge, causes: &[Id]) -> Option<usize> {
        let wanted: Vec<&str> = causes.iter().map(|cause| decision_class(knowledge, cause)).collect();
        self.0.iter().position(|class| wanted.contains(&class.class.as_str())).map(|at| at + 1)
    }

    /// Half the Brier score of this belief against the truth, 0 (sure and right) to 1 (sure and wrong): half the sum over
    /// classes of the squared distance between share and truth. With several true classes each is owed an equal part.
    /// Source: Brier, Monthly Weather Review 78 (1950) 1, halved so that it ends at 1.
    pub fn brier(&self, knowledge: &Knowledge, causes: &[Id]) -> f64 {
        let mut wanted: Vec<&str> = causes.iter().map(|cause| decision_class(knowledge, cause)).collect();
        wanted.sort_unstable();
        wanted.dedup();
        let owed = 1.0 / wanted.len().max(1) as f64;
        let distance = |class: &DecisionClass| {
            let truth = if wanted.contains(&class.class.as_str()) { owed } else { 0.0 };
            (class.share - truth) * (class.share - truth)
        };
        self.0.iter().map(distance).sum::<f64>() / 2.0
    }
}
