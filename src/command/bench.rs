//! `weephole knowledge bench` and `show`: the knowledge folder as the full screen works on it, and one entry by lines.

use super::arguments::Arguments;
use super::desk::{Desk, Draft, Undo, problems_told};
use super::diagnose::by_lines;
use super::look::look;
use super::prove::prove;
use super::shelf::shown;
use super::{Failure, bring, print};
use crate::editing::{Edit, EntryView, LinkRow, changes_in_words, compare, neighbourhood};
use crate::knowledge::{Knowledge, Loaded, Severity, SourceText, did_you_mean};
use crate::proof::{Drafted, Noticed, Proven, Workshop};
use crate::screen;
use crate::text::clean;
use std::rc::Rc;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

/// How long one question for the proof may wait: a key is still answered at once.
const MOMENT: Duration = Duration::from_millis(40);

/// Runs the bench.
pub fn run(arguments: &Arguments) -> Result<(), Failure> {
    let desk = Desk::open(arguments)?;
    if by_lines(arguments) {
        let by_lines = "weephole knowledge show, set, add, retire, undo";
        return Err(Failure::Bad(format!("the bench needs a terminal; by lines the same is done by `{by_lines}`")));
    }
    if desk.before.is_broken() {
        let errors = desk.before.problems.iter().filter(|problem| problem.severity == Severity::Error);
        bring::tell_all(errors, &desk.sources);
        return Err(Failure::Bad("this knowledge cannot be used; mend the errors above".to_owned()));
    }
    let knowledge = Rc::new(desk.before.knowledge.clone());
    let mut shop = FolderShop { desk, knowledge, pending: None, proving: None, bad: None };
    screen::work_on_knowledge(&mut shop, look(arguments)).map_err(|error| Failure::Could(error.to_string()))
}

/// Prints one entry: what leads here, what it leads to, its fields, where it stands.
pub fn show(arguments: &Arguments, id: &str, drawn: bool) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    let Some(view) = EntryView::of(&knowledge, id) else {
        let near = did_you_mean(id, knowledge.ids()).map(|near| format!("; did you mean `{near}`?"));
        return Err(Failure::Bad(format!("there is no entry `{}`{}", clean(id), near.unwrap_or_default())));
    };
    if drawn {
        print::out(&neighbourhood(&knowledge, id).join("\n"));
        return Ok(());
    }
    print::out(&format!("{} ({}, {})\nin {}:{}", view.name, view.id, view.kind.name(), view.file, view.line));
    let link = |row: &LinkRow| {
        format!("  {}: {} ({:.2})\n    {}\n    {}", row.name, row.words, row.strength, row.rests_on, row.path)
    };
    for (head, rows) in [("Leads here:", &view.up), ("Leads to:", &view.down)] {
        if !rows.is_empty() {
            print::out(&format!("{head}\n{}", rows.iter().map(link).collect::<Vec<_>>().join("\n")));
        }
    }
    let fields: Vec<String> = view.fields.iter().map(|row| format!("  {}: {}", row.field, row.text)).collect();
    print::out(&format!("Fields:\n{}", fields.join("\n")));
    if !view.beside.is_empty() {
        let beside: Vec<String> = view.beside.iter().map(|(id, name)| format!("  {name} ({id})")).collect();
        print::out(&format!("Named here, or names this:\n{}", beside.join("\n")));
    }
    Ok(())
}

/// What waits to be accepted.
enum Pending {
    Edit(Draft),
    Undo(Undo),
}

/// A proof at work on threads of its own.
struct Running {
    stop: Arc<AtomicBool>,
    answer: Receiver<Result<Proven, String>>,
}

/// A knowledge folder that the full screen works on.
struct FolderShop {
    desk: Desk,
    knowledge: Rc<Knowledge>,
    pending: Option<Pending>,
    proving: Option<Running>,
    /// What stood on disk when it could not be used: it is told once.
    bad: Option<Vec<SourceText>>,
}

impl FolderShop {
    fn begin(&mut self, pending: Pending) -> Drafted {
        self.drop_draft();
        let before = &self.desk.before;
        let (after, drafted) = match &pending {
            Pending::Edit(draft) => {
                let words = draft.words().into_iter().chain(draft.edited.notes.iter().cloned()).collect();
                let files = draft.edited.touched.iter().map(|file| file.name.clone()).collect();
                let problems = problems_told(before, &draft.after, &draft.edited.sources);
                (&draft.after, Drafted { words, problems, files, safety: draft.touches_safety() })
            }
            Pending::Undo(undo) => {
                let files = undo.last.files.iter().map(|file| file.name.clone()).collect();
                let problems = problems_told(before, &undo.after, &undo.sources);
                (&undo.after, Drafted { words: undo.words.clone(), problems, files, safety: false })
            }
        };
        self.proving = Some(started(before, after));
        self.pending = Some(pending);
        drafted
    }

    /// Takes over what stands on disk now, if it can be used.
    fn read_again(&mut self) -> Result<(), String> {
        let (sources, own) = bring::read(&self.desk.folder).map_err(|failure| failure.to_string())?;
        let loaded = bring::loaded(sources.clone());
        if let Some(error) = loaded.problems.iter().find(|problem| problem.severity == Severity::Error) {
            self.bad = Some(sources);
            return Err(format!("{}:{}: {}", error.file, error.line, error.message));
        }
        self.knowledge = Rc::new(loaded.knowledge.clone());
        (self.desk.sources, self.desk.own, self.desk.before, self.bad) = (sources, own, loaded, None);
        Ok(())
    }
}

/// Starts to play the cases before and after.
fn started(before: &Loaded, after: &Loaded) -> Running {
    let (stop, (send, answer)) = (Arc::new(AtomicBool::new(false)), channel());
    let (before, after, stopped) = (before.clone(), after.clone(), Arc::clone(&stop));
    thread::spawn(move || {
        let proof = prove(&before, &after, false, &stopped);
        let proven = proof.map(|proof| Proven::of(&after.knowledge, &proof)).map_err(|failure| failure.to_string());
        // Nobody waits any more if the draft was dropped.
        let _ = send.send(proven);
    });
    Running { stop, answer }
}

impl Workshop for FolderShop {
    fn knowledge(&self) -> Rc<Knowledge> {
        Rc::clone(&self.knowledge)
    }

    fn place(&self) -> String {
        shown(&self.desk.folder)
    }

    fn draft(&mut self, edits: &[Edit]) -> Result<Drafted, String> {
        let draft = self.desk.draft(edits).map_err(|failure| failure.to_string())?;
        Ok(self.begin(Pending::Edit(draft)))
    }

    fn draft_undo(&mut self) -> Result<Drafted, String> {
        let undo = self.desk.last().map_err(|failure| failure.to_string())?;
        let undo = undo.ok_or("there is no edit to take back")?;
        Ok(self.begin(Pending::Undo(undo)))
    }

    fn proof(&mut self) -> Option<Result<Proven, String>> {
        let Some(running) = &self.proving else { return Some(Err("there is no draft".to_owned())) };
        let answer = match running.answer.recv_timeout(MOMENT) {
            Ok(answer) => answer,
            Err(RecvTimeoutError::Timeout) => return None,
            Err(RecvTimeoutError::Disconnected) => Err("a thread that played cases broke down".to_owned()),
        };
        self.proving = None;
        Some(answer)
    }

    fn drop_draft(&mut self) {
        if let Some(running) = self.proving.take() {
            running.stop.store(true, Ordering::Relaxed);
        }
        self.pending = None;
    }

    fn accept(&mut self, second: Option<&str>) -> Result<String, String> {
        let done = match &self.pending {
            Some(Pending::Edit(draft)) => self.desk.save(draft, second).map(|number| format!("saved as edit {number}")),
            Some(Pending::Undo(undo)) => {
                self.desk.take_back(undo).map(|()| format!("edit {} is taken back", undo.last.number))
            }
            None => return Err("there is no draft".to_owned()),
        };
        let done = done.map_err(|failure| failure.to_string())?;
        self.drop_draft();
        match self.read_again() {
            Ok(()) => Ok(done),
            Err(why) => Ok(format!("{done}; but the files cannot be used as they are now: {why}")),
        }
    }

    fn look(&mut self) -> Option<Noticed> {
        let Ok((sources, _)) = bring::read(&self.desk.folder) else { return None };
        if sources == self.desk.sources || self.bad.as_ref() == Some(&sources) {
            return None;
        }
        let before = self.desk.before.knowledge.clone();
        match self.read_again() {
            Ok(()) => {
                let changes = changes_in_words(&compare(&before, &self.knowledge));
                let rest = changes.len().saturating_sub(1);
                let first = changes.first().cloned().unwrap_or_else(|| "nothing that counts".to_owned());
                let more = if rest == 0 { String::new() } else { format!(", and {rest} more") };
                Some(Noticed::ReadAgain(format!("{first}{more}")))
            }
            Err(why) => Some(Noticed::Broken(why)),
        }
    }
}
