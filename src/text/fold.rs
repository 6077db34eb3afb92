//! Turns text into its searchable form: lower case, no accents, one kind of blank.
//!
//! Hyphens become blanks, so "O-ring" and "o ring" are the same two words. Letters are folded as people type them
//! without the right keyboard (ü → u, ø → o, ß → ss), for Latin script only; others just lose their case.

/// Searchable text, and where each of its characters came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folded {
    /// The folded text.
    pub text: String,
    /// For each character of `text`, the position of its source among the characters of the original.
    pub origin: Vec<usize>,
}

/// The searchable form of a text.
pub fn fold(text: &str) -> String {
    fold_tracked(text).text
}

/// As [`fold`], keeping track of positions, so that a match can be marked in the original.
pub fn fold_tracked(text: &str) -> Folded {
    let mut folded = Folded { text: String::with_capacity(text.len()), origin: Vec::with_capacity(text.len()) };
    for (position, character) in text.chars().enumerate() {
        for lower in character.to_lowercase() {
            fold_into(&mut folded, lower, position);
        }
    }
    folded
}

fn fold_into(folded: &mut Folded, lower: char, position: usize) {
    let mut push = |character| {
        folded.text.push(character);
        folded.origin.push(position);
    };
    if let Some(plain) = plain_letters(lower) {
        plain.chars().for_each(push);
    } else if lower == '-' || lower.is_whitespace() {
        push(' ');
    } else {
        push(lower);
    }
}

/// What to write for a lower-case letter or mark; nothing for a combining accent, none for what stays as it is.
fn plain_letters(lower: char) -> Option<&'static str> {
    if lower.is_ascii() {
        return None;
    }
    if ('\u{300}'..='\u{36f}').contains(&lower) {
        return Some("");
    }
    PLAIN.iter().find(|(letters, _)| letters.contains(lower)).map(|(_, plain)| *plain)
}

const PLAIN: &[(&str, &str)] = &[
    ("àáâãäåāăąǎªạảấầẩẫậắằẳẵặ", "a"),
    ("æǽ", "ae"),
    ("çćĉċč", "c"),
    ("ďđð", "d"),
    ("èéêëēĕėęěẹẻẽếềểễệ", "e"),
    ("ĝğġģǧ", "g"),
    ("ĥħ", "h"),
    ("ìíîïĩīĭįıǐỉị", "i"),
    ("ĳ", "ij"),
    ("ĵ", "j"),
    ("ķĸ", "k"),
    ("ĺļľŀł", "l"),
    ("ñńņňŉŋ", "n"),
    ("òóôõöøōŏőơǒǿºọỏốồổỗộớờởỡợ", "o"),
    ("œ", "oe"),
    ("ŕŗř", "r"),
    ("śŝşšșſ", "s"),
    ("ß", "ss"),
    ("ţťŧț", "t"),
    ("þ", "th"),
    ("ùúûüũūŭůűųưǔụủứừửữựµμ", "u"),
    ("ŵẁẃẅ", "w"),
    ("ýÿŷỳỵỷỹ", "y"),
    ("źżž", "z"),
    ("²", "2"),
    ("³", "3"),
    ("‐‑‒–—―−", " "), // hyphens, dashes and the minus sign
    ("‘’‛′", "'"),
    ("“”„″", "\""),
];

#[cfg(test)]
mod tests {
    use super::{PLAIN, fold, fold_tracked};

    #[test]
    fn case_and_accents_do_not_matter() {
        assert_eq!(fold("Überdruck"), "uberdruck");
        assert_eq!(fold("Straße, ŁÓDŹ, Œuvre, Smørbrød"), "strasse, lodz, oeuvre, smorbrod");
        assert_eq!(fold("I\u{307}stanbul e\u{301}"), "istanbul e");
        assert_eq!(fold("İ"), "i");
    }

    #[test]
    fn every_hyphen_and_blank_is_one_blank() {
        assert_eq!(fold("O-ring\u{a0}o–ring\to\u{2011}ring"), "o ring o ring o ring");
    }

    #[test]
    fn other_scripts_only_lose_their_case() {
        assert_eq!(fold("ΝΕΡΌ 压力 НАСОС"), "νερό 压力 насос");
    }

    #[test]
    fn each_folded_character_knows_its_origin() {
        let folded = fold_tracked("aß-É");
        assert_eq!(folded.text, "ass e");
        assert_eq!(folded.origin, [0, 1, 1, 2, 3]);
        let accent = fold_tracked("e\u{301}x");
        assert_eq!((accent.text.as_str(), accent.origin), ("ex", vec![0, 2]));
    }

    #[test]
    fn folding_twice_changes_nothing_more() {
        for (letters, plain) in PLAIN {
            assert_eq!(fold(letters), plain.repeat(letters.chars().count()));
            assert_eq!(fold(plain), *plain);
        }
    }
}
