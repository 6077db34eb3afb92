//! Turns a sheet into what cannot be and what is badly designed, each with what to do.

use super::build::{nozzle_pressure, sheave_ratio, synchronous};
use super::{Built, Field, Figures, PumpSheet};
use crate::physics::steady::Part;
use crate::quantity::short_number;

/// Two ways to the same speed may differ by this share.
const SAME_SPEED: f64 = 0.08;
/// Two ways to the same pressure may differ by this share.
const SAME_PRESSURE: f64 = 0.3;
/// Relief less than this over the working pressure is thin for three chambers and more (Pump Handbook, guide value).
const RELIEF_MARGIN: f64 = 0.1;
/// Oil stiffer than this, m²/s, should not be started cold (trade, from memory).
const STIFF: f64 = 1000e-6;
/// Oil stiffer than this at work starves fast pistons (trade, from memory: 16 to 36 is best).
const STIFF_WARM: f64 = 250e-6;
/// A line longer than this, m, is a long run for a reciprocating pump (common practice, no source).
const LONG: f64 = 6.0;

/// Something to say about a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// The field it hangs on.
    pub field: Field,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: &'static str,
}

impl Remark {
    fn new(field: Field, message: String, hint: &'static str) -> Self {
        Self { field, message, hint }
    }
}

/// What cannot be: with any of these nothing can be computed.
pub fn impossible(sheet: &PumpSheet) -> Vec<Remark> {
    if let Some((field, _)) = sheet.given.iter().find(|(_, given)| !given.is_possible()) {
        return vec![Remark::new(*field, "no pump has such a number".to_owned(), "measure it, or leave it out")];
    }
    [relief_below_work(sheet), sheaves_swapped(sheet), motor_too_fast(sheet), motor_too_small(sheet), too_high(sheet)]
        .into_iter()
        .flatten()
        .collect()
}

/// What is unwise, or does not fit together.
pub fn warnings(sheet: &PumpSheet, built: &Built, figures: &Figures) -> Vec<Remark> {
    [
        narrow_bore(sheet, figures),
        long_run(built, figures),
        no_margin(figures),
        thin_relief(figures),
        stiff_oil(figures),
        other_nozzle(sheet, built),
        idle_damper(built),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn bar(pascal: f64) -> String {
    shown(pascal / 1e5, 1, "bar")
}

fn rpm(turns: f64) -> String {
    shown(turns * 60.0, 0, "rpm")
}

fn kilowatt(watt: f64) -> String {
    shown(watt / 1e3, 1, "kW")
}

/// So many decimals; what is too large for them, or no number, as it is said everywhere.
fn shown(value: f64, decimals: usize, unit: &str) -> String {
    if value.abs() < 1e9 { format!("{value:.decimals$} {unit}") } else { format!("{} {unit}", short_number(value, 4)) }
}

fn relief_below_work(sheet: &PumpSheet) -> Option<Remark> {
    let (work, relief) = (sheet.get(Field::WorkingPressure)?, sheet.get(Field::ReliefSetting)?);
    let message = format!("the relief opens at {}, the pump works at {}", bar(relief), bar(work));
    let hint = "it would be open at work: check both numbers; it belongs at least a tenth above the working pressure";
    (relief <= work).then(|| Remark::new(Field::ReliefSetting, message, hint))
}

fn sheaves_swapped(sheet: &PumpSheet) -> Option<Remark> {
    let ratio = sheave_ratio(sheet)?;
    let (motor, pump) = (sheet.get(Field::MotorSpeed)?, sheet.get(Field::PumpSpeed)?);
    let told = pump / motor;
    let fits = |ratio: f64| (ratio / told - 1.0).abs() < SAME_SPEED;
    if fits(ratio) {
        return None;
    }
    let message = format!("these sheaves turn the pump at {}, the sheet says {}", rpm(motor * ratio), rpm(pump));
    let hint = if fits(1.0 / ratio) {
        "the two pitch diameters are swapped: the smaller one belongs to the motor"
    } else {
        "measure the pitch diameters and both speeds; one of the four is wrong"
    };
    Some(Remark::new(Field::MotorSheave, message, hint))
}

fn motor_too_fast(sheet: &PumpSheet) -> Option<Remark> {
    let plate = sheet.get(Field::MotorSpeed)?;
    let below = 1.0 - plate / synchronous(plate);
    let message = format!("a motor of {} slips hardly at all", rpm(plate));
    let hint = "take the speed from the plate: 1 to 5 % below 3600, 3000, 1800, 1500, 1200, 1000, 900 or 750 rpm";
    (below < 0.001).then(|| Remark::new(Field::MotorSpeed, message, hint))
}

fn motor_too_small(sheet: &PumpSheet) -> Option<Remark> {
    let power = sheet.get(Field::MotorPower)?;
    let flow = sheet.get(Field::DisplacementPerTurn)? * sheet.get(Field::PumpSpeed)?;
    let needed = flow * sheet.get(Field::WorkingPressure)?;
    let message = format!("the liquid alone takes {}, the motor has {}", kilowatt(needed), kilowatt(power));
    let hint = "check displacement a turn, speed, working pressure and motor power; one of them is wrong";
    (1.1 * power < needed).then(|| Remark::new(Field::MotorPower, message, hint))
}

fn too_high(sheet: &PumpSheet) -> Option<Remark> {
    let level = sheet.get(Field::LevelOverInlet)?;
    let hint = "no pump lifts water 10 m; below the pump counts negative: measure from the surface to the pump inlet";
    (level < -10.0).then(|| Remark::new(Field::LevelOverInlet, format!("a lift of {:.1} m", -level), hint))
}

fn narrow_bore(sheet: &PumpSheet, figures: &Figures) -> Option<Remark> {
    sheet.get(Field::InletBore)?;
    let (is, most) = (figures.inlet_velocity, figures.velocity_limit);
    let message = format!("narrow inlet bore for this flow: {is:.2} m/s, practice keeps below {most:.2} m/s");
    let hint = "a wider inlet line costs less than the valves it saves";
    (most < is).then(|| Remark::new(Field::InletBore, message, hint))
}

fn long_run(built: &Built, figures: &Figures) -> Option<Remark> {
    let length = built.pump[Part::InletLength];
    let head = figures.acceleration_head;
    let message = format!("long run of inlet pipe: {length:.1} m, acceleration head {head:.1} m");
    let hint = "shorten it, widen it, or put a stabiliser at the pump";
    (LONG < length).then(|| Remark::new(Field::InletLength, message, hint))
}

fn no_margin(figures: &Figures) -> Option<Remark> {
    let (vapour, delivery) = (figures.vapour_margin, figures.delivery_margin);
    let hint = "raise the supply, cool the liquid, widen or shorten the line, or run slower";
    if delivery < 0.0 {
        let message = format!("the healthy pump starves: {:.1} m of inlet head are missing", -delivery);
        return Some(Remark::new(Field::LevelOverInlet, message, hint));
    }
    let message = format!("vapour forms in the healthy pump: {:.1} m of inlet head are missing", -vapour);
    (vapour < 0.0).then(|| Remark::new(Field::LevelOverInlet, message, hint))
}

fn thin_relief(figures: &Figures) -> Option<Remark> {
    let margin = figures.relief_margin;
    let message = format!("relief margin is thin: {:.0} % over the working pressure", 100.0 * margin);
    let hint = "10 % or more for three chambers and above, 25 % for fewer; never above the weakest part";
    (margin < RELIEF_MARGIN).then(|| Remark::new(Field::ReliefSetting, message, hint))
}

fn stiff_oil(figures: &Figures) -> Option<Remark> {
    let [warm, cold] = figures.oil.map(|viscosity| viscosity * 1e6);
    let hint = "warm the oil before starting, or take a thinner grade that the maker allows";
    if STIFF_WARM * 1e6 < warm {
        let message = format!("oil is stiff at work: {warm:.0} mm2/s");
        return Some(Remark::new(Field::OilGrade, message, hint));
    }
    let message = format!("oil is stiff at room temperature: {cold:.0} mm2/s");
    (STIFF * 1e6 < cold).then(|| Remark::new(Field::RoomTemperature, message, hint))
}

fn other_nozzle(sheet: &PumpSheet, built: &Built) -> Option<Remark> {
    let work = sheet.get(Field::WorkingPressure)?;
    let needs = nozzle_pressure(sheet, built.pump.liquid, built.pump.design.flow)?;
    let message = format!("these nozzles need {}, the sheet says {}", bar(needs), bar(work));
    let hint = "measure the bore, count the nozzles, or correct the working pressure";
    (SAME_PRESSURE < (needs / work - 1.0).abs()).then(|| Remark::new(Field::OrificeBore, message, hint))
}

fn idle_damper(built: &Built) -> Option<Remark> {
    let (charge, work) = (built.pump[Part::DamperCharge], built.pump.design.pressure);
    let has = 0.0 < built.pump[Part::DamperVolume];
    let message = format!("the damper's charge of {} keeps it shut at {}", bar(charge), bar(work));
    let hint = "50 to 70 % of the working pressure is usual";
    (has && work <= charge).then(|| Remark::new(Field::DamperCharge, message, hint))
}
