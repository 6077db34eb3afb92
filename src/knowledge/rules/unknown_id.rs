//! Turns links into nowhere into problems, with the nearest id that exists.

use super::Rule;
use crate::knowledge::entries::{Kind, Knowledge};
use crate::knowledge::problem::{Problem, Severity, did_you_mean};
use crate::knowledge::schema::Id;

/// Every id named must exist and be of the right kind.
pub const RULE: Rule = Rule {
    name: "unknown_id",
    finds: "an id that no entry has, or an entry of the wrong kind",
    matters: "a misspelt link is a cause that is never found",
    needs_all_files: true,
    check,
};

const NODES: &[Kind] = &[Kind::Causes, Kind::Conditions, Kind::Damage];
const INNER: &[Kind] = &[Kind::Conditions, Kind::Damage];
const SUGGESTS: &[Kind] = &[Kind::Causes, Kind::Conditions, Kind::Damage, Kind::Findings, Kind::Checks];
const OBSERVED: &[Kind] = &[Kind::Findings, Kind::Readings];
const ADVICE: &[Kind] = &[Kind::Causes, Kind::Remedies, Kind::Checks];

/// One place where an id is named: entry, path inside it, id named, kinds allowed.
type Named<'a> = (&'a Id, Vec<String>, &'a Id, &'static [Kind]);

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let mut named: Vec<Named> = Vec::new();
    nodes(knowledge, &mut named);
    observables(knowledge, &mut named);
    work(knowledge, &mut named);
    groups(knowledge, &mut named);
    cases(knowledge, &mut named);
    for (entry, path, id, kinds) in named {
        if !knowledge.kind_of(id).is_some_and(|kind| kinds.contains(&kind)) {
            problems.push(problem(knowledge, entry, &path, id, kinds));
        }
    }
}

fn problem(knowledge: &Knowledge, entry: &str, path: &[String], id: &str, kinds: &[Kind]) -> Problem {
    let wanted: Vec<&str> = kinds.iter().map(|kind| kind.name()).collect();
    let wanted = wanted.join(", ");
    let message = match knowledge.kind_of(id) {
        Some(kind) => format!("`{id}` is among {}; here one of {wanted} is needed", kind.name()),
        None => format!("there is no `{id}` among {wanted}"),
    };
    let known = knowledge.ids().filter(|known| knowledge.kind_of(known).is_some_and(|kind| kinds.contains(&kind)));
    let hint = match did_you_mean(id, known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add it to {wanted}, or name one that exists"),
    };
    let path: Vec<&str> = path.iter().map(String::as_str).collect();
    knowledge.problem(Severity::Error, RULE.name, entry, &path, (message, hint))
}

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
            for caution in &step.cautions {
                named.push((id, path(&["steps", &at.to_string(), "cautions"]), caution, &[Kind::Cautions]));
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
            for finding in choice.yes.iter().chain(&choice.no) {
                named.push((id, path(&["choices", &at.to_string()]), finding, &[Kind::Findings]));
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

fn keys<'a>(
    named: &mut Vec<Named<'a>>,
    entry: &'a Id,
    field: &str,
    ids: impl Iterator<Item = &'a Id>,
    kinds: &'static [Kind],
) {
    named.extend(ids.map(|id| (entry, path(&[field, id]), id, kinds)));
}
