//! What is measured, as named in a file, turned into words for a prompt and the units that may be typed.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::units::{Unit, units_of};

/// What a number measures. The snake-case name is the one written in a file.
///
/// Inside, every value is held in the unit named at its variant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Dimension {
    /// Pa above the local atmosphere; a vacuum is negative.
    GaugePressure,
    /// Pa above nothing; never negative.
    AbsolutePressure,
    /// Pa between two places.
    PressureDifference,
    /// Volume flow, m³/s.
    Flow,
    /// How often something happens, Hz.
    Frequency,
    /// Rotation, revolutions per second (not radians).
    Speed,
    /// m.
    Length,
    /// m².
    Area,
    /// m³.
    Volume,
    /// K above absolute zero; never negative.
    Temperature,
    /// K between two temperatures.
    TemperatureDifference,
    /// s.
    Time,
    /// A.
    Current,
    /// V.
    Voltage,
    /// Electrical resistance, ohm.
    Resistance,
    /// W.
    Power,
    /// J.
    Energy,
    /// N m.
    Torque,
    /// N.
    Force,
    /// kg.
    Mass,
    /// kg/m³.
    Density,
    /// m²/s.
    ViscosityKinematic,
    /// Pa s.
    ViscosityDynamic,
    /// A share of one: 50 % is 0.5.
    Ratio,
    /// m/s.
    Velocity,
    /// m/s².
    Acceleration,
    /// rad.
    Angle,
    /// N/m.
    Stiffness,
    /// A plain number of things.
    Count,
    /// A plain number that is neither a share nor counted: a coefficient, a Reynolds number.
    Number,
    /// 1/Pa: the share of volume lost per pressure.
    Compressibility,
    /// 1/K: the share of length gained per temperature.
    Expansion,
}

impl Dimension {
    /// Every dimension; where a unit belongs to several, the first of them is the one it is called by.
    pub const ALL: [Self; 32] = [
        Self::GaugePressure,
        Self::AbsolutePressure,
        Self::PressureDifference,
        Self::Flow,
        Self::Frequency,
        Self::Speed,
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Time,
        Self::Current,
        Self::Voltage,
        Self::Resistance,
        Self::Power,
        Self::Energy,
        Self::Torque,
        Self::Mass,
        Self::Force,
        Self::Density,
        Self::ViscosityKinematic,
        Self::ViscosityDynamic,
        Self::Ratio,
        Self::Velocity,
        Self::Acceleration,
        Self::Angle,
        Self::Stiffness,
        Self::Count,
        Self::Number,
        Self::Compressibility,
        Self::Expansion,
    ];

    /// The words for it in a sentence, with their article: "a flow", "an absolute pressure".
    ///
    /// A gauge pressure is plain "a pressure": that is what an unmarked pressure means at the pump.
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::GaugePressure => "a pressure",
            Self::AbsolutePressure => "an absolute pressure",
            Self::PressureDifference => "a pressure difference",
            Self::Flow => "a flow",
            Self::Frequency => "a frequency",
            Self::Speed => "a speed",
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Volume => "a volume",
            Self::Temperature => "a temperature",
            Self::TemperatureDifference => "a temperature difference",
            Self::Time => "a time",
            Self::Current => "a current",
            Self::Voltage => "a voltage",
            Self::Resistance => "a resistance",
            Self::Power => "a power",
            Self::Energy => "an energy",
            Self::Torque => "a torque",
            Self::Force => "a force",
            Self::Mass => "a mass",
            Self::Density => "a density",
            Self::ViscosityKinematic => "a kinematic viscosity",
            Self::ViscosityDynamic => "a dynamic viscosity",
            Self::Ratio => "a ratio",
            Self::Velocity => "a velocity",
            Self::Acceleration => "an acceleration",
            Self::Angle => "an angle",
            Self::Stiffness => "a stiffness",
            Self::Count => "a count",
            Self::Number => "a plain number",
            Self::Compressibility => "a compressibility",
            Self::Expansion => "a heat expansion",
        }
    }

    /// The units that may be typed for it, the most usual first.
    pub fn units(self) -> &'static [Unit] {
        units_of(self)
    }

    /// Up to three usual units as a phrase: "bar, kPa or psi". Empty for a count and a plain number.
    pub fn usual_units(self) -> String {
        let symbols: Vec<&str> = self.symbols().take(3).collect();
        match symbols.split_last() {
            None => String::new(),
            Some((only, [])) => (*only).to_owned(),
            Some((last, others)) => format!("{} or {last}", others.join(", ")),
        }
    }

    /// All allowed unit symbols, parted by commas. Empty for a count and a plain number.
    pub fn allowed_units(self) -> String {
        self.symbols().collect::<Vec<_>>().join(", ")
    }

    /// Whether it is one of the three pressures.
    pub const fn is_pressure(self) -> bool {
        matches!(self, Self::GaugePressure | Self::AbsolutePressure | Self::PressureDifference)
    }

    /// Whether values below zero cannot exist. Only where nature sets the zero: a flow or a mass may be typed
    /// with a minus, as a loss or a reverse.
    pub const fn starts_at_zero(self) -> bool {
        matches!(self, Self::AbsolutePressure | Self::Temperature)
    }

    fn symbols(self) -> impl Iterator<Item = &'static str> {
        self.units().iter().map(Unit::symbol).filter(|symbol| !symbol.is_empty())
    }
}

impl fmt::Display for Dimension {
    /// The words without their article.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let phrase = self.phrase();
        f.write_str(phrase.split_once(' ').map_or(phrase, |(_, words)| words))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::Dimension;

    #[test]
    fn usual_units_read_as_a_phrase() {
        assert_eq!(Dimension::GaugePressure.usual_units(), "bar, kPa or psi");
        assert_eq!(Dimension::Angle.usual_units(), "°, turn or rad");
        assert_eq!(Dimension::Count.usual_units(), "");
    }

    #[test]
    fn a_supervisor_can_read_the_names() {
        let text = ron::to_string(&Dimension::ViscosityKinematic).unwrap();
        assert_eq!(text, "viscosity_kinematic");
        let back: Dimension = ron::from_str("gauge_pressure").unwrap();
        assert_eq!(back, Dimension::GaugePressure);
    }

    #[test]
    fn every_dimension_is_listed_once_and_named_by_its_words() {
        for (place, dimension) in Dimension::ALL.iter().enumerate() {
            assert_eq!(Dimension::ALL.iter().position(|d| d == dimension), Some(place));
            assert!(dimension.phrase().ends_with(&dimension.to_string()));
        }
        assert_eq!(Dimension::AbsolutePressure.to_string(), "absolute pressure");
    }
}
