//! What is wrong or doubtful about a typed value, turned into sentences that say what to type instead.

use std::fmt;
use std::ops::Range;

use thiserror::Error;

use super::dimension::Dimension;
use super::value::QuantityError;

/// Why a text is no quantity, and which bytes of it are to blame.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{problem}")]
pub struct ParseError {
    /// The offending bytes of the text, on character borders.
    pub range: Range<usize>,
    /// What is wrong.
    pub problem: ParseProblem,
}

/// What is wrong with a text that should be a number with a unit.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ParseProblem {
    /// Longer than [`super::MAX_CHARS`].
    #[error("too long: a number and a unit are enough")]
    TooLong,
    /// Control or invisible characters.
    #[error("a control character or an invisible one is in here; type it anew")]
    HiddenCharacter,
    /// Nothing, or no number at the front.
    #[error("{} begins with a number{}", .0.phrase(), usual(*.0, ", then "))]
    NoNumber(Dimension),
    /// Marks or fractions that make no sense.
    #[error("`{0}` cannot be read as a number")]
    UnreadableNumber(String),
    /// A second number behind the first.
    #[error("one number and one unit are asked for; `{0}` is more")]
    MoreThanOne(String),
    /// No unit and no default.
    #[error("the unit is missing{}", usual(*.0, "; write "))]
    MissingUnit(Dimension),
    /// No such unit anywhere.
    #[error("`{unit}` is no known unit{}", instead(*.asked, *.nearest))]
    UnknownUnit {
        /// As typed.
        unit: String,
        /// What was asked for.
        asked: Dimension,
        /// The symbol of the unit whose spelling is nearest.
        nearest: Option<&'static str>,
    },
    /// A unit of something else.
    #[error("`{unit}` is {}; this asks for {}{}", .is.phrase(), .asked.phrase(), usual(*.asked, ": use "))]
    OtherDimension {
        /// As typed.
        unit: String,
        /// What the unit measures.
        is: Dimension,
        /// What was asked for.
        asked: Dimension,
    },
    /// Gauge, absolute, vacuum or difference said where another is asked for.
    #[error("`{text}` is {}; this asks for {}: {}", .is.phrase(), asked_reference(*.asked), remedy(*.asked))]
    OtherReference {
        /// As typed.
        text: String,
        /// What was said.
        is: Reference,
        /// What was asked for.
        asked: Dimension,
    },
    /// A number that cannot be.
    #[error(transparent)]
    Impossible(#[from] QuantityError),
}

/// What a pressure is counted from, as far as it was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reference {
    /// Nothing was said.
    Unsaid,
    /// Above the local atmosphere.
    Gauge,
    /// Above nothing.
    Absolute,
    /// Below the local atmosphere.
    Vacuum,
    /// Between two places, or two temperatures.
    Difference,
}

impl Reference {
    /// In a sentence, with its article.
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::Unsaid => "unmarked",
            Self::Gauge => "a gauge value",
            Self::Absolute => "an absolute value",
            Self::Vacuum => "a vacuum",
            Self::Difference => "a difference",
        }
    }
}

/// Something that was understood one way and could be meant another. The screen shows it; a file may not have it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Doubt {
    /// A unit of several meanings: the sentence says which was taken and how to write the other.
    VagueUnit(&'static str),
    /// One mark before exactly three digits.
    UnclearMark {
        /// The reading taken.
        taken: String,
        /// The reading not taken.
        other: String,
    },
    /// A small `m` taken as mega.
    SmallM {
        /// As typed.
        typed: String,
        /// The symbol taken.
        taken: &'static str,
    },
    /// A positive value in a unit of vacuum dials, without `vac` or `gauge`.
    AboveAtmosphere {
        /// As typed, with its unit.
        taken: String,
    },
    /// Both a minus and `vac`.
    MinusAndVacuum {
        /// The vacuum taken.
        taken: String,
    },
    /// Outside of what is plausible here.
    OutsideRange {
        /// As entered, with its unit.
        entered: String,
        /// Low end of the plausible range.
        low: String,
        /// High end of the plausible range.
        high: String,
        /// The same number in a unit, or with a sign, that falls inside.
        did_you_mean: Option<String>,
    },
}

impl fmt::Display for Doubt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::VagueUnit(note) => f.write_str(note),
            Self::UnclearMark { taken, other } => {
                write!(f, "{taken} taken; write `{other}` if that is meant")
            }
            Self::SmallM { typed, taken } => write!(f, "`{typed}` taken as {taken}"),
            Self::AboveAtmosphere { taken } => write!(
                f,
                "{taken} above the atmosphere taken; write `{taken} vac` for a vacuum, `{taken} gauge` to confirm"
            ),
            Self::MinusAndVacuum { taken } => {
                write!(f, "minus and vacuum both said; {taken} taken")
            }
            Self::OutsideRange { entered, low, high, did_you_mean } => {
                write!(f, "{entered} is outside the plausible {low} to {high}")?;
                match did_you_mean {
                    Some(other) => write!(f, "; did you mean {other}?"),
                    None => Ok(()),
                }
            }
        }
    }
}

fn usual(dimension: Dimension, lead: &str) -> String {
    let units = dimension.usual_units();
    if units.is_empty() { units } else { format!("{lead}{units}") }
}

fn instead(asked: Dimension, nearest: Option<&str>) -> String {
    match nearest {
        Some(symbol) => format!("; did you mean `{symbol}`? Usual are {}", asked.usual_units()),
        None => usual(asked, "; use "),
    }
}

const fn asked_reference(asked: Dimension) -> &'static str {
    match asked {
        Dimension::GaugePressure => "a gauge pressure",
        other => other.phrase(),
    }
}

const fn remedy(asked: Dimension) -> &'static str {
    match asked {
        Dimension::GaugePressure => "take the barometer off first, or type what the gauge shows",
        Dimension::AbsolutePressure => "add the barometer first, and mark it `abs`",
        Dimension::PressureDifference => "type the difference of the two readings",
        _ => "leave the word away, or type the value itself",
    }
}

#[cfg(test)]
mod tests {
    use super::{Doubt, ParseProblem, Reference};
    use crate::quantity::Dimension;

    #[test]
    fn sentences_say_what_to_type() {
        let other = ParseProblem::OtherDimension {
            unit: "rpm".to_owned(),
            is: Dimension::Speed,
            asked: Dimension::GaugePressure,
        };
        assert_eq!(other.to_string(), "`rpm` is a speed; this asks for a pressure: use bar, kPa or psi");
        let unknown = ParseProblem::UnknownUnit {
            unit: "barr".to_owned(),
            asked: Dimension::GaugePressure,
            nearest: Some("bar"),
        };
        assert_eq!(unknown.to_string(), "`barr` is no known unit; did you mean `bar`? Usual are bar, kPa or psi");
        let absolute = ParseProblem::OtherReference {
            text: "psia".to_owned(),
            is: Reference::Absolute,
            asked: Dimension::GaugePressure,
        };
        assert_eq!(
            absolute.to_string(),
            "`psia` is an absolute value; this asks for a gauge pressure: take the barometer off first, or type what the gauge shows"
        );
        assert_eq!(ParseProblem::MissingUnit(Dimension::Count).to_string(), "the unit is missing");
    }

    #[test]
    fn doubts_offer_the_other_reading() {
        let doubt = Doubt::OutsideRange {
            entered: "36 bar".to_owned(),
            low: "1 bar".to_owned(),
            high: "5 bar".to_owned(),
            did_you_mean: Some("36 psi".to_owned()),
        };
        assert_eq!(doubt.to_string(), "36 bar is outside the plausible 1 bar to 5 bar; did you mean 36 psi?");
    }
}
