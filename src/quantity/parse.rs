//! What a technician types, turned into a quantity and the doubts about how it was understood.
//!
//! Two rules a reader would question:
//! - `1,450`: one comma before exactly three digits parts thousands when the dimension is counted in whole
//!   numbers (speed, count) or the unit is an inch-pound one, whose writers use a decimal point; else it is a
//!   decimal comma. `1.450` always has a decimal point. The other reading is offered as a doubt (for the
//!   point only where whole numbers are usual).
//! - `8 inHg` asked for as gauge pressure is 8 inHg *above* the atmosphere, with a doubt: never a silent sign.

use super::dimension::Dimension;
use super::echo::as_typed;
use super::number::{Grouped, Number, NumberFault, is_minus, read_number, skip_blanks};
use super::problem::{Doubt, ParseError, ParseProblem, Reference};
use super::units::{System, Unit, UnitMatch, dimension_of_unit, match_unit, nearest_unit, plain_spelling};
use super::value::Quantity;

/// The longest text taken, in characters.
pub const MAX_CHARS: usize = 64;

/// A typed value, understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Parsed {
    /// The value.
    pub quantity: Quantity,
    /// The number and unit it was typed in.
    pub entered: Entered,
    /// What could be meant otherwise; shown to the writer, never dropped in silence.
    pub doubts: Vec<Doubt>,
}

/// The number and the unit as typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entered {
    /// In `unit`; a vacuum is negative.
    pub value: f64,
    /// As found in the table.
    pub unit: &'static Unit,
}

/// Reads a number with its unit.
///
/// `default_unit` stands in for a unit that is not typed; it may be marked, as in `inHg vac`.
///
/// # Errors
/// A [`ParseError`] whose range points at the bytes of `text` to blame (all of it when the default is).
pub fn parse(text: &str, dimension: Dimension, default_unit: Option<&str>) -> Result<Parsed, ParseError> {
    refuse_odd_text(text)?;
    let number = read_number(text).map_err(|fault| number_error(text, dimension, fault))?;
    let start = skip_blanks(text, number.end);
    let typed = text[start..].trim_end();
    let whole = start..start + typed.len();
    let fail = |problem| ParseError { range: whole.clone(), problem };
    let meant = read_unit(typed, dimension, default_unit)
        .and_then(|meant| fitting_reference(meant, dimension))
        .map_err(fail)?;
    build(number, &meant, dimension).map_err(|problem| ParseError { range: 0..text.len(), problem })
}

/// The unit and what was said beside it.
struct Meant {
    found: UnitMatch,
    reference: Reference,
    typed: String,
}

fn refuse_odd_text(text: &str) -> Result<(), ParseError> {
    let fail = |range, problem| Err(ParseError { range, problem });
    if let Some((at, _)) = text.char_indices().nth(MAX_CHARS) {
        return fail(at..text.len(), ParseProblem::TooLong);
    }
    match text.char_indices().find(|(_, letter)| is_hidden(*letter)) {
        Some((at, letter)) => fail(at..at + letter.len_utf8(), ParseProblem::HiddenCharacter),
        None => Ok(()),
    }
}

/// Control characters, and the marks that hide or turn text round (Unicode bidirectional and zero-width ones).
fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}')
}

fn number_error(text: &str, dimension: Dimension, fault: NumberFault) -> ParseError {
    match fault {
        NumberFault::None => ParseError { range: 0..text.len(), problem: ParseProblem::NoNumber(dimension) },
        NumberFault::Unreadable(range) => {
            ParseError { problem: ParseProblem::UnreadableNumber(text[range.clone()].to_owned()), range }
        }
    }
}

fn read_unit(typed: &str, dimension: Dimension, default_unit: Option<&str>) -> Result<Meant, ParseProblem> {
    let plain = plain_spelling(typed);
    if let Some(meant) = marked_unit(&plain, typed, dimension) {
        return Ok(meant);
    }
    // Only `vac` or `abs` was typed, or nothing at all: the default unit is meant.
    let said = if plain.is_empty() { Some(Reference::Unsaid) } else { bare_mark(&plain, dimension) };
    match (said, default_unit) {
        (Some(said), Some(default)) => {
            let mut meant = marked_unit(&plain_spelling(default), default, dimension)
                .ok_or_else(|| unit_problem(default, dimension))?;
            if said != Reference::Unsaid {
                meant.reference = said;
            }
            Ok(meant)
        }
        (Some(_), None) => Err(ParseProblem::MissingUnit(dimension)),
        (None, _) => Err(unit_problem(typed, dimension)),
    }
}

/// A unit, alone or with a mark behind it. The unit alone comes first: `Pa` is no absolute `P`.
fn marked_unit(plain: &str, typed: &str, dimension: Dimension) -> Option<Meant> {
    let meant = |found, reference| Meant { found, reference, typed: typed.to_owned() };
    if let Some(found) = match_unit(dimension, plain) {
        return Some(meant(found, Reference::Unsaid));
    }
    marks(dimension).iter().find_map(|(mark, reference)| {
        let found = match_unit(dimension, without_mark(plain, mark)?)?;
        Some(meant(found, *reference))
    })
}

fn bare_mark(plain: &str, dimension: Dimension) -> Option<Reference> {
    marks(dimension).iter().find(|(mark, _)| plain.eq_ignore_ascii_case(mark)).map(|(_, reference)| *reference)
}

fn without_mark<'a>(plain: &'a str, mark: &str) -> Option<&'a str> {
    let cut = plain.len().checked_sub(mark.len()).filter(|cut| 0 < *cut)?;
    let (unit, tail) = (plain.get(..cut)?, plain.get(cut..)?);
    tail.eq_ignore_ascii_case(mark).then_some(unit)
}

/// The marks understood behind a unit, longest first where one ends in another.
const fn marks(dimension: Dimension) -> &'static [(&'static str, Reference)] {
    match dimension {
        Dimension::GaugePressure | Dimension::AbsolutePressure | Dimension::PressureDifference => PRESSURE_MARKS,
        Dimension::Temperature | Dimension::TemperatureDifference => DIFFERENCE_MARKS,
        _ => &[],
    }
}

const PRESSURE_MARKS: &[(&str, Reference)] = &[
    ("vacuum", Reference::Vacuum),
    ("(vac)", Reference::Vacuum),
    ("vac", Reference::Vacuum),
    ("(v)", Reference::Vacuum),
    ("absolute", Reference::Absolute),
    ("(abs)", Reference::Absolute),
    ("abs", Reference::Absolute),
    ("(a)", Reference::Absolute),
    ("gauge", Reference::Gauge),
    ("gage", Reference::Gauge),
    ("(g)", Reference::Gauge),
    ("difference", Reference::Difference),
    ("diff", Reference::Difference),
    ("(d)", Reference::Difference),
    ("a", Reference::Absolute),
    ("g", Reference::Gauge),
    ("d", Reference::Difference),
];

const DIFFERENCE_MARKS: &[(&str, Reference)] =
    &[("difference", Reference::Difference), ("diff", Reference::Difference)];

fn unit_problem(typed: &str, asked: Dimension) -> ParseProblem {
    let unit = typed.to_owned();
    let begins_like_a_number = |c: char| c.is_ascii_digit() || is_minus(c) || matches!(c, '.' | ',' | '+' | '/');
    if let Some(is) = dimension_of_unit(typed) {
        return ParseProblem::OtherDimension { unit, is, asked };
    }
    if let Some(is) = pressure_mark_elsewhere(typed, asked) {
        return ParseProblem::OtherDimension { unit, is, asked };
    }
    if typed.starts_with(begins_like_a_number) {
        return ParseProblem::MoreThanOne(unit);
    }
    ParseProblem::UnknownUnit { nearest: nearest_unit(asked, typed), unit, asked }
}

/// `psig` where a flow is asked for: a pressure, though no table holds the word.
fn pressure_mark_elsewhere(typed: &str, asked: Dimension) -> Option<Dimension> {
    let plain = plain_spelling(typed);
    let other = marked_unit(&plain, typed, Dimension::GaugePressure).filter(|_| !asked.is_pressure())?;
    Some(match other.reference {
        Reference::Absolute => Dimension::AbsolutePressure,
        Reference::Difference => Dimension::PressureDifference,
        _ => Dimension::GaugePressure,
    })
}

fn build(number: Number, meant: &Meant, dimension: Dimension) -> Result<Parsed, ParseProblem> {
    let unit = meant.found.unit;
    let mut doubts = unit_doubts(meant);
    let (mut value, mark_doubt) = settle_mark(number, unit, dimension);
    doubts.extend(mark_doubt);
    if meant.reference == Reference::Vacuum {
        if value < 0.0 {
            doubts.push(Doubt::MinusAndVacuum { taken: as_typed(value, unit, dimension) });
        }
        value = -value.abs();
    } else if questionable_sign(value, meant, dimension) {
        doubts.push(Doubt::AboveAtmosphere { taken: as_typed(value, unit, dimension) });
    }
    let quantity = Quantity::from_unit(dimension, value, unit)?;
    Ok(Parsed { quantity, entered: Entered { value, unit }, doubts })
}

fn fitting_reference(meant: Meant, asked: Dimension) -> Result<Meant, ParseProblem> {
    let fits = match meant.reference {
        Reference::Unsaid => true,
        Reference::Gauge | Reference::Vacuum => asked == Dimension::GaugePressure,
        Reference::Absolute => asked == Dimension::AbsolutePressure,
        Reference::Difference => matches!(asked, Dimension::PressureDifference | Dimension::TemperatureDifference),
    };
    if fits {
        return Ok(meant);
    }
    Err(ParseProblem::OtherReference { text: meant.typed, is: meant.reference, asked })
}

fn unit_doubts(meant: &Meant) -> Vec<Doubt> {
    let said_vacuum = meant.reference == Reference::Vacuum;
    // On a vacuum dial, inches are inches of mercury.
    let vague = meant.found.vague.filter(|_| !said_vacuum).map(Doubt::VagueUnit);
    let small_m = meant
        .found
        .small_m_as_mega
        .then(|| Doubt::SmallM { typed: meant.typed.clone(), taken: meant.found.unit.symbol() });
    vague.into_iter().chain(small_m).collect()
}

/// Settles `1,450` by the rule at the top of this file.
fn settle_mark(number: Number, unit: &Unit, dimension: Dimension) -> (f64, Option<Doubt>) {
    let Some(Grouped { value: grouped, mark }) = number.grouped else {
        return (number.value, None);
    };
    let whole_numbers_usual = matches!(dimension, Dimension::Speed | Dimension::Count);
    let take_grouped = mark == ',' && (whole_numbers_usual || unit.system() == System::InchPound);
    let (taken, other) = if take_grouped { (grouped, number.value) } else { (number.value, grouped) };
    let doubtful = mark == ',' || whole_numbers_usual;
    let doubt = doubtful.then(|| Doubt::UnclearMark {
        taken: as_typed(taken, unit, dimension),
        other: as_typed(other, unit, dimension),
    });
    (taken, doubt)
}

fn questionable_sign(value: f64, meant: &Meant, dimension: Dimension) -> bool {
    dimension == Dimension::GaugePressure
        && 0.0 < value
        && meant.reference == Reference::Unsaid
        && meant.found.unit.often_vacuum()
}
