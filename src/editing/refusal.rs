//! Turns the reasons why an edit is not made into sentences that say what, where and what to do.

use crate::knowledge::{Problem, SourceText};
use thiserror::Error;

/// Why an edit is not made; nothing was changed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Refusal {
    /// It makes no sense as typed.
    #[error("{message}; {hint}")]
    Said {
        /// What is wrong.
        message: String,
        /// What to do.
        hint: String,
    },
    /// It is like this already.
    #[error("it is {is} already; nothing was changed")]
    Already {
        /// What stands there.
        is: String,
    },
    /// What it would touch cannot be written to.
    #[error("{file} is not in the folder, so it cannot be edited; `weephole knowledge unpack DIR` writes it out first")]
    NotInFolder {
        /// File of the built-in knowledge.
        file: String,
    },
    /// The result would not load.
    #[error("{}:{}:{}: {}; {}", problem.file, problem.line, problem.column, problem.message, problem.hint)]
    WouldNotLoad {
        /// What is wrong with the result.
        problem: Box<Problem>,
        /// The text it stands in, which is not saved.
        source_text: Box<SourceText>,
    },
}

impl Refusal {
    /// A refusal in words.
    pub fn said(message: String, hint: &str) -> Self {
        Self::Said { message, hint: hint.to_owned() }
    }
}
