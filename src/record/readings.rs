//! Turns the numbers of a job into rows: as entered, normalised, beside the healthy band and the scale of the gauge.

use crate::job::{Entry, Event, Sitting, stamp};
use crate::knowledge::Scale;
use crate::knowledge::schema::{Id, Reading};
use crate::quantity::{Quantity, echo_text};
use serde::Serialize;

/// One number as it was taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingRow {
    /// Number of the entry in the journal, from 1.
    pub entry: usize,
    /// When.
    pub at: String,
    /// Reading.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// As typed.
    pub entered: String,
    /// As typed and in the other habit of units.
    pub shown: String,
    /// The value in SI.
    pub si: f64,
    /// Kind of quantity, as the knowledge names it.
    pub quantity: String,
    /// Where it stands.
    pub gauge: Gauge,
    /// Where and with what instrument.
    pub instrument: String,
    /// Running state it is taken in.
    pub running_state: String,
    /// The check it came from.
    pub check: Option<String>,
    /// "counts", "replaced" by a later one, or "taken back".
    pub standing: &'static str,
}

/// A value on its scale, all in one unit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Gauge {
    /// The unit.
    pub unit: String,
    /// The value; a vacuum is negative.
    pub value: f64,
    /// Healthy band: by the model of this pump where it knows the reading, else as the knowledge has it.
    pub healthy: Option<(f64, f64)>,
    /// Usual value of this pump.
    pub usual: Option<f64>,
    /// Lowest and highest value the instrument could show.
    pub scale: (f64, f64),
}

/// A reading taken again after the pump was opened.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Again {
    /// Reading.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The last value before, in the unit of `after`.
    pub before: Option<f64>,
    /// The last value after.
    pub after: Gauge,
    /// As typed and in the other habit of units.
    pub shown: String,
}

impl Gauge {
    /// Where the value stands: "in its band", "below its band", "above its band" or "no band known".
    pub fn verdict(&self) -> &'static str {
        match self.healthy {
            None => "no band known",
            Some((from, _)) if self.value < from => "below its band",
            Some((_, to)) if to < self.value => "above its band",
            Some(_) => "in its band",
        }
    }
}

/// Every number of the job, in the order taken.
pub(super) fn rows(sitting: &Sitting) -> Vec<ReadingRow> {
    let entries = &sitting.job.entries;
    entries.iter().enumerate().filter_map(|(at, entry)| row(sitting, entries, at, entry)).collect()
}

fn row(sitting: &Sitting, entries: &[Entry], at: usize, entry: &Entry) -> Option<ReadingRow> {
    let Event::Measured { reading: id, text, si, check } = &entry.event else { return None };
    let reading = sitting.reading_of(id)?;
    let quantity = sitting.quantity_of(id, *si)?;
    Some(ReadingRow {
        entry: at + 1,
        at: stamp(entry.at),
        id: id.clone(),
        name: sitting.name_of(id),
        entered: text.clone(),
        shown: echo_text(text, quantity),
        si: *si,
        quantity: reading.quantity.clone(),
        gauge: gauge(sitting, id, reading, quantity)?,
        instrument: reading.instrument.clone(),
        running_state: sitting.running_state_of(id).unwrap_or_else(|| reading.running_state.clone()),
        check: check.as_ref().map(|check| sitting.name_of(check)),
        standing: standing(&entries[at + 1..], id),
    })
}

/// What became of a number in the entries after it.
fn standing(later: &[Entry], id: &Id) -> &'static str {
    let fate = later.iter().find_map(|entry| match &entry.event {
        Event::Measured { reading, .. } if reading == id => Some("replaced"),
        Event::Withdrawn { id: withdrawn } if withdrawn == id => Some("taken back"),
        _ => None,
    });
    fate.unwrap_or("counts")
}

fn gauge(sitting: &Sitting, id: &Id, reading: &Reading, quantity: Quantity) -> Option<Gauge> {
    let scale = Scale::of(reading).ok()?;
    let in_unit = |si: f64| Quantity::new(scale.dimension, si).ok()?.value_in(&reading.unit).ok().map(tidy);
    let usual = sitting.job.usual.get(id).map(|(_, si)| *si);
    let healthy = sitting.healthy_band(id).or_else(|| scale.healthy.ends(usual));
    Some(Gauge {
        unit: reading.unit.clone(),
        value: in_unit(quantity.si())?,
        healthy: healthy.and_then(|(from, to)| Some((in_unit(from)?, in_unit(to)?))),
        usual: usual.and_then(in_unit),
        scale: (in_unit(scale.low)?, in_unit(scale.high)?),
    })
}

/// Nine significant digits: the rest is left over from changing units.
fn tidy(value: f64) -> f64 {
    format!("{value:.8e}").parse().unwrap_or(value)
}

/// What was measured after the last time the pump was isolated and proved: before and after, side by side.
pub(super) fn after_work(sitting: &Sitting) -> Vec<Again> {
    let isolated = |entry: &Entry| matches!(entry.event, Event::Isolation { proved: true, .. } | Event::ZeroProved(_));
    let Some(opened) = sitting.job.entries.iter().rposition(isolated) else { return Vec::new() };
    let rows = rows(sitting);
    let (before, after): (Vec<&ReadingRow>, Vec<&ReadingRow>) = rows.iter().partition(|row| row.entry <= opened + 1);
    let last = after.iter().filter(|row| row.standing == "counts");
    let again = last.map(|row| Again {
        id: row.id.clone(),
        name: row.name.clone(),
        before: before.iter().rev().find(|earlier| earlier.id == row.id).map(|earlier| earlier.gauge.value),
        after: row.gauge.clone(),
        shown: row.shown.clone(),
    });
    again.collect()
}
