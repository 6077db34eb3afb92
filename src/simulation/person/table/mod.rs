//! Turns a fault and a finding into the share of jobs in which the one shows the other.
//!
//! What the pump's numbers tell (flow, pressure, swings, speeds) is there already; a row adds to it. The shares are
//! estimates from common practice, no source. Some of the pairs stand in public texts, which give no shares: Maggard, *Rough
//! and Tumble Engineering* (valves held open, their click); Hawkins, *Pumps and Hydraulics* (the jet that snaps, leaks found
//! by filling the line); MIL-HDBK-1164 (worn valves, emulsified oil); NAVEDTRA 14115 (water in oil). Links that the graph has
//! and this table had not were looked through once: what any fitter would see was added as common practice, with numbers of
//! its own; what was doubtful was left.

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
