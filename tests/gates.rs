//! Gates of a job: asked before hands go in and before a first run, and asked again when what was proved counts no more.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod common;

use common::MemoryJob;
use std::rc::Rc;
use weephole::evidence::Answer;
use weephole::job::{
    Ending, Event, FirstRun, GateKind, GateLine, GateView, Isolation, Lapse, Look, Next, Said, StepView, Takes,
};
use weephole::knowledge::Knowledge;
use weephole::knowledge::schema::PumpState;
use weephole::planning::Step;

fn shipped() -> Rc<Knowledge> {
    Rc::new(common::shipped().knowledge)
}

fn job(knowledge: &Rc<Knowledge>) -> MemoryJob {
    let mut job = MemoryJob::open(Rc::clone(knowledge), "oil_backed");
    let said = job.sitting.complaint("rattles like gravel", &["crackle_noise".to_owned()]);
    job.happens(said);
    job
}

/// A check as a step, whatever the plan thinks of it.
fn step(job: &MemoryJob, check: &str) -> StepView {
    let step = Step {
        check: check.to_owned(),
        asks: job.sitting.knowledge.all.checks[check].yields.clone(),
        minutes: 1.0,
        worth: 0.0,
        opens: None,
        saves: 0.0,
    };
    job.sitting.step_view(&step).unwrap()
}

fn isolation_of(job: &MemoryJob) -> Option<GateView> {
    job.sitting.gate_before(&step(job, "open_strainer"))
}

fn isolate(job: &mut MemoryJob) {
    let gate = job.sitting.gate(GateKind::Isolation);
    job.pass(&gate);
    assert!(isolation_of(job).is_none());
}

fn answer(job: &mut MemoryJob, finding: &str, check: &str) {
    let event = job.sitting.answer(finding, Answer::No, Some(check)).unwrap();
    job.happens(event);
}

/// Every check of every family that opens or puts hands in stands behind the gate; no other one does.
#[test]
fn no_opening_check_is_reachable_without_its_gate() {
    let knowledge = shipped();
    let (fresh, mut isolated) = (job(&knowledge), job(&knowledge));
    isolate(&mut isolated);
    let mut behind = 0;
    for (id, check) in &knowledge.all.checks {
        let opens = check.opening.is_some()
            || check.needs_isolation
            || matches!(check.state, PumpState::Isolated | PumpState::Opened);
        let gate = fresh.sitting.gate_before(&step(&fresh, id));
        assert_eq!(gate.as_ref().map(|gate| gate.kind), opens.then_some(GateKind::Isolation), "{id}");
        assert!(isolated.sitting.gate_before(&step(&isolated, id)).is_none(), "{id}");
        behind += usize::from(opens);
    }
    assert!(40 < behind, "only {behind} checks open anything");
}

/// The liquid, who, what, the start tried, two proofs: with any of them missing nothing is proved.
#[test]
fn every_line_of_the_gate_counts() {
    let knowledge = shipped();
    let gate = job(&knowledge).sitting.gate(GateKind::Isolation);
    assert_eq!(gate.lines[0].id, "liquid");
    assert_eq!(gate.lines.iter().filter(|line| line.ask.contains("proof")).count(), 2);
    let yes = |line: &GateLine| match line.takes {
        Takes::Words => Said::Words("R.K., fitter".to_owned()),
        Takes::Yes => Said::Yes,
    };
    for missing in 0..gate.lines.len() {
        let mut said: Vec<Said> = gate.lines.iter().map(yes).collect();
        said[missing] = if gate.lines[missing].takes == Takes::Yes { Said::No } else { Said::Words("?".to_owned()) };
        let mut job = job(&knowledge);
        for event in gate.events(&said) {
            job.happens(event);
        }
        assert!(matches!(job.sitting.gates().isolation, Isolation::NotPossible(_)), "{}", gate.lines[missing].ask);
        assert!(!job.sitting.allowed().opening);
        said.truncate(missing);
        assert!(!gate.events(&said).iter().any(|event| matches!(event, Event::ZeroProved(_))));
    }
}

/// Proved once; asked again after a pause, a run, a hand-over, a reopening. The liquid is asked once.
#[test]
fn what_was_proved_lapses() {
    let knowledge = shipped();
    let note = || Event::Note { text: "lunch".to_owned() };
    let closed = |ending| Event::Closed { ending, cause: None, words: String::new() };
    let lapsed = |job: &MemoryJob| match &job.sitting.gates().isolation {
        Isolation::Lapsed(_, why) => Some(*why),
        _ => None,
    };
    let mut pause = job(&knowledge);
    isolate(&mut pause);
    pause.after(30, note());
    assert_eq!(lapsed(&pause), None, "30 minutes are not over 30");
    pause.after(31, note());
    assert_eq!(lapsed(&pause), Some(Lapse::Idle));
    isolate(&mut pause);
    pause.after(-1, note());
    assert_eq!(lapsed(&pause), None, "a clock that was set right");
    pause.after(-2, note());
    assert_eq!(lapsed(&pause), Some(Lapse::Idle), "a clock that was put back");
    let again = isolation_of(&pause).unwrap();
    assert!(again.again.unwrap().contains("30 minutes"));
    assert!(again.lines.iter().all(|line| line.id != "liquid") && again.lines[0].was.is_some());
    isolate(&mut pause);
    answer(&mut pause, "better_at_half_speed", "read_inlet_full_half");
    assert_eq!(lapsed(&pause), Some(Lapse::Ran));
    isolate(&mut pause);
    pause.happens(closed(Ending::HandedOver));
    assert_eq!(lapsed(&pause), Some(Lapse::HandedOver));
    isolate(&mut pause);
    pause.happens(closed(Ending::NothingWorthAsking));
    pause.happens(Event::Reopened);
    assert_eq!(lapsed(&pause), Some(Lapse::Reopened));
    isolate(&mut pause);
    let last = pause.sitting.job.last.unwrap();
    let minutes = |many| last + jiff::SignedDuration::from_mins(many);
    assert!(!pause.sitting.was_idle(minutes(30)) && pause.sitting.was_idle(minutes(31)));
    pause.happens(Event::Back);
    assert_eq!(lapsed(&pause), Some(Lapse::Idle));
    assert!(!pause.sitting.was_idle(minutes(99)), "nothing is left to lapse");
}

/// What was opened is shut once the pump ran: its minutes are paid again.
#[test]
fn a_run_shuts_what_was_open() {
    let knowledge = shipped();
    let mut job = job(&knowledge);
    isolate(&mut job);
    let cost = |job: &MemoryJob| match job.sitting.idea("diaphragms_look").unwrap().look {
        Look::Ready { step, .. } => step.minutes,
        other => panic!("{other:?}"),
    };
    let shut = cost(&job);
    answer(&mut job, "look_dia_clean_cut", "diaphragms_look");
    let open = cost(&job);
    assert!(open + 20.0 < shut, "{open} {shut}");
    answer(&mut job, "better_at_half_speed", "read_inlet_full_half");
    assert!(job.sitting.gates().open_checks.is_empty());
    assert!(open + 20.0 < cost(&job), "{open} {}", cost(&job));
}

/// Before the first run after something was taken apart, every line needs a yes; without it no start is offered.
#[test]
fn the_first_run_has_a_gate_of_its_own() {
    let knowledge = shipped();
    let mut job = job(&knowledge);
    let run = |job: &MemoryJob| job.sitting.gate_before(&step(job, "read_inlet_full_half"));
    assert!(run(&job).is_none(), "nothing was taken apart");
    isolate(&mut job);
    answer(&mut job, "found_strainer_clogged", "open_strainer");
    let gate = run(&job).unwrap();
    assert_eq!(gate.kind, GateKind::FirstRun);
    for what in ["Guard", "Tools", "Outlet", "clear", "Relief"] {
        assert!(gate.lines.iter().any(|line| line.ask.contains(what)), "{what}");
    }
    job.happens(gate.refused("guard is missing"));
    assert!(!job.sitting.allowed().running);
    for planned in &job.sitting.plan().steps {
        assert_ne!(knowledge.all.checks[&planned.check].state, PumpState::Running, "{}", planned.check);
    }
    job.pass(&gate);
    assert!(run(&job).is_none() && job.sitting.allowed().running);
    job.after(31, Event::Note { text: "waited for the electrician".to_owned() });
    assert!(run(&job).is_some(), "people may have come back to the pump");
    job.pass(&gate);
    answer(&mut job, "better_at_half_speed", "read_inlet_full_half");
    job.after(31, Event::Note { text: "runs".to_owned() });
    assert!(matches!(job.sitting.gates().first_run, FirstRun::Cleared(_, true)));
}

/// A yes to any finding of any stop rule overrides, and "can't do this now" never blocks the job.
#[test]
fn every_stop_rule_fires() {
    let knowledge = shipped();
    for (id, rule) in &knowledge.all.stop_rules {
        for finding in &rule.when_yes {
            let mut job = job(&knowledge);
            isolate(&mut job);
            let event = job.sitting.answer(finding, Answer::ProbablyYes, None).unwrap();
            job.happens(event);
            assert!(matches!(job.sitting.next(), Next::Stop(stop) if stop.rule == *id), "{id} by {finding}");
        }
    }
    let mut barred = job(&knowledge);
    barred.happens(barred.sitting.gate(GateKind::Isolation).refused(""));
    assert!(matches!(barred.sitting.next(), Next::Ask(_)));
}

/// Journals of version 1 said with one event that zero was proved; the liquid is then still to be named.
#[test]
fn an_old_journal_is_read() {
    let knowledge = shipped();
    let mut job = job(&knowledge);
    let old = r#"{"what":"isolation","proved":true,"words":"gauge at zero, drain open"}"#;
    job.happens(serde_json::from_str(old).unwrap());
    assert!(job.sitting.is_isolated());
    assert_eq!(isolation_of(&job).unwrap().lines[0].id, "liquid");
    let newer = r#"{"at":"2026-11-02T07:30:00Z","what":"teleported","words":"x"}"#;
    let error = serde_json::from_str::<weephole::job::Entry>(newer).unwrap_err().to_string();
    assert!(error.contains("unknown variant `teleported`"), "{error}");
}

/// Every event of the gates is read back as it was written.
#[test]
fn gates_are_read_back() {
    let knowledge = shipped();
    let mut job = job(&knowledge);
    isolate(&mut job);
    let gate = job.sitting.gate(GateKind::FirstRun);
    job.pass(&gate);
    job.happens(gate.refused("no guard"));
    job.happens(Event::Back);
    for entry in &job.sitting.job.entries {
        let text = serde_json::to_string(entry).unwrap();
        assert_eq!(serde_json::from_str::<weephole::job::Entry>(&text).unwrap(), *entry, "{text}");
    }
}
