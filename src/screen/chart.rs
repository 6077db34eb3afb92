//! Turns shares from 0 to 1 into columns and bars of a chart.

use super::lines::{Lines, span};
use super::theme::Theme;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Columns of so many rows, one for each share; every column is at least a low mark, so that it can be counted.
pub(super) fn columns(shares: &[f64], rows: usize, style: Style, theme: &Theme) -> Lines {
    let levels = theme.marks.levels;
    let heights: Vec<usize> = shares.iter().map(|share| cells(*share, rows * levels.len()).max(1)).collect();
    let row = |above: usize| -> String {
        let floor = (rows - 1 - above) * levels.len();
        heights.iter().map(|height| level(height.saturating_sub(floor), &levels)).collect()
    };
    (0..rows).map(|above| Line::from(span(&row(above), style))).collect()
}

fn level(height: usize, levels: &[&'static str; 8]) -> &'static str {
    height.checked_sub(1).map_or(" ", |at| levels[at.min(levels.len() - 1)])
}

/// A bar of full cells up to a share, empty ones up to a greater one, and blanks behind it.
pub(super) fn bar((share, of): (f64, f64), width: usize, theme: &Theme) -> Vec<Span<'static>> {
    let full = cells(share, width);
    let empty = cells(of, width).max(full) - full;
    vec![
        span(&theme.marks.full.repeat(full), theme.bar),
        span(&theme.marks.empty.repeat(empty), theme.dim),
        span(&" ".repeat(width - full - empty), theme.text),
    ]
}

/// Cells of a share, at most all of them.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to the number of cells")]
fn cells(share: f64, width: usize) -> usize {
    if share.is_finite() { (share.clamp(0.0, 1.0) * width as f64).round() as usize } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::{bar, columns};
    use crate::screen::theme::Theme;
    use ratatui::text::Line;

    #[test]
    fn columns_stand_on_one_ground() {
        let theme = Theme::dark();
        let drawn: Vec<String> =
            columns(&[0.0, 0.5, 1.0, f64::NAN], 2, theme.bar, &theme).iter().map(ToString::to_string).collect();
        assert_eq!(drawn, ["  █ ", "▁██▁"]);
    }

    #[test]
    fn a_bar_has_its_width_whatever_it_shows() {
        let drawn = |shares| Line::from(bar(shares, 10, &Theme::plain())).to_string();
        assert_eq!(drawn((0.3, 0.8)), "###.....  ");
        assert_eq!(drawn((0.8, 0.3)), "########  ");
        assert_eq!(drawn((7.0, 9.0)), "##########");
    }
}
