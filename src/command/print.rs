//! The one place where commands print: cleaned of control characters, a closed pipe is no error, a full disk is one.

use crate::text::{self, clean_lines};
use std::io::{self, ErrorKind, Write as _};
use std::sync::OnceLock;

/// Why something that was printed did not arrive.
static NOT_WRITTEN: OnceLock<String> = OnceLock::new();

/// Prints lines to standard output.
pub fn out(text: &str) {
    whole(&format!("{}\n", clean_lines(text)));
}

/// Why not everything that was printed arrived, if it did not: said at the end, with the exit code.
pub fn not_written() -> Option<&'static str> {
    NOT_WRITTEN.get().map(String::as_str)
}

fn whole(text: &str) {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // A reader that has seen enough (`| head`) closes the pipe: that is not a failure.
        Err(cause) if cause.kind() != ErrorKind::BrokenPipe => {
            let _ = NOT_WRITTEN.set(format!("not everything was written to standard output: {cause}"));
        }
        _ => {}
    }
}

/// Prints an error to standard error.
pub fn error(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "weephole: {}", clean_lines(text));
}

/// Prints what is wrong with the words of the command line, or the help asked for.
pub fn usage(error: &clap::Error) {
    let text = error.render().to_string();
    // A file name that a shell put there can hold escape sequences.
    if clean_lines(&text) == text {
        let _ = error.print();
    } else {
        let _ = writeln!(std::io::stderr().lock(), "{}", clean_lines(text.trim_end()));
    }
}

/// Tells on standard error how far something is, over what it told last.
pub fn progress(text: &str, is_last: bool) {
    let end = if is_last { "\n" } else { "" };
    let _ = write!(std::io::stderr().lock(), "\r{}{end}", clean_lines(text));
}

/// Prints one JSON value to standard output and nothing else.
pub fn json(value: &serde_json::Value) {
    // As one text: written piece by piece, every line would be a call of its own.
    whole(&text::json(&format!("{value:#}\n")));
}
