//! Turns the graph into where it is blind: causes that nothing tells apart, checks that never tell best, and links by what
//! they rest on.

use super::apart::{APART, Sign, chances, signs};
use super::entries::Knowledge;
use super::graph::{Graph, applies};
use super::schema::{Basis, Check, Id, SourceKind, Way};
use serde::Serialize;
use std::collections::BTreeMap;

/// Two causes of different remedies that no single answer tells apart well, a direct look at one of them left out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Together {
    /// One cause.
    pub one: Id,
    /// The other.
    pub other: Id,
    /// What a check yields that differs most between them.
    pub best: Option<Telling>,
    /// The reading that differs most, whether a check yields it or not.
    pub reading: Option<Telling>,
    /// The direct look of fewest minutes that tells them apart.
    pub look: Option<Telling>,
    /// The reason given in the knowledge, if it is declared there.
    pub declared: Option<String>,
}

/// A finding or reading that differs between two causes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Telling {
    /// Finding or reading.
    pub id: Id,
    /// The way of a reading.
    pub way: Option<Way>,
    /// Chance of it with only the one cause, and with only the other.
    pub chances: (f64, f64),
    /// The check of fewest minutes that yields it.
    pub check: Option<Id>,
    /// Minutes of that check with what has to be opened.
    pub minutes: Option<f64>,
}

impl Telling {
    /// How far the two chances are apart.
    pub fn width(&self) -> f64 {
        (self.chances.0 - self.chances.1).abs()
    }
}

/// What each cause of a family shows alone.
struct Alone<'a> {
    knowledge: &'a Knowledge,
    graph: &'a Graph,
    signs: Vec<Sign<'a>>,
    /// Causes that somebody can find, with the chances of all signs.
    causes: Vec<(&'a Id, Vec<f64>)>,
}

impl<'a> Alone<'a> {
    fn of(knowledge: &'a Knowledge, graph: &'a Graph) -> Self {
        let signs = signs(knowledge, graph);
        let causes = knowledge.all.causes.iter().filter(|(_, cause)| !cause.stands_for_unknown);
        let causes = causes.filter_map(|(id, _)| Some((id, chances(knowledge, graph, &signs, graph.node(id)?))));
        Self { knowledge, graph, causes: causes.collect(), signs }
    }

    /// Pairs of causes that are put right differently, by place.
    fn pairs(&self) -> impl Iterator<Item = (usize, usize)> {
        let remedy = |at: usize| self.knowledge.all.causes[self.causes[at].0].remedy.as_ref();
        let all = (0..self.causes.len()).flat_map(|one| (one + 1..self.causes.len()).map(move |other| (one, other)));
        all.filter(move |&(one, other)| remedy(one).is_none() || remedy(one) != remedy(other))
    }

    fn telling(&self, at: usize, (one, other): (usize, usize)) -> Telling {
        let Sign { id, way, .. } = self.signs[at];
        let yields = self.checks().filter(|(_, check)| check.yields.iter().any(|yields| yields == id));
        let check = yields.min_by(|a, b| self.minutes(a.1).total_cmp(&self.minutes(b.1)));
        let (check, minutes) = check.map(|(id, check)| (id.clone(), self.minutes(check))).unzip();
        let chances = (self.causes[one].1[at], self.causes[other].1[at]);
        Telling { id: id.to_owned(), way, chances, check, minutes }
    }

    fn width(&self, at: usize, (one, other): (usize, usize)) -> f64 {
        (self.causes[one].1[at] - self.causes[other].1[at]).abs()
    }

    /// The sign that differs most among those to take; none if nothing differs.
    fn widest(&self, pair: (usize, usize), take: impl Fn(&Sign) -> bool) -> Option<Telling> {
        let taken = (0..self.signs.len()).filter(|at| take(&self.signs[*at]));
        let widest = taken.max_by(|a, b| self.width(*a, pair).total_cmp(&self.width(*b, pair)))?;
        (0.0 < self.width(widest, pair)).then(|| self.telling(widest, pair))
    }

    /// The direct look of fewest minutes that tells them apart.
    fn cheapest_look(&self, pair: (usize, usize)) -> Option<Telling> {
        let looks = (0..self.signs.len()).filter(|&at| {
            let sign = &self.signs[at];
            sign.asked && is_look(self.knowledge, sign) && APART <= self.width(at, pair)
        });
        let minutes = |telling: &Telling| telling.minutes.unwrap_or(f64::INFINITY);
        looks.map(|at| self.telling(at, pair)).min_by(|a, b| minutes(a).total_cmp(&minutes(b)))
    }

    fn checks(&self) -> impl Iterator<Item = (&'a Id, &'a Check)> {
        let checks = self.knowledge.all.checks.iter();
        checks.filter(|(_, check)| applies(&check.families, &self.graph.family))
    }

    /// Minutes of a check with all that has to be opened for it.
    fn minutes(&self, check: &Check) -> f64 {
        let mut needed: Vec<&Id> = check.opening.iter().collect();
        let mut at = 0;
        while let Some(opening) = needed.get(at).and_then(|id| self.knowledge.all.openings.get(*id)) {
            let more: Vec<&Id> = opening.needs.iter().filter(|id| !needed.contains(id)).collect();
            needed.extend(more);
            at += 1;
        }
        let opened = needed.iter().filter_map(|id| self.knowledge.all.openings.get(*id));
        check.minutes + opened.map(|opening| opening.minutes).sum::<f64>()
    }
}

/// Pairs of causes put right differently, between which no answer that a check yields differs by `apart` (0 to 1), the
/// closest first. Direct looks are left out: somebody would have to think of the one cause to look at it.
pub fn together(knowledge: &Knowledge, graph: &Graph, apart: f64) -> Vec<Together> {
    let alone = Alone::of(knowledge, graph);
    let mut found: Vec<Together> = Vec::new();
    for pair in alone.pairs() {
        let best = alone.widest(pair, |sign| sign.asked && !is_look(knowledge, sign));
        if apart <= best.as_ref().map_or(0.0, Telling::width) {
            continue;
        }
        let reading = alone.widest(pair, |sign| sign.way.is_some());
        let look = alone.cheapest_look(pair);
        let (one, other) = (alone.causes[pair.0].0.clone(), alone.causes[pair.1].0.clone());
        let entries = knowledge.all.inseparable.values();
        let declared = entries.into_iter().find(|entry| entry.causes.contains(&one) && entry.causes.contains(&other));
        let declared = declared.map(|entry| entry.reason.clone());
        found.push(Together { one, other, best, reading, look, declared });
    }
    let width = |pair: &Together| pair.best.as_ref().map_or(0.0, Telling::width);
    found.sort_by(|a, b| width(a).total_cmp(&width(b)));
    found
}

fn is_look(knowledge: &Knowledge, sign: &Sign) -> bool {
    knowledge.all.findings.get(sign.id).is_some_and(|finding| finding.verdict_on.is_some())
}

/// A check that for no two causes is the one to take.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct IdleCheck {
    /// Check.
    pub check: Id,
    /// Minutes with what has to be opened.
    pub minutes: f64,
    /// Pairs of causes it tells apart, though some other check does so at least as well in no more minutes.
    pub pairs: usize,
}

/// Checks that are beaten for every pair of causes they tell apart: another one differs at least as much between the two
/// and takes no more minutes, with one of both better. The longest first.
pub fn idle_checks(knowledge: &Knowledge, graph: &Graph) -> Vec<IdleCheck> {
    let alone = Alone::of(knowledge, graph);
    let signs_of = |check: &Check| -> Vec<usize> {
        let yields = |at: &usize| alone.signs[*at].asked && check.yields.iter().any(|id| id == alone.signs[*at].id);
        (0..alone.signs.len()).filter(yields).collect()
    };
    let checks: Vec<(&Id, f64, Vec<usize>)> =
        alone.checks().map(|(id, check)| (id, alone.minutes(check), signs_of(check))).collect();
    let (mut pairs, mut taken) = (vec![0; checks.len()], vec![false; checks.len()]);
    for (one, other) in alone.pairs() {
        let (one, other) = (&alone.causes[one].1, &alone.causes[other].1);
        let width = |signs: &[usize]| signs.iter().map(|&at| (one[at] - other[at]).abs()).fold(0.0, f64::max);
        let mut telling: Vec<(f64, f64, usize)> = (0..checks.len())
            .map(|at| (checks[at].1, width(&checks[at].2), at))
            .filter(|(_, width, _)| APART <= *width)
            .collect();
        // By minutes, the widest first: what is not wider than all before it is beaten.
        telling.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.total_cmp(&a.1)));
        let mut best = (0.0, f64::NEG_INFINITY);
        for (minutes, width, at) in telling {
            pairs[at] += 1;
            let equal = (minutes, width) == best;
            if best.1 < width || equal {
                best = (minutes, width);
                taken[at] = true;
            }
        }
    }
    let idle = (0..checks.len()).filter(|&at| !taken[at]);
    let mut idle: Vec<IdleCheck> =
        idle.map(|at| IdleCheck { check: checks[at].0.clone(), minutes: checks[at].1, pairs: pairs[at] }).collect();
    idle.sort_by(|a, b| b.minutes.total_cmp(&a.minutes));
    idle
}

/// One link of the graph with what is told beside it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Link<'a> {
    /// File it stands in.
    pub file: &'a str,
    /// Where it stands: kind, entry, field and other end, parted by dots.
    pub path: String,
    /// What the number rests on.
    pub basis: Basis,
    /// Kind of the source of its mechanism; none without a source.
    pub source: Option<SourceKind>,
    /// When it was last looked at, `YYYY-MM`.
    pub reviewed: Option<&'a str>,
    /// Two judgements differ.
    pub disputed: Option<&'a str>,
}

impl Link<'_> {
    /// True if nothing but practice or memory stands behind it.
    pub fn rests_on_practice(&self) -> bool {
        matches!(self.source, None | Some(SourceKind::CommonPractice | SourceKind::FromMemory))
    }

    /// Months since it was last looked at, counted to `now` (year, month); none if that is not told.
    pub fn months_old(&self, (year, month): (i32, i32)) -> Option<i32> {
        let (then_year, then_month) = self.reviewed?.split_once('-')?;
        Some((year - then_year.parse::<i32>().ok()?) * 12 + month - then_month.parse::<i32>().ok()?)
    }
}

/// Every link of the graph, in the order of the files.
pub fn links(knowledge: &Knowledge) -> Vec<Link<'_>> {
    let kind = |source: Option<&str>| Some(knowledge.all.sources.get(source?)?.kind);
    knowledge
        .links()
        .map(|link| Link {
            file: knowledge.file_of(link.entry).map(|file| file.name.as_str()).unwrap_or_default(),
            path: format!(
                "{}.{}.{}.{}",
                knowledge.kind_of(link.entry).map_or("", super::Kind::name),
                link.entry,
                link.field,
                link.to
            ),
            basis: link.basis,
            source: kind(link.source),
            reviewed: link.reviewed,
            disputed: link.disputed,
        })
        .collect()
}

/// How many links rest on what.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub struct Rests {
    /// All links.
    pub links: usize,
    /// Whose mechanism is common practice.
    pub practice: usize,
    /// Whose mechanism is recalled from a text.
    pub memory: usize,
    /// Without a source.
    pub without: usize,
    /// Whose number is a guess.
    pub guess: usize,
}

/// The counts by file.
pub fn rests<'a>(links: &[Link<'a>]) -> BTreeMap<&'a str, Rests> {
    let mut files: BTreeMap<&str, Rests> = BTreeMap::new();
    for link in links {
        let file = files.entry(link.file).or_default();
        file.links += 1;
        file.practice += usize::from(link.source == Some(SourceKind::CommonPractice));
        file.memory += usize::from(link.source == Some(SourceKind::FromMemory));
        file.without += usize::from(link.source.is_none());
        file.guess += usize::from(link.basis == Basis::Guess);
    }
    files
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{idle_checks, links, rests, together};
    use crate::knowledge::{Graph, Knowledge, SourceText, load};

    /// "Drips" comes with either cause nearly alike, "hums" only with the second; two checks ask for "hums", one of them longer.
    const TEXT: &str = r#"(version: 1,
        families: {"oil_backed": (name: "oil-backed", recognise: "oil")},
        sources: {"practice": (title: "common practice, no source", kind: common_practice)},
        causes: {
            "worn": (name: "worn", place: "pump", shares: {"oil_backed": 600.0}, basis: guess, remedy: "renew"),
            "slack": (name: "slack", place: "pump", shares: {"oil_backed": 500.0}, basis: guess, remedy: "tighten"),
        },
        findings: {
            "drips": (name: "drips", question: "Does it drip?", error: (false_yes: 0.0, missed: 0.0), shown_by: {
                "worn": (strength: share(0.8), basis: expert, source: "practice", reviewed: "2024-03"),
                "slack": (strength: share(0.7), basis: guess, disputed: "0.4 and 0.9"),
            }),
            "hums": (name: "hums", question: "Does it hum?", error: (false_yes: 0.0, missed: 0.0), shown_by: {
                "slack": (strength: share(0.6), basis: guess, source: "practice"),
            }),
        },
        checks: {
            "look": (name: "look", yields: ["drips"], minutes: 2.0, steps: ["look"]),
            "listen": (name: "listen", yields: ["hums"], minutes: 3.0, steps: ["listen"]),
            "listen_long": (name: "listen long", yields: ["hums"], minutes: 9.0, steps: ["listen"]),
        },
    )"#;

    fn knowledge(text: &str) -> Knowledge {
        load(vec![SourceText { name: "small.ron".to_owned(), text: text.to_owned() }]).knowledge
    }

    #[test]
    fn pairs_are_as_close_as_their_widest_answer() {
        let knowledge = knowledge(TEXT);
        let graph = Graph::new(&knowledge, "oil_backed", None);
        assert!(together(&knowledge, &graph, 0.6 - 1e-9).is_empty());
        let pairs = together(&knowledge, &graph, 0.7);
        let best = pairs[0].best.as_ref().unwrap();
        assert_eq!((pairs.len(), best.id.as_str(), best.check.as_deref()), (1, "hums", Some("listen")));
        assert!(best.chances.0.abs() < 1e-12 && (best.chances.1 - 0.6).abs() < 1e-12);
        assert!(pairs[0].reading.is_none() && pairs[0].look.is_none() && pairs[0].declared.is_none());
    }

    #[test]
    fn what_no_check_yields_tells_nothing_apart() {
        let knowledge = knowledge(&TEXT.replace("[\"hums\"]", "[\"drips\"]"));
        let pairs = together(&knowledge, &Graph::new(&knowledge, "oil_backed", None), 0.7);
        let best = pairs[0].best.as_ref().unwrap();
        assert!(best.id == "drips" && (best.width() - 0.1).abs() < 1e-12, "{best:?}");
    }

    #[test]
    fn a_check_beaten_everywhere_is_idle() {
        let knowledge = knowledge(TEXT);
        let idle = idle_checks(&knowledge, &Graph::new(&knowledge, "oil_backed", None));
        let told: Vec<(&str, usize)> = idle.iter().map(|idle| (idle.check.as_str(), idle.pairs)).collect();
        assert_eq!(told, [("listen_long", 1), ("look", 0)]);
    }

    #[test]
    fn links_are_counted_by_what_they_rest_on() {
        let knowledge = knowledge(TEXT);
        let links = links(&knowledge);
        let of = rests(&links)["small.ron"];
        assert_eq!((of.links, of.practice, of.memory, of.without, of.guess), (3, 2, 0, 1, 2));
        assert_eq!(links[0].path, "findings.drips.shown_by.worn");
        let old: Vec<Option<i32>> = links.iter().map(|link| link.months_old((2026, 12))).collect();
        assert_eq!(old, [Some(33), None, None]);
        assert_eq!(links[1].disputed, Some("0.4 and 0.9"));
        assert!(links.iter().all(super::Link::rests_on_practice));
    }
}
