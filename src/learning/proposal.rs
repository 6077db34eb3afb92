//! Turns counts into proposals: the number as it stands, what the jobs make of it, and whether that is worth a change.

use super::counts::{Fading, Lessons, LinkCounts, ShareCounts};
use super::decision::Edit;
use super::number::{Learned, cases_of, counted, learned};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Basis, Id, Strength};
use jiff::Timestamp;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The number a proposal is about.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Target {
    /// How often a finding shows with this parent alone.
    Link {
        /// Finding.
        finding: Id,
        /// Cause, condition or damage.
        parent: Id,
    },
    /// Share of a family's jobs in which a cause is found.
    Share {
        /// Family.
        family: Id,
        /// Cause.
        cause: Id,
    },
}

impl Target {
    /// Where the number stands in the knowledge.
    pub fn path(&self) -> String {
        match self {
            Self::Link { finding, parent } => format!("findings.{finding}.shown_by.{parent}.strength"),
            Self::Share { family, cause } => format!("causes.{cause}.shares.{family}"),
        }
    }

    /// The fields beside it.
    fn beside(&self, field: &str) -> String {
        match self {
            Self::Link { finding, parent } => format!("findings.{finding}.shown_by.{parent}.{field}"),
            Self::Share { cause, .. } => format!("causes.{cause}.{field}"),
        }
    }
}

/// What was counted for a number.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Counts {
    /// Asked answers it may stand behind; for a share: confirmed jobs.
    pub asked: u64,
    /// "Yes" among them; for a share: jobs with this cause.
    pub yes: u64,
    /// Of these, clear ones: the parent there, the others absent.
    pub clear_yes: u64,
    /// Clear "no".
    pub clear_no: u64,
    /// Expected times it showed, and did not, by the number as it stands; with fading.
    pub showed: f64,
    /// Expected times it did not.
    pub silent: f64,
}

/// One number with what the jobs make of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// The number.
    pub target: Target,
    /// What it rests on.
    pub basis: Basis,
    /// As it stands, a probability.
    pub old: f64,
    /// What the jobs make of it; of a share, too, as a probability.
    pub learned: Learned,
    /// What was counted.
    pub counts: Counts,
    /// True if it should be changed: the interval leaves the old number, or it moves by a step of the word scale.
    pub due: bool,
}

impl Proposal {
    /// The new value as it stands in a file.
    pub fn value(&self) -> String {
        match self.target {
            Target::Link { .. } => format!("share({})", rounded(self.learned.new)),
            Target::Share { .. } => per_1000(self.learned.new),
        }
    }

    /// What has to be written for it; `month` is YYYY-MM. A number that rests more on jobs than on what it stood for is
    /// called measured.
    pub fn edits(&self, month: &str) -> Vec<Edit> {
        let mut edits = vec![Edit { path: self.target.path(), value: self.value() }];
        let of_links = matches!(self.target, Target::Link { .. });
        if of_links && cases_of(self.basis) <= self.learned.worth && self.basis != Basis::Measured {
            edits.push(Edit { path: self.target.beside("basis"), value: "measured".to_owned() });
        }
        if of_links {
            edits.push(Edit { path: self.target.beside("reviewed"), value: format!("\"{month}\"") });
        }
        edits
    }
}

/// Every number that the jobs say something about, those to be changed first, then by how far they move. A number accepted
/// before, by its path in `accepted`, stands for the jobs up to then: only later ones count for it, lest they count twice.
pub fn proposals(
    knowledge: &Knowledge,
    lessons: &Lessons,
    fading: Fading,
    accepted: &BTreeMap<String, Timestamp>,
) -> Vec<Proposal> {
    let mut all = counted_from(knowledge, lessons, fading);
    all.retain(|proposal| !accepted.contains_key(&proposal.target.path()));
    let instants: BTreeSet<Timestamp> = accepted.values().copied().collect();
    for instant in instants {
        let later = counted_from(knowledge, &lessons.after(instant), fading);
        all.extend(later.into_iter().filter(|proposal| accepted.get(&proposal.target.path()) == Some(&instant)));
    }
    let moved = |proposal: &Proposal| (proposal.learned.new - proposal.old).abs();
    all.sort_by(|a, b| b.due.cmp(&a.due).then(moved(b).total_cmp(&moved(a))).then_with(|| a.target.cmp(&b.target)));
    all
}

fn counted_from(knowledge: &Knowledge, lessons: &Lessons, fading: Fading) -> Vec<Proposal> {
    let links = lessons.links(fading);
    let mut all: Vec<Proposal> = links.iter().filter_map(|(key, counts)| of_link(knowledge, key, counts)).collect();
    let shares = lessons.shares(fading);
    for family in knowledge.all.families.keys() {
        let jobs = lessons.of_family(family, fading);
        let unknown: f64 = causes(knowledge, family).filter(|(_, _, _, unknown)| *unknown).map(|row| row.1).sum();
        for (cause, share, basis, _) in causes(knowledge, family).filter(|row| 0 < jobs.0 && !row.3) {
            let none = ShareCounts { jobs: jobs.0, weighed: (0.0, jobs.1), confirmed: 0 };
            let counts = shares.get(&(family.clone(), cause.clone())).unwrap_or(&none);
            all.push(of_share((family, cause), (share, unknown, basis), counts));
        }
    }
    all
}

/// Causes of a family: id, share as a probability, basis, and whether it stands for everything unknown.
fn causes<'k>(knowledge: &'k Knowledge, family: &'k str) -> impl Iterator<Item = (&'k Id, f64, Basis, bool)> {
    let all = knowledge.all.causes.iter();
    all.filter_map(move |(id, cause)| {
        Some((id, cause.shares.get(family)? / 1000.0, cause.basis, cause.stands_for_unknown))
    })
}

fn of_link(knowledge: &Knowledge, (finding, parent): &(Id, Id), counts: &LinkCounts) -> Option<Proposal> {
    let link = knowledge.all.findings.get(finding)?.shown_by.get(parent)?;
    let old = link.strength.number();
    let learned = learned(old, cases_of(link.basis), &counts.cells);
    let target = Target::Link { finding: finding.clone(), parent: parent.clone() };
    let LinkCounts { asked, yes, clear_yes, clear_no, showed, silent, .. } = *counts;
    let counts = Counts { asked, yes, clear_yes, clear_no, showed, silent };
    let changes = 1e-9 < (rounded(learned.new) - rounded(old)).abs();
    let due = changes && (leaves(&learned, old) || is_a_step(old, learned.new));
    Some(Proposal { target, basis: link.basis, old, learned, counts, due })
}

/// A job whose cause nobody knows is never confirmed: the shares of the others are those among confirmed jobs, times the
/// share of jobs whose cause is in the graph.
fn of_share((family, cause): (&Id, &Id), (share, unknown, basis): (f64, f64, Basis), counts: &ShareCounts) -> Proposal {
    let known = 1.0 - unknown;
    let (yes, jobs) = counts.weighed;
    let among = counted((share / known).clamp(1e-6, 1.0 - 1e-6), cases_of(basis), yes, jobs - yes);
    let learned =
        Learned { new: among.new * known, low: among.low * known, high: among.high * known, worth: among.worth };
    let target = Target::Share { family: family.clone(), cause: cause.clone() };
    let (asked, confirmed) = (counts.jobs, counts.confirmed);
    let counts = Counts {
        asked,
        yes: confirmed,
        clear_yes: confirmed,
        clear_no: asked - confirmed,
        showed: yes,
        silent: jobs - yes,
    };
    let due = leaves(&learned, share) && per_1000(share) != per_1000(learned.new);
    Proposal { target, basis, old: share, learned, counts, due }
}

fn leaves(learned: &Learned, old: f64) -> bool {
    old < learned.low || learned.high < old
}

/// True if the number moves by as much as the next word of the scale is away.
fn is_a_step(old: f64, new: f64) -> bool {
    const SCALE: [Strength; 7] = [
        Strength::AlmostNever,
        Strength::Rarely,
        Strength::Sometimes,
        Strength::Half,
        Strength::Often,
        Strength::Usually,
        Strength::NearlyAlways,
    ];
    let word = Strength::Share(old).word();
    let Some(at) = SCALE.iter().position(|step| step.word() == word) else { return false };
    let next = if old < new { SCALE.get(at + 1) } else { at.checked_sub(1).and_then(|before| SCALE.get(before)) };
    next.is_some_and(|next| (next.number() - SCALE[at].number()).abs() <= (new - old).abs())
}

/// A probability as it is written: two decimals, three near the ends; never 0 or 1.
fn rounded(number: f64) -> f64 {
    let scale = if (0.1..=0.9).contains(&number) { 100.0 } else { 1000.0 };
    (libm::round(number * scale) / scale).clamp(0.005, 0.995)
}

/// A share as it is written, per 1,000 jobs.
fn per_1000(share: f64) -> String {
    let per = share * 1000.0;
    if per < 10.0 { format!("{:.2}", per.max(0.05)) } else { format!("{per:.1}") }
}

#[cfg(test)]
mod tests {
    use super::{is_a_step, per_1000, rounded};

    #[test]
    fn a_step_is_the_way_to_the_next_word() {
        assert!(is_a_step(0.5, 0.75) && is_a_step(0.5, 0.25) && is_a_step(0.1, 0.02));
        assert!(!is_a_step(0.5, 0.7) && !is_a_step(0.61, 0.64) && !is_a_step(0.98, 0.99));
    }

    #[test]
    fn numbers_are_written_short_and_never_certain() {
        assert!((rounded(0.3749) - 0.37).abs() < 1e-12 && (rounded(0.0234) - 0.023).abs() < 1e-12);
        assert!((rounded(0.999_9) - 0.995).abs() < 1e-12);
        assert_eq!([per_1000(0.0153), per_1000(0.00512), per_1000(0.0)], ["15.3", "5.12", "0.05"]);
    }
}
