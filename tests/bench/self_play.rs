//! Turns the shipped graph into jobs played against itself: each cause alone at the pump, answers drawn from the graph,
//! questions asked by the base rule of planning without look-ahead.
//!
//! `self_play [PLAYS [SEED [FAMILY [COMPLAINTS [answers|checks]]]]]` (40, 1, `oil_backed`, one complaint, each answer counted;
//! with `checks` a check is answered in full and counts once) prints: seed, share of plays in which the true cause's decision class stands first
//! or second within twelve answers, the worst causes with what stood first instead and which check would tell the two
//! apart, and the checks that were the best one in no state of any play. It uses all cores there are.

#![allow(clippy::unwrap_used, clippy::print_stdout, dead_code)]

#[path = "../common/mod.rs"]
mod common;
#[path = "self_play/mod.rs"]
mod plays;

use indexmap::{IndexMap, IndexSet};
use plays::apart::apart;
use plays::play::{Manner, Outcome, Table};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use weephole::knowledge::schema::Id;
use weephole::knowledge::{Graph, Knowledge};

/// Share of a cause's plays that must end well.
const WANTED: f64 = 0.9;
/// Causes listed at most, beyond those below the wanted share.
const LISTED: usize = 30;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let plays: u64 = arguments.next().map_or(40, |text| text.parse().unwrap());
    let seed: u64 = arguments.next().map_or(1, |text| text.parse().unwrap());
    let family = arguments.next().unwrap_or_else(|| "oil_backed".to_owned());
    let knowledge = common::shipped().knowledge;
    let graph = Graph::new(&knowledge, &family, None);
    let complaints = arguments.next().map_or(1, |text| text.parse().unwrap());
    let whole_checks = arguments.next().is_some_and(|unit| unit == "checks");
    let table = Table::new(&knowledge, &graph, Manner { complaints, whole_checks });
    let mut rows = all_plays(&table, plays, seed);
    rows.sort_by(|a, b| a.share().total_cmp(&b.share()).then(a.cause.cmp(&b.cause)));
    summary(&knowledge, &rows, (plays, seed, &family));
    worst(&table, &rows);
    never_best(&knowledge, &family, &rows);
}

/// All plays of one cause.
struct Row {
    cause: usize,
    id: Id,
    outcomes: Vec<Outcome>,
}

impl Row {
    fn share(&self) -> f64 {
        let good = self.outcomes.iter().filter(|outcome| outcome.rank <= 2).count();
        good as f64 / self.outcomes.len().max(1) as f64
    }

    fn failed(&self) -> impl Iterator<Item = &Outcome> {
        self.outcomes.iter().filter(|outcome| 2 < outcome.rank)
    }
}

fn all_plays(table: &Table, plays: u64, seed: u64) -> Vec<Row> {
    let causes = table.causes();
    let (next, rows) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some(&cause) = causes.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let first = seed * 1_000_000 + cause as u64 * 1000;
                    let outcomes = (first..first + plays).filter_map(|seed| table.play(cause, seed)).collect();
                    rows.lock().unwrap().push(Row { cause, id: table.graph.nodes[cause].id.clone(), outcomes });
                }
            });
        }
    });
    rows.into_inner().unwrap()
}

fn declared(knowledge: &Knowledge, id: &Id) -> bool {
    knowledge.all.inseparable.values().any(|entry| entry.causes.contains(id))
}

fn summary(knowledge: &Knowledge, rows: &[Row], (plays, seed, family): (u64, u64, &str)) {
    let all: Vec<&Outcome> = rows.iter().flat_map(|row| &row.outcomes).collect();
    let share = |most: usize| all.iter().filter(|outcome| outcome.rank <= most).count() as f64 / all.len() as f64;
    let answers = all.iter().map(|outcome| outcome.answers).sum::<usize>() as f64 / all.len() as f64;
    let counted: Vec<&Row> = rows.iter().filter(|row| !row.outcomes.is_empty()).collect();
    let below = counted.iter().filter(|row| row.share() < WANTED && !declared(knowledge, &row.id)).count();
    println!("{family}, seed {seed}: {} causes, {plays} plays each, {} plays", rows.len(), all.len());
    println!(
        "first {:.1} %, first or second {:.1} %, mean answers {answers:.1}; {below} of {} causes below {:.0} %",
        100.0 * share(1),
        100.0 * share(2),
        counted.len(),
        100.0 * WANTED
    );
    let weight = |row: &Row| knowledge.all.causes[&row.id].shares.get(family).copied().unwrap_or_default();
    let weighted = counted.iter().map(|row| weight(row) * row.share()).sum::<f64>();
    let whole = counted.iter().map(|row| weight(row)).sum::<f64>();
    println!("weighted by how often each cause is found: first or second {:.1} %", 100.0 * weighted / whole);
    for row in rows.iter().filter(|row| row.outcomes.is_empty()) {
        println!("nothing to complain of: {}", row.id);
    }
}

fn worst(table: &Table, rows: &[Row]) {
    println!(
        "worst causes: share first or second, early ends among the failed plays, what stood first, what tells apart"
    );
    let counted = rows.iter().filter(|row| !row.outcomes.is_empty());
    for row in counted.take(LISTED.max(rows.iter().filter(|row| row.share() < WANTED).count())) {
        let early = row.failed().filter(|outcome| outcome.answers < weephole::trial::MOST_ANSWERS).count();
        let mark = if declared(table.knowledge, &row.id) { " (declared inseparable)" } else { "" };
        println!(
            "{:5.1} % {}{mark}: {} failed, {early} ended early",
            100.0 * row.share(),
            row.id,
            row.failed().count()
        );
        let mut rivals: IndexMap<&Id, usize> = IndexMap::new();
        for outcome in row.failed() {
            *rivals.entry(&outcome.first).or_default() += 1;
        }
        rivals.sort_by(|_, a, _, b| b.cmp(a));
        for (rival, count) in rivals.into_iter().take(2) {
            println!("        {count} x {rival}: {}", told_apart(table, row.cause, rival));
        }
    }
}

fn told_apart(table: &Table, cause: usize, rival: &Id) -> String {
    let Some(other) = table.graph.node(rival) else { return String::new() };
    let checks = apart(table.knowledge, table.graph, cause, other).into_iter().take(3);
    let words = checks.map(|apart| {
        let opening = apart.opening.map_or(String::new(), |opening| format!(", {opening}"));
        let (one, two) = apart.chances;
        format!("{} by {} {one:.2}/{two:.2} ({:.0} min{opening})", apart.check, apart.by, apart.minutes)
    });
    words.collect::<Vec<_>>().join("; ")
}

fn never_best(knowledge: &Knowledge, family: &str, rows: &[Row]) {
    let best: IndexSet<&Id> = rows.iter().flat_map(|row| &row.outcomes).flat_map(|outcome| &outcome.best).collect();
    let here = knowledge
        .all
        .checks
        .iter()
        .filter(|(_, check)| check.families.is_empty() || check.families.iter().any(|of| of == family));
    let never: Vec<&str> = here.map(|(id, _)| id).filter(|id| !best.contains(*id)).map(String::as_str).collect();
    println!("never the best check ({}): {}", never.len(), never.join(", "));
}
