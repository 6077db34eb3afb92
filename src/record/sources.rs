//! Turns the leading causes and the readings of a job into the list of what their statements rest on, as plain text.

use crate::job::{Given, Sitting};
use crate::knowledge::schema::Source;
use indexmap::IndexSet;

/// Sources of the `most` leading causes, their links and remedies, and of the readings taken; each once.
pub(super) fn of(sitting: &Sitting, most: usize) -> Vec<String> {
    let all = &sitting.knowledge.all;
    let mut ids: IndexSet<&str> = IndexSet::new();
    for cause in sitting.results(most).causes.iter().filter_map(|told| all.causes.get(&told.row.id)) {
        let links = cause.leads_to.values().filter_map(|link| link.source.as_deref());
        let remedy =
            cause.remedy.as_ref().and_then(|id| all.remedies.get(id)).and_then(|remedy| remedy.source.as_deref());
        ids.extend(cause.source.as_deref().into_iter().chain(links).chain(remedy));
    }
    let numbers = sitting.job.given.iter().filter(|(_, (given, ..))| matches!(given, Given::Number(..)));
    ids.extend(numbers.filter_map(|(id, _)| sitting.reading_of(id)?.source.as_deref()));
    ids.into_iter().filter_map(|id| all.sources.get(id)).map(words).collect()
}

fn words(source: &Source) -> String {
    match &source.place {
        Some(place) => format!("{}, {place}", source.title),
        None => source.title.clone(),
    }
}
