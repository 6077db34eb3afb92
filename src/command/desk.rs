//! A knowledge folder at work: turns edits into new texts, tells what they do, proves them if wanted and saves them.

use super::arguments::{Arguments, Proving};
use super::prove::prove;
use super::shelf::shown;
use super::{Failure, bring, print, snippets};
use crate::editing::{Change, Edit, Edited, Refusal, apply_all, between, changes_in_words, compare};
use crate::job::initials_and_role;
use crate::knowledge::{Loaded, Severity, SourceText};
use crate::proof::told;
use crate::store::{self, EditError, FileEdit, LastEdit};
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

/// A knowledge folder at work.
pub struct Desk {
    /// The folder.
    pub folder: PathBuf,
    /// Names of the files that stand in it.
    pub own: Vec<String>,
    /// All files that count.
    pub sources: Vec<SourceText>,
    /// The knowledge they make.
    pub before: Loaded,
}

/// An edit made in memory, not saved.
pub struct Draft {
    /// The new texts.
    pub edited: Edited,
    /// The knowledge they make.
    pub after: Loaded,
    /// What changes.
    pub changes: Vec<Change>,
}

impl Draft {
    /// True if warnings, stop rules or gates change.
    pub fn touches_safety(&self) -> bool {
        self.changes.iter().any(|change| change.safety)
    }

    /// What changes, in words.
    pub fn words(&self) -> Vec<String> {
        changes_in_words(&self.changes)
    }
}

impl Desk {
    /// Opens the folder named by `--knowledge`.
    pub fn open(arguments: &Arguments) -> Result<Self, Failure> {
        let Some(folder) = arguments.knowledge.as_deref() else {
            let why = "the built-in knowledge cannot be edited";
            let hint = "write it out by `weephole knowledge unpack DIR`, then add --knowledge DIR";
            return Err(Failure::Bad(format!("{why}; {hint}")));
        };
        Self::of(folder)
    }

    /// Opens a folder.
    pub fn of(folder: &Path) -> Result<Self, Failure> {
        let (sources, own) = bring::sources_and_own(Some(folder))?;
        let before = bring::loaded(sources.clone());
        Ok(Self { folder: folder.to_owned(), own, sources, before })
    }

    /// Makes edits in memory, as one. What could not be used afterwards is refused, with pictures of what is wrong.
    pub fn draft(&self, edits: &[Edit]) -> Result<Draft, Failure> {
        let edited = apply_all(&self.before.knowledge, &self.own, edits).map_err(|refusal| refused(&refusal))?;
        let after = bring::loaded(edited.sources.clone());
        let (new, _) = between(&self.before.problems, &after.problems);
        let errors: Vec<String> = new
            .into_iter()
            .filter(|problem| problem.severity == Severity::Error)
            .map(|problem| snippets::picture(problem, &edited.sources))
            .collect();
        if !errors.is_empty() {
            let why = "nothing was saved: with this edit the knowledge could not be used";
            return Err(Failure::Bad(format!("{}\n{why}", errors.join("\n"))));
        }
        let changes = compare(&self.before.knowledge, &after.knowledge);
        Ok(Draft { edited, after, changes })
    }

    /// Makes edits, tells what they do, proves them if wanted, and saves them as one; gives the number, or none where
    /// nothing was to be saved.
    pub fn make(&self, edits: &[Edit], proving: &Proving) -> Result<Option<u32>, Failure> {
        let second = second_of(proving.second.as_deref())?;
        let draft = self.draft(edits)?;
        self.tell(&draft);
        if proving.prove {
            self.prove(&draft, proving)?;
        }
        if proving.without_saving {
            print::out("Nothing was saved.");
            return Ok(None);
        }
        let number = self.save(&draft, second.as_deref())?;
        print::out(&format!("Saved as edit {number}; `weephole knowledge undo` takes it back."));
        Ok(Some(number))
    }

    fn prove(&self, draft: &Draft, proving: &Proving) -> Result<(), Failure> {
        let proof = prove(&self.before, &draft.after, proving.asked, &AtomicBool::new(false))?;
        print::out(&told(&draft.after.knowledge, &proof).join("\n"));
        let worse = proof.worse().len();
        if 0 < worse && !proving.even_if_worse && !proving.without_saving {
            let hint = "change less, or save it all the same with --even-if-worse";
            return Err(Failure::Could(format!("nothing was saved: {} get worse; {hint}", cases(worse))));
        }
        Ok(())
    }

    /// Saves a draft and gives the number of the edit. Safety text needs a second person.
    pub fn save(&self, draft: &Draft, second: Option<&str>) -> Result<u32, Failure> {
        if draft.touches_safety() && second.is_none() {
            let why = "this changes safety text, and two people look at that";
            let hint = "have it read, then add --second with the other's initials and role, as in \"R.K., supervisor\"";
            return Err(Failure::Bad(format!("nothing was saved: {why}; {hint}")));
        }
        let files: Vec<FileEdit> = draft
            .edited
            .touched
            .iter()
            .map(|file| FileEdit {
                name: file.name.clone(),
                before: file.before.clone(),
                after: Some(file.after.clone()),
            })
            .collect();
        store::save_edit(&self.folder, &files, &draft.words(), None, second).map_err(|error| could_not(&error))
    }

    fn tell(&self, draft: &Draft) {
        for line in draft.words().iter().chain(&draft.edited.notes) {
            print::out(line);
        }
        let files: Vec<&str> = draft.edited.touched.iter().map(|file| file.name.as_str()).collect();
        print::out(&format!("In {}.", files.join(", ")));
        print_lines(&problems_told(&self.before, &draft.after, &draft.edited.sources));
    }

    /// What taking the last edit back would do; none if there is none.
    pub fn last(&self) -> Result<Option<Undo>, Failure> {
        let Some(last) = store::last_edit(&self.folder).map_err(|error| could_not(&error))? else { return Ok(None) };
        let mut sources = self.sources.clone();
        for file in &last.files {
            sources.retain(|source| source.name != file.name);
            let text = file.after.clone();
            sources.extend(text.map(|text| SourceText { name: file.name.clone(), text }));
        }
        let after = bring::loaded(sources.clone());
        let words = changes_in_words(&compare(&self.before.knowledge, &after.knowledge));
        Ok(Some(Undo { last, words, after, sources }))
    }

    /// Takes the last edit back.
    pub fn take_back(&self, undo: &Undo) -> Result<(), Failure> {
        let Undo { last, words, .. } = undo;
        let saved = store::save_edit(&self.folder, &last.files, words, Some(last.number), None);
        saved.map(|_| ()).map_err(|error| could_not(&error))
    }

    /// Takes the last edit back and tells it.
    pub fn undo(&self) -> Result<(), Failure> {
        let Some(undo) = self.last()? else {
            return Err(Failure::Could(format!("{}: there is no edit to take back", shown(&self.folder))));
        };
        self.take_back(&undo)?;
        print_lines(&undo.words);
        print_lines(&problems_told(&self.before, &undo.after, &undo.sources));
        print::out(&format!("Edit {} is taken back.", undo.last.number));
        Ok(())
    }
}

/// What taking the last edit back would do.
pub struct Undo {
    /// The edit.
    pub last: LastEdit,
    /// What changes back, in words.
    pub words: Vec<String>,
    /// The knowledge then.
    pub after: Loaded,
    /// Its texts.
    pub sources: Vec<SourceText>,
}

/// Initials and role of the second person, as they are kept.
pub fn second_of(typed: Option<&str>) -> Result<Option<String>, Failure> {
    let read = typed.map(initials_and_role).transpose();
    read.map_err(|why| Failure::Bad(format!("nothing was saved: --second: {why}")))
}

fn cases(count: usize) -> String {
    if count == 1 { "1 case would".to_owned() } else { format!("{count} cases would") }
}

fn could_not(error: &EditError) -> Failure {
    Failure::Could(error.to_string())
}

fn print_lines(lines: &[String]) {
    for line in lines {
        print::out(line);
    }
}

/// What the rules say now and did not before, and what they say no more.
pub fn problems_told(before: &Loaded, after: &Loaded, sources: &[SourceText]) -> Vec<String> {
    let (new, gone) = between(&before.problems, &after.problems);
    let new = new.into_iter().map(|problem| format!("New problem:\n{}", snippets::picture(problem, sources)));
    let gone = gone.into_iter().map(|problem| format!("No longer a problem: {} ({})", problem.message, problem.rule));
    new.chain(gone).collect()
}

/// Why an edit is not made, with a picture where it would not load.
pub fn refused(refusal: &Refusal) -> Failure {
    let text = match refusal {
        Refusal::WouldNotLoad { problem, source_text } => {
            let picture = snippets::picture(problem, std::slice::from_ref(source_text));
            format!("nothing was saved: with this edit the file would not load\n{picture}")
        }
        other => format!("nothing was saved: {other}"),
    };
    Failure::Bad(text)
}
