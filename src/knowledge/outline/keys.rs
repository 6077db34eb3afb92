//! Turns the spelling of a key into the text it is known by, so that equal keys have equal texts.

use super::{Kind, Node};
use std::borrow::Cow;

/// A word without the `r#` before it.
pub(super) fn bare_word(source: &str) -> &str {
    source.strip_prefix("r#").unwrap_or(source)
}

/// What a text, character or word says; none for other kinds or a wrong escape.
pub(super) fn said(kind: Kind, source: &str) -> Option<Cow<'_, str>> {
    match kind {
        Kind::Word => Some(Cow::Borrowed(bare_word(source))),
        Kind::Text if source.starts_with('r') || !source.contains('\\') => unquoted(source).map(Cow::Borrowed),
        Kind::Text => ron::from_str::<String>(source).ok().map(Cow::Owned),
        Kind::Char => {
            let letter = ron::from_str::<char>(source).ok()?;
            Some(Cow::Owned(letter.to_string()))
        }
        _ => None,
    }
}

/// The inside of `"..."` or `r#"..."#`, taken as it stands.
fn unquoted(source: &str) -> Option<&str> {
    let fenced = source.strip_prefix('r').unwrap_or(source);
    let quoted = fenced.trim_start_matches('#');
    let hashes = fenced.len() - quoted.len();
    quoted.get(1..quoted.len().checked_sub(1 + hashes)?)
}

/// The text a key is known by. Texts, characters and words as they say; the rest rebuilt
/// without blanks, comments and other freedoms of spelling. None for a wrong escape.
pub(super) fn key_text(node: &Node, text: &str) -> Option<String> {
    match node.kind {
        Kind::Text | Kind::Char | Kind::Word => node.said_in(text).map(Cow::into_owned),
        _ => Some(rebuilt(node, text)),
    }
}

fn rebuilt(node: &Node, text: &str) -> String {
    let source = node.span.of(text);
    match node.kind {
        Kind::Map => format!("{{{}}}", rebuilt_children(node, text)),
        Kind::List => format!("[{}]", rebuilt_children(node, text)),
        Kind::Fields | Kind::Tuple => {
            let name = node.name_in(text).unwrap_or_default();
            format!("{name}({})", rebuilt_children(node, text))
        }
        Kind::Number => shortest_number(source),
        Kind::Text | Kind::Char => format!("{:?}", node.said_in(text).unwrap_or_default()),
        Kind::Word => bare_word(source).to_owned(),
        Kind::Range | Kind::Bytes => source.to_owned(),
    }
}

fn rebuilt_children(node: &Node, text: &str) -> String {
    let one = |child: &Node| {
        let value = rebuilt(child, text);
        match &child.key {
            Some(key) if key.kind == Kind::Text => format!("{:?}:{value}", key.text),
            Some(key) => format!("{}:{value}", key.text),
            None => value,
        }
    };
    node.children.iter().map(one).collect::<Vec<_>>().join(",")
}

/// `0x1F`, `31` and `31u8` all as `31`.
fn shortest_number(source: &str) -> String {
    ron::from_str::<ron::Value>(source)
        .ok()
        .and_then(|number| ron::to_string(&number).ok())
        .unwrap_or_else(|| source.to_owned())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::Outline;

    fn keys(text: &str) -> Vec<String> {
        let outline = Outline::read(text).unwrap();
        outline.root.entries().map(|(key, _)| key.text.clone()).collect()
    }

    #[test]
    fn texts_are_decoded() {
        let text = r##"{"a\"b": 1, r#"a"b"#: 2, "\u{e9}\x41": 3, "x\
            y": 4, r"\n": 5, r"": 6, "": 7}"##;
        assert_eq!(keys(text), ["a\"b", "a\"b", "éA", "xy", "\\n", "", ""]);
    }

    #[test]
    fn numbers_have_one_spelling() {
        assert_eq!(keys("{0x1F: 1, 31: 2, +3_1u8: 3, b'\\x1f': 4}"), ["31"; 4]);
        assert_eq!(keys("{1.50: 1, 1.5: 2, -2: 3, 1..5: 4}"), ["1.5", "1.5", "-2", "1..5"]);
    }

    #[test]
    fn brackets_lose_their_blanks() {
        let text = "{( 1, /* x */ 'a', ): 1, (1,'a'): 2, A { }: 3}".replace("A { }", "A ( b : \"c\" )");
        assert_eq!(keys(&text), ["(1,\"a\")", "(1,\"a\")", "A(b:\"c\")"]);
        assert_eq!(keys("{[x, r#y]: 1, {\"k\" : Some( 2 )}: 2}"), ["[x,y]", "{\"k\":Some(2)}"]);
    }

    #[test]
    fn keys_inside_keys_do_not_grow() {
        let mut text = r#""\"\\""#.to_owned();
        for _ in 0..100 {
            text = format!("{{{text}: 1}}");
        }
        let outline = Outline::read(&text).unwrap();
        assert!(outline.root.children[0].key.as_ref().unwrap().text.len() < 2 * text.len());
    }

    #[test]
    fn a_wrong_escape_in_a_key_is_an_error() {
        let error = Outline::read(r#"{"a": 1, "\q": 2}"#).unwrap_err();
        assert_eq!(error.offset, 9);
    }
}
