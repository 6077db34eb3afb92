//! A quantity, turned into a type of its own for arithmetic, so that a gauge and an absolute pressure never mix.
//!
//! Each type holds the unit named at its [`Dimension`], is always finite, is ordered, and is text with a unit
//! in a file. What needs the barometer asks for it.

use std::cmp::Ordering;
use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::dimension::Dimension;
use super::serial::{QuantityVisitor, exact_text};
use super::value::{Quantity, QuantityError};

/// What all typed quantities share beside their constructor: order, file text and screen text.
macro_rules! shared {
    ($name:ident, $dimension:expr) => {
        // Lawful, and total, because NaN cannot be inside.
        impl Eq for $name {}

        impl Ord for $name {
            fn cmp(&self, other: &Self) -> Ordering {
                self.0.total_cmp(&other.0)
            }
        }

        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
                Some(self.cmp(other))
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(&exact_text(Quantity::from(*self)))
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                // Any, not text: a bare number then gets the visitor's own words about the missing unit.
                deserializer.deserialize_any(QuantityVisitor::new($dimension))
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(&Quantity::from(*self), f)
            }
        }
    };
}

/// A newtype over the value held at its dimension.
macro_rules! typed {
    ($(#[$doc:meta])* $name:ident, $dimension:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $name(f64);

        impl $name {
            /// What it measures.
            pub const DIMENSION: Dimension = $dimension;

            /// From the value in the unit named above; refuses what [`Quantity::new`] refuses.
            pub fn new(si: f64) -> Result<Self, QuantityError> {
                Quantity::new(Self::DIMENSION, si)?.try_into()
            }

            /// From a value in a named unit, as [`Quantity::of`].
            pub fn of(value: f64, unit: &str) -> Result<Self, QuantityError> {
                Quantity::of(Self::DIMENSION, value, unit)?.try_into()
            }

            /// The value in the unit named above.
            pub const fn si(self) -> f64 {
                self.0
            }

            /// The value in a named unit, as [`Quantity::value_in`].
            pub fn value_in(self, unit: &str) -> Result<f64, QuantityError> {
                Quantity::from(self).value_in(unit)
            }
        }

        impl TryFrom<Quantity> for $name {
            type Error = QuantityError;

            fn try_from(quantity: Quantity) -> Result<Self, QuantityError> {
                quantity.checked_as($dimension).map(|quantity| Self(quantity.si()))
            }
        }

        impl From<$name> for Quantity {
            fn from(typed: $name) -> Self {
                Self::known_good($dimension, typed.0)
            }
        }

        shared!($name, $dimension);
    };
}

typed!(
    /// Pa above the local atmosphere; a vacuum is negative.
    GaugePressure, Dimension::GaugePressure
);
typed!(
    /// Pa above nothing; never negative.
    AbsolutePressure, Dimension::AbsolutePressure
);
typed!(
    /// Pa between two places.
    PressureDifference, Dimension::PressureDifference
);
typed!(
    /// K above absolute zero; never negative.
    Temperature, Dimension::Temperature
);
typed!(
    /// K between two temperatures.
    TemperatureDifference, Dimension::TemperatureDifference
);
typed!(
    /// Volume flow, m³/s.
    Flow, Dimension::Flow
);
typed!(
    /// Rotation, revolutions per second.
    Speed, Dimension::Speed
);
typed!(
    /// m.
    Length, Dimension::Length
);
typed!(
    /// m².
    Area, Dimension::Area
);
typed!(
    /// m³.
    Volume, Dimension::Volume
);
typed!(
    /// s.
    Time, Dimension::Time
);
typed!(
    /// A.
    Current, Dimension::Current
);
typed!(
    /// W.
    Power, Dimension::Power
);
typed!(
    /// N m.
    Torque, Dimension::Torque
);
typed!(
    /// N.
    Force, Dimension::Force
);
typed!(
    /// kg/m³.
    Density, Dimension::Density
);
typed!(
    /// m²/s.
    KinematicViscosity, Dimension::ViscosityKinematic
);
typed!(
    /// Pa s.
    DynamicViscosity, Dimension::ViscosityDynamic
);
typed!(
    /// A share of one.
    Ratio, Dimension::Ratio
);
typed!(
    /// Hz.
    Frequency, Dimension::Frequency
);
typed!(
    /// kg.
    Mass, Dimension::Mass
);
typed!(
    /// m/s.
    Velocity, Dimension::Velocity
);

/// Pa *below* the local atmosphere; never negative. As a [`Quantity`] it is a gauge pressure with its sign turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vacuum(f64);

shared!(Vacuum, Dimension::GaugePressure);

impl Vacuum {
    /// From the depth in Pa; a negative one is refused with [`QuantityError::NotAVacuum`].
    pub fn new(depth_pa: f64) -> Result<Self, QuantityError> {
        Quantity::new(Dimension::GaugePressure, -depth_pa)?.try_into()
    }

    /// From the depth in a named unit: `Vacuum::of(9.0, "inHg")`.
    pub fn of(depth: f64, unit: &str) -> Result<Self, QuantityError> {
        Quantity::of(Dimension::GaugePressure, -depth, unit)?.try_into()
    }

    /// The depth in Pa.
    pub const fn si(self) -> f64 {
        self.0
    }

    /// The depth in a named unit, as [`Quantity::value_in`].
    pub fn value_in(self, unit: &str) -> Result<f64, QuantityError> {
        Ok(-Quantity::from(self).value_in(unit)? + 0.0)
    }

    /// The same as a gauge pressure.
    pub fn to_gauge(self) -> GaugePressure {
        // Adding zero turns minus zero into zero.
        GaugePressure(-self.0 + 0.0)
    }

    /// The pressure left, for a barometer reading; an error when the vacuum is deeper than the barometer.
    pub fn to_absolute(self, barometer: AbsolutePressure) -> Result<AbsolutePressure, QuantityError> {
        self.to_gauge().to_absolute(barometer)
    }
}

impl TryFrom<Quantity> for Vacuum {
    type Error = QuantityError;

    fn try_from(quantity: Quantity) -> Result<Self, QuantityError> {
        let gauge = GaugePressure::try_from(quantity)?;
        gauge.to_vacuum().ok_or(QuantityError::NotAVacuum)
    }
}

impl From<Vacuum> for Quantity {
    fn from(vacuum: Vacuum) -> Self {
        vacuum.to_gauge().into()
    }
}

impl GaugePressure {
    /// Above nothing, for a barometer reading; an error when that would be below zero.
    pub fn to_absolute(self, barometer: AbsolutePressure) -> Result<AbsolutePressure, QuantityError> {
        AbsolutePressure::new(self.0 + barometer.0)
    }

    /// The depth below the atmosphere; `None` above it.
    pub fn to_vacuum(self) -> Option<Vacuum> {
        (self.0 <= 0.0).then(|| Vacuum(-self.0 + 0.0))
    }

    /// How far this reading is above another taken against the same atmosphere.
    pub fn above(self, other: Self) -> Result<PressureDifference, QuantityError> {
        PressureDifference::new(self.0 - other.0)
    }

    /// This pressure, raised by a difference.
    pub fn plus(self, rise: PressureDifference) -> Result<Self, QuantityError> {
        Self::new(self.0 + rise.0)
    }
}

impl AbsolutePressure {
    /// The standard atmosphere, 101 325 Pa exactly (NIST SP 811, Appendix B.8).
    pub const STANDARD_ATMOSPHERE: Self = Self(101_325.0);

    /// What a gauge shows, for a barometer reading.
    pub fn to_gauge(self, barometer: Self) -> GaugePressure {
        // Two finite values that are not negative have a finite difference.
        GaugePressure(self.0 - barometer.0)
    }

    /// How far this pressure is above another.
    pub fn above(self, other: Self) -> PressureDifference {
        PressureDifference(self.0 - other.0)
    }
}

impl Temperature {
    /// How far this temperature is above another.
    pub fn above(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }

    /// This temperature, raised by a difference; an error below absolute zero.
    pub fn plus(self, rise: TemperatureDifference) -> Result<Self, QuantityError> {
        Self::new(self.0 + rise.0)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{AbsolutePressure, Flow, GaugePressure, Quantity, Speed, Temperature, Vacuum};
    use crate::quantity::{Dimension, QuantityError};

    #[test]
    fn the_barometer_is_asked_for() {
        let barometer = AbsolutePressure::of(95.0, "kPa").unwrap();
        let suction = Vacuum::of(30.0, "kPa").unwrap();
        let absolute = suction.to_absolute(barometer).unwrap();
        assert!((absolute.si() - 65_000.0).abs() < 1e-6);
        assert_eq!(absolute.to_gauge(barometer), suction.to_gauge());
        assert_eq!(
            Vacuum::of(96.0, "kPa").unwrap().to_absolute(barometer),
            Err(QuantityError::BelowZero(Dimension::AbsolutePressure))
        );
    }

    #[test]
    fn a_vacuum_is_a_gauge_pressure_turned_round() {
        let vacuum = Vacuum::of(9.0, "inHg").unwrap();
        assert!((vacuum.value_in("inHg").unwrap() - 9.0).abs() < 1e-12);
        assert!(Quantity::from(vacuum).si() < 0.0);
        assert_eq!(vacuum.to_gauge().to_vacuum(), Some(vacuum));
        assert_eq!(Vacuum::new(-1.0), Err(QuantityError::NotAVacuum));
        assert_eq!(GaugePressure::of(1.0, "bar").unwrap().to_vacuum(), None);
        assert_eq!(Vacuum::new(0.0).unwrap().to_gauge(), GaugePressure::new(0.0).unwrap());
        assert_eq!(vacuum.to_string(), "30.5 kPa vacuum");
    }

    #[test]
    fn differences_are_types_of_their_own() {
        let hot = Temperature::of(60.0, "°C").unwrap();
        let cool = Temperature::of(86.0, "°F").unwrap();
        let rise = hot.above(cool);
        assert!((rise.si() - 30.0).abs() < 1e-9);
        assert!((cool.plus(rise).unwrap().si() - hot.si()).abs() < 1e-9);
        let high = GaugePressure::of(3.0, "bar").unwrap();
        let low = GaugePressure::of(1.0, "bar").unwrap();
        assert_eq!(low.plus(high.above(low).unwrap()).unwrap(), high);
        assert!(low < high);
    }

    #[test]
    fn the_dimension_is_checked() {
        let speed = Quantity::from(Speed::of(1450.0, "rpm").unwrap());
        assert_eq!(Flow::try_from(speed).unwrap_err().to_string(), "this is a speed; a flow is asked for");
        assert_eq!(Speed::try_from(speed).unwrap().value_in("rpm").unwrap().round().to_string(), "1450");
        assert!(Flow::new(f64::NAN).is_err());
    }
}
