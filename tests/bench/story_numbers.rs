//! Turns the complaint stories into a table: answers until the true cause leads, with looks and words alone, and with the
//! numbers of the pump's gauges measured first.
//!
//! `cargo run --release --example story_numbers`. The pump is the invented triplex; the true cause's conditions, as far as
//! the physics knows them, move it at their median severity, and eight readings are taken at work. A story whose cause moves
//! none of them has no numbers to give and stands in the table with a dash.
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
use weephole::job::{Event, Next, PumpNote};
use weephole::knowledge::{Graph, Knowledge};
use weephole::physics::likelihood::Suspect;
use weephole::physics::steady::{Output, Readings, State, Steady};

/// What a technician reads in one round at the working pump, cheapest first.
const ROUND: [(&str, Output); 5] = [
    ("outlet_pressure", Output::OutletPressure),
    ("inlet_pressure_full", Output::InletPressure),
    ("pump_rpm", Output::PumpSpeed),
    ("motor_current", Output::MotorCurrent),
    ("delivered_flow_full", Output::DeliveredFlow),
];

fn main() {
    let knowledge = Rc::new(common::shipped().knowledge);
    let read = pumps::sheet(&knowledge, "triplex.pump.ron");
    let note = PumpNote::of(&read, &knowledge);
    let (graph, model) = pumps::model(&knowledge, &PumpData::of(&read));
    println!("{:<20} {:>18} {:>22}", "story", "words and looks", "with measured numbers");
    println!("{:<20} {:>18} {:>22}", "", "answers (place)", "answers (place)");
    let mut sums = [0, 0];
    let (mut fewer, mut counted) = (0, 0);
    for (name, story) in stories() {
        let Some(readings) = readings(&story, &graph, &model).filter(|_| story.family == "oil_backed") else {
            println!("{name:<20} {:>18} {:>22}", "-", "-");
            continue;
        };
        let plain = told(&story, &knowledge, None, None);
        let measured = told(&story, &knowledge, Some(note.clone()), Some(&readings));
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

/// What the gauges show with the conditions that the true cause leads to most strongly; `None` where physics knows none.
fn readings(story: &Story, graph: &Graph, model: &PumpModel) -> Option<Readings> {
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
    Steady::new(sound.chambers).solve(&pump, &sound, State::default()).ok()
}

/// Answers until the true cause leads and stays in front, at most [`MOST_ANSWERS`]; its place then. Numbers count as answers.
fn told(
    story: &Story,
    knowledge: &Rc<Knowledge>,
    note: Option<PumpNote>,
    readings: Option<&Readings>,
) -> (usize, usize) {
    let mut telling = Telling::begin(story, knowledge, false);
    telling.answers = 0;
    if let Some(note) = note {
        telling.job.happens(Event::Sheet { pump: Box::new(note) });
    }
    let mut round = readings.map(|readings| ROUND.map(|(id, output)| (id, readings[output as usize])).to_vec());
    while telling.answers < MOST_ANSWERS && 1 < rank(&telling.job.sitting, story) {
        if let Some((reading, si)) = round.as_mut().filter(|round| !round.is_empty()).map(|round| round.remove(0)) {
            telling.answers += 1;
            telling.job.happens(Event::Measured { reading: reading.to_owned(), text: String::new(), si, check: None });
            continue;
        }
        match telling.job.sitting.next() {
            Next::Stop(stop) => {
                let words = "shut down by the operator".to_owned();
                telling.job.happens(Event::StopAnswered { rule: stop.rule, stopped: true, words });
            }
            Next::Isolate(_) => {
                let words = "fitter, gauge and open drain".to_owned();
                telling.job.happens(Event::Isolation { proved: true, words });
            }
            Next::Ask(step) => {
                let ask = stories::best_ask(&step).id.clone();
                telling.reply(story, Some(&step.check), &ask);
            }
            Next::Ended(_) => break,
        }
    }
    (telling.answers, rank(&telling.job.sitting, story))
}
