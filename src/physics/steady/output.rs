//! Turns a solved pump into named readings.

use crate::quantity::Dimension;

/// A reading that the steady model gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(usize)]
pub enum Output {
    /// Mean gauge pressure at the inlet, Pa; a vacuum is negative.
    InletPressure,
    /// Swing of the inlet pressure, peak to peak, Pa.
    InletSwing,
    /// Flow at the working outlet, m³/s.
    DeliveredFlow,
    /// Flow back by relief and bypass, share of what the pump moves.
    BypassShare,
    /// Mean gauge pressure at the pump outlet, Pa.
    OutletPressure,
    /// Pressure at the farthest outlet over that at the pump.
    NozzleShare,
    /// Swing of the outlet pressure, peak to peak, Pa.
    OutletSwing,
    /// Outlet ripple once a turn, share of the mean pressure.
    OncePerTurn,
    /// Outlet ripple N and 2N times a turn together, share of the mean pressure.
    RippleAtN,
    /// Speed of the pump's shaft, rev/s.
    PumpSpeed,
    /// Speed of the motor's shaft, rev/s.
    MotorSpeed,
    /// Motor current, A.
    MotorCurrent,
    /// Oil temperature, K.
    OilTemperature,
    /// Opening pressure of the relief, Pa gauge.
    ReliefOpening,
    /// NPSH available less acceleration head and NPSH required, m: below 0 vapour forms.
    VapourMargin,
    /// NPSH available less NPSH required, m: below 0 delivery is lost.
    DeliveryMargin,
    /// Acceleration head, m.
    AccelerationHead,
}

/// Number of outputs.
pub const OUTPUTS: usize = 17;

/// Everything the model gives for one pump in one state, in the order of [`Output`].
pub type Readings = [f64; OUTPUTS];

/// What is known of an output in general.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutputCard {
    /// Name in files.
    pub name: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// The unit it is shown in.
    pub unit: &'static str,
    /// What the model itself may be off by, as a share: measured against a time-domain pump (flows and pressures 3 %,
    /// swings 80 %), the others assumed.
    pub discrepancy: f64,
    /// A fault moves it by a factor, so that a baseline corrects it by a factor; otherwise by a difference.
    pub by_factor: bool,
}

const fn card(
    name: &'static str,
    dimension: Dimension,
    unit: &'static str,
    discrepancy: f64,
    by_factor: bool,
) -> OutputCard {
    OutputCard { name, dimension, unit, discrepancy, by_factor }
}

use Dimension as D;

/// Every output, in order.
pub const CARDS: [OutputCard; OUTPUTS] = [
    card("inlet_pressure", D::GaugePressure, "kPa", 0.03, false),
    card("inlet_swing", D::PressureDifference, "kPa", 0.8, true),
    card("delivered_flow", D::Flow, "L/min", 0.03, true),
    card("bypass_share", D::Ratio, "%", 0.03, false),
    card("outlet_pressure", D::GaugePressure, "bar", 0.03, true),
    card("nozzle_share", D::Ratio, "%", 0.03, true),
    card("outlet_swing", D::PressureDifference, "bar", 0.8, true),
    card("once_per_turn", D::Ratio, "%", 0.8, false),
    card("n_and_2n_per_turn", D::Ratio, "%", 0.8, true),
    card("pump_speed", D::Speed, "rpm", 0.002, true),
    card("motor_speed", D::Speed, "rpm", 0.001, true),
    card("motor_current", D::Current, "A", 0.02, true),
    card("oil_temperature", D::Temperature, "degC", 0.005, false),
    card("relief_opening", D::GaugePressure, "bar", 0.02, true),
    card("vapour_margin", D::Length, "m", 0.0, false),
    card("delivery_margin", D::Length, "m", 0.0, false),
    card("acceleration_head", D::Length, "m", 0.0, false),
];

impl Output {
    /// Every output, in order.
    pub const ALL: [Self; OUTPUTS] = [
        Self::InletPressure,
        Self::InletSwing,
        Self::DeliveredFlow,
        Self::BypassShare,
        Self::OutletPressure,
        Self::NozzleShare,
        Self::OutletSwing,
        Self::OncePerTurn,
        Self::RippleAtN,
        Self::PumpSpeed,
        Self::MotorSpeed,
        Self::MotorCurrent,
        Self::OilTemperature,
        Self::ReliefOpening,
        Self::VapourMargin,
        Self::DeliveryMargin,
        Self::AccelerationHead,
    ];

    /// What is known of it in general.
    pub const fn card(self) -> &'static OutputCard {
        &CARDS[self as usize]
    }

    /// The output of a name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|output| output.card().name == name)
    }
}

#[cfg(test)]
mod tests {
    use super::Output;

    #[test]
    fn every_output_stands_at_its_place() {
        for (at, output) in Output::ALL.into_iter().enumerate() {
            assert_eq!(output as usize, at);
            assert_eq!(Output::named(output.card().name), Some(output));
        }
    }
}
