//! Turns what is known of one installed pump into the pump of the steady model, how far off each number may be, and what
//! cannot be or is badly designed.
//!
//! Every field may be unknown. A number that nobody measured may be four times as far off as a measured one; what nobody
//! knows takes a usual value and may be eight times as far off.

mod build;
mod design;
mod judge;
mod rebuild;
#[cfg(test)]
mod tests;

pub use build::{Built, build};
pub use design::{Figures, figures};
pub use judge::{Remark, impossible, warnings};
pub use rebuild::{END_PLAY, Rebuild, rebuild};

use super::steady::{Part, Width};
use std::collections::BTreeMap;

/// How a number of a sheet is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Measured on this pump.
    Measured,
    /// Read off a plate, a scale or a paper.
    ReadOff,
    /// Guessed.
    Guessed,
    /// Not known; a usual value stands for it.
    Unknown,
}

/// A number of a sheet, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Given {
    /// The number.
    pub value: f64,
    /// How it is known.
    pub known: Known,
}

/// What is known of one installed pump.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PumpSheet {
    /// Chambers.
    pub chambers: Option<u32>,
    /// A belt between motor and pump; `None` if not said.
    pub belt: Option<bool>,
    /// A damper at the outlet; `None` if not said.
    pub damper: Option<bool>,
    /// A strainer in the inlet; `None` if not said.
    pub strainer: Option<bool>,
    /// The numbers given.
    pub given: BTreeMap<Field, Given>,
}

macro_rules! fields {
    ($($field:ident $name:literal $part:expr, $doc:literal;)*) => {
        /// A number on a sheet; the name in a file is its snake-case form.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Field { $(#[doc = $doc] $field,)* }

        impl Field {
            /// Every field with its name in files and the part of the model that it settles, if it is one alone.
            pub const ALL: &[(Self, &'static str, Option<Part>)] = &[$((Self::$field, $name, $part),)*];
        }
    };
}

fields! {
    DisplacementPerTurn "displacement_per_turn" Some(Part::Displacement), "Liquid moved by all chambers in one turn, m³.";
    PumpSpeed "pump_speed" Some(Part::SpeedRatio), "Speed of the pump's shaft at work, rev/s.";
    MotorSpeed "motor_speed" Some(Part::MotorSlip), "Speed on the motor's plate, rev/s.";
    MotorPower "motor_power" None, "Power on the motor's plate, W.";
    MotorCurrentPlate "motor_current_plate" Some(Part::CurrentRated), "Current on the motor's plate, A.";
    MotorCurrentIdle "motor_current_idle" Some(Part::CurrentIdle), "Current with the belt off, A.";
    SupplyVoltage "supply_voltage" None, "Voltage between phases, V.";
    MotorSheave "motor_sheave" None, "Pitch diameter, m.";
    PumpSheave "pump_sheave" None, "Pitch diameter, m.";
    InletBore "inlet_bore" Some(Part::InletBore), "Inner diameter of the inlet line, m.";
    InletLength "inlet_length" Some(Part::InletLength), "Length of the inlet line, m.";
    InletRoughness "inlet_roughness" None, "Roughness of the inlet line, m.";
    InletLosses "inlet_losses" Some(Part::InletLosses), "Sum of loss coefficients without the strainer.";
    StrainerLosses "strainer_losses" Some(Part::StrainerLosses), "Loss coefficient of the clean strainer.";
    LevelOverInlet "level_over_inlet" Some(Part::Level), "Height of the supply over the inlet, m; a lift is negative.";
    NpshRequired "npsh_required" Some(Part::NpshRequired), "At the working flow, m.";
    LiquidTemperature "liquid_temperature" Some(Part::LiquidTemperature), "K.";
    LiquidDensity "liquid_density" None, "kg/m³; water if not given.";
    LiquidViscosity "liquid_viscosity" None, "Pa s; water if not given.";
    LiquidVapourPressure "liquid_vapour_pressure" None, "Pa absolute; water if not given.";
    Altitude "altitude" Some(Part::Barometer), "m above the sea.";
    Barometer "barometer" Some(Part::Barometer), "Local air pressure, Pa; goes before the altitude.";
    WorkingPressure "working_pressure" Some(Part::OrificeArea), "At the pump outlet, Pa gauge.";
    ReliefSetting "relief_setting" Some(Part::ReliefOpening), "Pressure at which the relief opens, Pa gauge.";
    OrificeBore "orifice_bore" Some(Part::OrificeArea), "Bore of all nozzles together, m.";
    OrificeCoefficient "orifice_coefficient" None, "Discharge coefficient.";
    HoseVolume "hose_volume" Some(Part::OutletCompliance), "Volume of hose behind the pump, m³.";
    DamperVolume "damper_volume" Some(Part::DamperVolume), "Gas volume of the damper, m³.";
    DamperCharge "damper_charge" Some(Part::DamperCharge), "Gas charge of the damper, Pa gauge.";
    OilGrade "oil_grade" Some(Part::OilViscosity), "Viscosity of the oil at 40 °C, m²/s.";
    OilFill "oil_fill" None, "m³.";
    RoomTemperature "room_temperature" Some(Part::RoomTemperature), "K.";
    InletGaugeSpan "inlet_gauge_span" None, "Whole scale of the inlet gauge, Pa.";
    InletGaugeClass "inlet_gauge_class" None, "Share of the span.";
    OutletGaugeSpan "outlet_gauge_span" None, "Whole scale of the outlet gauge, Pa.";
    OutletGaugeClass "outlet_gauge_class" None, "Share of the span.";
    EndPlay "end_play" None, "End play of the bearings that the maker wants, m.";
    AdjusterPitch "adjuster_pitch" None, "Thread pitch of the bearing adjuster, m.";
    BoltTorque "bolt_torque" None, "Torque of the cover bolts that the maker wants, N m.";
    BoltSize "bolt_size" None, "Nominal diameter of the cover bolts, m.";
    BoltPitch "bolt_pitch" None, "Thread pitch of the cover bolts, m.";
    BoltProof "bolt_proof" None, "Proof stress of the cover bolts, Pa.";
    ShaftDistance "shaft_distance" None, "Between motor and pump shaft, m.";
    BearingSeat "bearing_seat" None, "Diameter of the bearing's seat, m.";
    BearingInterference "bearing_interference" None, "By which the seat is larger than the bearing, m.";
}

impl Field {
    /// Name in files.
    pub fn name(self) -> &'static str {
        Self::ALL[self as usize].1
    }

    /// The field of a name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.iter().find(|field| field.1 == name).map(|field| field.0)
    }
}

impl Known {
    /// How much farther off a number may be than a measured one.
    pub fn wider(self) -> f64 {
        match self {
            Self::Measured => 1.0,
            Self::ReadOff | Self::Guessed => 4.0,
            Self::Unknown => 8.0,
        }
    }
}

/// No number of a pump in SI comes near it; arithmetic with larger ones would overflow.
const LARGEST: f64 = 1e12;

impl Given {
    /// False for what is no number, or larger than anything of a pump in SI.
    fn is_possible(self) -> bool {
        self.value.abs() <= LARGEST
    }
}

impl PumpSheet {
    /// A number given; none where it could be that of no pump, which [`impossible`] tells.
    pub fn get(&self, field: Field) -> Option<f64> {
        self.given.get(&field).filter(|given| given.is_possible()).map(|given| given.value)
    }

    /// How a number is known.
    pub fn known(&self, field: Field) -> Known {
        self.given.get(&field).map_or(Known::Unknown, |given| given.known)
    }

    /// The sheet with a number.
    #[must_use]
    pub fn with(mut self, field: Field, value: f64, known: Known) -> Self {
        self.given.insert(field, Given { value, known });
        self
    }
}

/// No share of a value is off by more than this, as one standard deviation.
const MOST_OFF: f64 = 0.5;

/// One standard deviation of a part's value, in its unit.
fn off_by(part: Part, value: f64, known: Known) -> f64 {
    match part.card().width {
        Width::None => 0.0,
        Width::Share(share) => value.abs() * (share * known.wider()).min(MOST_OFF),
        Width::Plain(plain) => plain * known.wider(),
    }
}
