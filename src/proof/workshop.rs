//! Turns edits into drafts that can be read, proved, accepted or dropped: what the bench needs of whoever keeps the files.

use super::flips::Proof;
use super::told::told;
use crate::editing::Edit;
use crate::knowledge::Knowledge;
use std::rc::Rc;

/// An edit that is made in memory and waits to be accepted.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Drafted {
    /// The change in words.
    pub words: Vec<String>,
    /// Problems that are new or gone, one a text.
    pub problems: Vec<String>,
    /// Files that it touches.
    pub files: Vec<String>,
    /// True if a second person has to read it.
    pub safety: bool,
}

/// What the cases say to a draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proven {
    /// Line by line.
    pub lines: Vec<String>,
    /// Cases that get worse.
    pub worse: usize,
}

impl Proven {
    /// A proof in words.
    pub fn of(knowledge: &Knowledge, proof: &Proof) -> Self {
        Self { lines: told(knowledge, proof), worse: proof.worse().len() }
    }
}

/// What was found when the files were looked at again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Noticed {
    /// Somebody changed them; they were read again. What changed, in words.
    ReadAgain(String),
    /// Somebody changed them so that they cannot be used; the last good knowledge stays. What is wrong, in words.
    Broken(String),
}

/// A knowledge folder that is worked on. One draft at a time.
pub trait Workshop {
    /// The last good knowledge.
    fn knowledge(&self) -> Rc<Knowledge>;
    /// Where the files are, as shown.
    fn place(&self) -> String;
    /// Makes edits in memory, as one, and begins to prove them.
    ///
    /// # Errors
    /// Why they are not made, in words.
    fn draft(&mut self, edits: &[Edit]) -> Result<Drafted, String>;
    /// The same for taking the last edit back.
    ///
    /// # Errors
    /// Why there is nothing to take back, in words.
    fn draft_undo(&mut self) -> Result<Drafted, String>;
    /// What the cases say to the draft, or why they could not be played; none while they are played. Waits a moment at most.
    fn proof(&mut self) -> Option<Result<Proven, String>>;
    /// Drops the draft and ends its proof.
    fn drop_draft(&mut self);
    /// Saves the draft; `second` also read it. Says what was done.
    ///
    /// # Errors
    /// Why it was not saved, in words; the draft stays.
    fn accept(&mut self, second: Option<&str>) -> Result<String, String>;
    /// Looks whether somebody else changed the files.
    fn look(&mut self) -> Option<Noticed>;
}
