//! Turns a job into its record: text to keep, to hand over and to search. Yields text, writes nothing.

mod markdown;

pub use markdown::markdown;
