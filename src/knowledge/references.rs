//! Turns knowledge into the list of all places where one entry names another.

use super::entries::{Kind, Knowledge};
use super::schema::Id;

const NODES: &[Kind] = &[Kind::Causes, Kind::Conditions, Kind::Damage];
const INNER: &[Kind] = &[Kind::Conditions, Kind::Damage];
const SUGGESTS: &[Kind] = &[Kind::Causes, Kind::Conditions, Kind::Damage, Kind::Findings, Kind::Checks];
const OBSERVED: &[Kind] = &[Kind::Findings, Kind::Readings];
const ADVICE: &[Kind] = &[Kind::Causes, Kind::Remedies, Kind::Checks];
const LIVING: &[Kind] = &Kind::ALL;

/// One place where an entry names another.
#[derive(Debug, Clone, PartialEq)]
pub struct Reference<'a> {
    /// Entry that names.
    pub entry: &'a str,
    /// Fields, keys and list places inside it; the last is the key itself where the id is a key.
    pub path: Vec<String>,
    /// Id named.
    pub id: &'a str,
    /// Kinds allowed there.
    pub kinds: &'static [Kind],
}

impl Knowledge {
    /// Every place where an id is named, entry by entry.
    pub fn references(&self) -> Vec<Reference<'_>> {
        let mut named: Vec<Named> = Vec::new();
        nodes(self, &mut named);
        observables(self, &mut named);
        work(self, &mut named);
        groups(self, &mut named);
        cases(self, &mut named);
        lessons(self, &mut named);
        named.into_iter().map(|(entry, path, id, kinds)| Reference { entry, path, id, kinds }).collect()
    }

    /// The id that stands for this one now: that of the entry itself, or of what took the place of a retired one.
    pub fn current<'a>(&'a self, id: &'a str) -> &'a str {
        let mut now = id;
        // A chain of retired ids is no longer than their number, even where it runs in a circle.
        for _ in 0..=self.all.retired.len() {
            match self.all.retired.get(now) {
                Some(retired) => now = &retired.instead,
                None => break,
            }
        }
        now
    }
}

/// One place where an id is named: entry, path inside it, id named, kinds allowed.
type Named<'a> = (&'a Id, Vec<String>, &'a Id, &'static [Kind]);

fn path(steps: &[&str]) -> Vec<String> {
    steps.iter().map(|&step| step.to_owned()).collect()
}

fn list<'a>(named: &mut Vec<Named<'a>>, entry: &'a Id, field: &str, ids: &'a [Id], kinds: &'static [Kind]) {
    for (at, id) in ids.iter().enumerate() {
        named.push((entry, path(&[field, &at.to_string()]), id, kinds));
    }
}

fn one<'a>(named: &mut Vec<Named<'a>>, entry: &'a Id, field: &str, id: Option<&'a Id>, kinds: &'static [Kind]) {
    named.extend(id.map(|id| (entry, path(&[field]), id, kinds)));
}

fn nodes<'a>(knowledge: &'a Knowledge, named: &mut Vec<Named<'a>>) {
    let all = &knowledge.all;
    for (id, cause) in &all.causes {
        for (to, link) in &cause.leads_to {
            named.push((id, path(&["leads_to", to]), to, INNER));
            named
                .extend(link.source.as_ref().map(|s| (id, path(&["leads_to", to, "source"]), s, &[Kind::Sources][..])));
        }
        for family in cause.shares.keys() {
            named.push((id, path(&["shares", family]), family, &[Kind::Families]));
        }
        one(named, id, "remedy", cause.remedy.as_ref(), &[Kind::Remedies]);
        one(named, id, "source", cause.source.as_ref(), &[Kind::Sources]);
    }
    for (id, condition) in all.conditions.iter().chain(&all.damage) {
        for (to, link) in &condition.leads_to {
            named.push((id, path(&["leads_to", to]), to, INNER));
            named
                .extend(link.source.as_ref().map(|s| (id, path(&["leads_to", to, "source"]), s, &[Kind::Sources][..])));
        }
        one(named, id, "remedy", condition.remedy.as_ref(), &[Kind::Remedies]);
        list(named, id, "families", &condition.families, &[Kind::Families]);
    }
}

fn observables<'a>(knowledge: &'a Knowledge, named: &mut Vec<Named<'a>>) {
    for (id, finding) in &knowledge.all.findings {
        for (by, link) in &finding.shown_by {
            named.push((id, path(&["shown_by", by]), by, NODES));
            named
                .extend(link.source.as_ref().map(|s| (id, path(&["shown_by", by, "source"]), s, &[Kind::Sources][..])));
        }
        one(named, id, "verdict_on", finding.verdict_on.as_ref(), NODES);
        list(named, id, "if_yes_skip", &finding.if_yes_skip, OBSERVED);
        list(named, id, "if_no_skip", &finding.if_no_skip, OBSERVED);
        list(named, id, "families", &finding.families, &[Kind::Families]);
    }
    for (id, reading) in &knowledge.all.readings {
        for (by, pull) in &reading.moved_by {
            named.push((id, path(&["moved_by", by]), by, NODES));
            named
                .extend(pull.source.as_ref().map(|s| (id, path(&["moved_by", by, "source"]), s, &[Kind::Sources][..])));
        }
        one(named, id, "source", reading.source.as_ref(), &[Kind::Sources]);
        list(named, id, "families", &reading.families, &[Kind::Families]);
    }
}

fn work<'a>(knowledge: &'a Knowledge, named: &mut Vec<Named<'a>>) {
    let all = &knowledge.all;
    for (id, opening) in &all.openings {
        list(named, id, "needs", &opening.needs, &[Kind::Openings]);
    }
    for (id, check) in &all.checks {
        list(named, id, "yields", &check.yields, OBSERVED);
        one(named, id, "opening", check.opening.as_ref(), &[Kind::Openings]);
        list(named, id, "cautions", &check.cautions, &[Kind::Cautions]);
        list(named, id, "families", &check.families, &[Kind::Families]);
        one(named, id, "source", check.source.as_ref(), &[Kind::Sources]);
    }
    for (id, remedy) in &all.remedies {
        one(named, id, "opening", remedy.opening.as_ref(), &[Kind::Openings]);
        list(named, id, "procedures", &remedy.procedures, &[Kind::Procedures]);
        list(named, id, "cautions", &remedy.cautions, &[Kind::Cautions]);
        one(named, id, "source", remedy.source.as_ref(), &[Kind::Sources]);
    }
    for (id, procedure) in &all.procedures {
        for (at, step) in procedure.steps.iter().enumerate() {
            for (number, caution) in step.cautions.iter().enumerate() {
                let path = path(&["steps", &at.to_string(), "cautions", &number.to_string()]);
                named.push((id, path, caution, &[Kind::Cautions]));
            }
            if let Some(finding) = &step.fails_shows {
                named.push((id, path(&["steps", &at.to_string(), "fails_shows"]), finding, &[Kind::Findings]));
            }
        }
        one(named, id, "source", procedure.source.as_ref(), &[Kind::Sources]);
    }
    for (id, line) in &all.service {
        one(named, id, "reading", line.reading.as_ref(), &[Kind::Readings]);
        list(named, id, "families", &line.families, &[Kind::Families]);
        one(named, id, "source", line.source.as_ref(), &[Kind::Sources]);
    }
    for (id, caution) in &all.cautions {
        one(named, id, "source", caution.source.as_ref(), &[Kind::Sources]);
    }
    for (id, code) in &all.codes {
        list(named, id, "suits", &code.suits, SUGGESTS);
        one(named, id, "source", code.source.as_ref(), &[Kind::Sources]);
    }
    for (id, rule) in &all.stop_rules {
        list(named, id, "when_yes", &rule.when_yes, &[Kind::Findings]);
        list(named, id, "cautions", &rule.cautions, &[Kind::Cautions]);
        one(named, id, "source", rule.source.as_ref(), &[Kind::Sources]);
    }
}

fn groups<'a>(knowledge: &'a Knowledge, named: &mut Vec<Named<'a>>) {
    let all = &knowledge.all;
    for (id, group) in &all.excludes {
        for (at, node) in group.iter().enumerate() {
            named.push((id, path(&[&at.to_string()]), node, NODES));
        }
    }
    for (id, retired) in &all.retired {
        one(named, id, "instead", Some(&retired.instead), LIVING);
    }
    for (id, entry) in &all.inseparable {
        list(named, id, "causes", &entry.causes, &[Kind::Causes]);
    }
    for (id, group) in &all.same_observation {
        for (at, seen) in group.iter().enumerate() {
            named.push((id, path(&[&at.to_string()]), seen, OBSERVED));
        }
    }
    for (id, question) in &all.first_minute {
        for (at, choice) in question.choices.iter().enumerate() {
            for (field, findings) in [("yes", &choice.yes), ("no", &choice.no)] {
                for (number, finding) in findings.iter().enumerate() {
                    let path = path(&["choices", &at.to_string(), field, &number.to_string()]);
                    named.push((id, path, finding, &[Kind::Findings]));
                }
            }
        }
    }
}

fn cases<'a>(knowledge: &'a Knowledge, named: &mut Vec<Named<'a>>) {
    for (id, case) in &knowledge.all.cases {
        one(named, id, "family", Some(&case.family), &[Kind::Families]);
        list(named, id, "complaint", &case.complaint, &[Kind::Findings]);
        keys(named, id, "first_minute", case.first_minute.keys(), &[Kind::FirstMinute]);
        keys(named, id, "facts", case.facts.keys(), &[Kind::Findings]);
        keys(named, id, "readings", case.readings.keys(), &[Kind::Readings]);
        keys(named, id, "usual", case.usual.keys(), &[Kind::Readings]);
        list(named, id, "cant_tell", &case.cant_tell, OBSERVED);
        list(named, id, "truth", &case.truth, &[Kind::Causes]);
        list(named, id, "forbidden", &case.forbidden, ADVICE);
    }
}

fn lessons<'a>(knowledge: &'a Knowledge, named: &mut Vec<Named<'a>>) {
    for (id, lesson) in &knowledge.all.lessons {
        one(named, id, "family", Some(&lesson.family), &[Kind::Families]);
        list(named, id, "complaint", &lesson.complaint, &[Kind::Findings]);
        keys(named, id, "unavailable", lesson.unavailable.keys(), &[Kind::Checks]);
        one(named, id, "related", lesson.related.as_ref(), &[Kind::Cases]);
    }
}

fn keys<'a>(
    named: &mut Vec<Named<'a>>,
    entry: &'a Id,
    field: &str,
    ids: impl Iterator<Item = &'a Id>,
    kinds: &'static [Kind],
) {
    named.extend(ids.map(|id| (entry, path(&[field, id]), id, kinds)));
}
