//! Turns one line of text into the same line inside a Markdown document, an HTML page or a CSV table.

use super::clean::{clean, is_hidden};
use std::fmt::Write as _;

/// Marks that mean something anywhere in a Markdown line.
const ANYWHERE: &str = r"\`*_[]<>|~&$";

/// One line of Markdown that reads as the text does: no emphasis, link, markup, table cell or heading in it.
///
/// Line breaks become blanks and blanks in front go, since both can start a new block; control characters go too.
pub fn markdown(text: &str) -> String {
    let clean = clean(text);
    let line = clean.trim_start();
    let mark = block_mark(line);
    let mut escaped = String::with_capacity(line.len() + 8);
    for (position, character) in line.char_indices() {
        if mark == Some(position) || ANYWHERE.contains(character) {
            escaped.push('\\');
        }
        escaped.push(character);
    }
    escaped
}

/// Where the mark stands that would make this line a heading, a rule or a list item (`#`, `-`, `12.`).
fn block_mark(line: &str) -> Option<usize> {
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    let next = line.as_bytes().get(digits + 1);
    match line.as_bytes().get(digits)? {
        b'#' | b'=' if digits == 0 => Some(0),
        b'+' | b'-' if digits == 0 && !next.is_some_and(u8::is_ascii_digit) => Some(0),
        b'.' | b')' if 0 < digits && next.is_none_or(u8::is_ascii_whitespace) => Some(digits),
        _ => None,
    }
}

/// One line of text for an HTML page, between tags or in a quoted attribute: no markup, no control characters.
pub fn html(text: &str) -> String {
    let clean = clean(text);
    let mut escaped = String::with_capacity(clean.len() + 8);
    for character in clean.chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            plain => escaped.push(plain),
        }
    }
    escaped
}

/// JSON text of the same value in which whatever could command a terminal, turn the reading direction or hide is written by
/// its number. Line breaks between values stay.
pub fn json(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        let by_number = is_hidden(character) || matches!(character, '\u{2028}' | '\u{2029}' | '\u{200c}' | '\u{200d}');
        if character == '\n' || !by_number {
            escaped.push(character);
            continue;
        }
        for unit in character.encode_utf16(&mut [0; 2]) {
            let _ = write!(escaped, "\\u{unit:04x}");
        }
    }
    escaped
}

/// One cell of a CSV table, quoted where needed and harmless in a spreadsheet.
///
/// What a spreadsheet could take for a formula gets a `'` in front; plain negative numbers are left as numbers.
pub fn csv_cell(text: &str) -> String {
    let guard = if looks_like_a_formula(text) { "'" } else { "" };
    let delicate = |character: char| matches!(character, ',' | ';' | '"' | '\t' | '\n' | '\r');
    if text.contains(delicate) || text.trim() != text {
        format!("\"{guard}{}\"", text.replace('"', "\"\""))
    } else {
        format!("{guard}{text}")
    }
}

fn looks_like_a_formula(text: &str) -> bool {
    let first = text.trim_start().chars().next();
    let signs = "=+-@＝＋－＠";
    let number = text.parse::<f64>().is_ok_and(f64::is_finite);
    let risky = first.is_some_and(|first| signs.contains(first)) && !number;
    risky || text.starts_with(['\t', '\r', '\n'])
}

#[cfg(test)]
mod tests {
    use super::{csv_cell, html, json, markdown};

    #[test]
    fn markdown_marks_lose_their_meaning() {
        assert_eq!(markdown("a*b_c `d` [e](f) <g> |h| ~~i~~"), r"a\*b\_c \`d\` \[e\](f) \<g\> \|h\| \~\~i\~\~");
        assert_eq!(markdown(r"back\slash &amp; $x$"), r"back\\slash \&amp; \$x\$");
    }

    #[test]
    fn no_line_becomes_a_block() {
        assert_eq!(markdown("# title"), r"\# title");
        assert_eq!(markdown("- item"), r"\- item");
        assert_eq!(markdown("12. May"), r"12\. May");
        assert_eq!(markdown("3) third"), r"3\) third");
        assert_eq!(markdown("> said"), r"\> said");
        assert_eq!(markdown("    code\n# x"), "code # x");
    }

    #[test]
    fn plain_text_and_numbers_stay_readable() {
        for text in ["0.5 bar at 45 °C", "inlet: 2-3 inHg (warm)", "", "12", "No. 4 + 5"] {
            assert_eq!(markdown(text), text);
        }
    }

    #[test]
    fn no_text_becomes_markup() {
        let hostile = "</td><script src=\"x\">'&amp;\u{1b}[31m\nend";
        assert_eq!(html(hostile), "&lt;/td&gt;&lt;script src=&quot;x&quot;&gt;&#39;&amp;amp;[31m end");
        assert_eq!(html("45 °C → 12 inHg"), "45 °C → 12 inHg");
    }

    #[test]
    fn json_keeps_its_value_and_hides_nothing() {
        let value = serde_json::json!({"a\u{9b}": "\u{1b}[2J\u{202e}\u{7f}\u{e0041}\u{200d}x\u{feff}\ny", "b": ["é", "\u{1f468}"]});
        let escaped = json(&format!("{value:#}\n"));
        assert_eq!(crate::text::clean_lines(&escaped), escaped);
        assert!(
            escaped.contains("\\u202e") && escaped.contains("\\udb40\\udc41") && escaped.contains('é'),
            "{escaped}"
        );
        assert_eq!(serde_json::from_str::<serde_json::Value>(&escaped).ok(), Some(value));
    }

    #[test]
    fn cells_are_quoted_where_needed() {
        assert_eq!(csv_cell("plain"), "plain");
        assert_eq!(csv_cell("a,b"), "\"a,b\"");
        assert_eq!(csv_cell("a \"b\"\nc"), "\"a \"\"b\"\"\nc\"");
        assert_eq!(csv_cell(" a"), "\" a\"");
        assert_eq!(csv_cell(""), "");
    }

    #[test]
    fn no_cell_is_a_formula() {
        for start in ["=", "+", "-", "@", "＝"] {
            assert_eq!(csv_cell(&format!("{start}SUM(A1)")), format!("'{start}SUM(A1)"));
        }
        assert_eq!(csv_cell("\tx"), "\"'\tx\"");
        assert_eq!(csv_cell("\rx"), "\"'\rx\"");
        assert_eq!(csv_cell(" =1"), "\"' =1\"");
        assert_eq!(csv_cell("=A1,B1"), "\"'=A1,B1\"");
        assert_eq!(csv_cell("-1+2"), "'-1+2");
    }

    #[test]
    fn negative_numbers_stay_numbers() {
        assert_eq!(csv_cell("-0.35"), "-0.35");
        assert_eq!(csv_cell("+4"), "+4");
        assert_eq!(csv_cell("-inf"), "'-inf");
    }
}
