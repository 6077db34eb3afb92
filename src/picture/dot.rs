//! Turns a sketch into DOT, the language of graph-drawing programs.

use super::sketch::{Sketch, SpotKind};
use crate::text::clean;
use std::fmt::Write as _;

/// The sketch as DOT; shapes tell the kinds apart without colour.
pub fn dot(sketch: &Sketch) -> String {
    let mut text = "digraph weephole {\n  rankdir=LR;\n  node [fontname=\"sans-serif\", fontsize=10];\n".to_owned();
    text.push_str("  edge [fontname=\"sans-serif\", fontsize=8];\n");
    for (at, spot) in sketch.spots.iter().enumerate() {
        let heavy = if sketch.middle == Some(at) { ", penwidth=3" } else { "" };
        let (id, name) = (quoted(&spot.id), quoted(&spot.name));
        let _ = writeln!(text, "  {id} [label={name}, shape={}{heavy}];", shape(spot.kind));
    }
    for arrow in &sketch.arrows {
        let (Some(from), Some(to)) = (sketch.spots.get(arrow.from), sketch.spots.get(arrow.to)) else { continue };
        let _ = writeln!(
            text,
            "  {} -> {} [label={}, penwidth={:.1}];",
            quoted(&from.id),
            quoted(&to.id),
            quoted(&format!("{} ({})", arrow.words, arrow.strength)),
            0.5 + 2.5 * arrow.strength
        );
    }
    text.push_str("}\n");
    text
}

fn shape(kind: SpotKind) -> &'static str {
    match kind {
        SpotKind::Cause => "box",
        SpotKind::Condition => "ellipse",
        SpotKind::Damage => "octagon",
        SpotKind::Finding => "note",
        SpotKind::Reading => "parallelogram",
    }
}

/// A quoted DOT text: a backslash would otherwise begin an escape.
fn quoted(text: &str) -> String {
    format!("\"{}\"", clean(text).replace('\\', "\\\\").replace('"', "\\\""))
}
