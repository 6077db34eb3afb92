//! Turns knowledge into what a supervisor looks at: the list of all entries, and one entry with its links and fields.

use crate::knowledge::outline::{LineMap, Node};
use crate::knowledge::schema::{Basis, Id, Link, Pull, Strength, Way};
use crate::knowledge::{Kind, Knowledge, search};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// Fields that hold links: they are told one by one.
const LINKS: [&str; 3] = ["leads_to", "shown_by", "moved_by"];
/// Fields that say what an entry is called, best first.
const NAMES: [&str; 5] = ["name", "hazard", "question", "title", "told"];

/// One entry of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EntryLine {
    /// Kind.
    pub kind: Kind,
    /// Id.
    pub id: Id,
    /// What it is called; the id if nothing is said.
    pub name: String,
    /// Everything it can be found by.
    texts: Vec<String>,
}

/// Every entry of every kind, in the order of the schema and the files.
pub fn entry_lines(knowledge: &Knowledge) -> Vec<EntryLine> {
    let all = Kind::ALL.into_iter().flat_map(|kind| kind.ids(&knowledge.all).into_iter().map(move |id| (kind, id)));
    all.map(|(kind, id)| {
        let name = name(knowledge, id);
        let texts = [name.clone(), id.replace('_', " ")].into_iter().chain(aliases(knowledge, id)).collect();
        EntryLine { kind, id: id.clone(), name, texts }
    })
    .collect()
}

/// Places in the list of the entries of a kind, or of all, that the words fit, best first; without words all of them.
pub fn find_entries(lines: &[EntryLine], kind: Option<Kind>, words: &str) -> Vec<usize> {
    let wanted = lines.iter().filter(|line| kind.is_none_or(|kind| line.kind == kind));
    let texts: Vec<(&str, Vec<&str>)> =
        wanted.map(|line| (line.id.as_str(), line.texts.iter().map(String::as_str).collect())).collect();
    let at: IndexMap<&str, usize> = lines.iter().enumerate().map(|(at, line)| (line.id.as_str(), at)).collect();
    search(words, &texts).into_iter().filter_map(|hit| at.get(hit.id.as_str()).copied()).collect()
}

/// A link as it is looked at from one of its ends.
#[derive(Debug, Clone, PartialEq)]
pub struct LinkRow {
    /// The other end.
    pub other: Id,
    /// What that is called.
    pub name: String,
    /// How often, in words; for a reading which way, too.
    pub words: String,
    /// How often, as a probability.
    pub strength: f64,
    /// Where its number is set.
    pub path: String,
    /// What it rests on: basis, source, review, dispute.
    pub rests_on: String,
}

/// A field as it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldRow {
    /// Where it is set.
    pub path: String,
    /// Its name.
    pub field: String,
    /// Its value as written, in one line.
    pub text: String,
}

/// One entry.
#[derive(Debug, Clone, PartialEq)]
pub struct EntryView {
    /// Kind.
    pub kind: Kind,
    /// Id.
    pub id: Id,
    /// What it is called.
    pub name: String,
    /// File it stands in.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// What leads here.
    pub up: Vec<LinkRow>,
    /// What it leads to.
    pub down: Vec<LinkRow>,
    /// The other fields.
    pub fields: Vec<FieldRow>,
    /// Entries that it names, or that name it, otherwise than by a link: id and name.
    pub beside: Vec<(Id, String)>,
}

impl EntryView {
    /// The entry with this id; none if there is none.
    pub fn of(knowledge: &Knowledge, id: &str) -> Option<Self> {
        let kind = knowledge.kind_of(id)?;
        let (source, node) = node(knowledge, id)?;
        let edges = edges(knowledge);
        let links = |up: bool| {
            let wanted = edges.iter().filter(|edge| if up { edge.to == id } else { edge.from == id });
            wanted.map(|edge| row(knowledge, edge, up)).collect()
        };
        let fields = node.entries().filter(|(key, _)| !LINKS.contains(&key.text.as_str()));
        let path = |field: &str| format!("{}.{id}.{field}", kind.name());
        Some(Self {
            kind,
            id: id.to_owned(),
            name: name(knowledge, id),
            file: source.name.clone(),
            line: LineMap::new(&source.text).position(node.entry().start).line,
            up: links(true),
            down: links(false),
            fields: fields
                .map(|(key, node)| FieldRow {
                    path: path(&key.text),
                    field: key.text.clone(),
                    text: one_line(node.span.of(&source.text)),
                })
                .collect(),
            beside: beside(knowledge, id, &edges),
        })
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn node<'k>(knowledge: &'k Knowledge, id: &str) -> Option<(&'k crate::knowledge::SourceText, &'k Node)> {
    let kind = knowledge.kind_of(id)?;
    let home = knowledge.file_of(id)?;
    let (source, outline) = knowledge.files().find(|(source, _)| source.name == home.name)?;
    Some((source, outline?.find(&[kind.name(), id])?))
}

/// What an entry is called.
fn name(knowledge: &Knowledge, id: &str) -> String {
    let said = node(knowledge, id).and_then(|(source, node)| {
        NAMES.iter().find_map(|field| node.get(field)?.said_in(&source.text).map(std::borrow::Cow::into_owned))
    });
    said.unwrap_or_else(|| id.to_owned())
}

fn aliases(knowledge: &Knowledge, id: &str) -> Vec<String> {
    let found = node(knowledge, id).and_then(|(source, node)| Some((source, node.get("aliases")?)));
    let Some((source, list)) = found else { return Vec::new() };
    list.children.iter().filter_map(|child| child.said_in(&source.text).map(std::borrow::Cow::into_owned)).collect()
}

/// A link with both its ends.
struct Edge<'k> {
    from: &'k str,
    to: &'k str,
    /// Entry and field that hold it; the key is the other end.
    held: (&'k str, &'static str, &'k str),
    way: Option<Way>,
    strength: Strength,
    basis: Basis,
    texts: [Option<&'k str>; 3],
}

fn edges(knowledge: &Knowledge) -> Vec<Edge<'_>> {
    let all = &knowledge.all;
    let causes = all.causes.iter().map(|(id, entry)| (id, &entry.leads_to));
    let inner = all.conditions.iter().chain(&all.damage).map(|(id, entry)| (id, &entry.leads_to));
    let nodes = causes
        .chain(inner)
        .flat_map(|(id, links)| links.iter().map(move |(to, link)| of_link((id, to), (id, "leads_to", to), link)));
    let findings = all.findings.iter().flat_map(|(id, entry)| {
        entry.shown_by.iter().map(move |(by, link)| of_link((by, id), (id, "shown_by", by), link))
    });
    let readings = all.readings.iter().flat_map(|(id, entry)| {
        entry.moved_by.iter().map(move |(by, pull)| of_pull((by, id), (id, "moved_by", by), pull))
    });
    nodes.chain(findings).chain(readings).collect()
}

fn of_link<'k>((from, to): (&'k Id, &'k Id), held: (&'k str, &'static str, &'k str), link: &'k Link) -> Edge<'k> {
    let texts = [link.source.as_deref(), link.reviewed.as_deref(), link.disputed.as_deref()];
    Edge { from, to, held, way: None, strength: link.strength, basis: link.basis, texts }
}

fn of_pull<'k>((from, to): (&'k Id, &'k Id), held: (&'k str, &'static str, &'k str), pull: &'k Pull) -> Edge<'k> {
    let texts = [pull.source.as_deref(), pull.reviewed.as_deref(), None];
    Edge { from, to, held, way: Some(pull.way), strength: pull.strength, basis: pull.basis, texts }
}

fn row(knowledge: &Knowledge, edge: &Edge, up: bool) -> LinkRow {
    let other = if up { edge.from } else { edge.to };
    let way = match edge.way {
        Some(Way::Down) => "down, ",
        Some(Way::Up) => "up, ",
        Some(Way::Either) => "up or down, ",
        None => "",
    };
    let basis = match edge.basis {
        Basis::Measured => "measured",
        Basis::Published => "published",
        Basis::Expert => "expert",
        Basis::Guess => "guess",
    };
    let [source, reviewed, disputed] = edge.texts;
    let source = source.map_or_else(|| "no source".to_owned(), |id| name(knowledge, id));
    let reviewed = reviewed.map(|month| format!("; reviewed {month}")).unwrap_or_default();
    let disputed = disputed.map(|text| format!("; disputed: {text}")).unwrap_or_default();
    let (entry, field, key) = edge.held;
    LinkRow {
        other: other.to_owned(),
        name: name(knowledge, other),
        words: format!("{way}{}", edge.strength.word()),
        strength: edge.strength.number(),
        path: format!("{entry}.{field}.{key}.strength"),
        rests_on: format!("{basis}; {source}{reviewed}{disputed}"),
    }
}

fn beside(knowledge: &Knowledge, id: &str, edges: &[Edge]) -> Vec<(Id, String)> {
    let linked: BTreeSet<&str> = edges
        .iter()
        .filter(|edge| edge.from == id || edge.to == id)
        .flat_map(|edge| [edge.from, edge.to])
        .chain([id])
        .collect();
    let references = knowledge.references();
    let mut others: Vec<&str> = Vec::new();
    for reference in &references {
        let other = match (reference.entry == id, reference.id == id) {
            (true, false) => reference.id,
            (false, true) => reference.entry,
            _ => continue,
        };
        if !linked.contains(other) && !others.contains(&other) && knowledge.kind_of(other).is_some() {
            others.push(other);
        }
    }
    others.into_iter().map(|other| (other.to_owned(), name(knowledge, other))).collect()
}

/// What is around an entry, two links up and down, as an indented drawing: one text a line.
pub fn neighbourhood(knowledge: &Knowledge, id: &str) -> Vec<String> {
    let edges = edges(knowledge);
    let mut lines = Vec::new();
    branch(knowledge, &edges, (id, true, 1), &mut lines);
    lines.reverse();
    lines.push(name(knowledge, id));
    let mut below = Vec::new();
    branch(knowledge, &edges, (id, false, 1), &mut below);
    lines.extend(below);
    lines
}

/// Upwards the drawing is turned round afterwards, so that causes stand above what they lead to.
fn branch(knowledge: &Knowledge, edges: &[Edge], (id, up, step): (&str, bool, usize), lines: &mut Vec<String>) {
    let mut here: Vec<&Edge> = edges.iter().filter(|edge| if up { edge.to == id } else { edge.from == id }).collect();
    here.sort_by(|a, b| b.strength.number().total_cmp(&a.strength.number()));
    if up {
        here.reverse();
    }
    for edge in here {
        let other = if up { edge.from } else { edge.to };
        let mark = if up { "/" } else { "\\" };
        let indent = "    ".repeat(step);
        lines.push(format!("{indent}{mark}-- {} ({})", name(knowledge, other), edge.strength.word()));
        if step < 2 {
            branch(knowledge, edges, (other, up, step + 1), lines);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{EntryView, entry_lines, find_entries, neighbourhood};
    use crate::knowledge::{Kind, Knowledge, SourceText, load};

    fn small() -> Knowledge {
        let text = include_str!("../../tests/fixtures/trial/small.ron").to_owned();
        load(vec![SourceText { name: "small.ron".to_owned(), text }]).knowledge
    }

    #[test]
    fn every_entry_is_listed_and_found_by_its_words() {
        let knowledge = small();
        let lines = entry_lines(&knowledge);
        assert_eq!(lines.len(), knowledge.ids().count());
        let found = |kind, words| -> Vec<&str> {
            find_entries(&lines, kind, words).into_iter().map(|at| lines[at].id.as_str()).collect()
        };
        assert_eq!(found(None, "hammers"), ["knock"]);
        assert_eq!(found(Some(Kind::Causes), ""), ["seat", "spring", "bearing"]);
        assert_eq!(found(Some(Kind::Causes), "bearing")[0], "bearing");
    }

    #[test]
    fn an_entry_shows_its_links_from_both_ends_and_where_they_are_set() {
        let knowledge = small();
        let hot = EntryView::of(&knowledge, "hot").unwrap();
        assert_eq!((hot.up.len(), hot.down.len(), hot.kind), (1, 0, Kind::Findings));
        let link = &hot.up[0];
        assert_eq!((link.other.as_str(), link.path.as_str()), ("bearing", "hot.shown_by.bearing.strength"));
        assert!(link.rests_on.starts_with("guess; common practice"), "{}", link.rests_on);
        let bearing = EntryView::of(&knowledge, "bearing").unwrap();
        let down: Vec<&str> = bearing.down.iter().map(|row| row.other.as_str()).collect();
        assert_eq!(down, ["knock", "hot"]);
        assert_eq!(bearing.down[1].path, link.path);
        let beside: Vec<&str> = bearing.beside.iter().map(|(id, _)| id.as_str()).collect();
        assert!(beside.contains(&"bearings") && beside.contains(&"found_bearing"), "{beside:?}");
        assert!(bearing.fields.iter().any(|row| row.path == "causes.bearing.remedy" && row.text == "\"bearings\""));
        assert_eq!(bearing.file, "small.ron");
        assert!(EntryView::of(&knowledge, "nothing").is_none());
    }

    #[test]
    fn causes_stand_above_what_they_lead_to() {
        let drawn = neighbourhood(&small(), "hot");
        assert_eq!(drawn, ["    /-- bearing loose (nearly always)", "end hot"]);
        let drawn = neighbourhood(&small(), "bearing");
        assert_eq!(drawn[0], "bearing loose");
        assert_eq!(drawn[1], "    \\-- end hot (nearly always)");
    }
}
