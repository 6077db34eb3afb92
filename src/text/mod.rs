//! Turns text from anywhere into text that may be shown, measured, searched, exported or used as a file name.
//!
//! On its way in, text goes through [`clean()`]; on its way out through one of the others. [`page`] and [`drawing`] build
//! whole HTML pages and SVG drawings of escaped text.

pub mod ascii;
pub mod capital;
pub mod clean;
pub mod drawing;
pub mod escape;
pub mod fingerprint;
pub mod fold;
pub mod page;
pub mod slug;
pub mod width;

pub use ascii::ascii;
pub use capital::capital;
pub use clean::{clean, clean_lines, is_clean};
pub use escape::{csv_cell, html, json, markdown};
pub use fingerprint::fingerprint;
pub use fold::{Folded, fold, fold_tracked};
pub use slug::slug;
pub use width::{ASCII_ELLIPSIS, ELLIPSIS, cut, cut_with, fit, pad, pad_left, width, wrap};
