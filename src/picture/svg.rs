//! Turns a sketch into one self-contained SVG file: boxes in columns, links as lines as thick as they are strong.

use super::layers::columns;
use super::sketch::{Sketch, Spot, SpotKind};
use crate::text::drawing::{Drawing, FAINT, Hang, INK};
use crate::text::{cut, wrap};

const BOX: (f64, f64) = (210.0, 46.0);
const COLUMN: f64 = 330.0;
const ROW: f64 = 58.0;
const MARGIN: f64 = 20.0;
/// Columns of text in a box.
const LETTERS: usize = 30;
/// Links up to which each has its words; with more they would cover the picture.
const TOLD: usize = 60;

/// The sketch as an SVG file.
pub fn svg(sketch: &Sketch) -> String {
    let columns = columns(sketch);
    let tallest = columns.iter().map(Vec::len).max().unwrap_or(0).max(1);
    let height = tallest as f64 * ROW + 2.0 * MARGIN;
    let width = columns.len().max(1) as f64 * COLUMN - (COLUMN - BOX.0) + 2.0 * MARGIN;
    let mut corners = vec![(0.0, 0.0); sketch.spots.len()];
    for (column, nodes) in columns.iter().enumerate() {
        let top = (height - nodes.len() as f64 * ROW) / 2.0;
        for (row, &node) in nodes.iter().enumerate() {
            corners[node] = (MARGIN + column as f64 * COLUMN, top + row as f64 * ROW);
        }
    }
    let title = match sketch.middle.and_then(|at| sketch.spots.get(at)) {
        Some(spot) => format!("Around: {}", spot.name),
        None => "The cause graph".to_owned(),
    };
    let mut drawing = Drawing::sized((width, height), &title);
    links(&mut drawing, sketch, &corners);
    for (at, (spot, corner)) in sketch.spots.iter().zip(&corners).enumerate() {
        draw_box(&mut drawing, spot, *corner, sketch.middle == Some(at));
    }
    drawing.finish_alone()
}

fn links(drawing: &mut Drawing, sketch: &Sketch, corners: &[(f64, f64)]) {
    let told = sketch.arrows.len() <= TOLD;
    for arrow in &sketch.arrows {
        let (from, to) = (corners[arrow.from], corners[arrow.to]);
        let start = (from.0 + BOX.0, from.1 + BOX.1 / 2.0);
        let end = (to.0, to.1 + BOX.1 / 2.0);
        let style = format!("stroke=\"{FAINT}\" stroke-width=\"{:.1}\"", 0.5 + 2.5 * arrow.strength);
        drawing.line(start, end, &style);
        drawing.shape(
            &[(end.0, end.1), (end.0 - 8.0, end.1 - 4.0), (end.0 - 8.0, end.1 + 4.0)],
            &format!("fill=\"{FAINT}\""),
        );
        if told {
            // Nearer to the effect: there the lines have spread.
            let at = |from: f64, to: f64| from + 0.62 * (to - from);
            let place = (at(start.0, end.0), at(start.1, end.1) - 3.0);
            drawing.text(place, Hang::Middle, INK, &arrow.words);
        }
    }
}

fn draw_box(drawing: &mut Drawing, spot: &Spot, corner: (f64, f64), is_middle: bool) {
    let (fill, dash) = look(spot.kind);
    let stroke = if is_middle { 3.5 } else { 1.2 };
    let style = format!("fill=\"{fill}\" stroke=\"{INK}\" stroke-width=\"{stroke}\"{dash}");
    drawing.rect(corner, BOX, &style);
    let x = corner.0 + BOX.0 / 2.0;
    drawing.text((x, corner.1 + 12.0), Hang::Middle, "#444", spot.kind.word());
    for (at, line) in wrap(&spot.name, LETTERS).iter().take(2).enumerate() {
        drawing.text((x, corner.1 + 26.0 + 14.0 * at as f64), Hang::Middle, INK, &cut(line, LETTERS));
    }
}

/// Light fill and dash of a box; the word in it tells the same.
fn look(kind: SpotKind) -> (&'static str, &'static str) {
    match kind {
        SpotKind::Cause => ("#fbe3d0", ""),
        SpotKind::Condition => ("#dcebf7", ""),
        SpotKind::Damage => ("#f3dcea", " stroke-dasharray=\"8 3\""),
        SpotKind::Finding => ("#ffffff", ""),
        SpotKind::Reading => ("#dff2ea", " stroke-dasharray=\"2 2\""),
    }
}
