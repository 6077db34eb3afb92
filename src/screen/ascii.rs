//! Turns a picture into one of ASCII alone, for terminals that show nothing else.
//!
//! Marks have their own ASCII forms in the theme; here the few other letters of texts and units find theirs, cell by cell.

use crate::text::fold;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// What is written for signs of texts and units.
const SIGNS: &[(&str, &str)] = &[
    ("°", "o"),
    ("–", "-"),
    ("—", "-"),
    ("−", "-"),
    ("×", "x"),
    ("·", "*"),
    ("…", "."),
    ("→", ">"),
    ("≤", "<"),
    ("≥", ">"),
    ("±", "~"),
    ("Δ", "d"),
    ("Ω", "O"),
    ("\u{a0}", " "),
];

/// Replaces what is beyond ASCII; a letter of another script becomes a question mark.
pub(super) fn only(area: Rect, buf: &mut Buffer) {
    for position in area.positions() {
        let Some(cell) = buf.cell_mut(position) else { continue };
        if cell.symbol().is_ascii() {
            continue;
        }
        let plain = plain(cell.symbol());
        cell.set_symbol(&plain);
    }
}

fn plain(symbol: &str) -> String {
    if let Some((_, sign)) = SIGNS.iter().find(|(known, _)| *known == symbol) {
        return (*sign).to_owned();
    }
    let folded = fold(symbol);
    let first = folded.chars().next().filter(char::is_ascii).unwrap_or('?');
    let is_capital = symbol.chars().next().is_some_and(char::is_uppercase);
    String::from(if is_capital { first.to_ascii_uppercase() } else { first })
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
