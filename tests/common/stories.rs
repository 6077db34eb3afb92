//! Turns complaint stories into jobs: the story is told and the planner's questions are answered from it.

#![allow(dead_code, clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::print_stdout)]

use super::common::{self, MemoryJob};
use indexmap::IndexMap;
use serde::Deserialize;
use std::rc::Rc;
use weephole::evidence::Answer;
use weephole::job::{AskView, Event, Next, Sitting, StepView};
use weephole::knowledge::{Knowledge, ron_options};

/// A story as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Story {
    pub title: String,
    /// Where the course of events comes from.
    pub source: String,
    pub family: String,
    /// The operator's words.
    pub words: String,
    /// Findings they name.
    pub complaint: Vec<String>,
    /// Choice (from 0) for each question of the first minute.
    #[serde(default)]
    pub first_minute: IndexMap<String, usize>,
    /// What the person knows or can find out.
    pub knows: IndexMap<String, Answer>,
    /// What the person tells unasked, right after the first minute (each also in `knows` or `reads`).
    #[serde(default)]
    pub tells: Vec<String>,
    /// Numbers the person can read.
    #[serde(default)]
    pub reads: IndexMap<String, String>,
    /// Usual values on this pump.
    #[serde(default)]
    pub usual: IndexMap<String, String>,
    /// Checks the person can carry out in full: direct looks in them come out true.
    #[serde(default)]
    pub can_do: Vec<String>,
    /// Answers in `knows` that mislead; the first is told unasked, as are two things the person cannot tell.
    pub misleading: Vec<String>,
    /// True causes.
    pub truth: Vec<String>,
}

/// Replies to a step, counted.
pub struct Telling {
    pub job: MemoryJob,
    pub answers: usize,
    pub cant_tell: usize,
    pub misled: usize,
    pub trace: bool,
}

pub const MOST_ANSWERS: usize = 12;

impl Telling {
    pub fn begin(story: &Story, knowledge: &Rc<Knowledge>, trace: bool) -> Self {
        let job = MemoryJob::open(Rc::clone(knowledge), &story.family);
        let mut telling = Self { job, answers: 0, cant_tell: 0, misled: 0, trace };
        let said = telling.job.sitting.complaint(&story.words, &story.complaint);
        telling.job.happens(said);
        for (question, choice) in &story.first_minute {
            let event = telling.job.sitting.first_minute(question, *choice).expect("a choice that exists");
            telling.job.happens(event);
        }
        for (reading, text) in &story.usual {
            let event = telling.job.sitting.usual(reading, text).unwrap().event;
            telling.job.happens(event);
        }
        let cannot = story.knows.iter().filter(|(_, answer)| !answer.speaks()).map(|(id, _)| id).take(2);
        for id in story.tells.iter().chain(cannot).chain(story.misleading.first()) {
            if telling.job.sitting.settled().contains(id) {
                continue;
            }
            telling.reply(story, None, id);
        }
        telling
    }

    pub fn reply(&mut self, story: &Story, check: Option<&str>, id: &str) {
        self.answers += 1;
        if let Some(text) = story.reads.get(id) {
            let event = self.job.sitting.measure(id, text, check).unwrap().event;
            self.say(&format!("{id} = {text}"));
            self.job.happens(event);
            return;
        }
        let answer = story.answer(&self.job.sitting.knowledge, check, id);
        self.cant_tell += usize::from(!answer.speaks());
        self.misled += usize::from(story.misleading.iter().any(|misleading| misleading == id));
        self.say(&format!("{id}: {}", answer.words()));
        let event = self.job.sitting.answer(id, answer, check).unwrap();
        self.job.happens(event);
    }

    pub fn say(&self, text: &str) {
        if self.trace {
            let top: Vec<String> =
                self.job.sitting.likely(3).iter().map(|row| format!("{} {:.2}", row.id, row.probability)).collect();
            println!("  {text}   (before: {})", top.join(", "));
        }
    }

    /// Lets the planner ask until it has ended or the answers are used up.
    pub fn go_on(&mut self, story: &Story) {
        while self.answers < MOST_ANSWERS {
            match self.job.sitting.next() {
                Next::Stop(stop) => {
                    let words = "shut down by the operator".to_owned();
                    self.job.happens(Event::StopAnswered { rule: stop.rule, stopped: true, words });
                }
                Next::Gate(gate) => self.job.pass(&gate),
                Next::Ask(step) => {
                    let ask = best_ask(&step).id.clone();
                    self.reply(story, Some(&step.check), &ask);
                }
                Next::Sheet(_) | Next::Try(_) | Next::Return(_) => panic!("nothing was put right"),
                Next::Ended(ending) => {
                    self.say(&format!("ended: {}", ending.words()));
                    break;
                }
            }
        }
    }
}

/// Place of the best placed true cause, from 1.
pub fn rank(sitting: &Sitting, story: &Story) -> usize {
    let rows = sitting.likely(usize::MAX);
    rows.iter().position(|row| story.truth.contains(&row.id)).unwrap() + 1
}

pub fn best_ask(step: &StepView) -> &AskView {
    step.asks.first().expect("a step asks something")
}

impl Story {
    pub fn answer(&self, knowledge: &Knowledge, check: Option<&str>, id: &str) -> Answer {
        if let Some(answer) = self.knows.get(id) {
            return *answer;
        }
        let looked_at = knowledge.all.findings.get(id).and_then(|finding| finding.verdict_on.clone());
        match looked_at {
            Some(node)
                if knowledge.all.causes.contains_key(&node)
                    && check.is_some_and(|check| self.can_do.iter().any(|done| done == check)) =>
            {
                if self.truth.contains(&node) { Answer::Yes } else { Answer::No }
            }
            _ => Answer::CantTell,
        }
    }
}

pub fn stories() -> Vec<(String, Story)> {
    let folder = common::root().join("tests/stories");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let text = std::fs::read_to_string(&path).unwrap();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            let story = ron_options().from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
            (name, story)
        })
        .collect()
}
