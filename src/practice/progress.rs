//! Turns the marks of all practice jobs into trends.

use super::score::Score;
use jiff::civil::Date;

/// Jobs of one trend.
const WINDOW: usize = 10;
/// Parts of the scale of "how sure" that are compared with what was right.
const PARTS: usize = 4;

/// How practice goes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Progress {
    /// Jobs marked.
    pub jobs: usize,
    /// Share passed, over all and over the last ten; 0 to 1.
    pub passed: (f64, f64),
    /// Minutes over those of the planner on the same pumps, over all and over the last ten.
    pub over_planner: (f64, f64),
    /// Mean share of the best minutes saved per minute, over all and over the last ten; 0 to 1.
    pub share_of_best: (f64, f64),
    /// Unsafe moves, over all and over the last ten.
    pub unsafe_moves: (usize, usize),
    /// How sure against how often right: mean of what was said, share that was right, count; only parts with a count.
    pub sure: Vec<(f64, f64, usize)>,
    /// Score of each job in order, for a small chart: share of the best, 0 to 1, and whether it passed.
    pub course: Vec<(f64, bool)>,
}

/// How practice goes, from all marks in order.
pub fn progress(marked: &[(Date, Score)]) -> Progress {
    let all: Vec<&Score> = marked.iter().map(|(_, score)| score).collect();
    let last = &all[all.len().saturating_sub(WINDOW)..];
    let both = |of: fn(&[&Score]) -> f64| (of(&all), of(last));
    Progress {
        jobs: all.len(),
        passed: both(|scores| mean(scores, |score| f64::from(u8::from(score.passed())))),
        over_planner: both(|scores| {
            let ours: f64 = scores.iter().map(|score| score.minutes).sum();
            let planner: f64 = scores.iter().map(|score| score.planner_minutes).sum();
            if 0.0 < planner { ours / planner } else { 0.0 }
        }),
        share_of_best: both(|scores| mean(scores, |score| score.share_of_best)),
        unsafe_moves: (count(&all), count(last)),
        sure: sure(&all),
        course: all.iter().map(|score| (score.share_of_best, score.passed())).collect(),
    }
}

fn mean(scores: &[&Score], of: fn(&Score) -> f64) -> f64 {
    scores.iter().map(|score| of(score)).sum::<f64>() / scores.len().max(1) as f64
}

fn count(scores: &[&Score]) -> usize {
    scores.iter().map(|score| score.unsafe_moves).sum()
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 1 times the number of parts")]
fn sure(scores: &[&Score]) -> Vec<(f64, f64, usize)> {
    let mut parts = [(0.0, 0.0, 0_usize); PARTS];
    for (sure, right) in scores.iter().flat_map(|score| &score.sure) {
        let part = &mut parts[((sure * PARTS as f64) as usize).min(PARTS - 1)];
        *part = (part.0 + sure, part.1 + f64::from(u8::from(*right)), part.2 + 1);
    }
    let filled = parts.into_iter().filter(|part| 0 < part.2);
    filled.map(|(said, right, count)| (said / count as f64, right / count as f64, count)).collect()
}
