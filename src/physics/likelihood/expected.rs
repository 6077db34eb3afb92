//! Turns a pump and suspects into rows of expected readings, one for each set of faults and running state, made when first
//! needed.

use super::number::{Misread, Number};
use super::severity::{DRAWS, severities};
use crate::physics::law::OutOfRange;
use crate::physics::sheet::Built;
use crate::physics::steady::{Effect, OUTPUTS, Output, Part, Pump, Readings, State, Steady};
use indexmap::IndexMap;

/// Something that may be the matter with what is read.
#[derive(Debug, Clone, PartialEq)]
pub enum Suspect {
    /// It moves the pump.
    Fault(Effect),
    /// It moves the gauge.
    Gauge(Misread),
}

/// What a pump shows with one set of faults in one running state.
#[derive(Debug, Clone)]
pub struct Row {
    /// At the middle of all severities.
    pub middle: Readings,
    /// At each draw of the severities; one alone for the healthy pump.
    pub draws: Vec<Readings>,
    /// Change by one standard deviation of each part of the sheet.
    pub slopes: Vec<Readings>,
}

/// A suspect that moves a number by less than this share of its standard deviation does not matter to it.
const MATTERS: f64 = 0.25;
/// A suspect that leaves less inlet head than this, m, may matter together with another.
const NEAR_STARVING: f64 = 1.0;

/// What one pump should show, healthy and with each set of suspects.
#[derive(Debug, Clone)]
pub struct Expected {
    /// The pump as its sheet says.
    pub built: Built,
    suspects: Vec<Suspect>,
    severities: Vec<[f64; DRAWS]>,
    steady: Steady,
    /// Which way each part is moved for the slopes: the way that changes more on the healthy pump.
    ways: Vec<f64>,
    rows: IndexMap<(State, u64), Row>,
}

/// Sets of at most `most` of `among`, as bits, the empty one first.
pub fn sets_of(among: &[usize], most: usize) -> Vec<u64> {
    let mut sets = vec![0_u64];
    let mut from = 0;
    for _ in 0..most {
        let until = sets.len();
        for at in from..until {
            let set = sets[at];
            let above = among.iter().filter(|&&suspect| set >> suspect == 0);
            let more: Vec<u64> = above.map(|&suspect| set | 1 << suspect).collect();
            sets.extend(more);
        }
        from = until;
    }
    sets
}

impl Expected {
    /// The expectations of a pump with at most 60 suspects.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    pub fn new(built: Built, suspects: Vec<Suspect>) -> Result<Self, OutOfRange> {
        let severities = (0..suspects.len()).map(severities).collect();
        let steady = Steady::new(built.pump.chambers);
        let ways = vec![1.0; built.widths.len()];
        let mut expected = Self { built, suspects, severities, steady, ways, rows: IndexMap::new() };
        expected.ways = expected.steeper_ways()?;
        Ok(expected)
    }

    /// The suspects, in order.
    pub fn suspects(&self) -> &[Suspect] {
        &self.suspects
    }

    /// Makes the rows of these sets in a state, where they are not made yet.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn prepare(&mut self, state: State, sets: &[u64]) -> Result<(), OutOfRange> {
        for &set in sets {
            let faults = self.faults(set);
            if !self.rows.contains_key(&(state, faults)) {
                let row = self.row(state, faults)?;
                self.rows.insert((state, faults), row);
            }
        }
        Ok(())
    }

    /// The rows of the numbers' states for a set, made before by [`Expected::prepare`].
    pub(super) fn rows_of<'a>(&'a self, numbers: &'a [Number], set: u64) -> Option<Vec<(&'a Row, &'a Row)>> {
        let faults = self.faults(set);
        let row = |number: &Number| Some((self.rows.get(&(number.state, faults))?, self.rows.get(&(number.state, 0))?));
        numbers.iter().map(row).collect()
    }

    /// The gauges of a set that misread.
    pub(super) fn misreads(&self, set: u64) -> impl Iterator<Item = &Misread> {
        self.suspects.iter().enumerate().filter(move |(at, _)| set >> at & 1 == 1).filter_map(|(_, suspect)| {
            match suspect {
                Suspect::Gauge(misread) => Some(misread),
                Suspect::Fault(_) => None,
            }
        })
    }

    /// Suspects that matter to any of the numbers; the others' presence cannot be told from them.
    ///
    /// # Errors
    /// As [`Expected::prepare`].
    pub fn matter_to(&mut self, numbers: &[Number]) -> Result<Vec<usize>, OutOfRange> {
        let all: Vec<usize> = (0..self.suspects.len()).collect();
        let singles = sets_of(&all, 1);
        for number in numbers {
            self.prepare(number.state, &singles)?;
        }
        Ok(all.into_iter().filter(|&suspect| numbers.iter().any(|number| self.matters(suspect, number))).collect())
    }

    fn matters(&self, suspect: usize, number: &Number) -> bool {
        if let Suspect::Gauge(misread) = &self.suspects[suspect] {
            return misread.outputs.contains(&number.output);
        }
        let numbers = [*number];
        let (Some(alone), Some(none)) = (self.rows_of(&numbers, 1 << suspect), self.rows_of(&numbers, 0)) else {
            return false;
        };
        let (row, healthy) = alone[0];
        let (with, without) = (number.predicted(row, healthy), number.predicted(none[0].0, healthy));
        let spread: f64 = without.slopes.iter().map(|slope| slope * slope).sum::<f64>() + without.variance;
        let moves = with.draws.iter().any(|draw| MATTERS * spread.sqrt() < (draw - without.draws[0]).abs());
        let margin = |row: &Row| {
            let least = |readings: &Readings| readings[Output::DeliveryMargin as usize];
            row.draws.iter().map(least).fold(f64::INFINITY, f64::min)
        };
        let carries = number.output.card().by_factor && 0.0 < healthy.middle[Output::DeliveredFlow as usize];
        moves || (carries && margin(row) < NEAR_STARVING.min(margin(healthy)))
    }

    /// The suspects of a set that move the pump.
    fn faults(&self, set: u64) -> u64 {
        let is_fault = |at: &usize| matches!(self.suspects[*at], Suspect::Fault(_));
        (0..self.suspects.len()).filter(is_fault).fold(0, |faults, at| faults | set & 1 << at)
    }

    fn row(&self, state: State, faults: u64) -> Result<Row, OutOfRange> {
        let sound = self.built.pump;
        let middle = self.read(&sound, state, faults, None)?;
        let draws = if faults == 0 {
            vec![middle]
        } else {
            (0..DRAWS).map(|draw| self.read(&sound, state, faults, Some(draw))).collect::<Result<_, _>>()?
        };
        let slope = |(&(part, width), way): (&(Part, f64), &f64)| -> Result<Readings, OutOfRange> {
            let moved = self.read(&within_reason(&sound, part, way * width), state, faults, None)?;
            Ok(std::array::from_fn(|at| way * (moved[at] - middle[at])))
        };
        let slopes = self.built.widths.iter().zip(&self.ways).map(slope).collect::<Result<_, _>>()?;
        Ok(Row { middle, draws, slopes })
    }

    fn read(&self, sound: &Pump, state: State, faults: u64, draw: Option<usize>) -> Result<Readings, OutOfRange> {
        let mut pump = *sound;
        for (at, suspect) in self.suspects.iter().enumerate().filter(|(at, _)| faults >> at & 1 == 1) {
            if let Suspect::Fault(effect) = suspect {
                effect.put(&mut pump, draw.map_or(0.5, |draw| self.severities[at][draw]));
            }
        }
        self.steady.solve(&pump, sound, state)
    }

    fn steeper_ways(&self) -> Result<Vec<f64>, OutOfRange> {
        let sound = self.built.pump;
        let healthy = self.read(&sound, State::default(), 0, None)?;
        let ways = self.built.widths.iter().map(|&(part, width)| {
            let change = |way: f64| -> Result<f64, OutOfRange> {
                let moved = self.read(&within_reason(&sound, part, way * width), State::default(), 0, None)?;
                let of = |at: usize| ((moved[at] - healthy[at]) / healthy[at].abs().max(1e-9)).min(1e3);
                Ok((0..OUTPUTS).map(of).map(|share| share * share).sum())
            };
            Ok(if change(1.0)? < change(-1.0)? { -1.0 } else { 1.0 })
        });
        ways.collect()
    }
}

/// The pump with a part moved, but not to where no pump is.
fn within_reason(pump: &Pump, part: Part, by: f64) -> Pump {
    let value = pump[part] + by;
    let kept = match part {
        Part::LiquidTemperature => value.clamp(273.65, 372.0),
        Part::RoomTemperature => value.clamp(243.15, 330.0),
        Part::Level => value,
        _ => value.max(0.0),
    };
    pump.with(part, kept)
}

#[cfg(test)]
mod tests {
    use super::sets_of;

    #[test]
    fn sets_come_once_each() {
        let sets = sets_of(&[1, 4, 9, 30], 3);
        assert_eq!(sets.len(), 1 + 4 + 6 + 4);
        let mut sorted = sets.clone();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(sorted.len(), sets.len());
        assert!(sets.iter().all(|set| set.count_ones() <= 3 && set & !(1 << 1 | 1 << 4 | 1 << 9 | 1 << 30) == 0));
    }
}
