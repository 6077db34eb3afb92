//! Turns checks and remedies into the minutes of looking at each cause and of putting it right.

use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Knowledge, NodeKind};
use indexmap::{IndexMap, IndexSet};

/// Minutes for one more thing at a place where one already stands: turn, look, answer. Common practice, no source.
pub const WHILE_THERE: f64 = 2.0;

/// A set of openings, one bit each in the order of the knowledge.
pub type Openings = u64;

/// Minutes to find help for a cause that has no remedy in the graph. Common practice, no source.
const CALL_FOR_HELP: f64 = 240.0;

/// What one cause costs.
#[derive(Debug, Clone, PartialEq)]
pub struct CauseCost {
    /// Node index in the graph.
    pub node: usize,
    /// The check that looks at it, if there is one that may be done now.
    pub look: Option<Id>,
    /// Minutes of that look, without openings.
    pub look_minutes: f64,
    /// Openings the look needs.
    pub look_openings: Openings,
    /// Minutes to put it right, parts included, without openings.
    pub repair_minutes: f64,
    /// Openings the repair needs.
    pub repair_openings: Openings,
}

/// Minutes for all causes of a graph, and for the openings.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Costs {
    /// Per cause, in the order of the graph.
    pub causes: Vec<CauseCost>,
    opening_minutes: Vec<f64>,
    /// Per cause, the place of the first cause with the same remedy.
    classes: Vec<usize>,
}

impl Costs {
    /// Costs of every cause; a look counts only if `may` holds for its check and the finding it yields. Where one
    /// stands at a check already (`begun`), one more look costs little.
    pub fn new(knowledge: &Knowledge, graph: &Graph, begun: &IndexSet<Id>, may: impl Fn(&str, &str) -> bool) -> Self {
        let opening_minutes = knowledge.all.openings.values().map(|opening| opening.minutes).collect();
        let mut costs = Self { causes: Vec::new(), opening_minutes, classes: Vec::new() };
        let looks = costs.looks(knowledge, begun, &may);
        let causes = graph.of_kind(NodeKind::Cause);
        costs.classes = classes(causes.iter().map(|&node| remedy_of(knowledge, &graph.nodes[node].id)));
        costs.causes = causes.into_iter().map(|node| cause(knowledge, &graph.nodes[node].id, node, &looks)).collect();
        costs
    }

    /// The cheapest look at each node that may be done now.
    fn looks<'a>(
        &self,
        knowledge: &'a Knowledge,
        begun: &IndexSet<Id>,
        may: &impl Fn(&str, &str) -> bool,
    ) -> IndexMap<&'a Id, Look<'a>> {
        let mut looks: IndexMap<&Id, Look> = IndexMap::new();
        for (check, entry) in &knowledge.all.checks {
            let minutes = own_minutes(begun, check, entry.minutes);
            let openings = openings(knowledge, entry.opening.as_ref());
            let look = Look { check, minutes, openings, whole: minutes + self.minutes_to_open(openings, 0) };
            let verdicts = entry.yields.iter().filter_map(|finding| Some((finding, verdict_on(knowledge, finding)?)));
            for (_, node) in verdicts.filter(|(finding, _)| may(check, finding)) {
                let known = looks.entry(node).or_insert(look);
                if look.whole < known.whole {
                    *known = look;
                }
            }
        }
        looks
    }

    /// Costs given one by one; the minutes of the openings in the order of their bits.
    pub fn of_causes(causes: Vec<CauseCost>, opening_minutes: Vec<f64>) -> Self {
        let classes = (0..causes.len()).collect();
        Self { causes, opening_minutes, classes }
    }

    /// Uncertainty about what has to be put right, in bits (Shannon 1948); `present` is normalised to one fault, causes with
    /// the same remedy are one.
    pub fn bits(&self, present: &[f64]) -> f64 {
        let sum: f64 = present.iter().sum();
        if sum <= 0.0 {
            return 0.0;
        }
        let mut shares = vec![0.0; present.len()];
        for (chance, &class) in present.iter().zip(&self.classes) {
            shares[class] += chance / sum;
        }
        shares.into_iter().filter(|share| 0.0 < *share).map(|share| -share * libm::log2(share)).sum()
    }

    /// Minutes of each opening, in the order of their bits.
    pub fn opening_minutes(&self) -> &[f64] {
        &self.opening_minutes
    }

    /// Minutes of the openings not yet done.
    pub fn minutes_to_open(&self, needed: Openings, done: Openings) -> f64 {
        let mut missing = needed & !done;
        let mut minutes = 0.0;
        while missing != 0 {
            minutes += self.opening_minutes.get(missing.trailing_zeros() as usize).copied().unwrap_or_default();
            missing &= missing - 1;
        }
        minutes
    }
}

/// Per entry, the place of the first one with the same remedy; without one each is by itself.
fn classes<'a>(remedies: impl Iterator<Item = Option<&'a Id>>) -> Vec<usize> {
    let mut firsts: IndexMap<&Id, usize> = IndexMap::new();
    let of = |(place, remedy): (usize, Option<&'a Id>)| {
        remedy.map_or(place, |remedy| *firsts.entry(remedy).or_insert(place))
    };
    remedies.enumerate().map(of).collect()
}

fn remedy_of<'a>(knowledge: &'a Knowledge, cause: &str) -> Option<&'a Id> {
    knowledge.all.causes.get(cause)?.remedy.as_ref()
}

/// A direct look at a node.
#[derive(Debug, Clone, Copy)]
struct Look<'a> {
    check: &'a Id,
    minutes: f64,
    openings: Openings,
    /// Minutes with all openings.
    whole: f64,
}

fn cause(knowledge: &Knowledge, id: &Id, node: usize, looks: &IndexMap<&Id, Look>) -> CauseCost {
    let look = looks.get(id);
    let remedy = knowledge.all.causes.get(id).and_then(|cause| cause.remedy.as_ref());
    let remedy = remedy.and_then(|remedy| knowledge.all.remedies.get(remedy));
    CauseCost {
        node,
        look: look.map(|look| look.check.clone()),
        look_minutes: look.map_or(0.0, |look| look.minutes),
        look_openings: look.map_or(0, |look| look.openings),
        repair_minutes: remedy.map_or(CALL_FOR_HELP, |remedy| remedy.minutes + remedy.part_minutes),
        repair_openings: remedy.map_or(0, |remedy| openings(knowledge, remedy.opening.as_ref())),
    }
}

/// Minutes of a check by itself: little where one stands there already.
pub(super) fn own_minutes(begun: &IndexSet<Id>, check: &str, whole: f64) -> f64 {
    if begun.contains(check) { WHILE_THERE.min(whole) } else { whole }
}

/// An opening and all it needs. Openings beyond the 64th are left out of the set and cost nothing.
pub fn openings(knowledge: &Knowledge, opening: Option<&Id>) -> Openings {
    let mut set: Openings = 0;
    let mut stack: Vec<&Id> = opening.into_iter().collect();
    while let Some(id) = stack.pop() {
        let Some((bit, _, opening)) = knowledge.all.openings.get_full(id) else { continue };
        if bit < 64 && set >> bit & 1 == 0 {
            set |= 1 << bit;
            stack.extend(&opening.needs);
        }
    }
    set
}

fn verdict_on<'a>(knowledge: &'a Knowledge, finding: &str) -> Option<&'a Id> {
    knowledge.all.findings.get(finding)?.verdict_on.as_ref()
}
