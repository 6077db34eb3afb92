//! Turns a fault and a finding into the share of jobs in which the one shows the other.
//!
//! What the pump's numbers tell (flow, pressure, swings, speeds) is there already; a row adds to it. The shares are
//! estimates from common practice, no source: of twenty pumps with this fault, how many show it to who looks or tries. Beside
//! each row stands what its pairs rest on. The public texts named there say what shows what, and give no shares: Maggard,
//! *Rough and Tumble Engineering*; Hawkins, *Pumps and Hydraulics*; Arnold and Stewart, *Surface Production Operations*;
//! MIL-HDBK-1164; NAVEDTRA 14075 and 14115; DOE-HDBK-1018/1. Three rules hold through the table: what follows from physics is
//! said of all faults of one kind, not of one of them; a look at a part and the verdict on it agree; what the numbers tell is
//! not said again. The last full review had no sight of the links and strengths of the knowledge.

mod drive;
mod harm;
mod inlet;
mod liquid;
mod oil;
mod outlet;
mod outside;
mod supply;
mod valves;

/// What shows one fault.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// Id of the fault.
    pub fault: &'static str,
    /// How often a direct look finds it, slight and grave.
    pub look: (f64, f64),
    /// Id of a finding, and how often it shows, slight and grave.
    pub shows: &'static [(&'static str, f64, f64)],
}

/// Every row.
pub fn rows() -> impl Iterator<Item = &'static Row> {
    [supply::ROWS, inlet::ROWS, valves::ROWS, oil::ROWS, outlet::ROWS, drive::ROWS, liquid::ROWS, outside::ROWS]
        .into_iter()
        .flatten()
}

/// Per fault the parts found harmed: fault, then finding with how often, slight and grave.
pub fn harm() -> impl Iterator<Item = (&'static str, &'static [(&'static str, f64, f64)])> {
    harm::HARM.iter().copied()
}

/// How often a fault of a severity shows a finding; `None` where nothing joins them.
pub fn share(fault: &str, finding: &str, severity: f64) -> Option<f64> {
    let row = rows().find(|row| row.fault == fault)?;
    let between = |(slight, grave): (f64, f64)| slight + (grave - slight) * severity;
    // A verdict on a fault is a direct look at it.
    if finding.strip_prefix("found_") == Some(fault) {
        return Some(between(row.look));
    }
    let harmed = harm::HARM.iter().filter(|harm| harm.0 == fault).flat_map(|harm| harm.1);
    let shown = row.shows.iter().chain(harmed).find(|shown| shown.0 == finding);
    shown.map(|&(_, slight, grave)| between((slight, grave)))
}
