//! Turns the rebuild sheets of a remedy into one step after the other: its hold point, its accept value, where it goes back
//! to, and what it says of the fault.

use crate::evidence::Answer;
use crate::job::enter::{Refused, limited};
use crate::job::event::Event;
use crate::job::fold::Given;
use crate::job::gates::{GateKind, GateView};
use crate::job::results::RemedyView;
use crate::job::sitting::Sitting;
use crate::job::views::{CautionView, caution_views};
use crate::job::work::repair::remedy_of;
use crate::knowledge::dimension_named;
use crate::knowledge::schema::{Accepted, Id, Procedure, PumpState, Renewal, RenewalRule};
use crate::quantity::{Dimension, Quantity, echo_entered, parse};
use crate::text::clean;
use indexmap::IndexSet;

/// All that must be known before a remedy is begun.
#[derive(Debug, Clone, PartialEq)]
pub struct RemedyPlan {
    /// What is put right.
    pub node: Id,
    /// Its name.
    pub name: String,
    /// Remedy id.
    pub id: Id,
    /// The remedy.
    pub remedy: RemedyView,
    /// What has to be opened first, with its minutes.
    pub opens: Option<(String, f64)>,
    /// Parts by function, to be at hand before anything is opened.
    pub parts: Vec<String>,
    /// Settings used.
    pub settings: Vec<String>,
    /// Rebuild sheets with their usual minutes, lowest and highest.
    pub sheets: Vec<(Id, String, (f64, f64))>,
    /// Cautions, gravest first.
    pub cautions: Vec<CautionView>,
}

/// One step of a rebuild sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetView {
    /// Procedure.
    pub sheet: Id,
    /// Its name.
    pub name: String,
    /// Its place among the sheets of the job, from 1, and how many there are.
    pub place: (usize, usize),
    /// The step, from 1, and how many there are.
    pub step: (u32, u32),
    /// What to do.
    pub act: String,
    /// Parts by function.
    pub parts: Vec<String>,
    /// Cautions, gravest first.
    pub cautions: Vec<CautionView>,
    /// What must hold before going on.
    pub hold_point: Option<String>,
    /// Accept value in words.
    pub accept: Option<String>,
    /// The number that is entered: unit, band in words, and whether the band is only typical.
    pub number: Option<(String, String, bool)>,
    /// Where it goes back to when the hold point fails: step and act.
    pub back_to: (u32, String),
    /// What may go back in, in sentences.
    pub renewal: Vec<String>,
    /// True for some builds only.
    pub by_design: bool,
    /// Times it failed.
    pub failed: u32,
    state: PumpState,
    shows: Option<Id>,
    accepted: Option<Accepted>,
}

/// A number entered for a step, judged.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// As typed, and in SI.
    pub value: (String, f64),
    /// In two units.
    pub echo: String,
    /// True if it is in the band.
    pub is_in: bool,
    /// The judgement in words.
    pub words: String,
}

impl Sitting {
    /// What a remedy takes, before anything is opened; nothing where the knowledge has no remedy.
    pub fn remedy_plan(&self, node: &str) -> Option<RemedyPlan> {
        let all = &self.knowledge.all;
        let id = remedy_of(&self.knowledge, node)?;
        let remedy = all.remedies.get(id)?;
        let opening = remedy.opening.as_ref().and_then(|id| all.openings.get(id));
        let sheets: Vec<(&Id, &Procedure)> =
            remedy.procedures.iter().filter_map(|id| all.procedures.get_key_value(id)).collect();
        let is_new = |renewal: &&Renewal| matches!(renewal.rule, RenewalRule::AlwaysNew | RenewalRule::AsASet);
        let renewals = sheets.iter().flat_map(|(_, sheet)| &sheet.steps).flat_map(|step| &step.renewal).filter(is_new);
        let renewed: IndexSet<&String> = renewals.clone().map(|renewal| &renewal.part).collect();
        let plain = remedy.parts.iter().filter(|part| !renewed.contains(part)).cloned();
        let parts: IndexSet<String> = plain.chain(renewals.map(renewal_words)).collect();
        Some(RemedyPlan {
            node: node.to_owned(),
            name: self.name_of(node),
            id: id.clone(),
            remedy: self.remedy(Some(id))?,
            opens: opening.map(|opening| (opening.name.clone(), opening.minutes)),
            parts: parts.into_iter().collect(),
            settings: remedy.settings.clone(),
            sheets: sheets.iter().map(|(id, sheet)| ((*id).clone(), sheet.name.clone(), sheet.minutes)).collect(),
            cautions: caution_views(&self.knowledge, &remedy.cautions),
        })
    }

    /// The open step of the rebuild sheets.
    pub fn rebuild_step(&self) -> Option<SheetView> {
        let sheets = self.job.work.sheets.as_ref()?;
        let id = sheets.order.get(sheets.at)?;
        let procedure = self.knowledge.all.procedures.get(id)?;
        let at = usize::try_from(sheets.step.checked_sub(1)?).ok()?;
        let step = procedure.steps.get(at)?;
        let back = step.fails_to.unwrap_or(sheets.step);
        let back_act = usize::try_from(back).ok().and_then(|back| procedure.steps.get(back.checked_sub(1)?));
        Some(SheetView {
            sheet: id.clone(),
            name: procedure.name.clone(),
            place: (sheets.at + 1, sheets.order.len()),
            step: (sheets.step, u32::try_from(procedure.steps.len()).unwrap_or(u32::MAX)),
            act: step.act.clone(),
            parts: step.parts.clone(),
            cautions: caution_views(&self.knowledge, &step.cautions),
            hold_point: step.hold_point.clone(),
            accept: step.accept.clone(),
            number: step
                .measure
                .as_ref()
                .map(|accepted| (accepted.unit.clone(), band_words(accepted), accepted.typical)),
            back_to: (back, back_act.map(|step| step.act.clone()).unwrap_or_default()),
            renewal: step.renewal.iter().map(renewal_words).collect(),
            by_design: step.by_design,
            failed: sheets.failed.get(&(id.clone(), sheets.step)).copied().unwrap_or_default(),
            state: step.state,
            shows: step.fails_shows.clone(),
            accepted: step.measure.clone(),
        })
    }

    /// The gate before a step of a sheet, if it is not passed.
    pub fn gate_before_sheet(&self, step: &SheetView) -> Option<GateView> {
        let kind = match step.state {
            PumpState::Isolated | PumpState::Opened => GateKind::Isolation,
            PumpState::Running => GateKind::FirstRun,
            PumpState::Stopped | PumpState::Any => return None,
        };
        self.gate_unless_passed(kind, &format!("{}, step {} of {}", step.name, step.step.0, step.step.1))
    }

    /// Begins the sheets of a remedy.
    pub fn begin_sheets(&self, plan: &RemedyPlan) -> Event {
        let sheets = plan.sheets.iter().map(|(id, ..)| id.clone()).collect();
        Event::SheetsBegun { node: plan.node.clone(), remedy: Some(plan.id.clone()), sheets }
    }

    /// The events of an answered step: the step itself, and what it says of the fault.
    pub fn sheet_events(
        &self,
        step: &SheetView,
        passed: bool,
        words: &str,
        value: Option<(String, f64)>,
    ) -> Vec<Event> {
        let on = if step.step.0 < step.step.1 { Some(step.step.0 + 1) } else { None };
        let next = if passed { on } else { Some(step.back_to.0) };
        let (sheet, words) = (step.sheet.clone(), limited(words));
        let mut events = vec![Event::SheetStep { sheet, step: step.step.0, passed, next, words, value }];
        if let Some(finding) = &step.shows {
            let was_yes = matches!(self.job.given.get(finding), Some((Given::Answer(said), ..)) if said.leans_yes());
            let answer = if passed { was_yes.then_some(Answer::No) } else { Some(Answer::Yes) };
            let told = answer.and_then(|answer| self.answer(finding, answer, None).ok());
            events.extend(told);
        }
        events
    }

    /// Judges a number entered for a step.
    pub fn judge_step(&self, step: &SheetView, text: &str) -> Result<Judged, Refused> {
        let refuse = |text: &str| Refused::NotANumber(text.to_owned());
        let accepted = step.accepted.as_ref().ok_or_else(|| refuse("this step takes no number"))?;
        let dimension = dimension_named(&accepted.quantity).ok_or_else(|| refuse("the knowledge names no quantity"))?;
        let parsed = parse(text, dimension, None).map_err(|error| refuse(&clean(&error.to_string())))?;
        let si = parsed.quantity.si();
        let (low, high) = (bound(accepted.low.as_ref(), dimension), bound(accepted.high.as_ref(), dimension));
        let below = low.is_some_and(|low| si < low - low.abs() * 1e-9);
        let above = high.is_some_and(|high| high + high.abs() * 1e-9 < si);
        let where_it_is = match (below, above) {
            (true, _) => "below",
            (_, true) => "above",
            _ => "in",
        };
        let typical = if accepted.typical { ", typical, not yours" } else { "" };
        let echo = echo_entered(&parsed);
        Ok(Judged {
            words: format!("{echo} is {where_it_is} the band ({}{typical})", band_words(accepted)),
            value: (limited(text), si),
            echo,
            is_in: !below && !above,
        })
    }
}

fn bound(text: Option<&String>, dimension: Dimension) -> Option<f64> {
    parse(text?, dimension, None).ok().map(|parsed| parsed.quantity).map(Quantity::si)
}

fn band_words(accepted: &Accepted) -> String {
    match (&accepted.low, &accepted.high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (Some(low), None) => format!("at least {low}"),
        (None, Some(high)) => format!("at most {high}"),
        (None, None) => "any value".to_owned(),
    }
}

/// "ring: always new, when …".
fn renewal_words(renewal: &Renewal) -> String {
    let rule = match renewal.rule {
        RenewalRule::AlwaysNew => "always new",
        RenewalRule::AsASet => "as a set",
        RenewalRule::Inspect => "inspect",
        RenewalRule::MayGoBack => "may go back",
    };
    let when = renewal.when.as_ref().map_or(String::new(), |when| format!(", {when}"));
    format!("{}: {rule}{when}", renewal.part)
}
