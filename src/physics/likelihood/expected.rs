//! Turns a pump and suspects into rows of expected readings, one for each set of faults and running state, made when first
//! needed.

use super::number::{Misread, Number};
use super::severity::{DRAWS, severities};
use crate::physics::law::OutOfRange;
use crate::physics::sheet::Built;
use crate::physics::steady::{Effect, OUTPUTS, Output, Part, Pump, Readings, State, Steady};
use indexmap::IndexMap;
use std::rc::Rc;

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
    /// At each draw of the severities, output by output; one draw alone for the healthy pump. In single precision, which
    /// no gauge can tell from double and which takes half the memory of thousands of rows.
    draws: Vec<f32>,
    /// Change by one standard deviation of each part of the sheet, output by output; shared by the sets that take it over.
    slopes: Rc<[f32]>,
}

impl Row {
    /// An output at each draw.
    pub fn draws_of(&self, output: Output) -> impl ExactSizeIterator<Item = f64> {
        part_of(&self.draws, output)
    }

    /// Change of an output by one standard deviation of each part.
    pub fn slopes_of(&self, output: Output) -> impl ExactSizeIterator<Item = f64> {
        part_of(&self.slopes, output)
    }
}

/// The same numbers output by output.
#[expect(clippy::cast_possible_truncation, reason = "single precision on purpose")]
fn by_output(all: &[Readings]) -> Vec<f32> {
    (0..OUTPUTS).flat_map(|at| all.iter().map(move |one| one[at] as f32)).collect()
}

fn part_of(all: &[f32], output: Output) -> impl ExactSizeIterator<Item = f64> {
    let count = all.len() / OUTPUTS;
    all[output as usize * count..][..count].iter().map(|&value| f64::from(value))
}

/// A suspect that moves a number by less than this share of its standard deviation does not matter to it.
const MATTERS: f64 = 0.25;
/// Sets of so many faults take their slopes over from a smaller one.
const MANY: u32 = 3;
/// A suspect that leaves less inlet head than this, m, may matter together with another.
const NEAR_STARVING: f64 = 1.0;

/// What one pump should show, healthy and with each set of suspects.
#[derive(Debug, Clone)]
pub struct Expected {
    /// The pump as its sheet says.
    pub built: Built,
    suspects: Vec<Suspect>,
    /// The suspects that move the pump, as bits.
    movers: u64,
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
        let is_fault = |at: &usize| matches!(suspects[*at], Suspect::Fault(_));
        let movers = (0..suspects.len()).filter(is_fault).fold(0, |movers, at| movers | 1 << at);
        let steady = Steady::new(built.pump.chambers);
        let ways = vec![1.0; built.widths.len()];
        let mut expected = Self { built, suspects, movers, severities, steady, ways, rows: IndexMap::new() };
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
            self.make(state, self.faults(set))?;
        }
        Ok(())
    }

    /// Makes `portion` more of the rows of these sets in a state; true once all are made.
    ///
    /// # Errors
    /// As [`Expected::prepare`].
    pub fn prepare_some(&mut self, state: State, sets: &[u64], portion: usize) -> Result<bool, OutOfRange> {
        let missing = |set: &&u64| !self.rows.contains_key(&(state, self.faults(**set)));
        let next: Vec<u64> = sets.iter().filter(missing).take(portion).copied().collect();
        self.prepare(state, &next)?;
        Ok(next.len() < portion)
    }

    fn make(&mut self, state: State, faults: u64) -> Result<(), OutOfRange> {
        if self.rows.contains_key(&(state, faults)) {
            return Ok(());
        }
        let like = self.slopes_like(state, faults)?;
        let row = self.row(state, faults, like)?;
        self.rows.insert((state, faults), row);
        Ok(())
    }

    /// The set whose slopes a set of many takes over: without the fault that does least alone. The sheet's errors matter
    /// much as they do without it, and the slopes are most of the work.
    fn slopes_like(&mut self, state: State, faults: u64) -> Result<Option<u64>, OutOfRange> {
        if faults.count_ones() < MANY {
            return Ok(None);
        }
        let mut least = (f64::INFINITY, 0);
        for at in (0..self.suspects.len()).filter(|at| faults >> at & 1 == 1) {
            self.make(state, 1 << at)?;
            let rows = (self.rows.get(&(state, 1 << at)), self.rows.get(&(state, 0)));
            let does = rows.0.zip(rows.1).map_or(0.0, |(row, healthy)| change(&row.middle, &healthy.middle));
            if does < least.0 {
                least = (does, 1 << at);
            }
        }
        self.make(state, faults & !least.1)?;
        Ok(Some(faults & !least.1))
    }

    /// The row of a set in a state, made before by [`Expected::prepare`].
    pub(super) fn row_of(&self, state: State, set: u64) -> Option<&Row> {
        self.rows.get(&(state, self.faults(set)))
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
        let (Some(row), Some(healthy)) = (self.row_of(number.state, 1 << suspect), self.row_of(number.state, 0)) else {
            return false;
        };
        let view = number.view(healthy);
        let mut slopes = vec![0.0; self.built.widths.len()];
        view.slopes(healthy, &mut slopes);
        let spread = (slopes.iter().map(|slope| slope * slope).sum::<f64>() + view.variance).sqrt();
        let sound = view.value(healthy.middle[number.output as usize]);
        let mut draws = row.draws_of(number.output);
        let moves = draws.any(|draw| MATTERS * spread < (view.value(draw) - sound).abs());
        let margin = |row: &Row| row.draws_of(Output::DeliveryMargin).fold(f64::INFINITY, f64::min);
        let carries = number.output.card().by_factor && 0.0 < healthy.middle[Output::DeliveredFlow as usize];
        moves || (carries && margin(row) < NEAR_STARVING.min(margin(healthy)))
    }

    /// By how much each part of the sheet blurs the healthy reading that it blurs most, as a share of its variance.
    ///
    /// # Errors
    /// As [`Expected::prepare`].
    pub fn blurred_by(&mut self, numbers: &[Number]) -> Result<Vec<(Part, f64)>, OutOfRange> {
        let mut shares: Vec<(Part, f64)> = self.built.widths.iter().map(|width| (width.0, 0.0)).collect();
        let mut slopes = vec![0.0; shares.len()];
        for number in numbers {
            self.prepare(number.state, &[0])?;
            let Some(healthy) = self.row_of(number.state, 0) else { continue };
            let view = number.view(healthy);
            view.slopes(healthy, &mut slopes);
            let whole = slopes.iter().map(|slope| slope * slope).sum::<f64>() + view.variance;
            for (share, slope) in shares.iter_mut().zip(&slopes) {
                share.1 = share.1.max(slope * slope / whole);
            }
        }
        Ok(shares)
    }

    /// The suspects of a set that move the pump.
    fn faults(&self, set: u64) -> u64 {
        set & self.movers
    }

    fn row(&self, state: State, faults: u64, like: Option<u64>) -> Result<Row, OutOfRange> {
        let sound = self.built.pump;
        let middle = self.read(&sound, state, faults, None)?;
        let draws: Vec<Readings> = if faults == 0 {
            vec![middle]
        } else {
            (0..DRAWS).map(|draw| self.read(&sound, state, faults, Some(draw))).collect::<Result<_, _>>()?
        };
        let slope = |(&(part, width), way): (&(Part, f64), &f64)| -> Result<Readings, OutOfRange> {
            let moved = self.read(&within_reason(&sound, part, way * width), state, faults, None)?;
            Ok(std::array::from_fn(|at| way * (moved[at] - middle[at])))
        };
        let slopes = if let Some(other) = like.and_then(|like| self.rows.get(&(state, like))) {
            Rc::clone(&other.slopes)
        } else {
            let own = self.built.widths.iter().zip(&self.ways).map(slope).collect::<Result<Vec<_>, _>>()?;
            by_output(&own).into()
        };
        Ok(Row { middle, draws: by_output(&draws), slopes })
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
                Ok(change(&moved, &healthy))
            };
            Ok(if change(1.0)? < change(-1.0)? { -1.0 } else { 1.0 })
        });
        ways.collect()
    }
}

/// How far readings differ: squared shares, none counting more than everything.
fn change(moved: &Readings, from: &Readings) -> f64 {
    let of = |at: usize| ((moved[at] - from[at]) / from[at].abs().max(1e-9)).clamp(-1.0, 1.0);
    (0..OUTPUTS).map(of).map(|share| share * share).sum()
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
