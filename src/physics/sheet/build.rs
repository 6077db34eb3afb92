//! Turns a sheet into the pump of the model, filling in what is not known, and the width of every part.

use super::{Field, Known, PumpSheet, off_by};
use crate::physics::law::OutOfRange;
use crate::physics::laws::atmosphere::barometer_at_altitude;
use crate::physics::laws::drive::synchronous_speed;
use crate::physics::laws::oil::{oil_at_100, oil_line};
use crate::physics::laws::outlet::{orifice_flow, orifice_pressure};
use crate::physics::steady::{Design, Liquid, Part, Pump};

/// Supply frequencies, Hz, and poles of usual motors.
const SUPPLIES: [f64; 2] = [50.0, 60.0];
const POLES: [f64; 6] = [2.0, 4.0, 6.0, 8.0, 10.0, 12.0];
/// Slip at full load where the plate does not tell.
const USUAL_SLIP: f64 = 0.033;
/// A motor's plate speed is at most this much below the synchronous one.
const MOST_SLIP: f64 = 0.1;
/// Share of the stroke lost to compression at 70 bar (fitted to a time-domain pump).
const COMPRESSION: (f64, f64) = (0.014, 7e6);
/// Losses in dry and oil friction over the hydraulic power (assumed), and what the oil then gains over the room, K.
const FRICTION: (f64, f64, f64) = (0.06, 0.031, 35.0);
/// Motor power over hydraulic power where nothing is known (common practice, no source).
const RESERVE: f64 = 1.5;
/// Idle over rated current of a small motor (assumed).
const IDLE: f64 = 0.45;
/// Efficiency times power factor of a small motor (assumed).
const MOTOR_QUALITY: f64 = 0.72;
/// Mean velocity for which an inlet line is laid where nothing is known, m/s (trade practice is 0.3 to 0.6).
const INLET_VELOCITY: f64 = 0.45;
/// Damper volume over what one turn moves, and charge over working pressure (common practice, no source).
const DAMPER: (f64, f64) = (6.4, 0.6);
/// Relief over working pressure where nothing is known.
const RELIEF: f64 = 1.17;
/// Discharge coefficient of a nozzle where it is not given (from memory).
const NOZZLE: f64 = 0.95;
/// Hoses give way like a liquid of this modulus, Pa (assumed).
const HOSE: f64 = 1e9;
/// Fewest and most chambers of a pump: those that a pump sheet may give.
const MOST_CHAMBERS: [u32; 2] = [1, 12];
/// Viscosity index of a usual mineral oil.
const OIL_INDEX: f64 = 95.0;

/// A pump built from its sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Built {
    /// The pump as the sheet says.
    pub pump: Pump,
    /// How far off parts may be: one standard deviation, in the part's unit. Parts that are exact are not listed.
    pub widths: Vec<(Part, f64)>,
}

/// The pump of a sheet; `None` while one of displacement, speed and pressure is missing.
///
/// # Errors
/// [`OutOfRange`] for a number that no pump has.
pub fn build(sheet: &PumpSheet) -> Result<Option<Built>, OutOfRange> {
    let Some(basis) = Basis::of(sheet)? else { return Ok(None) };
    let mut building = Building { sheet, pump: basis.pump(sheet), widths: Vec::new() };
    building.moves(&basis);
    building.inlet(&basis)?;
    building.outlet(&basis)?;
    building.drive(&basis);
    building.oil(&basis)?;
    Ok(Some(Built { pump: building.pump, widths: building.widths }))
}

/// What must be known.
struct Basis {
    chambers: u32,
    /// m³ of one chamber.
    displacement: f64,
    speed: f64,
    pressure: f64,
    flow: f64,
    liquid: Liquid,
    compression: f64,
}

impl Basis {
    fn of(sheet: &PumpSheet) -> Result<Option<Self>, OutOfRange> {
        let chambers = possible_chambers(sheet.chambers.unwrap_or(3))?;
        let turned = || Some(sheet.get(Field::MotorSpeed)? * sheave_ratio(sheet)? * 0.99);
        let per_turn = sheet.get(Field::DisplacementPerTurn);
        let (Some(per_turn), Some(speed)) = (per_turn, sheet.get(Field::PumpSpeed).or_else(turned)) else {
            return Ok(None);
        };
        let liquid = liquid(sheet)?;
        let ideal = per_turn * speed;
        let slip = Part::PumpSlip.card().usual;
        let at = |pressure: f64| {
            let compression = (COMPRESSION.0 * pressure / COMPRESSION.1).min(0.5);
            (compression, ideal * (1.0 - compression) / (1.0 + slip))
        };
        let Some(pressure) = sheet.get(Field::WorkingPressure).or_else(|| nozzle_pressure(sheet, liquid, at(0.0).1))
        else {
            return Ok(None);
        };
        let (compression, flow) = at(pressure);
        let displacement = per_turn / f64::from(chambers);
        Ok(Some(Self { chambers, displacement, speed, pressure, flow, liquid, compression }))
    }

    fn pump(&self, sheet: &PumpSheet) -> Pump {
        let design = Design { flow: self.flow, pressure: self.pressure, speed: self.speed };
        let mut pump = Pump::usual(self.chambers, design, self.liquid);
        pump[Part::LiquidTemperature] = self.liquid.at;
        if let Some(roughness) = sheet.get(Field::InletRoughness) {
            pump[Part::InletRoughness] = roughness;
        }
        pump
    }

    fn hydraulic(&self) -> f64 {
        self.pressure * self.flow
    }
}

/// A number of chambers that a pump can have: each one takes memory and time.
fn possible_chambers(chambers: u32) -> Result<u32, OutOfRange> {
    let [low, high] = MOST_CHAMBERS;
    if (low..=high).contains(&chambers) {
        return Ok(chambers);
    }
    let advice = "give the number of diaphragms";
    let shown = |count: u32| count.to_string();
    Err(OutOfRange { input: "chambers", value: shown(chambers), low: shown(low), high: shown(high), advice })
}

/// Speed of the pump over that of the motor, by the sheaves.
pub(super) fn sheave_ratio(sheet: &PumpSheet) -> Option<f64> {
    Some(sheet.get(Field::MotorSheave)? / sheet.get(Field::PumpSheave)?)
}

/// The synchronous speed to a plate speed: the nearest above it, or one that a usual slip leads to.
pub(super) fn synchronous(plate: f64) -> f64 {
    let all =
        SUPPLIES.iter().flat_map(|&hertz| POLES.iter().filter_map(move |&poles| synchronous_speed(hertz, poles).ok()));
    let nearest =
        all.filter(|speed| plate < *speed && speed * (1.0 - MOST_SLIP) <= plate).fold(f64::INFINITY, f64::min);
    if nearest.is_finite() { nearest } else { plate / (1.0 - USUAL_SLIP) }
}

fn liquid(sheet: &PumpSheet) -> Result<Liquid, OutOfRange> {
    let at = sheet.get(Field::LiquidTemperature).unwrap_or(Part::LiquidTemperature.card().usual);
    let water = Liquid::water(at)?;
    let given = [Field::LiquidDensity, Field::LiquidViscosity, Field::LiquidVapourPressure].map(|f| sheet.get(f));
    let [density, viscosity, vapour] = given;
    Ok(Liquid {
        at,
        density: density.unwrap_or(water.density),
        viscosity: viscosity.unwrap_or(water.viscosity),
        vapour: vapour.unwrap_or(water.vapour),
        is_water: given.iter().all(Option::is_none),
    })
}

/// Discharge coefficient times area of the nozzles, m².
fn nozzle_area(sheet: &PumpSheet) -> Option<f64> {
    let bore = sheet.get(Field::OrificeBore)?;
    Some(sheet.get(Field::OrificeCoefficient).unwrap_or(NOZZLE) * std::f64::consts::FRAC_PI_4 * bore * bore)
}

/// Pressure that the nozzles need to pass a flow, Pa.
pub(super) fn nozzle_pressure(sheet: &PumpSheet, liquid: Liquid, flow: f64) -> Option<f64> {
    let coefficient = sheet.get(Field::OrificeCoefficient).unwrap_or(NOZZLE);
    orifice_pressure(sheet.get(Field::OrificeBore)?, flow, liquid.density, coefficient).ok()
}

struct Building<'a> {
    sheet: &'a PumpSheet,
    pump: Pump,
    widths: Vec<(Part, f64)>,
}

impl Building<'_> {
    fn set(&mut self, part: Part, value: f64, known: Known) {
        self.pump[part] = value;
        let off = off_by(part, value, known);
        if 0.0 < off {
            self.widths.push((part, off));
        }
    }

    /// A field that is a part as it stands, or a usual value for it.
    fn field(&mut self, field: Field, part: Part, usual: f64) {
        self.set(part, self.sheet.get(field).unwrap_or(usual), self.sheet.known(field));
    }

    /// A part that stands on no sheet: what is usual, as far off as pumps differ.
    fn assumed(&mut self, part: Part, value: f64) {
        self.set(part, value, Known::Measured);
    }

    fn moves(&mut self, basis: &Basis) {
        self.set(Part::Displacement, basis.displacement, self.sheet.known(Field::DisplacementPerTurn));
        self.assumed(Part::PumpSlip, Part::PumpSlip.card().usual);
        self.assumed(Part::Compression, basis.compression);
        self.assumed(Part::Regrowth, Part::Regrowth.card().usual);
    }

    fn inlet(&mut self, basis: &Basis) -> Result<(), OutOfRange> {
        let barometer = match (self.sheet.get(Field::Barometer), self.sheet.get(Field::Altitude)) {
            (Some(barometer), _) => (barometer, self.sheet.known(Field::Barometer)),
            // The weather moves the barometer by about as much, however well the altitude is known.
            (None, Some(altitude)) => (barometer_at_altitude(altitude)?, Known::Measured),
            (None, None) => (Part::Barometer.card().usual, Known::Guessed),
        };
        self.set(Part::Barometer, barometer.0, barometer.1);
        let usual = |part: Part| part.card().usual;
        let bore = (basis.flow / INLET_VELOCITY / std::f64::consts::FRAC_PI_4).sqrt();
        let strainer = if self.sheet.strainer == Some(false) { 0.0 } else { usual(Part::StrainerLosses) };
        for (field, part, value) in [
            (Field::LevelOverInlet, Part::Level, usual(Part::Level)),
            (Field::LiquidTemperature, Part::LiquidTemperature, usual(Part::LiquidTemperature)),
            (Field::InletBore, Part::InletBore, bore),
            (Field::InletLength, Part::InletLength, usual(Part::InletLength)),
            (Field::InletLosses, Part::InletLosses, usual(Part::InletLosses)),
            (Field::StrainerLosses, Part::StrainerLosses, strainer),
        ] {
            self.field(field, part, value);
        }
        self.assumed(Part::LineElasticity, usual(Part::LineElasticity));
        let required = self.sheet.get(Field::NpshRequired).unwrap_or(usual(Part::NpshRequired));
        self.assumed(Part::NpshRequired, required);
        Ok(())
    }

    fn outlet(&mut self, basis: &Basis) -> Result<(), OutOfRange> {
        // The jet that the working pressure drives; the diameter does not matter to it.
        let [_, jet] = orifice_flow(1e-3, basis.pressure, basis.liquid.density, 1.0)?;
        match nozzle_area(self.sheet) {
            Some(area) => self.set(Part::OrificeArea, area, self.sheet.known(Field::OrificeBore)),
            None => self.set(Part::OrificeArea, basis.flow / jet, self.sheet.known(Field::WorkingPressure)),
        }
        self.field(Field::ReliefSetting, Part::ReliefOpening, RELIEF * basis.pressure);
        let hose = self.sheet.get(Field::HoseVolume).unwrap_or(0.0) / HOSE;
        self.assumed(Part::OutletCompliance, Part::OutletCompliance.card().usual + hose);
        let told = [Field::DamperVolume, Field::DamperCharge].iter().any(|&field| self.sheet.get(field).is_some());
        if self.sheet.damper.unwrap_or(told) {
            let turn = basis.displacement * f64::from(basis.chambers);
            self.field(Field::DamperVolume, Part::DamperVolume, DAMPER.0 * turn);
            self.field(Field::DamperCharge, Part::DamperCharge, DAMPER.1 * basis.pressure);
        }
        Ok(())
    }

    fn drive(&mut self, basis: &Basis) {
        let sheet = self.sheet;
        let power = sheet.get(Field::MotorPower).unwrap_or(RESERVE * basis.hydraulic());
        self.pump[Part::MotorPower] = power;
        let plate = sheet.get(Field::MotorSpeed);
        let synchronous = plate.map_or(Part::MotorSynchronous.card().usual, synchronous);
        self.pump[Part::MotorSynchronous] = synchronous;
        let slip = plate.map_or(Part::MotorSlip.card().usual, |plate| 1.0 - plate / synchronous);
        self.set(Part::MotorSlip, slip, sheet.known(Field::MotorSpeed));
        let belted = sheet.belt.unwrap_or(true);
        let belt_slip = if belted { Part::BeltSlip.card().usual } else { 0.0 };
        let load = (1.0 + FRICTION.0 + FRICTION.1) * basis.hydraulic() / 0.96 / power;
        let motor = synchronous * (1.0 - slip * load.min(1.5));
        let by_speed = basis.speed / (motor * (1.0 - belt_slip));
        match (sheet.get(Field::PumpSpeed), sheave_ratio(sheet)) {
            (None, Some(ratio)) => self.set(Part::SpeedRatio, ratio, sheet.known(Field::PumpSheave)),
            _ => self.set(Part::SpeedRatio, by_speed, sheet.known(Field::PumpSpeed)),
        }
        if belted {
            self.assumed(Part::BeltSlip, belt_slip);
        } else {
            self.pump[Part::BeltSlip] = 0.0;
        }
        let volts = sheet.get(Field::SupplyVoltage).unwrap_or(400.0);
        let rated = power / (3.0_f64.sqrt() * volts * MOTOR_QUALITY);
        self.field(Field::MotorCurrentPlate, Part::CurrentRated, rated);
        let idle = IDLE * self.pump[Part::CurrentRated];
        self.field(Field::MotorCurrentIdle, Part::CurrentIdle, idle);
    }

    fn oil(&mut self, basis: &Basis) -> Result<(), OutOfRange> {
        self.field(Field::OilGrade, Part::OilViscosity, Part::OilViscosity.card().usual);
        let grade = self.pump[Part::OilViscosity];
        let [_, slope] = oil_line(grade, 313.15, oil_at_100(grade, OIL_INDEX)?, 373.15)?;
        self.pump[Part::OilSlope] = slope;
        self.field(Field::RoomTemperature, Part::RoomTemperature, Part::RoomTemperature.card().usual);
        let power = basis.hydraulic();
        self.assumed(Part::FrictionTorque, FRICTION.0 * power / (std::f64::consts::TAU * basis.speed));
        self.assumed(Part::FrictionOil, FRICTION.1 * power);
        self.assumed(Part::OilResistance, FRICTION.2 / ((FRICTION.0 + FRICTION.1) * power));
        Ok(())
    }
}
