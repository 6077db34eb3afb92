//! Turns the text of a small file and a wish for one field into the text with that field; every other byte stays.

use super::splice::{Splice, insert, spliced};
use crate::knowledge::outline::Outline;

/// The text of a file of fields with this field set to this RON value; added behind the others if it is not there.
/// None if the text has no outline.
pub fn with_field(text: &str, field: &str, value: &str) -> Option<String> {
    let outline = Outline::read(text).ok()?;
    let splices = match outline.root.get(field) {
        Some(node) => vec![Splice::set(node, value)],
        None => insert(text, &outline, &outline.root, &format!("{field}: {value}")),
    };
    spliced(text, &splices)
}

#[cfg(test)]
mod tests {
    use super::with_field;

    #[test]
    fn a_field_is_changed_or_added_and_comments_stay() {
        let made = |text| with_field(text, "theme", "light");
        assert_eq!(made("()").as_deref(), Some("(\n    theme: light,\n)"));
        let old = "// mine\n(\n    version: 1, // as it was\n    theme: dark, // for the cellar\n)\n";
        assert_eq!(made(old), Some(old.replace("dark", "light")));
        let other = "(\n    version: 1, // as it was\n)\n";
        assert_eq!(made(other).as_deref(), Some("(\n    version: 1, // as it was\n    theme: light,\n)\n"));
        assert_eq!(made("(").as_deref(), None);
    }
}
