//! Turns a title into a part of a file name that every system takes: 1 to 40 of `a-z 0-9 _ -`.

use super::fold::fold;

/// Longest slug.
const LONGEST: usize = 40;

/// A file-name part for this text; never empty, a path, an option, or a name that some system keeps for itself.
pub fn slug(text: &str) -> String {
    let mut slug = String::new();
    for character in fold(text).chars() {
        let taken = character.is_ascii_alphanumeric() || character == '_';
        if taken {
            slug.push(character);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    slug.truncate(LONGEST);
    let slug = slug.trim_matches(['-', '_']);
    match slug {
        "" => "untitled".to_owned(),
        kept if is_reserved(kept) => format!("{kept}-1"),
        free => free.to_owned(),
    }
}

/// Names that mean a device on some systems, whatever their extension.
fn is_reserved(slug: &str) -> bool {
    let port = |rest: &str| rest.len() == 1 && rest.bytes().all(|byte| byte.is_ascii_digit());
    matches!(slug, "con" | "prn" | "aux" | "nul")
        || slug.strip_prefix("com").is_some_and(port)
        || slug.strip_prefix("lpt").is_some_and(port)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{any, proptest};

    use super::slug;

    #[test]
    fn titles_become_file_names() {
        assert_eq!(slug("Low flow, pump #3"), "low-flow-pump-3");
        assert_eq!(slug("Überdruck – Öl"), "uberdruck-ol");
        assert_eq!(slug("refill_valve"), "refill_valve");
    }

    #[test]
    fn no_slug_is_a_path_an_option_or_empty() {
        assert_eq!(slug("../../etc/passwd"), "etc-passwd");
        assert_eq!(slug("--force"), "force");
        assert_eq!(slug("压力"), "untitled");
        assert_eq!(slug(""), "untitled");
    }

    #[test]
    fn reserved_names_are_avoided() {
        for (title, expected) in [("CON", "con-1"), ("nul.", "nul-1"), ("COM²", "com2-1"), ("lpt9", "lpt9-1")] {
            assert_eq!(slug(title), expected);
        }
        assert_eq!(slug("COM port"), "com-port");
    }

    #[test]
    fn long_titles_are_cut_without_a_loose_end() {
        let long = "pressure drops ".repeat(10);
        assert_eq!(slug(&long), "pressure-drops-pressure-drops-pressure-d");
        assert_eq!(slug(&format!("{} x", "a".repeat(39))), "a".repeat(39));
    }

    proptest! {
        #[test]
        fn any_text_gives_a_sound_slug_that_stays(text in any::<String>()) {
            let made = slug(&text);
            assert!((1..=40).contains(&made.len()));
            assert!(made.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || matches!(b, b'_' | b'-')));
            assert_eq!(slug(&made), made);
        }
    }
}
