//! Turns the parts of a pump into a table: name, what it measures, usual value, and how far off it may be when measured.

use crate::quantity::Dimension;

/// A number that describes a pump, as the steady model takes it; all in SI.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(usize)]
#[allow(missing_docs)] // Each is described in the table.
pub enum Part {
    Displacement,
    MotorSynchronous,
    MotorSlip,
    MotorPower,
    SpeedRatio,
    BeltSlip,
    Barometer,
    Level,
    LiquidTemperature,
    LiquidViscosity,
    InletBore,
    InletLength,
    InletRoughness,
    InletLosses,
    StrainerLosses,
    LineElasticity,
    NpshRequired,
    PumpSlip,
    Compression,
    Regrowth,
    OrificeArea,
    ReliefOpening,
    OutletCompliance,
    DamperVolume,
    DamperCharge,
    OilViscosity,
    OilSlope,
    RoomTemperature,
    OilResistance,
    FrictionTorque,
    FrictionOil,
    CurrentIdle,
    CurrentRated,
    Gas,
    Supply,
    InletValveLeak,
    OutletValveLeak,
    StrokeLost,
    DiaphragmLeak,
    OilShort,
    ValveWear,
    OutletLosses,
    BypassArea,
    OutsideArea,
    Friction,
    ExtraCurrent,
    Turning,
}

/// How far off a number may be, as one standard deviation, when it was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Width {
    /// Known, or no data of a pump.
    None,
    /// Share of the value.
    Share(f64),
    /// The same unit as the value.
    Plain(f64),
}

/// What is known of a part in general.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartCard {
    /// The part.
    pub part: Part,
    /// Name in files.
    pub name: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// Value in SI where the sheet says nothing and nothing else tells it.
    pub usual: f64,
    /// How far off it may be when measured.
    pub width: Width,
}

/// Number of parts.
pub const PARTS: usize = 47;

const fn card(part: Part, name: &'static str, dimension: Dimension, usual: f64, width: Width) -> PartCard {
    PartCard { part, name, dimension, usual, width }
}

use Dimension as D;
use Width::{None, Plain, Share};

/// Every part, in order. Values and widths are assumed, of usual size for a pump of 30 L/min at 70 bar, unless the comment
/// names a source.
pub const CARDS: [PartCard; PARTS] = [
    card(Part::Displacement, "displacement", D::Volume, 20.8e-6, Share(0.01)), // of one chamber and one turn
    card(Part::MotorSynchronous, "motor_synchronous", D::Speed, 25.0, None),
    card(Part::MotorSlip, "motor_slip", D::Ratio, 0.033, Share(0.15)), // at rated power
    card(Part::MotorPower, "motor_power", D::Power, 5500.0, None),
    card(Part::SpeedRatio, "speed_ratio", D::Ratio, 0.3454, Share(0.01)), // pump over motor
    card(Part::BeltSlip, "belt_slip", D::Ratio, 0.01, Plain(0.004)),      // 0.5 to 2 % is sound (from memory)
    card(Part::Barometer, "barometer", D::AbsolutePressure, 101_325.0, Share(0.01)),
    card(Part::Level, "level", D::Length, -1.0, Plain(0.1)), // of the supply above the pump
    card(Part::LiquidTemperature, "liquid_temperature", D::Temperature, 293.15, Plain(3.0)),
    card(Part::LiquidViscosity, "liquid_viscosity", D::Number, 1.0, None), // over that of the liquid on the sheet
    card(Part::InletBore, "inlet_bore", D::Length, 0.038, Share(0.01)),
    card(Part::InletLength, "inlet_length", D::Length, 3.0, Share(0.1)),
    card(Part::InletRoughness, "inlet_roughness", D::Length, 10e-6, None),
    card(Part::InletLosses, "inlet_losses", D::Number, 2.0, Share(0.3)),
    card(Part::StrainerLosses, "strainer_losses", D::Number, 8.0, Share(0.3)),
    card(Part::LineElasticity, "line_elasticity", D::Number, 1.5, Share(0.15)), // K of the acceleration head (from memory)
    card(Part::NpshRequired, "npsh_required", D::Length, 1.0, Share(0.2)),      // at the design flow
    card(Part::PumpSlip, "pump_slip", D::Ratio, 0.0165, Share(0.4)), // of the design flow, at the design pressure
    card(Part::Compression, "compression", D::Ratio, 0.014, Share(0.3)), // of the stroke, at the design pressure
    card(Part::Regrowth, "regrowth", D::Number, 0.6, Share(0.5)),    // about 0.7·c/d in a time-domain model
    card(Part::OrificeArea, "orifice_area", D::Area, 4.22e-6, Share(0.02)), // coefficient times area
    card(Part::ReliefOpening, "relief_opening", D::GaugePressure, 8.2e6, Share(0.03)), // ASME VIII (from memory)
    card(Part::OutletCompliance, "outlet_compliance", D::Number, 1e-12, Share(0.4)), // m³/Pa
    card(Part::DamperVolume, "damper_volume", D::Volume, 0.0, Share(0.15)),
    card(Part::DamperCharge, "damper_charge", D::GaugePressure, 4.2e6, Share(0.12)),
    card(Part::OilViscosity, "oil_viscosity", D::ViscosityKinematic, 68e-6, Share(0.1)), // at 40 °C; ISO 3448: ± 10 %
    card(Part::OilSlope, "oil_slope", D::Number, 3.70, None), // B of ASTM D341; mineral oil of index 95
    card(Part::RoomTemperature, "room_temperature", D::Temperature, 293.15, Plain(4.0)),
    card(Part::OilResistance, "oil_resistance", D::Number, 0.11, Share(0.25)), // K/W from oil to room
    card(Part::FrictionTorque, "friction_torque", D::Torque, 4.0, Share(0.2)),
    card(Part::FrictionOil, "friction_oil", D::Power, 110.0, Share(0.2)), // at 50 mm²/s and the design speed
    card(Part::CurrentIdle, "current_idle", D::Current, 5.0, Share(0.03)),
    card(Part::CurrentRated, "current_rated", D::Current, 11.0, Share(0.03)),
    // From here on nothing of a healthy pump: what conditions move.
    card(Part::Gas, "gas", D::Ratio, 0.0, None), // free gas, share of the stream at inlet pressure
    card(Part::Supply, "supply", D::Ratio, 1.0, None), // most that can come in, over what the pump sweeps; 1 = no limit
    card(Part::InletValveLeak, "inlet_valve_leak", D::Ratio, 0.0, None), // share of one chamber
    card(Part::OutletValveLeak, "outlet_valve_leak", D::Ratio, 0.0, None), // share of one chamber
    card(Part::StrokeLost, "stroke_lost", D::Ratio, 0.0, None), // share of one chamber
    card(Part::DiaphragmLeak, "diaphragm_leak", D::Ratio, 0.0, None), // share of one chamber
    card(Part::OilShort, "oil_short", D::Ratio, 0.0, None), // share of the stroke lost by the middle chamber
    card(Part::ValveWear, "valve_wear", D::Ratio, 0.0, None), // leak of all valves, share of the design flow
    card(Part::OutletLosses, "outlet_losses", D::Number, 0.0, None), // over the design pressure, at the design flow
    card(Part::BypassArea, "bypass_area", D::Number, 0.0, None), // open way back to the tank, over the orifice
    card(Part::OutsideArea, "outside_area", D::Number, 0.0, None), // leak to the outside, over the orifice
    card(Part::Friction, "friction", D::Number, 1.0, None), // over the usual friction torque
    card(Part::ExtraCurrent, "extra_current", D::Number, 1.0, None), // over the current that the load asks for
    card(Part::Turning, "turning", D::Ratio, 1.0, None), // 0: the shaft does not turn
];

impl Part {
    /// What is known of it in general.
    pub const fn card(self) -> &'static PartCard {
        &CARDS[self as usize]
    }

    /// The part of a name.
    pub fn named(name: &str) -> Option<Self> {
        CARDS.iter().find(|card| card.name == name).map(|card| card.part)
    }
}

#[cfg(test)]
mod tests {
    use super::{CARDS, Part};

    #[test]
    fn every_part_stands_at_its_place_under_a_name_of_its_own() {
        for (at, card) in CARDS.iter().enumerate() {
            assert_eq!(card.part as usize, at, "{}", card.name);
            assert_eq!(Part::named(card.name), Some(card.part));
        }
    }
}
