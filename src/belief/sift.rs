//! Turns very many questions into the few worth an exact look, by a rough worth in bits.

use super::glance::{Glance, glance};
use super::network::{Likelihood, Network};
use super::outcomes::Question;
use super::tree::BeliefError;

/// Causes whose change is looked at, at most and at least.
const LEADING: (usize, usize) = (15, 5);
/// Questions kept, at least.
const LEAST: usize = 8;
/// Table entries times lanes that a first ranked list may take, a third of it for choosing. Counted, not timed: the same
/// facts give the same list on every machine.
const FIRST_LIST: usize = 500_000;

/// How many lanes of a belief of so many table entries so much work allows, at most and at least.
pub fn affordable(cells: usize, work: usize, (most, least): (usize, usize)) -> usize {
    (work / cells.max(1)).clamp(least.min(most), most)
}

/// Positions of the questions that roughly tell most about `causes`, best first: `keep`, or as many of them as an exact
/// look at them stays within a counted work budget where the belief is tangled (`cells` table entries for one belief), at
/// least eight. `present` is the posterior of every node.
///
/// The rough worth is the mutual information of each leading cause with the answer, to second order in the change of the
/// cause's probability; see [`glance`] for how that change is estimated. It only chooses.
pub fn sift(
    network: &Network,
    likelihoods: &[Likelihood],
    present: &[f64],
    (causes, questions): (&[usize], &[Question]),
    (keep, cells): (usize, usize),
) -> Result<Vec<usize>, BeliefError> {
    let unsure = |cause: usize| (present[cause] - 0.5).abs();
    let mut leading = causes.to_vec();
    leading.sort_by(|&a, &b| unsure(a).total_cmp(&unsure(b)).then(a.cmp(&b)));
    leading.truncate(affordable(cells, FIRST_LIST / 3, LEADING));
    let seen = glance(network, likelihoods, &leading)?;
    let chances: Vec<f64> = leading.iter().map(|&cause| present[cause]).collect();
    let mut ranked: Vec<(f64, usize)> =
        questions.iter().enumerate().map(|(at, question)| (rough_bits(&seen, question, &chances), at)).collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    ranked.truncate(affordable(cells, FIRST_LIST * 2 / 3, (keep, LEAST)));
    Ok(ranked.into_iter().map(|(_, at)| at).collect())
}

fn rough_bits(seen: &Glance, question: &Question, chances: &[f64]) -> f64 {
    let mut worth = 0.0;
    for answer in seen.answers(question) {
        for (ratio, chance) in answer.ratio.iter().zip(chances) {
            let change = (ratio - 1.0) * (ratio - 1.0) * chance;
            worth += answer.probability * change / (1.0 - chance).max(1e-6);
        }
    }
    worth
}
