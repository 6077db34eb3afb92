//! Turns roles of text into styles, and the choice of a theme into what this terminal can show of it.
//!
//! All colours stand in [`table`]. A terminal with 16 colours keeps its own two and tells the rest by bold, reverse and
//! underline: what its 16 look like is the owner's affair, so no contrast could be promised.

mod look;
mod table;

use crate::knowledge::schema::SignalWord;
use ratatui::style::{Modifier, Style};
use serde::Deserialize;
use table::{DARK, HIGH_CONTRAST, Ink, Inks, LIGHT};

pub(super) use look::next_theme;
pub use look::{Look, Remember};

/// The themes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ThemeName {
    /// Light text on black.
    #[default]
    Dark,
    /// Dark text on white, for the sun.
    Light,
    /// The brightest on black.
    HighContrast,
    /// The terminal's own two colours, with bold and reverse.
    Mono,
}

impl ThemeName {
    /// All of them, in the order in which a key goes through them.
    pub const ALL: [Self; 4] = [Self::Dark, Self::Light, Self::HighContrast, Self::Mono];

    /// As the settings file has it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Dark => "dark",
            Self::Light => "light",
            Self::HighContrast => "high_contrast",
            Self::Mono => "mono",
        }
    }

    /// As it is said.
    pub fn said(self) -> &'static str {
        match self {
            Self::Dark => "dark",
            Self::Light => "light",
            Self::HighContrast => "high contrast",
            Self::Mono => "without colours",
        }
    }

    fn next(self) -> Self {
        match self {
            Self::Dark => Self::Light,
            Self::Light => Self::HighContrast,
            Self::HighContrast => Self::Mono,
            Self::Mono => Self::Dark,
        }
    }
}

/// How many colours a terminal has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colours {
    /// Red, green and blue in 256 steps each.
    #[default]
    Rgb,
    /// The 256 of an xterm.
    Of256,
    /// Sixteen at most.
    Of16,
}

/// Marks that need more than ASCII, and what stands for them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Marks {
    /// A full cell of a bar.
    pub full: &'static str,
    /// Half a cell.
    pub half: &'static str,
    /// An empty cell.
    pub empty: &'static str,
    /// A ruled line.
    pub rule: &'static str,
    /// Something was cut off.
    pub cut: &'static str,
    /// The chosen row.
    pub chosen: &'static str,
    /// One thing leads to another.
    pub leads: &'static str,
    /// A path drawn downwards: its beginning, a place it goes through, its end, and beside a text of several rows.
    pub path: [&'static str; 4],
    /// Between parts of a line.
    pub dot: &'static str,
    /// A value on a scale.
    pub value: &'static str,
    /// The needle of a dial.
    pub needle: &'static str,
    /// Before a signal word, gravest first.
    pub signs: [&'static str; 4],
    /// Before a message: it was done.
    pub good: &'static str,
    /// Before a message: it was not.
    pub trouble: &'static str,
    /// Heights within one cell of a chart, from low to full.
    pub levels: [&'static str; 8],
}

const DRAWN: Marks = Marks {
    full: "█",
    half: "▌",
    empty: "·",
    rule: "─",
    cut: "…",
    chosen: "▶",
    leads: "→",
    path: ["┌─", "├─", "└▶", "│"],
    dot: "·",
    value: "▲",
    needle: "┃",
    signs: ["▲", "▲", "▲", "■"],
    good: "✓",
    trouble: "✗",
    levels: ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"],
};
const ASCII: Marks = Marks {
    full: "#",
    half: "=",
    empty: ".",
    rule: "-",
    cut: "..",
    chosen: ">",
    leads: "->",
    path: ["+-", "+-", "`>", "|"],
    dot: "|",
    value: "^",
    needle: "|",
    signs: ["!!!", "!!", "!", "*"],
    good: "+",
    trouble: "!",
    levels: ["_", "_", "-", "-", "=", "=", "#", "#"],
};

/// Styles by role.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    /// Which one it is.
    pub name: ThemeName,
    /// What the terminal can show.
    pub colours: Colours,
    /// Main text.
    pub text: Style,
    /// Less important text.
    pub dim: Style,
    /// Head of the page.
    pub header: Style,
    /// Where one is.
    pub place: Style,
    /// Heading inside a page.
    pub heading: Style,
    /// The question, and what must be read first.
    pub strong: Style,
    /// A key in the bar.
    pub key: Style,
    /// Bar of a likely cause.
    pub bar: Style,
    /// Chosen row.
    pub chosen: Style,
    /// Typed text.
    pub typed: Style,
    /// Something was saved.
    pub good: Style,
    /// Something was not.
    pub trouble: Style,
    /// Signal words, gravest first.
    signs: [Style; 4],
    /// Marks.
    pub marks: Marks,
}

/// Underline of typed text.
const LINE: Modifier = Modifier::UNDERLINED;
/// Reverse.
const TURNED: Modifier = Modifier::REVERSED;

impl Default for Theme {
    fn default() -> Self {
        Self::dark()
    }
}

impl Theme {
    /// A theme as a terminal with so many colours shows it; with marks of ASCII only, if wanted.
    pub fn new(name: ThemeName, colours: Colours, is_ascii: bool) -> Self {
        let marks = if is_ascii { ASCII } else { DRAWN };
        match (name, colours) {
            (ThemeName::Mono, _) | (_, Colours::Of16) => Self { name, colours, marks, ..Self::own_colours() },
            (ThemeName::Dark, _) => Self { name, marks, ..Self::with(&DARK, colours) },
            (ThemeName::Light, _) => Self { name, marks, ..Self::with(&LIGHT, colours) },
            (ThemeName::HighContrast, _) => Self { name, marks, ..Self::with(&HIGH_CONTRAST, colours) },
        }
    }

    /// Light text on black, in RGB.
    pub fn dark() -> Self {
        Self::new(ThemeName::Dark, Colours::Rgb, false)
    }

    /// No colours, no marks beyond ASCII.
    pub fn plain() -> Self {
        Self::new(ThemeName::Mono, Colours::Of16, true)
    }

    /// The theme that a key goes to from this one.
    #[must_use]
    pub fn next(self) -> Self {
        Self::new(self.name.next(), self.colours, self.is_ascii())
    }

    /// True if no mark needs more than ASCII.
    pub fn is_ascii(&self) -> bool {
        self.marks == ASCII
    }

    /// Style of a signal word; the words themselves say it too.
    pub fn signal(&self, word: SignalWord) -> Style {
        self.signs[rank(word)]
    }

    /// The mark before a signal word.
    pub fn sign(&self, word: SignalWord) -> &'static str {
        self.marks.signs[rank(word)]
    }

    fn with(inks: &Inks, colours: Colours) -> Self {
        let on_paper = |ink: Ink| Style::new().fg(ink.on(colours)).bg(inks.paper.on(colours));
        let bold = |style: Style| style.add_modifier(Modifier::BOLD);
        let sign = |(letters, ground): (Ink, Ink)| bold(Style::new().fg(letters.on(colours)).bg(ground.on(colours)));
        Self {
            name: ThemeName::Dark,
            colours,
            text: on_paper(inks.text),
            dim: on_paper(inks.dim),
            header: sign((inks.paper, inks.text)),
            place: bold(on_paper(inks.accent)),
            heading: bold(on_paper(inks.dim)),
            strong: bold(on_paper(inks.text)),
            key: bold(on_paper(inks.accent)),
            bar: on_paper(inks.bar),
            chosen: bold(on_paper(inks.text)).add_modifier(TURNED),
            typed: on_paper(inks.text).add_modifier(LINE),
            good: on_paper(inks.good),
            trouble: bold(on_paper(inks.trouble)),
            signs: inks.signs.map(sign),
            marks: DRAWN,
        }
    }

    /// Bold, reverse and underline in the two colours that the terminal has chosen itself.
    fn own_colours() -> Self {
        let (plain, bold) = (Style::new(), Style::new().add_modifier(Modifier::BOLD));
        let turned = bold.add_modifier(TURNED);
        Self {
            name: ThemeName::Mono,
            colours: Colours::Of16,
            text: plain,
            dim: plain,
            header: turned,
            place: bold,
            heading: bold,
            strong: bold,
            key: bold,
            bar: plain,
            chosen: turned,
            typed: plain.add_modifier(LINE),
            good: plain,
            trouble: bold,
            signs: [turned; 4],
            marks: DRAWN,
        }
    }
}

/// Place of a signal word in the tables, gravest first.
fn rank(word: SignalWord) -> usize {
    match word {
        SignalWord::Danger => 0,
        SignalWord::Warning => 1,
        SignalWord::Caution => 2,
        SignalWord::Notice => 3,
    }
}
