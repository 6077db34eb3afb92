//! A number and its dimension, turned into a quantity that is always finite and never below absolute zero.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::dimension::Dimension;
use super::serial::{exact_text, parse_strict};
use super::units::{Unit, find_unit};

/// A measured or stated value in the unit named at its [`Dimension`].
///
/// Not a number, infinity, minus zero, an absolute pressure or a temperature below zero cannot exist in it.
/// In a file it is a pair, as text alone does not tell a gauge from an absolute pressure:
/// `(dimension: gauge_pressure, value: "12 inHg vacuum")`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "QuantityText", into = "QuantityText")]
pub struct Quantity {
    dimension: Dimension,
    si: f64,
}

// Lawful because NaN cannot be inside.
impl Eq for Quantity {}

/// Why a number cannot be a quantity, or a quantity not be what is asked for.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum QuantityError {
    /// Not a number, or beyond what can be computed with.
    #[error("{} must be a finite number", .0.phrase())]
    NotFinite(Dimension),
    /// Absolute pressure or temperature below absolute zero.
    #[error("{} cannot be below zero", .0.phrase())]
    BelowZero(Dimension),
    /// A gauge pressure above the atmosphere where a vacuum is asked for.
    #[error("a vacuum cannot be above the atmosphere")]
    NotAVacuum,
    /// One dimension where another is asked for.
    #[error("this is {}; {} is asked for", .is.phrase(), .asked.phrase())]
    WrongDimension {
        /// What the quantity measures.
        is: Dimension,
        /// What was asked for.
        asked: Dimension,
    },
    /// No such unit in this dimension.
    #[error("`{unit}` is no unit of {dimension}; allowed: {}", .dimension.allowed_units())]
    UnknownUnit {
        /// As written.
        unit: String,
        /// What was asked for.
        dimension: Dimension,
    },
    /// A range whose low end lies above its high end.
    #[error("the low end of the range lies above its high end")]
    EmptyRange,
}

impl Quantity {
    /// A quantity from its value in the unit named at `dimension`.
    ///
    /// # Errors
    /// [`QuantityError::NotFinite`] or [`QuantityError::BelowZero`].
    pub fn new(dimension: Dimension, si: f64) -> Result<Self, QuantityError> {
        if !si.is_finite() {
            return Err(QuantityError::NotFinite(dimension));
        }
        if dimension.starts_at_zero() && si < 0.0 {
            return Err(QuantityError::BelowZero(dimension));
        }
        // Adding zero turns minus zero into zero.
        Ok(Self { dimension, si: si + 0.0 })
    }

    /// From a typed quantity, whose constructor has already checked the value.
    pub(super) const fn known_good(dimension: Dimension, si: f64) -> Self {
        Self { dimension, si }
    }

    /// A quantity from a value in `unit`, which must come from the same dimension's table.
    ///
    /// # Errors
    /// As [`Quantity::new`].
    pub fn from_unit(dimension: Dimension, value: f64, unit: &Unit) -> Result<Self, QuantityError> {
        Self::new(dimension, unit.to_si(value))
    }

    /// A quantity from a value and the name of its unit, without `vac`, `gauge` or `abs`.
    ///
    /// # Errors
    /// As [`Quantity::new`], and [`QuantityError::UnknownUnit`].
    pub fn of(dimension: Dimension, value: f64, unit: &str) -> Result<Self, QuantityError> {
        Self::from_unit(dimension, value, known_unit(dimension, unit)?)
    }

    /// What it measures.
    pub const fn dimension(self) -> Dimension {
        self.dimension
    }

    /// The value in the unit named at its [`Dimension`].
    pub const fn si(self) -> f64 {
        self.si
    }

    /// The value in another unit, by name.
    ///
    /// # Errors
    /// [`QuantityError::UnknownUnit`]; [`QuantityError::NotFinite`] where the number is too large for the unit.
    pub fn value_in(self, unit: &str) -> Result<f64, QuantityError> {
        let value = known_unit(self.dimension, unit)?.from_si(self.si);
        if value.is_finite() { Ok(value) } else { Err(QuantityError::NotFinite(self.dimension)) }
    }

    /// The same quantity, if it measures what is asked for.
    ///
    /// # Errors
    /// [`QuantityError::WrongDimension`].
    pub fn checked_as(self, asked: Dimension) -> Result<Self, QuantityError> {
        if self.dimension == asked {
            Ok(self)
        } else {
            Err(QuantityError::WrongDimension { is: self.dimension, asked })
        }
    }
}

fn known_unit(dimension: Dimension, unit: &str) -> Result<&'static Unit, QuantityError> {
    find_unit(dimension, unit).ok_or_else(|| QuantityError::UnknownUnit { unit: unit.to_owned(), dimension })
}

/// The shape of a quantity in a file.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Quantity")]
struct QuantityText {
    dimension: Dimension,
    value: String,
}

impl TryFrom<QuantityText> for Quantity {
    type Error = String;

    fn try_from(text: QuantityText) -> Result<Self, String> {
        parse_strict(&text.value, text.dimension).map_err(|error| error.to_string())
    }
}

impl From<Quantity> for QuantityText {
    fn from(quantity: Quantity) -> Self {
        Self { dimension: quantity.dimension, value: exact_text(quantity) }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{Quantity, QuantityError};
    use crate::quantity::Dimension;

    #[test]
    fn what_cannot_be_is_refused() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(Quantity::new(Dimension::Flow, bad), Err(QuantityError::NotFinite(Dimension::Flow)));
        }
        assert_eq!(
            Quantity::of(Dimension::Temperature, -300.0, "°C"),
            Err(QuantityError::BelowZero(Dimension::Temperature))
        );
        assert!(Quantity::new(Dimension::AbsolutePressure, -1.0).is_err());
        assert!(Quantity::new(Dimension::GaugePressure, -1.0).is_ok());
        assert!(Quantity::new(Dimension::Flow, -0.0).unwrap().si().is_sign_positive());
    }

    #[test]
    fn units_are_looked_up_by_name() {
        let speed = Quantity::of(Dimension::Speed, 1450.0, "rpm").unwrap();
        assert!((speed.si() - 24.166_666_666_666_668).abs() < 1e-12);
        assert!((speed.value_in("rpm").unwrap() - 1450.0).abs() < 1e-9);
        let error = speed.value_in("bar").unwrap_err().to_string();
        assert_eq!(error, "`bar` is no unit of speed; allowed: rpm, rev/s");
    }

    #[test]
    fn a_file_holds_dimension_and_text() {
        let vacuum = Quantity::of(Dimension::GaugePressure, -12.0, "inHg").unwrap();
        let text = ron::to_string(&vacuum).unwrap();
        assert_eq!(text, r#"(dimension:gauge_pressure,value:"12 inHg vacuum")"#);
        assert_eq!(ron::from_str::<Quantity>(&text).unwrap(), vacuum);
        let error = ron::from_str::<Quantity>(r#"(dimension:flow,value:"3 barr")"#).unwrap_err();
        assert!(error.to_string().contains("m3/h"), "{error}");
    }
}
