//! Tests of pictures: what is in them, that text in them is harmless, that they come out the same.

use super::{Sketch, dot, layers, svg, wall};
use crate::knowledge::{Knowledge, SourceText, load};

const NAME: &str = "<b>\\\"strainer\\\" & \\\\n]]>";

fn knowledge() -> Knowledge {
    let link = "(strength: often, basis: guess, source: \"p\")";
    let text = format!(
        "(version: 1,
        families: {{\"oil_backed\": (name: \"oil\", recognise: \"r\")}},
        sources: {{\"p\": (title: \"t\", kind: common_practice)}},
        causes: {{
            \"a\": (name: \"{NAME}\", place: \"x\", shares: {{\"oil_backed\": 700}}, basis: guess, leads_to: {{\"c\": {link}}}, remedy: \"r\"),
            \"b\": (name: \"other\", place: \"x\", shares: {{\"oil_backed\": 400}}, basis: guess, leads_to: {{\"d\": {link}}}, remedy: \"r\"),
        }},
        conditions: {{\"c\": (name: \"starved\", leak: 0.01, leads_to: {{\"d\": {link}}})}},
        damage: {{\"d\": (name: \"torn\", leak: 0.01)}},
        findings: {{
            \"f\": (name: \"low flow\", question: \"Is it?\", aliases: [\"weak\"], shown_by: {{\"d\": {link}, \"c\": (strength: rarely, basis: guess)}}),
            \"v\": (name: \"seen\", question: \"Is it?\", verdict_on: \"a\"),
        }},
        checks: {{\"k\": (name: \"open | look\", yields: [\"v\"], minutes: 9, steps: [\"Look.\"], needs_isolation: true)}},
        remedies: {{\"r\": (name: \"clean\", kind: remedy, minutes: 5, steps: [\"Clean.\"], proof: [\"p\"])}},
        )"
    );
    let loaded = load(vec![SourceText { name: "a.ron".to_owned(), text }]);
    assert!(!loaded.is_broken(), "{:?}", loaded.problems);
    loaded.knowledge
}

fn ids(sketch: &Sketch) -> Vec<&str> {
    sketch.spots.iter().map(|spot| spot.id.as_str()).collect()
}

#[test]
fn the_neighbourhood_is_what_leads_there_and_what_follows() {
    let knowledge = knowledge();
    assert_eq!(ids(&Sketch::whole(&knowledge)), ["a", "b", "c", "d", "f"]);
    let around = Sketch::around(&knowledge, "c", 1).unwrap();
    assert_eq!(ids(&around), ["a", "c", "d", "f"]);
    // b leads to d, but neither to nor from c.
    assert_eq!(around.arrows.len(), 4);
    assert_eq!(around.middle, Some(1));
    assert_eq!(ids(&Sketch::around(&knowledge, "f", 1).unwrap()), ["c", "d", "f"]);
    assert!(Sketch::around(&knowledge, "k", 1).is_none());
}

#[test]
fn every_link_leads_to_the_right() {
    let sketch = Sketch::whole(&knowledge());
    let columns = layers::columns(&sketch);
    let column = |node: usize| columns.iter().position(|nodes| nodes.contains(&node)).unwrap();
    assert!(sketch.arrows.iter().all(|arrow| column(arrow.from) < column(arrow.to)));
    assert_eq!(columns.iter().map(Vec::len).sum::<usize>(), sketch.spots.len());
}

#[test]
fn names_cannot_break_out_of_dot_or_svg() {
    let sketch = Sketch::whole(&knowledge());
    let text = dot(&sketch);
    assert!(text.starts_with("digraph weephole {\n") && text.ends_with("}\n"));
    assert!(text.contains(r#""a" [label="<b>\"strainer\" & \\n]]>", shape=box];"#), "{text}");
    assert!(text.contains("\"d\" -> \"f\" [label=\"often (0.75)\""));
    let drawn = svg(&sketch);
    assert!(drawn.starts_with("<svg xmlns=") && drawn.trim_end().ends_with("</svg>"));
    assert!(!drawn.contains("<b>") && drawn.contains("&lt;b&gt;&quot;strainer&quot;"), "{drawn}");
    for part in ["href", "<script", "url(", "<style", "<image"] {
        assert!(!drawn.contains(part), "{part}");
    }
    assert_eq!(drawn.matches("<rect").count(), 1 + sketch.spots.len());
    assert_eq!(drawn, svg(&sketch));
}

#[test]
fn the_wall_tells_way_frequency_look_and_remedy() {
    let wall = wall(&knowledge(), "oil_backed", None);
    assert_eq!(wall.tables.len(), 1);
    let table = &wall.tables[0];
    assert_eq!(table.symptom, "Low flow");
    // Share times frequency by hand: a: 700 * 0.75^3 = 295; b: 400 * 0.75^2 = 225.
    assert_eq!((table.rows[0].way.as_str(), table.rows[1].way.as_str()), ("starved, torn", "torn"));
    assert!((table.rows[0].often - 0.421_875).abs() < 1e-12 && (table.rows[1].often - 0.5625).abs() < 1e-12);
    assert_eq!(table.rows[0].look, "ISOLATE FIRST: open | look, 9 min");
    assert_eq!(table.rows[1].look, "");
    let page = wall.html();
    assert!(page.contains("default-src 'none'") || page.contains("default-src &#39;none&#39;"));
    assert!(!page.contains("<b>") && page.contains("&lt;b&gt;"));
    let text = wall.markdown();
    assert!(text.contains(r"open \| look"));
    let rows: Vec<&str> = text.lines().filter(|line| line.starts_with("| ")).collect();
    assert_eq!(rows.len(), 3);
    let columns = |line: &str| line.replace(r"\|", "").matches('|').count();
    assert!(rows.iter().all(|row| columns(row) == 7), "{rows:?}");
}
