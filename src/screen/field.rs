//! Turns keys into one line of typed text, and the line into what is shown with its cursor.

use super::lines::span;
use super::theme::Theme;
use crate::text::{clean, width};
use crossterm::event::{Event, KeyCode, KeyEvent};
use ratatui::style::Modifier;
use ratatui::text::Line;
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler;

/// Longest text taken, in characters.
const LIMIT: usize = 400;

/// A one-line field.
#[derive(Debug, Default)]
pub(super) struct Field {
    input: Input,
}

impl Field {
    /// What is typed.
    pub(super) fn text(&self) -> &str {
        self.input.value()
    }

    /// What is typed, without blanks around it.
    pub(super) fn trimmed(&self) -> &str {
        self.input.value().trim()
    }

    /// Takes a key; true if the text has changed.
    pub(super) fn press(&mut self, key: KeyEvent) -> bool {
        match key.code {
            KeyCode::Char(letter) if LIMIT <= self.text().chars().count() || clean(&letter.to_string()).is_empty() => {
                false
            }
            KeyCode::Char(_)
            | KeyCode::Backspace
            | KeyCode::Delete
            | KeyCode::Left
            | KeyCode::Right
            | KeyCode::Home
            | KeyCode::End => self.input.handle_event(&Event::Key(key)).is_some_and(|changed| changed.value),
            _ => false,
        }
    }

    /// Puts pasted text at the cursor.
    pub(super) fn paste(&mut self, text: &str) {
        let room = LIMIT.saturating_sub(self.text().chars().count());
        for letter in clean(text).chars().take(room) {
            self.input.handle(tui_input::InputRequest::InsertChar(letter));
        }
    }

    /// The line as shown: a label, the text scrolled to its cursor, the cursor.
    pub(super) fn line(&self, label: &str, columns: usize, theme: &Theme) -> Line<'static> {
        let room = columns.saturating_sub(width(label) + 2).max(1);
        let skipped = self.input.visual_scroll(room);
        let (before, under, after) = self.parts(skipped, room);
        let cursor = theme.typed.add_modifier(Modifier::REVERSED);
        Line::from(vec![
            span(label, theme.strong),
            span(" ", theme.text),
            span(&before, theme.typed),
            span(&under, cursor),
            span(&after, theme.typed),
        ])
    }

    /// What is seen before, under and behind the cursor.
    fn parts(&self, skipped: usize, room: usize) -> (String, String, String) {
        let (mut at, mut column) = (0, 0);
        let (mut before, mut under, mut after) = (String::new(), String::new(), String::new());
        for letter in self.text().chars() {
            let wide = width(&letter.to_string());
            if skipped <= column && column + wide <= skipped + room {
                match at.cmp(&self.input.cursor()) {
                    std::cmp::Ordering::Less => before.push(letter),
                    std::cmp::Ordering::Equal => under.push(letter),
                    std::cmp::Ordering::Greater => after.push(letter),
                }
            }
            (at, column) = (at + 1, column + wide);
        }
        if under.is_empty() {
            under.push(' ');
        }
        (before, under, after)
    }
}

#[cfg(test)]
mod tests {
    use super::{Field, LIMIT};
    use crate::screen::theme::Theme;
    use crossterm::event::{KeyCode, KeyEvent};

    fn type_in(field: &mut Field, text: &str) {
        for letter in text.chars() {
            field.press(KeyEvent::from(KeyCode::Char(letter)));
        }
    }

    #[test]
    fn letters_go_in_and_hidden_ones_do_not() {
        let mut field = Field::default();
        type_in(&mut field, "9 in\u{1b}\u{202e}Hg");
        field.press(KeyEvent::from(KeyCode::Backspace));
        assert_eq!(field.text(), "9 inH");
    }

    #[test]
    fn pasted_text_is_cleaned_and_ends_somewhere() {
        let mut field = Field::default();
        field.paste(&"a\nb".repeat(LIMIT));
        assert_eq!(field.text().chars().count(), LIMIT);
        assert!(!field.text().contains('\n'));
    }

    #[test]
    fn the_end_of_a_long_text_is_seen() {
        let mut field = Field::default();
        field.paste("pressure drops since Monday");
        let line = field.line(">", 16, &Theme::plain()).to_string();
        assert!(line.ends_with("since Monday "), "{line}");
        assert!(line.chars().count() <= 16);
    }
}
