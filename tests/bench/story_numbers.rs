//! Turns the complaint stories into a table: answers until the true cause leads, with looks and words alone, and with numbers
//! in place of yes and no: first the gauges that tell the leading suspects apart on this pump, then the planner's questions.
//!
//! `cargo run --release --example story_numbers`. The pump is the invented triplex; the true cause's conditions, as far as
//! the physics knows them, move it at their median severity, and the gauges show what the model says.
//! A story whose cause moves no part of the model has no numbers to give and stands in the table with a dash.
#![allow(clippy::unwrap_used, clippy::print_stdout, dead_code)]

#[path = "../common/mod.rs"]
pub mod common;
#[path = "../common/pumps.rs"]
mod pumps;
#[path = "../common/stories.rs"]
mod stories;

use std::rc::Rc;
use stories::{MOST_ANSWERS, Story, Telling, rank, stories};
use weephole::evidence::{PumpData, PumpModel};
use weephole::job::{Event, Next, PumpNote, Sitting};
use weephole::knowledge::{Graph, Knowledge};
use weephole::physics::likelihood::Suspect;
use weephole::physics::steady::{Pump, Steady};

/// What a technician reads at the working pump without opening anything.
const GAUGES: [&str; 6] = [
    "outlet_pressure",
    "inlet_pressure_full",
    "pump_rpm",
    "motor_current",
    "delivered_flow_full",
    "once_per_turn_ripple",
];
/// A reading that tells the suspects apart by less is left alone; another bound may be given on the command line.
const TELLING: f64 = 2.5;

fn main() {
    let knowledge = Rc::new(common::shipped().knowledge);
    let telling = std::env::args().nth(1).map_or(TELLING, |bound| bound.parse().unwrap());
    let read = pumps::sheet(&knowledge, "triplex.pump.ron");
    let note = PumpNote::of(&read, &knowledge);
    let (graph, model) = pumps::model(&knowledge, &PumpData::of(&read));
    println!("{:<20} {:>18} {:>22}", "story", "words and looks", "with measured numbers");
    println!("{:<20} {:>18} {:>22}", "", "answers (place)", "answers (place)");
    let mut sums = [0, 0];
    let (mut fewer, mut counted) = (0, 0);
    for (name, story) in stories() {
        let gauges = Gauges::of(&story, &knowledge, (&graph, &model)).filter(|_| story.family == "oil_backed");
        let Some(gauges) = gauges.map(|gauges| Gauges { telling, ..gauges }) else {
            println!("{name:<20} {:>18} {:>22}", "-", "-");
            continue;
        };
        let plain = told(&story, &knowledge, None);
        let measured = told(&story, &knowledge, Some((&gauges, &note)));
        println!(
            "{name:<20} {:>18} {:>22}",
            format!("{} ({})", plain.0, plain.1),
            format!("{} ({})", measured.0, measured.1)
        );
        sums = [sums[0] + plain.0, sums[1] + measured.0];
        counted += 1;
        fewer += usize::from(measured.0 < plain.0);
    }
    println!("{:<20} {:>18} {:>22}", "sum", sums[0], sums[1]);
    println!("{fewer} of {counted} stories need fewer answers with numbers");
}

/// The pump with the conditions that the true cause leads to most strongly; `None` where physics knows none of them.
struct Gauges<'a> {
    knowledge: &'a Knowledge,
    model: &'a PumpModel,
    sound: Pump,
    pump: Pump,
    steady: Steady,
    telling: f64,
}

impl<'a> Gauges<'a> {
    fn of(story: &Story, knowledge: &'a Knowledge, (graph, model): (&Graph, &'a PumpModel)) -> Option<Self> {
        let cause = graph.node(story.truth.first()?)?;
        let suspects = model.suspects();
        let strength =
            |node: usize| graph.nodes[node].parents.iter().find(|link| link.0 == cause).map_or(0.0, |link| link.1);
        let moved = model.nodes().iter().enumerate().filter(|(_, node)| 0.0 < strength(**node));
        let (at, _) = moved.max_by(|a, b| strength(*a.1).total_cmp(&strength(*b.1)))?;
        let Suspect::Fault(effect) = &suspects[at] else { return None };
        let sound = model.built().pump;
        let mut pump = sound;
        effect.put(&mut pump, 0.5);
        Some(Self { knowledge, model, sound, pump, steady: Steady::new(sound.chambers), telling: TELLING })
    }

    /// The reading that tells the leading suspects apart best, if any does: how far their bands lie from the healthy one, by
    /// how probable they are, over the width of the healthy band.
    fn most_telling(&self, sitting: &Sitting, taken: &[String]) -> Option<(String, f64)> {
        let score = |id: &str| -> Option<f64> {
            let number = self.model.number(self.knowledge, id, 0.0, None)?;
            let healthy = self.model.band(&number, &[]).ok()??;
            let apart = |&node: &usize| {
                let band = self.model.band(&number, &[node]).ok()??;
                Some(sitting.present(node) * ((band.mid - healthy.mid) / (healthy.high - healthy.low)).abs().min(3.0))
            };
            Some(self.model.nodes().iter().filter_map(apart).sum())
        };
        let open = GAUGES.iter().filter(|id| !taken.iter().any(|done| done == *id));
        let scored = open.filter_map(|id| Some((score(id)?, *id)));
        let (best, id) = scored.max_by(|a, b| a.0.total_cmp(&b.0))?;
        (self.telling < best).then(|| Some((id.to_owned(), self.read(id)?)))?
    }

    fn read(&self, id: &str) -> Option<f64> {
        let number = self.model.number(self.knowledge, id, 0.0, None)?;
        let of = |pump: &Pump| {
            self.steady.solve(pump, &self.sound, number.state).ok().map(|all| all[number.output as usize])
        };
        let value = of(&self.pump)?;
        if number.of_healthy { Some(value / of(&self.sound)?) } else { Some(value) }
    }
}

/// Answers until the true cause leads, at most [`MOST_ANSWERS`], and its place then; numbers count as answers.
fn told(story: &Story, knowledge: &Rc<Knowledge>, gauges: Option<(&Gauges, &PumpNote)>) -> (usize, usize) {
    let mut telling = Telling::begin(story, knowledge, false);
    telling.answers = 0;
    if let Some((_, note)) = gauges {
        telling.job.happens(Event::Sheet { pump: Box::new((*note).clone()) });
    }
    let mut taken: Vec<String> = Vec::new();
    while telling.answers < MOST_ANSWERS && 1 < rank(&telling.job.sitting, story) {
        let number = gauges.and_then(|(gauges, _)| gauges.most_telling(&telling.job.sitting, &taken));
        if let Some((reading, si)) = number {
            telling.answers += 1;
            taken.push(reading.clone());
            telling.job.happens(Event::Measured { reading, text: String::new(), si, check: None });
            continue;
        }
        match telling.job.sitting.next() {
            Next::Stop(stop) => {
                let words = "shut down by the operator".to_owned();
                telling.job.happens(Event::StopAnswered { rule: stop.rule, stopped: true, words });
            }
            Next::Gate(gate) => telling.job.pass(&gate),
            Next::Ask(step) => {
                let ask = stories::best_ask(&step).id.clone();
                telling.reply(story, Some(&step.check), &ask);
            }
            Next::Sheet(_) | Next::Try(_) | Next::Return(_) | Next::Ended(_) => break,
        }
    }
    (telling.answers, rank(&telling.job.sitting, story))
}
