//! Turns what jobs taught into counts per link and per cause. Every job counts once, whatever the order it came in and
//! however many copies of it there are.

use super::hidden::Witness;
use super::number::Cell;
use super::reader::Taught;
use crate::knowledge::schema::Id;
use jiff::Timestamp;
use std::collections::BTreeMap;

/// A parent is known to be there from this chance on.
const KNOWN_PRESENT: f64 = 0.95;
/// The other parents are known to be absent up to this chance of each.
const KNOWN_ABSENT: f64 = 0.05;

/// How much older jobs weigh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fading {
    /// The instant from which age counts.
    pub now: Timestamp,
    /// Days in which a job loses half its weight; none = none ever fades.
    pub half_life: Option<f64>,
}

impl Fading {
    /// Weight of a job closed then: 1 for a new one.
    pub fn weight(self, closed: Timestamp) -> f64 {
        let Some(half_life) = self.half_life else { return 1.0 };
        let days = (self.now.as_second() - closed.as_second()).max(0) as f64 / 86_400.0;
        libm::exp2(-days / half_life)
    }
}

/// The jobs that teach, one of each.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Lessons {
    jobs: BTreeMap<String, Taught>,
}

/// What the jobs say about one link, finding and parent.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LinkCounts {
    /// Asked answers that the parent may stand behind.
    pub asked: u64,
    /// "Yes" among them.
    pub yes: u64,
    /// "Yes" where the parent is known to be there and all others are known to be absent.
    pub clear_yes: u64,
    /// "No" likewise.
    pub clear_no: u64,
    /// Expected number of times the parent was there and showed this way, by the numbers as they stand; fading included.
    pub showed: f64,
    /// Expected number of times it was there and did not.
    pub silent: f64,
    /// What each answer says about the number of the link.
    pub(super) cells: Vec<Cell>,
}

/// How often a cause was confirmed in the jobs of a family.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ShareCounts {
    /// Jobs it was confirmed in.
    pub confirmed: u64,
    /// Confirmed jobs of the family.
    pub jobs: u64,
    /// The same two, with fading.
    pub weighed: (f64, f64),
}

impl Lessons {
    /// Adds a job; false if it teaches nothing. Of copies of one job the one closed last counts.
    pub fn add(&mut self, taught: Taught) -> bool {
        if taught.told.confirmed.is_err() {
            return false;
        }
        let age = |taught: &Taught| (taught.told.closed, taught.told.id.clone());
        match self.jobs.get_mut(&taught.told.root) {
            Some(known) if age(&taught) <= age(known) => {}
            Some(known) => *known = taught,
            None => {
                self.jobs.insert(taught.told.root.clone(), taught);
            }
        }
        true
    }

    /// Adds the jobs of another collection.
    pub fn merge(&mut self, other: Self) {
        for taught in other.jobs.into_values() {
            self.add(taught);
        }
    }

    /// Only the jobs closed after an instant.
    #[must_use]
    pub fn after(&self, instant: Timestamp) -> Self {
        let is_later = |taught: &Taught| taught.told.closed.is_some_and(|closed| instant < closed);
        let jobs = self.jobs.iter().filter(|(_, taught)| is_later(taught));
        Self { jobs: jobs.map(|(root, taught)| (root.clone(), taught.clone())).collect() }
    }

    /// Number of jobs.
    pub fn len(&self) -> usize {
        self.jobs.len()
    }

    /// True without any job.
    pub fn is_empty(&self) -> bool {
        self.jobs.is_empty()
    }

    /// The jobs, in the order of their ids.
    pub fn jobs(&self) -> impl Iterator<Item = &Taught> {
        self.jobs.values()
    }

    /// Counts of every link that some asked answer speaks about, by finding and parent.
    pub fn links(&self, fading: Fading) -> BTreeMap<(Id, Id), LinkCounts> {
        let mut links: BTreeMap<(Id, Id), LinkCounts> = BTreeMap::new();
        for taught in self.jobs.values() {
            let weight = taught.told.closed.map_or(1.0, |closed| fading.weight(closed));
            for witness in &taught.witnesses {
                let key = (witness.finding.clone(), witness.parent.clone());
                links.entry(key).or_default().add(witness, weight);
            }
        }
        links
    }

    /// How often each cause was confirmed, by family and cause. Causes that never were have no entry.
    pub fn shares(&self, fading: Fading) -> BTreeMap<(Id, Id), ShareCounts> {
        let mut jobs: BTreeMap<&Id, (u64, f64)> = BTreeMap::new();
        let mut shares: BTreeMap<(Id, Id), ShareCounts> = BTreeMap::new();
        for taught in self.jobs.values() {
            let Ok(confirmed) = &taught.told.confirmed else { continue };
            let weight = taught.told.closed.map_or(1.0, |closed| fading.weight(closed));
            let all = jobs.entry(&taught.told.family).or_default();
            (all.0, all.1) = (all.0 + 1, all.1 + weight);
            let share = shares.entry((taught.told.family.clone(), confirmed.cause.clone())).or_default();
            share.confirmed += 1;
            share.weighed.0 += weight;
        }
        for ((family, _), share) in &mut shares {
            (share.jobs, share.weighed.1) = jobs.get(family).copied().unwrap_or_default();
        }
        shares
    }

    /// Confirmed jobs of a family: their number, and with fading.
    pub fn of_family(&self, family: &str, fading: Fading) -> (u64, f64) {
        let closed = self.jobs.values().filter(|taught| taught.told.family == family).map(|taught| taught.told.closed);
        closed.fold((0, 0.0), |(jobs, weighed), closed| {
            (jobs + 1, weighed + closed.map_or(1.0, |closed| fading.weight(closed)))
        })
    }
}

impl Witness {
    /// True if the parent is known to be there and every other is known to be absent.
    pub fn is_clear(&self) -> bool {
        KNOWN_PRESENT <= self.present && self.rival <= KNOWN_ABSENT
    }

    /// Expected times the parent was there and showed this way, and was there and did not, given this answer and the number
    /// as it stands. What shows can be missed; a "yes" can come from elsewhere.
    pub fn expected(&self) -> (f64, f64) {
        let Self { present, others, noticed, strength, .. } = *self;
        let told = strength * noticed;
        if self.yes {
            let all = 1.0 - (1.0 - others) * (1.0 - present * told);
            let showed = present * strength * (1.0 - (1.0 - others) * (1.0 - noticed)) / all;
            let there = present * (1.0 - (1.0 - others) * (1.0 - told)) / all;
            (showed, there - showed)
        } else {
            let all = 1.0 - present * told;
            let showed = present * strength * (1.0 - noticed) / all;
            (showed, present * (1.0 - told) / all - showed)
        }
    }
}

impl LinkCounts {
    fn add(&mut self, witness: &Witness, weight: f64) {
        let (showed, silent) = witness.expected();
        self.asked += 1;
        self.yes += u64::from(witness.yes);
        self.clear_yes += u64::from(witness.is_clear() && witness.yes);
        self.clear_no += u64::from(witness.is_clear() && !witness.yes);
        self.showed += weight * showed;
        self.silent += weight * silent;
        let slope = witness.present * witness.noticed;
        self.cells.push(Cell { base: witness.others, slope, yes: witness.yes, weight });
    }
}
