//! The one place where commands print: cleaned of control characters, a closed pipe is no error.

use crate::text::clean_lines;
use std::io::Write as _;

/// Prints lines to standard output.
pub fn out(text: &str) {
    let mut out = std::io::stdout().lock();
    // A reader that has seen enough (`| head`) closes the pipe: that is not a failure.
    let _ = writeln!(out, "{}", clean_lines(text));
    let _ = out.flush();
}

/// Prints an error to standard error.
pub fn error(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "weephole: {}", clean_lines(text));
}

/// Tells on standard error how far something is, over what it told last.
pub fn progress(text: &str, is_last: bool) {
    let end = if is_last { "\n" } else { "" };
    let _ = write!(std::io::stderr().lock(), "\r{}{end}", clean_lines(text));
}

/// Prints one JSON value to standard output and nothing else.
pub fn json(value: &serde_json::Value) {
    let mut out = std::io::stdout().lock();
    // As one text: written piece by piece, every line would be a call of its own.
    let _ = out.write_all(format!("{value:#}\n").as_bytes());
    let _ = out.flush();
}
