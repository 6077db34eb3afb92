//! Turns what is open about the belief into lines: causes together, what stays unexplained, what to recheck.

use super::console::Halt;
use super::session::Session;
use crate::job::{Doubts, rests_on};

impl Session<'_> {
    /// The `doubts` order.
    pub(super) fn doubts(&mut self) -> Result<(), Halt> {
        match self.sitting.doubts() {
            Some(doubts) => self.say_doubts(&doubts),
            None => self.say("Nothing can be told before the answers can be weighed."),
        }
    }

    fn say_doubts(&mut self, doubts: &Doubts) -> Result<(), Halt> {
        self.say("")?;
        self.say("Causes together, and no other:")?;
        for (names, share) in &doubts.together {
            self.say(&format!("  {}: {}", together(names), percent(*share)))?;
        }
        self.say(&format!("  every other combination: {}", percent(doubts.others)))?;
        for answer in &doubts.unexplained {
            let share = percent(answer.probability);
            self.say(&format!("Still unexplained by the first of these: {} (would be so in {share})", answer.said))?;
        }
        self.say(if doubts.fits_badly { "The answers fit badly. Check again first:" } else { WORST })?;
        for (said, wrong) in &doubts.recheck {
            self.say(&format!("  {said} (wrong in {})", percent(*wrong)))?;
        }
        self.say_turning(doubts)
    }

    fn say_turning(&mut self, doubts: &Doubts) -> Result<(), Halt> {
        if doubts.turning.is_empty() {
            return self.say(&format!("No single answer worked out so far would displace {}.", doubts.leader));
        }
        self.say(&format!("Would put another cause before {}:", doubts.leader))?;
        for answer in &doubts.turning {
            let (chance, (leader, then)) = (percent(answer.probability), &answer.leader);
            self.say(&format!("  {}: {} ({chance}) -> {leader} {}", answer.name, answer.answer, percent(*then)))?;
        }
        Ok(())
    }

    /// The `numbers` order.
    pub(super) fn numbers(&mut self) -> Result<(), Halt> {
        let Some((leader, sways)) = self.sitting.numbers_that_matter() else {
            return self.say("Nothing can be told before the answers can be weighed.");
        };
        if sways.is_empty() {
            return self.say(&format!("No single number of the knowledge moves {leader} much."));
        }
        self.say(&format!(
            "Numbers on which the place of {leader} rests, and its share with their odds halved, doubled:"
        ))?;
        for sway in &sways {
            let [half, double] = sway.then.map(percent);
            let source = if sway.source.is_empty() { "no source given" } else { &sway.source };
            self.say(&format!("  {}: {} ({source}): {half}, {double}", sway.what, percent(sway.now)))?;
        }
        Ok(())
    }
}

impl Session<'_> {
    /// The `checks` order.
    pub(super) fn checks(&mut self) -> Result<(), Halt> {
        let mut all = self.sitting.all_checks();
        while !all.is_whole() {
            self.sitting.more_checks(&mut all);
        }
        self.say("")?;
        self.say("Every open check: minutes it takes, minutes it saves beyond that at least:")?;
        for step in &all.steps {
            let name = self.sitting.name_of(&step.check);
            self.say(&format!("  {:>4.0} {:>+6.1}  {name}", step.minutes, step.worth))?;
        }
        let left_out = self.sitting.plan().left_out;
        if 0.0 < left_out { self.say(&rests_on(left_out)) } else { Ok(()) }
    }
}

/// Said where the answers fit: somebody may still have misheard.
const WORST: &str = "The answers fit together. If one of them is wrong after all, most likely:";

/// The causes of a set, as said.
fn together(names: &[String]) -> String {
    match names {
        [] => "none at all".to_owned(),
        [only] => format!("{only} alone"),
        names => names.join(" and "),
    }
}

/// A share as written.
pub(super) fn percent(share: f64) -> String {
    if 0.0 < share && share < 0.005 { "less than 1 %".to_owned() } else { format!("{:.0} %", share * 100.0) }
}
