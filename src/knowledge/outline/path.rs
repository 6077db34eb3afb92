//! Turns a path of keys into a node, and an outline into the list of keys given twice.

use super::{Kind, LineMap, Node, Outline, Span};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// A key or field name that stands twice in the same brackets. `ron` would keep the last value
/// of a map and say nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Duplicate {
    /// The keys and list indices that lead to it; the last one is the key itself.
    pub path: Vec<String>,
    /// Where the key stands for the first time.
    pub first: Span,
    /// Where it stands again.
    pub again: Span,
}

impl Duplicate {
    /// The key given twice.
    pub fn key(&self) -> &str {
        self.path.last().map_or("", String::as_str)
    }

    /// `duplicate refill_valve_stuck at 18:9, first at 8:9`
    pub fn describe(&self, lines: &LineMap<'_>) -> String {
        let again = lines.position(self.again.start);
        let first = lines.position(self.first.start);
        format!("duplicate {} at {again}, first at {first}", self.key())
    }
}

impl Node {
    /// The child with this key or field name, or the child with this index in a list or tuple.
    /// Of two equal keys the last counts, as for `ron`.
    pub fn get(&self, step: &str) -> Option<&Node> {
        if matches!(self.kind, Kind::Map | Kind::Fields) {
            let mut backwards = self.children.iter().rev();
            return backwards.find(|child| child.key.as_ref().is_some_and(|key| key.text == step));
        }
        self.children.get(step.parse::<usize>().ok()?)
    }
}

impl Outline {
    /// The node that the keys, field names and list indices in `path` lead to; the empty path
    /// leads to the root. The value inside `Some(...)` is its child 0, as in any tuple.
    pub fn find<S: AsRef<str>>(&self, path: &[S]) -> Option<&Node> {
        let mut node = &self.root;
        for step in path {
            node = node.get(step.as_ref())?;
        }
        Some(node)
    }

    /// All keys and field names given more than once, in the order of the text.
    pub fn duplicates(&self) -> Vec<Duplicate> {
        let mut found = Vec::new();
        collect(&self.root, &mut Vec::new(), &mut found);
        found
    }
}

fn collect<'n>(node: &'n Node, path: &mut Vec<Cow<'n, str>>, found: &mut Vec<Duplicate>) {
    let mut seen = BTreeMap::new();
    for (index, child) in node.children.iter().enumerate() {
        if child.key.is_none() && child.children.is_empty() {
            continue;
        }
        path.push(step_of(child, index));
        if let Some(key) = &child.key {
            let first = *seen.entry((key.kind, key.text.as_str())).or_insert(key.span);
            if first != key.span {
                found.push(duplicate(path, first, key.span));
            }
        }
        collect(child, path, found);
        path.pop();
    }
}

fn step_of(child: &Node, index: usize) -> Cow<'_, str> {
    match &child.key {
        Some(key) => Cow::Borrowed(key.text.as_str()),
        None => Cow::Owned(index.to_string()),
    }
}

fn duplicate(path: &[Cow<'_, str>], first: Span, again: Span) -> Duplicate {
    Duplicate { path: path.iter().map(|step| step.clone().into_owned()).collect(), first, again }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const GRAPH: &str = r#"// what leads to what
(
    version: 1,
    symptoms: ["low_flow", "noise"],

    causes: {
        // --- hydraulic side ---
        "refill_valve_stuck": (
            title: "Refill valve stuck",
            leads_to: { "low_flow": (strength: Strong) },
        ),
        "strainer_clogged": (
            title: "Strainer clogged", // often
            leads_to: {
                "inlet_restricted": (strength: Numeric(0.8)),
            },
        ),
        "refill_valve_stuck": (title: "Again", prior: Some((0.1, 0.2)), title: "Ü"),
    },
)
"#;

    fn described(text: &str) -> Vec<String> {
        let outline = Outline::read(text).unwrap();
        let lines = LineMap::new(text);
        outline.duplicates().iter().map(|d| d.describe(&lines)).collect()
    }

    #[test]
    fn finds_by_keys_fields_and_indices() {
        let outline = Outline::read(GRAPH).unwrap();
        let said = |path: &[&str]| outline.find(path).map(|node| node.span.of(GRAPH));
        let strength = ["causes", "strainer_clogged", "leads_to", "inlet_restricted", "strength"];
        assert_eq!(said(&strength), Some("Numeric(0.8)"));
        assert_eq!(said(&["symptoms", "1"]), Some("\"noise\""));
        assert_eq!(said(&["causes", "refill_valve_stuck", "prior", "0", "1"]), Some("0.2"));
        assert_eq!(said(&[]), Some(outline.root.span.of(GRAPH)));
        for nowhere in [&["causes", "0"][..], &["symptoms", "2"], &["version", "0"], &["x"]] {
            assert_eq!(said(nowhere), None);
        }
    }

    #[test]
    fn the_last_of_two_keys_is_found_as_ron_keeps_it() {
        let text = "{\"a\": 1, \"a\": 2}";
        let kept: std::collections::HashMap<String, i32> = ron::from_str(text).unwrap();
        let outline = Outline::read(text).unwrap();
        let found = outline.find(&["a"]).unwrap().span.of(text);
        assert_eq!(found, kept["a"].to_string());
    }

    #[test]
    fn duplicates_say_where_both_are() {
        assert_eq!(
            described(GRAPH),
            ["duplicate refill_valve_stuck at 18:9, first at 8:9", "duplicate title at 18:73, first at 18:32",]
        );
        let outline = Outline::read(GRAPH).unwrap();
        let duplicates = outline.duplicates();
        assert_eq!(duplicates[1].path, ["causes", "refill_valve_stuck", "title"]);
        assert_eq!(duplicates[1].again.of(GRAPH), "title");
        assert!(outline.find(&duplicates[1].path).is_some());
    }

    #[test]
    fn duplicates_in_lists_have_the_index_in_their_path() {
        let outline = Outline::read("[1, {}, {\"k\": 1, \"k\": 2, \"k\": 3}]").unwrap();
        let duplicates = outline.duplicates();
        assert_eq!(duplicates.len(), 2);
        assert_eq!(duplicates[1].path, ["2", "k"]);
        assert_eq!(duplicates[0].first, duplicates[1].first);
    }

    #[test]
    fn another_spelling_of_the_same_key_is_a_duplicate() {
        assert_eq!(described("{\"é\": 1,\n \"\\u{e9}\": 2}"), ["duplicate é at 2:2, first at 1:2"]);
        assert_eq!(described("{1: 1, 0x1: 2, (a: 1): 3, ( a : 1, ): 4}").len(), 2);
        assert_eq!(described("(type: 1, r#type: 2)").len(), 1);
    }

    #[test]
    fn keys_of_another_kind_or_place_are_no_duplicates() {
        assert!(described("{1: 1, \"1\": 2, '1': 3, one: 4, \"one\": 5}").is_empty());
        assert!(described("({\"a\": 1}, {\"a\": 1}, (a: (a: 1)))").is_empty());
    }
}
