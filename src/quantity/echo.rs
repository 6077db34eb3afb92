//! A quantity, turned into text: in one unit, and in two, metric and inch-pound, to read back to the writer.
//!
//! Three significant digits, no trailing zeros, and whole digits are never rounded away (1453 rpm stays 1453).
//! Pressures always say gauge, abs, vacuum or difference.

use std::fmt;

use super::dimension::Dimension;
use super::parse::{Parsed, parse};
use super::units::{System, Unit, find_unit};
use super::value::Quantity;

/// Significant digits of a converted value: more than a service gauge can show.
const ECHO_DIGITS: usize = 3;
/// Digits of a number, at most: a float holds no more.
const MOST_DIGITS: usize = 17;

/// Both usual units: `30.5 kPa vacuum = 9 inHg vacuum`. One only where both trades use the same.
pub fn echo(quantity: Quantity) -> String {
    let (metric, inch) = echo_units(quantity);
    let first = in_unit(quantity, metric);
    match inch {
        Some(inch) => format!("{first} = {}", in_unit(quantity, inch)),
        None => first,
    }
}

/// As typed, to the digit, and what that is in the other habit of units: `9 inHg vacuum = 30.5 kPa vacuum`.
pub fn echo_entered(parsed: &Parsed) -> String {
    let quantity = parsed.quantity;
    let unit = parsed.entered.unit;
    let typed = with_reference(parsed.entered.value, unit, quantity.dimension(), exact_number);
    let (metric, inch) = echo_units(quantity);
    let other = match (unit.system(), inch) {
        (System::Metric, Some(inch)) => inch,
        _ => metric,
    };
    if other.symbol() == unit.symbol() {
        return typed;
    }
    format!("{typed} = {}", in_unit(quantity, other))
}

/// A value as it was typed, if the text still reads as one, with the other habit of units; else in both usual units.
pub fn echo_text(text: &str, quantity: Quantity) -> String {
    match parse(text, quantity.dimension(), None) {
        Ok(parsed) => echo_entered(&parsed),
        Err(_) => echo(quantity),
    }
}

/// In the given unit, which must be one of the quantity's dimension, with three significant digits.
pub fn in_unit(quantity: Quantity, unit: &Unit) -> String {
    let value = unit.from_si(quantity.si());
    with_reference(value, unit, quantity.dimension(), |value| short_number(value, ECHO_DIGITS))
}

/// A number of at least `digits` significant digits, without trailing zeros; whole digits are all kept.
///
/// Very large and very small numbers get an exponent.
pub fn short_number(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return "no number".to_owned();
    }
    let digits = digits.clamp(1, MOST_DIGITS);
    let scientific = format!("{:.*e}", digits - 1, value + 0.0);
    let Some((mantissa, exponent)) = scientific.split_once('e') else {
        return scientific;
    };
    let exponent: i64 = exponent.parse().unwrap_or(0);
    if !(-4..9).contains(&exponent) {
        return format!("{}e{exponent}", without_trailing_zeros(mantissa));
    }
    let wanted = i64::try_from(digits).unwrap_or(i64::MAX) - 1 - exponent;
    let decimals = usize::try_from(wanted).unwrap_or(0);
    without_trailing_zeros(&format!("{:.decimals$}", value + 0.0)).to_owned()
}

/// The shortest text that reads back to the same number.
pub(super) fn exact_number(value: f64) -> String {
    let size = value.abs();
    let plain = size == 0.0 || (1e-5..1e15).contains(&size);
    if plain { format!("{value}") } else { format!("{value:e}") }
}

/// A value as one would type it: a vacuum with its word, all else bare.
pub(super) fn as_typed(value: f64, unit: &Unit, dimension: Dimension) -> String {
    if dimension == Dimension::GaugePressure && value < 0.0 {
        return with_reference(value, unit, dimension, exact_number);
    }
    joined(&exact_number(value), unit)
}

/// A value with its unit and what it is counted from; a negative gauge pressure becomes a vacuum.
pub(super) fn with_reference(value: f64, unit: &Unit, dimension: Dimension, number: impl Fn(f64) -> String) -> String {
    let (value, word) = match dimension {
        Dimension::GaugePressure if value < 0.0 => (-value, " vacuum"),
        Dimension::GaugePressure => (value, " gauge"),
        Dimension::AbsolutePressure => (value, " abs"),
        Dimension::PressureDifference | Dimension::TemperatureDifference => (value, " difference"),
        _ => (value, ""),
    };
    format!("{}{word}", joined(&number(value), unit))
}

fn joined(number: &str, unit: &Unit) -> String {
    match unit.symbol() {
        "" => number.to_owned(),
        "°" => format!("{number}°"),
        symbol => format!("{number} {symbol}"),
    }
}

fn without_trailing_zeros(number: &str) -> &str {
    if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number }
}

/// The metric unit and, where the trades differ, the inch-pound one that suit the size of the quantity.
fn echo_units(quantity: Quantity) -> (&'static Unit, Option<&'static Unit>) {
    let dimension = quantity.dimension();
    let (metric, inch) = echo_symbols(dimension, quantity.si());
    let first = dimension.units().first().unwrap_or(&NO_UNIT);
    let metric = find_unit(dimension, metric).unwrap_or(first);
    (metric, inch.and_then(|symbol| find_unit(dimension, symbol)))
}

/// Never reached: every table has a unit, as a test proves.
static NO_UNIT: Unit = Unit::metric("", &[], 1.0, 1.0);

fn echo_symbols(dimension: Dimension, si: f64) -> (&'static str, Option<&'static str>) {
    let small = |limit: f64| si.abs() < limit;
    match dimension {
        Dimension::GaugePressure if si < 0.0 => ("kPa", Some("inHg")),
        Dimension::GaugePressure | Dimension::PressureDifference if small(1e4) => ("kPa", Some("psi")),
        Dimension::GaugePressure | Dimension::PressureDifference => ("bar", Some("psi")),
        Dimension::AbsolutePressure => ("kPa", Some("psi")),
        // Below 1 m3/h.
        Dimension::Flow if small(1.0 / 3600.0) => ("L/h", Some("US gph")),
        Dimension::Flow => ("m3/h", Some("US gpm")),
        Dimension::Frequency => ("Hz", None),
        Dimension::Speed => ("rpm", None),
        Dimension::Length if small(1e-3) => ("um", Some("thou")),
        Dimension::Length if small(1.0) => ("mm", Some("in")),
        Dimension::Length => ("m", Some("ft")),
        Dimension::Area if small(0.1) => ("cm2", Some("in2")),
        Dimension::Area => ("m2", Some("ft2")),
        Dimension::Volume if small(1e-3) => ("mL", Some("in3")),
        Dimension::Volume => ("L", Some("US gal")),
        Dimension::Temperature | Dimension::TemperatureDifference => ("°C", Some("°F")),
        Dimension::Power => ("kW", Some("hp")),
        Dimension::Torque => ("N m", Some("lbf ft")),
        Dimension::Force => ("N", Some("lbf")),
        Dimension::Mass => ("kg", Some("lb")),
        Dimension::Density => ("kg/m3", Some("lb/ft3")),
        Dimension::Velocity => ("m/s", Some("ft/s")),
        Dimension::Acceleration => ("m/s2", Some("ft/s2")),
        Dimension::Stiffness => ("N/mm", Some("lbf/in")),
        Dimension::Energy => ("kJ", Some("ft lbf")),
        Dimension::Compressibility => ("1/GPa", Some("1/psi")),
        Dimension::Expansion => ("um/m/K", Some("1/°F")),
        Dimension::Time => (time_symbol(si), None),
        Dimension::Current if small(0.1) => ("mA", None),
        Dimension::Resistance if !small(1e5) => ("Mohm", None),
        // One unit for all trades: the first of the table.
        _ => (dimension.units().first().map_or("", Unit::symbol), None),
    }
}

fn time_symbol(seconds: f64) -> &'static str {
    match seconds.abs() {
        size if size < 120.0 => "s",
        size if size < 7200.0 => "min",
        size if size < 172_800.0 => "h",
        _ => "d",
    }
}

impl fmt::Display for Quantity {
    /// The usual metric unit, three significant digits: `30.5 kPa vacuum`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&in_unit(*self, echo_units(*self).0))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{echo, echo_entered, echo_symbols, short_number};
    use crate::quantity::{Dimension, Quantity, find_unit, parse};

    #[test]
    fn numbers_carry_no_noise() {
        for (value, text) in [
            (30.477_501, "30.5"),
            (9.0, "9"),
            (0.0, "0"),
            (-0.0, "0"),
            (1453.2, "1453"),
            (9.996, "10"),
            (0.012_345, "0.0123"),
            (-2.5, "-2.5"),
            (0.000_012_3, "1.23e-5"),
            (1.5e9, "1.5e9"),
            (100.0, "100"),
        ] {
            assert_eq!(short_number(value, 3), text);
        }
    }

    #[test]
    fn what_was_typed_is_read_back_in_two_units() {
        for (dimension, typed, echoed) in [
            (Dimension::GaugePressure, "9 inHg vac", "9 inHg vacuum = 30.5 kPa vacuum"),
            (Dimension::GaugePressure, "27 kPa vac", "27 kPa vacuum = 7.97 inHg vacuum"),
            (Dimension::GaugePressure, "2,5 bar", "2.5 bar gauge = 36.3 psi gauge"),
            (Dimension::AbsolutePressure, "14.7 psia", "14.7 psi abs = 101 kPa abs"),
            (Dimension::Flow, "4.5 US gpm", "4.5 US gpm = 1.02 m3/h"),
            (Dimension::Flow, "20 L/h", "20 L/h = 5.28 US gph"),
            (Dimension::Speed, "1450 rpm", "1450 rpm"),
            (Dimension::Speed, "24.5 rev/s", "24.5 rev/s = 1470 rpm"),
            (Dimension::Temperature, "140 °F", "140 °F = 60 °C"),
            (Dimension::TemperatureDifference, "10 °C", "10 °C difference = 18 °F difference"),
            (Dimension::Length, "6 thou", "6 thou = 152 um"),
            (Dimension::Length, "1 1/2 in", "1.5 in = 38.1 mm"),
            (Dimension::Angle, "45 deg", "45°"),
            (Dimension::Count, "7", "7"),
        ] {
            assert_eq!(echo_entered(&parse(typed, dimension, None).unwrap()), echoed);
        }
    }

    #[test]
    fn a_computed_value_is_shown_metric_first() {
        let vacuum = Quantity::of(Dimension::GaugePressure, -9.0, "inHg").unwrap();
        assert_eq!(echo(vacuum), "30.5 kPa vacuum = 9 inHg vacuum");
        assert_eq!(vacuum.to_string(), "30.5 kPa vacuum");
        assert_eq!(format!("{:>8}", Quantity::of(Dimension::Ratio, 85.0, "%").unwrap()), "    85 %");
    }

    #[test]
    fn every_echo_unit_is_in_the_table() {
        for dimension in Dimension::ALL {
            for si in [-1e9, -1.0, 0.0, 1e-9, 1e-5, 1e-2, 1.0, 1e3, 1e9] {
                let (metric, inch) = echo_symbols(dimension, si);
                assert!(find_unit(dimension, metric).is_some(), "{metric}");
                assert!(inch.is_none_or(|symbol| find_unit(dimension, symbol).is_some()));
            }
        }
    }
}
