//! Turns a file's text into its model as a tree, and makes an edit in the tree, to be compared with the edited text.

use super::Refusal;
use crate::knowledge::schema::KnowledgeFile;
use crate::knowledge::{SourceText, ron_options, ron_problem};
use serde_json::Value;

/// The same edit as a splice, told by its path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// Another value.
    Set(Vec<String>),
    /// A new entry or field.
    Insert(Vec<String>),
    /// New items at the end of a list, so many.
    Append(Vec<String>, usize),
    /// An entry or list item gone.
    Remove(Vec<String>),
    /// A key renamed.
    Rename(Vec<String>, String),
}

/// A file's model as a tree.
pub(super) fn tree(source: &SourceText) -> Result<Value, Refusal> {
    let file = ron_options().from_str::<KnowledgeFile>(&source.text).map_err(|error| Refusal::WouldNotLoad {
        problem: Box::new(ron_problem(source, &error)),
        source_text: Box::new(source.clone()),
    })?;
    serde_json::to_value(file).map_err(|error| Refusal::said(error.to_string(), "mend the file by hand"))
}

/// Whether the new tree is the old one but for the steps. Steps are taken in order; list items are removed from the end.
pub(super) fn is_edited(old: &Value, new: &Value, steps: &[Step]) -> bool {
    let mut expected = old.clone();
    steps.iter().all(|step| take(&mut expected, new, step).is_some()) && expected == *new
}

fn take(expected: &mut Value, new: &Value, step: &Step) -> Option<()> {
    match step {
        Step::Set(path) | Step::Insert(path) => {
            let value = find(new, path)?.clone();
            let (last, above) = path.split_last()?;
            match find_mut(expected, above)? {
                Value::Object(map) => drop(map.insert(last.clone(), value)),
                Value::Array(items) => *items.get_mut(last.parse::<usize>().ok()?)? = value,
                single => *single = find(new, above)?.clone(),
            }
        }
        Step::Append(path, count) => {
            let fresh = find(new, path)?.as_array()?;
            let list = find_mut(expected, path)?.as_array_mut()?;
            list.extend_from_slice(fresh.get(fresh.len().checked_sub(*count)?..)?);
        }
        Step::Remove(path) => {
            let (last, above) = path.split_last()?;
            match find_mut(expected, above)? {
                Value::Object(map) => drop(map.remove(last)?),
                Value::Array(items) => {
                    let at = last.parse::<usize>().ok().filter(|at| *at < items.len())?;
                    items.remove(at);
                }
                _ => return None,
            }
        }
        Step::Rename(path, name) => {
            let (last, above) = path.split_last()?;
            let map = find_mut(expected, above)?.as_object_mut()?;
            let value = map.remove(last)?;
            map.insert(name.clone(), value);
        }
    }
    Some(())
}

/// What a path leads to. A number also leads into the one value of a variant: `share(0.4)`, `between("0", "1")`.
pub(super) fn find<'v>(tree: &'v Value, path: &[String]) -> Option<&'v Value> {
    path.iter().try_fold(tree, |at, step| match at {
        Value::Object(map) => match map.get(step) {
            Some(inner) => Some(inner),
            None => inner(map.values().next().filter(|_| map.len() == 1)?, step),
        },
        Value::Array(list) => list.get(step.parse::<usize>().ok()?),
        _ => None,
    })
}

fn inner<'v>(value: &'v Value, step: &str) -> Option<&'v Value> {
    let at = step.parse::<usize>().ok()?;
    match value {
        Value::Array(list) => list.get(at),
        single => Some(single).filter(|_| at == 0),
    }
}

fn find_mut<'v>(tree: &'v mut Value, path: &[String]) -> Option<&'v mut Value> {
    path.iter().try_fold(tree, |at, step| match at {
        Value::Object(map) => map.get_mut(step),
        Value::Array(list) => list.get_mut(step.parse::<usize>().ok()?),
        _ => None,
    })
}
