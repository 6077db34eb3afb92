//! Turns numbers outside their range into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};
use crate::knowledge::schema::Strength;

/// Probabilities lie between 0 and 1, neither included for links; minutes are not negative.
pub const RULE: Rule = Rule {
    name: "bad_number",
    finds: "a strength of 0 or 1, a probability outside 0 to 1, negative minutes",
    matters: "a link of exactly 0 or 1 can never be outweighed by anything seen at the pump",
    needs_all_files: false,
    check,
};

struct Report<'a> {
    knowledge: &'a Knowledge,
    problems: &'a mut Vec<Problem>,
}

impl Report<'_> {
    fn strength(&mut self, id: &str, path: &[&str], strength: Strength) {
        let number = strength.number();
        if !(0.0 < number && number < 1.0) {
            let message = format!("a strength of {number} is not between 0 and 1");
            self.add(id, path, message, "use a word of the scale, or share(0.01) to share(0.99)");
        }
    }

    fn probability(&mut self, id: &str, path: &[&str], value: f64) {
        if !(0.0..1.0).contains(&value) {
            self.add(id, path, format!("{value} is not a probability below 1"), "write a number such as 0.02");
        }
    }

    fn minutes(&mut self, id: &str, path: &[&str], value: f64) {
        if !(0.0..=100_000.0).contains(&value) {
            self.add(id, path, format!("{value} minutes is not possible"), "write minutes as 0 or more");
        }
    }

    fn add(&mut self, id: &str, path: &[&str], message: String, hint: &str) {
        self.problems.push(self.knowledge.problem(Severity::Error, RULE.name, id, path, (message, hint.to_owned())));
    }
}

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let mut report = Report { knowledge, problems };
    nodes(&mut report);
    observables(&mut report);
    work(&mut report);
}

fn nodes(report: &mut Report) {
    let all = &report.knowledge.all;
    for (id, cause) in &all.causes {
        for (to, link) in &cause.leads_to {
            report.strength(id, &["leads_to", to, "strength"], link.strength);
        }
        for (family, share) in &cause.shares {
            if !(0.0 < *share && *share < 1000.0) {
                let message = format!("a share of {share} per 1,000 jobs is not possible");
                report.add(id, &["shares", family], message, "leave the family out if it does not occur there");
            }
        }
    }
    for (id, condition) in all.conditions.iter().chain(&all.damage) {
        report.probability(id, &["leak"], condition.leak);
        for (to, link) in &condition.leads_to {
            report.strength(id, &["leads_to", to, "strength"], link.strength);
        }
    }
}

fn observables(report: &mut Report) {
    let all = &report.knowledge.all;
    for (id, finding) in &all.findings {
        report.probability(id, &["leak"], finding.leak);
        report.probability(id, &["error", "false_yes"], finding.error.false_yes);
        report.probability(id, &["error", "missed"], finding.error.missed);
        if 1.0 <= finding.error.false_yes + finding.error.missed {
            let message = "with these error rates a yes would mean no".to_owned();
            report.add(id, &["error"], message, "the two error rates together must stay below 1");
        }
        for (by, link) in &finding.shown_by {
            report.strength(id, &["shown_by", by, "strength"], link.strength);
        }
    }
    for (id, reading) in &all.readings {
        report.probability(id, &["leak", "down"], reading.leak.down);
        report.probability(id, &["leak", "up"], reading.leak.up);
        for (by, pull) in &reading.moved_by {
            report.strength(id, &["moved_by", by, "strength"], pull.strength);
        }
    }
}

fn work(report: &mut Report) {
    let all = &report.knowledge.all;
    for (id, opening) in &all.openings {
        report.minutes(id, &["minutes"], opening.minutes);
    }
    for (id, check) in &all.checks {
        report.minutes(id, &["minutes"], check.minutes);
    }
    for (id, remedy) in &all.remedies {
        report.minutes(id, &["minutes"], remedy.minutes);
        report.minutes(id, &["part_minutes"], remedy.part_minutes);
    }
    for (id, procedure) in &all.procedures {
        report.minutes(id, &["minutes"], procedure.minutes.0);
        report.minutes(id, &["minutes"], procedure.minutes.1);
        for (at, step) in procedure.steps.iter().enumerate() {
            let count = procedure.steps.len();
            if step.fails_to.is_some_and(|to| to == 0 || count < to as usize) {
                let message = format!("a failed hold point cannot go back to this step: there are {count}");
                report.add(id, &["steps", &at.to_string(), "fails_to"], message, "name a step from 1 on");
            }
        }
    }
}
