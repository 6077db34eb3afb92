//! An entered value and what can be expected here, turned into a verdict: plausible, doubtful or impossible.

use thiserror::Error;

use super::dimension::Dimension;
use super::echo::{as_typed, exact_number, in_unit, with_reference};
use super::parse::Parsed;
use super::problem::Doubt;
use super::units::Unit;
use super::value::{Quantity, QuantityError};

/// Standard atmosphere, Pa, exact (NIST SP 811, Appendix B.8): no vacuum at a pump is deeper.
///
/// A barometer can stand some per cent higher in a strong high at sea level, but the vapour pressure and the
/// dial errors eat that up.
pub const STANDARD_ATMOSPHERE_PA: f64 = 101_325.0;

/// What to do with an entered value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// Take it.
    Plausible,
    /// Ask back, then take it if it stands.
    Doubtful(Doubt),
    /// Do not take it.
    Impossible(Impossible),
}

/// A vacuum deeper than there is air to remove.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{entered}: no gauge can show more vacuum than the barometer less the vapour pressure{}", question(.did_you_mean.as_deref()))]
pub struct Impossible {
    /// As entered, with its unit.
    pub entered: String,
    /// The same number in a unit in which it could be.
    pub did_you_mean: Option<String>,
}

/// The ends of what is plausible, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlausibleRange {
    low: Quantity,
    high: Quantity,
}

impl PlausibleRange {
    /// A range from two quantities of the same dimension.
    ///
    /// # Errors
    /// [`QuantityError::WrongDimension`] or [`QuantityError::EmptyRange`].
    pub fn new(low: Quantity, high: Quantity) -> Result<Self, QuantityError> {
        high.checked_as(low.dimension())?;
        if high.si() < low.si() {
            return Err(QuantityError::EmptyRange);
        }
        Ok(Self { low, high })
    }

    /// The low end.
    pub const fn low(&self) -> Quantity {
        self.low
    }

    /// The high end.
    pub const fn high(&self) -> Quantity {
        self.high
    }

    /// Whether the quantity is of this dimension and inside.
    pub fn contains(&self, quantity: Quantity) -> bool {
        quantity.dimension() == self.low.dimension()
            && self.low.si() <= quantity.si()
            && quantity.si() <= self.high.si()
    }
}

/// Judges an entered value by what can be at all and, where the caller knows one, by a plausible range.
pub fn judge(parsed: &Parsed, range: Option<&PlausibleRange>) -> Verdict {
    if too_deep(parsed.quantity) {
        return Verdict::Impossible(Impossible {
            entered: entered_text(parsed),
            did_you_mean: same_number_elsewhere(parsed, |other| {
                !too_deep(other) && range.is_none_or(|range| range.contains(other))
            }),
        });
    }
    match range {
        Some(range) if !range.contains(parsed.quantity) => Verdict::Doubtful(outside(parsed, range)),
        _ => Verdict::Plausible,
    }
}

/// Whether a gauge pressure lies more than one standard atmosphere below the atmosphere.
pub fn too_deep(quantity: Quantity) -> bool {
    quantity.dimension() == Dimension::GaugePressure && quantity.si() < -STANDARD_ATMOSPHERE_PA
}

fn outside(parsed: &Parsed, range: &PlausibleRange) -> Doubt {
    let unit = parsed.entered.unit;
    Doubt::OutsideRange {
        entered: entered_text(parsed),
        low: in_unit(range.low, unit),
        high: in_unit(range.high, unit),
        did_you_mean: same_number_elsewhere(parsed, |other| range.contains(other)),
    }
}

/// The first unit of the table, or the other sign of a gauge, in which the same number fits.
fn same_number_elsewhere(parsed: &Parsed, fits: impl Fn(Quantity) -> bool) -> Option<String> {
    let (value, unit) = (parsed.entered.value, parsed.entered.unit);
    let dimension = parsed.quantity.dimension();
    let tried = |value: f64, unit: &Unit| {
        let other = Quantity::from_unit(dimension, value, unit).ok()?;
        fits(other).then(|| as_typed(value, unit, dimension))
    };
    let other_sign = (dimension == Dimension::GaugePressure).then_some((-value, unit));
    let other_units = dimension.units().iter().filter(|other| other.symbol() != unit.symbol());
    other_sign.into_iter().chain(other_units.map(|other| (value, other))).find_map(|(value, unit)| tried(value, unit))
}

fn entered_text(parsed: &Parsed) -> String {
    with_reference(parsed.entered.value, parsed.entered.unit, parsed.quantity.dimension(), exact_number)
}

fn question(did_you_mean: Option<&str>) -> String {
    did_you_mean.map_or_else(String::new, |other| format!("; did you mean {other}?"))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{PlausibleRange, Verdict, judge};
    use crate::quantity::{Dimension, Quantity, parse};

    fn gauge_range(low: f64, high: f64) -> PlausibleRange {
        let end = |kpa| Quantity::of(Dimension::GaugePressure, kpa, "kPa").unwrap();
        PlausibleRange::new(end(low), end(high)).unwrap()
    }

    fn verdict(text: &str, range: Option<&PlausibleRange>) -> String {
        match judge(&parse(text, Dimension::GaugePressure, None).unwrap(), range) {
            Verdict::Plausible => "plausible".to_owned(),
            Verdict::Doubtful(doubt) => doubt.to_string(),
            Verdict::Impossible(why) => why.to_string(),
        }
    }

    #[test]
    fn no_vacuum_is_deeper_than_the_atmosphere() {
        let limit = "no gauge can show more vacuum than the barometer less the vapour pressure";
        assert_eq!(verdict("29.9 inHg vac", None), "plausible");
        assert_eq!(verdict("101.325 kPa vac", None), "plausible");
        assert!(verdict("101.4 kPa vac", None).contains(limit));
        let suction = gauge_range(-90.0, 20.0);
        assert_eq!(
            verdict("30 psi vac", Some(&suction)),
            format!("30 psi vacuum: {limit}; did you mean 30 kPa vacuum?")
        );
    }

    #[test]
    fn the_likelier_unit_is_offered() {
        let filter = gauge_range(100.0, 500.0);
        assert_eq!(
            verdict("36 bar", Some(&filter)),
            "36 bar gauge is outside the plausible 1 bar gauge to 5 bar gauge; did you mean 36 psi?"
        );
        assert_eq!(verdict("36 psi", Some(&filter)), "plausible");
    }

    #[test]
    fn a_forgotten_vacuum_is_offered() {
        let suction = gauge_range(-60.0, 0.0);
        assert!(verdict("27 kPa", Some(&suction)).ends_with("did you mean 27 kPa vacuum?"));
    }

    #[test]
    fn ranges_are_checked_once() {
        let low = Quantity::of(Dimension::Flow, 1.0, "m3/h").unwrap();
        let high = Quantity::of(Dimension::Flow, 2.0, "m3/h").unwrap();
        assert!(PlausibleRange::new(high, low).is_err());
        assert!(PlausibleRange::new(low, Quantity::new(Dimension::Speed, 1.0).unwrap()).is_err());
        let range = PlausibleRange::new(low, high).unwrap();
        assert!(range.contains(range.low()) && range.contains(range.high()));
    }
}
