//! Turns one of the seven answers into what it says about a finding.

use crate::knowledge::schema::AnswerError;
use serde::{Deserialize, Serialize};

/// Share of "probably" answers that are right. From memory of the five-step virtual-evidence scale of diagnostic aids.
const PROBABLY: f64 = 0.75;

/// The seven answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// Yes.
    Yes,
    /// Probably.
    ProbablyYes,
    /// Looked, cannot tell.
    CantTell,
    /// Probably not.
    ProbablyNo,
    /// No.
    No,
    /// Cannot be checked now.
    CantCheck,
    /// Does not apply to this pump.
    NotApplicable,
}

impl Answer {
    /// All seven, in the order of the keys.
    pub const ALL: [Self; 7] = [
        Self::Yes,
        Self::ProbablyYes,
        Self::CantTell,
        Self::ProbablyNo,
        Self::No,
        Self::CantCheck,
        Self::NotApplicable,
    ];

    /// As said.
    pub fn words(self) -> &'static str {
        match self {
            Self::Yes => "yes",
            Self::ProbablyYes => "probably",
            Self::CantTell => "can't tell",
            Self::ProbablyNo => "probably not",
            Self::No => "no",
            Self::CantCheck => "can't check now",
            Self::NotApplicable => "does not apply",
        }
    }

    /// True for yes and probably.
    pub fn leans_yes(self) -> bool {
        matches!(self, Self::Yes | Self::ProbablyYes)
    }

    /// True if nobody looked: it cannot be checked now, or is not there.
    pub fn is_left_out(self) -> bool {
        matches!(self, Self::CantCheck | Self::NotApplicable)
    }

    /// True if the answer says something about the pump.
    pub fn speaks(self) -> bool {
        matches!(self, Self::Yes | Self::ProbablyYes | Self::ProbablyNo | Self::No)
    }

    /// Probability of this answer where the answer's leaf is true, and where it is false; `None` where it says nothing.
    ///
    /// The error of a plain answer is part of the leaf (see [`answered`]), so a plain "no" is a product over the parents.
    pub fn likelihood(self) -> Option<(f64, f64)> {
        match self {
            Self::Yes => Some((1.0, 0.0)),
            Self::No => Some((0.0, 1.0)),
            Self::ProbablyYes => Some((PROBABLY, 1.0 - PROBABLY)),
            Self::ProbablyNo => Some((1.0 - PROBABLY, PROBABLY)),
            Self::CantTell | Self::CantCheck | Self::NotApplicable => None,
        }
    }
}

/// A finding as it is answered: each parent is missed with the finding's `missed` rate of its own, and a yes comes out
/// of nothing with its `false_yes` rate. With one parent present this is the usual two-way error; with several, each
/// gives one more chance to notice.
pub fn answered(leaf: &crate::belief::Leaf, error: AnswerError) -> crate::belief::Leaf {
    crate::belief::Leaf {
        leak: 1.0 - (1.0 - leaf.leak) * (1.0 - error.false_yes),
        parents: leaf.parents.iter().map(|&(parent, strength)| (parent, strength * (1.0 - error.missed))).collect(),
    }
}
