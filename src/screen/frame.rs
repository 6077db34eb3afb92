//! Turns header, message and keys into what stands around every page, and unbound keys into scrolling: shared by the programs.

use super::bar::bar;
use super::keys::Hint;
use super::lines::flow;
use super::place::Scroll;
use super::sheet::{Around, Columns};
use super::theme::Theme;
use crossterm::event::KeyCode;
use ratatui::text::Line;

/// Rows below which ways elsewhere take one row only.
const LOW: u16 = 20;

/// What the message line says.
#[derive(Debug)]
pub(super) struct Message {
    /// What.
    pub text: String,
    /// True if something did not work.
    pub is_trouble: bool,
}

/// Everything around a page.
pub(super) fn around(
    header: Line<'static>,
    message: Option<&Message>,
    hints: &[Hint],
    (size, theme): ((u16, u16), &Theme),
) -> Around {
    let columns = Columns::of(size.0).full;
    let says = |message: &Message| {
        let (mark, style) =
            if message.is_trouble { (theme.marks.trouble, theme.trouble) } else { (theme.marks.good, theme.good) };
        flow(&[(mark, style), (&message.text, style)], columns)
    };
    let (answers, ways) = bar(hints, columns, if size.1 < LOW { 1 } else { 2 }, theme);
    Around { header, message: message.map(says).unwrap_or_default(), answers, ways }
}

/// How a key scrolls, unless the page has it for something else.
pub(super) fn scroll_of(key: KeyCode, hints: &[Hint]) -> Option<Scroll> {
    let by = match key {
        KeyCode::PageUp => Scroll::PageUp,
        KeyCode::PageDown => Scroll::PageDown,
        KeyCode::Up => Scroll::Up,
        KeyCode::Down => Scroll::Down,
        _ => return None,
    };
    let is_bound = hints.iter().any(|hint| hint.key == key || (key == KeyCode::Up && hint.key == KeyCode::Down));
    (!is_bound).then_some(by)
}
