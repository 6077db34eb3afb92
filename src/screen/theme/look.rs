//! Turns the key for the next theme into that theme, kept for the next start, and a sentence about it.

use super::{Colours, Theme, ThemeName};
use crate::screen::frame::Message;
use std::fmt;
use std::rc::Rc;

/// Keeps the chosen theme for the next start.
type Keep = dyn Fn(ThemeName) -> Result<(), String>;

/// Where a chosen theme is kept.
#[derive(Clone)]
pub struct Remember(Rc<Keep>);

impl Remember {
    /// Kept by this; an error says why it was not.
    pub fn by(keep: impl Fn(ThemeName) -> Result<(), String> + 'static) -> Self {
        Self(Rc::new(keep))
    }
}

impl Default for Remember {
    fn default() -> Self {
        Self::by(|_| Ok(()))
    }
}

impl fmt::Debug for Remember {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Remember")
    }
}

/// What the caller decides about how it looks.
#[derive(Debug, Clone, Default)]
pub struct Look {
    /// Styles.
    pub theme: Theme,
    /// Where another theme is kept.
    pub remember: Remember,
    /// What was wrong with the settings, to be told first.
    pub trouble: Option<String>,
}

impl From<Theme> for Look {
    fn from(theme: Theme) -> Self {
        Self { theme, ..Self::default() }
    }
}

impl Look {
    /// The first message, if something was wrong.
    pub(in crate::screen) fn first_message(&self) -> Option<Message> {
        self.trouble.clone().map(|text| Message { text, is_trouble: true })
    }
}

/// Goes to the next theme, keeps it and says so.
pub(in crate::screen) fn next_theme(theme: &mut Theme, remember: &Remember) -> Message {
    *theme = theme.next();
    let what = match (theme.name, theme.colours) {
        (ThemeName::Mono, _) | (_, Colours::Rgb | Colours::Of256) => String::new(),
        (_, Colours::Of16) => "; this terminal has 16 colours at most, so its own two are used".to_owned(),
    };
    let said = format!("Theme: {}{what}", theme.name.said());
    match (remember.0)(theme.name) {
        Ok(()) => Message { text: format!("{said}. Kept for the next start."), is_trouble: false },
        Err(why) => Message { text: format!("{said}. Not kept for the next start: {why}"), is_trouble: true },
    }
}
