//! Turns what a technician types or a file holds into checked quantities, and quantities back into text.
//!
//! The way of the data:
//! 1. text, `"9 inHg vac"`, goes through [`parse`] (or [`parse_strict`] from a file), with the [`Dimension`] asked for;
//! 2. a [`Parsed`] comes out: the value, the number and unit as typed, and every [`Doubt`] about the reading;
//! 3. [`judge`] says whether it can be, and whether it is plausible here;
//! 4. the [`Quantity`] inside is finite and held in SI (see [`Dimension`] for the unit of each);
//! 5. arithmetic takes it as a type of its own, such as [`GaugePressure`], which asks for the barometer;
//! 6. [`echo_entered`] and [`echo`] print it in two units, [`exact_text`] for a file.
//!
//! Units and factors: NIST SP 811 (2008), Appendix B; a gauge pressure is held above the local atmosphere, so
//! a vacuum is negative; rotation is held in revolutions per second.

mod dimension;
mod echo;
mod number;
mod parse;
mod plausible;
mod problem;
mod serial;
mod table;
mod typed;
mod units;
mod value;

#[cfg(test)]
mod tests;

pub use dimension::Dimension;
pub use echo::{echo, echo_entered, echo_text, in_unit, short_number};
pub use parse::{Entered, MAX_CHARS, Parsed, parse};
pub use plausible::{Impossible, PlausibleRange, STANDARD_ATMOSPHERE_PA, Verdict, judge, too_deep};
pub use problem::{Doubt, ParseError, ParseProblem, Reference};
pub use serial::{StrictError, exact_text, parse_strict};
pub use typed::{
    AbsolutePressure, Area, Current, Density, DynamicViscosity, Flow, Force, Frequency, GaugePressure,
    KinematicViscosity, Length, Mass, Power, PressureDifference, Ratio, Speed, Temperature, TemperatureDifference,
    Time, Torque, Vacuum, Velocity, Volume,
};
pub use units::{System, Unit, find_unit};
pub use value::{Quantity, QuantityError};
