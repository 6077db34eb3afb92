//! Turns one event's JSON into one checked journal line, and a journal's bytes back into its events.
//!
//! A line is `check (8 lower hex digits) SP json LF`. The check is the CRC-32 of the eight digits of the line before
//! (zeros for the first) and of the JSON: a line that stands twice, elsewhere, or behind one that is gone fails it. Journals
//! of earlier days have the CRC-32 of the JSON alone; that is taken up to the first line that hangs on the one before.
//! A bad LAST line is a torn write: nobody was told that it is saved. A bad line before others is damage to entries that
//! were saved, and must never be "repaired" by cutting.

/// Stands for the check of the line before the first.
pub(super) const NO_LINE: u32 = 0;

/// What a journal's bytes hold, up to the first bad line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scan {
    /// The JSON of each good line before the first bad one, in order.
    pub events: Vec<String>,
    /// Bytes those lines take.
    pub good_bytes: usize,
    /// The check of the last of them.
    pub last_check: u32,
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

/// The journal line of one event behind a line with the check `before`, and its own check.
pub(super) fn frame(before: u32, json: &str) -> (String, u32) {
    let check = check(before, json);
    (written(check, json), check)
}

/// Reads lines until the first bad one.
pub fn scan(bytes: &[u8]) -> Scan {
    let mut found = Scan { events: Vec::new(), good_bytes: 0, last_check: NO_LINE, flaw: None };
    let mut reader = Reader { before: NO_LINE, hangs: false };
    let mut lines = bytes.split_inclusive(|&byte| byte == b'\n');
    while let Some(line) = lines.next() {
        let Some(json) = reader.read(line) else {
            found.flaw = Some(flaw(found.events.len() + 1, line, lines, reader));
            break;
        };
        found.events.push(json.to_owned());
        found.good_bytes += line.len();
        found.last_check = reader.before;
    }
    found
}

/// Whether bytes could be the beginning of a journal's first line, however short.
pub(super) fn could_be_a_journal(bytes: &[u8]) -> bool {
    let hex = |byte: &u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
    bytes.iter().take(8).all(hex) && bytes.get(8).is_none_or(|&byte| byte == b' ')
}

fn flaw<'a>(line: usize, bad: &[u8], rest: impl Iterator<Item = &'a [u8]>, mut reader: Reader) -> Flaw {
    let mut rest = rest.peekable();
    if rest.peek().is_none() {
        let bytes = bad.len();
        return Flaw::Torn { line, bytes };
    }
    let good_after = rest.filter(|line| reader.read(line).is_some()).count();
    Flaw::Damaged { line, good_after }
}

/// Goes from line to line.
struct Reader {
    /// The check of the line before, as it is written there, good or bad.
    before: u32,
    /// True once a line was good because of the one before.
    hangs: bool,
}

impl Reader {
    /// The JSON of a whole and unharmed line in its place.
    fn read<'l>(&mut self, line: &'l [u8]) -> Option<&'l str> {
        let before = std::mem::replace(&mut self.before, NO_LINE);
        let line = std::str::from_utf8(line).ok()?;
        let told = u32::from_str_radix(line.get(..8)?, 16).ok()?;
        self.before = told;
        let json = line.get(9..)?.strip_suffix('\n')?;
        if written(told, json) != line {
            return None;
        }
        if told == check(before, json) {
            self.hangs = true;
            return Some(json);
        }
        (!self.hangs && told == crc32fast::hash(json.as_bytes())).then_some(json)
    }
}

fn check(before: u32, json: &str) -> u32 {
    let mut sum = crc32fast::Hasher::new();
    sum.update(format!("{before:08x}").as_bytes());
    sum.update(json.as_bytes());
    sum.finalize()
}

fn written(check: u32, json: &str) -> String {
    format!("{check:08x} {json}\n")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use proptest::prelude::{any, proptest};

    use super::{Flaw, NO_LINE, could_be_a_journal, frame, scan, written};

    /// The lines of these events, one behind the other.
    fn framed(events: &[&str]) -> Vec<String> {
        let mut before = NO_LINE;
        let line = |json: &&str| {
            let (line, check) = frame(before, json);
            before = check;
            line
        };
        events.iter().map(line).collect()
    }

    /// As journals of earlier days have it.
    fn plain(json: &str) -> String {
        written(crc32fast::hash(json.as_bytes()), json)
    }

    /// `printf '00000000{"v":1}' | gzip -c | tail -c8 | head -c4 | od -An -tx4`, and the same with its check in front.
    #[test]
    fn a_line_reads_check_blank_json() {
        assert_eq!(framed(&["{\"v\":1}", "{\"v\":1}"]), ["51205f61 {\"v\":1}\n", "e519968e {\"v\":1}\n"]);
    }

    #[test]
    fn a_flip_of_any_bit_of_the_middle_line_is_damage() {
        let lines = framed(&["{\"n\":1}", "{\"n\":2}", "{\"n\":3}"]);
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
    fn lines_twice_gone_or_in_another_place_are_damage() {
        let lines = framed(&["1", "1", "2", "3", "4"]);
        let put = |order: &[usize]| order.iter().map(|&at| lines[at].as_str()).collect::<String>();
        for (order, good) in [
            (&[0, 0, 1, 2, 3][..], 1),
            (&[0, 1, 1, 2, 3], 2),
            (&[0, 2, 3, 4], 1),
            (&[0, 2, 1, 3, 4], 1),
            (&[1, 2, 3], 0),
        ] {
            let found = scan(put(order).as_bytes());
            assert_eq!(found.events.len(), good, "{order:?}");
            assert!(matches!(found.flaw, Some(Flaw::Damaged { line, .. }) if line == good + 1), "{order:?}");
        }
        // At the end it could be a torn write, and is kept aside like one.
        let found = scan(put(&[0, 1, 1]).as_bytes());
        assert!(matches!(found.flaw, Some(Flaw::Torn { line: 3, .. })));
    }

    #[test]
    fn journals_of_earlier_days_are_read_and_gone_on_with() {
        let old = plain("1") + &plain("2");
        let found = scan(old.as_bytes());
        assert_eq!((found.events.len(), found.flaw), (2, None));
        let (more, _) = frame(found.last_check, "3");
        let both = old + &more;
        assert_eq!(scan(both.as_bytes()).events, ["1", "2", "3"]);
        // Behind a line that hangs on the one before, none stands that does not.
        assert!(matches!(scan((both + &plain("4")).as_bytes()).flaw, Some(Flaw::Torn { line: 4, .. })));
    }

    #[test]
    fn good_lines_after_the_damage_are_counted() {
        let lines = framed(&["1", "2", "3", "4"]);
        let spoilt = lines[1].replace(" 2", " 5");
        let text = format!("{}{spoilt}{}{}", lines[0], lines[2], lines[3]);
        let (line, good_after) = (2, 2);
        assert_eq!(scan(text.as_bytes()).flaw, Some(Flaw::Damaged { line, good_after }));
        // A line of which nothing can be read takes the next one with it: nobody knows what that hangs on.
        let text = format!("{}garbage\n{}{}", lines[0], lines[2], lines[3]);
        let (line, good_after) = (2, 1);
        assert_eq!(scan(text.as_bytes()).flaw, Some(Flaw::Damaged { line, good_after }));
    }

    #[test]
    fn upper_case_or_padded_checks_are_not_ours() {
        let line = plain("{\"v\":1}");
        assert!(scan(line.replace("84dbe73d", "84DBE73D").as_bytes()).events.is_empty());
        assert!(scan(line.replace("84dbe73d", "+4dbe73d").as_bytes()).events.is_empty());
        assert_eq!(scan(line.as_bytes()).events.len(), 1);
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
            let events: Vec<&str> = events.iter().map(String::as_str).collect();
            let bytes = framed(&events).concat();
            let found = scan(bytes.as_bytes());
            assert_eq!(found.events, events);
            assert_eq!(found.flaw, None);
        }
    }
}
