//! Turns a formula, the ranges of its inputs and its source into results that are finite, or say why there are none.
//!
//! Two ranges stand at every input. Inside the *published* one the source vouches for the formula; inside the
//! *meaningful* one it can still be worked out. [`Law::at`] demands the first, [`Law::anywhere`] the second and says what
//! was outside of the first.

use thiserror::Error;

use crate::quantity::{Dimension, Quantity, short_number};

/// Significant digits of a value in an error.
const DIGITS: usize = 5;

/// One input of a law: what it is, how it is shown, and how far it may go.
#[derive(Debug, Clone, Copy)]
pub struct Input {
    /// The name it is given by.
    pub key: &'static str,
    /// In words.
    pub meaning: &'static str,
    /// What it measures; values are held in the unit named at the dimension.
    pub dimension: Dimension,
    /// The unit it is shown in, as in the table of units.
    pub unit: &'static str,
    /// What to do when it is out of range.
    pub advice: &'static str,
    published: (f64, f64),
    meaningful: (f64, f64),
    whole: bool,
}

impl Input {
    /// An input with its published range in SI, both ends included.
    ///
    /// Beyond that range it keeps its meaning as far as its sign allows; [`Input::meaningful`] says otherwise.
    pub const fn new(
        key: &'static str,
        meaning: &'static str,
        dimension: Dimension,
        unit: &'static str,
        published: (f64, f64),
    ) -> Self {
        let lowest = if 0.0 <= published.0 { 0.0 } else { f64::MIN };
        let advice = "check the number and its unit";
        Self { key, meaning, dimension, unit, advice, published, meaningful: (lowest, f64::MAX), whole: false }
    }

    /// The same input under another name.
    #[must_use]
    pub const fn named(mut self, key: &'static str, meaning: &'static str) -> Self {
        self.key = key;
        self.meaning = meaning;
        self
    }

    /// The same input with another published range in SI.
    #[must_use]
    pub const fn within(mut self, low: f64, high: f64) -> Self {
        self.published = (low, high);
        self
    }

    /// Outside of this range in SI the formula has no meaning and gives no number.
    #[must_use]
    pub const fn meaningful(mut self, low: f64, high: f64) -> Self {
        self.meaningful = (low, high);
        self
    }

    /// Outside of the published range the formula has no meaning.
    #[must_use]
    pub const fn strict(mut self) -> Self {
        self.meaningful = self.published;
        self
    }

    /// Only whole numbers.
    #[must_use]
    pub const fn whole(mut self) -> Self {
        self.whole = true;
        self
    }

    /// What to do when it is out of range.
    #[must_use]
    pub const fn advice(mut self, advice: &'static str) -> Self {
        self.advice = advice;
        self
    }

    /// The published range in SI, both ends included.
    pub const fn published(&self) -> (f64, f64) {
        self.published
    }

    /// Whether only whole numbers are taken.
    pub const fn is_whole(&self) -> bool {
        self.whole
    }

    /// The refusal of a value (SI) that would have to lie between two ends (SI), for what `advice` says.
    pub fn refused(&self, value: f64, (low, high): (f64, f64), advice: &'static str) -> OutOfRange {
        let shown = |si: f64| shown(self.dimension, self.unit, si);
        OutOfRange { input: self.key, value: shown(value), low: shown(low), high: shown(high), advice }
    }

    fn check(&self, value: f64, range: (f64, f64)) -> Result<(), OutOfRange> {
        if !(range.0 <= value && value <= range.1) {
            return Err(self.refused(value, self.published, self.advice));
        }
        if self.whole && 0.0 < value.fract().abs() {
            return Err(self.refused(value, self.published, "give a whole number"));
        }
        Ok(())
    }
}

/// A value (SI) in the unit it is shown in; what is no quantity is shown as the bare number.
fn shown(dimension: Dimension, unit: &str, si: f64) -> String {
    let value = Quantity::new(dimension, si).and_then(|quantity| quantity.value_in(unit)).unwrap_or(si);
    if value.is_nan() {
        return "no number".to_owned();
    }
    let number = if value.is_finite() { short_number(value, DIGITS) } else { "an endless number".to_owned() };
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

/// One result of a law.
#[derive(Debug, Clone, Copy)]
pub struct Output {
    /// Its name.
    pub name: &'static str,
    /// What it measures; values are held in the unit named at the dimension.
    pub dimension: Dimension,
    /// The unit it is shown in.
    pub unit: &'static str,
}

impl Output {
    /// A result by name, dimension and shown unit.
    pub const fn new(name: &'static str, dimension: Dimension, unit: &'static str) -> Self {
        Self { name, dimension, unit }
    }
}

/// An input a law cannot work with: which, its value, what is allowed, and what to do.
#[derive(Debug, Clone, Default, PartialEq, Eq, Error)]
#[error("`{input}` of {value} is outside {low} to {high}: {advice}")]
pub struct OutOfRange {
    /// Key of the input.
    pub input: &'static str,
    /// Its value with unit.
    pub value: String,
    /// Lowest allowed value with unit.
    pub low: String,
    /// Highest allowed value with unit.
    pub high: String,
    /// What to do.
    pub advice: &'static str,
}

/// A formula with what belongs to it. `N` inputs, `M` outputs, all in SI.
#[derive(Debug)]
pub struct Law<const N: usize, const M: usize> {
    /// Name, as the file it stands in.
    pub name: &'static str,
    /// The formula with its constants.
    pub formula: &'static str,
    /// The inputs, in the order of the formula's arguments.
    pub inputs: [Input; N],
    /// The outputs.
    pub outputs: [Output; M],
    /// Where it holds, in words.
    pub range: &'static str,
    /// Where it stands published.
    pub source: &'static str,
    /// The formula; only called with inputs inside their meaningful ranges. What the inputs forbid each other is refused here.
    pub compute: fn([f64; N]) -> Result<[f64; M], OutOfRange>,
}

impl<const N: usize, const M: usize> Law<N, M> {
    /// The outputs for inputs inside their published ranges.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first input that is not.
    pub fn at(&self, values: [f64; N]) -> Result<[f64; M], OutOfRange> {
        for (input, value) in self.inputs.iter().zip(values) {
            input.check(value, input.published)?;
        }
        self.finite(values, None)
    }

    /// The outputs wherever the formula keeps its meaning, and every input that is outside its published range.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first input that leaves the formula without meaning.
    pub fn anywhere(&self, values: [f64; N]) -> Result<([f64; M], Vec<OutOfRange>), OutOfRange> {
        let mut outside = Vec::new();
        for (input, value) in self.inputs.iter().zip(values) {
            input.check(value, input.meaningful)?;
            outside.extend(input.check(value, input.published).err());
        }
        let outputs = self.finite(values, outside.first())?;
        Ok((outputs, outside))
    }

    /// The outputs wherever the formula keeps its meaning: for models, which go to extremes that no source vouches for.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first input that leaves the formula without meaning.
    pub fn meant(&self, values: [f64; N]) -> Result<[f64; M], OutOfRange> {
        for (input, value) in self.inputs.iter().zip(values) {
            input.check(value, input.meaningful)?;
        }
        self.finite(values, None)
    }

    /// The outputs, if they are numbers; else what is outside is blamed, or the first input.
    fn finite(&self, values: [f64; N], outside: Option<&OutOfRange>) -> Result<[f64; M], OutOfRange> {
        let outputs = (self.compute)(values)?;
        if outputs.iter().all(|output| output.is_finite()) {
            return Ok(outputs);
        }
        let together = "with the other inputs it gives no number; check them all";
        let first =
            self.inputs.iter().zip(values).map(|(input, value)| input.refused(value, input.published, together)).next();
        Err(outside.cloned().or(first).unwrap_or_default())
    }
}

impl<const N: usize> Law<N, 1> {
    /// The only output, as [`Law::at`].
    ///
    /// # Errors
    /// As [`Law::at`].
    pub fn one(&self, values: [f64; N]) -> Result<f64, OutOfRange> {
        self.at(values).map(|[output]| output)
    }
}

/// What is listed of a law.
#[derive(Debug, Clone, Copy)]
pub struct Card {
    /// Name.
    pub name: &'static str,
    /// Formula.
    pub formula: &'static str,
    /// Inputs.
    pub inputs: &'static [Input],
    /// Outputs.
    pub outputs: &'static [Output],
    /// Where it holds.
    pub range: &'static str,
    /// Where it stands published.
    pub source: &'static str,
}

/// A law of any number of inputs and outputs.
pub trait Listed: Sync + std::fmt::Debug {
    /// What is listed of it.
    fn card(&'static self) -> Card;

    /// As [`Law::anywhere`]; as many values as inputs.
    ///
    /// # Errors
    /// As [`Law::anywhere`].
    fn outputs(&self, values: &[f64]) -> Result<(Vec<f64>, Vec<OutOfRange>), OutOfRange>;

    /// As [`Law::at`]; as many values as inputs.
    ///
    /// # Errors
    /// As [`Law::at`].
    fn published(&self, values: &[f64]) -> Result<Vec<f64>, OutOfRange>;
}

impl<const N: usize, const M: usize> Listed for Law<N, M> {
    fn card(&'static self) -> Card {
        Card {
            name: self.name,
            formula: self.formula,
            inputs: &self.inputs,
            outputs: &self.outputs,
            range: self.range,
            source: self.source,
        }
    }

    fn outputs(&self, values: &[f64]) -> Result<(Vec<f64>, Vec<OutOfRange>), OutOfRange> {
        self.anywhere(sized(values)).map(|(outputs, outside)| (outputs.to_vec(), outside))
    }

    fn published(&self, values: &[f64]) -> Result<Vec<f64>, OutOfRange> {
        self.at(sized(values)).map(|outputs| outputs.to_vec())
    }
}

/// Values that are missing are not a number, which every input refuses.
fn sized<const N: usize>(values: &[f64]) -> [f64; N] {
    std::array::from_fn(|at| values.get(at).copied().unwrap_or(f64::NAN))
}
