//! Turns what is due into a lesson begun, or takes up a job that did not end.

use super::{Halt, Practice, PracticeChoice};
use crate::knowledge::schema::{Help, Id, Lesson};
use crate::practice::{Due, Exercise, Move, MoveLine, PRACTICE_VERSION, due, progress};

/// Groups listed at most.
const LISTED: usize = 12;

impl Practice<'_> {
    pub(super) fn run(&mut self, mut choice: PracticeChoice) -> Result<(), Halt> {
        self.say("Practice: pumps that are not there. Nothing of it reaches the real records.")?;
        if self.knowledge.all.lessons.is_empty() {
            return self.say("This knowledge has no lessons (`lessons` entries); nothing to practise.");
        }
        if choice.lesson.is_none()
            && let Some(moves) = self.book.take_up()
            && let Some(exercise) = self.again(&moves)?
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

    /// A job that did not end, made again from its moves.
    fn again(&mut self, moves: &[MoveLine]) -> Result<Option<Exercise>, Halt> {
        let Some(Move::Began { lesson, seed, help, knowledge, .. }) = moves.first().map(|line| &line.made) else {
            return Ok(None);
        };
        let named = self.knowledge.all.lessons.get(lesson).map(|lesson| lesson.name.clone());
        self.say(&format!("The last job did not end: {}.", named.unwrap_or_else(|| lesson.clone())))?;
        if *knowledge != self.knowledge.hash {
            self.say("The knowledge has changed since; some answers may differ.")?;
        }
        let mut exercise = match self.exercise(lesson, (*seed, *help)) {
            Ok(exercise) => exercise,
            Err(why) => {
                self.say(&format!("It cannot be taken up: {why}"))?;
                return Ok(None);
            }
        };
        for line in moves {
            let _ = exercise.make(&line.made); // what cannot be made again is left out
        }
        self.story(&exercise)?;
        self.found(&exercise)?;
        Ok(Some(exercise))
    }

    fn exercise(&self, lesson: &Id, (seed, help): (u64, Help)) -> Result<Exercise, String> {
        let entry = self.knowledge.all.lessons.get(lesson);
        let entry = entry.ok_or_else(|| format!("there is no lesson `{lesson}`"))?;
        let pump = self.book.pump(entry, seed)?;
        Exercise::begin(self.knowledge, lesson, (seed, help), pump).map_err(|error| error.to_string())
    }

    /// The planner on the same pump as a job.
    pub(super) fn twin(&self, exercise: &Exercise) -> Result<Exercise, String> {
        let lesson = exercise.lesson.1.help.max(exercise.help);
        self.exercise(&exercise.lesson.0, (exercise.seed, lesson))
    }

    /// Which lesson; nothing to leave.
    fn lesson(&mut self) -> Result<Option<Id>, Halt> {
        let (marked, trouble) = self.book.marked();
        self.say_all(&trouble)?;
        let today = self.book.today();
        let groups: Vec<Due> = due(self.knowledge, &marked, today).into_iter().take(LISTED).collect();
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
                "progress" => self.progress(&progress(&marked))?,
                id if self.knowledge.all.lessons.contains_key(id) => return Ok(Some(id.to_owned())),
                other => match other.parse::<usize>().ok().and_then(|number| groups.get(number.checked_sub(1)?)) {
                    Some(due) => return Ok(Some(due.lesson.clone())),
                    None => self.say(&format!("There is no lesson \"{other}\" here."))?,
                },
            }
        }
    }

    fn due_line(&self, due: &Due) -> String {
        let name = self.knowledge.all.lessons.get(&due.lesson).map_or("", |lesson| lesson.name.as_str());
        let when = match (due.on, due.is_due) {
            (None, _) => "new".to_owned(),
            (Some(_), true) => "due".to_owned(),
            (Some(on), false) => format!("again on {on}"),
        };
        format!("{}: {name} ({when})", due.alike.replace('_', " "))
    }

    /// Begins a lesson: saved first.
    fn begin(&mut self, lesson: &Id, (seed, help): (Option<u64>, Option<Help>)) -> Result<Option<Exercise>, Halt> {
        let Some(entry) = self.knowledge.all.lessons.get(lesson).cloned() else {
            self.say(&format!("There is no lesson `{lesson}`."))?;
            return Ok(None);
        };
        let seed = seed.unwrap_or_else(|| self.book.seed());
        let Some(help) = help.map_or_else(|| self.which_help(&entry), |help| Ok(Some(help)))? else { return Ok(None) };
        let begun = self.exercise(lesson, (seed, help)).and_then(|exercise| {
            let (lesson, knowledge) = (lesson.clone(), self.knowledge.hash.clone());
            self.book.begin(Move::Began { version: PRACTICE_VERSION, lesson, seed, help, knowledge })?;
            Ok(exercise)
        });
        match begun {
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
        let open: Vec<Help> =
            [Help::Shown, Help::Half, Help::Alone].into_iter().filter(|h| lesson.help <= *h).collect();
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
