//! Turns what a reading should show on this pump into rows on one scale: healthy, the leading suspects, the value typed.

use super::face::{Face, face_lines};
use super::lines::{Lines, cell, line, para, span};
use super::theme::Theme;
use crate::job::{DialBand, DialView, OnDial};
use crate::text::width;
use ratatui::text::Line;

/// Columns of a name before its band.
const NAME: usize = 18;
/// Fewest cells a scale is drawn with.
const FEWEST: usize = 12;

/// The rows of a dial: one for each band, one for the value.
pub(super) fn dial_lines(
    dial: &DialView,
    value: Option<&OnDial>,
    (columns, is_tall): (usize, bool),
    theme: &Theme,
) -> Lines {
    let face = if is_tall { round(dial, value, columns, theme) } else { Lines::new() };
    let bands: Vec<&DialBand> = std::iter::once(&dial.healthy).chain(&dial.suspects).collect();
    let words = bands.iter().map(|band| width(&band.words)).max().unwrap_or(0);
    let cells = columns.saturating_sub(NAME + words + 2);
    let mut lines = vec![line("EXPECTED ON THIS PUMP", theme.heading)];
    lines.extend(face);
    for band in bands {
        if cells < FEWEST {
            lines.extend(para(&format!("{}: {}", band.name, band.words), columns, theme.text));
        } else {
            lines.push(row(band, cells, theme));
        }
    }
    if let Some(value) = value {
        if FEWEST <= cells {
            let at = place(value.at, cells);
            lines.push(Line::from(vec![
                span(&" ".repeat(NAME + at), theme.text),
                span(theme.marks.value, theme.strong),
            ]));
        }
        lines.extend(para(&format!("The number typed is {}.", value.words), columns, theme.strong));
    }
    lines.extend(para(&format!("Nine of ten such pumps; {}.", dial.basis), columns, theme.dim));
    lines
}

/// The same round: the healthy band outside, the suspects' inside it.
fn round(dial: &DialView, value: Option<&OnDial>, columns: usize, theme: &Theme) -> Lines {
    let suspects = dial.suspects.iter().map(|band| (band.ends, theme.bar));
    let bands = std::iter::once((dial.healthy.ends, theme.good)).chain(suspects).collect();
    face_lines(&Face { bands, needle: value.map(|value| value.at) }, columns, theme)
}

fn row(band: &DialBand, cells: usize, theme: &Theme) -> Line<'static> {
    let (from, to) = (place(band.ends.0, cells), place(band.ends.1, cells));
    let scale: String =
        (0..cells).map(|at| if (from..=to).contains(&at) { theme.marks.full } else { theme.marks.empty }).collect();
    Line::from(vec![
        span(&cell(&band.name, NAME - 1, theme.marks.cut), theme.text),
        span(" ", theme.text),
        span(&scale, theme.bar),
        span("  ", theme.text),
        span(&band.words, theme.text),
    ])
}

/// The cell of a share of the scale.
pub(super) fn place(share: f64, cells: usize) -> usize {
    let last = cells.saturating_sub(1);
    (0..last).find(|&at| share * last as f64 <= at as f64 + 0.5).unwrap_or(last)
}

#[cfg(test)]
mod tests {
    use super::dial_lines;
    use crate::job::{DialBand, DialView, OnDial};
    use crate::screen::theme::Theme;

    fn band(name: &str, words: &str, ends: (f64, f64)) -> DialBand {
        DialBand { name: name.to_owned(), words: words.to_owned(), ends }
    }

    #[test]
    fn bands_and_the_value_stand_on_one_scale() {
        let dial = DialView {
            healthy: band("healthy", "63 to 77 bar", (0.7, 1.0)),
            suspects: vec![band("orifice worn, much too large", "28 to 58 bar", (0.0, 0.5))],
            basis: "computed from the pump sheet",
        };
        let value = OnDial { at: 0.25, words: "below the healthy band".to_owned() };
        let shown = |columns| -> Vec<String> {
            dial_lines(&dial, Some(&value), (columns, false), &Theme::plain()).iter().map(ToString::to_string).collect()
        };
        let wide = shown(53);
        assert_eq!(wide[1], "healthy           ..............#######  63 to 77 bar");
        assert_eq!(wide[2], "orifice worn, m.. ###########..........  28 to 58 bar");
        assert_eq!(wide[3], format!("{}^", " ".repeat(18 + 5)));
        assert!(wide[4].contains("below the healthy band"));
        assert_eq!(shown(30)[1], "healthy: 63 to 77 bar", "no room for a scale");
    }
}
