//! Turns what the system says about the terminal into the theme of the full screen.

use crate::screen::Theme;

/// The theme for this terminal.
pub fn theme() -> Theme {
    theme_of(|name| std::env::var(name).ok())
}

/// ASCII only where a locale is set and is not UTF-8. Without one, as in many containers, terminals show UTF-8 all the same.
fn theme_of(variable: impl Fn(&str) -> Option<String>) -> Theme {
    // The first that is set counts, as for the C library.
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().filter_map(variable).find(|value| !value.is_empty());
    let is_utf8 = locale.is_none_or(|locale| {
        let locale = locale.to_ascii_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    });
    if is_utf8 { Theme::default() } else { Theme::default().with_ascii() }
}

#[cfg(test)]
mod tests {
    use super::theme_of;

    #[test]
    fn the_first_locale_that_is_set_counts() {
        let ascii = |set: &[(&str, &str)]| {
            theme_of(|name| set.iter().find(|(known, _)| *known == name).map(|(_, value)| (*value).to_owned())).ascii
        };
        assert!(!ascii(&[]) && !ascii(&[("LANG", "C.UTF-8")]) && !ascii(&[("LANG", "de_DE.utf8")]));
        assert!(ascii(&[("LANG", "C")]) && ascii(&[("LANG", "en_GB.UTF-8"), ("LC_ALL", "POSIX")]));
        assert!(!ascii(&[("LC_ALL", ""), ("LANG", "en_GB.UTF-8")]));
        assert!(ascii(&[("LC_CTYPE", "de_DE.ISO-8859-1"), ("LANG", "en_GB.UTF-8")]));
    }
}
