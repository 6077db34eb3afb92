//! Turns effects into a changed job and a changed stack of pages.
//!
//! Saving comes first, applying after; where saving fails, nothing that was to follow is done.

use super::ScreenError;
use super::app::{App, Layer};
use super::frame::Message;
use super::page::{Desk, Effect, Kind, Page, Purpose};
use super::pages::{complaint, recap, stop, thinking};
use super::theme::next_theme;
use crate::job::{Event, IDLE_MINUTES, Sitting, Taken};
use std::rc::Rc;

/// Stops the rest of a list of effects.
struct Halted;

impl App<'_> {
    /// Carries out effects in order, up to the first that fails.
    pub(super) fn carry_out(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            if self.do_one(effect).is_err() {
                break;
            }
        }
        self.put_stop_on_top();
    }

    fn do_one(&mut self, effect: Effect) -> Result<(), Halted> {
        match effect {
            Effect::Keep(event) => return self.keep(event),
            Effect::Begin => return self.begin(),
            Effect::TakeUp(number) => {
                let taken = self.archive.resume(number);
                return self.taken(taken, true);
            }
            Effect::Open(page) => self.open(page),
            Effect::Close => {
                self.layers.pop();
            }
            Effect::ToJob => self.layers.truncate(self.job_layer() + 1),
            Effect::Job(page) => self.put_job_page(page),
            Effect::PumpSheet => self.write_sheet(),
            Effect::Record => self.write_record(),
            Effect::KeepUsual => self.keep_usual(),
            Effect::Say(text) => self.message = Some(Message { text, is_trouble: false }),
            Effect::NextTheme => self.message = Some(next_theme(&mut self.world.theme, &self.remember)),
            Effect::Leave => self.leave(),
        }
        Ok(())
    }

    /// After a pause what was proved counts no more: the key was meant for a page that is out of date.
    pub(super) fn notice_pause(&mut self) -> bool {
        let Some(desk) = &self.world.desk else { return false };
        if !desk.keeper.now().is_some_and(|now| desk.sitting.was_idle(now)) {
            return false;
        }
        let said = format!("Nothing was entered for over {IDLE_MINUTES} minutes: prove zero again before hands go in.");
        self.carry_out(vec![Effect::Keep(Event::Back), Effect::Say(said)]);
        true
    }

    fn trouble(&mut self, text: String) -> Result<(), Halted> {
        self.message = Some(Message { text, is_trouble: true });
        Err(Halted)
    }

    /// Saves an event, and only then applies it.
    fn keep(&mut self, event: Event) -> Result<(), Halted> {
        let Some(desk) = &mut self.world.desk else { return Err(Halted) };
        match desk.keeper.keep(event) {
            Ok(entry) => {
                desk.sitting.apply(entry);
                desk.unsaved = false;
            }
            Err(why) => {
                desk.unsaved = true;
                return self.trouble(format!("Not saved, so it does not count: {why}"));
            }
        }
        for layer in &mut self.layers {
            layer.page.refresh(&self.world);
        }
        let at = self.job_layer();
        if self.layers.get(at).is_some_and(|layer| layer.page.kind() == Kind::Step) {
            self.put_job_page(Box::new(thinking::Thinking::new(Purpose::Step)));
        }
        Ok(())
    }

    /// Place of the job's own page in the stack.
    fn job_layer(&self) -> usize {
        usize::from(self.layers.first().is_some_and(|layer| layer.page.kind() == Kind::Start))
    }

    /// Replaces the page at the bottom of the job.
    pub(super) fn put_job_page(&mut self, page: Box<dyn Page>) {
        let at = self.job_layer();
        match self.layers.get_mut(at) {
            Some(layer) => *layer = Layer { page, scroll: 0 },
            None => self.open(page),
        }
    }

    /// A new job, unless nothing is known of the family: then no file is left behind.
    fn begin(&mut self) -> Result<(), Halted> {
        let (family, all) = (self.world.family.clone(), &self.world.knowledge.all);
        if !all.causes.values().any(|cause| cause.shares.contains_key(&family)) {
            return self.trouble(format!("Nothing is known of the pump family `{family}`."));
        }
        let taken = self.archive.begin(&family);
        self.taken(taken, false)
    }

    fn taken(&mut self, taken: Result<Taken, String>, again: bool) -> Result<(), Halted> {
        let taken = match taken {
            Ok(taken) => taken,
            Err(why) => return self.trouble(why),
        };
        match self.take_up(taken, again) {
            Ok(()) => Ok(()),
            Err(error) => self.trouble(error.to_string()),
        }
    }

    /// Opens a job: a recap for one that is taken up again.
    pub(super) fn take_up(&mut self, taken: Taken, again: bool) -> Result<(), ScreenError> {
        let Taken { keeper, entries, notices } = taken;
        let sitting = Sitting::new(Rc::clone(&self.world.knowledge), entries)?;
        self.world.desk = Some(Desk { keeper, sitting, unsaved: false, record: None });
        if again || !notices.is_empty() {
            self.open(Box::new(recap::Recap::new(notices)));
        } else {
            self.open(Box::new(complaint::Complaint::new(&self.world)));
        }
        Ok(())
    }

    fn write_sheet(&mut self) {
        let Some(desk) = &self.world.desk else { return };
        let (name, text) = desk.sitting.sheet_file();
        self.message = Some(match self.archive.write_sheet(&name, &text) {
            Ok(place) => Message { text: format!("Pump sheet written: {place}"), is_trouble: false },
            Err(why) => Message { text: format!("Pump sheet not written: {why}"), is_trouble: true },
        });
    }

    fn write_record(&mut self) {
        let Some(desk) = &mut self.world.desk else { return };
        let text = (self.record)(&desk.sitting);
        match self.archive.write_record(desk.keeper.number(), &text) {
            Ok(place) => desk.record = Some(place),
            Err(why) => {
                let text = format!("The job is closed, but the record was not written: {why}");
                self.message = Some(Message { text, is_trouble: true });
            }
        }
    }

    /// Stores the good values for the next job of this pump.
    fn keep_usual(&mut self) {
        let Some(desk) = &self.world.desk else { return };
        let values = desk.sitting.good_values();
        let Some(pump) = desk.sitting.job.pump.as_ref().filter(|_| !values.is_empty()) else { return };
        if let Err(why) = self.archive.keep_usual(&pump.name, &values) {
            let text = format!("Saved, but its usual values were not kept for the next job: {why}");
            self.message = Some(Message { text, is_trouble: true });
        }
    }

    /// From a job to the list of jobs, if it was opened from there; else out.
    fn leave(&mut self) {
        let from_list = self.job_layer() == 1;
        match self.world.desk.take() {
            Some(desk) if from_list => {
                self.layers.truncate(1);
                self.world.jobs = self.archive.jobs();
                let (text, is_trouble) = saved(&desk);
                self.message = Some(Message { text, is_trouble });
            }
            _ => self.is_over = true,
        }
    }

    /// A stop rule that holds and has no answer lies on top of everything; one that holds no more goes.
    pub(super) fn put_stop_on_top(&mut self) {
        let stop = self.world.sitting().and_then(Sitting::stop);
        let rule = stop.as_ref().map(|stop| stop.rule.as_str());
        self.layers.retain(|layer| match layer.page.kind() {
            Kind::Stop(shown) => rule == Some(shown.as_str()),
            _ => true,
        });
        if let Some(stop) = stop
            && !self.layers.iter().any(|layer| matches!(layer.page.kind(), Kind::Stop(_)))
        {
            self.open(Box::new(stop::StopPage::new(stop)));
        }
    }
}

/// What is said on leaving a job, and whether it is trouble.
fn saved(desk: &Desk) -> (String, bool) {
    let place = format!("Job {} is saved in {}.", desk.keeper.number(), desk.keeper.place());
    if desk.unsaved {
        return (format!("The last entry could not be saved. Everything before it is. {place}"), true);
    }
    (place, false)
}
