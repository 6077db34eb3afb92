//! `weephole knowledge`: check, try, list and export; the rest goes to files of its own.

use super::arguments::{Arguments, Format, KnowledgeWork};
use super::{Failure, attempt, blind_spots, bring, edit, learn, paper, print, share, snippets};
use crate::exchange::{Tables, bif};
use crate::knowledge::{Graph, Kind, Knowledge, Severity, did_you_mean};
use crate::text::clean;
use serde_json::{Value, json};

/// Kinds that `list` takes.
const LISTED: [Kind; 9] = [
    Kind::Causes,
    Kind::Conditions,
    Kind::Damage,
    Kind::Findings,
    Kind::Readings,
    Kind::Checks,
    Kind::Remedies,
    Kind::Procedures,
    Kind::Families,
];

/// Runs one of the knowledge commands.
pub fn run(arguments: &Arguments, work: &KnowledgeWork) -> Result<(), Failure> {
    match work {
        KnowledgeWork::Check { json } => check(arguments, *json),
        KnowledgeWork::Try { json } => attempt::run(arguments, *json),
        KnowledgeWork::List { kind, json } => list(arguments, kind, *json),
        KnowledgeWork::Export { format: Format::Bif, family } => export_bif(arguments, family),
        KnowledgeWork::Set { path, value, proving } => edit::set(arguments, path, value, proving),
        KnowledgeWork::Add { kind, id, fields, file, proving } => {
            edit::add(arguments, &edit::Adding { kind, id, fields, file: file.as_deref() }, proving)
        }
        KnowledgeWork::Retire { kind, id, instead, proving } => edit::retire(arguments, kind, (id, instead), proving),
        KnowledgeWork::Undo => edit::undo(arguments),
        KnowledgeWork::Unpack { folder } => share::unpack(arguments, folder),
        KnowledgeWork::Changes { old, new, json } => share::changes(old, new, *json),
        KnowledgeWork::Picture { format, around, steps } => {
            paper::picture(arguments, *format, around.as_deref(), *steps)
        }
        KnowledgeWork::Wall { finding, html, family, .. } => paper::wall(arguments, finding.as_deref(), *html, family),
        KnowledgeWork::Pack { file } => share::pack_into(arguments, file),
        KnowledgeWork::Open { file, folder } => share::open(file, folder),
        KnowledgeWork::Learn(part) => learn::run(arguments, part),
        KnowledgeWork::BlindSpots(part) => blind_spots::run(arguments, part),
    }
}

fn export_bif(arguments: &Arguments, family: &str) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    bring::known_family(&knowledge, family)?;
    let graph = Graph::new(&knowledge, family, None);
    print::out(bif(&Tables::of(&knowledge, &graph)).trim_end());
    Ok(())
}

fn check(arguments: &Arguments, as_json: bool) -> Result<(), Failure> {
    let sources = match bring::sources(arguments.knowledge.as_deref()) {
        Ok(sources) => sources,
        Err(failure) if as_json => {
            print::json(
                &json!({ "problems": [bring::unreadable(&failure.to_string())], "counts": counts(&Knowledge::default()) }),
            );
            return Err(Failure::Told);
        }
        Err(failure) => return Err(failure),
    };
    let loaded = bring::loaded(sources.clone());
    if as_json {
        print::json(&json!({ "problems": loaded.problems, "counts": counts(&loaded.knowledge) }));
    } else {
        for problem in &loaded.problems {
            print::out(&snippets::picture(problem, &sources));
            print::out("");
        }
        print::out(&summary(&loaded.problems, &loaded.knowledge));
    }
    if loaded.is_broken() { Err(Failure::Told) } else { Ok(()) }
}

fn counts(knowledge: &Knowledge) -> Value {
    let all = &knowledge.all;
    let links: Vec<_> = knowledge.links().collect();
    let without = links.iter().filter(|link| link.source.is_none_or(|source| source.trim().is_empty())).count();
    let practice =
        links.iter().filter(|link| link.source.is_some_and(|source| knowledge.rests_on_practice(source))).count();
    json!({
        "causes": all.causes.len(),
        "conditions": all.conditions.len(),
        "damage": all.damage.len(),
        "findings": all.findings.len(),
        "readings": all.readings.len(),
        "checks": all.checks.len(),
        "remedies": all.remedies.len(),
        "procedures": all.procedures.len(),
        "links": links.len(),
        "links_without_source": without,
        "links_common_practice": practice,
    })
}

fn summary(problems: &[crate::knowledge::Problem], knowledge: &Knowledge) -> String {
    let errors = problems.iter().filter(|problem| problem.severity == Severity::Error).count();
    let counted = counts(knowledge);
    let list: Vec<String> = counted
        .as_object()
        .map(|map| map.iter().map(|(kind, count)| format!("{} {count}", kind.replace('_', " "))).collect())
        .unwrap_or_default();
    format!(
        "{errors} errors, {} warnings; {}; knowledge {} ({})",
        problems.len() - errors,
        list.join(", "),
        knowledge.release,
        knowledge.hash
    )
}

/// The kind with this name, if it is one of those allowed.
pub fn kind_of(kind: &str, allowed: &[Kind]) -> Result<Kind, Failure> {
    Kind::named(kind).filter(|kind| allowed.contains(kind)).ok_or_else(|| {
        let known = allowed.iter().map(|kind| kind.name());
        let hint = did_you_mean(kind, known.clone()).map(|near| format!("did you mean `{near}`? ")).unwrap_or_default();
        let names: Vec<&str> = known.collect();
        Failure::Bad(format!("`{}` is not a kind of entry; {hint}kinds: {}", clean(kind), names.join(", ")))
    })
}

fn list(arguments: &Arguments, kind: &str, as_json: bool) -> Result<(), Failure> {
    let kind =
        kind_of(kind, &LISTED).map_err(|failure| if as_json { bring::failure_as_json(&failure) } else { failure })?;
    let knowledge = if as_json { bring::knowledge_or_json(arguments)? } else { bring::knowledge(arguments)? };
    let rows: Vec<Row> = kind.ids(&knowledge.all).into_iter().map(|id| Row::of(&knowledge, kind, id)).collect();
    if as_json {
        let rows = rows
            .iter()
            .map(|row| json!({ "id": row.id, "name": row.name, "question": row.question, "aliases": row.aliases }));
        print::json(&Value::Array(rows.collect()));
    } else {
        let lines: Vec<String> = rows.iter().map(|row| format!("{:<34} {}", row.id, row.name)).collect();
        print::out(&lines.join("\n"));
    }
    Ok(())
}

struct Row<'a> {
    id: &'a str,
    name: &'a str,
    question: Option<&'a str>,
    aliases: &'a [String],
}

impl<'a> Row<'a> {
    fn of(knowledge: &'a Knowledge, kind: Kind, id: &'a str) -> Self {
        let all = &knowledge.all;
        let (name, question, aliases): (Option<&String>, Option<&String>, &[String]) = match kind {
            Kind::Causes => (all.causes.get(id).map(|e| &e.name), None, all.causes.get(id).map_or(&[], |e| &e.aliases)),
            Kind::Conditions => (all.conditions.get(id).map(|e| &e.name), None, &[]),
            Kind::Damage => (all.damage.get(id).map(|e| &e.name), None, &[]),
            Kind::Findings => {
                let entry = all.findings.get(id);
                (entry.map(|e| &e.name), entry.map(|e| &e.question), entry.map_or(&[], |e| &e.aliases))
            }
            Kind::Readings => {
                let entry = all.readings.get(id);
                (entry.map(|e| &e.name), entry.map(|e| &e.question), entry.map_or(&[], |e| &e.aliases))
            }
            Kind::Checks => (all.checks.get(id).map(|e| &e.name), None, &[]),
            Kind::Remedies => (all.remedies.get(id).map(|e| &e.name), None, &[]),
            Kind::Procedures => (all.procedures.get(id).map(|e| &e.name), None, &[]),
            _ => (all.families.get(id).map(|e| &e.name), None, &[]),
        };
        Self { id, name: name.map_or(id, String::as_str), question: question.map(String::as_str), aliases }
    }
}
