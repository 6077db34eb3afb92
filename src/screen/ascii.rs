//! Turns a picture into one of ASCII alone, for terminals that show nothing else.
//!
//! Marks have their own ASCII forms in the theme; here the other letters of texts and units find theirs, cell by cell.

use crate::text::ascii;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Replaces what is beyond ASCII; a letter of another script becomes a question mark.
pub(super) fn only(area: Rect, buf: &mut Buffer) {
    for position in area.positions() {
        let Some(cell) = buf.cell_mut(position) else { continue };
        if cell.symbol().is_ascii() {
            continue;
        }
        let plain = ascii(cell.symbol());
        cell.set_char(plain);
    }
}

#[cfg(test)]
mod tests {
    use super::only;
    use ratatui::buffer::Buffer;

    #[test]
    fn every_cell_has_a_plain_sign() {
        let mut buffer = Buffer::with_lines(["Übergröße 80 °C, 2 × 5 µm → 压"]);
        only(buffer.area, &mut buffer);
        let text: String = buffer.content.iter().map(ratatui::buffer::Cell::symbol).collect();
        assert_eq!(text.trim_end(), "Ubergrose 80 oC, 2 x 5 um > ?");
    }
}
