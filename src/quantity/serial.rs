//! A quantity, turned into text for a file that reads back to the very same value, and such text read strictly.
//!
//! A file has time to be exact: what raises a doubt on the screen is refused here.

use serde::de::{self, Visitor};
use std::fmt;
use thiserror::Error;

use super::dimension::Dimension;
use super::echo::{exact_number, with_reference};
use super::parse::parse;
use super::problem::{Doubt, ParseError, ParseProblem};
use super::units::Unit;
use super::value::{Quantity, QuantityError};

/// Why a text in a file is not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum StrictError {
    /// It is no quantity.
    #[error("{}", with_allowed(.0))]
    Parse(#[from] ParseError),
    /// It could be meant otherwise.
    #[error("not exact enough for a file: {0}")]
    Doubtful(Doubt),
}

/// Reads a number with its unit, refusing whatever [`parse`] would only doubt.
///
/// # Errors
/// [`StrictError`], whose text lists all units allowed when the unit is at fault.
pub fn parse_strict(text: &str, dimension: Dimension) -> Result<Quantity, StrictError> {
    let parsed = parse(text, dimension, None)?;
    match parsed.doubts.into_iter().next() {
        Some(doubt) => Err(StrictError::Doubtful(doubt)),
        None => Ok(parsed.quantity),
    }
}

/// The text with the fewest digits that [`parse_strict`] reads back to exactly the same value.
///
/// "12 inHg vacuum" comes back as that, though only pascals are held; the unit is found, not remembered.
/// Among equally short ones, a number from 1 up to 10 000 goes first: "99 kPa" before "0.99 bar".
pub fn exact_text(quantity: Quantity) -> String {
    (1..=15).find_map(|digits| text_of_digits(quantity, digits)).unwrap_or_else(|| held_text(quantity))
}

fn text_of_digits(quantity: Quantity, digits: usize) -> Option<String> {
    let dimension = quantity.dimension();
    let mut found: Option<String> = None;
    for unit in dimension.units() {
        let Some(value) = value_of_digits(quantity, unit, digits) else {
            continue;
        };
        let text = with_reference(value, unit, dimension, exact_number);
        if parse_strict(&text, dimension) != Ok(quantity) {
            continue;
        }
        if (1.0..1e4).contains(&value.abs()) {
            return Some(text);
        }
        found = found.or(Some(text));
    }
    found
}

/// The value in `unit` rounded to some digits, if that loses nothing.
fn value_of_digits(quantity: Quantity, unit: &Unit, digits: usize) -> Option<f64> {
    let rounded = format!("{:.*e}", digits - 1, unit.from_si(quantity.si()));
    let value: f64 = rounded.parse().ok()?;
    (unit.to_si(value).to_bits() == quantity.si().to_bits()).then_some(value)
}

/// In the unit it is held in, with all digits. The exponent keeps a point from being doubted (`1.450`).
fn held_text(quantity: Quantity) -> String {
    let held = |unit: &&Unit| unit.to_si(quantity.si()).to_bits() == quantity.si().to_bits();
    let number = |value: f64| format!("{value:e}");
    let unit = quantity.dimension().units().iter().find(held);
    unit.map_or_else(|| number(quantity.si()), |unit| with_reference(quantity.si(), unit, quantity.dimension(), number))
}

fn with_allowed(error: &ParseError) -> String {
    let asked = match &error.problem {
        ParseProblem::UnknownUnit { asked, .. }
        | ParseProblem::OtherDimension { asked, .. }
        | ParseProblem::MissingUnit(asked) => *asked,
        _ => return error.to_string(),
    };
    format!("{error} (allowed: {})", asked.allowed_units())
}

/// Reads a typed quantity out of any file format as text with a unit.
pub(super) struct QuantityVisitor<T> {
    dimension: Dimension,
    kind: std::marker::PhantomData<T>,
}

impl<T> QuantityVisitor<T> {
    pub(super) const fn new(dimension: Dimension) -> Self {
        Self { dimension, kind: std::marker::PhantomData }
    }
}

impl<T: TryFrom<Quantity, Error = QuantityError>> Visitor<'_> for QuantityVisitor<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = self.dimension.units().first().map_or("", Unit::symbol);
        write!(
            f,
            "{} as text with its unit, such as \"5 {unit}\" (allowed: {})",
            self.dimension.phrase(),
            self.dimension.allowed_units()
        )
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<T, E> {
        let quantity = parse_strict(text, self.dimension).map_err(E::custom)?;
        T::try_from(quantity).map_err(E::custom)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{exact_text, parse_strict};
    use crate::quantity::{AbsolutePressure, Dimension, Flow, GaugePressure, Quantity, Speed, Vacuum};

    #[test]
    fn files_keep_the_unit_that_was_meant() {
        for (dimension, text) in [
            (Dimension::GaugePressure, "12 inHg vacuum"),
            (Dimension::GaugePressure, "2.5 bar gauge"),
            (Dimension::AbsolutePressure, "99 kPa abs"),
            (Dimension::PressureDifference, "14.7 psi difference"),
            (Dimension::Flow, "4.5 US gpm"),
            (Dimension::Speed, "1450 rpm"),
            (Dimension::Temperature, "60 °C"),
            (Dimension::Length, "6 thou"),
            (Dimension::Ratio, "85 %"),
            (Dimension::Count, "3"),
        ] {
            let quantity = parse_strict(text, dimension).unwrap();
            assert_eq!(exact_text(quantity), text);
        }
    }

    #[test]
    fn every_value_comes_back_to_the_last_bit() {
        for dimension in Dimension::ALL {
            for si in [0.0, 1.0 / 3.0, 1.234, 101_325.0, 1e-12, 6.02e23, f64::MIN_POSITIVE, 1.7e308] {
                let quantity = Quantity::new(dimension, si).unwrap();
                let text = exact_text(quantity);
                assert_eq!(parse_strict(&text, dimension), Ok(quantity), "{dimension} {text}");
            }
        }
    }

    #[test]
    fn files_are_read_strictly() {
        for (dimension, text, part) in [
            (Dimension::Flow, "5 gpm", "imp gpm"),
            (Dimension::Speed, "1,450 rpm", "1450 rpm"),
            (Dimension::GaugePressure, "12 inHg", "12 inHg vac"),
            (Dimension::Flow, "5 rpm", "imp gpm"),
            (Dimension::Flow, "5", "m3/h"),
        ] {
            let error = parse_strict(text, dimension).unwrap_err().to_string();
            assert!(error.contains(part), "{text}: {error}");
        }
    }

    #[test]
    fn typed_values_work_in_ron() {
        let gauge: GaugePressure = ron::from_str("\"-12 inHg\"").unwrap();
        assert!((gauge.si() + 40_636.668).abs() < 0.01);
        assert_eq!(ron::to_string(&gauge).unwrap(), "\"12 inHg vacuum\"");
        let vacuum: Vacuum = ron::from_str("\"12 inHg vac\"").unwrap();
        assert_eq!(vacuum.to_gauge(), gauge);
        assert_eq!(ron::to_string(&vacuum).unwrap(), "\"12 inHg vacuum\"");
        let speed: Speed = ron::from_str("\"1450 rpm\"").unwrap();
        assert_eq!(ron::to_string(&speed).unwrap(), "\"1450 rpm\"");
    }

    #[test]
    fn errors_in_ron_name_the_unit_and_the_allowed_ones() {
        let error = ron::from_str::<Flow>("\"5 bars\"").unwrap_err().to_string();
        assert!(error.contains("`bars` is a pressure; this asks for a flow"), "{error}");
        assert!(error.contains("allowed: m3/h, L/min, US gpm"), "{error}");
        let error = ron::from_str::<Flow>("5").unwrap_err().to_string();
        assert!(error.contains("a flow as text with its unit"), "{error}");
        assert!(ron::from_str::<AbsolutePressure>("\"-1 bar\"").is_err());
        assert!(ron::from_str::<Vacuum>("\"1 bar\"").is_err());
    }
}
