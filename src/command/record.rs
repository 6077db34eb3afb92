//! `weephole record`: a job's record from its journal, printed or written to a file.

use super::arguments::{Arguments, Record, RecordFormat};
use super::diagnose::data_dir;
use super::{Failure, archive, bring, print};
use crate::job::Sitting;
use crate::record::{Format, write};
use crate::store::{self, Flaw};
use std::rc::Rc;

/// Prints or writes the record of a job.
pub fn run(arguments: &Arguments, record: &Record) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    let path = match (&record.journal, record.number) {
        (Some(path), _) => path.clone(),
        (None, number) => {
            let folder = data_dir(arguments)?;
            archive::path_of(&folder, number.unwrap_or_default()).map_err(Failure::Could)?
        }
    };
    let scan = store::read_events(&path).map_err(|error| Failure::Could(error.to_string()))?;
    let entries = archive::entries(&path, &scan.events).map_err(Failure::Could)?;
    let sitting = Sitting::new(Rc::new(knowledge), entries).map_err(|error| Failure::Could(error.to_string()))?;
    if let Some(flaw) = scan.flaw {
        print::error(&warning(flaw));
    }
    let text = write(&sitting, format(record.format));
    if let Some(out) = &record.out {
        return store::write_atomic(out, &text).map_err(|error| Failure::Could(error.to_string()));
    }
    print::out(text.trim_end());
    Ok(())
}

fn format(wanted: RecordFormat) -> Format {
    match wanted {
        RecordFormat::Md => Format::Markdown,
        RecordFormat::Html => Format::Html,
        RecordFormat::Json => Format::Json,
        RecordFormat::Csv => Format::Csv,
        RecordFormat::Handover => Format::Handover,
    }
}

/// What the record leaves out.
fn warning(flaw: Flaw) -> String {
    match flaw {
        Flaw::Torn { line, .. } => format!("the last entry (line {line}) was cut short and is not in this record"),
        Flaw::Damaged { line, good_after } => format!(
            "line {line} is damaged; this record ends before it and leaves out {good_after} good entries after it"
        ),
    }
}
