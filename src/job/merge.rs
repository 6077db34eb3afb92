//! Turns the lines of a journal from elsewhere and those of its copies here into what is to be done: nothing is ever lost.

use super::event::{Entry, Event};
use super::summary::{branch_id, job_id};

/// What becomes of a journal from elsewhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fate {
    /// All of it is here already, in the copy at this place.
    Known(usize),
    /// It goes on where the copy at this place ends: these lines are added there.
    Extend(usize, Vec<String>),
    /// It went another way than every copy here: it is kept on its own as these lines, one of which says so. The copy at
    /// this place has most in common with it.
    Branch(usize, Vec<String>),
    /// There is no copy here.
    New(Vec<String>),
}

/// What becomes of the lines (JSON, one entry each) of a journal from elsewhere, given the copies of the same job here.
/// `stamped` writes an event as a line with the present time. Lines that only say that a copy went its own way do not
/// count when two journals are compared.
pub fn fate(lines: &[String], copies: &[Vec<String>], stamped: impl Fn(Event) -> Option<String>) -> Fate {
    let ours = bare(lines);
    let theirs: Vec<Vec<&String>> = copies.iter().map(|copy| bare(copy)).collect();
    let common: Vec<usize> = theirs.iter().map(|copy| shared(&ours, copy)).collect();
    if let Some(known) = common.iter().position(|&common| common == ours.len()) {
        return Fate::Known(known);
    }
    let begun = (0..theirs.len()).filter(|&at| common[at] == theirs[at].len());
    if let Some(longest) = begun.max_by_key(|&at| theirs[at].len()) {
        return Fate::Extend(longest, ours[common[longest]..].iter().map(|line| (*line).clone()).collect());
    }
    let Some(nearest) = (0..common.len()).max_by_key(|&at| common[at]) else { return Fate::New(lines.to_vec()) };
    let parting = common[nearest];
    let event = Event::Branched { from: job_id(ours[0]), id: branch_id(ours[0], ours[parting]) };
    let mut own: Vec<String> = ours.into_iter().cloned().collect();
    if let Some(line) = stamped(event) {
        own.insert(parting, line);
    }
    Fate::Branch(nearest, own)
}

/// The lines without those that say that a copy went its own way.
fn bare(lines: &[String]) -> Vec<&String> {
    let branched = |line: &String| {
        let entry = serde_json::from_str::<Entry>(line);
        entry.is_ok_and(|entry| matches!(entry.event, Event::Branched { .. }))
    };
    lines.iter().filter(|line| !branched(line)).collect()
}

/// How many lines two journals have in common from the start.
fn shared(one: &[&String], other: &[&String]) -> usize {
    one.iter().zip(other).take_while(|(a, b)| a == b).count()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{Fate, bare, fate};
    use crate::job::{Entry, Event};
    use jiff::Timestamp;
    use proptest::prelude::{Strategy, proptest};

    fn line(event: Event) -> Option<String> {
        serde_json::to_string(&Entry { at: Timestamp::UNIX_EPOCH, event }).ok()
    }

    fn journal(notes: &[u8]) -> Vec<String> {
        let opened = Event::opened("oil_backed", ("1", "0"), None);
        let notes = notes.iter().map(|note| Event::Note { text: note.to_string() });
        std::iter::once(opened).chain(notes).map(|event| line(event).unwrap()).collect()
    }

    /// Does what the fate says.
    fn merge(copies: &mut Vec<Vec<String>>, lines: &[String]) -> Fate {
        let fate = fate(lines, copies, line);
        match &fate {
            Fate::Known(_) => {}
            Fate::Extend(at, more) => copies[*at].extend(more.iter().cloned()),
            Fate::Branch(_, own) | Fate::New(own) => copies.push(own.clone()),
        }
        fate
    }

    #[test]
    fn the_longer_of_two_is_kept_and_the_other_way_is_kept_too() {
        let mut here = Vec::new();
        assert!(matches!(merge(&mut here, &journal(&[1, 2])), Fate::New(_)));
        assert_eq!(merge(&mut here, &journal(&[1])), Fate::Known(0));
        assert!(matches!(merge(&mut here, &journal(&[1, 2, 3])), Fate::Extend(0, more) if more.len() == 1));
        assert!(matches!(merge(&mut here, &journal(&[1, 9])), Fate::Branch(0, own) if own.len() == 4));
        assert_eq!(here.len(), 2);
        // The other way goes on, and again: it is the copy with the mark that grows.
        assert!(matches!(merge(&mut here, &journal(&[1, 9, 8])), Fate::Extend(1, _)));
        assert_eq!(merge(&mut here, &journal(&[1, 9])), Fate::Known(1));
        let marked: Entry = serde_json::from_str(&here[1][2]).unwrap();
        assert!(matches!(marked.event, Event::Branched { from, id } if from != id && id.len() == 12));
    }

    fn journals() -> impl Strategy<Value = Vec<Vec<u8>>> {
        proptest::collection::vec(proptest::collection::vec(0_u8..3, 0..5), 1..6)
    }

    proptest! {
        /// Whatever comes in whatever order, every entry is here afterwards, and a second merge changes nothing.
        #[test]
        fn nothing_is_lost_and_merging_again_changes_nothing(journals in journals()) {
            let journals: Vec<Vec<String>> = journals.iter().map(|notes| journal(notes)).collect();
            let mut here = Vec::new();
            for lines in &journals {
                merge(&mut here, lines);
            }
            for lines in &journals {
                let held = here.iter().any(|copy| bare(copy).iter().zip(lines).filter(|(a, b)| **a == *b).count() == lines.len());
                assert!(held, "{lines:?} is not in {here:?}");
                assert!(matches!(merge(&mut here, lines), Fate::Known(_)));
            }
            // And back: merging what is here with its marks into itself changes nothing either.
            for copy in here.clone() {
                assert!(matches!(merge(&mut here, &copy), Fate::Known(_)));
            }
        }
    }
}
