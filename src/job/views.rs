//! Turns the state of a job into the rows and pages that screens and lines show; no screen computes anything itself.

use super::fold::{Given, Where};
use super::sitting::Sitting;
use super::status::Status;
use crate::evidence::{State, Why, of_key, quantity_of};
use crate::knowledge::schema::{Band, Id, PumpState, Reading, SignalWord};
use crate::knowledge::{Knowledge, NodeKind};
use crate::planning::Step;
use crate::quantity::{Quantity, echo, echo_text};
use jiff::Timestamp;

/// An instant in UTC, to the minute.
pub fn stamp(at: Timestamp) -> String {
    at.strftime("%Y-%m-%d %H:%M UTC").to_string()
}

/// The head of every page.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// The pump, as people call it, or the family.
    pub pump: String,
    /// The family's name.
    pub family: String,
    /// Minutes since the job was opened.
    pub minutes: i64,
    /// Release and hash of the knowledge.
    pub knowledge: String,
}

/// One row of the list of likely causes.
#[derive(Debug, Clone, PartialEq)]
pub struct LikelyRow {
    /// Cause id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Posterior probability.
    pub probability: f64,
    /// Of 20 jobs like this, in so many.
    pub of_20: u32,
    /// Frequency word.
    pub word: &'static str,
    /// Status by rule.
    pub status: Status,
}

/// A caution, at most three lines.
#[derive(Debug, Clone, PartialEq)]
pub struct CautionView {
    /// Signal word in capitals.
    pub word: &'static str,
    /// Rank of the signal word, gravest first.
    pub rank: SignalWord,
    /// The hazard.
    pub hazard: String,
    /// What it does.
    pub consequence: String,
    /// How to avoid it.
    pub avoid: String,
}

/// One thing to answer.
#[derive(Debug, Clone, PartialEq)]
pub struct AskView {
    /// Finding or reading id.
    pub id: Id,
    /// Short statement or name.
    pub name: String,
    /// The question.
    pub question: String,
    /// How to find out, or the instrument.
    pub how: String,
    /// For a reading: unit shown first, healthy band in words, running state.
    pub number: Option<NumberView>,
    /// Likely causes this is confused with, or what to mind.
    pub look_alike: String,
}

/// What a reading's page shows beside the question.
#[derive(Debug, Clone, PartialEq)]
pub struct NumberView {
    /// Unit shown first.
    pub unit: String,
    /// Healthy band in words.
    pub healthy: String,
    /// Running state it is taken in.
    pub running_state: String,
    /// Usual value on this pump, if known.
    pub usual: Option<String>,
    /// True if the number says nothing without the usual value.
    pub needs_usual: bool,
    /// The running state to confirm before the number, in full; only where this pump's sheet or healthy values make the
    /// number depend on it.
    pub state: Option<String>,
}

/// The next step.
#[derive(Debug, Clone, PartialEq)]
pub struct StepView {
    /// Check id.
    pub check: Id,
    /// Name, an instruction.
    pub name: String,
    /// How to do it.
    pub steps: Vec<String>,
    /// Tools.
    pub tools: Vec<String>,
    /// Cautions, gravest first.
    pub cautions: Vec<CautionView>,
    /// Minutes it takes now.
    pub minutes: f64,
    /// Minutes it saves beyond what it takes.
    pub worth: f64,
    /// What has to be opened first, in words.
    pub opens: Option<String>,
    /// The pump's state during the check.
    pub state: PumpState,
    /// True if isolation must be proved first.
    pub needs_isolation: bool,
    /// Open questions, the most telling first.
    pub asks: Vec<AskView>,
}

/// One outside look of the walk-round page.
#[derive(Debug, Clone, PartialEq)]
pub struct LookRow {
    /// Finding id.
    pub id: Id,
    /// The check it belongs to.
    pub check: Id,
    /// The question.
    pub question: String,
    /// How to find out.
    pub how: String,
    /// Minutes it would save, before what it takes.
    pub saves: f64,
    /// Minutes it takes.
    pub minutes: f64,
    /// The gravest caution of its check.
    pub caution: Option<CautionView>,
}

/// One row of the trail.
#[derive(Debug, Clone, PartialEq)]
pub struct TrailRow {
    /// Finding or reading id.
    pub id: Id,
    /// Short statement or name.
    pub name: String,
    /// The answer in words, or the number in two units.
    pub answer: String,
    /// Where it came from.
    pub from: &'static str,
    /// Why it does not count, if it does not.
    pub set_aside: Option<String>,
}

impl Sitting {
    /// The head of every page.
    pub fn header(&self) -> Header {
        let family = self.knowledge.all.families.get(&self.job.family);
        let family = family.map_or_else(|| self.job.family.clone(), |family| family.name.clone());
        Header {
            pump: self.job.pump.as_ref().map_or_else(|| family.clone(), |pump| pump.name.clone()),
            family,
            minutes: self.job.minutes(),
            knowledge: format!("{} {}", self.knowledge.release, self.knowledge.hash),
        }
    }

    /// Likely causes, most probable first.
    pub fn likely(&self, most: usize) -> Vec<LikelyRow> {
        let mut causes = self.graph.of_kind(NodeKind::Cause);
        causes.sort_by(|a, b| self.present(*b).total_cmp(&self.present(*a)).then(a.cmp(b)));
        causes.into_iter().take(most).map(|cause| self.likely_row(cause)).collect()
    }

    fn likely_row(&self, cause: usize) -> LikelyRow {
        let (node, probability) = (&self.graph.nodes[cause], self.present(cause));
        LikelyRow {
            id: node.id.clone(),
            name: node.name.clone(),
            probability,
            of_20: of_20(probability),
            word: frequency_word(probability),
            status: self.status(cause),
        }
    }

    /// The view of a step.
    pub fn step_view(&self, step: &Step) -> Option<StepView> {
        let check = self.knowledge.all.checks.get(&step.check)?;
        let opening = step.opens.as_ref().and_then(|id| self.knowledge.all.openings.get(id));
        Some(StepView {
            check: step.check.clone(),
            name: check.name.clone(),
            steps: check.steps.clone(),
            tools: check.tools.clone(),
            cautions: caution_views(&self.knowledge, &check.cautions),
            minutes: step.minutes,
            worth: step.worth,
            opens: opening.map(|opening| opening.name.clone()),
            state: check.state,
            needs_isolation: check.opens(),
            asks: step.asks.iter().filter_map(|id| self.ask_view(id)).collect(),
        })
    }

    /// The view of one finding or reading.
    pub fn ask_view(&self, id: &str) -> Option<AskView> {
        if let Some(finding) = self.knowledge.all.findings.get(id) {
            return Some(AskView {
                id: id.to_owned(),
                name: finding.name.clone(),
                question: finding.question.clone(),
                how: finding.how.clone(),
                number: None,
                look_alike: finding.look_alike.clone(),
            });
        }
        let reading = self.knowledge.all.readings.get(of_key(id).0)?;
        let usual = self.facts().usual.get(id);
        let state = self.state_in_full(id);
        Some(AskView {
            id: id.to_owned(),
            name: self.name_of(id),
            question: reading.question.clone(),
            how: reading.instrument.clone(),
            number: Some(NumberView {
                unit: reading.unit.clone(),
                healthy: healthy_words(reading),
                running_state: reading.running_state.clone(),
                usual: usual.map(|quantity| echo(*quantity)),
                needs_usual: matches!(reading.healthy, Band::OfUsual(..)) && usual.is_none() && state.is_none(),
                state,
            }),
            look_alike: String::new(),
        })
    }

    /// Outside looks worth most per minute: nothing opened, hardly a tool, no reading; best first.
    pub fn walk_round(&self, most: usize) -> Vec<LookRow> {
        let plan = self.plan();
        let mut rows: Vec<LookRow> = Vec::new();
        for step in &plan.steps {
            let Some(check) = self.knowledge.all.checks.get(&step.check) else { continue };
            let is_trial = 6.0 < check.minutes || 1 < check.tools.len();
            if check.opens() || is_trial {
                continue;
            }
            let finding = step.asks.iter().find(|id| {
                self.knowledge.all.findings.get(*id).is_some_and(|f| f.verdict_on.is_none())
                    && !rows.iter().any(|row| row.id == **id)
            });
            let Some((id, finding)) = finding.and_then(|id| Some((id, self.knowledge.all.findings.get(id)?))) else {
                continue;
            };
            rows.push(LookRow {
                id: id.clone(),
                check: step.check.clone(),
                question: finding.question.clone(),
                how: finding.how.clone(),
                saves: plan.saves.get(id).copied().unwrap_or_default(),
                minutes: step.minutes,
                caution: caution_views(&self.knowledge, &check.cautions).into_iter().next(),
            });
        }
        rows.retain(|row| 0.0 < row.saves);
        rows.sort_by(|a, b| (b.saves / b.minutes.max(0.5)).total_cmp(&(a.saves / a.minutes.max(0.5))));
        rows.truncate(most);
        rows
    }

    /// Everything given so far, in the order first given.
    pub fn trail(&self) -> Vec<TrailRow> {
        self.job.given.iter().map(|(id, (given, _, from))| self.trail_row(id, given, from)).collect()
    }

    fn trail_row(&self, id: &Id, given: &Given, from: &Where) -> TrailRow {
        let answer = match given {
            Given::Answer(answer) => answer.words().to_owned(),
            Given::Number(text, _) => {
                self.facts().numbers.get(id).map_or(text.clone(), |m| echo_text(text, m.quantity))
            }
        };
        TrailRow {
            id: id.clone(),
            name: self.name_of(id),
            answer,
            from: match from {
                Where::Complaint => "complaint",
                Where::FirstMinute => "first minute",
                Where::Check(_) => "asked",
                Where::Volunteered => "volunteered",
            },
            set_aside: self
                .evidence
                .set_aside
                .iter()
                .find(|aside| aside.id == *id)
                .map(|aside| self.why_words(&aside.why)),
        }
    }

    fn why_words(&self, why: &Why) -> String {
        match why {
            Why::SameAs(other) => format!("\"{}\" says the same and counts", self.name_of(other)),
            Why::NoUsualValue => "says nothing without this pump's usual value".to_owned(),
            Why::NothingShowsIt => "nothing on this pump shows itself this way".to_owned(),
            Why::OtherState => "in this running state it says nothing without a pump sheet".to_owned(),
            Why::TooTangled => "hangs together with the others too tightly to be weighed with them".to_owned(),
            Why::BeforeRepair => "from before something was put right; it may be asked again".to_owned(),
            Why::Contradicts => "cannot be true together with the others".to_owned(),
        }
    }

    /// The quantity behind a value in SI of a reading or key.
    pub fn quantity_of(&self, key: &str, si: f64) -> Option<Quantity> {
        quantity_of(&self.knowledge, key, si)
    }

    /// The reading behind a reading's id or key.
    pub fn reading_of(&self, key: &str) -> Option<&Reading> {
        self.knowledge.all.readings.get(of_key(key).0)
    }

    /// Name of any entry: node, finding, reading, check; of a number with its running state.
    pub fn name_of(&self, id: &str) -> String {
        if let (id, words) = of_key(id)
            && !words.is_empty()
        {
            let state = State::parse(words).map_or_else(|_| words.to_owned(), |state| state.to_string());
            return format!("{} ({state})", self.name_of(id));
        }
        let all = &self.knowledge.all;
        let name = all.findings.get(id).map(|e| &e.name);
        let name = name.or_else(|| all.readings.get(id).map(|e| &e.name));
        let name = name.or_else(|| all.causes.get(id).map(|e| &e.name));
        let name = name.or_else(|| all.conditions.get(id).map(|e| &e.name));
        let name = name.or_else(|| all.damage.get(id).map(|e| &e.name));
        let name = name.or_else(|| all.checks.get(id).map(|e| &e.name));
        let name = name.or_else(|| all.service.get(id).map(|e| &e.name));
        name.map_or_else(|| id.to_owned(), Clone::clone)
    }
}

/// The cautions with these ids, gravest first.
pub(super) fn caution_views(knowledge: &Knowledge, ids: &[Id]) -> Vec<CautionView> {
    let mut views: Vec<CautionView> = ids
        .iter()
        .filter_map(|id| knowledge.all.cautions.get(id))
        .map(|caution| CautionView {
            word: caution.word.word(),
            rank: caution.word,
            hazard: caution.hazard.clone(),
            consequence: caution.consequence.clone(),
            avoid: caution.avoid.clone(),
        })
        .collect();
    views.sort_by_key(|view| view.rank);
    views
}

/// Healthy band in words.
pub(super) fn healthy_words(reading: &Reading) -> String {
    match &reading.healthy {
        Band::Between(from, to) => format!("{from} to {to}"),
        Band::OfUsual(from, to) => {
            format!("{:.0} to {:.0} % of this pump's usual value", from * 100.0, to * 100.0)
        }
    }
}

/// Of 20 jobs like this, in so many.
pub(super) fn of_20(probability: f64) -> u32 {
    (0..=20_u32).rev().find(|&count| f64::from(count) <= probability * 20.0 + 0.5).unwrap_or(0)
}

/// Word for how often.
pub(super) fn frequency_word(probability: f64) -> &'static str {
    match probability {
        p if p < 0.01 => "hardly ever",
        p if p < 0.10 => "rarely",
        p if p < 0.35 => "sometimes",
        p if p < 0.65 => "about half",
        p if p < 0.85 => "often",
        p if p < 0.95 => "usually",
        _ => "nearly always",
    }
}
