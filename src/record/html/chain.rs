//! Turns a causal chain into a drawing: one box per link from cause to symptom, told apart by word and edge.

use crate::text::drawing::{Drawing, Hang, INK, WIDTH};
use crate::text::wrap;

const LINE: f64 = 17.0;
const GAP: f64 = 20.0;
/// Columns that fit a box at 13 px.
const COLUMNS: usize = 78;

/// The drawing of a chain: kind and name of each link.
pub(super) fn render(chain: &[(&'static str, String)]) -> String {
    let links: Vec<(&str, Vec<String>)> = chain.iter().map(|(kind, name)| (*kind, wrap(name, COLUMNS))).collect();
    let height: f64 = links.iter().map(|(_, lines)| tall(lines) + GAP).sum();
    let told: Vec<String> = chain.iter().map(|(kind, name)| format!("{kind}: {name}")).collect();
    let mut drawing = Drawing::new(height.max(GAP), &told.join(", then "));
    let mut top = 2.0;
    for (at, (kind, lines)) in links.iter().enumerate() {
        if 0 < at {
            arrow(&mut drawing, top - GAP);
        }
        link(&mut drawing, top, kind, lines);
        top += tall(lines) + GAP;
    }
    drawing.finish()
}

fn tall(lines: &[String]) -> f64 {
    14.0 + LINE * lines.len() as f64
}

fn link(drawing: &mut Drawing, top: f64, kind: &str, lines: &[String]) {
    // A part harmed and the symptom have their own edge, so the kinds differ without colour.
    let (stroke, dash) = match kind {
        "cause" => ("#0072b2", "stroke-width=\"3\""),
        "damage" => ("#d55e00", "stroke-width=\"3\" stroke-dasharray=\"9 4\""),
        "symptom" => (INK, "stroke-width=\"1.5\" stroke-dasharray=\"2 3\""),
        _ => (INK, "stroke-width=\"1.5\""),
    };
    let style = format!("rx=\"5\" fill=\"#fff\" stroke=\"{stroke}\" {dash}");
    drawing.rect((110.0, top), (WIDTH - 112.0, tall(lines)), &style);
    drawing.text((100.0, top + 7.0 + LINE - 4.0), Hang::End, INK, kind);
    for (at, line) in lines.iter().enumerate() {
        drawing.text((122.0, top + 3.0 + LINE * (at + 1) as f64), Hang::Start, INK, line);
    }
}

fn arrow(drawing: &mut Drawing, from: f64) {
    let (x, to) = (140.0, from + GAP);
    drawing.line((x, from), (x, to - 6.0), &format!("stroke=\"{INK}\" stroke-width=\"1.5\""));
    drawing.shape(&[(x - 5.0, to - 8.0), (x + 5.0, to - 8.0), (x, to - 1.0)], &format!("fill=\"{INK}\""));
}
