//! Turns what one column of a screen shows into one character that every terminal can show.

use super::fold::fold;

/// One ASCII character for this one: letters lose their accents, marks become the nearest one, the rest is `?`.
pub fn ascii(symbol: &str) -> char {
    let Some(first) = symbol.chars().next() else { return ' ' };
    if first.is_ascii() {
        return first;
    }
    if let Some((_, plain)) = MARKS.iter().find(|(marks, _)| marks.contains(first)) {
        return *plain;
    }
    let folded = fold(symbol).chars().next().filter(char::is_ascii);
    folded.map_or('?', |plain| if first.is_uppercase() { plain.to_ascii_uppercase() } else { plain })
}

const MARKS: &[(&str, char)] = &[
    ("°º", 'o'),
    ("→▶≥›»", '>'),
    ("←◀≤‹«", '<'),
    ("–—−‑", '-'),
    ("…·•", '.'),
    ("×", 'x'),
    ("²", '2'),
    ("³", '3'),
    ("µμ", 'u'),
    ("“”„", '"'),
    ("‘’‚", '\''),
    ("½¼¾", '/'),
    ("±", '+'),
];

#[cfg(test)]
mod tests {
    use super::ascii;

    #[test]
    fn every_column_becomes_one_plain_character() {
        let shown: String = "45 °C → Öl läuft ½ \u{1f468} 3 µm–é".chars().map(|c| ascii(&c.to_string())).collect();
        assert_eq!(shown, "45 oC > Ol lauft / ? 3 um-e");
        assert_eq!((ascii(""), ascii("e\u{301}")), (' ', 'e'));
    }
}
