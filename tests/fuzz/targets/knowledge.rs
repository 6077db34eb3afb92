//! Any text as a knowledge file: outline and `ron` agree, problems stand inside the text, and what has no errors makes a job.

use super::job::{knowledge_shown, look_at, opened};
use super::source;
use std::rc::Rc;
use weephole::editing::{compare, open_pack, pack};
use weephole::job::Sitting;
use weephole::knowledge::outline::{Kind, LineMap, Node, Outline};
use weephole::knowledge::{load, ron_options};

/// Entries up to which a knowledge is also put to work: what is larger only slows the search for mistakes.
const MOST: usize = 60;

pub fn target(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    outlined(&text);
    let loaded = load(vec![source("fuzz.ron", &text)]);
    let lines = LineMap::new(&text);
    for problem in &loaded.problems {
        assert!(0 < problem.line && 0 < problem.column, "{problem:?}");
        let (start, end) = problem.range;
        assert!(start <= end && text.get(start..end).is_some(), "{problem:?} is outside of the text");
        assert!(problem.line <= lines.position(text.len()).line, "{problem:?}");
        assert!(!problem.message.is_empty());
    }
    if loaded.is_broken() || MOST < loaded.knowledge.ids().count() {
        return;
    }
    let knowledge = Rc::new(loaded.knowledge);
    assert!(compare(&knowledge, &knowledge).is_empty(), "a knowledge differs from itself");
    knowledge_shown(&knowledge);
    let sources = vec![source("fuzz.ron", &text)];
    assert_eq!(open_pack(&pack("fuzz", &sources)).as_ref(), Ok(&sources));
    for family in knowledge.all.families.keys() {
        if let Ok(sitting) = Sitting::new(Rc::clone(&knowledge), vec![opened(family)]) {
            look_at(&sitting);
        }
    }
}

/// Where `ron` finds a value, the outline finds the same one.
fn outlined(text: &str) {
    let outline = Outline::read(text);
    // `Some 1` without brackets is known: ron takes it, the outline does not.
    let slips = text.contains("Some") || text.contains("None");
    let Ok(value) = ron::from_str::<ron::Value>(text) else {
        let typed = ron_options().from_str::<weephole::knowledge::schema::KnowledgeFile>(text);
        assert!(slips || typed.is_err() || outline.is_ok(), "ron reads it, the outline does not: {outline:?}");
        return;
    };
    match &outline {
        Ok(outline) => agrees(&outline.root, &value, text),
        Err(error) => assert!(slips, "ron reads it, the outline does not: {error}"),
    }
    if let Ok(outline) = &outline {
        for twice in outline.duplicates() {
            assert!(outline.find(&twice.path).is_some() && twice.first < twice.again);
        }
    }
}

fn agrees(node: &Node, value: &ron::Value, text: &str) {
    match value {
        ron::Value::Map(map) if node.kind != Kind::Range => {
            assert!(matches!(node.kind, Kind::Map | Kind::Fields), "{node:?}");
            // Two keys that print differently may be one to ron; then there are fewer.
            assert!(map.len() <= node.children.len());
            if map.len() == node.children.len() {
                node.children.iter().zip(map.iter()).for_each(|(child, (_, value))| agrees(child, value, text));
            }
        }
        ron::Value::Seq(seq) => {
            assert!(matches!(node.kind, Kind::List | Kind::Tuple), "{node:?}");
            assert_eq!(node.children.len(), seq.len());
            node.children.iter().zip(seq).for_each(|(child, value)| agrees(child, value, text));
        }
        ron::Value::String(said) => assert_eq!(node.said_in(text).as_deref(), Some(said.as_str())),
        _ => {}
    }
}
