//! `weephole knowledge set, add, retire, undo`: one edit of a knowledge folder, told in words and saved.

use super::arguments::{Arguments, Proving};
use super::desk::{Desk, refused};
use super::knowledge::kind_of;
use super::{Failure, bring, print};
use crate::editing::{self, Edit};
use crate::knowledge::Kind;
use std::io::{IsTerminal as _, Read as _};

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

/// Changes one value.
pub fn set(arguments: &Arguments, path: &str, value: &str, proving: &Proving) -> Result<(), Failure> {
    made(&Desk::open(arguments)?, Edit::Set { path: path.to_owned(), value: value.to_owned() }, proving)
}

fn made(desk: &Desk, edit: Edit, proving: &Proving) -> Result<(), Failure> {
    desk.make(&[edit], proving).map(|_| ())
}

/// What `add` was told.
pub struct Adding<'a> {
    /// Kind, or `link`.
    pub kind: &'a str,
    /// Id of the entry, or where the link comes from.
    pub id: &'a str,
    /// `FIELD=VALUE`; for a link first where it leads to.
    pub fields: &'a [String],
    /// File of the folder.
    pub file: Option<&'a str>,
}

/// Adds an entry or a link.
pub fn add(arguments: &Arguments, adding: &Adding, proving: &Proving) -> Result<(), Failure> {
    let Adding { kind, id, fields, file } = *adding;
    let desk = Desk::open(arguments)?;
    if matches!(kind, "link" | "links") {
        return add_link(&desk, (id, fields), proving);
    }
    let kind = kind_of(kind, &EDITED)?;
    let fields = parted(fields)?;
    let entry = if fields.is_empty() {
        typed_in()?
    } else {
        editing::entry_of_fields(&desk.before.knowledge, kind, &fields).map_err(|refusal| refused(&refusal))?
    };
    made(&desk, Edit::Add { kind, id: id.to_owned(), entry, file: file.map(str::to_owned) }, proving)
}

fn add_link(desk: &Desk, (from, fields): (&str, &[String]), proving: &Proving) -> Result<(), Failure> {
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
    made(desk, Edit::Link { from: from.to_owned(), to: to.clone(), entry }, proving)
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
pub fn retire(
    arguments: &Arguments,
    kind: &str,
    (id, instead): (&str, &str),
    proving: &Proving,
) -> Result<(), Failure> {
    let desk = Desk::open(arguments)?;
    let kind = kind_of(kind, &EDITED)?;
    made(&desk, Edit::Retire { kind, id: id.to_owned(), instead: instead.to_owned() }, proving)
}

/// Takes the last edit back.
pub fn undo(arguments: &Arguments) -> Result<(), Failure> {
    Desk::open(arguments)?.undo()
}
