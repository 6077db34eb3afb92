//! Pictures of every page of practice, and what the keys on them do, on a small pump that is a table of answers.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "fixtures/practice/bench.rs"]
mod bench;

use bench::look::{is_kept, sizes_of_all_kinds, without_colours};
use bench::{Bench, Book, PLACES, holds};
use crossterm::event::KeyCode;
use jiff::civil::date;
use weephole::knowledge::schema::Help;
use weephole::practice::{Move, PracticeChoice, Score};
use weephole::screen::Theme;

const LESSON: &str = "weak_since_spring";

macro_rules! picture {
    ($name:expr, $bench:expr) => {
        insta::assert_snapshot!($name, $bench.at_every_size());
    };
}

fn plain(lesson: &str) -> Bench {
    let choice = PracticeChoice { lesson: Some(lesson.to_owned()), seed: Some(3), help: Some(Help::Half) };
    Bench::in_theme(&Book::default(), choice, &Theme::plain())
}

#[test]
fn what_to_practise() {
    let mut bench = Bench::new(&Book::default());
    picture!("choice", bench);
    bench.press("a");
    picture!("choice_all", bench);
}

/// A lesson that allows no more than half help does not offer to be shown, nor by its digit.
#[test]
fn locked_help_is_not_offered() {
    let mut bench = Bench::new(&Book::default());
    bench.press("a↓^");
    picture!("help_half", bench);
    assert!(!bench.text().contains("shown:"));
    bench.press("3");
    assert!(bench.book.moves().is_empty());
    bench.press("2");
    assert!(matches!(bench.book.moves().as_slice(), [Move::Began { help: Help::Alone, .. }]));
}

#[test]
fn a_lesson_that_is_shown() {
    let mut bench = Bench::at(LESSON, Help::Shown);
    picture!("shown", bench);
    let before = bench.book.moves().len();
    bench.press("^").settle();
    assert_eq!(bench.book.moves().len(), before + 1);
    picture!("shown_next", bench);
    for _ in 0..40 {
        bench.press("^").settle();
        if bench.text().contains("DEBRIEF") {
            break;
        }
    }
    holds(&bench.text(), "You named: inlet strainer or filter element clogged");
    assert!(!bench.text().contains("Unsafe"));
}

#[test]
fn a_whole_job_with_half_help() {
    let mut bench = Bench::at(LESSON, Help::Half);
    picture!("half", bench);
    bench.press("t").type_in("nozzle").press("^");
    bench.press("c").type_in("open the strainer");
    picture!("check_hits", bench);
    bench.press("^");
    picture!("check", bench);
    bench.press("d");
    picture!("unsafe", bench);
    assert!(bench.is_stopped(), "keys typed before it is seen do not count");
    bench.press("^");
    holds(&bench.text(), "UNSAFE");
    bench.press("g").does("watch the inlet hose");
    bench.does("read the inlet gauge").settle();
    picture!("half_found", bench);
    bench.press("i");
    picture!("isolation", bench);
    bench.press("z").does("open the strainer").settle();
    picture!("half_isolated", bench);
    bench.press("n").type_in("strainer").press("^101^");
    picture!("how_sure", bench);
    bench.key(KeyCode::Backspace);
    bench.key(KeyCode::Backspace);
    bench.type_in("0").press("^");
    picture!("named", bench);
    bench.press("z").settle();
    picture!("debrief", bench);
    let kinds: Vec<bool> = bench.book.moves().iter().map(|made| matches!(made, Move::Marked { .. })).collect();
    assert_eq!(kinds.iter().filter(|is_marked| **is_marked).count(), 1);
    bench.press("^");
    picture!("choice_after", bench);
}

#[test]
fn the_gauges() {
    let mut bench = Bench::at(LESSON, Help::Alone);
    picture!("alone", bench);
    bench.press("g").settle();
    picture!("gauges", bench);
    let before = bench.text();
    assert!(bench.is_moving());
    bench.wait(300);
    assert_ne!(before, bench.text(), "the needles move by the clock");
    bench.wait(12_000 - 300);
    assert_eq!(before, bench.text(), "1.5 s, eight times slower, begin again after 12 s");
    bench.press("bi").press("z");
    assert!(!bench.is_moving());
    bench.press("g");
    picture!("gauges_standing", bench);
    let mut ascii = plain(LESSON);
    ascii.settle();
    picture!("half_ascii", ascii);
    assert!(ascii.text().is_ascii());
}

#[test]
fn hints_and_likely_causes_come_with_half_help_alone() {
    let mut bench = Bench::at(LESSON, Help::Half);
    bench.press("x");
    picture!("hint", bench);
    bench.press("bl");
    picture!("likely", bench);
    let mut alone = Bench::at(LESSON, Help::Alone);
    let before = alone.text();
    alone.press("xl");
    assert_eq!(before, alone.text());
    assert!(!before.contains("OF 20 JOBS"));
}

/// A stop rule that is overlooked: going on with the pump running is unsafe, and so it is said.
#[test]
fn milky_oil_stops_the_pump() {
    let mut bench = Bench::at("coffee", Help::Alone);
    bench.press("s");
    holds(&bench.text(), "Nothing calls for that now.");
    bench.does("look at the oil glass").does("watch the inlet hose");
    picture!("unsafe_ran_on", bench);
    bench.press("g").does("read the inlet gauge");
    holds(&bench.text(), "It cannot be done now");
}

fn marks(share_of_best: f64, right: bool, sure: f64) -> Score {
    Score {
        lesson: LESSON.to_owned(),
        alike: "starved".to_owned(),
        seed: 1,
        help: Help::Alone,
        right,
        sure: vec![(sure, right)],
        minutes: 40.0,
        planner_minutes: 25.0,
        share_of_best,
        idle: 0,
        slips: Vec::new(),
        unsafe_moves: usize::from(!right),
    }
}

#[test]
fn progress() {
    let book = Book::default();
    for (at, right) in [(1, false), (2, true), (3, false), (4, true), (5, true), (6, true), (7, true)] {
        let score = marks(f64::from(at) / 8.0, right, if right { 0.9 } else { 0.6 });
        book.earlier.borrow_mut().push((date(2026, 11, 10 + at), score));
    }
    let mut bench = Bench::new(&book);
    picture!("choice_due", bench);
    bench.press("p");
    picture!("progress", bench);
}

#[test]
fn a_job_that_did_not_end_goes_on() {
    let mut first = Bench::at(LESSON, Help::Half);
    first.does("watch the inlet hose");
    let mut again = Bench::new(&first.book);
    holds(&again.text(), "The last job did not end: Weak since spring.");
    holds(&again.text(), "inlet hose flattens at work: no");
    let moves = again.book.moves().len();
    again.does("look into the tank");
    assert_eq!(again.book.moves().len(), moves + 1, "added to the same job");
}

/// What cannot be saved was not done: it is said, it stays to be done, and it can be done again.
#[test]
fn a_full_disk_is_told_and_nothing_counts() {
    let mut bench = Bench::at(LESSON, Help::Half);
    bench.book.fill(true);
    bench.does("watch the inlet hose");
    picture!("not_saved", bench);
    holds(&bench.text(), "CHECK");
    bench.book.fill(false);
    bench.press("d");
    holds(&bench.text(), "inlet hose flattens at work: no");
    holds(&bench.text(), "saved");
    bench.book.fill(true);
    bench.press("n").type_in("strainer").press("^80^z");
    holds(&bench.text(), "Not saved, so it was not done");
    holds(&bench.text(), "80 %");
}

/// Enter walks lists and takes what was typed; it does no check, ends no job and passes no gate.
#[test]
fn enter_decides_nothing_dangerous() {
    for (name, place) in PLACES.iter().filter(|(name, _)| *name != "shown" && *name != "think") {
        let mut bench = place();
        let before = bench.book.moves();
        bench.press("^");
        let after = bench.book.moves();
        let only_began = after.iter().all(|made| matches!(made, Move::Began { .. }));
        assert!(before == after || only_began, "{name}: {after:?}");
    }
}

#[test]
fn every_key_of_the_bar_does_something() {
    for (name, place) in PLACES {
        for at in 0..place().hints().len() {
            let mut bench = place();
            let hint = bench.hints()[at].clone();
            let seen = |bench: &Bench| (bench.text(), bench.book.moves().len(), bench.is_over(), bench.styles());
            let before = seen(&bench);
            bench.key(hint.key);
            assert!(before != seen(&bench), "{name}: {} {} does nothing", hint.shown, hint.title);
        }
    }
}

#[test]
fn no_page_has_one_key_twice() {
    for (name, place) in PLACES {
        let hints = place().hints();
        for (at, hint) in hints.iter().enumerate() {
            let again = hints.iter().skip(at + 1).find(|other| other.key == hint.key);
            assert!(again.is_none(), "{name}: {hint:?} and {again:?}");
        }
    }
}

#[test]
fn no_page_breaks_at_any_size_or_in_any_theme() {
    for (name, place) in PLACES {
        let mut bench = place();
        let page = bench::look::Page { hints: bench.hints(), cautions: bench.cautions(), name };
        for (columns, rows) in sizes_of_all_kinds() {
            bench.size(columns, rows);
            for theme in [Theme::plain(), without_colours(), Theme::dark()] {
                page.holds_up(&bench.wear(theme).drawn(), &theme);
            }
            bench.press("⇓↓↑");
        }
    }
}

/// On the smallest screen that is promised the signal word, what to do first and the key are seen.
#[test]
fn an_unsafe_move_is_seen_on_the_smallest_screen() {
    let mut bench = Bench::at(LESSON, Help::Half);
    bench.does("open the strainer").size(40, 12);
    let text = bench.text().split_whitespace().collect::<Vec<_>>().join(" ");
    for part in ["WARNING", "open the strainer", "Prove zero energy first", "go on"] {
        holds(&text, part);
    }
}

#[test]
fn the_picture_in_the_readme_is_true() {
    let mut bench = Bench::at(LESSON, Help::Half);
    bench.press("g").settle().wait(2_000).size(90, 38);
    is_kept("screen_gauges.svg", &bench.drawn(), "The gauges of a practice pump; their needles move");
}
