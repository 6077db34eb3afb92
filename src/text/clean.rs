//! Turns untrusted text into text that can neither command the terminal nor hide or reorder what it says.
//!
//! Escape sequences are not parsed: without its ESC the rest of one is harmless litter (`[31m`), while a parser
//! that misses one malformed sequence is a hole. Cleaning twice changes nothing more.

/// One clean line: line breaks and tabs become blanks.
pub fn clean(text: &str) -> String {
    filter(text, ' ')
}

/// Clean text of several lines: CR LF and lone CR (as in pasted text) become LF, which stays.
pub fn clean_lines(text: &str) -> String {
    filter(text, '\n')
}

/// Whether [`clean()`] would leave this line as it is.
pub fn is_clean(text: &str) -> bool {
    clean(text) == text
}

fn filter(text: &str, line_break: char) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut joiner = None;
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        let shown = match character {
            '\r' if characters.peek() == Some(&'\n') => continue,
            '\n' | '\r' => line_break,
            '\t' | '\u{2028}' | '\u{2029}' => ' ',
            '\u{200c}' | '\u{200d}' => {
                joiner = Some(character);
                continue;
            }
            dropped if is_hidden(dropped) => continue,
            visible => visible,
        };
        if let Some(joiner) = joiner.take()
            && joins(kept.chars().next_back(), shown)
        {
            kept.push(joiner);
        }
        kept.push(shown);
    }
    kept
}

/// Joiners build letters in some scripts and emoji; between plain ASCII they only make equal words differ.
fn joins(before: Option<char>, after: char) -> bool {
    before.is_some_and(|before| !before.is_ascii()) && !after.is_ascii()
}

/// Characters that command the terminal, turn the reading direction, or show nothing.
pub(super) fn is_hidden(character: char) -> bool {
    character.is_control() // C0, DEL, C1
        || matches!(character,
            '\u{ad}'                        // soft hyphen
            | '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' // reading direction
            | '\u{180e}' | '\u{200b}'       // blanks without width
            | '\u{2060}'..='\u{206f}'       // word joiner, invisible operators, reading direction
            | '\u{115f}' | '\u{1160}' | '\u{3164}' | '\u{ffa0}' // fillers
            | '\u{feff}'                    // byte order mark
            | '\u{fff9}'..='\u{fffb}'       // marks of interlinear notes
            | '\u{1d173}'..='\u{1d17a}'     // invisible music marks
            | '\u{e0000}'..='\u{e0fff}'     // tags, supplementary variation selectors
        )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{any, proptest};

    use super::{clean, clean_lines, is_clean};

    #[test]
    fn commands_to_the_terminal_lose_their_teeth() {
        assert_eq!(clean("a\u{1b}[31mred\u{7}\u{9b}2J\u{7f}\u{0}"), "a[31mred2J");
    }

    #[test]
    fn nothing_turns_the_reading_direction() {
        let text = "x\u{202e}y\u{200e}\u{200f}\u{61c}\u{202a}\u{2066}\u{2069}z";
        assert_eq!(clean(text), "xyz");
    }

    #[test]
    fn nothing_invisible_stays() {
        let text = "p\u{200b}u\u{2060}m\u{ad}p\u{feff}\u{fff9}\u{fffb}\u{e0041}\u{e007f}\u{e0100}";
        assert_eq!(clean(text), "pump");
    }

    #[test]
    fn tabs_and_separators_become_blanks() {
        assert_eq!(clean("a\tb\u{2028}c\u{2029}d"), "a b c d");
        assert_eq!(clean("a\r\nb\nc\rd"), "a b c d");
    }

    #[test]
    fn several_lines_keep_their_breaks() {
        assert_eq!(clean_lines("a\r\nb\rc\n\td\u{1b}"), "a\nb\nc\n d");
    }

    #[test]
    fn joiners_stay_where_they_join() {
        let family = "\u{1f468}\u{200d}\u{1f469}\u{200d}\u{1f467}";
        assert_eq!(clean(family), family);
        assert_eq!(clean("pu\u{200d}mp\u{200c}"), "pump");
        assert_eq!(clean("\u{1f468}\u{200d}\u{202e}a"), "\u{1f468}a");
    }

    #[test]
    fn ordinary_text_is_left_alone() {
        for text in ["", "Ölstand < 3 mm, 45 °C ½ µm", "压力 \u{26a0}\u{fe0f}", "e\u{301}"] {
            assert!(is_clean(text));
        }
        assert!(!is_clean("a\nb"));
    }

    proptest! {
        #[test]
        fn cleaning_twice_changes_nothing_more(text in any::<String>(), tail in "[\\x00-\\x20\u{80}-\u{9f}\u{200b}-\u{202e}a\u{e9}]{0,12}") {
            let text = text + &tail;
            assert!(is_clean(&clean(&text)));
            let lines = clean_lines(&text);
            assert_eq!(clean_lines(&lines), lines);
            assert!(!lines.chars().any(|character| character.is_control() && character != '\n'));
        }
    }
}
