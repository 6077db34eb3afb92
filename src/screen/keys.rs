//! Turns a pressed key into what it does here; key bar, help page and tests read the same tables.
//!
//! A table belongs to one page in one state, so it holds only what makes sense there. Letters count in either case.

use crate::evidence::Answer;
use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

/// Where a key stands in the bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Answers or decides: always shown, first.
    Answer,
    /// Leads elsewhere: shown as far as there is room.
    Way,
}

/// One key of a table.
#[derive(Debug)]
pub(super) struct Bound<A: 'static> {
    /// The keys that do it.
    pub keys: &'static [KeyCode],
    /// The key as printed.
    pub shown: &'static str,
    /// In the bar.
    pub short: &'static str,
    /// On the help page.
    pub title: &'static str,
    /// Place in the bar.
    pub role: Role,
    /// What it does.
    pub action: A,
}

/// A key as shown to a person.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// One key that does it.
    pub key: KeyCode,
    /// The key as printed.
    pub shown: String,
    /// In the bar.
    pub short: String,
    /// On the help page.
    pub title: String,
    /// Place in the bar.
    pub role: Role,
}

/// The action of a key, if the table has it.
pub(super) fn find<A: Copy>(table: &[Bound<A>], key: KeyCode) -> Option<A> {
    let key = in_lower_case(key);
    table.iter().find(|bound| bound.keys.contains(&key)).map(|bound| bound.action)
}

/// A table as shown.
pub(super) fn hints<A>(table: &[Bound<A>]) -> Vec<Hint> {
    table.iter().filter(|bound| !bound.shown.is_empty()).map(hint).collect()
}

/// One row of a table as shown; a row shown nowhere shares the place of its neighbour.
fn hint<A>(bound: &Bound<A>) -> Hint {
    Hint {
        key: bound.keys.first().copied().unwrap_or(KeyCode::Null),
        shown: bound.shown.to_owned(),
        short: bound.short.to_owned(),
        title: bound.title.to_owned(),
        role: bound.role,
    }
}

fn in_lower_case(key: KeyCode) -> KeyCode {
    match key {
        KeyCode::Char(letter) => KeyCode::Char(letter.to_ascii_lowercase()),
        other => other,
    }
}

/// True for a key that was pressed or repeats, without Control or Alt.
pub(super) fn is_plain(key: KeyEvent) -> bool {
    key.kind != KeyEventKind::Release && !key.modifiers.intersects(KeyModifiers::CONTROL | KeyModifiers::ALT)
}

/// True for the ways out that every terminal program has; the job is saved anyway.
pub(super) fn is_way_out(key: KeyEvent) -> bool {
    key.kind != KeyEventKind::Release
        && key.modifiers.contains(KeyModifiers::CONTROL)
        && matches!(key.code, KeyCode::Char('c' | 'C' | 'd' | 'D'))
}

/// True for the key that stops a program for a while.
pub(super) fn is_pause(key: KeyEvent) -> bool {
    cfg!(unix)
        && key.kind != KeyEventKind::Release
        && key.modifiers.contains(KeyModifiers::CONTROL)
        && matches!(key.code, KeyCode::Char('z' | 'Z'))
}

/// What can be done on most pages of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Common {
    /// Why a cause stands where it stands.
    WhyCause,
    /// The trail.
    Trail,
    /// Tell something that was not asked.
    Tell,
    /// An idea of one's own.
    Idea,
    /// What is open about the list.
    Doubts,
    /// All open checks.
    Checks,
    /// Results so far.
    Results,
    /// Help.
    Help,
    /// Leave; everything is saved.
    Leave,
}

/// A key that leads elsewhere.
pub(super) const fn way<A>(
    keys: &'static [KeyCode],
    shown: &'static str,
    short: &'static str,
    title: &'static str,
    action: A,
) -> Bound<A> {
    Bound { keys, shown, short, title, role: Role::Way, action }
}

/// A key that answers or decides.
pub(super) const fn acts<A>(
    keys: &'static [KeyCode],
    shown: &'static str,
    short: &'static str,
    title: &'static str,
    action: A,
) -> Bound<A> {
    Bound { keys, shown, short, title, role: Role::Answer, action }
}

/// The two arrows, as one key of the bar.
pub(super) const fn arrows<A>(down: A, up: A) -> [Bound<A>; 2] {
    [way(&[KeyCode::Down], "Up/Down", "choose", "choose a row", down), way(&[KeyCode::Up], "", "", "", up)]
}

/// Keys while something is typed that is saved with Enter.
pub(super) const fn typing<A>(save: A, drop: A) -> [Bound<A>; 2] {
    [
        acts(&[KeyCode::Enter], "Enter", "save", "save it", save),
        acts(&[KeyCode::Esc], "Esc", "back", "back; nothing is saved", drop),
    ]
}

/// Keys of most pages of a job.
pub(super) const COMMON: &[Bound<Common>] = &[
    way(&[KeyCode::Char('c')], "c", "cause", "why a cause stands where it stands", Common::WhyCause),
    way(&[KeyCode::Char('t')], "t", "trail", "the trail: change an answer or take it back", Common::Trail),
    way(&[KeyCode::Char('v')], "v", "tell", "tell something that was not asked", Common::Tell),
    way(&[KeyCode::Char('m')], "m", "idea", "check an idea of your own: a cause or a check", Common::Idea),
    way(&[KeyCode::Char('d')], "d", "doubts", "causes together, what fits badly, what would change it", Common::Doubts),
    way(&[KeyCode::Char('l')], "l", "checks", "every open check with what it takes and saves", Common::Checks),
    way(&[KeyCode::Char('r')], "r", "results", "results so far, and how to end the job", Common::Results),
    way(&[KeyCode::Char('h')], "h", "help", "this help", Common::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave; the job is saved", Common::Leave),
];

const fn says(keys: &'static [KeyCode], shown: &'static str, short: &'static str, action: Answer) -> Bound<Answer> {
    acts(keys, shown, short, short, action)
}

/// The seven answers, in two rows of the bar.
pub(super) const ANSWERS: &[Bound<Answer>] = &[
    says(&[KeyCode::Char('y')], "y", "yes", Answer::Yes),
    says(&[KeyCode::Char('p')], "p", "probably", Answer::ProbablyYes),
    says(&[KeyCode::Char('?')], "?", "can't tell", Answer::CantTell),
    says(&[KeyCode::Char('.')], ".", "can't check now", Answer::CantCheck),
    says(&[KeyCode::Char('n')], "n", "no", Answer::No),
    says(&[KeyCode::Char('u')], "u", "probably not", Answer::ProbablyNo),
    says(&[KeyCode::Char('x')], "x", "does not apply", Answer::NotApplicable),
];

/// What can be said of a reading without a number.
pub(super) const NO_NUMBER: &[Bound<Answer>] = &[
    says(&[KeyCode::Char('?')], "?", "can't read it", Answer::CantTell),
    says(&[KeyCode::Char('.')], ".", "not now", Answer::CantCheck),
    says(&[KeyCode::Char('x')], "x", "does not apply", Answer::NotApplicable),
];

#[cfg(test)]
mod tests {
    use super::{ANSWERS, Answer, COMMON, find};
    use crossterm::event::KeyCode;

    #[test]
    fn every_answer_has_a_key_of_its_own() {
        for answer in Answer::ALL {
            assert_eq!(ANSWERS.iter().filter(|bound| bound.action == answer).count(), 1);
        }
        for bound in ANSWERS {
            assert_eq!(find(ANSWERS, bound.keys[0]), Some(bound.action));
            assert_eq!(find(COMMON, bound.keys[0]), None);
        }
    }

    #[test]
    fn letters_count_in_either_case() {
        assert_eq!(find(ANSWERS, KeyCode::Char('Y')), Some(Answer::Yes));
        assert_eq!(find(ANSWERS, KeyCode::Enter), None);
    }
}
