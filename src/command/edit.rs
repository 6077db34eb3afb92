//! `weephole knowledge set, add, retire, undo`: one edit of a knowledge folder, told in words and saved.

use super::arguments::Arguments;
use super::knowledge::kind_of;
use super::shelf::shown;
use super::{Failure, bring, print, snippets};
use crate::editing::{self, Edit, Edited, Refusal, Touched, apply, between, changes_in_words, compare};
use crate::knowledge::{Kind, Loaded, Severity, SourceText};
use crate::store::{self, FileEdit};
use std::io::{IsTerminal as _, Read as _};
use std::path::Path;

/// Kinds that `add` and `retire` take.
const EDITED: [Kind; 20] = {
    let mut kinds = [Kind::Families; 20];
    let mut at = 0;
    // All but retired ids, which stand last and are written by `retire` alone.
    while at < kinds.len() {
        kinds[at] = Kind::ALL[at];
        at += 1;
    }
    kinds
};

/// A knowledge folder at work.
struct Desk<'a> {
    folder: &'a Path,
    own: Vec<String>,
    sources: Vec<SourceText>,
    before: Loaded,
}

impl<'a> Desk<'a> {
    fn open(arguments: &'a Arguments) -> Result<Self, Failure> {
        let Some(folder) = arguments.knowledge.as_deref() else {
            let why = "the built-in knowledge cannot be edited";
            let hint = "write it out by `weephole knowledge unpack DIR`, then add --knowledge DIR";
            return Err(Failure::Bad(format!("{why}; {hint}")));
        };
        let (sources, own) = bring::sources_and_own(Some(folder))?;
        let before = bring::loaded(sources.clone());
        Ok(Self { folder, own, sources, before })
    }

    fn make(&self, edit: &Edit) -> Result<(), Failure> {
        let edited = apply(&self.before.knowledge, &self.own, edit).map_err(|refusal| refused(&refusal))?;
        let after = bring::loaded(edited.sources.clone());
        let words = words(&self.before, &after);
        let (new, _) = between(&self.before.problems, &after.problems);
        let errors: Vec<_> = new.into_iter().filter(|problem| problem.severity == Severity::Error).collect();
        if !errors.is_empty() {
            bring::tell_all(errors.into_iter(), &edited.sources);
            return Err(Failure::Bad("nothing was saved: with this edit the knowledge could not be used".to_owned()));
        }
        let number = self.save(&edited.touched, &words, None)?;
        self.tell(&words, &edited, &after);
        print::out(&format!("Saved as edit {number}; `weephole knowledge undo` takes it back."));
        Ok(())
    }

    fn save(&self, touched: &[Touched], words: &[String], undoes: Option<u32>) -> Result<u32, Failure> {
        let files: Vec<FileEdit> = touched
            .iter()
            .map(|file| FileEdit {
                name: file.name.clone(),
                before: file.before.clone(),
                after: Some(file.after.clone()),
            })
            .collect();
        store::save_edit(self.folder, &files, words, undoes).map_err(|error| Failure::Could(error.to_string()))
    }

    fn tell(&self, words: &[String], edited: &Edited, after: &Loaded) {
        for line in words.iter().chain(&edited.notes) {
            print::out(line);
        }
        let files: Vec<&str> = edited.touched.iter().map(|file| file.name.as_str()).collect();
        print::out(&format!("In {}.", files.join(", ")));
        tell_problems(&self.before, after, &edited.sources);
    }
}

fn words(before: &Loaded, after: &Loaded) -> Vec<String> {
    changes_in_words(&compare(&before.knowledge, &after.knowledge))
}

/// What the rules say now and did not before, and what they say no more.
fn tell_problems(before: &Loaded, after: &Loaded, sources: &[SourceText]) {
    let (new, gone) = between(&before.problems, &after.problems);
    for problem in &new {
        print::out(&format!("New problem:\n{}", snippets::picture(problem, sources)));
    }
    for problem in &gone {
        print::out(&format!("No longer a problem: {} ({})", problem.message, problem.rule));
    }
}

fn refused(refusal: &Refusal) -> Failure {
    let text = match refusal {
        Refusal::WouldNotLoad { problem, source_text } => {
            let picture = snippets::picture(problem, std::slice::from_ref(source_text));
            format!("nothing was saved: with this edit the file would not load\n{picture}")
        }
        other => format!("nothing was saved: {other}"),
    };
    Failure::Bad(text)
}

/// Changes one value.
pub fn set(arguments: &Arguments, path: &str, value: &str) -> Result<(), Failure> {
    Desk::open(arguments)?.make(&Edit::Set { path: path.to_owned(), value: value.to_owned() })
}

/// Adds an entry or a link.
pub fn add(arguments: &Arguments, kind: &str, id: &str, fields: &[String], file: Option<&str>) -> Result<(), Failure> {
    let desk = Desk::open(arguments)?;
    if matches!(kind, "link" | "links") {
        return add_link(&desk, id, fields);
    }
    let kind = kind_of(kind, &EDITED)?;
    let fields = parted(fields)?;
    let entry = if fields.is_empty() {
        typed_in()?
    } else {
        editing::entry_of_fields(&desk.before.knowledge, kind, &fields).map_err(|refusal| refused(&refusal))?
    };
    desk.make(&Edit::Add { kind, id: id.to_owned(), entry, file: file.map(str::to_owned) })
}

fn add_link(desk: &Desk, from: &str, fields: &[String]) -> Result<(), Failure> {
    let Some((to, fields)) = fields.split_first().filter(|(to, _)| !to.contains('=')) else {
        let example = "weephole knowledge add link FROM TO strength=often basis=guess source=practice";
        return Err(Failure::Bad(format!("a link needs two ends, as in `{example}`")));
    };
    let fields = parted(fields)?;
    let entry = if fields.is_empty() {
        typed_in()?
    } else {
        editing::link_of_fields(&fields).map_err(|refusal| refused(&refusal))?
    };
    desk.make(&Edit::Link { from: from.to_owned(), to: to.clone(), entry })
}

fn parted(fields: &[String]) -> Result<Vec<(String, String)>, Failure> {
    let parted = |field: &String| {
        let (name, value) = field.split_once('=').ok_or_else(|| {
            let shown = crate::text::clean(field);
            Failure::Bad(format!("`{shown}` has no `=`; write FIELD=VALUE, as in minutes=12"))
        })?;
        Ok((name.trim().to_owned(), value.trim().to_owned()))
    };
    fields.iter().map(parted).collect()
}

/// The entry from standard input, at most as long as a small file.
fn typed_in() -> Result<String, Failure> {
    let mut input = std::io::stdin().lock();
    if input.is_terminal() {
        print::out("Type the entry as it would stand in a file, ( … ), and end with Ctrl-D:");
    }
    let mut text = String::new();
    let read = input.by_ref().take(bring::SMALL_LIMIT + 1).read_to_string(&mut text);
    read.map_err(|error| Failure::Bad(format!("cannot read the entry: {error}; pipe it in as UTF-8 text")))?;
    if bring::SMALL_LIMIT < text.len() as u64 {
        return Err(Failure::Bad(
            "the entry is longer than 1 MiB; name fields instead, or pipe in one entry".to_owned(),
        ));
    }
    if text.trim().is_empty() {
        return Err(Failure::Bad("there is no entry; name fields such as minutes=12, or pipe it in".to_owned()));
    }
    Ok(text)
}

/// Retires an entry.
pub fn retire(arguments: &Arguments, kind: &str, id: &str, instead: &str) -> Result<(), Failure> {
    let desk = Desk::open(arguments)?;
    let kind = kind_of(kind, &EDITED)?;
    desk.make(&Edit::Retire { kind, id: id.to_owned(), instead: instead.to_owned() })
}

/// Takes the last edit back.
pub fn undo(arguments: &Arguments) -> Result<(), Failure> {
    let desk = Desk::open(arguments)?;
    let could_not = |error: store::EditError| Failure::Could(error.to_string());
    let Some(last) = store::last_edit(desk.folder).map_err(could_not)? else {
        return Err(Failure::Could(format!("{}: there is no edit to take back", shown(desk.folder))));
    };
    let mut sources = desk.sources.clone();
    for file in &last.files {
        sources.retain(|source| source.name != file.name);
        let text = file.after.clone();
        sources.extend(text.map(|text| SourceText { name: file.name.clone(), text }));
    }
    let after = bring::loaded(sources.clone());
    let told: Vec<String> = words(&desk.before, &after);
    store::save_edit(desk.folder, &last.files, &told, Some(last.number)).map_err(could_not)?;
    for line in &told {
        print::out(line);
    }
    tell_problems(&desk.before, &after, &sources);
    print::out(&format!("Edit {} is taken back.", last.number));
    Ok(())
}
