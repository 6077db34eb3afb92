//! A unit as typed, turned into the unit it means and the factor to the unit a value is held in.
//!
//! Factors are kept as a product and a divisor, each an exact decimal wherever the definition allows,
//! so that "1450 rpm" is 1450 / 60 and not 1450 times a rounded sixtieth. Definitions after NIST SP 811
//! (2008), Appendix B; the entries themselves are in `table`.
//!
//! Capitals: an exact match wins; else capitals are ignored, but a lower-case `m` taken as mega (`mpa`) is a
//! doubt and a deliberate `mPa` where `MPa` is meant is refused, for the two differ by a thousand million.

use super::dimension::Dimension;
use super::table::{fluid, machine};

/// Which habit of writing a unit belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum System {
    /// SI and the units used with it.
    Metric,
    /// Inch, pound, gallon: where a comma parts thousands.
    InchPound,
}

/// One unit: `held value = (value + offset) * times / over`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    symbol: &'static str,
    spellings: &'static [&'static str],
    vague_spellings: &'static [&'static str],
    vague_note: &'static str,
    system: System,
    times: f64,
    over: f64,
    offset: f64,
    often_vacuum: bool,
}

/// How a spelling led to a unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitMatch {
    /// The unit meant.
    pub unit: &'static Unit,
    /// What to tell the writer when the spelling fits more than one unit, as bare `gpm` does.
    pub vague: Option<&'static str>,
    /// A small `m` was taken as mega.
    pub small_m_as_mega: bool,
}

impl Unit {
    pub(super) const fn metric(
        symbol: &'static str,
        spellings: &'static [&'static str],
        times: f64,
        over: f64,
    ) -> Self {
        Self {
            symbol,
            spellings,
            vague_spellings: &[],
            vague_note: "",
            system: System::Metric,
            times,
            over,
            offset: 0.0,
            often_vacuum: false,
        }
    }

    pub(super) const fn inch_pound(
        symbol: &'static str,
        spellings: &'static [&'static str],
        times: f64,
        over: f64,
    ) -> Self {
        let mut unit = Self::metric(symbol, spellings, times, over);
        unit.system = System::InchPound;
        unit
    }

    /// Spellings taken for this unit with a note that something else may be meant.
    #[must_use]
    pub(super) const fn vague(mut self, spellings: &'static [&'static str], note: &'static str) -> Self {
        self.vague_spellings = spellings;
        self.vague_note = note;
        self
    }

    /// What is added to the typed value before scaling (thermometer zero points).
    #[must_use]
    pub(super) const fn offset(mut self, offset: f64) -> Self {
        self.offset = offset;
        self
    }

    /// A unit that mostly stands on vacuum dials, so that a bare positive value is questioned.
    #[must_use]
    pub(super) const fn on_vacuum_dials(mut self) -> Self {
        self.often_vacuum = true;
        self
    }

    /// As printed, such as `m3/h`. Empty for a plain count.
    pub const fn symbol(&self) -> &'static str {
        self.symbol
    }

    /// Everyday spellings without blanks, beside the symbol.
    pub const fn spellings(&self) -> &'static [&'static str] {
        self.spellings
    }

    /// Spellings that are taken for this unit but could mean another.
    pub const fn vague_spellings(&self) -> &'static [&'static str] {
        self.vague_spellings
    }

    /// Metric or inch-pound.
    pub const fn system(&self) -> System {
        self.system
    }

    /// Whether it mostly stands on vacuum dials (inHg, mmHg, torr).
    pub const fn often_vacuum(&self) -> bool {
        self.often_vacuum
    }

    /// From a value in this unit to the unit it is held in. Not finite when the value is too large.
    pub const fn to_si(&self, value: f64) -> f64 {
        (value + self.offset) * self.times / self.over
    }

    /// From a held value to a value in this unit. Not finite when the value is too large.
    // The name pairs with `to_si`; the unit, not the number, is what it is called on.
    #[allow(clippy::wrong_self_convention)]
    pub const fn from_si(&self, si: f64) -> f64 {
        si * self.over / self.times - self.offset
    }
}

/// The units of a dimension, the most usual first.
pub const fn units_of(dimension: Dimension) -> &'static [Unit] {
    match dimension {
        Dimension::GaugePressure | Dimension::AbsolutePressure | Dimension::PressureDifference => fluid::PRESSURE,
        Dimension::Flow => fluid::FLOW,
        Dimension::Frequency => machine::FREQUENCY,
        Dimension::Speed => machine::SPEED,
        Dimension::Length => machine::LENGTH,
        Dimension::Area => machine::AREA,
        Dimension::Volume => fluid::VOLUME,
        Dimension::Temperature => fluid::TEMPERATURE,
        Dimension::TemperatureDifference => fluid::TEMPERATURE_DIFFERENCE,
        Dimension::Time => fluid::TIME,
        Dimension::Current => machine::CURRENT,
        Dimension::Voltage => machine::VOLTAGE,
        Dimension::Resistance => machine::RESISTANCE,
        Dimension::Power => machine::POWER,
        Dimension::Energy => machine::ENERGY,
        Dimension::Torque => machine::TORQUE,
        Dimension::Force => machine::FORCE,
        Dimension::Mass => machine::MASS,
        Dimension::Density => fluid::DENSITY,
        Dimension::ViscosityKinematic => fluid::VISCOSITY_KINEMATIC,
        Dimension::ViscosityDynamic => fluid::VISCOSITY_DYNAMIC,
        Dimension::Ratio => fluid::RATIO,
        Dimension::Velocity => fluid::VELOCITY,
        Dimension::Acceleration => machine::ACCELERATION,
        Dimension::Angle => machine::ANGLE,
        Dimension::Stiffness => machine::STIFFNESS,
        Dimension::Count => fluid::COUNT,
        Dimension::Number => fluid::NUMBER,
        Dimension::Compressibility => fluid::COMPRESSIBILITY,
        Dimension::Expansion => machine::EXPANSION,
    }
}

/// The unit a spelling names in a dimension; `None` when unknown there.
pub fn find_unit(dimension: Dimension, text: &str) -> Option<&'static Unit> {
    match_unit(dimension, text).map(|found| found.unit)
}

/// As [`find_unit`], with what is doubtful about the spelling.
pub fn match_unit(dimension: Dimension, text: &str) -> Option<UnitMatch> {
    let wanted = plain_spelling(text);
    match_by(dimension, |spelling| plain_spelling(spelling) == wanted)
        .or_else(|| match_ignoring_case(dimension, &wanted))
}

/// The first dimension that knows a unit of this spelling; one that knows it for sure goes before one that guesses.
pub fn dimension_of_unit(text: &str) -> Option<Dimension> {
    let known = |sure: bool| {
        Dimension::ALL
            .into_iter()
            .find(|dimension| match_unit(*dimension, text).is_some_and(|found| found.vague.is_none() || !sure))
    };
    known(true).or_else(|| known(false))
}

/// The symbol whose spelling comes nearest to a mistyped one, if any comes near.
pub fn nearest_unit(dimension: Dimension, text: &str) -> Option<&'static str> {
    let wanted = plain_spelling(text).to_lowercase();
    let most = if wanted.chars().count() < 4 { 1 } else { 2 };
    units_of(dimension)
        .iter()
        .flat_map(|unit| all_spellings(unit).map(move |spelling| (unit, spelling)))
        .filter(|(_, spelling)| 1 < spelling.chars().count())
        .map(|(unit, spelling)| {
            let spelling = plain_spelling(spelling).to_lowercase();
            (strsim::damerau_levenshtein(&wanted, &spelling), unit.symbol)
        })
        .filter(|(distance, _)| *distance <= most)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, symbol)| symbol)
}

/// A spelling without blanks, dots, middle dots, hyphens and carets, and with the plain form of each
/// special sign: `m³/h` gives `m3/h`, `N·m` gives `Nm`, `in. Hg` gives `inHg`.
pub fn plain_spelling(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars().filter(|c| !c.is_whitespace()) {
        match letter {
            '.' | '·' | '⋅' | '*' | '-' | '^' => {}
            '²' | '₂' => plain.push('2'),
            '³' => plain.push('3'),
            'µ' | 'μ' => plain.push('u'),
            '″' | '”' | '“' => plain.push('"'),
            '′' | '’' | '‘' => plain.push('\''),
            'º' | '˚' => plain.push('°'),
            'Ω' | '\u{2126}' => plain.push_str("ohm"),
            '℃' => plain.push_str("°C"),
            '℉' => plain.push_str("°F"),
            other => plain.push(other),
        }
    }
    plain
}

fn all_spellings(unit: &'static Unit) -> impl Iterator<Item = &'static str> {
    std::iter::once(unit.symbol).chain(unit.spellings.iter().copied()).chain(unit.vague_spellings.iter().copied())
}

fn match_by(dimension: Dimension, same: impl Fn(&str) -> bool) -> Option<UnitMatch> {
    units_of(dimension).iter().find_map(|unit| {
        let clear = same(unit.symbol) || unit.spellings.iter().any(|spelling| same(spelling));
        let vague = !clear && unit.vague_spellings.iter().any(|spelling| same(spelling));
        (clear || vague).then_some(UnitMatch { unit, vague: vague.then_some(unit.vague_note), small_m_as_mega: false })
    })
}

fn match_ignoring_case(dimension: Dimension, wanted: &str) -> Option<UnitMatch> {
    let folded = wanted.to_lowercase();
    let mut found = match_by(dimension, |spelling| plain_spelling(spelling).to_lowercase() == folded)?;
    let small_m_as_mega = found.unit.symbol.starts_with('M') && wanted.starts_with('m');
    if small_m_as_mega && wanted.chars().any(char::is_uppercase) {
        return None;
    }
    found.small_m_as_mega = small_m_as_mega;
    Some(found)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{all_spellings, dimension_of_unit, find_unit, match_unit, nearest_unit, plain_spelling};
    use crate::quantity::Dimension;

    #[test]
    fn spellings_lead_to_symbols() {
        for (dimension, typed, symbol) in [
            (Dimension::Flow, "m³/h", "m3/h"),
            (Dimension::Flow, "l/min", "L/min"),
            (Dimension::Flow, "US gal/min", "US gpm"),
            (Dimension::Flow, "imp. gpm", "imp gpm"),
            (Dimension::GaugePressure, "in. Hg", "inHg"),
            (Dimension::GaugePressure, "\"Hg", "inHg"),
            (Dimension::GaugePressure, "KPA", "kPa"),
            (Dimension::GaugePressure, "kg/cm²", "kgf/cm2"),
            (Dimension::Torque, "N·m", "N m"),
            (Dimension::Torque, "ft-lbs", "lbf ft"),
            (Dimension::Torque, "lb-in", "lbf in"),
            (Dimension::Length, "µm", "um"),
            (Dimension::Length, "″", "in"),
            (Dimension::Temperature, "deg C", "°C"),
            (Dimension::Resistance, "MΩ", "Mohm"),
            (Dimension::Speed, "min-1", "rpm"),
        ] {
            assert_eq!(find_unit(dimension, typed).map(super::Unit::symbol), Some(symbol), "{typed}");
        }
    }

    #[test]
    fn milli_and_mega_are_not_mixed_up() {
        let mega = match_unit(Dimension::GaugePressure, "mpa").unwrap();
        assert_eq!(mega.unit.symbol(), "MPa");
        assert!(mega.small_m_as_mega);
        assert!(match_unit(Dimension::GaugePressure, "mPa").is_none());
        assert!(!match_unit(Dimension::GaugePressure, "MBAR").unwrap().small_m_as_mega);
        assert_eq!(nearest_unit(Dimension::GaugePressure, "mPa"), Some("MPa"));
    }

    #[test]
    fn a_slip_of_the_finger_is_understood() {
        assert_eq!(nearest_unit(Dimension::GaugePressure, "barr"), Some("bar"));
        assert_eq!(nearest_unit(Dimension::GaugePressure, "pis"), Some("psi"));
        assert_eq!(nearest_unit(Dimension::Flow, "m2/h"), Some("m3/h"));
        assert_eq!(nearest_unit(Dimension::Flow, "elephant"), None);
    }

    #[test]
    fn a_unit_is_called_by_its_first_dimension() {
        assert_eq!(dimension_of_unit("rpm"), Some(Dimension::Speed));
        assert_eq!(dimension_of_unit("Hz"), Some(Dimension::Frequency));
        assert_eq!(dimension_of_unit("inches"), Some(Dimension::Length));
        assert_eq!(dimension_of_unit("furlong"), None);
    }

    #[test]
    fn every_dimension_has_one_unit_per_spelling_and_one_it_is_held_in() {
        for dimension in Dimension::ALL {
            let mut seen: Vec<(String, &str)> = Vec::new();
            for unit in dimension.units() {
                for spelling in all_spellings(unit) {
                    let plain = plain_spelling(spelling).to_lowercase();
                    let clash = seen.iter().any(|(s, symbol)| *s == plain && *symbol != unit.symbol());
                    assert!(!clash, "{spelling} in {dimension}");
                    seen.push((plain, unit.symbol()));
                }
            }
            let held = |unit: &super::Unit| {
                (unit.to_si(1.0) - 1.0).abs() < f64::EPSILON && unit.to_si(0.0).abs() < f64::EPSILON
            };
            assert!(dimension.units().iter().any(held), "{dimension}");
        }
    }
}
