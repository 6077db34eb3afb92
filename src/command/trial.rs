//! `weephole trial`: simulated jobs played by several threads, kept in a file if wanted, and told as figures.

use super::arguments::{Arguments, Trial};
use super::shelf::shown;
use super::{Failure, bring, print, trial_told};
use crate::exam::{Effort, ExamError, Ground, JobMarks, Kept, Settings, disagreements, report};
use crate::knowledge::{Graph, Knowledge};
use crate::store;
use serde_json::json;
use std::collections::BTreeMap;
use std::io::IsTerminal as _;
use std::path::Path;
use std::rc::Rc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

/// Jobs that are played by the rule of the screen too, where that is asked.
const PAIRED: usize = 50;
/// Finished jobs after which the file is saved again.
const SAVED_EVERY: usize = 8;
/// Largest file of finished jobs, bytes.
const KEPT_LIMIT: u64 = 1024 * 1024 * 1024;
/// Threads at most, where nobody says how many.
const THREADS: usize = 8;

/// One thing to be played.
#[derive(Debug, Clone, Copy)]
enum Task {
    /// A job by the base rule and in the fixed order.
    Job(usize),
    /// The same job by the rule of the screen.
    Full(usize),
}

impl Task {
    fn number(self) -> usize {
        match self {
            Self::Job(number) | Self::Full(number) => number,
        }
    }
}

/// What came of it.
enum Played {
    Job(Box<JobMarks>),
    Full(usize, Effort),
}

/// Everything played.
struct Results {
    jobs: BTreeMap<usize, JobMarks>,
    full: BTreeMap<usize, Effort>,
}

/// Runs `trial`.
pub fn run(arguments: &Arguments, trial: &Trial) -> Result<(), Failure> {
    let told = |failure: Failure| if trial.json { bring::failure_as_json(&failure) } else { failure };
    let knowledge = if trial.json { bring::knowledge_or_json(arguments)? } else { bring::knowledge(arguments)? };
    let settings = settings(&knowledge, trial).map_err(told)?;
    let results = play(&knowledge, &settings, trial).map_err(told)?;
    let graph = Graph::new(&knowledge, &settings.family, None);
    let jobs: Vec<JobMarks> = results.jobs.into_values().take(trial.jobs as usize).collect();
    let full: Vec<Effort> = results.full.into_values().collect();
    let report = report(&jobs, settings.outside, &full, disagreements(&knowledge, &graph));
    if trial.json {
        let mut value = json!(report);
        value["settings"] = json!(settings);
        value["knowledge"] = json!(knowledge.hash);
        print::json(&value);
    } else {
        print::out(&trial_told::told(&knowledge, &settings, &report));
    }
    Ok(())
}

fn settings(knowledge: &Knowledge, trial: &Trial) -> Result<Settings, Failure> {
    bring::known_family(knowledge, &trial.family)?;
    if trial.outside && 1 < trial.faults {
        return Err(Failure::Bad("--outside: such faults come one at a time; leave --faults out".to_owned()));
    }
    Ok(Settings {
        family: trial.family.clone(),
        seed: trial.seed,
        faults: usize::from(trial.faults),
        wrong: trial.wrong,
        cannot_tell: trial.cannot_tell,
        mismatch: trial.mismatch,
        outside: trial.outside,
        evenly: trial.evenly,
    })
}

/// Plays what is not kept yet.
fn play(knowledge: &Knowledge, settings: &Settings, trial: &Trial) -> Result<Results, Failure> {
    let kept = Kept::of(knowledge, settings);
    let jobs = trial.keep.as_deref().map_or_else(|| Ok(BTreeMap::new()), |path| read(&kept, path))?;
    let mut results = Results { jobs, full: BTreeMap::new() };
    let paired = if trial.paired { PAIRED.min(trial.jobs as usize) } else { 0 };
    let missing = (0..trial.jobs as usize).filter(|number| !results.jobs.contains_key(number)).map(Task::Job);
    let mut tasks: Vec<Task> = missing.chain((0..paired).map(Task::Full)).collect();
    // By pump, so that each thread makes every pump once.
    tasks.sort_by_key(|task| Ground::pump_of(task.number()));
    let cores = thread::available_parallelism().map_or(1, usize::from).min(THREADS);
    let threads = trial.threads.map_or(cores, usize::from).min(tasks.len());
    let next = AtomicUsize::new(0);
    let played = thread::scope(|scope| {
        let (say, hear) = channel();
        for _ in 0..threads {
            let (say, tasks, next) = (say.clone(), &tasks, &next);
            scope.spawn(move || work(knowledge, settings, (tasks, next), &say));
        }
        drop(say);
        gather(&hear, &mut results, (&kept, trial.keep.as_deref()), tasks.len())
    });
    // No thread takes up more work after an error.
    played.map(|()| results)
}

/// One thread: takes tasks in order, with the pump of the last one at hand.
fn work(
    knowledge: &Knowledge,
    settings: &Settings,
    (tasks, next): (&[Task], &AtomicUsize),
    say: &Sender<Result<Played, (usize, ExamError)>>,
) {
    let own = Rc::new(knowledge.clone());
    let mut at_hand: Option<(usize, Ground)> = None;
    while let Some(task) = tasks.get(next.fetch_add(1, Ordering::Relaxed)) {
        let done = on_its_pump(&mut at_hand, (&own, settings), *task).map_err(|error| (task.number(), error));
        if say.send(done).is_err() {
            break;
        }
    }
}

fn on_its_pump(
    at_hand: &mut Option<(usize, Ground)>,
    (knowledge, settings): (&Rc<Knowledge>, &Settings),
    task: Task,
) -> Result<Played, ExamError> {
    let pump = Ground::pump_of(task.number());
    let ground = match at_hand.take() {
        Some((known, ground)) if known == pump => ground,
        _ => Ground::new(knowledge, settings, pump)?,
    };
    let played = match task {
        Task::Job(number) => ground.play(number).map(|job| Played::Job(Box::new(job))),
        Task::Full(number) => ground.by_the_full_rule(number).map(|effort| Played::Full(number, effort)),
    };
    *at_hand = Some((pump, ground));
    played
}

/// Takes in what the threads played; saves and tells how far it is.
fn gather(
    hear: &Receiver<Result<Played, (usize, ExamError)>>,
    results: &mut Results,
    (kept, path): (&Kept, Option<&Path>),
    tasks: usize,
) -> Result<(), Failure> {
    let is_watched = std::io::stderr().is_terminal();
    let mut failed = None;
    for (done, played) in hear.iter().enumerate() {
        match played {
            Ok(Played::Job(job)) => {
                results.jobs.insert(job.number, *job);
            }
            Ok(Played::Full(number, effort)) => {
                results.full.insert(number, effort);
            }
            Err((number, error)) => {
                failed = Some(Failure::Could(format!("job {number}: {error}")));
                break;
            }
        }
        if is_watched {
            print::progress(&format!("{} of {tasks} played", done + 1), done + 1 == tasks);
        }
        if (done + 1) % SAVED_EVERY == 0 {
            save(kept, path, &results.jobs)?;
        }
    }
    save(kept, path, &results.jobs)?;
    failed.map_or(Ok(()), Err)
}

fn save(kept: &Kept, path: Option<&Path>, jobs: &BTreeMap<usize, JobMarks>) -> Result<(), Failure> {
    let Some(path) = path else { return Ok(()) };
    store::write_atomic(path, &kept.write(jobs)).map_err(|error| Failure::Could(error.to_string()))
}

fn read(kept: &Kept, path: &Path) -> Result<BTreeMap<usize, JobMarks>, Failure> {
    if !path.exists() {
        return Ok(BTreeMap::new());
    }
    let text = store::read_text(path, KEPT_LIMIT).map_err(|error| Failure::Bad(error.to_string()))?;
    kept.read(&text).map_err(|error| {
        let hint = "name another file to begin anew, or the settings it was made with";
        Failure::Bad(format!("{}: {error}; {hint}", shown(path)))
    })
}
