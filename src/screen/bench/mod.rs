//! Turns knowledge into full-screen pages for a supervisor: find an entry, follow its links, change it, see what that does to
//! the cases, accept it or not.
//!
//! Every change goes through [`Workshop`](crate::proof::Workshop), as a draft that is read and proved before it is saved.

mod app;
mod draft;
mod drawn;
mod entry;
mod list;
mod page;
mod typed;

pub use app::BenchApp;
