//! Turns two states of the knowledge into the changes between them: added, retired, gone, changed, field by field.

use super::told::{named, one_of_kind, shown, words};
use crate::knowledge::{Kind, Knowledge};
use serde::Serialize;
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// What became of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Difference {
    /// It is new.
    Added,
    /// Another took its place and its id is kept.
    Retired,
    /// It is gone, and its id is free: it should have been retired.
    Gone,
    /// A field of it changed.
    Changed,
}

/// One change.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Change {
    /// What became of it.
    pub what: Difference,
    /// List of the files it stands in.
    pub kind: String,
    /// Id of the entry.
    pub id: String,
    /// Field that changed, steps parted by dots.
    pub field: Option<String>,
    /// Value before, as shown.
    pub old: Option<String>,
    /// Value after, as shown.
    pub new: Option<String>,
    /// True if it is about safety: cautions, stop rules, gates and hold points, and whole entries that have them.
    pub safety: bool,
    /// The change in words.
    pub words: String,
}

/// Fields that are gates or warnings wherever they stand.
const SAFETY_FIELDS: [&str; 8] =
    ["cautions", "needs_isolation", "state", "opening", "hold_point", "fails_to", "run_on", "measure"];

/// Fields that are told as one value.
const WHOLE: [&str; 4] = ["strength", "healthy", "band", "by"];

/// Both states as trees, by list name.
pub(super) struct Both {
    old: Value,
    new: Value,
}

impl Both {
    /// A field of an entry, of the new state if it is there.
    pub(super) fn entry(&self, id: &str) -> Option<&Value> {
        [&self.new, &self.old].into_iter().find_map(|tree| {
            let lists = tree.as_object()?;
            Kind::ALL.into_iter().filter(|kind| *kind != Kind::Retired).find_map(|kind| lists.get(kind.name())?.get(id))
        })
    }
}

/// Every change from the old state to the new one, kind by kind in the order of the files.
pub fn compare(old: &Knowledge, new: &Knowledge) -> Vec<Change> {
    let tree = |knowledge: &Knowledge| serde_json::to_value(&knowledge.all).unwrap_or_default();
    let both = Both { old: tree(old), new: tree(new) };
    let mut changes = Vec::new();
    for kind in Kind::ALL {
        let ids: Vec<&String> = kind.ids(&new.all).into_iter().chain(kind.ids(&old.all)).collect();
        list(&both, kind.name(), &ids, &mut changes);
    }
    let terms: Vec<&String> = new.all.glossary.keys().chain(old.all.glossary.keys()).collect();
    list(&both, "glossary", &terms, &mut changes);
    if old.release != new.release {
        changes.push(Change {
            what: Difference::Changed,
            kind: "release".to_owned(),
            id: String::new(),
            field: None,
            words: format!("release: {} → {}", old.release, new.release),
            old: Some(old.release.clone()),
            new: Some(new.release.clone()),
            safety: false,
        });
    }
    changes
}

fn list(both: &Both, kind: &str, ids: &[&String], changes: &mut Vec<Change>) {
    let mut seen = BTreeSet::new();
    for id in ids {
        if !seen.insert(id.as_str()) {
            continue;
        }
        let of = |tree: &'_ Value| tree.get(kind).and_then(|list| list.get(id.as_str())).cloned();
        match (of(&both.old), of(&both.new)) {
            (Some(old), Some(new)) => fields(both, (kind, id), &mut Vec::new(), (&old, &new), changes),
            (None, Some(_)) if kind == Kind::Retired.name() && both.old_has(id) => {}
            (None, Some(_)) => changes.push(whole(both, Difference::Added, kind, id)),
            (Some(_), None) if both.instead(id).is_some() => {
                changes.push(whole(both, Difference::Retired, kind, id));
            }
            (Some(_), None) => changes.push(whole(both, Difference::Gone, kind, id)),
            (None, None) => {}
        }
    }
}

impl Both {
    fn old_has(&self, id: &str) -> bool {
        self.old.as_object().is_some_and(|lists| lists.values().any(|list| list.get(id).is_some()))
    }

    fn instead(&self, id: &str) -> Option<&str> {
        self.new.get(Kind::Retired.name())?.get(id)?.get("instead")?.as_str()
    }
}

fn whole(both: &Both, what: Difference, kind: &str, id: &str) -> Change {
    let entry = format!("{} {}", one_of_kind(kind), named(both, id));
    let words = match what {
        Difference::Added => format!("new {entry}"),
        Difference::Retired => {
            format!("{entry} is retired; {} takes its place", named(both, both.instead(id).unwrap_or_default()))
        }
        _ => format!("{entry} is gone"),
    };
    let safety = is_safety_kind(kind) || both.entry(id).is_some_and(|entry| is_guarded(kind, entry));
    Change { what, kind: kind.to_owned(), id: id.to_owned(), field: None, old: None, new: None, safety, words }
}

/// True for a whole entry that stands behind a gate or warns: a check that opens something, a rebuild sheet.
fn is_guarded(kind: &str, entry: &Value) -> bool {
    let says = |field: &&str| match entry.get(*field) {
        None | Some(Value::Null | Value::Bool(false)) => false,
        Some(Value::Array(items)) => !items.is_empty(),
        Some(_) => true,
    };
    kind == Kind::Procedures.name() || ["cautions", "needs_isolation", "opening"].iter().any(says)
}

fn is_safety_kind(kind: &str) -> bool {
    kind == Kind::Cautions.name() || kind == Kind::StopRules.name()
}

type Place<'a> = (&'a str, &'a str);

fn fields(both: &Both, at: Place, path: &mut Vec<String>, pair: (&Value, &Value), changes: &mut Vec<Change>) {
    if pair.0 == pair.1 {
        return;
    }
    let told_whole = path.last().is_some_and(|field| WHOLE.contains(&field.as_str()));
    match pair {
        (Value::Object(old), Value::Object(new)) if !told_whole => objects(both, at, path, (old, new), changes),
        (Value::Array(old), Value::Array(new)) => lists(both, at, path, (old, new), changes),
        _ => changes.push(one(both, at, path, Some(pair.0), Some(pair.1))),
    }
}

fn objects(
    both: &Both,
    at: Place,
    path: &mut Vec<String>,
    (old, new): (&Map<String, Value>, &Map<String, Value>),
    changes: &mut Vec<Change>,
) {
    let keys: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    for key in keys {
        path.push(key.clone());
        match (old.get(key), new.get(key)) {
            (Some(old), Some(new)) => fields(both, at, path, (old, new), changes),
            (old, new) => changes.push(one(both, at, path, old, new)),
        }
        path.pop();
    }
}

fn lists(both: &Both, at: Place, path: &mut Vec<String>, (old, new): (&[Value], &[Value]), changes: &mut Vec<Change>) {
    if old.iter().chain(new).all(Value::is_string) {
        let gone = old.iter().filter(|item| !new.contains(item));
        let fresh = new.iter().filter(|item| !old.contains(item));
        let before = changes.len();
        changes.extend(gone.map(|item| one(both, at, path, Some(item), None)));
        changes.extend(fresh.map(|item| one(both, at, path, None, Some(item))));
        if changes.len() == before {
            let all = (Value::Array(old.to_vec()), Value::Array(new.to_vec()));
            changes.push(one(both, at, path, Some(&all.0), Some(&all.1)));
        }
        return;
    }
    for number in 0..old.len().max(new.len()) {
        // Steps are counted from 1 by whoever reads them.
        path.push((number + 1).to_string());
        match (old.get(number), new.get(number)) {
            (Some(old), Some(new)) => fields(both, at, path, (old, new), changes),
            (old, new) => changes.push(one(both, at, path, old, new)),
        }
        path.pop();
    }
}

fn one(both: &Both, (kind, id): Place, path: &[String], old: Option<&Value>, new: Option<&Value>) -> Change {
    let field = path.last().map_or("", String::as_str);
    let safety = is_safety_kind(kind) || path.iter().any(|step| SAFETY_FIELDS.contains(&step.as_str()));
    let value = |value: Option<&Value>| value.map(|value| shown(field, value));
    let (old, new) = (value(old), value(new));
    Change {
        what: Difference::Changed,
        kind: kind.to_owned(),
        id: id.to_owned(),
        words: words(both, id, path, old.as_deref(), new.as_deref()),
        field: Some(path.join(".")),
        old,
        new,
        safety,
    }
}
