//! Turns an edit that is not saved yet into its proof: the cases it can move, played before and after on several threads.

use super::Failure;
use super::several::several;
use crate::editing::compare;
use crate::knowledge::Loaded;
use crate::proof::{Proof, cases_touched, play};
use std::rc::Rc;
use std::sync::atomic::AtomicBool;

/// What lies between two states of the knowledge; with `ask` the cases are asked step by step too. Once `stop` is set the
/// proof is no use and is thrown away by the caller.
pub fn prove(old: &Loaded, new: &Loaded, ask: bool, stop: &AtomicBool) -> Result<Proof, Failure> {
    let changes = compare(&old.knowledge, &new.knowledge);
    let ids = cases_touched(&old.knowledge, &new.knowledge, &changes);
    let played = several(ids.len(), stop, || {
        let both = (Rc::new(old.knowledge.clone()), Rc::new(new.knowledge.clone()));
        let ids = &ids;
        move |at: usize| play(&both.0, &both.1, &ids[at], ask)
    })?;
    Ok(Proof::of(old, new, &played))
}
