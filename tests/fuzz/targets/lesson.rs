//! Any text as a file of lessons, and any lines typed in them: what has no errors can be practised to its end.

use super::memory::Book;
use super::{ASKS, NODES, halves, shown, source};
use std::rc::Rc;
use weephole::knowledge::schema::KnowledgeFile;
use weephole::knowledge::{load, ron_options};
use weephole::line::practise;
use weephole::practice::PracticeChoice;

/// Typed where the input says nothing of its own.
const USUAL: &str = "1\n1\nhint\nlikely\ncheck listen\n1\nthink strainer\n1\nname strainer\n1\n80\n\nleave\n";
/// Lines typed, at most.
const LINES: usize = 14;

pub fn target(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    let (file, typed) = halves(&text);
    match ron_options().from_str::<KnowledgeFile>(file) {
        Ok(read) if read.lessons.is_empty() && file.len() > 2 => return,
        Ok(_) => {}
        Err(_) => {
            assert!(load(vec![source("lessons.ron", file)]).is_broken());
            return;
        }
    }
    let loaded = load(vec![source("nodes.ron", NODES), source("asks.ron", ASKS), source("lessons.ron", file)]);
    if loaded.is_broken() {
        return;
    }
    let knowledge = Rc::new(loaded.knowledge);
    let typed: Vec<&str> = if typed.is_empty() { USUAL } else { typed }.lines().take(LINES).collect();
    let typed = typed.join("\n");
    let mut book = Book::default();
    let lessons: Vec<Option<String>> = knowledge.all.lessons.keys().take(2).cloned().map(Some).collect();
    for lesson in lessons.into_iter().chain([None]) {
        let choice = PracticeChoice { lesson, seed: Some(3), help: None };
        let mut out = Vec::new();
        let _ = practise(&mut book, &knowledge, &mut typed.as_bytes(), &mut out, choice);
        shown(&String::from_utf8(out).expect("what is said is text"));
    }
}
