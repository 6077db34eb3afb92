//! Turns answers that trigger a stop rule into the page that overrides everything else.

use super::fold::Given;
use super::sitting::Sitting;
use super::views::{CautionView, caution_views};
use crate::knowledge::schema::Id;

/// A stop rule that holds and has not been answered.
#[derive(Debug, Clone, PartialEq)]
pub struct StopView {
    /// Rule.
    pub rule: Id,
    /// What is going on.
    pub name: String,
    /// Why it stops the pump.
    pub why: String,
    /// What to do now.
    pub act: Vec<String>,
    /// Cautions.
    pub cautions: Vec<CautionView>,
}

impl Sitting {
    /// The first stop rule that holds and has not been answered.
    pub fn stop(&self) -> Option<StopView> {
        let rules = &self.knowledge.all.stop_rules;
        let (id, rule) = rules.iter().find(|(id, _)| !self.job.stops.contains_key(*id) && self.triggered(id))?;
        Some(StopView {
            rule: id.clone(),
            name: rule.name.clone(),
            why: rule.why.clone(),
            act: rule.act.clone(),
            cautions: caution_views(&self.knowledge, &rule.cautions),
        })
    }

    /// True if some answer triggers the rule.
    pub(super) fn triggered(&self, rule: &str) -> bool {
        let rule = self.knowledge.all.stop_rules.get(rule);
        rule.is_some_and(|rule| rule.when_yes.iter().any(|finding| self.leans_yes(finding)))
    }

    fn leans_yes(&self, finding: &str) -> bool {
        matches!(self.job.given.get(finding), Some((Given::Answer(answer), ..)) if answer.leans_yes())
    }
}
