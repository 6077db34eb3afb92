//! Turns a supervisor's edit into new texts of the knowledge files it touches, and two states of the knowledge into the
//! changes between them, in words.
//!
//! [`Edit`] → [`apply`] (splices in the outline; the result is read again and compared with the edit made in the
//! model) → [`Edited`] → saved by the caller → [`compare`] tells the change. Takes and yields text; writes nothing.

mod add;
mod apply;
mod compare;
mod field;
mod look;
mod model;
mod pack;
mod refusal;
mod retire;
mod splice;
mod told;
mod value;

pub use add::{entry_of_fields, link_of_fields};
pub use apply::{Edited, Touched, apply, apply_all};
pub use compare::{Change, Difference, compare};
pub use field::with_field;
pub use look::{EntryLine, EntryView, FieldRow, LinkRow, entry_lines, find_entries, neighbourhood};
pub use pack::{open_pack, pack, safe_name};
pub use refusal::Refusal;
pub use told::{between, changes_in_words};
pub use value::{WORDS, strength};

use crate::knowledge::Kind;

/// What a supervisor wants changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// Another value at a path such as `findings.low_flow.shown_by.valves_worn.strength`; the kind may be left out.
    Set {
        /// The path, steps parted by dots.
        path: String,
        /// The value as typed.
        value: String,
    },
    /// A new entry.
    Add {
        /// Its kind.
        kind: Kind,
        /// Its id.
        id: String,
        /// The entry as RON: `( … )`, or `"id": ( … )` as copied from a file, with comments above if wanted.
        entry: String,
        /// File to add it to; none = where its like stands.
        file: Option<String>,
    },
    /// A new link between two entries.
    Link {
        /// Cause, condition or damage it comes from.
        from: String,
        /// Condition, damage, finding or reading it leads to.
        to: String,
        /// The link as RON: `(strength: …, basis: …, source: …)`.
        entry: String,
    },
    /// An entry taken out; whatever names it names the other one from now on.
    Retire {
        /// Its kind.
        kind: Kind,
        /// Its id, never given again.
        id: String,
        /// Entry of the same kind that takes its place.
        instead: String,
    },
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests;
