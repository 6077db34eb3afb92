//! The number at the front of a typed text, turned into its value and the place where the unit begins.
//!
//! Read: a sign, blanks between thousands (`1 450`), decimal point or comma, fractions (`1/4`, `1 1/2`,
//! `1-1/2`, `½`) and exponents (`1.2e3`). One mark before exactly three digits (`1,450`) can be read two ways;
//! both are handed back, as only the unit tells which is likelier.

use std::ops::Range;

/// A number as read, before the unit has settled what an unclear mark means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Number {
    /// The value, with an unclear mark taken as decimal.
    pub value: f64,
    /// The other reading of an unclear mark.
    pub grouped: Option<Grouped>,
    /// Byte just behind the number.
    pub end: usize,
}

/// The reading of a mark as parting thousands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Grouped {
    /// The value with the mark parting thousands.
    pub value: f64,
    /// `,` or `.`.
    pub mark: char,
}

/// Why there is no number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum NumberFault {
    /// The text does not begin with one.
    None,
    /// It begins like one, but these bytes make no sense.
    Unreadable(Range<usize>),
}

/// Reads the number at the front of `text`, blanks skipped.
pub(super) fn read_number(text: &str) -> Result<Number, NumberFault> {
    let start = skip_blanks(text, 0);
    let (sign, at) = read_sign(text, start);
    if let Some(fraction) = read_fraction(text, at) {
        return match fraction {
            Fraction { value: Some(value), end } => Ok(Number { value: sign * value, grouped: None, end }),
            Fraction { value: None, end } => Err(NumberFault::Unreadable(start..end)),
        };
    }
    let body_end = body_end(text, at);
    let body: String = text[at..body_end].chars().filter(|c| !c.is_whitespace()).collect();
    if !body.contains(|c: char| c.is_ascii_digit()) {
        return Err(NumberFault::None);
    }
    let end = exponent_end(text, body_end);
    let unreadable = || NumberFault::Unreadable(start..end);
    let plain = with_point(&body).ok_or_else(unreadable)?;
    let value = format!("{plain}{}", &text[body_end..end]).replace(is_minus, "-");
    let value: f64 = value.parse().map_err(|_| unreadable())?;
    let blanks_used = body.len() < body_end - at;
    let grouped = if blanks_used || body_end < end { None } else { grouped_reading(&body) };
    Ok(Number { value: sign * value, grouped: grouped.map(|g| Grouped { value: sign * g.value, ..g }), end })
}

/// The first byte at or behind `at` that is no blank.
pub(super) fn skip_blanks(text: &str, at: usize) -> usize {
    let rest = &text[at..];
    at + rest.len() - rest.trim_start().len()
}

/// Hyphen, minus sign, and the dashes that stand in for it.
pub(super) const fn is_minus(letter: char) -> bool {
    matches!(letter, '-' | '\u{2212}' | '\u{2013}' | '\u{2012}' | '\u{FE63}' | '\u{FF0D}')
}

fn read_sign(text: &str, at: usize) -> (f64, usize) {
    match text[at..].chars().next() {
        Some('+') => (1.0, skip_blanks(text, at + 1)),
        Some(sign) if is_minus(sign) => (-1.0, skip_blanks(text, at + sign.len_utf8())),
        _ => (1.0, at),
    }
}

/// A fraction with, before it, perhaps a whole number. No value: it has the shape but makes no sense.
struct Fraction {
    value: Option<f64>,
    end: usize,
}

fn read_fraction(text: &str, at: usize) -> Option<Fraction> {
    let whole_end = digits_end(text, at);
    if let Some(simple) = read_simple_fraction(text, at) {
        return Some(simple);
    }
    let mut part = skip_blanks(text, whole_end);
    if text[part..].starts_with('-') {
        part += 1;
    }
    if part == whole_end && !text[part..].starts_with(|c| vulgar(c).is_some()) {
        return None;
    }
    let fraction = read_simple_fraction(text, part)?;
    let whole: f64 = text[at..whole_end].parse().ok()?;
    let proper = fraction.value.filter(|value| *value < 1.0);
    Some(Fraction { value: proper.map(|value| whole + value), end: fraction.end })
}

fn read_simple_fraction(text: &str, at: usize) -> Option<Fraction> {
    if let Some(sign) = text[at..].chars().next()
        && let Some(value) = vulgar(sign)
    {
        return Some(Fraction { value: Some(value), end: at + sign.len_utf8() });
    }
    let over_end = digits_end(text, at);
    let rest = text[over_end..].strip_prefix(['/', '\u{2044}'])?;
    let under = text.len() - rest.len();
    let end = digits_end(text, under);
    let above: f64 = text[at..over_end].parse().ok()?;
    let below: f64 = text[under..end].parse().ok()?;
    let value = (0.0 < below).then(|| above / below);
    Some(Fraction { value, end })
}

const fn vulgar(sign: char) -> Option<f64> {
    match sign {
        '½' => Some(0.5),
        '¼' => Some(0.25),
        '¾' => Some(0.75),
        '⅛' => Some(0.125),
        '⅜' => Some(0.375),
        '⅝' => Some(0.625),
        '⅞' => Some(0.875),
        _ => None,
    }
}

fn digits_end(text: &str, at: usize) -> usize {
    let rest = &text[at..];
    at + rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len())
}

/// Behind the digits, marks, and blanks that part thousands.
fn body_end(text: &str, start: usize) -> usize {
    let mut at = start;
    for letter in text[start..].chars() {
        let digit_or_mark = letter.is_ascii_digit() || matches!(letter, '.' | ',');
        let parts = letter.is_whitespace() && blank_parts_thousands(text, start, at, letter);
        if !(digit_or_mark || parts) {
            break;
        }
        at += letter.len_utf8();
    }
    at
}

/// Whether exactly three digits follow, and one to three digits, or whole groups, stand before.
fn blank_parts_thousands(text: &str, start: usize, at: usize, blank: char) -> bool {
    let next = at + blank.len_utf8();
    let before = &text[start..at];
    let head = before.rsplit(char::is_whitespace).next().unwrap_or("");
    let first_group = head.len() == before.len();
    digits_end(text, next) == next + 3
        && head.bytes().all(|b| b.is_ascii_digit())
        && (head.len() == 3 || (first_group && matches!(head.len(), 1 | 2)))
        && !text[next + 3..].starts_with('/')
}

fn exponent_end(text: &str, at: usize) -> usize {
    let Some(rest) = text[at..].strip_prefix(['e', 'E']) else {
        return at;
    };
    let (_, digits) = match rest.chars().next() {
        Some(sign) if sign == '+' || is_minus(sign) => (sign, at + 1 + sign.len_utf8()),
        _ => (' ', at + 1),
    };
    let end = digits_end(text, digits);
    if digits < end { end } else { at }
}

/// The digits with a decimal point and no other mark; `None` when the marks make no sense.
fn with_point(body: &str) -> Option<String> {
    let dots = body.matches('.').count();
    let commas = body.matches(',').count();
    match (dots, commas) {
        (_, 0) if dots < 2 => Some(body.to_owned()),
        (0, 1) => Some(body.replace(',', ".")),
        (0, _) => groups_joined(body, ','),
        (_, 0) => groups_joined(body, '.'),
        _ if 1 < dots && 1 < commas => None,
        _ => {
            let decimal = if body.rfind('.') < body.rfind(',') { ',' } else { '.' };
            let group = if decimal == ',' { '.' } else { ',' };
            let (whole, share) = body.rsplit_once(decimal)?;
            Some(format!("{}.{share}", groups_joined(whole, group)?))
        }
    }
}

/// `1,450,000` as `1450000`; `None` unless the first group has one to three digits and all others three.
fn groups_joined(body: &str, mark: char) -> Option<String> {
    let groups: Vec<&str> = body.split(mark).collect();
    let (first, others) = groups.split_first()?;
    let right = (1..=3).contains(&first.len()) && others.iter().all(|group| group.len() == 3);
    let digits = groups.concat();
    (right && digits.bytes().all(|b| b.is_ascii_digit())).then_some(digits)
}

/// The thousands reading of one mark before exactly three digits. `0,125` has none.
fn grouped_reading(body: &str) -> Option<Grouped> {
    let mark = body.chars().find(|c| matches!(c, '.' | ','))?;
    if body.matches(['.', ',']).count() != 1 || body.starts_with('0') {
        return None;
    }
    let value = groups_joined(body, mark)?.parse().ok()?;
    Some(Grouped { value, mark })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{NumberFault, read_number};

    fn value(text: &str) -> f64 {
        read_number(text).unwrap().value
    }

    #[test]
    fn numbers_as_people_type_them() {
        for (text, wanted) in [
            ("5", 5.0),
            (" +5.", 5.0),
            (",5", 0.5),
            ("-8", -8.0),
            ("\u{2212} 8", -8.0),
            ("\u{2013}8", -8.0),
            ("2,5 bar", 2.5),
            ("1 450 rpm", 1450.0),
            ("1\u{2009}450 rpm", 1450.0),
            ("12\u{a0}345\u{a0}678", 12_345_678.0),
            ("1 450,5", 1450.5),
            ("1,450.5", 1450.5),
            ("1.450,5", 1450.5),
            ("1,450,000", 1_450_000.0),
            ("1.2e3", 1200.0),
            ("1,2E\u{2212}3", 0.0012),
            ("1/4 in", 0.25),
            ("-1 1/2 in", -1.5),
            ("1-1/2 in", 1.5),
            ("1½\"", 1.5),
            ("¾ in", 0.75),
            ("1450 1/min", 1450.0),
            ("2 100 1/min", 2100.0),
        ] {
            assert!((value(text) - wanted).abs() < 1e-9, "{text}: {}", value(text));
        }
    }

    #[test]
    fn the_end_is_where_the_unit_begins() {
        for (text, rest) in [
            ("36psi", "psi"),
            ("1 450 rpm", " rpm"),
            ("1450 1/min", " 1/min"),
            ("1 1/2 in", " in"),
            ("5 eV", " eV"),
            ("5e", "e"),
        ] {
            assert_eq!(&text[read_number(text).unwrap().end..], rest);
        }
    }

    #[test]
    fn one_mark_before_three_digits_has_two_readings() {
        let number = read_number("1,450").unwrap();
        assert!((number.value - 1.45).abs() < 1e-12);
        assert!((number.grouped.unwrap().value - 1450.0).abs() < 1e-9);
        for clear in ["1,45", "0,125", "1,4500", "1450,125", "1,450e0", "1 450"] {
            assert_eq!(read_number(clear).unwrap().grouped, None, "{clear}");
        }
    }

    #[test]
    fn nonsense_is_pointed_at() {
        assert_eq!(read_number("bar"), Err(NumberFault::None));
        assert_eq!(read_number(""), Err(NumberFault::None));
        assert_eq!(read_number("  1.2.3 bar"), Err(NumberFault::Unreadable(2..7)));
        assert_eq!(read_number("1/0 in"), Err(NumberFault::Unreadable(0..3)));
        assert_eq!(read_number("1 3/2 in"), Err(NumberFault::Unreadable(0..5)));
    }
}
