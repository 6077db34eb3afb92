//! Turns the texts of a reading's band, scale and gauge error into numbers in SI, or says which text is wrong.

use super::schema::{Band, Reading};
use crate::quantity::{Dimension, PlausibleRange, Quantity, parse};

/// A reading's numbers in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Kind of quantity.
    pub dimension: Dimension,
    /// Healthy band.
    pub healthy: Healthy,
    /// Lowest the instrument could show.
    pub low: f64,
    /// Highest the instrument could show.
    pub high: f64,
    /// Standard deviation of what the instrument shows.
    pub error: f64,
}

/// A healthy band, absolute or as a share of this pump's usual value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Healthy {
    /// Between two values in SI.
    Between(f64, f64),
    /// Between two shares of the usual value.
    OfUsual(f64, f64),
}

impl Healthy {
    /// The ends of the band in SI, the lower first; `None` if it is a share of a usual value that is not known.
    pub fn ends(self, usual: Option<f64>) -> Option<(f64, f64)> {
        match self {
            Self::Between(from, to) => Some((from, to)),
            Self::OfUsual(from, to) => usual.map(|usual| {
                let (one, other) = (from * usual, to * usual);
                (one.min(other), one.max(other))
            }),
        }
    }
}

/// Which text is wrong and why.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleProblem {
    /// Field path inside the reading.
    pub path: Vec<&'static str>,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
}

/// The kind of quantity with this name in knowledge files.
pub fn dimension_named(name: &str) -> Option<Dimension> {
    ron::from_str(name).ok()
}

/// The kind of quantity in which a difference of two values is written.
pub fn difference_of(dimension: Dimension) -> Dimension {
    match dimension {
        Dimension::GaugePressure | Dimension::AbsolutePressure => Dimension::PressureDifference,
        Dimension::Temperature => Dimension::TemperatureDifference,
        other => other,
    }
}

/// The range of what a reading's instrument could show, as its scale says.
pub fn plausible(reading: &Reading) -> Option<PlausibleRange> {
    let dimension = dimension_named(&reading.quantity)?;
    let bound = |text: &str| parse(text, dimension, None).ok().map(|parsed| parsed.quantity);
    PlausibleRange::new(bound(&reading.scale.0)?, bound(&reading.scale.1)?).ok()
}

impl Scale {
    /// The numbers of a reading.
    pub fn of(reading: &Reading) -> Result<Self, ScaleProblem> {
        let dimension = dimension_named(&reading.quantity).ok_or_else(|| unknown_quantity(&reading.quantity))?;
        let (low, high) = (
            value(&reading.scale.0, dimension, &["scale", "0"])?.si(),
            value(&reading.scale.1, dimension, &["scale", "1"])?.si(),
        );
        let error = value(&reading.gauge_error, difference_of(dimension), &["gauge_error"])?.si();
        in_order(low, high, "scale")?;
        let healthy = match &reading.healthy {
            Band::Between(from, to) => {
                let from = value(from, dimension, &["healthy", "0"])?.si();
                let to = value(to, dimension, &["healthy", "1"])?.si();
                in_order(from, to, "healthy")?;
                Healthy::Between(from, to)
            }
            Band::OfUsual(from, to) => {
                in_order(*from, *to, "healthy")?;
                Healthy::OfUsual(*from, *to)
            }
        };
        if error <= 0.0 {
            return Err(problem(
                &["gauge_error"],
                "a gauge error must be above zero",
                "write what the gauge can be off by",
            ));
        }
        Ok(Self { dimension, healthy, low, high, error })
    }
}

fn value(text: &str, dimension: Dimension, path: &[&'static str]) -> Result<Quantity, ScaleProblem> {
    parse(text, dimension, None).map(|parsed| parsed.quantity).map_err(|error| ScaleProblem {
        path: path.to_vec(),
        message: format!("`{text}`: {error}"),
        hint: format!("write {} with one of: {}", dimension.phrase(), dimension.allowed_units()),
    })
}

fn in_order(low: f64, high: f64, field: &'static str) -> Result<(), ScaleProblem> {
    if low < high {
        Ok(())
    } else {
        Err(problem(&[field], "the first value must be the lower one", "swap the two, or mind the sign of a vacuum"))
    }
}

fn problem(path: &[&'static str], message: &str, hint: &str) -> ScaleProblem {
    ScaleProblem { path: path.to_vec(), message: message.to_owned(), hint: hint.to_owned() }
}

fn unknown_quantity(name: &str) -> ScaleProblem {
    problem(
        &["quantity"],
        &format!("`{name}` is not a kind of quantity"),
        "use gauge_pressure, flow, speed, length, temperature, time, current, ratio, …",
    )
}
