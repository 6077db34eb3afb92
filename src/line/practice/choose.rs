//! Turns what is due into a lesson begun, or takes up a job that did not end.

use super::{Halt, Practice};
use crate::knowledge::schema::{Help, Id, Lesson};
use crate::practice::{Due, Exercise, PracticeChoice, TakenUp, open_helps};

/// Groups listed at most.
const LISTED: usize = 12;

impl Practice<'_> {
    pub(super) fn run(&mut self, mut choice: PracticeChoice) -> Result<(), Halt> {
        self.say("Practice: pumps that are not there. Nothing of it reaches the real records.")?;
        if self.room.knowledge().all.lessons.is_empty() {
            return self.say("This knowledge has no lessons (`lessons` entries); nothing to practise.");
        }
        if choice.lesson.is_none()
            && let Some(taken) = self.room.take_up()
            && let Some(exercise) = self.again(taken)?
        {
            self.play(exercise)?;
        }
        loop {
            let Some(lesson) = choice.lesson.take().map_or_else(|| self.lesson(), |id| Ok(Some(id)))? else {
                return Ok(());
            };
            let exercise = self.begin(&lesson, (choice.seed.take(), choice.help.take()))?;
            if let Some(exercise) = exercise {
                self.play(exercise)?;
            }
        }
    }

    /// A job that did not end: what was found so far.
    fn again(&mut self, taken: TakenUp) -> Result<Option<Exercise>, Halt> {
        self.say_all(&taken.notices)?;
        match taken.exercise {
            Ok(exercise) => {
                self.story(&exercise)?;
                self.found(&exercise)?;
                Ok(Some(exercise))
            }
            Err(why) => {
                self.say(&format!("It cannot be taken up: {why}"))?;
                Ok(None)
            }
        }
    }

    /// Which lesson; nothing to leave.
    fn lesson(&mut self) -> Result<Option<Id>, Halt> {
        let (mut groups, progress, trouble) = self.room.stand();
        groups.truncate(LISTED);
        self.say_all(&trouble)?;
        self.say("")?;
        self.say("What to practise; what looks alike comes back at growing intervals:")?;
        let lines: Vec<String> = groups.iter().map(|due| self.due_line(due)).collect();
        self.numbered(&lines)?;
        loop {
            self.say("A number, a lesson by its id, `progress`, Enter for the first, or `leave`.")?;
            let typed = self.read()?;
            match typed.as_str() {
                "" => return Ok(groups.first().map(|due| due.lesson.clone())),
                "leave" => return Ok(None),
                "progress" => self.progress(&progress)?,
                id if self.room.knowledge().all.lessons.contains_key(id) => return Ok(Some(id.to_owned())),
                other => match other.parse::<usize>().ok().and_then(|number| groups.get(number.checked_sub(1)?)) {
                    Some(due) => return Ok(Some(due.lesson.clone())),
                    None => self.say(&format!("There is no lesson \"{other}\" here."))?,
                },
            }
        }
    }

    fn due_line(&self, due: &Due) -> String {
        let name = self.room.knowledge().all.lessons.get(&due.lesson).map_or("", |lesson| lesson.name.as_str());
        format!("{}: {name} ({})", due.group(), due.when())
    }

    /// Begins a lesson: saved first.
    fn begin(&mut self, lesson: &Id, (seed, help): (Option<u64>, Option<Help>)) -> Result<Option<Exercise>, Halt> {
        let Some(entry) = self.room.knowledge().all.lessons.get(lesson).cloned() else {
            self.say(&format!("There is no lesson `{lesson}`."))?;
            return Ok(None);
        };
        let Some(help) = help.map_or_else(|| self.which_help(&entry), |help| Ok(Some(help)))? else { return Ok(None) };
        match self.room.begin(lesson, (seed, help)) {
            Ok(exercise) => {
                self.story(&exercise)?;
                Ok(Some(exercise))
            }
            Err(why) => {
                self.say(&format!("This lesson cannot be begun: {why}"))?;
                Ok(None)
            }
        }
    }

    fn which_help(&mut self, lesson: &Lesson) -> Result<Option<Help>, Halt> {
        if lesson.help == Help::Alone {
            self.say("This lesson is done alone.")?;
            return Ok(Some(Help::Alone));
        }
        let open = open_helps(lesson);
        let words: Vec<&str> = open.iter().map(|help| help.word()).collect();
        loop {
            self.say(&format!(
                "Help: {} (shown = watch the planner; half = likely causes and hints).",
                words.join(", ")
            ))?;
            let typed = self.read()?;
            if typed.is_empty() {
                return Ok(None);
            }
            if let Some(help) = Help::named(&typed).filter(|help| open.contains(help)) {
                return Ok(Some(help));
            }
        }
    }
}
