//! Turns the belief of a job into its results: cause, chain down to the symptom, what would confirm it, the remedy.

use super::event::Ending;
use super::settings::Setting;
use super::sitting::Sitting;
use super::status::Status;
use super::views::{LikelyRow, healthy_words};
use crate::knowledge::NodeKind;
use crate::knowledge::schema::{Id, MayRun, RemedyKind};

/// The results page.
#[derive(Debug, Clone, PartialEq)]
pub struct Results {
    /// The leading causes with all that belongs to them.
    pub causes: Vec<ResultCause>,
    /// What was said and stays improbable even with the most probable set of causes; empty while no cause is probable.
    pub unexplained: Vec<String>,
    /// How probable it is that the cause is not in the graph.
    pub not_in_graph: f64,
    /// Conflict in bits and the names of the answers to recheck.
    pub conflict: (f64, Vec<String>),
    /// How the job was closed.
    pub closed: Option<Ending>,
}

/// One leading cause.
#[derive(Debug, Clone, PartialEq)]
pub struct ResultCause {
    /// Row of the list.
    pub row: LikelyRow,
    /// From the cause to the symptom.
    pub chain: Vec<ChainLink>,
    /// Checks that would confirm it.
    pub confirm: Vec<Confirming>,
    /// Readings that would speak for it.
    pub readings: Vec<ExpectedReading>,
    /// Who or what usually lets it happen.
    pub lets_it_happen: String,
    /// What of the chain the pump may run on with until a planned stop, and with what not; the strictest first.
    pub run_on: Vec<RunOnView>,
    /// Remedy: name, kind in words, steps, parts, proof, minutes.
    pub remedy: Option<RemedyView>,
}

/// Whether the pump may run on with something until a planned stop.
#[derive(Debug, Clone, PartialEq)]
pub struct RunOnView {
    /// Condition or damage.
    pub name: String,
    /// Whether, and how long.
    pub may: MayRun,
    /// What to watch and what ends it, as sentences; may be empty.
    pub limits: String,
}

/// One link of the chain.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainLink {
    /// "cause", "condition", "damage" or "symptom".
    pub kind: &'static str,
    /// Name.
    pub name: String,
}

/// A check that would confirm a cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Confirming {
    /// Check.
    pub check: Id,
    /// Name of the check.
    pub name: String,
    /// Minutes without openings.
    pub minutes: f64,
    /// What has to be opened.
    pub opens: Option<String>,
    /// Of 20 pumps with this cause, the look finds it in so many.
    pub finds_of_20: f64,
}

/// What a reading should show under a cause.
#[derive(Debug, Clone, PartialEq)]
pub struct ExpectedReading {
    /// Reading.
    pub id: Id,
    /// Name.
    pub name: String,
    /// "below" or "above".
    pub way: &'static str,
    /// Healthy band in words.
    pub healthy: String,
    /// Of 20 pumps with this cause, in so many.
    pub of_20: f64,
}

/// A remedy as shown.
#[derive(Debug, Clone, PartialEq)]
pub struct RemedyView {
    /// Name.
    pub name: String,
    /// Kind in words.
    pub kind: &'static str,
    /// Hands-on minutes.
    pub minutes: f64,
    /// Steps.
    pub steps: Vec<String>,
    /// Parts by function.
    pub parts: Vec<String>,
    /// What proves it afterwards.
    pub proof: Vec<String>,
    /// Settings of this pump that belong to it.
    pub settings: Vec<Setting>,
}

impl Sitting {
    /// The results so far, for the `most` leading causes.
    pub fn results(&self, most: usize) -> Results {
        let rows = self.likely(most + 1).into_iter().filter(|row| !self.is_unknown(&row.id)).take(most);
        let causes: Vec<ResultCause> = rows.filter_map(|row| self.result_cause(row)).collect();
        let (bits, recheck) = self.conflict();
        Results {
            unexplained: self.unexplained(&causes),
            not_in_graph: self.not_in_graph(),
            conflict: (bits, recheck.iter().map(|id| self.name_of(id)).collect()),
            closed: self.job.closed.as_ref().map(|(ending, ..)| *ending),
            causes,
        }
    }

    fn is_unknown(&self, cause: &str) -> bool {
        self.knowledge.all.causes.get(cause).is_some_and(|cause| cause.stands_for_unknown)
    }

    fn not_in_graph(&self) -> f64 {
        let unknown =
            self.graph.of_kind(NodeKind::Cause).into_iter().filter(|&n| self.is_unknown(&self.graph.nodes[n].id));
        unknown.map(|node| self.present(node)).fold(0.0, f64::max)
    }

    fn result_cause(&self, row: LikelyRow) -> Option<ResultCause> {
        let node = self.graph.node(&row.id)?;
        let cause = self.knowledge.all.causes.get(&row.id)?;
        Some(ResultCause {
            chain: self.chain(node),
            confirm: self.confirming(&row.id),
            readings: self.expected_readings(node),
            lets_it_happen: cause.lets_it_happen.clone(),
            run_on: self.run_on(node),
            remedy: self.remedy(cause.remedy.as_deref()),
            row,
        })
    }

    /// What the knowledge says of running on, along the chain of a cause; the strictest first.
    fn run_on(&self, node: usize) -> Vec<RunOnView> {
        let all = &self.knowledge.all;
        let (chain, _) = self.chain_nodes(node);
        let entries = chain.iter().filter_map(|&node| {
            let id = &self.graph.nodes[node].id;
            all.conditions.get(id).or_else(|| all.damage.get(id))
        });
        let mut views: Vec<RunOnView> = entries
            .filter_map(|entry| {
                let run_on = entry.run_on.as_ref()?;
                let part = |head: &str, text: &str| match text {
                    "" => String::new(),
                    text => format!("{head}: {text}. "),
                };
                let limits = part("Watch", &run_on.watch) + &part("Ends it", &run_on.ends);
                Some(RunOnView { name: entry.name.clone(), may: run_on.may, limits: limits.trim_end().to_owned() })
            })
            .collect();
        views.sort_by_key(|view| view.may);
        views
    }

    /// From the cause to the first complaint it explains; without one, the cause and what it most likely leads to.
    fn chain(&self, node: usize) -> Vec<ChainLink> {
        let (chain, symptom) = self.chain_nodes(node);
        let mut links: Vec<ChainLink> = chain.into_iter().map(|n| self.link(n)).collect();
        links.extend(symptom.map(|symptom| ChainLink { kind: "symptom", name: self.name_of(&symptom) }));
        links
    }

    /// The nodes of the chain, and the symptom it ends in.
    fn chain_nodes(&self, node: usize) -> (Vec<usize>, Option<Id>) {
        let facts = self.facts();
        let seen = facts.findings().into_iter().filter(|(_, answer)| answer.leans_yes());
        let reached = seen.filter_map(|(id, _)| Some((self.graph.chain_to_finding(node, id)?, id)));
        // The complaint says it best; else something that goes through what the machine is doing.
        let Some((chain, symptom)) = reached
            .enumerate()
            .max_by_key(|(at, (chain, id))| (facts.is_complaint(id), 1 < chain.len(), std::cmp::Reverse(*at)))
            .map(|(_, reached)| reached)
        else {
            return (vec![node], None);
        };
        (chain, Some(symptom.clone()))
    }

    fn link(&self, node: usize) -> ChainLink {
        ChainLink { kind: self.graph.nodes[node].kind.word(), name: self.graph.nodes[node].name.clone() }
    }

    /// Direct looks at a cause, the easiest first.
    pub(super) fn confirming(&self, cause: &str) -> Vec<Confirming> {
        let verdicts = self.knowledge.all.findings.iter().filter(|(_, f)| f.verdict_on.as_deref() == Some(cause));
        let mut all: Vec<Confirming> = verdicts
            .flat_map(|(finding, entry)| {
                let checks = self.knowledge.all.checks.iter().filter(move |(_, check)| check.yields.contains(finding));
                checks.map(move |(id, check)| Confirming {
                    check: id.clone(),
                    name: check.name.clone(),
                    minutes: check.minutes,
                    opens: check
                        .opening
                        .as_ref()
                        .and_then(|opening| self.knowledge.all.openings.get(opening))
                        .map(|opening| opening.name.clone()),
                    finds_of_20: 20.0 * (1.0 - entry.error.missed),
                })
            })
            .collect();
        all.sort_by(|a, b| {
            (a.opens.is_some(), a.minutes)
                .partial_cmp(&(b.opens.is_some(), b.minutes))
                .unwrap_or(std::cmp::Ordering::Equal)
        });
        all
    }

    /// Readings the cause moves, by the strongest path, most telling first.
    fn expected_readings(&self, node: usize) -> Vec<ExpectedReading> {
        let mut found: Vec<ExpectedReading> = Vec::new();
        for (id, pulled) in &self.graph.readings {
            for (leaf, way) in [(&pulled.down, "below"), (&pulled.up, "above")] {
                let strength = leaf.parents.iter().map(|&(parent, s)| s * self.reach(node, parent)).fold(0.0, f64::max);
                if 0.3 <= strength {
                    found.push(ExpectedReading {
                        id: id.clone(),
                        name: self.name_of(id),
                        way,
                        healthy: self.knowledge.all.readings.get(id).map(healthy_words).unwrap_or_default(),
                        of_20: 20.0 * strength,
                    });
                }
            }
        }
        found.sort_by(|a, b| b.of_20.total_cmp(&a.of_20).then_with(|| a.id.cmp(&b.id)));
        found.truncate(5);
        found
    }

    /// Strength of the strongest path from one node to another.
    fn reach(&self, from: usize, to: usize) -> f64 {
        let Some(chain) = self.graph.chain(from, to) else { return 0.0 };
        chain.windows(2).map(|pair| self.graph.strength(pair[0], pair[1])).product()
    }

    pub(super) fn remedy(&self, id: Option<&str>) -> Option<RemedyView> {
        let remedy = self.knowledge.all.remedies.get(id?)?;
        let told = format!("{} {}", remedy.name, remedy.steps.join(" ")).to_lowercase();
        let repairs = remedy.kind == RemedyKind::Repair && self.job.pump.is_some();
        let settings = if repairs { self.settings() } else { Vec::new() };
        Some(RemedyView {
            name: remedy.name.clone(),
            kind: match remedy.kind {
                RemedyKind::Remedy => "remedy",
                RemedyKind::Repair => "repair",
                RemedyKind::Temporary => "temporary measure",
            },
            minutes: remedy.minutes,
            steps: remedy.steps.clone(),
            parts: remedy.parts.clone(),
            proof: remedy.proof.clone(),
            settings: settings.into_iter().filter(|setting| setting.belongs_to(&told)).collect(),
        })
    }

    /// Answers that the leading causes leave unexplained, once a cause is probable.
    fn unexplained(&self, causes: &[ResultCause]) -> Vec<String> {
        if !causes.iter().any(|cause| matches!(cause.row.status, Status::Confirmed | Status::Probable)) {
            return Vec::new();
        }
        self.still_unexplained().into_iter().map(|answer| answer.said).collect()
    }
}
