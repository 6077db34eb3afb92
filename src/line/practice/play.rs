//! Turns what is typed into the moves of a practice job.

use super::orders::{Order, order_of, practice_words, read};
use super::{Halt, Practice};
use crate::knowledge::schema::{Help, Id};
use crate::line::show::likely_line;
use crate::practice::{Exercise, Happened, Move, NotMade, Room};

/// Matches listed at most.
const LISTED: usize = 8;
/// Causes less probable than this are not told with an answer.
const LEAST: f64 = 0.05;
/// Points of a needle that are told.
const POINTS: usize = 12;

impl Practice<'_> {
    /// A job to its end, or until somebody leaves.
    pub(super) fn play(&mut self, mut exercise: Exercise) -> Result<(), Halt> {
        if exercise.help == Help::Shown {
            self.watch(&mut exercise)?;
        }
        while exercise.named.is_none() {
            self.say("")?;
            self.say("A check in your own words, or an order (`help` lists them):")?;
            let typed = self.read()?;
            match read(&typed) {
                Some(Order::Leave) => return Err(Halt::Leave),
                Some(order) => self.obey(&mut exercise, order)?,
                None if typed.is_empty() => {}
                None => self.check(&mut exercise, &typed)?,
            }
        }
        self.end(&exercise)
    }

    /// The planner does it, with reasons; Enter goes on.
    fn watch(&mut self, exercise: &mut Exercise) -> Result<(), Halt> {
        self.say("Watch it being done. Enter for the next step, `leave` to stop.")?;
        while exercise.named.is_none() {
            if self.read()? == "leave" {
                return Err(Halt::Leave);
            }
            let made = Room::planned(exercise);
            self.reasons(exercise, &made)?;
            self.make(exercise, made)?;
        }
        Ok(())
    }

    fn reasons(&mut self, exercise: &Exercise, made: &Move) -> Result<(), Halt> {
        let reasons = exercise.reasons(made);
        let lead = if reasons.step.is_some() { "Next: " } else { "" };
        self.say(&format!("{lead}{}", reasons.says))?;
        for answer in reasons.answers {
            let causes: Vec<String> = answer.likely.iter().filter(|(_, p)| LEAST < *p).map(of_20).collect();
            self.say(&format!("  If {}: {}", answer.words, causes.join(", ")))?;
        }
        Ok(())
    }

    fn obey(&mut self, exercise: &mut Exercise, order: Order) -> Result<(), Halt> {
        let helped = exercise.help <= Help::Half;
        match order {
            Order::Think(words) => match self.node(exercise, &words)? {
                Some(node) => self.make(exercise, Move::Thinks { node }),
                None => Ok(()),
            },
            Order::Name(words) => self.name(exercise, &words),
            Order::Isolate => self.make(exercise, Move::Isolates),
            Order::Ready => self.make(exercise, Move::Readies),
            Order::Stop => self.make(exercise, Move::Stops),
            Order::GiveUp => self.make(exercise, Move::GivesUp),
            Order::Found => self.found(exercise),
            Order::Needle(words) => self.needle(exercise, &words),
            Order::Hint if helped => {
                let made = Room::planned(exercise);
                self.reasons(exercise, &made)
            }
            Order::Likely if helped => self.likely(exercise),
            Order::Hint | Order::Likely => self.say("Not in this job: it is done alone."),
            Order::Help | Order::Leave => {
                let lines: Vec<String> = practice_words().map(|(form, does)| format!("  {form}: {does}")).collect();
                self.say_all(&lines)
            }
        }
    }

    /// Saves a move and makes it, and tells what came of it.
    fn make(&mut self, exercise: &mut Exercise, made: Move) -> Result<(), Halt> {
        let before = exercise.done.len();
        match self.room.make(exercise, made) {
            Ok(happened) => self.told(&happened)?,
            Err(NotMade::Stands(error)) => return self.say(&format!("{error}.")),
            Err(NotMade::NotSaved(why)) => {
                self.say(&format!("Not saved, so it was not done: {why}"))?;
                return Err(Halt::Leave);
            }
        }
        if before < exercise.done.len() && exercise.help == Help::Half {
            self.likely(exercise)?;
        }
        Ok(())
    }

    fn told(&mut self, happened: &Happened) -> Result<(), Halt> {
        match happened {
            Happened::Done(done) => {
                self.say(&format!("{}: {:.0} min.", done.name, done.minutes))?;
                for found in &done.found {
                    self.say(&format!("  {}: {}", found.name, found.words))?;
                }
                Ok(())
            }
            Happened::Unsafe(miss) => self.say(&format!(
                "STOP. Unsafe: {}. {}: order `{}`. This job is failed; go on and learn from it.",
                miss.what,
                miss.instead.0,
                order_of(&miss.instead.1)
            )),
            Happened::Noted => self.say("Noted."),
            Happened::Over => Ok(()),
        }
    }

    fn likely(&mut self, exercise: &Exercise) -> Result<(), Halt> {
        let rows: Vec<String> = exercise.sitting.likely(5).iter().map(likely_line).collect();
        self.say("Likely causes, of 20 jobs like this:")?;
        self.numbered(&rows)
    }

    fn check(&mut self, exercise: &mut Exercise, words: &str) -> Result<(), Halt> {
        let hits = exercise.checks_like(words, LISTED);
        if hits.is_empty() {
            return self.say("No check is called anything like that. Try the name of a part or a gauge.");
        }
        let lines: Vec<String> = hits.iter().map(|id| exercise.sitting.name_of(id)).collect();
        self.numbered(&lines)?;
        self.say("Which one? Enter for none.")?;
        match self.pick(hits.len())? {
            Some(at) => self.make(exercise, Move::Does { check: hits[at].clone() }),
            None => Ok(()),
        }
    }

    /// A cause, condition or damage by words.
    fn node(&mut self, exercise: &Exercise, words: &str) -> Result<Option<Id>, Halt> {
        let hits = exercise.nodes_like(words, LISTED);
        if hits.is_empty() {
            self.say("Nothing is called like that. Say it as `think WORDS` or `name WORDS`.")?;
            return Ok(None);
        }
        let lines: Vec<String> = hits.iter().map(|id| exercise.sitting.name_of(id)).collect();
        self.numbered(&lines)?;
        self.say("Which one? Enter for none.")?;
        Ok(self.pick(hits.len())?.map(|at| hits[at].clone()))
    }

    fn name(&mut self, exercise: &mut Exercise, words: &str) -> Result<(), Halt> {
        let mut nodes: Vec<(Id, f64)> = Vec::new();
        let mut words = words.to_owned();
        while !words.is_empty() {
            if let Some(node) = self.node(exercise, &words)? {
                self.say("How sure are you, 1 to 99 %?")?;
                let typed = self.read()?;
                match typed.trim_end_matches(['%', ' ']).replace(',', ".").parse::<f64>() {
                    Ok(sure) if (1.0..=99.0).contains(&sure) => nodes.push((node, sure / 100.0)),
                    _ => self.say("That is no number from 1 to 99; it was not taken.")?,
                }
            }
            self.say("Anything else that is the matter? Words, or Enter for nothing.")?;
            words = self.read()?;
        }
        if nodes.is_empty() { self.say("Nothing was named.") } else { self.make(exercise, Move::Names { nodes }) }
    }

    fn needle(&mut self, exercise: &mut Exercise, words: &str) -> Result<(), Halt> {
        let Some(reading) = exercise.reading_like(words) else { return self.say("No gauge is called like that.") };
        let course = exercise.needle(&reading);
        if course.is_empty() {
            return self.say("There is no needle to watch.");
        }
        self.say(&format!("{}:", exercise.sitting.name_of(&reading)))?;
        let every = course.len().div_ceil(POINTS);
        for (seconds, si) in course.into_iter().step_by(every) {
            let shown = exercise.sitting.quantity_of(&reading, si).map(crate::quantity::echo).unwrap_or_default();
            self.say(&format!("  {seconds:.2} s: {shown}"))?;
        }
        Ok(())
    }

    /// Marks, and what there is to learn.
    fn end(&mut self, exercise: &Exercise) -> Result<(), Halt> {
        let ended = match self.room.end(exercise) {
            Ok(ended) => ended,
            Err(why) => return self.say(&format!("The planner cannot play it: {why}")),
        };
        if let Some(why) = &ended.not_saved {
            self.say(&format!("The marks were not saved: {why}"))?;
        }
        self.debriefed(&ended.debrief, &ended.marks)
    }
}

/// A cause with its chance, as people weigh it.
fn of_20((name, chance): &(String, f64)) -> String {
    format!("{name} {:.0} of 20", 20.0 * chance)
}
