//! Turns typed words into answers and numbers of a list.

use crate::evidence::Answer;
use crate::text::fold;

/// What is accepted for a finding, as shown.
pub(super) const ACCEPTED: &str = "yes (y), probably (p), can't tell (?), probably not (u), no (n), \
                                   not now (. or empty line), does not apply (x)";

/// Words for each answer; the first is the one suggested.
const WORDS: &[(Answer, &[&str])] = &[
    (Answer::Yes, &["yes", "y"]),
    (Answer::ProbablyYes, &["probably", "p", "probably yes"]),
    (Answer::CantTell, &["can't tell", "?", "cant tell", "cannot tell"]),
    (Answer::ProbablyNo, &["probably not", "u", "probably no"]),
    (Answer::No, &["no", "n"]),
    (Answer::CantCheck, &["not now", ".", "can't check now", "cant check now", "cannot check now"]),
    (Answer::NotApplicable, &["does not apply", "x", "doesn't apply", "not applicable", "n/a"]),
];

/// The answer meant, if it is one.
pub(super) fn answer(typed: &str) -> Option<Answer> {
    let said = plain(typed);
    WORDS.iter().find(|(_, words)| words.contains(&said.as_str())).map(|(answer, _)| *answer)
}

/// The words an answer may be misspelt from.
pub(super) fn suggestions() -> Vec<&'static str> {
    WORDS.iter().filter_map(|(_, words)| words.first().copied()).collect()
}

/// True for a plain yes, false for a plain no.
pub(super) fn yes_or_no(typed: &str) -> Option<bool> {
    match answer(typed)? {
        Answer::Yes => Some(true),
        Answer::No => Some(false),
        _ => None,
    }
}

/// Numbers from 1 to `most`, each once, in the order typed; `None` if anything else is among them.
pub(super) fn numbers(typed: &str, most: usize) -> Option<Vec<usize>> {
    let parts = typed.split([' ', ',', ';', '+']).filter(|part| !part.is_empty() && *part != "and");
    let mut chosen = Vec::new();
    for part in parts {
        let number = part.trim_end_matches('.').parse().ok().filter(|number| (1..=most).contains(number))?;
        if !chosen.contains(&number) {
            chosen.push(number);
        }
    }
    (!chosen.is_empty()).then_some(chosen)
}

/// One number from 1 to `most`.
pub(super) fn number(typed: &str, most: usize) -> Option<usize> {
    numbers(typed, most).filter(|chosen| chosen.len() == 1).and_then(|chosen| chosen.first().copied())
}

/// Lower case, one blank between words, no full stop behind a word.
fn plain(typed: &str) -> String {
    let folded = fold(typed);
    let words = folded.split_whitespace().collect::<Vec<_>>().join(" ");
    let bare = words.trim_end_matches(['.', '!']);
    if bare.is_empty() { words } else { bare.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::{WORDS, answer, number, numbers};
    use crate::evidence::Answer;

    #[test]
    fn every_answer_has_words_of_its_own() {
        assert_eq!(WORDS.iter().map(|(answer, _)| *answer).collect::<Vec<_>>(), Answer::ALL);
        for (meant, words) in WORDS {
            for word in *words {
                assert_eq!(answer(word), Some(*meant), "{word}");
                assert_eq!(answer(&word.to_uppercase()), Some(*meant), "{word}");
            }
        }
    }

    #[test]
    fn an_answer_may_be_typed_loosely() {
        assert_eq!(answer("Yes."), Some(Answer::Yes));
        assert_eq!(answer("can\u{2019}t  tell"), Some(Answer::CantTell));
        assert_eq!(answer("."), Some(Answer::CantCheck));
        assert_eq!(answer("perhaps"), None);
    }

    #[test]
    fn numbers_are_taken_all_or_none() {
        assert_eq!(numbers("1 3", 4), Some(vec![1, 3]));
        assert_eq!(numbers("3, 1 and 3", 4), Some(vec![3, 1]));
        assert_eq!(numbers("1 5", 4), None);
        assert_eq!(numbers("", 4), None);
        assert_eq!(number("2.", 4), Some(2));
        assert_eq!(number("1 2", 4), None);
        assert_eq!(number("99999999999999999999", 4), None);
    }
}
