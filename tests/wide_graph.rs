//! A graph that ties everything to everything still gives a list and a next question, within counted work, and says what it
//! left out. Counts of table entries, never seconds.

#![allow(clippy::unwrap_used)]

#[path = "common/wide.rs"]
mod wide;

use jiff::Timestamp;
use std::rc::Rc;
use weephole::belief::{FOR_BELIEF, FOR_PLANNING, lighten, posterior, without};
use weephole::evidence::{Answer, Why, network};
use weephole::job::{Entry, Event, Sitting};
use weephole::knowledge::{Knowledge, NodeKind, SourceText, load};
use wide::{FAMILY, Size, made_up};

/// Sixty causes, ninety conditions, and signs with up to twelve conditions behind each, anywhere in the graph.
const TANGLED: Size = Size { causes: 60, findings: 260, conditions: 90, behind: 12, far: 1.0 };

fn tangled() -> Rc<Knowledge> {
    let loaded = load(vec![SourceText { name: "made_up.ron".to_owned(), text: made_up(TANGLED, 1) }]);
    assert!(!loaded.is_broken(), "{:?}", loaded.problems);
    Rc::new(loaded.knowledge)
}

fn job(knowledge: &Rc<Knowledge>, answers: usize) -> Sitting {
    let entry = |event| Entry { at: Timestamp::UNIX_EPOCH, event };
    let opened = Event::opened(FAMILY, (&knowledge.release, &knowledge.hash), None);
    let said = (0..answers).map(|at| Event::Answered {
        finding: format!("finding_{}", TANGLED.causes + 3 * at),
        answer: Answer::Yes,
        check: None,
    });
    let entries = std::iter::once(opened).chain(said).map(entry).collect();
    Sitting::new(Rc::clone(knowledge), entries).unwrap()
}

#[test]
fn a_tangled_job_has_a_list_a_next_question_and_a_word() {
    let knowledge = tangled();
    let sitting = job(&knowledge, 40);
    assert_eq!(sitting.no_belief(), None);
    let rows = sitting.trail();
    let tangled = rows.iter().filter(|row| row.set_aside.is_some()).count();
    assert!(0 < tangled && tangled < 40, "{tangled} answers set aside");
    assert_eq!(sitting.evidence.set_aside.iter().filter(|aside| aside.why == Why::TooTangled).count(), tangled);
    assert!(sitting.next_step().is_some());
    let causes = sitting.graph.of_kind(NodeKind::Cause).into_iter();
    assert!(causes.map(|cause| sitting.present(cause)).sum::<f64>() > 0.99);
    // Conditions are looked at by the record and by `rank`.
    for node in 0..sitting.graph.nodes.len() {
        assert!((0.0..=1.0).contains(&sitting.present(node)));
    }
}

#[test]
fn whatever_is_answered_the_tables_stay_within_their_bound() {
    let knowledge = tangled();
    let sitting = job(&knowledge, 0);
    let net = network(&sitting.graph).unwrap();
    let question = |at: usize| format!("finding_{}", TANGLED.causes + at);
    let mut worst = 0;
    for answers in [5, 20, 60] {
        let facts = (0..answers).map(|at| (question(at), Answer::Yes)).collect();
        let facts = weephole::evidence::Facts { answers: facts, ..Default::default() };
        let all = weephole::evidence::weigh(&knowledge, &sitting.graph, &facts, None).likelihoods();
        for bound in [FOR_BELIEF, FOR_PLANNING] {
            let light = lighten(&net, &all, bound);
            assert!(light.cells <= bound, "{} entries of {bound} after {answers} answers", light.cells);
            worst = worst.max(light.left_out.len());
            let kept = without(&all, &light.left_out);
            assert_eq!(kept.len() + light.left_out.len(), all.len());
            assert!(posterior(&net, &kept).is_ok());
        }
    }
    assert!(0 < worst, "nothing had to be left out: this graph is not tangled");
}

#[test]
fn the_complete_list_ends() {
    let sitting = job(&tangled(), 15);
    let mut all = sitting.all_checks();
    let (done, of) = all.progress();
    let mut portions = 0;
    while !all.is_whole() {
        sitting.more_checks(&mut all);
        portions += 1;
        assert!(portions <= of - done, "a portion computes at least one question");
    }
    assert!(!all.steps.is_empty());
}
