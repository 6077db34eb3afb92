//! Work on the pump: what was changed is evidence, a harmed part is not the end, rebuild sheets go back, the return to
//! service proves.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod common;

use common::MemoryJob;
use std::rc::Rc;
use weephole::evidence::{Answer, Why};
use weephole::job::{Ending, Entry, Event, Next, Outcome, Refused, SheetView, Sitting, Status};
use weephole::knowledge::Knowledge;

fn shipped() -> Rc<Knowledge> {
    Rc::new(common::shipped().knowledge)
}

fn give(job: &mut MemoryJob, finding: &str, answer: Answer) {
    let event = job.sitting.answer(finding, answer, None).unwrap();
    job.happens(event);
}

fn chance(job: &MemoryJob, node: &str) -> f64 {
    job.sitting.present(job.sitting.graph.node(node).unwrap())
}

/// A starved pump: strainer most likely, other inlet causes behind it.
fn starved(knowledge: &Rc<Knowledge>) -> MemoryJob {
    let mut job = MemoryJob::open(Rc::clone(knowledge), "oil_backed");
    let said = job.sitting.complaint("rattles like gravel", &["crackle_noise".to_owned()]);
    job.happens(said);
    for (finding, answer) in [
        ("low_flow", Answer::Yes),
        ("came_slowly", Answer::Yes),
        ("better_at_half_speed", Answer::Yes),
        ("oil_milky", Answer::No),
    ] {
        give(&mut job, finding, answer);
    }
    job
}

fn tried(job: &mut MemoryJob, outcome: Outcome) {
    job.happens(Event::Tried { outcome, words: String::new() });
}

/// "Changed X, no effect" speaks against X; every no stays, what hung on X is set aside and may be asked again, and the
/// complaint still counts.
#[test]
fn changed_without_effect_is_evidence() {
    let knowledge = shipped();
    let mut job = starved(&knowledge);
    let number = job.sitting.measure("inlet_pressure_full", "13 inHg vac", None).unwrap().event;
    job.happens(number);
    let before = chance(&job, "strainer_clogged");
    assert!(0.2 < before, "{before}");
    let changed = job.sitting.changed("strainer_clogged", "cleaned it");
    job.happens(changed);
    assert!((chance(&job, "strainer_clogged") - before).abs() < 1e-9, "untried, nothing is known");
    tried(&mut job, Outcome::Same);
    assert!(chance(&job, "strainer_clogged") < 0.02, "{}", chance(&job, "strainer_clogged"));
    let aside: Vec<&str> =
        job.sitting.evidence.set_aside.iter().filter(|a| a.why == Why::BeforeRepair).map(|a| a.id.as_str()).collect();
    assert!(aside.contains(&"inlet_pressure_full") && aside.contains(&"low_flow"), "{aside:?}");
    assert!(!aside.contains(&"oil_milky") && !aside.contains(&"crackle_noise"), "{aside:?}");
    let settled = job.sitting.settled();
    assert!(settled.contains("oil_milky") && !settled.contains("inlet_pressure_full"));
    give(&mut job, "low_flow", Answer::Yes);
    assert!(job.sitting.settled().contains("low_flow"), "asked again, it counts");
}

/// "Worked after Y" makes Y likelier, but is proof only once a reading is back in its band.
#[test]
fn worked_after_is_proved_by_readings() {
    let knowledge = shipped();
    let mut job = starved(&knowledge);
    let strainer = job.sitting.graph.node("strainer_clogged").unwrap();
    let changed = job.sitting.changed("strainer_clogged", "cleaned it");
    job.happens(changed);
    let before = chance(&job, "strainer_clogged");
    let gate = match job.sitting.next() {
        Next::Gate(gate) => gate,
        other => panic!("no start without its gate: {other:?}"),
    };
    job.pass(&gate);
    assert!(matches!(job.sitting.next(), Next::Try(_)));
    tried(&mut job, Outcome::Well);
    let worked = chance(&job, "strainer_clogged");
    assert!(before < worked);
    assert_ne!(job.sitting.status(strainer), Status::Confirmed);
    let Next::Return(list) = job.sitting.next() else { panic!("the list comes") };
    assert!(!list.passes && !list.open.is_empty());
    let (event, ..) = job.sitting.prove("rts_inlet", "2 inHg vac").unwrap();
    job.happens(event);
    assert!(worked < chance(&job, "strainer_clogged"));
    let expected = if 0.95 <= chance(&job, "strainer_clogged") { Status::Confirmed } else { Status::Probable };
    assert_eq!(job.sitting.status(strainer), expected);
    let (event, ..) = job.sitting.prove("rts_inlet", "14 inHg vac").unwrap();
    job.happens(event);
    assert_ne!(job.sitting.status(strainer), Status::Confirmed, "a reading that is off proves nothing");
}

/// The list passes only with every needed line; then its readings are the pump's usual values.
#[test]
fn the_return_to_service_stores_good_values() {
    let knowledge = shipped();
    let mut job = starved(&knowledge);
    let changed = job.sitting.changed("strainer_clogged", "");
    job.happens(changed);
    tried(&mut job, Outcome::Well);
    for line in job.sitting.service().lines {
        let event = match &line.number {
            Some(_) if line.id == "rts_flow" => job.sitting.prove(&line.id, "30 L/min").unwrap().0,
            Some(_) if line.id == "rts_pressure" => job.sitting.prove(&line.id, "70 bar").unwrap().0,
            Some(_) => job.sitting.prove_seen(&line.id, None, "no instrument"),
            None => job.sitting.prove_seen(&line.id, Some(line.id != "rts_leak"), ""),
        };
        job.happens(event);
    }
    let view = job.sitting.service();
    assert_eq!((view.passes, view.off.len()), (false, 1));
    let not_yet = job.sitting.returned("R.K.");
    job.happens(not_yet);
    assert_eq!(job.sitting.next(), Next::Ended(Ending::NotYet));
    assert!(job.sitting.job.usual.is_empty());
    let dry = job.sitting.prove_seen("rts_leak", Some(true), "nipped up, isolated");
    job.happens(dry);
    let view = job.sitting.service();
    assert!(view.off.is_empty(), "{:?}", view.off);
    // Without a usual value flow and pressure are noted; they are this pump's usual ones from now on.
    let needed: Vec<&String> = view.open.iter().collect();
    assert!(view.passes || needed.iter().all(|name| name.contains("flow") || name.contains("pressure")), "{needed:?}");
    let returned = job.sitting.returned("R.K.; recheck tomorrow");
    job.happens(returned);
    assert!(job.sitting.job.usual.contains_key("delivered_flow_full"), "{:?}", job.sitting.job.usual);
}

/// A torn diaphragm found: its look is asked first, its causes after that; "renew it" is not the end.
fn torn(knowledge: &Rc<Knowledge>) -> MemoryJob {
    let mut job = MemoryJob::open(Rc::clone(knowledge), "oil_backed");
    let said = job.sitting.complaint("oil like milk", &["oil_milky".to_owned()]);
    job.happens(said);
    let Next::Stop(stop) = job.sitting.next() else { panic!("milky oil stops the pump") };
    job.happens(Event::StopAnswered { rule: stop.rule, stopped: true, words: "R.K.".to_owned() });
    let gate = job.sitting.gate(weephole::job::GateKind::Isolation);
    job.pass(&gate);
    let found = job.sitting.answer("found_diaphragm_torn", Answer::Yes, Some("diaphragms_look")).unwrap();
    job.happens(found);
    job
}

#[test]
fn a_torn_diaphragm_is_not_the_end() {
    let knowledge = shipped();
    let mut job = torn(&knowledge);
    let Next::Ask(step) = job.sitting.next() else { panic!("it goes on: {:?}", job.sitting.next()) };
    assert_eq!(step.check, "diaphragms_look");
    let first = step.asks[0].id.clone();
    assert!(knowledge.all.findings[&first].verdict_on.is_none(), "the look comes before any verdict: {first}");
    let broke = job.sitting.broke();
    assert_eq!((broke[0].id.as_str(), &broke[0].because), ("diaphragm_torn", &None));
    let refused = job.sitting.close(Ending::NothingWorthAsking, None, " ");
    assert!(matches!(refused, Err(Refused::NoReason(name)) if name.contains("diaphragm")));
    assert!(job.sitting.close(Ending::DamageOnly, None, "no parts to look at, thrown away").is_ok());
    assert!(job.sitting.close(Ending::HandedOver, None, "").is_ok());
    let looks = [
        ("look_dia_hard_cracked", Answer::Yes),
        ("look_dia_worn_pinhole", Answer::Yes),
        ("diaphragm_hours_over", Answer::Yes),
        ("dent_or_piece_found", Answer::No),
        ("look_dia_torn_at_clamp", Answer::No),
        ("found_diaphragm_material_wrong", Answer::No),
        ("found_diaphragm_fitted_wrong", Answer::No),
        ("found_foreign_body_in_chamber", Answer::No),
        ("look_dia_swollen", Answer::No),
    ];
    for (look, answer) in looks {
        let event = job.sitting.answer(look, answer, Some("diaphragms_look")).unwrap();
        job.happens(event);
    }
    let found = job.sitting.answer("found_diaphragm_life_over", Answer::Yes, Some("diaphragms_look")).unwrap();
    job.happens(found);
    let broke = job.sitting.broke().remove(0);
    let likely: Vec<(String, f64)> = job.sitting.likely(4).into_iter().map(|row| (row.id, row.probability)).collect();
    assert!(broke.because.is_some(), "{likely:?}");
    assert_eq!(broke.because.as_deref(), Some(knowledge.all.causes["diaphragm_life_over"].name.as_str()));
    assert!(broke.unexplained.is_empty() && 2 <= broke.looks.len(), "{broke:?}");
    assert_eq!(job.sitting.next(), Next::Ended(Ending::Confirmed));
    assert!(job.sitting.close(Ending::Confirmed, Some("diaphragm_life_over".to_owned()), "").is_ok());
    let swollen = job.sitting.answer("dent_or_piece_found", Answer::Yes, Some("diaphragms_look")).unwrap();
    job.happens(swollen);
    assert_eq!(job.sitting.broke()[0].unexplained.len(), 1, "age leaves no piece in the chamber");
}

fn open_step(job: &mut MemoryJob) -> SheetView {
    for _ in 0..4 {
        match job.sitting.next() {
            Next::Sheet(step) => return *step,
            Next::Gate(gate) => job.pass(&gate),
            Next::Stop(stop) => {
                job.happens(Event::StopAnswered { rule: stop.rule, stopped: true, words: "R.K.".to_owned() });
            }
            other => panic!("no step: {other:?}"),
        }
    }
    panic!("no step comes")
}

fn step(job: &mut MemoryJob, passed: bool) {
    let view = open_step(job);
    for event in job.sitting.sheet_events(&view, passed, "", None) {
        job.happens(event);
    }
}

/// The sheets of a remedy from the first step to the try: a hold point that fails goes back, shows itself as a finding,
/// fires its stop rule, and is taken back when it holds.
#[test]
fn rebuild_sheets_go_back_and_on() {
    let knowledge = shipped();
    let mut job = torn(&knowledge);
    let plan = job.sitting.remedy_plan("diaphragm_torn").unwrap();
    assert!(plan.parts.iter().any(|part| part.contains("always new")) && 3 < plan.sheets.len(), "{plan:?}");
    let begun = job.sitting.begin_sheets(&plan);
    job.happens(begun);
    let (mut failed, mut steps) = (false, 0);
    while job.sitting.job.work.sheets.is_some() {
        let view = open_step(&mut job);
        steps += 1;
        assert!(steps < 200, "{}", view.act);
        if view.sheet == "first_run_and_return" && view.step.0 == 1 && !failed {
            failed = true;
            step(&mut job, false);
            assert!(matches!(job.sitting.next(), Next::Stop(stop) if stop.rule == "stop_first_run"));
            assert_eq!(open_step(&mut job).failed, 1);
            continue;
        }
        step(&mut job, true);
    }
    assert!(failed && 30 < steps);
    assert!(matches!(job.sitting.next(), Next::Try(_)), "{:?}", job.sitting.next());
    assert!(matches!(job.sitting.job.given["tight_spot_by_hand"].0, weephole::job::Given::Answer(Answer::No)));
    let lines: Vec<String> = job.sitting.job.entries.iter().map(|e| serde_json::to_string(e).unwrap()).collect();
    let entries: Vec<Entry> = lines.iter().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(Sitting::new(knowledge, entries).unwrap().job, job.sitting.job);
}

/// Every stop rule overrides an open rebuild sheet, a repair that waits to be tried, and the return-to-service list.
#[test]
fn every_stop_rule_overrides_the_work() {
    let knowledge = shipped();
    let sheets = Event::SheetsBegun {
        node: "strainer_clogged".to_owned(),
        remedy: None,
        sheets: vec!["cover_bolts".to_owned()],
    };
    for (id, rule) in &knowledge.all.stop_rules {
        let finding = &rule.when_yes[0];
        for work in ["sheet", "untried", "return"] {
            let mut job = starved(&knowledge);
            if work == "sheet" {
                job.happens(sheets.clone());
            } else {
                let event = job.sitting.changed("strainer_clogged", "");
                job.happens(event);
            }
            if work == "return" {
                tried(&mut job, Outcome::Well);
            }
            give(&mut job, finding, Answer::Yes);
            assert!(matches!(job.sitting.next(), Next::Stop(stop) if stop.rule == *id), "{id} over {work}");
        }
    }
}

/// A number at a hold point is judged in any unit; out of its band it goes back to the step the sheet names.
#[test]
fn a_number_is_judged() {
    let knowledge = shipped();
    let mut job = torn(&knowledge);
    let sheets = vec!["end_play_of_shaft".to_owned()];
    job.happens(Event::SheetsBegun { node: "end_play_too_small".to_owned(), remedy: None, sheets });
    let view = open_step(&mut job);
    let (is, not) =
        (job.sitting.judge_step(&view, "0.005 mm").unwrap(), job.sitting.judge_step(&view, "0,002 in").unwrap());
    assert!(is.is_in && !not.is_in && not.words.contains("above"), "{} {}", is.words, not.words);
    assert!(job.sitting.judge_step(&view, "5 bar").is_err());
    let failed = job.sitting.sheet_events(&view, false, &not.words, Some(not.value));
    for event in failed {
        job.happens(event);
    }
    assert_eq!(job.sitting.rebuild_step().unwrap().step.0, 1);
    for _ in 0..3 {
        step(&mut job, true);
    }
    let band = open_step(&mut job);
    let high = job.sitting.judge_step(&band, "0.22 mm").unwrap();
    assert!(!high.is_in && high.words.contains("typical, not yours"), "{}", high.words);
    step(&mut job, false);
    assert_eq!(job.sitting.rebuild_step().unwrap().step.0, 5, "too little: step 5");
    job.happens(Event::SheetsLeft { words: "no shims".to_owned() });
    assert!(job.sitting.rebuild_step().is_none() && job.sitting.job.work.repairs.is_empty());
}

/// Every sheet of the knowledge leads back to one of its own steps and can be played to its end.
#[test]
fn every_sheet_can_be_played() {
    let knowledge = shipped();
    for (id, sheet) in &knowledge.all.procedures {
        for entry in &sheet.steps {
            let back = entry.fails_to.unwrap_or(1) as usize;
            assert!((1..=sheet.steps.len()).contains(&back), "{id}: {}", entry.act);
        }
        let mut job = torn(&knowledge);
        let sheets = vec![id.clone()];
        job.happens(Event::SheetsBegun { node: "diaphragm_torn".to_owned(), remedy: None, sheets });
        for _ in &sheet.steps {
            step(&mut job, true);
        }
        assert!(job.sitting.job.work.sheets.is_none(), "{id}");
    }
}

/// What hides between the lines before closing: three questions, each may be skipped, and that is kept.
#[test]
fn three_questions_before_closing() {
    let knowledge = shipped();
    let mut job = starved(&knowledge);
    let thoughts = job.sitting.second_thoughts(Some("strainer_clogged")).questions;
    assert_eq!(thoughts.len(), 3);
    assert!(thoughts.iter().all(|(_, question, hint)| question.ends_with('?') && !hint.contains("strainer clogged")));
    for (id, ..) in thoughts {
        job.happens(Event::SecondThought { question: id.to_owned(), words: String::new() });
    }
    assert_eq!(job.sitting.job.second_thoughts.len(), 3);
}
