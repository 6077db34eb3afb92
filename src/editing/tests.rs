//! Tests of edits over the shipped files: bytes outside an edit stay, comments stay, the model changes as asked.

use super::{Edit, Edited, Refusal, apply, between, changes_in_words, compare, entry_of_fields, link_of_fields, pack};
use crate::knowledge::outline::Outline;
use crate::knowledge::schema::{KnowledgeFile, Strength};
use crate::knowledge::{Kind, Loaded, Problem, SourceText, load, ron_options};
use proptest::prelude::*;
use std::path::Path;

fn gather(top: &Path, folder: &Path, found: &mut Vec<SourceText>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gather(top, &path, found);
        } else if path.extension().is_some_and(|extension| extension == "ron") {
            let name = path.strip_prefix(top).unwrap().to_string_lossy().into_owned();
            found.push(SourceText { name, text: std::fs::read_to_string(&path).unwrap() });
        }
    }
}

fn shipped() -> Vec<SourceText> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("knowledge");
    let mut found = Vec::new();
    gather(&folder, &folder, &mut found);
    found.sort_by(|a, b| a.name.cmp(&b.name));
    found
}

fn names(sources: &[SourceText]) -> Vec<String> {
    sources.iter().map(|source| source.name.clone()).collect()
}

fn edited(sources: &[SourceText], edit: &Edit) -> Result<Edited, Refusal> {
    apply(&load(sources.to_vec()).knowledge, &names(sources), edit)
}

fn set(path: &str, value: &str) -> Edit {
    Edit::Set { path: path.to_owned(), value: value.to_owned() }
}

fn add(kind: Kind, id: &str, entry: &str) -> Edit {
    Edit::Add { kind, id: id.to_owned(), entry: entry.to_owned(), file: None }
}

fn retire(kind: Kind, id: &str, instead: &str) -> Edit {
    Edit::Retire { kind, id: id.to_owned(), instead: instead.to_owned() }
}

fn typed(text: &str) -> KnowledgeFile {
    ron_options().from_str(text).unwrap()
}

fn comments(text: &str) -> Vec<String> {
    let outline = Outline::read(text).unwrap();
    outline.comments.iter().map(|comment| comment.span.of(text).to_owned()).collect()
}

/// Lines of one text that the other has not, counted as a plain diff would.
fn changed_lines(old: &str, new: &str) -> (Vec<String>, Vec<String>) {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let head = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let most = old.len().min(new.len()) - head;
    let tail = old.iter().rev().zip(new.iter().rev()).take(most).take_while(|(a, b)| a == b).count();
    let middle = |lines: &[&str]| lines[head..lines.len() - tail].iter().map(|&line| line.to_owned()).collect();
    (middle(&old), middle(&new))
}

fn text<'s>(sources: &'s [SourceText], name: &str) -> &'s str {
    &sources.iter().find(|source| source.name == name).unwrap().text
}

#[test]
fn one_changed_strength_is_one_changed_line_told_in_words() {
    let sources = shipped();
    let before = load(sources.clone());
    let path = "findings.low_flow.shown_by.valves_worn.strength";
    let made = edited(&sources, &set(path, "usually")).unwrap();
    assert_eq!(made.touched.len(), 1);
    let file = &made.touched[0];
    let (old, new) = changed_lines(file.before.as_ref().unwrap(), &file.after);
    assert_eq!((old.len(), new.len()), (1, 1));
    assert_eq!(old[0].replace("strength: often", "strength: usually"), new[0]);
    let after = load(made.sources.clone());
    let words = changes_in_words(&compare(&before.knowledge, &after.knowledge));
    let from = &before.knowledge.all.conditions.get("valves_worn").or(before.knowledge.all.damage.get("valves_worn"));
    let from = &from.unwrap().name;
    let to = &before.knowledge.all.findings["low_flow"].name;
    assert_eq!(words, [format!("{from} → {to}: often (0.75) → usually (0.9)")]);
    let again = apply(&after.knowledge, &names(&sources), &set("low_flow.shown_by.valves_worn.strength", "18 of 20"));
    assert!(matches!(again, Err(Refusal::Already { is }) if is == "`usually`"));
}

#[test]
fn an_edit_of_what_is_not_there_says_so() {
    let sources = shipped();
    for (path, value, told) in [
        ("low_flou.name", "x", "did you mean `low_flow`?"),
        ("causes.low_flow.name", "x", "it is among findings"),
        ("low_flow", "x", "a path needs a field"),
        ("low_flow.shown_by.valves_worm.strength", "often", "nothing at findings.low_flow.shown_by.valves_worm"),
        ("low_flow.shown_by.valves_worm", "often", "did you mean `valves_worn`?"),
        ("low_flow.nane", "x", "`nane` is not a field"),
        ("low_flow.state", "runing", "did you mean `running`?"),
        ("low_flow.leak", "0.1), x: (", "is not a value"),
        ("low_flow.leak", "0.1 // the rest", "is more than one value"),
        ("low_flow.shown_by.valves_worn.strength", "mostly", "is not a strength"),
        ("low_flow.x): (", "1", "is not a name"),
        ("low_flow.x): (.y", "1", "nothing at"),
    ] {
        let refused = edited(&sources, &set(path, value)).map(|_| ()).map_err(|refusal| refusal.to_string());
        assert!(refused.as_ref().is_err_and(|said| said.contains(told)), "{path}: {refused:?}");
    }
    let refused = apply(&load(sources.clone()).knowledge, &[], &set("low_flow.leak", "0.01"));
    assert_eq!(refused, Err(Refusal::NotInFolder { file: "findings/delivery.ron".to_owned() }));
}

#[test]
fn a_value_that_would_not_load_is_told_with_its_place() {
    let refused = edited(&shipped(), &set("low_flow.state", "runing")).unwrap_err();
    let Refusal::WouldNotLoad { problem, source_text } = refused else { panic!("{refused}") };
    assert_eq!(problem.file, "findings/delivery.ron");
    let line = source_text.text.lines().nth(problem.line - 1).unwrap();
    assert!(line.contains("state: runing"), "{line}");
}

/// All problems, as (rule, id told in the message).
fn about<'p>(problems: &[&'p Problem], id: &str) -> Vec<&'p str> {
    problems.iter().filter(|problem| problem.message.contains(id)).map(|problem| problem.rule).collect()
}

fn next(sources: &[SourceText], edit: &Edit) -> Vec<SourceText> {
    edited(sources, edit).unwrap().sources
}

#[test]
fn a_cause_with_its_finding_check_and_remedy_leaves_nothing_for_the_rules_to_say() {
    let sources = shipped();
    let at_first = load(sources.clone());
    let knowledge = &at_first.knowledge;
    let fields = |kind, list: &[(&str, &str)]| {
        let list: Vec<(String, String)> = list.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect();
        if kind == Kind::Families { link_of_fields(&list) } else { entry_of_fields(knowledge, kind, &list) }.unwrap()
    };
    let link =
        fields(Kind::Families, &[("strength", "of 20 pumps with this 15"), ("basis", "guess"), ("source", "practice")]);
    assert_eq!(link, "(strength: often, basis: guess, source: \"practice\")");
    let remedy = fields(
        Kind::Remedies,
        &[
            ("name", "take the rag out of the tank outlet"),
            ("kind", "remedy"),
            ("minutes", "12,5"),
            ("steps", "[\"Empty the tank.\", \"Take the rag out.\"]"),
            ("proof", "[\"full flow at the nozzle\"]"),
            ("source", "practice"),
        ],
    );
    let cause = fields(
        Kind::Causes,
        &[
            ("name", "a rag lies over the tank outlet"),
            ("place", "tank"),
            ("shares", "{\"oil_backed\": 1.0}"),
            ("basis", "guess"),
            ("source", "practice"),
            ("leads_to", &format!("{{\"inlet_restricted\": {link}}}")),
            ("remedy", "take_rag_out"),
        ],
    );
    let finding = fields(
        Kind::Findings,
        &[
            ("name", "a rag lies over the tank outlet"),
            ("question", "Does a rag lie over the tank outlet?"),
            ("verdict_on", "rag_over_outlet"),
            ("families", "[\"oil_backed\"]"),
        ],
    );
    let check = fields(
        Kind::Checks,
        &[
            ("name", "look into the tank for a rag"),
            ("yields", "[\"rag_seen\"]"),
            ("minutes", "4"),
            ("steps", "[\"Look from outside with a lamp.\"]"),
            ("source", "practice"),
        ],
    );
    let with_remedy = next(&sources, &add(Kind::Remedies, "take_rag_out", &remedy));
    let with_cause = next(&with_remedy, &add(Kind::Causes, "rag_over_outlet", &cause));
    let halfway = load(with_cause.clone());
    let (new, gone) = between(&at_first.problems, &halfway.problems);
    assert!(gone.is_empty());
    assert!(about(&new, "rag_over_outlet").contains(&"cause_out_of_reach") || !new.is_empty(), "{new:?}");
    let with_finding = next(&with_cause, &add(Kind::Findings, "rag_seen", &finding));
    let whole = next(&with_finding, &add(Kind::Checks, "look_for_rag", &check));
    let at_last = load(whole.clone());
    let (new, _) = between(&at_first.problems, &at_last.problems);
    assert_eq!(new, Vec::<&Problem>::new());
    // It stands among the causes of its place, and nothing but the new lines is new there.
    let file = at_last.knowledge.file_of("rag_over_outlet").unwrap();
    assert_eq!(file.name, "causes/tank.ron");
    let (old, _) = changed_lines(text(&sources, &file.name), &file.text);
    assert_eq!(old, Vec::<String>::new());
    let words = changes_in_words(&compare(knowledge, &at_last.knowledge));
    assert_eq!(words[0], "new cause \"a rag lies over the tank outlet\" (rag_over_outlet)");
    assert_eq!(words.len(), 4);
}

#[test]
fn hostile_entries_are_refused_and_odd_ones_kept_whole() {
    let sources = vec![SourceText {
        name: "a.ron".to_owned(),
        text: "(\n    version: 1,\n    sources: {\n        \"one\": (title: \"x\", kind: standard),\n    },\n)\n"
            .to_owned(),
    }];
    for entry in [
        "",
        "(title: \"x\", kind: standard), \"three\": (title: \"y\", kind: standard)",
        "(title: \"x\", kind: standard)}, causes: {",
        "(title: \"x\", kind: standard",
        "(title: \"x\", kind: standard))",
        "(title: \"x\", kind: standard) // remark",
        "(title: \"x\", kind: standard) /*",
        "(title: \"x\", kind: standard, title: \"y\")",
        "(title: \"x\", kind: standard, other: 1)",
        "(title: \"x\", kind: standart)",
        "\"three\": (title: \"x\", kind: standard)",
        "(title: \"x\u{1b}[31m\", kind: standard)",
        "(title: \"x\u{202e}\", kind: standard)",
        "#![enable(implicit_some)] (title: \"x\", kind: standard)",
        "[1, 2]",
        "\"two\"",
        "} (title: \"x\", kind: standard) {",
    ] {
        assert!(edited(&sources, &add(Kind::Sources, "two", entry)).is_err(), "{entry}");
    }
    for id in ["", "Two", "two\"", "2", "a b", "..", "one"] {
        assert!(edited(&sources, &add(Kind::Sources, id, "(title: \"x\", kind: standard)")).is_err(), "{id}");
    }
    let odd = "// as copied\n\"two\": (\n    title: \"a,\n  b\", /* , ) */\n    kind: standard,\n),";
    let made = edited(&sources, &add(Kind::Sources, "two", odd)).unwrap();
    assert_eq!(typed(&made.touched[0].after).sources["two"].title, "a,\n  b");
    assert_eq!(comments(&made.touched[0].after), ["// as copied", "/* , ) */"]);
    assert_eq!(changed_lines(&sources[0].text, &made.touched[0].after).0, Vec::<String>::new());
    let wrong = edited(&sources, &add(Kind::Sources, "two", "(\n  title: \"x\",\n  kind: standart)")).unwrap_err();
    assert!(wrong.to_string().starts_with("entry:3:"), "{wrong}");
}

#[test]
fn a_new_kind_gets_a_file_of_its_own() {
    let sources = vec![SourceText { name: "a.ron".to_owned(), text: "(version: 1)\n".to_owned() }];
    let made = edited(&sources, &add(Kind::Sources, "two", "(\n    title: \"x\",\n    kind: standard,\n)")).unwrap();
    assert_eq!((made.touched[0].name.as_str(), made.touched[0].before.as_ref()), ("own_sources.ron", None));
    assert_eq!(typed(&made.touched[0].after).sources["two"].title, "x");
    // A text over several lines is not moved in, wherever the entry goes.
    let long = "(\n    title: \"a\n  b\",\n    kind: standard,\n)";
    let made = edited(&sources, &add(Kind::Sources, "two", long)).unwrap();
    assert_eq!(typed(&made.touched[0].after).sources["two"].title, "a\n  b");
    let into = Edit::Add {
        kind: Kind::Sources,
        id: "two".to_owned(),
        entry: "(title: \"x\", kind: standard)".to_owned(),
        file: Some("a.ron".to_owned()),
    };
    let made = edited(&sources, &into).unwrap();
    assert_eq!(typed(&made.touched[0].after).sources.len(), 1);
    for name in ["../a.ron", "/tmp/a.ron", "a.txt"] {
        let Edit::Add { kind, id, entry, .. } = into.clone() else { return };
        assert!(edited(&sources, &Edit::Add { kind, id, entry, file: Some(name.to_owned()) }).is_err(), "{name}");
    }
}

#[test]
fn a_retired_cause_is_named_nowhere_and_its_id_is_never_given_again() {
    let sources = shipped();
    let before = load(sources.clone());
    let (old, instead) = ("debris_under_inlet_valve", "debris_under_outlet_valve");
    let made = edited(&sources, &retire(Kind::Causes, old, instead)).unwrap();
    let after = load(made.sources.clone());
    assert!(!after.is_broken(), "{:?}", after.problems);
    let knowledge = &after.knowledge;
    assert!(knowledge.references().iter().all(|reference| reference.id != old));
    assert_eq!(knowledge.current(old), instead);
    assert_eq!(knowledge.all.retired[old].name, before.knowledge.all.causes[old].name);
    let aliases = &knowledge.all.causes[instead].aliases;
    assert!(before.knowledge.all.causes[old].aliases.iter().all(|alias| aliases.contains(alias)));
    let named = before.knowledge.references().iter().filter(|reference| reference.id == old).count();
    assert!(0 < named && named <= made.notes.len(), "{:?}", made.notes);
    let words = changes_in_words(&compare(&before.knowledge, knowledge));
    assert!(words.iter().any(|line| line.starts_with("cause ") && line.contains("is retired;")), "{words:?}");
    let again = add(Kind::Findings, old, "(name: \"x\", question: \"Is it?\")");
    let refused = apply(knowledge, &names(&made.sources), &again).map(|_| ()).map_err(|refusal| refusal.to_string());
    assert!(refused.is_err_and(|said| said.contains("is taken: it is among retired")));
    assert!(edited(&sources, &retire(Kind::Causes, old, "low_flow")).is_err());
    assert!(edited(&sources, &retire(Kind::Causes, old, old)).is_err());
}

#[test]
fn packed_knowledge_opens_as_it_was() {
    let sources = shipped();
    assert_eq!(super::open_pack(&pack("r", &sources)).unwrap(), sources);
}

/// Every strength in findings: finding, node, file.
fn strengths(loaded: &Loaded) -> Vec<(String, String)> {
    let findings = loaded.knowledge.all.findings.iter();
    findings.flat_map(|(id, finding)| finding.shown_by.keys().map(|by| (id.clone(), by.clone()))).collect()
}

/// One random edit, and the same edit made in the typed model of the file.
fn random_edit(loaded: &Loaded, kind: u8, pick: usize, word: usize, step: usize) -> (Edit, bool) {
    let all = &loaded.knowledge.all;
    let nth = |ids: Vec<&String>| ids[pick % ids.len()].clone();
    match kind {
        0..=3 => {
            let all = strengths(loaded);
            let (finding, by) = &all[pick % all.len()];
            (set(&format!("{finding}.shown_by.{by}.strength"), super::WORDS[word % 7].0), false)
        }
        4 => (set(&format!("{}.name", nth(all.causes.keys().collect())), "a \"new\" name, (odd) // one"), false),
        5 => (set(&format!("checks.{}.minutes", nth(all.checks.keys().collect())), "17,5"), false),
        6 => (add(Kind::Sources, &format!("new_{step}"), "// why\n(title: \"x\", kind: standard)"), false),
        7 => (
            set(
                &format!("{}.disputed", {
                    let all = strengths(loaded);
                    let (finding, by) = &all[pick % all.len()];
                    format!("{finding}.shown_by.{by}")
                }),
                "two say otherwise",
            ),
            false,
        ),
        _ => {
            let causes: Vec<&String> = all.causes.keys().collect();
            let (old, other) = (causes[pick % causes.len()], causes[(pick + 1) % causes.len()]);
            (retire(Kind::Causes, old, other), true)
        }
    }
}

/// The same edit in the typed model, without the code under test.
fn expected(file: &mut KnowledgeFile, edit: &Edit) {
    match edit {
        Edit::Set { path, value } => {
            let steps: Vec<&str> = path.split('.').collect();
            match steps.as_slice() {
                [id, "shown_by", by, "strength"] => {
                    let strength: Strength = ron::from_str(value).unwrap();
                    file.findings[*id].shown_by[*by].strength = strength;
                }
                [id, "shown_by", by, "disputed"] => file.findings[*id].shown_by[*by].disputed = Some(value.clone()),
                [id, "name"] => file.causes[*id].name = value.clone(),
                ["checks", id, "minutes"] => file.checks[*id].minutes = 17.5,
                other => panic!("{other:?}"),
            }
        }
        Edit::Add { id, .. } => {
            let fresh = typed(&format!("(version: 1, sources: {{\"{id}\": (title: \"x\", kind: standard)}})"));
            file.sources.extend(fresh.sources);
        }
        other => panic!("{other:?}"),
    }
}

/// Bytes that the old and the new text share at both ends.
fn shared(old: &str, new: &str) -> (usize, usize) {
    let head = old.bytes().zip(new.bytes()).take_while(|(a, b)| a == b).count();
    let most = old.len().min(new.len()) - head;
    let tail = old.bytes().rev().zip(new.bytes().rev()).take(most).take_while(|(a, b)| a == b).count();
    (head, tail)
}

/// Bytes of the old text between the shared ends lie inside the value edited.
fn only_there(old: &str, new: &str, edit: &Edit) {
    let (head, tail) = shared(old, new);
    match edit {
        Edit::Set { path, .. } => {
            let outline = Outline::read(old).unwrap();
            let steps: Vec<&str> = path.split('.').filter(|step| *step != "checks").collect();
            let kinds = ["findings", "causes", "checks"];
            let node = kinds.iter().find_map(|kind| {
                let full: Vec<&str> = [*kind].into_iter().chain(steps.iter().copied()).collect();
                outline.find(&full)
            });
            // A new field is an insertion: nothing of the old text is gone.
            match node {
                Some(node) => assert!(node.span.start <= head && old.len() - tail <= node.span.end),
                None => assert!(old.len() <= head + tail),
            }
        }
        _ => assert!(old.len() <= head + tail, "something of the old text is gone"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, ..ProptestConfig::default() })]

    #[test]
    fn random_edits_change_what_they_say_and_nothing_else(
        choices in proptest::collection::vec((0..9_u8, any::<usize>(), any::<usize>()), 1..8),
    ) {
        let mut sources = shipped();
        for (step, (kind, pick, word)) in choices.into_iter().enumerate() {
            let loaded = load(sources.clone());
            let (edit, retires) = random_edit(&loaded, kind, pick, word, step);
            let made = match apply(&loaded.knowledge, &names(&sources), &edit) {
                Ok(made) => made,
                // The same word again, or a note that is there already.
                Err(Refusal::Already { .. }) => continue,
                Err(refusal) => return Err(TestCaseError::fail(format!("{edit:?}: {refusal}"))),
            };
            if retires {
                let after = load(made.sources.clone());
                prop_assert!(!after.is_broken(), "{edit:?}: {:?}", after.problems);
            } else {
                prop_assert_eq!(made.touched.len(), 1);
                let (old, new) = (made.touched[0].before.as_ref().unwrap(), &made.touched[0].after);
                let mut model = typed(old);
                expected(&mut model, &edit);
                prop_assert_eq!(&typed(new), &model);
                only_there(old, new, &edit);
                let mut kept = comments(new);
                for comment in comments(old) {
                    let at = kept.iter().position(|other| *other == comment);
                    prop_assert!(at.is_some(), "{} is gone", comment);
                    kept.remove(at.unwrap());
                }
            }
            let untouched = |name: &String| made.touched.iter().all(|file| file.name != *name);
            for source in sources.iter().filter(|source| untouched(&source.name)) {
                prop_assert_eq!(text(&made.sources, &source.name), &source.text);
            }
            sources = made.sources;
            sources.sort_by(|a, b| a.name.cmp(&b.name));
        }
    }
}
