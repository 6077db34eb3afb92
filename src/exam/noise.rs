//! Turns knowledge into the same with other strengths: what a planner believes whose numbers are a little off.

use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Id, Link, Pull, Strength};
use crate::simulation::Chance;
use indexmap::IndexMap;

/// The knowledge with normal noise of a standard deviation on the log-odds of every strength, links to conditions, findings
/// and readings alike. Each link has noise of its own, by the seed and its two ends. Without noise nothing changes.
#[must_use]
pub fn noisy(knowledge: &Knowledge, deviation: f64, seed: u64) -> Knowledge {
    let mut noisy = knowledge.clone();
    if deviation <= 0.0 {
        return noisy;
    }
    let moved = |strength: &mut Strength, from: &str, to: &str| {
        let share = strength.number();
        if 0.0 < share && share < 1.0 {
            let odds = libm::log(share / (1.0 - share)) + deviation * Chance::of(seed, &["noise", from, to]).normal();
            *strength = Strength::Share(1.0 / (1.0 + libm::exp(-odds)));
        }
    };
    let links = |from: &str, links: &mut IndexMap<Id, Link>| {
        links.iter_mut().for_each(|(to, link)| moved(&mut link.strength, from, to));
    };
    let pulls = |to: &str, pulls: &mut IndexMap<Id, Pull>| {
        pulls.iter_mut().for_each(|(from, pull)| moved(&mut pull.strength, from, to));
    };
    let all = &mut noisy.all;
    all.causes.iter_mut().for_each(|(id, cause)| links(id, &mut cause.leads_to));
    all.conditions.iter_mut().chain(&mut all.damage).for_each(|(id, inner)| links(id, &mut inner.leads_to));
    all.findings.iter_mut().for_each(|(id, finding)| links(id, &mut finding.shown_by));
    all.readings.iter_mut().for_each(|(id, reading)| pulls(id, &mut reading.moved_by));
    noisy
}
