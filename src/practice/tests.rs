//! Turns a lesson on a small knowledge and a table of answers into practice jobs; tests only.

#![allow(clippy::unwrap_used, clippy::panic)]

use super::{
    Exercise, ExerciseError, Happened, Move, MoveLine, NotMade, PracticeBook, Room, Score, Slip, debrief, due,
    open_helps, progress, score,
};
use crate::evidence::Answer;
use crate::knowledge::schema::{Help, Lesson};
use crate::knowledge::{Knowledge, SourceText, load};
use crate::rig::Rig;
use jiff::civil::{Date, date};
use std::collections::BTreeMap;
use std::rc::Rc;

const SMALL: &str = r#"(
    version: 1,
    families: {"oil_backed": (name: "pump", recognise: "oil behind the diaphragm")},
    sources: {"practice": (title: "common practice, no source", kind: common_practice)},
    causes: {
        "dirt": (name: "dirt under the valve", place: "valve", shares: {"oil_backed": 500}, basis: guess, remedy: "clean",
            leads_to: {"seat_cut": (strength: half, basis: guess, source: "practice")}),
        "bearing": (name: "bearing loose", place: "drive", shares: {"oil_backed": 400}, basis: guess, remedy: "bearings"),
    },
    damage: {"seat_cut": (name: "seat cut", leak: 0.01)},
    findings: {
        "knock": (name: "knocks", question: "Does it knock?", aliases: ["bang", "thump", "hammers", "knocking"], shown_by: {
            "seat_cut": (strength: usually, basis: guess, source: "practice"),
            "dirt": (strength: half, basis: guess, source: "practice"),
            "bearing": (strength: half, basis: guess, source: "practice")}),
        "hot": (name: "end hot", question: "Is the end hot?", shown_by: {
            "bearing": (strength: nearly_always, basis: guess, source: "practice")}),
        "smoke": (name: "smokes", question: "Does it smoke?", shown_by: {
            "bearing": (strength: rarely, basis: guess, source: "practice")}),
        "whistles": (name: "whistles", question: "Does it whistle?", shown_by: {
            "dirt": (strength: sometimes, basis: guess, source: "practice")}),
        "found_dirt": (name: "dirt under the valve", question: "Dirt there?", verdict_on: "dirt"),
        "found_bearing": (name: "bearing is loose", question: "Is the bearing loose?", verdict_on: "bearing"),
    },
    checks: {
        "touch": (name: "touch the end", yields: ["hot", "smoke"], minutes: 1, steps: ["Touch."]),
        "open_valves": (name: "open the valves", yields: ["found_dirt"], minutes: 20, steps: ["Open."], state: opened, opening: "isolate"),
        "open_drive": (name: "open the drive", yields: ["found_bearing"], minutes: 30, steps: ["Open."], state: opened, opening: "isolate"),
        "listen": (name: "listen again", yields: ["whistles"], minutes: 5, state: running, steps: ["Listen."]),
    },
    openings: {"isolate": (name: "isolate", minutes: 5)},
    remedies: {
        "clean": (name: "clean", kind: remedy, minutes: 30, steps: ["Clean."], proof: ["quiet"]),
        "bearings": (name: "renew bearing", kind: repair, minutes: 300, steps: ["Renew."], proof: ["quiet"]),
    },
    stop_rules: {"smoking": (name: "it smokes", why: "it burns", act: ["Stop it."], when_yes: ["smoke"])},
    lessons: {
        "knocks": (name: "It bangs", family: "oil_backed", told: "it bangs", complaint: ["knock"], faults: {"dirt": 0.5},
            alike: "knocks", teaches: "Cold ends clear the bearing.", source: "common practice, no source"),
        "drives": (name: "It bangs too", family: "oil_backed", told: "it bangs", complaint: ["knock"], faults: {"bearing": 0.5},
            alike: "drives", teaches: "Touch first.", help: alone, unavailable: {"open_drive": "the puller is away"},
            source: "common practice, no source"),
    },
)"#;

struct Table(BTreeMap<&'static str, Answer>);

impl Rig for Table {
    fn look(&mut self, finding: &str) -> Answer {
        self.0.get(finding).copied().unwrap_or(Answer::No)
    }

    fn read(&mut self, _: &str) -> Option<f64> {
        None
    }

    fn needle(&mut self, _: &str) -> Vec<(f64, f64)> {
        Vec::new()
    }
}

fn small() -> Rc<Knowledge> {
    let loaded = load(vec![SourceText { name: "small.ron".to_owned(), text: SMALL.to_owned() }]);
    assert!(!loaded.is_broken(), "{:#?}", loaded.problems);
    Rc::new(loaded.knowledge)
}

fn exercise(lesson: &str, yes: &[&'static str]) -> Exercise {
    let pump = Table(yes.iter().map(|id| (*id, Answer::Yes)).collect());
    Exercise::begin(&small(), lesson, (7, Help::Alone), Box::new(pump)).unwrap()
}

fn does(check: &str) -> Move {
    Move::Does { check: check.to_owned() }
}

fn names(node: &str, sure: f64) -> Move {
    Move::Names { nodes: vec![(node.to_owned(), sure)] }
}

#[test]
fn a_good_job_passes_beside_the_planner() {
    let mut good = exercise("knocks", &["found_dirt"]);
    assert!(matches!(good.make(&does("touch")).unwrap(), Happened::Done(done) if done.found.len() == 2));
    good.make(&Move::Isolates).unwrap();
    good.make(&does("open_valves")).unwrap();
    assert_eq!(good.make(&names("dirt", 0.9)).unwrap(), Happened::Over);
    assert_eq!(good.make(&does("touch")).unwrap_err(), ExerciseError::Over);
    let mut planner = exercise("knocks", &["found_dirt"]);
    let mut moves = 0;
    planner.play_out(20, |_, _| moves += 1);
    assert!(2 <= moves && planner.misses.is_empty() && planner.named.as_ref().unwrap()[0].0 == "dirt");
    let marks = score(&good, planner.minutes());
    assert!(marks.passed() && marks.slips.is_empty(), "{marks:?}");
    assert!((good.minutes() - 26.0).abs() < 1e-9, "a minute, isolation 5, valves 20");
    assert_eq!(marks.sure, [(0.9, true)]);
    let told = debrief(&good, &planner, &marks);
    assert_eq!(told.truth, ["dirt under the valve"]);
    assert!(told.unsafe_moves.is_empty() && told.remarks[0].contains("found"), "{told:?}");
}

#[test]
fn opening_without_zero_energy_is_not_done_and_fails_the_job() {
    let mut hasty = exercise("knocks", &["found_dirt"]);
    let happened = hasty.make(&does("open_valves")).unwrap();
    assert!(matches!(&happened, Happened::Unsafe(miss) if miss.instead.0.contains("zero energy")), "{happened:?}");
    assert!(hasty.done.is_empty());
    hasty.make(&Move::Isolates).unwrap();
    hasty.make(&does("open_valves")).unwrap();
    hasty.make(&names("dirt", 0.9)).unwrap();
    let marks = score(&hasty, 26.0);
    assert!(marks.right && !marks.passed() && marks.unsafe_moves == 1);
    assert!(debrief(&hasty, &hasty, &marks).better.starts_with("Safety first"));
}

#[test]
fn running_on_past_a_stop_rule_fails_the_job() {
    let mut on = exercise("drives", &["smoke", "hot"]);
    on.make(&does("touch")).unwrap();
    let happened = on.make(&does("listen"));
    assert!(matches!(&happened, Ok(Happened::Unsafe(miss)) if miss.what.contains("smokes")), "{happened:?}");
    let mut stopped = exercise("drives", &["smoke", "hot"]);
    assert_eq!(stopped.make(&Move::Stops).unwrap_err(), ExerciseError::NotCalledFor);
    stopped.make(&does("touch")).unwrap();
    stopped.make(&Move::Stops).unwrap();
    assert!(stopped.misses.is_empty());
    let mut silent = exercise("drives", &["smoke", "hot"]);
    silent.make(&does("touch")).unwrap();
    silent.make(&names("bearing", 0.7)).unwrap();
    assert_eq!(silent.misses.len(), 1, "named while it still runs and smokes");
}

#[test]
fn damage_is_not_the_cause_and_parts_need_proof() {
    let mut damage = exercise("knocks", &[]);
    damage.make(&names("seat_cut", 0.9)).unwrap();
    let marks = score(&damage, 26.0);
    assert!(marks.slips.contains(&Slip::DamageForCause) && !marks.right, "{marks:?}");
    assert!(debrief(&damage, &damage, &marks).better.contains("why the part broke"));
    let mut part = exercise("drives", &[]);
    part.make(&names("bearing", 0.9)).unwrap();
    let marks = score(&part, 36.0);
    assert!(marks.right && marks.slips.contains(&Slip::Unproved) && marks.minutes == 0.0, "{marks:?}");
    let mut early = exercise("knocks", &[]);
    early.make(&does("touch")).unwrap();
    early.make(&names("bearing", 0.9)).unwrap();
    let marks = score(&early, 36.0);
    assert!(!marks.right && marks.slips.contains(&Slip::TooEarly), "a cold end speaks against it: {marks:?}");
}

#[test]
fn what_cannot_be_done_is_said_and_nothing_changes() {
    let mut it = exercise("drives", &[]);
    let refused = |error: ExerciseError, words: &str| assert!(error.to_string().contains(words), "{error}");
    refused(it.make(&does("open_drive")).unwrap_err(), "the puller is away");
    refused(it.make(&does("no_such")).unwrap_err(), "no check `no_such`");
    refused(it.make(&names("dirt", 1.5)).unwrap_err(), "between 1 and 99 %");
    refused(it.make(&names("no_such", 0.5)).unwrap_err(), "`no_such`");
    it.make(&does("touch")).unwrap();
    refused(it.make(&does("touch")).unwrap_err(), "nothing left to tell");
    assert_eq!((it.done.len(), it.misses.len()), (1, 0));
    let knowledge = small();
    let begin = |lesson, help| {
        Exercise::begin(&knowledge, lesson, (1, help), Box::new(Table(BTreeMap::new()))).map(|_| ()).unwrap_err()
    };
    refused(begin("no_such", Help::Alone), "no lesson `no_such`");
    refused(begin("drives", Help::Half), "no more help than `alone`");
}

fn marked(alike: &str, lesson: &str, day: Date, right: bool) -> (Date, Score) {
    let mut it = exercise(lesson, &[]);
    it.make(&names(if lesson == "knocks" { "dirt" } else { "bearing" }, 0.6)).unwrap();
    (day, Score { alike: alike.to_owned(), right, ..score(&it, 10.0) })
}

#[test]
fn groups_come_back_at_growing_intervals_and_fall_back_when_failed() {
    let knowledge = small();
    let new = due(&knowledge, &[], date(2026, 12, 1));
    assert!(new.len() == 2 && new.iter().all(|due| due.is_due && due.on.is_none()), "{new:?}");
    let day = |day| date(2026, 12, day);
    let passed: Vec<_> = [1, 2, 5].map(|at| marked("knocks", "knocks", day(at), true)).into();
    let after = due(&knowledge, &passed, day(6));
    assert_eq!(after[0].alike, "drives", "what was never practised comes before what is not due");
    assert_eq!((after[1].rung, after[1].on), (3, Some(day(12))), "a week after the third");
    let failed: Vec<_> = passed.into_iter().chain([marked("knocks", "knocks", day(12), false)]).collect();
    let back = due(&knowledge, &failed, day(13));
    assert_eq!((back[0].alike.as_str(), back[0].rung, back[0].on), ("knocks", 0, Some(day(13))), "first what is due");
}

#[test]
fn trends_are_told_from_the_marks() {
    let all: Vec<_> = (1..=20).map(|at| marked("knocks", "knocks", date(2026, 12, at), 10 < at)).collect();
    let trend = progress(&all);
    assert_eq!((trend.jobs, trend.passed), (20, (0.5, 1.0)));
    assert_eq!(trend.sure.len(), 1);
    assert!((trend.sure[0].0 - 0.6).abs() < 1e-9 && trend.sure[0].2 == 20);
    assert_eq!(progress(&[]).jobs, 0);
}

/// What is written is read again: the moves alone make the job again.
#[test]
fn moves_keep_their_shape_in_a_journal() {
    let began = Move::Began { version: 1, lesson: "knocks".into(), seed: 7, help: Help::Half, knowledge: "abc".into() };
    for made in [began, does("touch"), names("dirt", 0.9), Move::Isolates, Move::GivesUp] {
        let line = super::MoveLine { at: jiff::Timestamp::UNIX_EPOCH, made };
        let text = serde_json::to_string(&line).unwrap();
        assert_eq!(serde_json::from_str::<super::MoveLine>(&text).unwrap(), line, "{text}");
    }
}

/// A pump whose outlet needle climbs from 0 to 60 bar in 1.5 s, on a gauge to 120 bar.
struct Climbing;

impl Rig for Climbing {
    fn look(&mut self, _: &str) -> Answer {
        Answer::No
    }

    fn read(&mut self, _: &str) -> Option<f64> {
        None
    }

    fn needle(&mut self, reading: &str) -> Vec<(f64, f64)> {
        let at = |step: u32| f64::from(step) * 0.001;
        let is_outlet = reading == "outlet_pressure";
        if is_outlet { (0..1500).map(at).map(|time| (time, 40e5 * time)).collect() } else { Vec::new() }
    }

    fn face(&self, _: &str) -> Option<(f64, f64)> {
        Some((0.0, 120e5))
    }
}

/// By hand: after 0.75 s it shows 30 bar, a quarter of the face and half of the trace; after 1.5 s it begins again.
#[test]
fn a_dial_shows_its_needle_at_any_moment() {
    let mut it = Exercise::begin(&small(), "knocks", (7, Help::Alone), Box::new(Climbing)).unwrap();
    let dials = it.dials();
    assert_eq!(dials.len(), 1, "the inlet has no needle");
    let (dial, point) = (&dials[0], |seconds: f64| &dials[0].course[dials[0].point(seconds)]);
    assert!((point(0.752).at - 0.25).abs() < 0.001, "{:?}", point(0.752));
    assert!((point(0.752).height - 0.5).abs() < 0.003, "{:?}", point(0.752));
    assert!(point(1.502).at < 0.001, "from the beginning");
    assert!(dial.swing.0 < 1e-9 && (dial.swing.1 - 0.5).abs() < 0.003, "{:?}", dial.swing);
    assert!(point(-3.0).at < 0.001, "a clock that was put back");
}

/// A book that saves so many moves and then no more.
struct Full {
    room_for: usize,
    kept: Vec<Move>,
}

impl PracticeBook for Full {
    fn marked(&self) -> (Vec<(Date, Score)>, Vec<String>) {
        (Vec::new(), Vec::new())
    }

    fn take_up(&mut self) -> Option<Vec<MoveLine>> {
        let line = |made: &Move| MoveLine { at: jiff::Timestamp::UNIX_EPOCH, made: made.clone() };
        Some(self.kept.iter().map(line).collect())
    }

    fn begin(&mut self, first: Move) -> Result<(), String> {
        self.keep(first)
    }

    fn keep(&mut self, made: Move) -> Result<(), String> {
        if self.kept.len() == self.room_for {
            return Err("the disk is full".to_owned());
        }
        self.kept.push(made);
        Ok(())
    }

    fn today(&self) -> Date {
        date(2026, 11, 24)
    }

    fn seed(&self) -> u64 {
        7
    }

    fn pump(&self, _: &Lesson, _: u64) -> Result<Box<dyn Rig>, String> {
        Ok(Box::new(Table([("found_dirt", Answer::Yes)].into())))
    }
}

#[test]
fn what_cannot_be_saved_is_not_made_and_what_stands_against_it_is_not_saved() {
    let mut book = Full { room_for: 2, kept: Vec::new() };
    let mut room = Room::new(&mut book, &small());
    let mut it = room.begin("knocks", (None, Help::Half)).unwrap();
    let stands = |error| NotMade::Stands(error);
    assert_eq!(room.make(&mut it, does("nothing")), Err(stands(ExerciseError::NoSuchCheck("nothing".to_owned()))));
    assert_eq!(room.make(&mut it, Move::Stops), Err(stands(ExerciseError::NotCalledFor)));
    assert!(matches!(room.make(&mut it, does("touch")), Ok(Happened::Done(_))));
    assert_eq!(room.make(&mut it, Move::Isolates), Err(NotMade::NotSaved("the disk is full".to_owned())));
    assert!(!it.stands(), "zero was not proved");
    assert!(room.begin("knocks", (None, Help::Half)).is_err());
    let again = room.take_up().unwrap().exercise.unwrap();
    assert_eq!((again.done, again.help), (it.done, it.help));
    assert_eq!(book.kept.len(), 2);
}

/// What may be made is made, and what may not is refused with the same words.
#[test]
fn whether_a_move_may_be_made_is_what_making_it_says() {
    let moves = [does("touch"), does("open_drive"), Move::Stops, Move::Readies, Move::Isolates, names("dirt", 1.5)];
    for made in &moves {
        let mut it = exercise("drives", &["hot"]);
        let may = it.may(made);
        assert_eq!(may.err(), it.make(made).err(), "{made:?}");
    }
}

#[test]
fn helps_beyond_the_lesson_are_locked() {
    let knowledge = small();
    assert_eq!(open_helps(&knowledge.all.lessons["knocks"]), [Help::Shown, Help::Half, Help::Alone]);
    assert_eq!(open_helps(&knowledge.all.lessons["drives"]), [Help::Alone]);
}
