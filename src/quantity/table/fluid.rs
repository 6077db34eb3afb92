//! What is read of the liquid and at any gauge (pressure, flow, volume, temperature, time, ratio), turned into units.

use super::{FOOT, GRAVITY, IMP_GALLON, INCH, MM_MERCURY, POUND, POUND_FORCE, US_GALLON};
use crate::quantity::units::Unit;

const US_GPM: &str = "US gallons taken; write `imp gpm` for imperial";
const US_GAL: &str = "US gallons taken; write `imp gal` for imperial";
const BARE_INCH: &str = "inches of mercury taken; write `inH2O` for inches of water";

/// Held in Pa.
pub(in crate::quantity) const PRESSURE: &[Unit] = &[
    Unit::metric("bar", &["bars"], 1e5, 1.0),
    Unit::metric("kPa", &["kilopascal"], 1e3, 1.0),
    Unit::inch_pound("psi", &["lbf/in2", "lb/in2", "lbs/in2", "lbf/sqin", "lb/sqin"], POUND_FORCE, INCH * INCH),
    Unit::inch_pound(
        "inHg",
        &["\"Hg", "inchHg", "inchesHg", "inchmercury", "inchesmercury", "inmercury"],
        25.4 * MM_MERCURY,
        1.0,
    )
    .vague(&["\"", "in", "inch", "inches"], BARE_INCH)
    .on_vacuum_dials(),
    Unit::metric("mbar", &["mb", "millibar"], 1e2, 1.0),
    Unit::metric("MPa", &["megapascal"], 1e6, 1.0),
    Unit::metric("Pa", &["pascal"], 1.0, 1.0),
    Unit::metric("mmHg", &["mmmercury"], MM_MERCURY, 1.0).on_vacuum_dials(),
    Unit::metric("torr", &[], 101_325.0, 760.0).on_vacuum_dials(),
    Unit::metric("mH2O", &["mWC", "mWS", "mWG", "mwater"], 1000.0 * GRAVITY, 1.0),
    Unit::inch_pound("ftH2O", &["'H2O", "ftWC", "ftWG", "ftwater", "feetwater"], 304.8 * GRAVITY, 1.0),
    Unit::inch_pound(
        "inH2O",
        &["\"H2O", "inWC", "inWG", "\"WC", "\"WG", "inwater", "incheswater"],
        25.4 * GRAVITY,
        1.0,
    ),
    Unit::metric("mmH2O", &["mmWC", "mmWS", "mmWG", "mmwater"], GRAVITY, 1.0),
    Unit::metric("kgf/cm2", &["kg/cm2", "kp/cm2", "kgf/sqcm", "kg/sqcm"], 98_066.5, 1.0),
    Unit::metric("atm", &["atmosphere", "atmospheres"], 101_325.0, 1.0),
    Unit::metric("hPa", &["hectopascal"], 1e2, 1.0),
    Unit::metric("GPa", &["gigapascal"], 1e9, 1.0),
];

/// Held in m³/s.
pub(in crate::quantity) const FLOW: &[Unit] = &[
    Unit::metric("m3/h", &["m3/hr", "cum/h", "cbm/h", "m3h"], 1.0, 3600.0),
    Unit::metric("L/min", &["lpm", "litre/min", "litres/min", "liter/min", "liters/min", "dm3/min"], 1.0, 60_000.0),
    Unit::inch_pound("US gpm", &["gpmUS", "gpm(US)", "USgal/min", "USG/min", "USgallons/min"], US_GALLON, 60_000.0)
        .vague(&["gpm", "gal/min", "gals/min", "gallon/min", "gallons/min", "galpermin"], US_GPM),
    Unit::metric("L/s", &["lps", "litre/s", "litres/s", "L/sec", "dm3/s"], 1.0, 1000.0),
    Unit::metric("L/h", &["lph", "L/hr", "litre/h", "litres/h", "dm3/h"], 1.0, 3_600_000.0),
    Unit::inch_pound(
        "imp gpm",
        &["gpmimp", "gpm(imp)", "igpm", "impgal/min", "UKgpm", "UKgal/min"],
        IMP_GALLON,
        60_000.0,
    ),
    Unit::metric("mL/min", &["cc/min", "cm3/min", "ccm"], 1.0, 6e7),
    Unit::inch_pound("US gph", &["USgal/h", "USgal/hr", "gph(US)"], US_GALLON, 3_600_000.0).vague(
        &["gph", "gal/h", "gal/hr", "gallons/h", "gallons/hr"],
        "US gallons taken; write `imp gph` for imperial",
    ),
    Unit::inch_pound("imp gph", &["impgal/h", "impgal/hr", "gph(imp)", "igph"], IMP_GALLON, 3_600_000.0),
    Unit::inch_pound("US gpd", &["USgal/d", "USgal/day", "gpd(US)"], US_GALLON, 86_400_000.0)
        .vague(&["gpd", "gal/d", "gal/day", "gallons/day"], "US gallons taken; write `imp gpm` for imperial"),
    Unit::metric("m3/s", &["m3/sec"], 1.0, 1.0),
];

/// Held in m³.
pub(in crate::quantity) const VOLUME: &[Unit] = &[
    Unit::metric("L", &["litre", "litres", "liter", "liters", "dm3"], 1.0, 1e3),
    Unit::metric("mL", &["cm3", "cc", "millilitre", "millilitres", "milliliter", "milliliters"], 1.0, 1e6),
    Unit::inch_pound("US gal", &["galUS", "gal(US)", "USgallon", "USgallons", "USG"], US_GALLON, 1e3)
        .vague(&["gal", "gals", "gallon", "gallons"], US_GAL),
    Unit::inch_pound("imp gal", &["galimp", "gal(imp)", "impgallon", "impgallons", "UKgal"], IMP_GALLON, 1e3),
    Unit::inch_pound("US qt", &["USquart", "USquarts"], US_GALLON, 4e3)
        .vague(&["qt", "qts", "quart", "quarts"], "US quarts taken; write `imp gal` or `L` otherwise"),
    Unit::metric("m3", &["cbm", "cum"], 1.0, 1.0),
    Unit::inch_pound("in3", &["cuin"], INCH * INCH * INCH, 1.0),
    Unit::inch_pound("ft3", &["cuft"], FOOT * FOOT * FOOT, 1.0),
];

/// Held in K. NIST SP 811 B.8: t/°C + 273.15; (t/°F + 459.67) / 1.8.
pub(in crate::quantity) const TEMPERATURE: &[Unit] = &[
    Unit::metric("°C", &["C", "degC", "degreeC", "degreesC", "celsius"], 1.0, 1.0).offset(273.15),
    Unit::inch_pound("°F", &["F", "degF", "degreeF", "degreesF", "fahrenheit"], 5.0, 9.0).offset(459.67),
    Unit::metric("K", &["kelvin"], 1.0, 1.0),
];

/// Held in K; no zero point.
pub(in crate::quantity) const TEMPERATURE_DIFFERENCE: &[Unit] = &[
    Unit::metric("°C", &["C", "degC", "degreeC", "degreesC", "celsius"], 1.0, 1.0),
    Unit::inch_pound("°F", &["F", "degF", "degreeF", "degreesF", "fahrenheit"], 5.0, 9.0),
    Unit::metric("K", &["kelvin"], 1.0, 1.0),
];

/// Held in s. The year is the one of 365 days of NIST SP 811; a month is its twelfth, for service intervals.
pub(in crate::quantity) const TIME: &[Unit] = &[
    Unit::metric("h", &["hr", "hrs", "hour", "hours"], 3600.0, 1.0),
    Unit::metric("min", &["mins", "minute", "minutes"], 60.0, 1.0),
    Unit::metric("s", &["sec", "secs", "second", "seconds"], 1.0, 1.0),
    Unit::metric("d", &["day", "days"], 86_400.0, 1.0),
    Unit::metric("week", &["weeks", "wk", "wks"], 604_800.0, 1.0),
    Unit::metric("month", &["months", "mo"], 2_628_000.0, 1.0),
    Unit::metric("year", &["years", "yr", "yrs"], 31_536_000.0, 1.0),
    Unit::metric("ms", &["msec", "millisecond", "milliseconds"], 1.0, 1e3),
];

/// Held in kg/m³.
pub(in crate::quantity) const DENSITY: &[Unit] = &[
    Unit::metric("kg/m3", &[], 1.0, 1.0),
    Unit::metric("g/cm3", &["g/mL", "g/cc", "kg/L", "kg/dm3"], 1e3, 1.0),
    Unit::inch_pound("lb/ft3", &["lbs/ft3", "lb/cuft"], POUND, FOOT * FOOT * FOOT),
    Unit::inch_pound("lb/US gal", &["lbs/USgal"], POUND * 1e3, US_GALLON).vague(&["lb/gal", "lbs/gal", "ppg"], US_GAL),
];

/// Held in m²/s.
pub(in crate::quantity) const VISCOSITY_KINEMATIC: &[Unit] = &[
    Unit::metric("mm2/s", &[], 1.0, 1e6),
    Unit::metric("cSt", &["centistoke", "centistokes"], 1.0, 1e6),
    Unit::metric("m2/s", &[], 1.0, 1.0),
];

/// Held in Pa s.
pub(in crate::quantity) const VISCOSITY_DYNAMIC: &[Unit] = &[
    Unit::metric("mPa s", &[], 1.0, 1e3),
    Unit::metric("cP", &["cps", "centipoise"], 1.0, 1e3),
    Unit::metric("Pa s", &[], 1.0, 1.0),
];

/// Held as a share of one.
pub(in crate::quantity) const RATIO: &[Unit] = &[
    Unit::metric("%", &["percent", "pct"], 1.0, 1e2),
    Unit::metric("times", &["x", "fold"], 1.0, 1.0),
    Unit::metric("ppm", &[], 1.0, 1e6),
];

/// Held in m/s.
pub(in crate::quantity) const VELOCITY: &[Unit] = &[
    Unit::metric("m/s", &["m/sec"], 1.0, 1.0),
    Unit::inch_pound("ft/s", &["ft/sec", "fps"], FOOT, 1.0),
    Unit::metric("mm/s", &["mm/sec"], 1.0, 1e3),
    Unit::inch_pound("in/s", &["in/sec", "ips"], INCH, 1.0),
];

/// A plain number.
pub(in crate::quantity) const COUNT: &[Unit] = &[Unit::metric("", &["pcs", "pc", "pieces", "piece", "off"], 1.0, 1.0)];

/// A plain number that is not counted.
pub(in crate::quantity) const NUMBER: &[Unit] = &[Unit::metric("", &[], 1.0, 1.0)];

/// Held in 1/Pa.
pub(in crate::quantity) const COMPRESSIBILITY: &[Unit] = &[
    Unit::metric("1/GPa", &["/GPa"], 1.0, 1e9),
    Unit::inch_pound("1/psi", &["/psi"], INCH * INCH, POUND_FORCE),
    Unit::metric("1/bar", &["/bar"], 1.0, 1e5),
    Unit::metric("1/Pa", &["/Pa"], 1.0, 1.0),
];
