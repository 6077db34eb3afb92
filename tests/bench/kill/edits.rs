//! Edits of a knowledge folder: one value set and set back, a new entry, the last edit taken back.

use super::{Table, goes_on, killed, place};
use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::Duration;
use weephole::simulation::Chance;
use weephole::store::last_edit;

/// The file that is edited, with this title of its source.
fn text(title: &str) -> String {
    format!("// mine\n(version: 1, sources: {{\n    \"own_log\": (title: \"{title}\", kind: published), // kept\n}})\n")
}

fn knowledge(program: &Path, folder: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.arg("knowledge").args(words).arg("--knowledge").arg(folder);
    command
}

/// A few edits to their ends, then one that is killed.
pub fn one(program: &Path, after: Option<Duration>, chance: &mut Chance, table: &mut Table) {
    let place = place();
    let folder = place.path();
    let file = folder.join("own.ron");
    fs::write(&file, text("first")).unwrap();
    // An edit that can be taken back, in half of the runs.
    let undoes = chance.below(2) == 1;
    if undoes {
        weephole::store::save_edit(
            folder,
            &[weephole::store::FileEdit {
                name: "own.ron".to_owned(),
                before: Some(text("first")),
                after: Some(text("second")),
            }],
            &["set".to_owned()],
            None,
            None,
        )
        .unwrap();
    }
    let (before, wanted) = if undoes { ("second", "first") } else { ("first", "third") };
    let words: &[&str] = if undoes { &["undo"] } else { &["set", "sources.own_log.title", "third"] };
    let said = killed(&mut knowledge(program, folder, words), "", after, table);
    let acknowledged = said.contains("Saved as edit 1;") || said.contains("Edit 1 is taken back.");
    table.said += usize::from(acknowledged);
    let now = fs::read_to_string(&file).unwrap_or_default();
    let is_new = now == text(wanted);
    table.kept += usize::from(is_new);
    if !is_new && now != text(before) {
        table.lost.push(format!("the file is neither old nor new: {now}"));
    }
    if acknowledged && !is_new {
        table.lost.push(format!("`{}` was said to be saved", words[0]));
    }
    // Whatever was cut short: the state of edits can be told, the next edit is made and taken back.
    if let Err(error) = last_edit(folder) {
        table.lost.push(format!("the edits cannot be told: {error}"));
    }
    let goes = goes_on(&mut knowledge(program, folder, &["set", "sources.own_log.title", "fourth"]), "")
        && fs::read_to_string(&file).unwrap_or_default() == text("fourth")
        && goes_on(&mut knowledge(program, folder, &["undo"]), "")
        && fs::read_to_string(&file).unwrap_or_default() == now;
    if !goes {
        table.lost.push("the next edit is not made and taken back".to_owned());
    }
}
