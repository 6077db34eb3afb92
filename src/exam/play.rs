//! Turns a job into marks by letting the planner ask, one thing at a time, and by putting right what it ends with.

use super::draw::ExamError;
use super::ground::{at, obeyed};
use super::marks::{AFTER, Believed, Stand};
use super::work::Work;
use crate::evidence::Answer;
use crate::job::{Ending, Event, GateKind, Next, Outcome, Sitting, Status, StepView};
use crate::knowledge::schema::Id;
use crate::trial::Ranking;

/// Things done at most, answers, gates and repairs together.
const MOST_STEPS: usize = 200;
/// Who answers the gates.
const FITTER: &str = "R.K., fitter";

/// A job that the planner drives.
pub struct Play<'a> {
    /// As it stands.
    pub sitting: Sitting,
    /// The pump, and what it took.
    pub work: Work<'a>,
    /// Where the truth stood after so many answers.
    pub stands: Vec<Stand>,
    /// The belief when it was judged.
    pub believed: Believed,
    /// What was asked and put right, with what came of it.
    pub trail: Vec<(Id, String)>,
    /// Causes whose place is noted.
    truth: Vec<Id>,
    /// Places are noted no more: something was put right on the chance.
    closed: bool,
}

impl<'a> Play<'a> {
    /// A job that was opened and told its complaint.
    pub fn new(sitting: Sitting, work: Work<'a>, truth: Vec<Id>) -> Self {
        let (stands, believed, trail) = Default::default();
        Self { sitting, work, stands, believed, trail, truth, closed: false }
    }

    /// Plays it to its end.
    ///
    /// # Errors
    /// [`ExamError`] where the simulated pump breaks down.
    pub fn go(&mut self) -> Result<(), ExamError> {
        self.note();
        for _ in 0..MOST_STEPS {
            if self.work.is_over() || !self.step()? {
                break;
            }
        }
        self.close();
        Ok(())
    }

    /// One thing done; false where nothing is left to do.
    fn step(&mut self) -> Result<bool, ExamError> {
        match self.sitting.next() {
            Next::Stop(stop) => self.apply(obeyed(stop.rule)),
            Next::Gate(gate) => gate.all_yes(FITTER).into_iter().for_each(|event| self.apply(event)),
            Next::Ask(step) => return self.ask(&step),
            Next::Ended(Ending::Confirmed) => return self.put_right(true),
            Next::Ended(_) => return self.put_right(false),
            Next::Sheet(_) | Next::Try(_) | Next::Return(_) => return Ok(false),
        }
        Ok(true)
    }

    fn apply(&mut self, event: Event) {
        self.sitting.apply(at(self.sitting.job.entries.len(), event));
    }

    /// Asks the first thing of a check.
    fn ask(&mut self, step: &StepView) -> Result<bool, ExamError> {
        let Some(ask) = step.asks.first() else { return Ok(false) };
        let check = Some(step.check.as_str());
        let event = if self.sitting.knowledge.all.readings.contains_key(&ask.id) {
            let shown = self.work.replier.reading(&ask.id);
            // What no gauge can show was misread: nobody can tell then.
            let entered = self.sitting.entered_si(&ask.id, shown, check);
            entered.or_else(|| self.sitting.entered_si(&ask.id, None, check))
        } else {
            let answer: Answer = self.work.replier.finding(&ask.id)?;
            self.sitting.answer(&ask.id, answer, check).ok().map(|event| (event, answer.words().to_owned()))
        };
        let Some((event, words)) = event else { return Ok(false) };
        self.trail.push((ask.id.clone(), words));
        self.apply(event);
        self.work.tally.check(&self.sitting.knowledge, &step.check);
        for cause in self.confirmed() {
            self.work.confirm(&cause);
        }
        self.note();
        Ok(true)
    }

    /// Causes that stand confirmed.
    fn confirmed(&self) -> Vec<Id> {
        let rows = self.sitting.likely(usize::MAX).into_iter();
        rows.filter(|row| row.status == Status::Confirmed).map(|row| row.id).collect()
    }

    /// Puts right what is confirmed, else the most probable cause that was not tried yet, and tries the pump.
    fn put_right(&mut self, is_confirmed: bool) -> Result<bool, ExamError> {
        let is_open = |id: &Id| !self.work.tried.contains(&self.work.class(id));
        let is_known = |id: &Id| !self.sitting.knowledge.all.causes.get(id).is_some_and(|one| one.stands_for_unknown);
        let cause = if is_confirmed { self.confirmed().into_iter().find(is_open) } else { None };
        let likely = || self.sitting.likely(usize::MAX).into_iter().map(|row| row.id);
        let next = cause.clone().or_else(|| likely().find(|id| is_open(id) && is_known(id)));
        let Some(next) = next else { return Ok(false) };
        if cause.is_none() {
            self.close();
        }
        let was_needed = self.work.put_right(&next)?;
        let outcome = match (was_needed, self.work.is_solved()) {
            (true, true) => Outcome::Well,
            (true, false) => Outcome::Better,
            (false, _) => Outcome::Same,
        };
        self.trail.push((next.clone(), outcome.words().to_owned()));
        if outcome == Outcome::Well {
            return Ok(false);
        }
        self.apply(self.sitting.changed(&next, ""));
        for event in self.sitting.gate(GateKind::FirstRun).all_yes(FITTER) {
            self.apply(event);
        }
        self.apply(Event::Tried { outcome, words: String::new() });
        Ok(true)
    }

    /// Notes where the truth stands, if so many answers were given.
    fn note(&mut self) {
        let answers = self.work.tally.effort.answers;
        if !self.closed && AFTER.get(self.stands.len()) == Some(&answers) {
            self.stand(answers);
        }
    }

    fn stand(&mut self, answers: usize) {
        let ranking = Ranking::of(&self.sitting);
        let knowledge = &self.sitting.knowledge;
        let rank = |cause: &Id| {
            let of_list = || ranking.rank(knowledge, std::slice::from_ref(cause)).unwrap_or(usize::MAX);
            if self.work.is_found(cause) { 1 } else { of_list() }
        };
        let ranks = self.truth.iter().map(rank).collect();
        let first = ranking.0.first().map(|class| class.first.clone()).unwrap_or_default();
        if Believed::is_due(answers) {
            let there: Vec<Id> =
                self.truth.iter().filter(|cause| !self.work.tried.contains(&self.work.class(cause))).cloned().collect();
            self.believed = Believed::of(&self.sitting, &there);
        }
        self.stands.push(Stand { answers, ranks, first });
    }

    /// What stands now stands for all later answers: the asking has ended, or something is put right on the chance, and
    /// what comes of that is no merit of the list.
    fn close(&mut self) {
        if !self.closed {
            self.closed = true;
            for answers in AFTER.into_iter().skip(self.stands.len()) {
                self.stand(answers);
            }
        }
    }
}
