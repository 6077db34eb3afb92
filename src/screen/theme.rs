//! Turns roles of text into styles: the only table of colours and marks.
//!
//! Colours after Okabe and Ito (2008), as the nearest of the 256 a terminal has. What matters is also bold, reversed or
//! spelt out, so that nothing is lost without colours.

use crate::knowledge::schema::SignalWord;
use ratatui::style::{Color, Modifier, Style};

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
    /// One link of a chain leads to the next.
    pub leads: &'static str,
    /// Between parts of a line.
    pub dot: &'static str,
    /// A value on a scale.
    pub value: &'static str,
    /// The needle of a dial.
    pub needle: &'static str,
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
    dot: "·",
    value: "▲",
    needle: "┃",
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
    dot: "|",
    value: "^",
    needle: "|",
    levels: ["_", "_", "-", "-", "=", "=", "#", "#"],
};

/// Styles by role.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
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
    danger: Style,
    warning: Style,
    caution: Style,
    notice: Style,
    /// Marks.
    pub marks: Marks,
    /// True where the terminal shows ASCII only.
    pub ascii: bool,
}

const BLACK: Color = Color::Indexed(16);
const WHITE: Color = Color::Indexed(231);
const GREY_ON_DARK: Color = Color::Indexed(249);
const GREY_ON_LIGHT: Color = Color::Indexed(238);
const ORANGE: Color = Color::Indexed(214);
const SKY_BLUE: Color = Color::Indexed(117);
const GREEN: Color = Color::Indexed(43);
const YELLOW: Color = Color::Indexed(227);
const BLUE: Color = Color::Indexed(25);
const DARK_GREEN: Color = Color::Indexed(22);
const VERMILLION: Color = Color::Indexed(202);
const RED_ON_LIGHT: Color = Color::Indexed(88);

/// The few colours in which dark and light differ.
struct Ink {
    paper: Color,
    text: Color,
    dim: Color,
    accent: Color,
    bar: Color,
    good: Color,
    trouble: Color,
}

impl Default for Theme {
    fn default() -> Self {
        Self::dark()
    }
}

impl Theme {
    /// Light text on black.
    pub fn dark() -> Self {
        Self::with(&Ink {
            paper: BLACK,
            text: WHITE,
            dim: GREY_ON_DARK,
            accent: YELLOW,
            bar: SKY_BLUE,
            good: GREEN,
            trouble: ORANGE,
        })
    }

    /// Dark text on white, for the sun.
    pub fn light() -> Self {
        Self::with(&Ink {
            paper: WHITE,
            text: BLACK,
            dim: GREY_ON_LIGHT,
            accent: BLUE,
            bar: BLUE,
            good: DARK_GREEN,
            trouble: RED_ON_LIGHT,
        })
    }

    /// No colours, no marks beyond ASCII.
    pub fn plain() -> Self {
        let (plain, bold) = (Style::new(), Style::new().add_modifier(Modifier::BOLD));
        let reversed = bold.add_modifier(Modifier::REVERSED);
        Self {
            text: plain,
            dim: plain,
            header: reversed,
            place: bold,
            heading: bold,
            strong: bold,
            key: bold,
            bar: plain,
            chosen: reversed,
            typed: plain.add_modifier(Modifier::UNDERLINED),
            good: plain,
            trouble: bold,
            danger: reversed,
            warning: reversed,
            caution: reversed,
            notice: reversed,
            marks: ASCII,
            ascii: false,
        }
    }

    /// The same for a terminal that shows ASCII only.
    #[must_use]
    pub fn with_ascii(self) -> Self {
        Self { marks: ASCII, ascii: true, ..self }
    }

    /// The other one of dark and light; without colours there is no other.
    #[must_use]
    pub fn other(self) -> Self {
        let other = match self.text.bg {
            Some(BLACK) => Self::light(),
            Some(_) => Self::dark(),
            None => return self,
        };
        Self { marks: self.marks, ascii: self.ascii, ..other }
    }

    /// Style of a signal word; the words themselves say it too.
    pub fn signal(&self, word: SignalWord) -> Style {
        match word {
            SignalWord::Danger => self.danger,
            SignalWord::Warning => self.warning,
            SignalWord::Caution => self.caution,
            SignalWord::Notice => self.notice,
        }
    }

    fn with(ink: &Ink) -> Self {
        let on_paper = |color: Color| Style::new().fg(color).bg(ink.paper);
        let bold = |style: Style| style.add_modifier(Modifier::BOLD);
        let sign = |color: Color, text: Color| bold(Style::new().fg(text).bg(color));
        Self {
            text: on_paper(ink.text),
            dim: on_paper(ink.dim),
            header: sign(ink.text, ink.paper),
            place: bold(on_paper(ink.accent)),
            heading: bold(on_paper(ink.dim)),
            strong: bold(on_paper(ink.text)),
            key: bold(on_paper(ink.accent)),
            bar: on_paper(ink.bar),
            chosen: bold(on_paper(ink.text)).add_modifier(Modifier::REVERSED),
            typed: on_paper(ink.text).add_modifier(Modifier::UNDERLINED),
            good: on_paper(ink.good),
            trouble: bold(on_paper(ink.trouble)),
            danger: sign(VERMILLION, BLACK),
            warning: sign(ORANGE, BLACK),
            caution: sign(YELLOW, BLACK),
            notice: sign(SKY_BLUE, BLACK),
            marks: DRAWN,
            ascii: false,
        }
    }
}
