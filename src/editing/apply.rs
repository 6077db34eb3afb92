//! Turns an edit into the new texts of the files it touches, or says why it is not made.
//!
//! The edit is made twice, in the text by splices and in the model by steps; the new text is read again and must give
//! exactly the new model. So a slip of the splices can spoil nothing: the edit is refused instead.

use super::model::{Step, find, is_edited, tree};
use super::splice::{self, Splice, spliced};
use super::{Edit, Refusal, add, retire, value};
use crate::knowledge::outline::{self, Node, Outline};
use crate::knowledge::{Kind, Knowledge, SourceText, did_you_mean, load};
use crate::text::clean;
use indexmap::IndexMap;
use serde_json::Value;

/// One file with its text before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct Touched {
    /// Name of the file.
    pub name: String,
    /// Text before; none = the file is new.
    pub before: Option<String>,
    /// Text after.
    pub after: String,
}

/// An edit made in memory.
#[derive(Debug, Clone, PartialEq)]
pub struct Edited {
    /// All files, with the new texts.
    pub sources: Vec<SourceText>,
    /// Files that changed.
    pub touched: Vec<Touched>,
    /// What else was done, such as names changed elsewhere.
    pub notes: Vec<String>,
}

/// Makes an edit in the texts of a knowledge. `own` names the files that may be written; the others are built in.
///
/// # Errors
/// What makes no sense, what would not load, and whatever would touch a file that may not be written.
pub fn apply(knowledge: &Knowledge, own: &[String], edit: &Edit) -> Result<Edited, Refusal> {
    let mut draft = Draft::new(knowledge, own);
    match edit {
        Edit::Set { path, value } => set(&mut draft, path, value)?,
        Edit::Add { kind, id, entry, file } => add::entry(&mut draft, *kind, id, entry, file.as_deref())?,
        Edit::Link { from, to, entry } => add::link(&mut draft, from, to, entry)?,
        Edit::Retire { kind, id, instead } => retire::retire(&mut draft, *kind, id, instead)?,
    }
    draft.finish()
}

/// Makes several edits one after the other, as one. What is like this already is passed over, unless all of it is.
///
/// # Errors
/// As for [`apply`], for the first edit that is not made.
pub fn apply_all(knowledge: &Knowledge, own: &[String], edits: &[Edit]) -> Result<Edited, Refusal> {
    if let [edit] = edits {
        return apply(knowledge, own, edit);
    }
    let (mut now, mut own) = (knowledge.clone(), own.to_vec());
    let mut whole: Option<Edited> = None;
    for edit in edits {
        match apply(&now, &own, edit) {
            Ok(edited) => {
                own.extend(edited.touched.iter().filter(|file| file.before.is_none()).map(|file| file.name.clone()));
                now = load(edited.sources.clone()).knowledge;
                whole = Some(whole.map_or(edited.clone(), |earlier| joined(earlier, edited)));
            }
            Err(Refusal::Already { .. }) => {}
            Err(refusal) => return Err(refusal),
        }
    }
    whole.ok_or_else(|| Refusal::Already { is: "like this".to_owned() })
}

/// Two edits as one: each file from before the first to after the second.
fn joined(mut first: Edited, second: Edited) -> Edited {
    for file in second.touched {
        match first.touched.iter_mut().find(|earlier| earlier.name == file.name) {
            Some(earlier) => earlier.after = file.after,
            None => first.touched.push(file),
        }
    }
    first.notes.extend(second.notes);
    Edited { sources: second.sources, ..first }
}

/// Splices and steps of one file.
#[derive(Debug, Default)]
struct Work {
    splices: Vec<Splice>,
    steps: Vec<Step>,
}

/// What must stand at a path of a file afterwards.
struct Wanted {
    file: String,
    path: Vec<String>,
    value: Value,
}

/// An edit as it grows.
pub(super) struct Draft<'k> {
    /// The knowledge before.
    pub(super) knowledge: &'k Knowledge,
    own: &'k [String],
    work: IndexMap<String, Work>,
    new_file: Option<SourceText>,
    wanted: Vec<Wanted>,
    /// What else was done.
    pub(super) notes: Vec<String>,
}

impl<'k> Draft<'k> {
    fn new(knowledge: &'k Knowledge, own: &'k [String]) -> Self {
        Self { knowledge, own, work: IndexMap::new(), new_file: None, wanted: Vec::new(), notes: Vec::new() }
    }

    /// A file that may be written, with its outline.
    pub(super) fn file(&self, name: &str) -> Result<(&'k SourceText, &'k Outline), Refusal> {
        if !self.own.iter().any(|own| own == name) {
            return Err(Refusal::NotInFolder { file: name.to_owned() });
        }
        let found = self.knowledge.files().find(|(source, _)| source.name == name);
        match found {
            Some((source, Some(outline))) => Ok((source, outline)),
            _ => {
                Err(Refusal::said(format!("{name} cannot be read as it is"), "mend it by hand: see `knowledge check`"))
            }
        }
    }

    /// The file that holds an entry, with its outline.
    pub(super) fn home(&self, id: &str) -> Result<(&'k SourceText, &'k Outline), Refusal> {
        let file = self.knowledge.file_of(id).ok_or_else(|| no_such_entry(self.knowledge, id))?;
        self.file(&file.name)
    }

    /// Names of the files that may be written.
    pub(super) fn own(&self) -> &'k [String] {
        self.own
    }

    /// Adds a splice with its step.
    pub(super) fn change(&mut self, file: &str, splices: Vec<Splice>, step: Step) {
        let work = self.work.entry(file.to_owned()).or_default();
        work.splices.extend(splices);
        work.steps.push(step);
    }

    /// Notes what an entry means by itself; it must mean the same in its place.
    pub(super) fn want(&mut self, file: &str, path: Vec<String>, value: Value) {
        self.wanted.push(Wanted { file: file.to_owned(), path, value });
    }

    /// Adds a whole new file.
    pub(super) fn new_file(&mut self, source: SourceText) {
        self.new_file = Some(source);
    }

    /// Puts a field or entry at the end of the brackets that a path leads to.
    pub(super) fn insert(&mut self, id: &str, path: &[String], key: &str, entry: &str) -> Result<(), Refusal> {
        let (source, outline) = self.home(id)?;
        let Some(parent) = outline.find(path) else { return Err(nothing_at(path)) };
        let splices = splice::insert(&source.text, outline, parent, entry);
        let step = Step::Insert(path.iter().cloned().chain([key.to_owned()]).collect());
        self.change(&source.name, splices, step);
        Ok(())
    }

    fn finish(self) -> Result<Edited, Refusal> {
        let mut touched = Vec::new();
        for (name, work) in &self.work {
            let (source, _) = self.file(name)?;
            let after = spliced(&source.text, &work.splices).ok_or_else(broken)?;
            check(source, &after, work)?;
            touched.push(Touched { name: name.clone(), before: Some(source.text.clone()), after });
        }
        if let Some(new) = self.new_file {
            touched.push(Touched { name: new.name, before: None, after: new.text });
        }
        for file in &touched {
            let new = tree(&SourceText { name: file.name.clone(), text: file.after.clone() })?;
            let mut wanted = self.wanted.iter().filter(|wanted| wanted.file == file.name);
            if !wanted.all(|wanted| find(&new, &wanted.path) == Some(&wanted.value)) {
                return Err(broken());
            }
        }
        let mut sources: Vec<SourceText> = self.knowledge.files().map(|(source, _)| source.clone()).collect();
        for file in &touched {
            sources.retain(|source| source.name != file.name);
            sources.push(SourceText { name: file.name.clone(), text: file.after.clone() });
        }
        touched.retain(|file| file.before.as_ref() != Some(&file.after));
        if touched.is_empty() {
            return Err(Refusal::Already { is: "like this".to_owned() });
        }
        Ok(Edited { sources, touched, notes: self.notes })
    }
}

/// The new text, read again, must be the old model with the same edit made in it, and nothing twice.
fn check(source: &SourceText, after: &str, work: &Work) -> Result<(), Refusal> {
    let new = SourceText { name: source.name.clone(), text: after.to_owned() };
    let (old_tree, new_tree) = (tree(source)?, tree(&new)?);
    let outline = Outline::read(after).map_err(|_| broken())?;
    let before = Outline::read(&source.text).map_err(|_| broken())?;
    let no_more_twice = outline.duplicates().len() <= before.duplicates().len();
    if no_more_twice && is_edited(&old_tree, &new_tree, &work.steps) { Ok(()) } else { Err(broken()) }
}

fn broken() -> Refusal {
    Refusal::said("the edit would change more than it says".to_owned(), "make it by hand in the file")
}

/// Sets one value.
fn set(draft: &mut Draft, path: &str, typed: &str) -> Result<(), Refusal> {
    let (id, path) = full_path(draft.knowledge, path)?;
    let (source, outline) = draft.home(&id)?;
    let (Some((field, above)), 3..) = (path.split_last(), path.len()) else {
        return Err(Refusal::said("a path needs a field".to_owned(), "as in low_flow.shown_by.valves_worn.strength"));
    };
    let Some(parent) = outline.find(above) else { return Err(nothing_at(above)) };
    if let Some(node) = parent.get(field) {
        let value = value::spelled(field, Some(node.kind), typed)?;
        if let Some(is) = same(node, &source.text, &value) {
            return Err(Refusal::Already { is: format!("`{is}`") });
        }
        let splice = Splice::set(node, &value);
        draft.change(&source.name, vec![splice], Step::Set(path.clone()));
        return Ok(());
    }
    if parent.kind == outline::Kind::Map && parent.children.iter().all(|child| child.body.is_none()) {
        one_step(field)?;
        let value = value::spelled(field, parent.children.first().map(|child| child.kind), typed)?;
        return draft.insert(&id, above, field, &format!("\"{field}\": {value}"));
    }
    if parent.kind != outline::Kind::Fields {
        let known = parent.entries().map(|(key, _)| key.text.as_str());
        let hint = did_you_mean(field, known).map_or_else(
            || "a new entry or link is made by `weephole knowledge add`".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        return Err(Refusal::Said { message: format!("there is no `{}` there", clean(field)), hint });
    }
    one_step(field)?;
    let kind = draft.knowledge.kind_of(&id).and_then(|kind| add::spelling_of(draft.knowledge, kind, field));
    let value = value::spelled(field, kind, typed)?;
    draft.insert(&id, above, field, &format!("{field}: {value}"))
}

fn same<'t>(node: &Node, text: &'t str, value: &str) -> Option<&'t str> {
    Some(node.span.of(text)).filter(|is| *is == value)
}

/// Id and full path of `KIND.ID.FIELD…` or `ID.FIELD…`.
fn full_path(knowledge: &Knowledge, path: &str) -> Result<(String, Vec<String>), Refusal> {
    let steps: Vec<&str> = path.split('.').map(str::trim).collect();
    let (kind, id, rest) = match steps.as_slice() {
        [kind, id, rest @ ..] if Kind::named(kind).is_some() && knowledge.kind_of(kind).is_none() => {
            (Kind::named(kind), *id, rest)
        }
        [id, rest @ ..] => (None, *id, rest),
        [] => (None, "", &steps[..]),
    };
    let found = knowledge.kind_of(id).ok_or_else(|| no_such_entry(knowledge, id))?;
    if let Some(kind) = kind.filter(|kind| *kind != found) {
        let message = format!("`{id}` is not among {}", kind.name());
        return Err(Refusal::Said { message, hint: format!("it is among {}", found.name()) });
    }
    let full = [found.name(), id].into_iter().chain(rest.iter().copied()).map(str::to_owned).collect();
    Ok((id.to_owned(), full))
}

/// A field's name is a plain word: anything else would be read as more than a name.
pub(super) fn one_step(field: &str) -> Result<(), Refusal> {
    let plain = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_';
    if !field.is_empty() && field.bytes().all(plain) && !field.as_bytes()[0].is_ascii_digit() {
        return Ok(());
    }
    Err(Refusal::said(format!("`{}` is not a name", clean(field)), "names are small letters, digits and underscores"))
}

/// No entry has this id.
pub(super) fn no_such_entry(knowledge: &Knowledge, id: &str) -> Refusal {
    let hint = match did_you_mean(id, knowledge.ids()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`weephole knowledge list KIND` lists them".to_owned(),
    };
    Refusal::Said { message: format!("there is no `{}` in this knowledge", clean(id)), hint }
}

fn nothing_at(path: &[String]) -> Refusal {
    Refusal::said(format!("there is nothing at {}", clean(&path.join("."))), "look at the entry in its file")
}
