//! Turns bytes into clean lines and lines into bytes: the only place that reads and the only one that writes.

use super::LineError;
use super::orders::Order;
use crate::text::clean;
use std::io::{self, BufRead, ErrorKind, Write};

/// Longest line taken, in bytes.
const LINE_LIMIT: usize = 4096;

/// Bytes without a line break after which nobody can be typing.
const ENDLESS: usize = 16 * 1024 * 1024;

/// Why a prompt was left without an answer.
#[derive(Debug)]
pub(super) enum Halt {
    /// The input has ended.
    Over,
    /// The person leaves; the job stays open.
    Leave,
    /// All is said and done.
    Done,
    /// Whoever read the output went away.
    Gone,
    /// An order that starts something of its own.
    Order(Order),
    /// The page is out of date: the job goes on from where it stands now.
    Again,
    /// Cannot go on.
    Fault(LineError),
}

/// The two ends of the conversation.
pub(super) struct Console<'a> {
    input: &'a mut dyn BufRead,
    out: &'a mut dyn Write,
}

impl<'a> Console<'a> {
    /// From what is typed and where lines go.
    pub(super) fn new(input: &'a mut dyn BufRead, out: &'a mut dyn Write) -> Self {
        Self { input, out }
    }

    /// Writes one clean line.
    pub(super) fn say(&mut self, text: &str) -> Result<(), Halt> {
        let line = clean(text);
        writeln!(self.out, "{}", line.trim_end()).map_err(unwritten)
    }

    /// Reads one clean line without blanks around it; `None` at the end of the input.
    pub(super) fn read(&mut self) -> Result<Option<String>, Halt> {
        self.out.flush().map_err(unwritten)?;
        let Some((bytes, cut)) = self.bytes().map_err(|error| Halt::Fault(LineError::Input(error)))? else {
            return Ok(None);
        };
        if cut {
            self.say(&format!("That line is too long. Only its first {LINE_LIMIT} bytes are taken."))?;
        }
        Ok(Some(clean(&String::from_utf8_lossy(&bytes)).trim().to_owned()))
    }

    /// The bytes up to the next line break, and whether the line was longer than is taken.
    fn bytes(&mut self) -> io::Result<Option<(Vec<u8>, bool)>> {
        let (mut kept, mut cut, mut begun) = (Vec::new(), false, false);
        let mut read = 0;
        loop {
            let chunk = match self.input.fill_buf() {
                Ok(chunk) => chunk,
                Err(error) if error.kind() == ErrorKind::Interrupted => continue,
                Err(error) => return Err(error),
            };
            if chunk.is_empty() {
                return Ok(begun.then_some((kept, cut)));
            }
            begun = true;
            let end = chunk.iter().position(|byte| *byte == b'\n');
            let piece = &chunk[..end.unwrap_or(chunk.len())];
            let room = LINE_LIMIT.saturating_sub(kept.len());
            cut |= room < piece.len();
            kept.extend(piece.iter().take(room));
            let used = end.map_or(chunk.len(), |at| at + 1);
            self.input.consume(used);
            read += used;
            if ENDLESS < read {
                return Err(io::Error::other("a line without end; pipe in text"));
            }
            if end.is_some() {
                return Ok(Some((kept, cut)));
            }
        }
    }

    /// Lets everything written go out.
    pub(super) fn flush(&mut self) -> Result<(), Halt> {
        self.out.flush().map_err(unwritten)
    }
}

/// A reader that went away is no failure of ours.
fn unwritten(error: io::Error) -> Halt {
    if error.kind() == ErrorKind::BrokenPipe { Halt::Gone } else { Halt::Fault(LineError::Output(error)) }
}
