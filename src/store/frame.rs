//! Turns one event's JSON into one checked journal line, and a journal's bytes back into its events.
//!
//! A line is `crc32 (8 lower hex digits) SP json LF`. A bad LAST line is a torn write: nobody was told that it is
//! saved. A bad line before others is damage to entries that were saved, and must never be "repaired" by cutting.

/// What a journal's bytes hold, up to the first bad line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scan {
    /// The JSON of each good line before the first bad one, in order.
    pub events: Vec<String>,
    /// Bytes those lines take.
    pub good_bytes: usize,
    /// Why reading stopped before the end, if it did.
    pub flaw: Option<Flaw>,
}

/// A bad line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flaw {
    /// The last line is incomplete or fails its check.
    Torn {
        /// Line number, from 1.
        line: usize,
        /// Length of that line.
        bytes: usize,
    },
    /// A line fails its check and is not the last.
    Damaged {
        /// Line number, from 1.
        line: usize,
        /// How many lines after it are good.
        good_after: usize,
    },
}

/// The journal line of one event.
pub(super) fn frame(json: &str) -> String {
    format!("{:08x} {json}\n", crc32fast::hash(json.as_bytes()))
}

/// Reads lines until the first bad one.
pub fn scan(bytes: &[u8]) -> Scan {
    let mut found = Scan { events: Vec::new(), good_bytes: 0, flaw: None };
    let mut lines = bytes.split_inclusive(|&byte| byte == b'\n');
    while let Some(line) = lines.next() {
        let Some(json) = unframe(line) else {
            found.flaw = Some(flaw(found.events.len() + 1, line, lines));
            break;
        };
        found.events.push(json.to_owned());
        found.good_bytes += line.len();
    }
    found
}

/// Whether bytes could be the beginning of a journal's first line, however short.
pub(super) fn could_be_a_journal(bytes: &[u8]) -> bool {
    let hex = |byte: &u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
    bytes.iter().take(8).all(hex) && bytes.get(8).is_none_or(|&byte| byte == b' ')
}

fn flaw<'a>(line: usize, bad: &[u8], rest: impl Iterator<Item = &'a [u8]>) -> Flaw {
    let mut rest = rest.peekable();
    if rest.peek().is_none() {
        let bytes = bad.len();
        return Flaw::Torn { line, bytes };
    }
    let good_after = rest.filter(|line| unframe(line).is_some()).count();
    Flaw::Damaged { line, good_after }
}

/// The JSON of a whole and unharmed line.
fn unframe(line: &[u8]) -> Option<&str> {
    let line = std::str::from_utf8(line).ok()?.strip_suffix('\n')?;
    let json = line.get(9..)?;
    let whole = frame(json);
    (whole.strip_suffix('\n') == Some(line)).then_some(json)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use proptest::prelude::{any, proptest};

    use super::{Flaw, could_be_a_journal, frame, scan};

    #[test]
    fn a_line_reads_check_blank_json() {
        assert_eq!(frame("{\"v\":1}"), "84dbe73d {\"v\":1}\n");
    }

    #[test]
    fn a_flip_of_any_bit_of_the_middle_line_is_damage() {
        let lines = ["{\"n\":1}", "{\"n\":2}", "{\"n\":3}"].map(frame);
        let start = lines[0].len();
        for position in start..start + lines[1].len() - 1 {
            for bit in 0..8 {
                let mut bytes = lines.concat().into_bytes();
                bytes[position] ^= 1 << bit;
                let found = scan(&bytes);
                assert_eq!(found.events, ["{\"n\":1}"]);
                assert!(matches!(found.flaw, Some(Flaw::Damaged { line: 2, .. })));
            }
        }
    }

    #[test]
    fn good_lines_after_the_damage_are_counted() {
        let text = format!("{}garbage\n{}{}", frame("1"), frame("2"), frame("3"));
        let (line, good_after) = (2, 2);
        assert_eq!(scan(text.as_bytes()).flaw, Some(Flaw::Damaged { line, good_after }));
    }

    #[test]
    fn upper_case_or_padded_checks_are_not_ours() {
        let shouted = frame("{\"v\":1}").replace("84dbe73d", "84DBE73D");
        assert!(scan(shouted.as_bytes()).events.is_empty());
    }

    #[test]
    fn a_text_file_is_told_from_a_torn_first_line() {
        assert!(could_be_a_journal(b""));
        assert!(could_be_a_journal(b"84dbe7"));
        assert!(could_be_a_journal(b"84dbe73d {"));
        assert!(!could_be_a_journal(b"Dear all"));
        assert!(!could_be_a_journal(b"12345678,9"));
    }

    proptest! {
        #[test]
        fn any_bytes_are_read_without_fuss(bytes in any::<Vec<u8>>()) {
            let found = scan(&bytes);
            assert!(found.good_bytes <= bytes.len());
        }

        #[test]
        fn what_was_framed_is_read_back(events in proptest::collection::vec("[^\\x00-\\x1f]{1,30}", 0..6)) {
            let bytes: String = events.iter().map(|json| frame(json)).collect();
            let found = scan(bytes.as_bytes());
            assert_eq!(found.events, events);
            assert_eq!(found.flaw, None);
        }
    }
}
