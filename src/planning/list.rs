//! Turns the chances of the causes into a list to treat one after the other, and the minutes that list takes.
//!
//! V = Σ p·r + Σ A·(k + opening): repairs of true faults are sunk; what can be saved is looking at, or repairing, the
//! wrong thing. p is normalised to one fault, A is the chance that the job is still open, k the cheaper of looking first
//! and repairing straight away; the order is by p / (k + opening) (Kadane and Simon 1977; Heckerman, Breese and Rommelse
//! 1995). Normalising to one fault measured best while many causes are open.

use super::costs::{Costs, Openings};

/// How many times longer a list treated without further questions is than the job it stands for. A job is adaptive: it
/// asks on, and never walks through the forty improbable causes at the tail. Chosen on the complaint stories, where
/// lower values ask idle questions before cheap looks and higher ones ask too little.
pub const OVERSTATED: f64 = 5.0;
/// Causes less probable than this are left off the list.
const LEAST: f64 = 1e-4;
/// The list holds so many causes at most, the most probable ones.
const LONGEST: usize = 40;
/// The list ends when the job is open with less than this chance.
const OPEN: f64 = 1e-3;

/// One entry of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct ListEntry {
    /// Position among the costs' causes.
    pub cause: usize,
    /// True if repairing straight away is cheaper than looking first.
    pub repair_now: bool,
}

/// Minutes to a pump that is fixed by treating causes in order with no more questions. `present` is the posterior of each
/// cause, in the order of `costs`; `done` are the openings already paid.
pub fn minutes_left(costs: &Costs, present: &[f64], done: Openings) -> f64 {
    walk(costs, present, done, |_| {})
}

/// The order in which that list treats causes.
pub fn in_order(costs: &Costs, present: &[f64], done: Openings) -> Vec<ListEntry> {
    let mut order = Vec::new();
    walk(costs, present, done, |entry| order.push(entry));
    order
}

fn walk(costs: &Costs, present: &[f64], done: Openings, mut treated: impl FnMut(ListEntry)) -> f64 {
    let sum: f64 = present.iter().sum();
    if sum <= 0.0 {
        return 0.0;
    }
    let mut open: Vec<Entry> = present
        .iter()
        .enumerate()
        .filter(|(_, p)| LEAST * sum < **p)
        .map(|(cause, p)| Entry { cause, share: p / sum, present: *p, score: 0.0 })
        .collect();
    if LONGEST < open.len() {
        open.select_nth_unstable_by(LONGEST, |a, b| b.share.total_cmp(&a.share).then(a.cause.cmp(&b.cause)));
        open.truncate(LONGEST);
    }
    let mut minutes: f64 = open.iter().map(|entry| entry.share * costs.causes[entry.cause].repair_minutes).sum();
    let (mut paid, mut still_open) = (done, 1.0);
    sort(costs, &mut open, still_open, paid);
    while OPEN < still_open
        && let Some(entry) = open.pop()
    {
        let step = treat(costs, &entry, still_open, paid);
        minutes += still_open * step.minutes;
        still_open -= entry.share;
        treated(ListEntry { cause: entry.cause, repair_now: step.repair_now });
        if paid | step.opens != paid {
            paid |= step.opens;
            sort(costs, &mut open, still_open, paid);
        }
    }
    minutes
}

/// Most chance per minute last, so that it is taken first. Done anew whenever an opening has been paid.
fn sort(costs: &Costs, open: &mut [Entry], still_open: f64, paid: Openings) {
    for entry in open.iter_mut() {
        entry.score = entry.share / treat(costs, entry, still_open, paid).whole.max(0.1);
    }
    open.sort_unstable_by(|a, b| a.score.total_cmp(&b.score).then(b.cause.cmp(&a.cause)));
}

struct Entry {
    cause: usize,
    share: f64,
    present: f64,
    score: f64,
}

struct Treat {
    /// Minutes of the look, or of the repair as far as it is in vain.
    minutes: f64,
    /// Minutes of the look, or of the whole repair: what the order goes by. Exchanging two neighbours of the list shows
    /// that a repair straight away counts with all its minutes.
    whole: f64,
    repair_now: bool,
    opens: Openings,
}

/// Waste of treating one cause: a look, or a repair in vain.
fn treat(costs: &Costs, entry: &Entry, still_open: f64, paid: Openings) -> Treat {
    let cost = &costs.causes[entry.cause];
    let wrong = (1.0 - (entry.share / still_open).max(entry.present)).max(0.0);
    let repair_opening = costs.minutes_to_open(cost.repair_openings, paid);
    let repair = wrong * cost.repair_minutes + repair_opening;
    let whole_repair = cost.repair_minutes + repair_opening;
    let look_opening = costs.minutes_to_open(cost.look_openings, paid);
    let look = if cost.look.is_some() { cost.look_minutes + look_opening } else { f64::INFINITY };
    if look <= repair {
        Treat { minutes: look, whole: look, repair_now: false, opens: cost.look_openings }
    } else {
        Treat { minutes: repair, whole: whole_repair, repair_now: true, opens: cost.repair_openings }
    }
}
