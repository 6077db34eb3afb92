//! Turns a seed into the journal of a confirmed job, its answers drawn from a graph and its questions by a rule that looks at
//! what was answered so far.

use super::dice::Dice;
use super::world::{World, settled_by};
use indexmap::IndexSet;
use jiff::{SignedDuration, Timestamp};
use weephole::evidence::{Answer, Facts, question_of};
use weephole::job::{Ending, Entry, Event, Outcome, job_id};
use weephole::knowledge::schema::Id;
use weephole::knowledge::{Graph, Knowledge};
use weephole::learning::{cases_of, quantile};

/// Questions asked in a job.
const ASKED: usize = 12;
/// Share of questions about something the confirmed cause can show.
const NEAR: f64 = 0.6;
/// Share of questions after a "yes" that go on with what else its parents show.
const GO_ON: f64 = 0.5;
/// Share of jobs with one fault that end with a proved repair; the others end with a direct look.
const PROVED: f64 = 0.5;
/// Share of jobs in which one thing is told unasked.
const TELLS: f64 = 0.5;

/// Draws confirmed jobs of one family.
pub struct Draw<'a> {
    pub knowledge: &'a Knowledge,
    /// The graph the pumps follow; its numbers may differ from those of the knowledge.
    pub truth: &'a Graph,
    /// Findings of each cause's own signs, by node.
    near: Vec<Vec<Id>>,
    askable: Vec<Id>,
}

/// How a drawn job ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    Confirmed,
    /// The same job, closed as working again.
    Unconfirmed,
    /// The same job, everything told unasked, what is absent never told.
    Volunteered,
}

impl<'a> Draw<'a> {
    pub fn new(knowledge: &'a Knowledge, truth: &'a Graph) -> Self {
        let verdict = |id: &Id| knowledge.all.findings[id].verdict_on.is_some();
        let askable: Vec<Id> = truth.findings.keys().filter(|id| !verdict(id)).cloned().collect();
        let near = (0..truth.nodes.len()).map(|cause| {
            let mut below = vec![false; truth.nodes.len()];
            below[cause] = true;
            for node in cause + 1..truth.nodes.len() {
                below[node] = truth.nodes[node].parents.iter().any(|(parent, _)| below[*parent]);
            }
            let shows = |id: &&Id| truth.findings[*id].parents.iter().any(|(parent, _)| below[*parent]);
            askable.iter().filter(shows).cloned().collect()
        });
        Self { knowledge, truth, near: near.collect(), askable }
    }

    fn yes(&self, world: &World, id: &str) -> Option<bool> {
        let question = question_of(self.knowledge, self.truth, &Facts::default(), id)?;
        Some(world.answer(id, &question)?.0 == 0)
    }

    /// A job with faults by their frequency. None where such a pump shows nothing to complain of, or its cause cannot be
    /// looked at.
    pub fn job(&self, seed: u64, end: End) -> Option<Vec<Entry>> {
        let world = World::new(self.truth, seed);
        self.of(&world, seed, end)
    }

    /// A job with this fault alone.
    pub fn job_with(&self, cause: usize, seed: u64, end: End) -> Option<Vec<Entry>> {
        let world = World::with_fault(self.truth, cause, seed);
        self.of(&world, seed, end)
    }

    fn of(&self, world: &World, seed: u64, end: End) -> Option<Vec<Entry>> {
        let mut dice = Dice::new(seed ^ 0xa5ed);
        let faults: Vec<usize> =
            (0..world.present.len()).filter(|&node| world.is_cause[node] && world.present[node]).collect();
        let cause = faults[pick(&mut dice, faults.len())?];
        let id = self.truth.nodes[cause].id.clone();
        if self.knowledge.all.causes[&id].stands_for_unknown {
            return None;
        }
        let mut events = vec![Event::opened(&self.truth.family, (&self.knowledge.release, "000000000000"), None)];
        let mut closed: IndexSet<Id> = IndexSet::new();
        let is_called = |id: &&Id| !self.knowledge.all.findings[*id].aliases.is_empty();
        let shown: Vec<&Id> =
            self.askable.iter().filter(is_called).filter(|id| self.yes(world, id) == Some(true)).collect();
        let complaint = shown[pick(&mut dice, shown.len())?].clone();
        self.close(&mut closed, &complaint, true);
        events.push(Event::Complaint { words: complaint.clone(), findings: vec![complaint] });
        if dice.draw() < TELLS
            && let Some(at) = pick(&mut dice, shown.len())
            && !closed.contains(shown[at])
        {
            self.close(&mut closed, shown[at], true);
            events.push(Event::Answered { finding: shown[at].clone(), answer: Answer::Yes, check: None });
        }
        self.ask(world, cause, (&mut dice, &mut closed), (end, &mut events));
        self.end(world, (cause, faults.len()), &mut dice, (end, &mut events))?;
        let start: Timestamp = "2024-01-01T06:00:00Z".parse().ok()?;
        let opened = start + SignedDuration::from_secs(i64::try_from(seed % 40_000_000).ok()?);
        let minute = |n: usize| opened + SignedDuration::from_secs(30 * i64::try_from(n).unwrap_or_default());
        Some(events.into_iter().enumerate().map(|(n, event)| Entry { at: minute(n), event }).collect())
    }

    fn close(&self, closed: &mut IndexSet<Id>, id: &Id, yes: bool) {
        closed.insert(id.clone());
        closed.extend(settled_by(self.knowledge, id, yes));
    }

    fn ask(
        &self,
        world: &World,
        cause: usize,
        (dice, closed): (&mut Dice, &mut IndexSet<Id>),
        (end, events): (End, &mut Vec<Event>),
    ) {
        let mut last: Option<Id> = None;
        for _ in 0..ASKED {
            let related: Vec<Id> = match &last {
                Some(last) if dice.draw() < GO_ON => self.related(last),
                _ if dice.draw() < NEAR => self.near[cause].clone(),
                _ => self.askable.clone(),
            };
            let open: Vec<Id> = related.into_iter().filter(|id| !closed.contains(id)).collect();
            let Some(at) = pick(dice, open.len()) else { continue };
            let id = &open[at];
            let Some(yes) = self.yes(world, id) else { continue };
            self.close(closed, id, yes);
            last = yes.then(|| id.clone());
            let answer = if yes { Answer::Yes } else { Answer::No };
            if end != End::Volunteered {
                events.push(Event::Answered { finding: id.clone(), answer, check: Some("drawn".to_owned()) });
            } else if yes {
                events.push(Event::Answered { finding: id.clone(), answer, check: None });
            }
        }
    }

    /// Findings that a parent of this one shows.
    fn related(&self, id: &Id) -> Vec<Id> {
        let parents: Vec<usize> = self.truth.findings[id].parents.iter().map(|(parent, _)| *parent).collect();
        let shares = |other: &&Id| self.truth.findings[*other].parents.iter().any(|(at, _)| parents.contains(at));
        self.askable.iter().filter(shares).cloned().collect()
    }

    /// Confirms the cause: by a proved repair where it is the only fault, else by a direct look.
    fn end(
        &self,
        world: &World,
        (cause, faults): (usize, usize),
        dice: &mut Dice,
        (end, events): (End, &mut Vec<Event>),
    ) -> Option<()> {
        let id = self.truth.nodes[cause].id.clone();
        if faults == 1 && dice.draw() < PROVED {
            let remedy = self.knowledge.all.causes[&id].remedy.clone();
            events.push(Event::Changed { node: id.clone(), remedy, words: String::new() });
            events.push(Event::Tried { outcome: Outcome::Well, words: String::new() });
            events.push(Event::Returned { passed: true, off: Vec::new(), words: String::new() });
        } else {
            let looks = self.knowledge.all.findings.iter();
            let (look, _) = looks.into_iter().find(|(_, finding)| finding.verdict_on.as_ref() == Some(&id))?;
            if self.yes(world, look) != Some(true) {
                return None;
            }
            let (finding, check) = (look.clone(), Some("drawn".to_owned()));
            events.push(Event::Answered { finding, answer: Answer::Yes, check });
        }
        let (ending, cause) = match end {
            End::Unconfirmed => (Ending::WorksAgain, None),
            End::Confirmed | End::Volunteered => (Ending::Confirmed, Some(id)),
        };
        events.push(Event::Closed { ending, cause, words: String::new() });
        Some(())
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a whole number below `many`
fn pick(dice: &mut Dice, many: usize) -> Option<usize> {
    (0 < many).then(|| ((dice.draw() * many as f64) as usize).min(many - 1))
}

/// The journal lines of a job as JSON, and the first of them.
pub fn lines(entries: &[Entry]) -> Vec<String> {
    entries.iter().map(|entry| serde_json::to_string(entry).unwrap_or_default()).collect()
}

/// The same graph with every number of a link to a finding drawn anew from what its basis leaves open.
pub fn altered(knowledge: &Knowledge, graph: &Graph, seed: u64) -> Graph {
    let mut altered = graph.clone();
    for (id, leaf) in &mut altered.findings {
        let finding = &knowledge.all.findings[id];
        for (parent, strength) in &mut leaf.parents {
            let name = &graph.nodes[*parent].id;
            let Some(link) = finding.shown_by.get(name) else { continue };
            let (old, cases) = (link.strength.number().clamp(0.005, 0.995), cases_of(link.basis));
            let luck = Dice::named(seed, &format!("{id} {name}")).draw().clamp(1e-6, 1.0 - 1e-6);
            *strength = quantile(luck, old * cases, (1.0 - old) * cases);
        }
    }
    altered
}

/// Id of a drawn job.
pub fn id_of(entries: &[Entry]) -> String {
    job_id(&lines(&entries[..1])[0])
}
