//! Turns the retirement of an entry into edits everywhere: the entry goes, its id is kept, whatever named it names another.

use super::Refusal;
use super::add::{into_file, new_file};
use super::apply::{Draft, no_such_entry};
use super::model::Step;
use super::splice::{self, Splice};
use super::value::quoted;
use crate::knowledge::outline::{self, Node};
use crate::knowledge::{Kind, Reference, SourceText};

/// Retires an entry for another one of its kind.
pub(super) fn retire(draft: &mut Draft, kind: Kind, id: &str, instead: &str) -> Result<(), Refusal> {
    check(draft, kind, id, instead)?;
    let (source, outline) = draft.home(id)?;
    let list = outline.find(&[kind.name()]).ok_or_else(|| no_such_entry(draft.knowledge, id))?;
    let entry = list.get(id).ok_or_else(|| no_such_entry(draft.knowledge, id))?;
    let name = ["name", "hazard", "question"].iter().find_map(|field| entry.get(field)?.said_in(&source.text));
    let name = name.map_or_else(|| id.to_owned(), std::borrow::Cow::into_owned);
    let aliases = texts(entry.get("aliases"), &source.text);
    let references = draft.knowledge.references();
    let named = references.iter().filter(|reference| reference.id == id && reference.entry != id);
    // From the back, so that places in a list stay right while items go.
    let mut named: Vec<&Reference> = named.collect();
    named.reverse();
    for reference in named {
        repoint(draft, reference, instead)?;
    }
    let at = list.children.iter().position(|child| std::ptr::eq(child, entry));
    let splice = at.and_then(|at| splice::remove(&source.text, outline, list, at));
    draft.change(&source.name, splice.into_iter().collect(), Step::Remove(vec![kind.name().to_owned(), id.to_owned()]));
    keep_aliases(draft, kind, instead, &aliases)?;
    keep_id(draft, id, &name, instead)
}

fn check(draft: &Draft, kind: Kind, id: &str, instead: &str) -> Result<(), Refusal> {
    let found = |id: &str| draft.knowledge.kind_of(id).ok_or_else(|| no_such_entry(draft.knowledge, id));
    for id in [id, instead] {
        let is = found(id)?;
        if is != kind || kind == Kind::Retired {
            let message = format!("`{id}` is among {}, not among {}", is.name(), kind.name());
            return Err(Refusal::said(message, "an entry is retired for another one of its kind"));
        }
    }
    if id == instead {
        return Err(Refusal::said(format!("`{id}` cannot take its own place"), "name another entry with --use"));
    }
    Ok(())
}

/// Makes one place name the other entry, or drops it where the other one is named already.
fn repoint(draft: &mut Draft, reference: &Reference, instead: &str) -> Result<(), Refusal> {
    let kind =
        draft.knowledge.kind_of(reference.entry).ok_or_else(|| no_such_entry(draft.knowledge, reference.entry))?;
    let (source, outline) = draft.home(reference.entry)?;
    let head = [kind.name().to_owned(), reference.entry.to_owned()];
    let path: Vec<String> = head.into_iter().chain(reference.path.iter().cloned()).collect();
    let shown = path.join(".");
    let (Some((last, above)), Some(node)) = (path.split_last(), outline.find(&path)) else {
        return Err(Refusal::said(format!("cannot find {shown}"), "make the edit by hand"));
    };
    let parent = outline.find(above).unwrap_or(&outline.root);
    let key = node.key.as_ref().filter(|key| parent.kind == outline::Kind::Map && key.text == reference.id);
    let is_list = parent.kind == outline::Kind::List;
    let itself = reference.entry == instead;
    let there = match key {
        Some(_) => parent.get(instead).is_some(),
        None => is_list && texts(Some(parent), &source.text).iter().any(|text| text == instead),
    };
    if (key.is_some() || is_list) && (there || itself) {
        let at = parent.children.iter().position(|child| std::ptr::eq(child, node));
        let splice = at.and_then(|at| splice::remove(&source.text, outline, parent, at));
        draft.change(&source.name, splice.into_iter().collect(), Step::Remove(path.clone()));
        let why = if there { "is named there already" } else { "would name itself" };
        draft.notes.push(format!("{}: {shown} taken out, as `{instead}` {why}", source.name));
        return Ok(());
    }
    let (splice, step) = match key {
        Some(key) => {
            let renamed: Vec<String> = above.iter().cloned().chain([last.clone()]).collect();
            (Splice { span: key.span, text: quoted(instead) }, Step::Rename(renamed, instead.to_owned()))
        }
        None => (Splice::set(node, &quoted(instead)), Step::Set(path.clone())),
    };
    draft.change(&source.name, vec![splice], step);
    draft.notes.push(format!("{}: {shown} now names `{instead}`", source.name));
    Ok(())
}

fn texts(list: Option<&Node>, text: &str) -> Vec<String> {
    let children = list.map(|list| list.children.as_slice()).unwrap_or_default();
    children.iter().filter_map(|child| child.said_in(text)).map(std::borrow::Cow::into_owned).collect()
}

/// Everyday words of the old entry find the new one. A finding without words of its own gets none: it would become a
/// complaint.
fn keep_aliases(draft: &mut Draft, kind: Kind, instead: &str, old: &[String]) -> Result<(), Refusal> {
    let (source, outline) = draft.home(instead)?;
    let path: Vec<String> = [kind.name(), instead, "aliases"].map(str::to_owned).to_vec();
    let list = outline.find(&path);
    let known = texts(list, &source.text);
    let fresh: Vec<String> = old.iter().filter(|alias| !known.contains(alias)).map(|alias| quoted(alias)).collect();
    if fresh.is_empty() || (known.is_empty() && kind == Kind::Findings) {
        return Ok(());
    }
    draft.notes.push(format!("`{instead}` is now also called {}", fresh.join(", ")));
    match list {
        Some(list) => {
            let splices = splice::insert(&source.text, outline, list, &fresh.join(", "));
            draft.change(&source.name, splices, Step::Append(path, fresh.len()));
            Ok(())
        }
        None => draft.insert(instead, &path[..2], "aliases", &format!("aliases: [{}]", fresh.join(", "))),
    }
}

/// Writes down that the id is used no more.
fn keep_id(draft: &mut Draft, id: &str, name: &str, instead: &str) -> Result<(), Refusal> {
    let entry = format!("\"{id}\": (name: {}, instead: {})", quoted(name), quoted(instead));
    let holds = |name: &&String| {
        draft.file(name).is_ok_and(|(source, outline)| {
            source.name == "retired.ron" || outline.find(&[Kind::Retired.name()]).is_some()
        })
    };
    if let Some(file) = draft.own().iter().find(holds) {
        return into_file(draft, Kind::Retired, id, file, &entry);
    }
    let head = "// Ids that are used no more and what took their place. They are never given again.\n";
    let text = format!("{head}{}", new_file(Kind::Retired, &entry));
    // A file of the folder takes the place of a built-in one of its name, which may hold retired ids too.
    let taken = draft.knowledge.files().any(|(source, _)| source.name == "retired.ron");
    let name = if taken { "own_retired.ron" } else { "retired.ron" }.to_owned();
    draft.new_file(SourceText { name, text });
    Ok(())
}
