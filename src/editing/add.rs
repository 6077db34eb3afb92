//! Turns a new entry or link into a place in a file, and typed fields into an entry.

use super::Refusal;
use super::apply::{Draft, no_such_entry, one_step};
use super::model::{Step, tree};
use super::splice::{self, indented};
use super::value::{one_value, quoted, spelled};
use crate::knowledge::outline::{self, Outline};
use crate::knowledge::{Kind, Knowledge, SourceText};
use crate::text::{clean, is_clean};
use serde_json::Value;

/// A value of an entry or link typed as `FIELD=VALUE`.
type Field = (String, String);

/// An entry with its comments above, checked by itself.
struct Snippet {
    above: String,
    value: String,
}

/// Adds an entry to the file where its like stands, or to the one named.
pub(super) fn entry(draft: &mut Draft, kind: Kind, id: &str, text: &str, file: Option<&str>) -> Result<(), Refusal> {
    one_step(id)?;
    let home = draft.knowledge.kind_of(id);
    if let Some(there) = home {
        let message = format!("the id `{id}` is taken: it is among {}", there.name());
        return Err(Refusal::said(message, "ids are unique over all kinds, and those retired are never given again"));
    }
    let snippet = snippet(id, text)?;
    let meant = meant(kind, id, &snippet.value, text)?;
    let entry = format!("{}\"{id}\": {}", snippet.above, snippet.value);
    let name = match file {
        Some(name) => name.to_owned(),
        None => place_for(draft, kind, &snippet.value),
    };
    draft.want(&name, vec![kind.name().to_owned(), id.to_owned()], meant);
    let exists = draft.knowledge.files().any(|(source, _)| source.name == name);
    if exists {
        return into_file(draft, kind, id, &name, &entry);
    }
    let name = super::safe_name(&name).map_err(|why| Refusal::said(why, "name a file such as causes/own.ron"))?;
    draft.new_file(SourceText { name, text: new_file(kind, &entry) });
    Ok(())
}

/// A file of one entry.
pub(super) fn new_file(kind: Kind, entry: &str) -> String {
    let entry = indented(entry, "        ", "\n");
    format!("(\n    version: 1,\n    {}: {{\n        {entry},\n    }},\n)\n", kind.name())
}

/// Puts an entry at the end of its list in a file, with the list if it is not there yet.
pub(super) fn into_file(draft: &mut Draft, kind: Kind, id: &str, name: &str, entry: &str) -> Result<(), Refusal> {
    let (source, outline) = draft.file(name)?;
    let path = vec![kind.name().to_owned(), id.to_owned()];
    if let Some(list) = outline.find(&[kind.name()]) {
        let splices = splice::insert(&source.text, outline, list, entry);
        draft.change(name, splices, Step::Insert(path));
    } else {
        let list = format!("{}: {{\n    {},\n}}", kind.name(), indented(entry, "    ", "\n"));
        let splices = splice::insert(&source.text, outline, &outline.root, &list);
        draft.change(name, splices, Step::Insert(path[..1].to_vec()));
    }
    Ok(())
}

/// Adds a link where links of its two ends are kept.
pub(super) fn link(draft: &mut Draft, from: &str, to: &str, text: &str) -> Result<(), Refusal> {
    let knowledge = draft.knowledge;
    let kind = |id| knowledge.kind_of(id).ok_or_else(|| no_such_entry(knowledge, id));
    let source_kind = kind(from)?;
    if !matches!(source_kind, Kind::Causes | Kind::Conditions | Kind::Damage) {
        let message = format!("`{from}` is among {}", source_kind.name());
        return Err(Refusal::said(message, "a link comes from a cause, a condition or a damage"));
    }
    let target = kind(to)?;
    let (holder, field, key) = match target {
        Kind::Conditions | Kind::Damage => (from, "leads_to", to),
        Kind::Findings => (to, "shown_by", from),
        Kind::Readings => (to, "moved_by", from),
        other => {
            let message = format!("`{to}` is among {}", other.name());
            return Err(Refusal::said(message, "a link leads to a condition, a damage, a finding or a reading"));
        }
    };
    let snippet = snippet(key, text)?;
    let (_, outline) = draft.home(holder)?;
    let above = [kind(holder)?.name(), holder].map(str::to_owned).to_vec();
    let path: Vec<String> = above.iter().cloned().chain([field.to_owned()]).collect();
    let entry = format!("{}\"{key}\": {}", snippet.above, snippet.value);
    match outline.find(&path) {
        Some(links) if links.get(key).is_some() => {
            let path = format!("{holder}.{field}.{key}.strength");
            let hint = format!("change it by `weephole knowledge set {path} VALUE`");
            Err(Refusal::Said { message: format!("`{from}` and `{to}` are linked already"), hint })
        }
        Some(_) => draft.insert(holder, &path, key, &entry),
        None => {
            let field_text = format!("{field}: {{\n    {},\n}}", indented(&entry, "    ", "\n"));
            draft.insert(holder, &above, field, &field_text)
        }
    }
}

/// Takes an entry as typed or piped in: `( … )`, or `"id": ( … ),` as it stands in a file.
fn snippet(id: &str, text: &str) -> Result<Snippet, Refusal> {
    if text.lines().any(|line| !is_clean(&line.replace('\t', " "))) {
        return Err(Refusal::said("the entry holds hidden characters".to_owned(), "type it anew"));
    }
    let as_said = |offset: usize, message: &str| {
        let place = outline::LineMap::new(text).position(offset.saturating_sub(1));
        let message = format!("entry:{place}: {message}");
        Refusal::said(message, "write ( … ) with every bracket closed, or copy a neighbouring entry that works")
    };
    // The line end keeps a comment at the end of the snippet from swallowing the bracket.
    let in_braces = format!("{{{text}\n}}");
    let keyed = Outline::read(&in_braces).ok().filter(|outline| {
        outline.root.span.end == in_braces.len() && outline.root.children.iter().all(|child| child.key.is_some())
    });
    let (whole, outline) = if let Some(outline) = keyed {
        (in_braces, outline)
    } else {
        let in_brackets = format!("[{text}\n]");
        let outline = Outline::read(&in_brackets).map_err(|error| as_said(error.offset, &error.message))?;
        (in_brackets, outline)
    };
    let [child] = outline.root.children.as_slice() else {
        let message = "this is not one entry".to_owned();
        return Err(Refusal::said(message, "write one entry at a time: ( … ), or \"id\": ( … )"));
    };
    if outline.root.span.end != whole.len() {
        return Err(as_said(outline.root.span.end, "a bracket is closed too often"));
    }
    if let Some(key) = child.key.as_ref().filter(|key| key.text != id) {
        let message = format!("the entry is called `{}`, not `{id}`", clean(&key.text));
        return Err(Refusal::said(message, "give it one id"));
    }
    let after = whole.get(child.comma.unwrap_or(child.span.end)..whole.len() - 1).unwrap_or_default();
    if !after.trim_start_matches(',').trim().is_empty() {
        let message = "something follows the entry".to_owned();
        return Err(Refusal::said(message, "put remarks above or inside it"));
    }
    let above = whole.get(1..child.entry().start).unwrap_or_default().trim();
    let above = if above.is_empty() { String::new() } else { format!("{above}\n") };
    Ok(Snippet { above, value: child.span.of(&whole).to_owned() })
}

/// What the entry means by itself; it must be one of its kind, and what is wrong is told at its place in the snippet.
fn meant(kind: Kind, id: &str, value: &str, typed: &str) -> Result<Value, Refusal> {
    let before = format!("(version: 1, {}: {{\"{id}\": ", kind.name());
    let source = SourceText { name: "entry".to_owned(), text: format!("{before}{value}\n}})") };
    let mut problem = match tree(&source) {
        Ok(tree) => return Ok(tree.get(kind.name()).and_then(|list| list.get(id)).cloned().unwrap_or_default()),
        Err(Refusal::WouldNotLoad { problem, .. }) => problem,
        Err(other) => return Err(other),
    };
    // Told where it stands in what was typed, not in the line around it.
    let shift = typed.find(value).unwrap_or_default();
    let place = |at: usize| (at.saturating_sub(before.len()) + shift).min(typed.len());
    problem.range = (place(problem.range.0), place(problem.range.1));
    let position = outline::LineMap::new(typed).position(problem.range.0);
    (problem.line, problem.column) = (position.line, position.column);
    let source_text = Box::new(SourceText { name: "entry".to_owned(), text: typed.to_owned() });
    Err(Refusal::WouldNotLoad { problem, source_text })
}

/// The file with the most entries of the kind, for a cause of its place; a file of its own if there is none.
fn place_for(draft: &Draft, kind: Kind, value: &str) -> String {
    let place = Outline::read(value).ok().and_then(|outline| said(&outline.root, value, "place"));
    let count = |name: &String| {
        let (source, outline) = draft.file(name).ok()?;
        let list = outline.find(&[kind.name()])?;
        let like = list.children.iter().filter(|node| place == said(node, &source.text, "place"));
        Some((like.count(), list.children.len()))
    };
    let mut best: Option<((usize, usize), &String)> = None;
    for name in draft.own() {
        if let Some(count) = count(name).filter(|count| best.is_none_or(|(most, _)| most < *count)) {
            best = Some((count, name));
        }
    }
    best.map_or_else(|| format!("own_{}.ron", kind.name()), |(_, name)| name.clone())
}

fn said(entry: &outline::Node, text: &str, field: &str) -> Option<String> {
    entry.get(field)?.said_in(text).map(std::borrow::Cow::into_owned)
}

/// How this field is written elsewhere: in entries of this kind, or else of any.
pub(super) fn spelling_of(knowledge: &Knowledge, kind: Kind, field: &str) -> Option<outline::Kind> {
    let like = knowledge.files().filter_map(|(_, outline)| outline?.find(&[kind.name()]));
    let all = knowledge.files().filter_map(|(_, outline)| Some(&outline?.root));
    like.chain(all).find_map(|node| spelled_within(node, field))
}

fn spelled_within(node: &outline::Node, field: &str) -> Option<outline::Kind> {
    let own = node.get(field).filter(|_| node.kind == outline::Kind::Fields);
    own.map(|value| value.kind).or_else(|| node.children.iter().find_map(|child| spelled_within(child, field)))
}

/// An entry of typed fields, one a line; texts get their quotes where neighbours have them.
///
/// # Errors
/// A field that is no name or stands twice, a value that is more than one value.
pub fn entry_of_fields(knowledge: &Knowledge, kind: Kind, fields: &[Field]) -> Result<String, Refusal> {
    let mut lines = Vec::new();
    for (field, typed) in distinct(fields)? {
        let value = spelled(field, spelling_of(knowledge, kind, field), typed)?;
        lines.push(format!("    {field}: {value},\n"));
    }
    Ok(format!("(\n{})", lines.concat()))
}

/// A link of typed fields, in one line.
///
/// # Errors
/// As for [`entry_of_fields`].
pub fn link_of_fields(fields: &[Field]) -> Result<String, Refusal> {
    let mut parts = Vec::new();
    for (field, typed) in distinct(fields)? {
        let is_text = matches!(field.as_str(), "source" | "reviewed" | "disputed");
        let value = if is_text { quoted(typed) } else { spelled(field, None, typed)? };
        one_value(&value)?;
        parts.push(format!("{field}: {value}"));
    }
    Ok(format!("({})", parts.join(", ")))
}

fn distinct(fields: &[Field]) -> Result<&[Field], Refusal> {
    for (at, (field, _)) in fields.iter().enumerate() {
        one_step(field)?;
        if fields[..at].iter().any(|(earlier, _)| earlier == field) {
            return Err(Refusal::said(format!("`{field}` is given twice"), "give it once"));
        }
    }
    Ok(fields)
}
