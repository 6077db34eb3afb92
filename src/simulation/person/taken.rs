//! Turns a pump with faults into the numbers that a person takes with a rule, a watch or a thermometer: those that the pump's
//! model does not give.
//!
//! Most go with a finding: where it shows, the number lies in one range, else in another, spread evenly. All ranges are
//! common practice, no source; they lie clear of each other, as somebody who finds a thing by eye also measures it.

use super::Person;
use super::numbers::rises;
use super::scene::Scene;
use crate::physics::OutOfRange;
use crate::physics::steady::{Output, Part, State};
use crate::simulation::Chance;

/// Ends of a range, SI.
type Range = (f64, f64);

/// A number that goes with findings.
struct Row {
    reading: &'static str,
    /// Where the finding shows; the first that does.
    shows: &'static [(&'static str, Range)],
    otherwise: Range,
}

const fn row(reading: &'static str, shows: &'static [(&'static str, Range)], otherwise: Range) -> Row {
    Row { reading, shows, otherwise }
}

const ROWS: &[Row] = &[
    // Hours since valves, diaphragms and packing were renewed, share of the planned interval.
    row(
        "hours_since_service",
        &[
            ("valves_hours_over", (1.15, 2.5)),
            ("diaphragm_hours_over", (1.15, 2.5)),
            ("parts_in_first_hours", (0.0, 0.04)),
        ],
        (0.05, 0.95),
    ),
    // Above the mark, m.
    row(
        "oil_level",
        &[
            ("oil_gone_from_glass", (-0.06, -0.025)),
            ("oil_level_low", (-0.03, -0.007)),
            ("oil_level_rose", (0.006, 0.025)),
        ],
        (-0.002, 0.002),
    ),
    // Hotter shaft end over mid-case, K.
    row("end_bearing_rise", &[("end_bearing_hot", (20.0, 45.0))], (2.0, 11.0)),
    // Share of the span.
    row("belt_deflection", &[("belt_slack", (0.028, 0.06)), ("belt_drum_tight", (0.004, 0.009))], (0.013, 0.019)),
    // Return line over inlet line, K.
    row("bypass_warmth", &[("bypass_line_warm", (6.0, 25.0))], (-0.5, 1.0)),
    // Pa gauge.
    row("case_pressure", &[("breather_closed", (3e3, 15e3)), ("oil_blown_from_breather", (2e3, 8e3))], (-200.0, 400.0)),
    // Share of the mean phase current.
    row("current_unbalance", &[("phases_uneven", (0.15, 0.6))], (0.01, 0.07)),
    // Share of the distance.
    row(
        "drive_alignment",
        &[("sheaves_crooked", (0.012, 0.03)), ("coupling_out_of_line", (0.012, 0.03))],
        (0.001, 0.007),
    ),
    // m.
    row(
        "end_play",
        &[("found_end_play_too_large", (2.5e-4, 6e-4)), ("found_end_play_too_small", (0.0, 2e-5))],
        (6e-5, 1.5e-4),
    ),
    // m in the jar after an hour.
    row("jar_sediment", &[("grit_seen", (1e-3, 8e-3))], (0.0, 3e-4)),
    // Share of water.
    row("oil_water", &[("oil_free_water", (0.01, 0.08)), ("oil_milky", (0.004, 0.04))], (0.0, 6e-4)),
    // Trapped outlet pressure down to half, s.
    row("outlet_hold_half_time", &[("pressure_drops_after_stop", (1.0, 7.0))], (25.0, 600.0)),
    // Shortest spring, share of a new one.
    row(
        "spring_free_length",
        &[("look_spring_short", (0.86, 0.955)), ("look_spring_fatigue", (0.9, 0.96))],
        (0.985, 1.01),
    ),
    // Share of the plate's voltage.
    row("supply_voltage", &[("voltage_low", (0.78, 0.88))], (0.95, 1.03)),
    // Hottest over coolest valve cover, K.
    row("valve_cover_difference", &[("valve_cover_warm", (2.5, 8.0))], (0.1, 1.2)),
];

/// Faults that leave air in front of the valves after a start, s until it is out.
const AIR_LEFT: Range = (120.0, 600.0);
/// Air that is drawn in all the time: nobody waits longer, s.
const NEVER: Range = (600.0, 1500.0);
/// Share of what it sweeps that a pump moves of air.
const OF_AIR: f64 = 0.35;
/// Free gas with which an outlet is called bubble-free by half of the people, and its width, share.
const BUBBLES: (f64, f64) = (0.02, 0.004);
/// Reading error of a relief's opening pressure, share.
const RELIEF: f64 = 0.01;

/// Readings that can be taken here.
pub fn ids() -> impl Iterator<Item = &'static str> {
    ROWS.iter().map(|row| row.reading).chain(["prime_time", "gas_per_minute", "deadhead_hold", "damper_charge"])
}

/// The number of a reading, SI; `None` where it is none of these.
///
/// # Errors
/// [`OutOfRange`] for numbers that describe no pump.
pub fn taken(reading: &str, person: &Person, scene: &mut Scene) -> Result<Option<f64>, OutOfRange> {
    let mut chance = Chance::of(person.seed, &[reading, "taken"]);
    if let Some(row) = ROWS.iter().find(|row| row.reading == reading) {
        for (finding, range) in row.shows {
            if person.shows(finding, scene)? {
                return Ok(Some(within(*range, &mut chance)));
            }
        }
        return Ok(Some(within(row.otherwise, &mut chance)));
    }
    if !ids().any(|known| known == reading) {
        return Ok(None);
    }
    let pair = scene.settled(State::default())?;
    let (gas, pressure) = (pair.now.gas, pair.now.of(Output::OutletPressure));
    let blurred = |value: f64, share: f64, chance: &mut Chance| value * (1.0 + person.errs * share * chance.normal());
    let works = scene.works();
    Ok(match reading {
        "prime_time" if chance.happens(rises(gas, BUBBLES.0, BUBBLES.1)) => Some(within(NEVER, &mut chance)),
        "prime_time" if has_air_left(scene) => Some(within(AIR_LEFT, &mut chance)),
        "prime_time" => Some(blurred(prime_time(scene), 0.1, &mut chance)),
        "gas_per_minute" => Some(blurred(gas / (1.0 - gas).max(0.1), 0.1, &mut chance)),
        "deadhead_hold" => {
            let share = works.pump[Part::ReliefOpening] / works.sound[Part::ReliefOpening].max(1.0);
            Some(blurred(share, RELIEF, &mut chance))
        }
        "damper_charge" if 0.0 < works.sound[Part::DamperVolume] => {
            Some(works.pump[Part::DamperCharge].max(0.0) / pressure.max(1e5))
        }
        _ => None,
    })
}

/// Seconds in which the inlet line is filled and the air is through: twice the volume of the line, at what a pump moves of
/// air; slower with valves that leak.
fn prime_time(scene: &Scene) -> f64 {
    let pump = &scene.works().pump;
    let bore = pump[Part::InletBore];
    let line = std::f64::consts::FRAC_PI_4 * bore * bore * pump[Part::InletLength];
    let moved = pump[Part::Displacement] * f64::from(pump.chambers) * pump.design.speed * OF_AIR;
    let leaks = pump[Part::InletValveLeak] + pump[Part::OutletValveLeak] + pump[Part::OilShort];
    3.0 + 2.0 * line / moved.max(1e-9) * (1.0 + 4.0 * leaks)
}

fn has_air_left(scene: &Scene) -> bool {
    const FAULTS: [&str; 3] = ["not_primed_after_work", "cells_not_primed", "outlet_air_pocket"];
    scene.faults().iter().any(|present| FAULTS.contains(&present.fault.id) && present.now().is_some())
}

fn within((low, high): Range, chance: &mut Chance) -> f64 {
    low + (high - low) * chance.even()
}
