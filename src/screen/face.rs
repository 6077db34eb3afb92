//! Turns shares of a scale into the round face of a dial, drawn in dots: a rim, a ring for each band, a needle.
//!
//! Dots need more than ASCII; without them, or where there is no room, the bands stand in rows ([`super::dial`]).

use super::lines::Lines;
use super::theme::Theme;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};
use ratatui::symbols::Marker;
use ratatui::text::{Line, Span};
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Line as Stroke, Points};
use std::f64::consts::PI;

/// Rows of a face; a dot is as high as wide, so it takes four times as many columns.
const ROWS: u16 = 7;
/// Columns of a face.
pub(super) const COLUMNS: usize = 4 * ROWS as usize;
/// Steps of an arc over the whole scale: closer than the dots.
const STEPS: u32 = 160;
/// From ring to ring, as a share of the radius.
const RING: f64 = 0.11;

/// Rows of a screen from which faces are round.
const TALL: u16 = 34;

/// True where a screen has room for round faces.
pub(super) fn has_room((_, rows): (u16, u16)) -> bool {
    TALL <= rows
}

/// What a face shows; places are shares of the scale, 0 at its left end to 1.
#[derive(Debug, Default)]
pub(super) struct Face {
    /// Bands from outside to inside, with their style.
    pub bands: Vec<((f64, f64), Style)>,
    /// The needle.
    pub needle: Option<f64>,
}

/// The face, in the middle of so many columns; nothing where it cannot be drawn.
pub(super) fn face_lines(face: &Face, columns: usize, theme: &Theme) -> Lines {
    if theme.is_ascii() || columns < COLUMNS {
        return Lines::new();
    }
    let area = Rect::new(0, 0, 4 * ROWS, ROWS);
    let mut buf = Buffer::empty(area);
    let colour = |style: Style| style.fg.unwrap_or(Color::Reset);
    Canvas::default()
        .marker(Marker::Braille)
        .background_color(theme.text.bg.unwrap_or(Color::Reset))
        .x_bounds([-1.03, 1.03])
        .y_bounds([-0.03, 1.03])
        .paint(|context| {
            context.draw(&Points { coords: &arc((0.0, 1.0), 1.0), color: colour(theme.dim) });
            for (at, (ends, style)) in face.bands.iter().enumerate() {
                let radius = 1.0 - RING * (at as f64 + 1.0);
                for depth in [0.0, 0.035] {
                    context.draw(&Points { coords: &arc(*ends, radius - depth), color: colour(*style) });
                }
            }
            if let Some(at) = face.needle {
                context.layer();
                let ((x1, y1), (x2, y2)) = (spot(at, 0.1), spot(at, 0.97));
                context.draw(&Stroke { x1, y1, x2, y2, color: colour(theme.strong) });
            }
        })
        .render(area, &mut buf);
    let indent = " ".repeat((columns - COLUMNS) / 2);
    buf.content
        .chunks(COLUMNS)
        .map(|cells| {
            let dots = cells.iter().map(|cell| Span::styled(cell.symbol().to_owned(), cell.style()));
            std::iter::once(Span::styled(indent.clone(), theme.text)).chain(dots).collect::<Line<'static>>()
        })
        .collect()
}

/// Where a share of the scale stands on a ring: from the left over the top to the right.
fn spot(share: f64, radius: f64) -> (f64, f64) {
    let turned = PI * (1.0 - share.clamp(0.0, 1.0));
    (radius * turned.cos(), radius * turned.sin())
}

fn arc((from, to): (f64, f64), radius: f64) -> Vec<(f64, f64)> {
    (0..=STEPS).map(|step| spot(from + (to - from) * f64::from(step) / f64::from(STEPS), radius)).collect()
}

#[cfg(test)]
mod tests {
    use super::{COLUMNS, Face, face_lines};
    use crate::screen::theme::Theme;

    fn drawn(needle: f64) -> Vec<String> {
        let theme = Theme::dark();
        let face = Face { bands: vec![((0.4, 0.6), theme.good)], needle: Some(needle) };
        face_lines(&face, COLUMNS, &theme).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn the_needle_turns_from_left_to_right() {
        let (left, middle, right) = (drawn(0.0), drawn(0.5), drawn(1.0));
        assert_eq!((left.len(), left[0].chars().count()), (7, COLUMNS));
        let dots = |line: &str| line.chars().filter(|dot| *dot != '\u{2800}' && *dot != ' ').count();
        let half = |line: &str, right: bool| -> String {
            let letters: Vec<char> = line.chars().collect();
            letters[if right { COLUMNS / 2..COLUMNS } else { 0..COLUMNS / 2 }].iter().collect()
        };
        assert!(dots(&half(&left[6], true)) < dots(&half(&left[6], false)), "{left:#?}");
        assert!(dots(&half(&right[6], false)) < dots(&half(&right[6], true)), "{right:#?}");
        assert!(dots(&middle[3]) < COLUMNS && middle != left);
    }

    #[test]
    fn in_ascii_there_is_no_face() {
        assert!(face_lines(&Face::default(), 80, &Theme::plain()).is_empty());
    }
}
