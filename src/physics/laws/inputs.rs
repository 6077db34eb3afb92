//! Turns the inputs that many laws share into one definition each, so that a key means the same everywhere.
//!
//! A published range that no source states is the range of pumps this program is for (common practice, no source).

use crate::physics::law::Input;
use crate::quantity::Dimension;

/// Local air pressure; 30 kPa is above the highest road, 110 kPa above the strongest high at sea level.
pub const BAROMETER: Input =
    Input::new("barometer", "local air pressure", Dimension::AbsolutePressure, "kPa", (30e3, 110e3))
        .advice("give the local air pressure itself (60 to 104 kPa where people work), not a gauge reading");

/// Pressure on the free surface of the supply.
pub const SURFACE_PRESSURE: Input = Input::new(
    "surface_pressure",
    "pressure on the surface of the supply",
    Dimension::AbsolutePressure,
    "kPa",
    (1e3, 2e6),
)
.advice("an open tank has the local air pressure on it; for a closed one add its gauge to the barometer");

/// What a gauge shows, vacuum negative.
pub const GAUGE: Input = Input::new(
    "gauge",
    "reading of the inlet gauge, a vacuum negative",
    Dimension::GaugePressure,
    "kPa",
    (-110e3, 2e6),
)
.advice("no gauge can show more vacuum than the barometer less the vapour pressure: check the gauge and its unit");

/// Vapour pressure of the liquid.
pub const VAPOUR: Input = Input::new(
    "vapour_pressure",
    "vapour pressure of the liquid at its temperature",
    Dimension::AbsolutePressure,
    "kPa",
    (0.0, 200e3),
)
.advice("give the vapour pressure at the liquid's temperature; water at 20 °C has 2.34 kPa");

/// Density of the pumped liquid.
pub const DENSITY: Input = Input::new("density", "density of the liquid", Dimension::Density, "kg/m3", (400.0, 3000.0))
    .advice("pumped liquids have 400 to 3000 kg/m3; water has 998");

/// Dynamic viscosity of the pumped liquid.
pub const VISCOSITY: Input =
    Input::new("viscosity", "dynamic viscosity of the liquid", Dimension::ViscosityDynamic, "mPa s", (1e-4, 10.0))
        .advice("water at 20 °C has 1 mPa s; give the dynamic viscosity, not the kinematic one");

/// Mean velocity in a pipe.
pub const VELOCITY: Input =
    Input::new("velocity", "mean velocity in the pipe", Dimension::Velocity, "m/s", (0.0, 20.0))
        .advice("velocities above 20 m/s belong to nozzles: check the flow and the bore");

/// Inner diameter of a pipe.
pub const BORE: Input = Input::new("bore", "inner diameter of the pipe", Dimension::Length, "mm", (1e-3, 1.0))
    .advice("give the inner diameter, 1 mm to 1 m");

/// Length of a pipe.
pub const PIPE_LENGTH: Input = Input::new("length", "actual length of the pipe", Dimension::Length, "m", (0.0, 1000.0))
    .advice("give the actual length; fittings count in the loss coefficient");

/// Volume flow.
pub const FLOW: Input = Input::new("flow", "volume flow", Dimension::Flow, "L/min", (0.0, 0.2))
    .advice("pumps of this kind move up to 0.2 m3/s (12 000 L/min): check the unit");

/// Pressure rise across the pump.
pub const RISE: Input =
    Input::new("rise", "pressure rise across the pump", Dimension::PressureDifference, "bar", (0.0, 1e8))
        .advice("pumps of this kind reach 1000 bar: check the unit");

/// Speed of the crank.
pub const SPEED: Input = Input::new("speed", "speed of the pump's shaft", Dimension::Speed, "rpm", (0.0, 50.0))
    .advice("pumps of this kind turn up to 3000 rpm: give the pump's shaft, not the supply frequency");

/// Pumping chambers with equal spacing.
pub const CHAMBERS: Input =
    Input::new("chambers", "single-acting chambers, evenly spaced", Dimension::Count, "", (1.0, 10.0))
        .whole()
        .strict()
        .advice("count the single-acting chambers, 1 to 10");

/// Cranks of a pump that may be double-acting.
pub const CRANKS: Input = Input::new("cranks", "cranks (cylinders)", Dimension::Count, "", (1.0, 10.0))
    .whole()
    .strict()
    .advice("count the cranks, 1 to 10");

/// One for single-acting, two for double-acting.
pub const SIDES: Input = Input::new("sides", "1 single-acting, 2 double-acting", Dimension::Count, "", (1.0, 2.0))
    .whole()
    .strict()
    .advice("1 for single-acting, 2 for double-acting");

/// Connecting-rod ratio.
pub const ROD_RATIO: Input =
    Input::new("rod_ratio", "length of the connecting rod over the crank radius", Dimension::Number, "", (3.0, 100.0))
        .meaningful(1.5, f64::MAX)
        .advice("rods are 3 to 10 crank radii long; a wobble plate, swash plate or cam moves without rods: use the law of that name");

/// Diameter of a plunger.
pub const PLUNGER: Input = Input::new("plunger", "diameter of a plunger", Dimension::Length, "mm", (1e-3, 0.5))
    .advice("plungers of these pumps are 1 to 500 mm thick");

/// Stroke of a plunger.
pub const STROKE: Input = Input::new("stroke", "full stroke of a plunger", Dimension::Length, "mm", (1e-4, 1.0))
    .advice("give the full stroke, twice the crank radius");

/// Ideal displacement.
pub const DISPLACEMENT: Input = FLOW.named("displacement", "ideal flow at this speed");

/// Temperature of the pumped water.
pub const WATER_TEMPERATURE: Input =
    Input::new("temperature", "temperature of the water", Dimension::Temperature, "°C", (273.15, 373.15))
        .advice("this holds for liquid water, 0 to 100 °C");

/// A loss coefficient.
pub const LOSSES: Input = Input::new(
    "losses",
    "sum of the loss coefficients of fittings, entrance and strainer",
    Dimension::Number,
    "",
    (0.0, 1e4),
)
.advice("add up the loss coefficients; an elbow has about 0.75, a sharp entrance 0.5");

/// Darcy friction factor.
pub const FRICTION: Input = Input::new("friction", "Darcy friction factor", Dimension::Number, "", (0.0, 64.0))
    .advice("give the Darcy factor, four times the Fanning one; it is 0.01 to 0.1 in turbulent flow");

/// Friction head of the suction line.
pub const FRICTION_HEAD: Input =
    Input::new("friction_head", "head lost in the suction line", Dimension::Length, "m", (0.0, 1000.0))
        .advice("give the head lost between the supply and the pump, not negative");

/// Acceleration head.
pub const ACCELERATION_HEAD: Input = Input::new(
    "acceleration_head",
    "head that accelerates the column, 0 for a steady flow",
    Dimension::Length,
    "m",
    (0.0, 1000.0),
)
.advice("give the head from the acceleration laws, not negative");

/// Height of the supply's surface above the pump.
pub const LEVEL: Input = Input::new(
    "level",
    "height of the supply's surface above the pump, a lift negative",
    Dimension::Length,
    "m",
    (-15.0, 100.0),
)
.advice("above the pump counts positive, below it negative; no pump lifts water 15 m");

/// Temperature of an oil.
pub const OIL_TEMPERATURE: Input =
    Input::new("temperature", "temperature of the oil", Dimension::Temperature, "°C", (243.15, 423.15))
        .meaningful(200.0, 600.0)
        .advice("this holds from -30 to 150 °C; colder oil is stiffer than computed");

/// Kinematic viscosity of an oil.
pub const OIL_VISCOSITY: Input =
    Input::new("viscosity", "kinematic viscosity of the oil", Dimension::ViscosityKinematic, "mm2/s", (2e-6, 2e-1))
        .meaningful(0.4e-6, f64::MAX)
        .advice("this holds above 2 mm2/s");

/// A liquid temperature of a given point.
pub const LIQUID_TEMPERATURE: Input =
    Input::new("temperature", "temperature of the liquid", Dimension::Temperature, "°C", (200.0, 500.0))
        .meaningful(100.0, 1000.0)
        .advice("give the temperature of the liquid at the pump");

/// A share from nothing to all.
pub const SHARE: Input = Input::new("share", "share", Dimension::Ratio, "%", (0.0, 1.0)).strict().advice("0 to 100 %");

/// Pressure upstream of an opening less that downstream.
pub const DROP: Input = Input::new("drop", "pressure drop across it", Dimension::PressureDifference, "bar", (0.0, 1e8))
    .advice("give the pressure before it less the pressure behind it; these pumps reach 1000 bar");

/// Thread pitch.
pub const PITCH: Input = Input::new("pitch", "pitch of the thread", Dimension::Length, "mm", (1e-4, 1e-2))
    .advice("20 threads an inch have a pitch of 1.27 mm");

/// Synchronous speed.
pub const SYNCHRONOUS: Input =
    SPEED.named("synchronous", "synchronous speed").within(1.0, 200.0).advice("with 2 poles at 50 Hz it is 3000 rpm");

/// Speed of the motor's shaft.
pub const MOTOR_SPEED: Input = SPEED
    .named("motor_speed", "speed of the motor's shaft")
    .within(0.1, 100.0)
    .advice("give the motor's shaft, up to 6000 rpm");

/// Pitch diameter of the motor's sheave.
pub const MOTOR_SHEAVE: Input =
    Input::new("motor_sheave", "pitch diameter of the motor's sheave", Dimension::Length, "mm", (0.01, 3.0))
        .advice("give the pitch diameter, not the outer one");

/// Pitch diameter of the pump's sheave.
pub const PUMP_SHEAVE: Input =
    Input::new("pump_sheave", "pitch diameter of the pump's sheave", Dimension::Length, "mm", (0.01, 3.0))
        .advice("give the pitch diameter, not the outer one");

/// Reynolds number.
pub const REYNOLDS: Input = Input::new("reynolds", "Reynolds number", Dimension::Number, "", (1.0, 1e8))
    .advice("check density, velocity, bore and viscosity");

/// Roughness over bore.
pub const ROUGHNESS: Input =
    Input::new("relative_roughness", "roughness over bore", Dimension::Number, "", (0.0, 0.05))
        .meaningful(0.0, 1.0)
        .advice("commercial steel in a 50 mm pipe has 0.001; give roughness over bore");

/// Height of the pump above the supply.
pub const LIFT: Input =
    Input::new("lift", "height of the pump above the supply", Dimension::Length, "m", (-100.0, 15.0))
        .advice("no pump lifts water 15 m; a supply above the pump counts negative");

/// NPSH required by the pump.
pub const REQUIRED: Input = Input::new("required", "NPSH required by the pump", Dimension::Length, "m", (0.0, 100.0))
    .advice("take it from the pump's sheet at this speed");

/// Span of the scale.
pub const SPAN: Input = Input::new("span", "span of the scale", Dimension::PressureDifference, "bar", (1e2, 2e8))
    .advice("highest less lowest mark of the scale");

/// Discharge coefficient.
pub const COEFFICIENT: Input = Input::new("coefficient", "discharge coefficient", Dimension::Number, "", (0.3, 1.0))
    .advice("0.6 for a sharp edge, 0.95 for a good nozzle, 1 for an ideal one");

/// Force in the bolt.
pub const PRELOAD: Input = Input::new("preload", "force in the bolt", Dimension::Force, "kN", (0.0, 1e7));

/// Temperature of the first point.
pub const TEMPERATURE_1: Input = LIQUID_TEMPERATURE.named("temperature_1", "temperature of the first point");

/// Temperature of the second point.
pub const TEMPERATURE_2: Input = LIQUID_TEMPERATURE.named("temperature_2", "temperature of the second point");

/// Share of free gas in the stream at suction pressure.
pub const GAS: Input = SHARE.named("gas", "share of free gas in the stream at suction pressure");

/// Stress area of the thread.
pub const AREA: Input = Input::new("area", "stress area of the thread", Dimension::Area, "mm2", (1e-7, 0.03));

/// Two chambers and more, for what one of them loses.
pub const TWO_CHAMBERS: Input = CHAMBERS.within(2.0, 10.0).strict().advice("with one chamber nothing is left; 2 to 10");
