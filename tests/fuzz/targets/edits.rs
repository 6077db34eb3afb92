//! Any edit of any knowledge: what is made changes what it says, keeps comments and the rest, and cannot be made twice.

use super::{halves, shown, source};
use std::cell::RefCell;
use weephole::editing::{Edit, Edited, apply, changes_in_words, compare};
use weephole::knowledge::outline::Outline;
use weephole::knowledge::{Kind, Knowledge, load};

const SMALL: &str = include_str!("../../fixtures/trial/small.ron");

thread_local! {
    static LOADED: RefCell<Knowledge> = RefCell::new(load(vec![source("small.ron", SMALL)]).knowledge);
}

pub fn target(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    let (edit, file) = halves(&text);
    let Some(edit) = read(edit) else { return };
    if file.is_empty() {
        LOADED.with_borrow(|knowledge| made(knowledge, &edit));
    } else {
        made(&load(vec![source("small.ron", file)]).knowledge, &edit);
    }
}

/// `set PATH VALUE`, `add KIND ID ENTRY`, `into FILE KIND ID ENTRY`, `link FROM TO ENTRY`, `retire KIND ID INSTEAD`.
fn read(text: &str) -> Option<Edit> {
    let (word, rest) = text.split_once(' ')?;
    let own = |text: &str| text.to_owned();
    let add = |file: Option<String>, rest: &str| {
        let (kind, rest) = rest.split_once(' ')?;
        let (id, entry) = rest.split_once(' ')?;
        Some(Edit::Add { kind: Kind::named(kind)?, id: own(id), entry: own(entry), file })
    };
    let (first, more) = rest.split_once(' ')?;
    match word {
        "set" => Some(Edit::Set { path: own(first), value: own(more) }),
        "add" => add(None, rest),
        "into" => add(Some(own(first)), more),
        "link" => {
            more.split_once(' ').map(|(to, entry)| Edit::Link { from: own(first), to: own(to), entry: own(entry) })
        }
        "retire" => more.split_once(' ').and_then(|(id, instead)| {
            Some(Edit::Retire { kind: Kind::named(first)?, id: own(id), instead: own(instead) })
        }),
        _ => None,
    }
}

fn made(knowledge: &Knowledge, edit: &Edit) {
    let own = vec!["small.ron".to_owned()];
    let edited = match apply(knowledge, &own, edit) {
        Ok(edited) => edited,
        // What it quotes is cleaned where it is printed.
        Err(refusal) => return assert!(!refusal.to_string().is_empty()),
    };
    let after = load(edited.sources.clone());
    let unread = after.problems.iter().find(|problem| ["unreadable", "key_twice"].contains(&problem.rule));
    let was = load(knowledge.files().map(|(source, _)| source.clone()).collect());
    let was_unread = was.problems.iter().any(|problem| ["unreadable", "key_twice"].contains(&problem.rule));
    assert!(was_unread || unread.is_none(), "{unread:?} after {edit:?}");
    for line in changes_in_words(&compare(knowledge, &after.knowledge)) {
        shown(&line);
    }
    for touched in &edited.touched {
        let Some(before) = &touched.before else { continue };
        if !matches!(edit, Edit::Retire { .. }) {
            only_there(before, &touched.after, edit);
        }
    }
    let own: Vec<String> = edited.sources.iter().map(|source| source.name.clone()).collect();
    assert!(apply(&after.knowledge, &own, edit).is_err(), "made twice: {edit:?}");
    untouched(knowledge, &edited);
}

/// Comments outside of what was replaced stay, and with an insertion all of the text does.
fn only_there(before: &str, after: &str, edit: &Edit) {
    let head = before.bytes().zip(after.bytes()).take_while(|(a, b)| a == b).count();
    let most = before.len().min(after.len()) - head;
    let tail = before.bytes().rev().zip(after.bytes().rev()).take(most).take_while(|(a, b)| a == b).count();
    let gone = before.get(head..before.len() - tail).unwrap_or_default();
    if !matches!(edit, Edit::Set { .. }) {
        assert!(gone.is_empty(), "`{gone}` is gone after {edit:?}");
    }
    let (old, new) = (Outline::read(before).unwrap(), Outline::read(after).unwrap());
    let inside = old.comments.iter().filter(|c| head < c.span.end && c.span.start < before.len() - tail).count();
    assert!(old.comments.len() <= new.comments.len() + inside, "a comment is gone after {edit:?}");
}

/// Files that are not among the touched ones are what they were.
fn untouched(knowledge: &Knowledge, edited: &Edited) {
    for (source, _) in knowledge.files() {
        if edited.touched.iter().all(|file| file.name != source.name) {
            let now = edited.sources.iter().find(|now| now.name == source.name);
            assert_eq!(now, Some(source));
        }
    }
}
