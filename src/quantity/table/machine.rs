//! What is read of the machine and its drive (speed, sizes, forces, electricity), turned into units.

use super::{FOOT, GRAVITY, INCH, POUND, POUND_FORCE};
use crate::quantity::units::Unit;

const SHAFT_HZ: &str =
    "revolutions per second taken; the frequency of a drive is not the speed of its shaft, write `rpm`";

/// Held in Hz.
pub(in crate::quantity) const FREQUENCY: &[Unit] = &[
    Unit::metric("Hz", &["hertz", "1/s", "s1", "cps"], 1.0, 1.0),
    Unit::metric("1/min", &["min1", "cpm", "/min"], 1.0, 60.0),
    Unit::metric("strokes/min", &["stroke/min", "spm"], 1.0, 60.0),
    Unit::metric("kHz", &["kilohertz"], 1e3, 1.0),
];

/// Held in revolutions per second.
pub(in crate::quantity) const SPEED: &[Unit] = &[
    Unit::metric("rpm", &["rev/min", "revs/min", "r/min", "1/min", "min1", "U/min", "tr/min"], 1.0, 60.0),
    Unit::metric("rev/s", &["revs/s", "r/s", "rps", "1/s", "s1"], 1.0, 1.0).vague(&["Hz", "hertz"], SHAFT_HZ),
];

/// Held in m.
pub(in crate::quantity) const LENGTH: &[Unit] = &[
    Unit::metric("mm", &["millimetre", "millimetres", "millimeter", "millimeters"], 1.0, 1e3),
    Unit::inch_pound("in", &["\"", "inch", "inches"], INCH, 1.0),
    Unit::metric("m", &["metre", "metres", "meter", "meters"], 1.0, 1.0),
    Unit::metric("cm", &["centimetre", "centimetres", "centimeter", "centimeters"], 1.0, 1e2),
    Unit::inch_pound("ft", &["'", "foot", "feet"], FOOT, 1.0),
    Unit::inch_pound("thou", &["thousandth", "thousandths"], INCH, 1e3)
        .vague(&["mil", "mils"], "thousandths of an inch taken; write `mm` for millimetres"),
    Unit::metric("um", &["micron", "microns", "micrometre", "micrometer"], 1.0, 1e6),
];

/// Held in m².
pub(in crate::quantity) const AREA: &[Unit] = &[
    Unit::metric("cm2", &["sqcm"], 1.0, 1e4),
    Unit::metric("mm2", &["sqmm"], 1.0, 1e6),
    Unit::inch_pound("in2", &["sqin"], INCH * INCH, 1.0),
    Unit::metric("m2", &["sqm"], 1.0, 1.0),
    Unit::inch_pound("ft2", &["sqft"], FOOT * FOOT, 1.0),
];

/// Held in A.
pub(in crate::quantity) const CURRENT: &[Unit] = &[
    Unit::metric("A", &["amp", "amps", "ampere", "amperes"], 1.0, 1.0),
    Unit::metric("mA", &["milliamp", "milliamps"], 1.0, 1e3),
];

/// Held in V.
pub(in crate::quantity) const VOLTAGE: &[Unit] = &[
    Unit::metric("V", &["volt", "volts", "VAC", "VDC"], 1.0, 1.0),
    Unit::metric("mV", &["millivolt", "millivolts"], 1.0, 1e3),
    Unit::metric("kV", &["kilovolt", "kilovolts"], 1e3, 1.0),
];

/// Held in ohm. No milliohm: it would be one capital away from the megohm of an insulation test.
pub(in crate::quantity) const RESISTANCE: &[Unit] = &[
    Unit::metric("ohm", &["ohms"], 1.0, 1.0),
    Unit::metric("kohm", &["kohms", "kiloohm"], 1e3, 1.0),
    Unit::metric("Mohm", &["Mohms", "megohm", "megohms", "megaohm"], 1e6, 1.0),
];

/// Held in W. `hp` is the mechanical 550 ft lbf/s, `PS` the metric 75 kgf m/s.
pub(in crate::quantity) const POWER: &[Unit] = &[
    Unit::metric("kW", &["kilowatt", "kilowatts"], 1e3, 1.0),
    Unit::inch_pound("hp", &["bhp", "horsepower"], 550.0 * FOOT * POUND_FORCE, 1.0),
    Unit::metric("W", &["watt", "watts"], 1.0, 1.0),
    Unit::metric("PS", &["metrichp", "cv"], 75.0 * GRAVITY, 1.0),
];

/// Held in J. `Btu` is the International Table one.
pub(in crate::quantity) const ENERGY: &[Unit] = &[
    Unit::metric("kJ", &["kilojoule"], 1e3, 1.0),
    Unit::metric("J", &["joule", "joules"], 1.0, 1.0),
    Unit::metric("kWh", &["kilowatthour", "kilowatthours"], 3.6e6, 1.0),
    Unit::inch_pound("Btu", &["BtuIT"], 1_055.055_852_62, 1.0),
    Unit::inch_pound("ft lbf", &["ftlb"], FOOT * POUND_FORCE, 1.0),
];

/// Held in N m. The pound of a torque wrench is a pound-force.
pub(in crate::quantity) const TORQUE: &[Unit] = &[
    Unit::metric("N m", &["newtonmetre", "newtonmeter"], 1.0, 1.0),
    Unit::inch_pound("lbf ft", &["lbft", "lbsft", "ftlb", "ftlbs", "ftlbf"], FOOT * POUND_FORCE, 1.0),
    Unit::inch_pound("lbf in", &["lbin", "lbsin", "inlb", "inlbs", "inlbf"], INCH * POUND_FORCE, 1.0),
    Unit::metric("kgf m", &["kgm", "kpm"], GRAVITY, 1.0),
];

/// Held in N.
pub(in crate::quantity) const FORCE: &[Unit] = &[
    Unit::metric("N", &["newton", "newtons"], 1.0, 1.0),
    Unit::inch_pound("lbf", &["lb", "lbs"], POUND_FORCE, 1.0),
    Unit::metric("kN", &["kilonewton"], 1e3, 1.0),
    Unit::metric("kgf", &["kp"], GRAVITY, 1.0),
];

/// Held in kg.
pub(in crate::quantity) const MASS: &[Unit] = &[
    Unit::metric("kg", &["kilo", "kilos", "kilogram", "kilograms"], 1.0, 1.0),
    Unit::inch_pound("lb", &["lbs", "pound", "pounds", "lbm"], POUND, 1.0),
    Unit::metric("g", &["gram", "grams"], 1.0, 1e3),
    Unit::inch_pound("oz", &["ounce", "ounces"], POUND, 16.0),
];

/// Held in m/s².
pub(in crate::quantity) const ACCELERATION: &[Unit] = &[
    Unit::metric("m/s2", &[], 1.0, 1.0),
    Unit::metric("g", &["gn"], GRAVITY, 1.0),
    Unit::inch_pound("ft/s2", &[], FOOT, 1.0),
];

/// Held in rad. A turn is one of an adjusting screw.
pub(in crate::quantity) const ANGLE: &[Unit] = &[
    Unit::metric("°", &["deg", "degree", "degrees"], std::f64::consts::PI, 180.0),
    Unit::metric("turn", &["turns"], std::f64::consts::TAU, 1.0),
    Unit::metric("rad", &["radian", "radians"], 1.0, 1.0),
];

/// Held in N/m.
pub(in crate::quantity) const STIFFNESS: &[Unit] = &[
    Unit::metric("N/mm", &[], 1e3, 1.0),
    Unit::inch_pound("lbf/in", &["lb/in", "lbs/in"], POUND_FORCE, INCH),
    Unit::metric("N/m", &[], 1.0, 1.0),
];

/// Held in 1/K.
pub(in crate::quantity) const EXPANSION: &[Unit] = &[
    Unit::metric("um/m/K", &["um/(mK)", "um/m/°C"], 1.0, 1e6),
    Unit::inch_pound("1/°F", &["/°F", "1/F", "in/in/°F"], 9.0, 5.0),
    Unit::metric("1/K", &["/K", "1/°C", "1/C", "/°C"], 1.0, 1.0),
];
