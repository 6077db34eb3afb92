//! `weephole knowledge blind-spots`: causes that nothing tells apart, checks that never tell best, links by what they rest on,
//! old reviews, disputes; by lines or as JSON.

use super::arguments::{Arguments, BlindSpots};
use super::{Failure, bring, print};
use crate::knowledge::schema::Way;
use crate::knowledge::{Graph, IdleCheck, Link, Telling, Together, idle_checks, links, rests, together};
use crate::store;
use serde_json::json;

/// Works out the blind spots of a family and prints them.
pub fn run(arguments: &Arguments, part: &BlindSpots) -> Result<(), Failure> {
    let knowledge = if part.json { bring::knowledge_or_json(arguments)? } else { bring::knowledge(arguments)? };
    bring::known_family(&knowledge, &part.family)
        .map_err(|failure| if part.json { bring::failure_as_json(&failure) } else { failure })?;
    let graph = Graph::new(&knowledge, &part.family, None);
    let pairs = together(&knowledge, &graph, part.apart);
    let idle = idle_checks(&knowledge, &graph);
    let links = links(&knowledge);
    let today = store::local(store::now()).date();
    let now = (i32::from(today.year()), i32::from(today.month()));
    let limit = i32::try_from(part.stale).unwrap_or(i32::MAX);
    let stale: Vec<&Link> =
        links.iter().filter(|link| link.months_old(now).is_none_or(|months| limit < months)).collect();
    let disputed: Vec<&Link> = links.iter().filter(|link| link.disputed.is_some()).collect();
    let practice: Vec<&Link> = links.iter().filter(|link| link.rests_on_practice()).collect();
    if part.json {
        print::json(&json!({
            "family": part.family,
            "together": pairs,
            "idle_checks": idle,
            "rests": rests(&links),
            "on_practice": practice,
            "stale": stale,
            "disputed": disputed,
        }));
        return Ok(());
    }
    let most = if part.most == 0 { usize::MAX } else { part.most };
    let mut text = Vec::new();
    let head =
        format!("Causes put right differently that no answer but a direct look tells apart by {:.2}", part.apart);
    list(&mut text, (&head, most), pairs.iter().map(pair_line));
    list(&mut text, ("Checks that are for no two causes the one to take", most), idle.iter().map(idle_line));
    let files = rests(&links);
    let by_file = files.iter().map(|(file, of)| {
        format!(
            "{file}: {} links, {} on practice, {} from memory, {} without a source; {} numbers guessed",
            of.links, of.practice, of.memory, of.without, of.guess
        )
    });
    list(&mut text, ("Links by what they rest on, by file", usize::MAX), by_file);
    let place = |link: &&Link| format!("{} ({})", link.path, link.file);
    let head = format!("Links whose review is older than {} months, or that have none", part.stale);
    list(&mut text, (&head, most), stale.iter().map(place));
    let told = disputed.iter().map(|link| format!("{} ({}): {}", link.path, link.file, link.disputed.unwrap_or("")));
    list(&mut text, ("Links in dispute", most), told);
    print::out(&text.join("\n"));
    Ok(())
}

/// A list under its head, with how many there are.
fn list(text: &mut Vec<String>, (head, most): (&str, usize), rows: impl ExactSizeIterator<Item = String>) {
    let all = rows.len();
    if !text.is_empty() {
        text.push(String::new());
    }
    text.push(format!("{head}: {all}"));
    text.extend(rows.take(most).map(|row| format!("    {row}")));
    if most < all {
        text.push(format!("    {} more; --most 0 lists all.", all - most));
    }
}

fn pair_line(pair: &Together) -> String {
    let best = pair.best.as_ref().map_or_else(|| "nothing".to_owned(), telling);
    let part = |name: &str, of: &Option<Telling>| of.as_ref().map(|of| format!("; {name} {}", telling(of)));
    let reading = part("widest reading", &pair.reading).unwrap_or_default();
    let look = part("look", &pair.look).unwrap_or_default();
    let declared = pair.declared.as_ref().map(|reason| format!("; declared: {reason}")).unwrap_or_default();
    format!("{} / {}: best {best}{reading}{look}{declared}", pair.one, pair.other)
}

fn telling(telling: &Telling) -> String {
    let way = match telling.way {
        Some(Way::Down) => " below its band",
        Some(Way::Up) => " above its band",
        Some(Way::Either) | None => "",
    };
    let check = match (&telling.check, telling.minutes) {
        (Some(check), Some(minutes)) => format!(" by {check}, {minutes} min"),
        _ => ", no check yields it".to_owned(),
    };
    let (one, other) = telling.chances;
    format!("{}{way} ({:.1} and {:.1} of 20{check})", telling.id, one * 20.0, other * 20.0)
}

fn idle_line(idle: &IdleCheck) -> String {
    let told = if idle.pairs == 0 {
        "tells no two causes apart".to_owned()
    } else {
        format!("beaten for all {} pairs it tells apart", idle.pairs)
    };
    format!("{}: {} min, {told}", idle.check, idle.minutes)
}
