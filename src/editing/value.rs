//! Turns what a supervisor types for a value into the spelling of the knowledge files.
//!
//! A strength may be typed as a word, a share, "8 of 20", "of 20 pumps with this 8", or as lowest/best/highest; three
//! numbers become (lowest + 4 best + highest) / 6, the usual mean of a three-point estimate (Malcolm and others 1959,
//! from memory). A count that lies within half a pump of a word becomes the word.

use super::Refusal;
use crate::knowledge::outline::{Kind, Outline};
use crate::knowledge::schema::Strength;

/// The seven words of the scale, as they stand in the files.
pub const WORDS: [(&str, Strength); 7] = [
    ("almost_never", Strength::AlmostNever),
    ("rarely", Strength::Rarely),
    ("sometimes", Strength::Sometimes),
    ("half", Strength::Half),
    ("often", Strength::Often),
    ("usually", Strength::Usually),
    ("nearly_always", Strength::NearlyAlways),
];

/// Half a pump in twenty: as exactly as a count of twenty tells.
const HALF_A_PUMP: f64 = 0.025;

/// How a strength is written in a file.
pub fn strength(typed: &str) -> Result<String, Refusal> {
    let said = typed.trim().to_lowercase();
    let word = said.replace([' ', '-'], "_");
    let word = if word == "half_the_time" { "half" } else { &word };
    if WORDS.iter().any(|(known, _)| *known == word) {
        return Ok(word.to_owned());
    }
    if ron::from_str::<Strength>(&said).is_ok() && one_value(&said).is_ok() {
        return Ok(said);
    }
    if said.contains(['(', ')', '{', '}', '[', ']', ':', '"']) || said.contains("//") || said.contains("/*") {
        return Err(unknown(typed));
    }
    let numbers = numbers(&said);
    let of = said.contains("of");
    let (count, total) = match (numbers.as_slice(), of) {
        ([share], false) if said.contains('%') => (share / 100.0, None),
        ([share], false) => (*share, None),
        (&[total, count], true) if said.starts_with("of") => (count, Some(total)),
        (&[count, total], true) => (count, Some(total)),
        (&[low, best, high], false) => (three_points(low, best, high)?, Some(1.0)),
        (&[low, best, high, total], true) => (three_points(low, best, high)?, Some(total)),
        _ => return Err(unknown(typed)),
    };
    let share = count / total.unwrap_or(1.0);
    if !(0.0..=1.0).contains(&share) {
        return Err(unknown(typed));
    }
    Ok(nearest(share, if total.is_some() { HALF_A_PUMP } else { 1e-9 }))
}

fn nearest(share: f64, within: f64) -> String {
    let off = |strength: &Strength| (strength.number() - share).abs();
    let near = WORDS.iter().min_by(|a, b| off(&a.1).total_cmp(&off(&b.1)));
    match near.filter(|(_, strength)| off(strength) <= within + 1e-12) {
        Some((word, _)) => (*word).to_owned(),
        None => format!("share({})", (share * 1000.0).round() / 1000.0),
    }
}

fn three_points(low: f64, best: f64, high: f64) -> Result<f64, Refusal> {
    if low <= best && best <= high {
        return Ok((low + 4.0 * best + high) / 6.0);
    }
    let message = "lowest, best and highest are not in this order".to_owned();
    Err(Refusal::said(message, "write lowest/best/highest, as in 5/8/12 of 20"))
}

/// All numbers in a text; a decimal comma between digits counts as a point.
fn numbers(text: &str) -> Vec<f64> {
    let parts = text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','));
    parts.filter_map(|part| part.trim_matches([',', '.']).replace(',', ".").parse().ok()).collect()
}

fn unknown(typed: &str) -> Refusal {
    let words: Vec<&str> = WORDS.iter().map(|(word, _)| *word).collect();
    let message = format!("`{}` is not a strength", crate::text::clean(typed));
    Refusal::said(message, &format!("write {}, share(0.43), 8 of 20, or lowest/best/highest", words.join(", ")))
}

/// A value as it is written where a value of this kind stands; quotes are added to a text that has none.
pub fn spelled(field: &str, kind: Option<Kind>, typed: &str) -> Result<String, Refusal> {
    if field == "strength" {
        return strength(typed);
    }
    let typed = typed.trim();
    let text = match kind {
        Some(Kind::Text) if !is_text(typed) => quoted(typed),
        Some(Kind::Number) if typed.matches(',').count() == 1 && !typed.contains('.') => typed.replace(',', "."),
        _ => typed.to_owned(),
    };
    one_value(&text)?;
    Ok(text)
}

/// Refuses whatever is more or less than one value: a bracket too many, a comment that would swallow what follows.
pub fn one_value(text: &str) -> Result<(), Refusal> {
    let shown = crate::text::clean(text);
    let hint = "write one value; a text of several words goes in double quotes";
    if text.lines().any(|line| !crate::text::is_clean(&line.replace('\t', " "))) {
        return Err(Refusal::said(format!("`{shown}` holds hidden characters"), "type it anew"));
    }
    match Outline::read(text) {
        Ok(outline) if outline.root.span.of(text) == text => Ok(()),
        Ok(_) => Err(Refusal::said(format!("`{shown}` is more than one value"), hint)),
        Err(error) => Err(Refusal::said(format!("`{shown}` is not a value: {}", error.message), hint)),
    }
}

fn is_text(typed: &str) -> bool {
    Outline::read(typed).is_ok_and(|outline| outline.root.kind == Kind::Text && outline.root.span.of(typed) == typed)
}

/// A text in quotes as the files write it.
pub fn quoted(text: &str) -> String {
    let escaped = text.replace('\\', "\\\\").replace('"', "\\\"").replace('\n', "\\n").replace('\r', "\\r");
    format!("\"{escaped}\"")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{WORDS, quoted, spelled, strength};
    use crate::knowledge::outline::Kind;
    use crate::knowledge::schema::Strength;

    #[test]
    fn every_word_is_read_by_the_schema_as_itself() {
        for (word, meant) in WORDS {
            assert_eq!(ron::from_str::<Strength>(word).unwrap(), meant);
            assert_eq!(strength(&word.replace('_', " ").to_uppercase()).unwrap(), word);
        }
    }

    #[test]
    fn strengths_are_typed_in_many_ways() {
        for (typed, written) in [
            ("half the time", "half"),
            ("share(0.43)", "share(0.43)"),
            ("of_20(8)", "of_20(8)"),
            ("0,43", "share(0.43)"),
            ("43 %", "share(0.43)"),
            ("0.75", "often"),
            ("0.76", "share(0.76)"),
            ("of 20 pumps with this 8", "share(0.4)"),
            ("of 20 pumps with this fault, 15", "often"),
            ("8 of 20", "share(0.4)"),
            ("18 of 20", "usually"),
            ("20 of 20", "nearly_always"),
            ("0 of 20", "almost_never"),
            // (5 + 4 * 8 + 12) / 6 = 8.17 of 20
            ("5/8/12 of 20", "share(0.408)"),
            ("lowest 0.2 best 0.5 highest 0.8", "half"),
        ] {
            assert_eq!(strength(typed).unwrap(), written, "{typed}");
        }
        for typed in
            ["", "mostly", "1.2", "25 of 20", "9/8/12 of 20", "often, basis: guess", "share(0.4) // x", "1 2 3 4 5"]
        {
            assert!(strength(typed).is_err(), "{typed}");
        }
    }

    #[test]
    fn texts_get_quotes_and_stay_what_was_typed() {
        let odd = "a \"b\" \\ c\n d";
        assert_eq!(ron::from_str::<String>(&quoted(odd)).unwrap(), odd);
        assert_eq!(spelled("name", Some(Kind::Text), odd).unwrap(), quoted(odd));
        assert_eq!(spelled("name", Some(Kind::Text), "\"x\"").unwrap(), "\"x\"");
        assert_eq!(spelled("minutes", Some(Kind::Number), "12,5").unwrap(), "12.5");
        for hostile in ["often), \"x\": (", "1 // and", "1, leak: 2", "", "#![enable(x)] 1", "/* a */ 1"] {
            assert!(spelled("minutes", Some(Kind::Number), hostile).is_err(), "{hostile}");
        }
        assert!(spelled("name", Some(Kind::Text), "a\u{202e}b").is_err());
    }
}
