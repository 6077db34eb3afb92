//! Turns `--theme`, the settings and what the terminal says of itself into how the full screen looks.

use super::arguments::{Arguments, ThemeWord};
use super::settings::Chosen;
use crate::screen::{Colours, Look, Remember, Theme, ThemeName};

/// How the full screen looks. A theme chosen there is kept in the settings.
pub fn look(arguments: &Arguments) -> Look {
    let chosen = Chosen::read(arguments.data_dir.as_deref());
    let asked = arguments.theme.map(ThemeName::from);
    let theme = theme(asked, chosen.settings.theme, arguments.ascii, |name| std::env::var(name).ok());
    let trouble = chosen.trouble.clone();
    let remember = Remember::by(move |name| chosen.keep("theme", name.word()));
    Look { theme, remember, trouble }
}

/// The theme: `--theme` goes before `NO_COLOR` (no-color.org), that before the settings.
fn theme(
    asked: Option<ThemeName>,
    kept: Option<ThemeName>,
    wants_ascii: bool,
    variable: impl Fn(&str) -> Option<String>,
) -> Theme {
    let has = |name: &str| variable(name).filter(|value| !value.is_empty());
    let without = has("NO_COLOR").map(|_| ThemeName::Mono);
    let name = asked.or(without).or(kept).unwrap_or_default();
    Theme::new(name, colours(has), wants_ascii || !shows_more_than_ascii(has))
}

/// How many colours the terminal says it has: `COLORTERM`, then the name in `TERM`.
fn colours(has: impl Fn(&str) -> Option<String>) -> Colours {
    let term = has("TERM").unwrap_or_default();
    let is_direct = has("COLORTERM").is_some_and(|value| value == "truecolor" || value == "24bit");
    if is_direct || term.contains("-direct") || (cfg!(windows) && term.is_empty()) {
        return Colours::Rgb;
    }
    if term.contains("256color") { Colours::Of256 } else { Colours::Of16 }
}

/// False where the language settings name a character set other than UTF-8: the first that is set of `LC_ALL`, `LC_CTYPE`
/// and `LANG` counts (POSIX, "Environment Variables"). With none of them set the terminal is trusted.
fn shows_more_than_ascii(has: impl Fn(&str) -> Option<String>) -> bool {
    let set = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(has);
    set.is_none_or(|locale| {
        let locale = locale.to_ascii_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    })
}

impl From<ThemeWord> for ThemeName {
    fn from(word: ThemeWord) -> Self {
        match word {
            ThemeWord::Dark => Self::Dark,
            ThemeWord::Light => Self::Light,
            ThemeWord::HighContrast => Self::HighContrast,
            ThemeWord::Mono => Self::Mono,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Colours, Theme, ThemeName, theme};

    fn at(variables: &[(&str, &str)], asked: Option<ThemeName>, kept: Option<ThemeName>) -> Theme {
        let owned: Vec<(String, String)> = variables.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect();
        theme(asked, kept, false, |name| owned.iter().find(|(known, _)| known == name).map(|(_, value)| value.clone()))
    }

    #[test]
    fn what_is_asked_goes_before_no_color_and_that_before_the_settings() {
        let (light, high) = (Some(ThemeName::Light), Some(ThemeName::HighContrast));
        assert_eq!(at(&[], None, None).name, ThemeName::Dark);
        assert_eq!(at(&[], None, light).name, ThemeName::Light);
        assert_eq!(at(&[("NO_COLOR", "1")], None, light).name, ThemeName::Mono);
        assert_eq!(at(&[("NO_COLOR", "")], None, light).name, ThemeName::Light, "empty does not count (no-color.org)");
        assert_eq!(at(&[("NO_COLOR", "1")], high, light).name, ThemeName::HighContrast);
    }

    #[test]
    fn the_terminal_says_how_many_colours_it_has() {
        let colours = |variables: &[(&str, &str)]| at(variables, None, None).colours;
        assert_eq!(colours(&[("TERM", "xterm-256color"), ("COLORTERM", "truecolor")]), Colours::Rgb);
        assert_eq!(colours(&[("TERM", "xterm-direct")]), Colours::Rgb);
        assert_eq!(colours(&[("TERM", "screen-256color")]), Colours::Of256);
        assert_eq!(colours(&[("TERM", "linux")]), Colours::Of16);
    }

    #[test]
    fn a_character_set_other_than_utf_8_leaves_ascii() {
        let is_ascii = |variables: &[(&str, &str)]| at(variables, None, None).is_ascii();
        assert!(!is_ascii(&[]));
        assert!(!is_ascii(&[("LANG", "C.UTF-8")]));
        assert!(is_ascii(&[("LANG", "de_DE.ISO-8859-1")]));
        assert!(is_ascii(&[("LC_ALL", "C"), ("LANG", "de_DE.utf8")]));
        assert!(!is_ascii(&[("LC_ALL", ""), ("LANG", "de_DE.utf8")]));
    }
}
