//! Turns a pump with faults into the operator's story: one complaint or two, which may be partly wrong.

use super::{Chance, Scene, share};
use crate::physics::OutOfRange;

/// What operators complain of, and how readily each comes to mind (common practice, no source).
const COMPLAINTS: &[(&str, f64)] = &[
    ("no_delivery", 3.0),
    ("motor_trips", 2.5),
    ("low_flow", 1.5),
    ("pressure_low", 1.6),
    ("pressure_high", 1.3),
    ("pressure_fades", 1.0),
    ("outlet_spits", 1.0),
    ("crackle_noise", 1.4),
    ("knock_each_turn", 1.3),
    ("pipes_shake", 1.2),
    ("outlet_needle_swings", 0.8),
    ("inlet_hose_jumps", 0.6),
    ("oil_milky", 1.8),
    ("oil_level_low", 0.8),
    ("oil_level_rose", 0.7),
    ("oil_drips_at_shaft", 1.2),
    ("oil_wet_elsewhere", 0.9),
    ("oil_in_liquid", 1.2),
    ("oil_hot_to_touch", 1.0),
    ("oil_blown_from_breather", 1.0),
    ("rupture_alarm_on", 2.0),
    ("belt_squeals", 1.5),
    ("burnt_smell", 1.3),
    ("bearing_rumbles", 1.4),
    ("end_bearing_hot", 0.8),
    ("motor_hums", 1.3),
    ("motor_hot", 0.8),
    ("leak_after_pump", 1.5),
    ("liquid_leaks_at_head", 1.3),
    ("bypass_line_flows", 0.8),
    ("relief_chatters", 1.0),
    ("jet_pattern_bad", 0.7),
    ("bad_after_standing", 0.5),
    ("comes_and_goes", 0.4),
    ("flows_when_stopped", 1.0),
    ("doses_differ", 0.4),
];

/// Below this share a complaint does not come up, unless nothing else does.
const WORTH_SAYING: f64 = 0.25;
/// How often the operator adds a second one.
const SECOND: f64 = 0.55;
/// How often what is told is not so at all.
const WRONG: f64 = 0.1;

/// One or two findings that the operator complains of. The same seed, the same story.
///
/// # Errors
/// [`OutOfRange`] for numbers that describe no pump.
pub fn complaints(scene: &mut Scene, seed: u64) -> Result<Vec<&'static str>, OutOfRange> {
    let mut chance = Chance::of(seed, &["complaint"]);
    let mut weights = Vec::with_capacity(COMPLAINTS.len());
    for &(finding, readily) in COMPLAINTS {
        let shows = share(finding, scene)?;
        weights.push((finding, if WORTH_SAYING <= shows { readily * shows * shows } else { 0.0 }));
    }
    if weights.iter().all(|weight| weight.1 <= 0.0) {
        // Nothing stands out: someone is uneasy about what shows most.
        for (weight, &(finding, readily)) in weights.iter_mut().zip(COMPLAINTS) {
            weight.1 = readily * share(finding, scene)?;
        }
    }
    let mut told = Vec::new();
    let count = if chance.happens(SECOND) { 2 } else { 1 };
    while told.len() < count {
        let wrong = chance.happens(WRONG);
        let picked =
            if wrong { Some(COMPLAINTS[chance.below(COMPLAINTS.len())].0) } else { pick(&weights, &mut chance) };
        let Some(finding) = picked else { break };
        weights.iter_mut().filter(|weight| weight.0 == finding).for_each(|weight| weight.1 = 0.0);
        if !told.contains(&finding) {
            told.push(finding);
        }
    }
    Ok(told)
}

/// One of the findings, the heavier the more often; `None` where none has weight.
fn pick(weights: &[(&'static str, f64)], chance: &mut Chance) -> Option<&'static str> {
    let total: f64 = weights.iter().map(|weight| weight.1).sum();
    let mut left = chance.even() * total;
    let heavy = weights.iter().filter(|weight| 0.0 < weight.1);
    let mut last = None;
    for &(finding, weight) in heavy {
        last = Some(finding);
        if left < weight {
            break;
        }
        left -= weight;
    }
    last
}
