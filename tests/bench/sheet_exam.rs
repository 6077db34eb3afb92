//! Turns seeded pumps with faults into a table: how often a diagnosis that is more than 90 % sure is right, with a right
//! sheet and with one that is wrong in nine values by 5 to 10 %, with a healthy baseline and without.
//!
//! `cargo run --release --example sheet_exam -- [--json] [--seed N] [--jobs N]`. A job: causes and conditions drawn from the
//! shipped knowledge, one to three causes, at least one condition that the physics knows and at most three of them; severities
//! and the true pump drawn around the sheet; eight of the readings that the physics knows (one of fifty wild) and ten
//! findings answered with their declared errors. Marked are the conditions that the physics knows. The truth comes from the
//! steady model itself: what a model of other equations does to it is a question for a time-domain pump.
#![allow(clippy::unwrap_used, clippy::print_stdout, dead_code)]

#[path = "../common/mod.rs"]
pub mod common;
#[path = "exam_nets.rs"]
mod nets;
#[path = "../common/pumps.rs"]
mod pumps;

use indexmap::IndexMap;
use nets::Dice;
use serde_json::{Value, json};
use weephole::belief::{FOR_BELIEF, Likelihood, lighten, posterior, without};
use weephole::evidence::{Answer, Facts, Measured, PumpData, PumpModel, network, weigh};
use weephole::knowledge::sheet::HowKnown;
use weephole::knowledge::{Graph, Knowledge, dimension_named};
use weephole::physics::likelihood::{Number, Suspect};
use weephole::physics::steady::{Part, Pump, State, Steady};
use weephole::quantity::Quantity;

/// Numbers and findings of one job.
const NUMBERS: usize = 8;
const FINDINGS: usize = 10;
/// One number in so many is wild.
const WILD: f64 = 0.02;
/// A diagnosis counts as sure above this.
const SURE: f64 = 0.9;
/// The nine values that are wrong together, and by which part of the error.
const NINE: [(&str, f64); 9] = [
    ("displacement_per_turn", 1.0),
    ("pump_speed", 1.0),
    ("level_over_inlet", 1.0),
    ("inlet_length", 1.0),
    ("working_pressure", 1.0),
    ("relief_setting", 1.0),
    ("oil_grade", 1.0),
    ("motor_current_plate", 1.0),
    ("barometer", 0.3),
];

/// What the diagnosis is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Given {
    /// No numbers.
    Findings,
    /// Numbers by declared bands, usual values from a healthy baseline.
    Bands,
    /// Numbers by physics.
    Physics {
        /// The sheet is right.
        right: bool,
        /// Its numbers are said to be measured.
        measured: bool,
        /// There is a healthy baseline.
        baseline: bool,
    },
}

/// Everything asked of the exam, with its name in the table.
pub const ROWS: [(&str, Given); 8] = [
    ("findings alone", Given::Findings),
    ("declared bands, baseline", Given::Bands),
    ("right sheet", Given::Physics { right: true, measured: true, baseline: false }),
    ("right sheet, baseline", Given::Physics { right: true, measured: true, baseline: true }),
    ("wrong sheet, taken as measured", Given::Physics { right: false, measured: true, baseline: false }),
    ("wrong sheet, four times as wide", Given::Physics { right: false, measured: false, baseline: false }),
    ("wrong sheet, baseline", Given::Physics { right: false, measured: true, baseline: true }),
    ("wrong sheet, four times as wide, baseline", Given::Physics { right: false, measured: false, baseline: true }),
];

/// Marks of one way to diagnose.
#[derive(Default, Debug)]
pub struct Marks {
    /// Jobs.
    pub jobs: f64,
    /// Conditions held for more than 90 % sure.
    pub sure: f64,
    /// Those of them that are present.
    pub right: f64,
    /// The most probable condition is present.
    pub first: f64,
    /// Summed −ln of the probability given to what is so, over all conditions that the physics knows.
    pub loss: f64,
    /// Least squared distances, by jobs.
    pub misfits: f64,
}

/// The exam's pump on the shipped knowledge.
pub struct Exam {
    knowledge: Knowledge,
    graph: Graph,
    right: PumpData,
    truth: PumpModel,
    readings: Vec<String>,
    findings: Vec<String>,
}

/// One pump with its faults, and what was read and said.
struct Job {
    present: Vec<bool>,
    numbers: Vec<(String, f64)>,
    baseline: Vec<(String, f64)>,
    answers: Vec<(String, Answer)>,
    wrong: PumpData,
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let number = |name: &str, otherwise: u64| {
        let at = arguments.iter().position(|word| word == name);
        at.and_then(|at| arguments.get(at + 1)).map_or(otherwise, |text| text.parse().unwrap())
    };
    let (seed, jobs) = (number("--seed", 1), number("--jobs", 200));
    let marks = Exam::on_the_triplex().sit(seed, jobs, &ROWS.map(|row| row.1));
    let rows: Vec<Value> = ROWS.iter().zip(&marks).map(|((name, _), marks)| marks.told(name)).collect();
    if arguments.iter().any(|word| word == "--json") {
        println!("{}", json!({ "seed": seed, "jobs": jobs, "rows": rows }));
        return;
    }
    println!(
        "seed {seed}, {jobs} jobs\n{:<44} {:>6} {:>6} {:>9} {:>7} {:>7}",
        "", "sure", "right", "first", "loss", "misfit"
    );
    for ((name, _), marks) in ROWS.iter().zip(&marks) {
        println!(
            "{name:<44} {:>6.0} {:>5.0} % {:>7.0} % {:>7.2} {:>5.0} %",
            marks.sure,
            100.0 * marks.right / marks.sure.max(1.0),
            100.0 * marks.first / marks.jobs,
            marks.loss / marks.jobs,
            100.0 * marks.misfits / marks.jobs
        );
    }
}

impl Marks {
    fn told(&self, name: &str) -> Value {
        json!({ "given": name, "sure": self.sure, "right_when_sure": self.right / self.sure.max(1.0),
                "first_right": self.first / self.jobs, "loss": self.loss / self.jobs,
                "misfit": self.misfits / self.jobs })
    }
}

impl Exam {
    /// The invented triplex.
    pub fn on_the_triplex() -> Self {
        let knowledge = common::shipped().knowledge;
        let right = PumpData::of(&pumps::sheet(&knowledge, "triplex.pump.ron"));
        let (graph, truth) = pumps::model(&knowledge, &right);
        let known = |id: &&String| truth.number(&knowledge, id, 0.0, None).is_some();
        let readings = knowledge.all.readings.keys().filter(known).cloned().collect();
        let plain = |id: &&String| knowledge.all.findings[*id].verdict_on.is_none();
        let findings = graph.findings.keys().filter(plain).cloned().collect();
        Self { knowledge, graph, right, truth, readings, findings }
    }

    /// Marks of each way to diagnose, on the same jobs.
    pub fn sit(&self, seed: u64, jobs: u64, given: &[Given]) -> Vec<Marks> {
        let mut dice = Dice::new(seed);
        let mut marks: Vec<Marks> = given.iter().map(|_| Marks::default()).collect();
        for _ in 0..jobs {
            let job = self.job(&mut dice);
            let model = |measured: bool| self.wrong_model(&job.wrong, measured).unwrap();
            let wrong = [model(true), model(false)];
            for (given, marks) in given.iter().zip(&mut marks) {
                self.mark(&job, *given, &wrong, marks);
            }
        }
        marks
    }

    fn mark(&self, job: &Job, given: Given, wrong: &[PumpModel; 2], marks: &mut Marks) {
        let mut facts = Facts { answers: job.answers.iter().cloned().collect(), ..Facts::default() };
        let quantities = |list: &[(String, f64)]| -> IndexMap<String, Quantity> {
            list.iter().map(|(id, value)| (id.clone(), self.quantity(id, *value))).collect()
        };
        if given != Given::Findings {
            let measured = |quantity| Measured { quantity, text: String::new() };
            facts.numbers = quantities(&job.numbers).into_iter().map(|(id, q)| (id, measured(q))).collect();
        }
        let mut model = None;
        if let Given::Physics { right, measured, baseline } = given {
            model = Some(if right { &self.truth } else { &wrong[usize::from(!measured)] });
            facts.usual = if baseline { quantities(&job.baseline) } else { IndexMap::new() };
        } else if given == Given::Bands {
            facts.usual = quantities(&job.baseline);
        }
        let evidence = weigh(&self.knowledge, &self.graph, &facts, model);
        let present = self.belief(&evidence.likelihoods());
        marks.jobs += 1.0;
        marks.misfits += f64::from(u8::from(evidence.misfit));
        let nodes = self.truth.nodes();
        for &node in nodes {
            let p = present[node];
            let so = job.present[node];
            if SURE < p {
                marks.sure += 1.0;
                marks.right += f64::from(u8::from(so));
            }
            marks.loss -= libm::log(if so { p } else { 1.0 - p }.max(1e-9));
        }
        let first = nodes.iter().max_by(|a, b| present[**a].total_cmp(&present[**b])).unwrap();
        marks.first += f64::from(u8::from(job.present[*first]));
    }

    fn belief(&self, likelihoods: &[Likelihood]) -> Vec<f64> {
        let network = network(&self.graph).unwrap();
        let light = lighten(&network, likelihoods, FOR_BELIEF);
        posterior(&network, &without(likelihoods, &light.left_out)).unwrap().present
    }

    fn quantity(&self, id: &str, value: f64) -> Quantity {
        Quantity::new(dimension_named(&self.knowledge.all.readings[id].quantity).unwrap(), value).unwrap()
    }

    fn job(&self, dice: &mut Dice) -> Job {
        let present = loop {
            let present = self.drawn(dice);
            let suspects = self.truth.nodes().iter().filter(|&&node| present[node]).count();
            let causes = self.graph.of_kind(weephole::knowledge::NodeKind::Cause);
            let causes = causes.into_iter().filter(|&node| present[node]).count();
            if (1..=3).contains(&causes) && (1..=3).contains(&suspects) {
                break present;
            }
        };
        let sound = self.true_pump(dice);
        let mut pump = sound;
        let mut off = Vec::new();
        for (suspect, &node) in self.truth.suspects().iter().zip(self.truth.nodes()).filter(|(_, node)| present[**node])
        {
            match suspect {
                Suspect::Fault(effect) => effect.put(&mut pump, dice.share()),
                Suspect::Gauge(misread) => off.push((node, misread.clone(), bell(dice))),
            }
        }
        let steady = Steady::new(sound.chambers);
        let read = |id: &String,
                    pump: &Pump,
                    off: &[(usize, weephole::physics::likelihood::Misread, f64)],
                    dice: &mut Dice| {
            let number = self.truth.number(&self.knowledge, id, 0.0, None).unwrap();
            let mut value = Self::shown(&steady, pump, &sound, &number);
            for (_, misread, by) in off.iter().filter(|(_, misread, _)| misread.outputs.contains(&number.output)) {
                value += by * misread.by * if misread.share { value } else { 1.0 };
            }
            value += bell(dice) * number.error;
            if dice.share() < WILD {
                value = number.scale.0 + dice.share() * (number.scale.1 - number.scale.0);
            }
            (id.clone(), value)
        };
        let mut order: Vec<String> = self.readings.clone();
        shuffle(&mut order, dice);
        let numbers = order.iter().take(NUMBERS).map(|id| read(id, &pump, &off, dice)).collect();
        let baseline = self.readings.iter().map(|id| {
            let number = self.truth.number(&self.knowledge, id, 0.0, None).unwrap();
            (id.clone(), Self::shown(&steady, &sound, &sound, &number) + 0.5 * bell(dice) * number.error)
        });
        let baseline: Vec<(String, f64)> = baseline.collect();
        let answers = self.answers(&present, dice);
        Job { present, numbers, baseline, answers, wrong: self.wrong(dice) }
    }

    /// What a reading shows on a pump; swings as a share of the healthy pump's.
    fn shown(steady: &Steady, pump: &Pump, sound: &Pump, number: &Number) -> f64 {
        let at = |pump: &Pump, state: State| steady.solve(pump, sound, state).unwrap()[number.output as usize];
        let value = at(pump, number.state);
        if number.of_healthy { value / at(sound, number.state) } else { value }
    }

    /// The pump as it truly is: the measured sheet with its errors.
    fn true_pump(&self, dice: &mut Dice) -> Pump {
        let built = self.truth.built();
        built.widths.iter().fold(built.pump, |pump, &(part, width)| {
            let value = pump[part] + bell(dice) * width;
            pump.with(part, if part == Part::Level { value } else { value.max(0.0) })
        })
    }

    /// The model of a wrong sheet; none where its numbers cannot stand together, which the program says.
    fn wrong_model(&self, data: &PumpData, measured: bool) -> Option<PumpModel> {
        let mut data = data.clone();
        let known = if measured { HowKnown::Measured } else { HowKnown::Guessed };
        data.data.iter_mut().for_each(|entry| entry.2 = known);
        PumpModel::of(&self.knowledge, &self.graph, &data, &IndexMap::new()).ok().flatten()
    }

    /// The sheet with nine wrong values, drawn anew where it is no pump.
    fn wrong(&self, dice: &mut Dice) -> PumpData {
        loop {
            let data = self.with_nine_wrong(dice);
            if self.wrong_model(&data, true).is_some() {
                return data;
            }
        }
    }

    fn with_nine_wrong(&self, dice: &mut Dice) -> PumpData {
        let mut data = self.right.clone();
        for (name, part) in NINE {
            let sign = if dice.share() < 0.5 { -1.0 } else { 1.0 };
            let by = 1.0 + sign * part * (0.05 + 0.05 * dice.share());
            for entry in data.data.iter_mut().filter(|entry| entry.0 == name) {
                entry.1 *= by;
            }
        }
        data
    }

    fn drawn(&self, dice: &mut Dice) -> Vec<bool> {
        let mut present: Vec<bool> = Vec::new();
        for node in &self.graph.nodes {
            let parents = node.parents.iter().filter(|(parent, _)| present[*parent]);
            let absent = parents.fold(1.0 - node.leak, |absent, (_, strength)| absent * (1.0 - strength));
            present.push(dice.share() < 1.0 - absent);
        }
        present
    }

    fn answers(&self, present: &[bool], dice: &mut Dice) -> Vec<(String, Answer)> {
        let mut order = self.findings.clone();
        shuffle(&mut order, dice);
        let answer = |id: String| {
            let leaf = &self.graph.findings[&id];
            let parents = leaf.parents.iter().filter(|(parent, _)| present[*parent]);
            let absent = parents.fold(1.0 - leaf.leak, |absent, (_, strength)| absent * (1.0 - strength));
            let error = self.knowledge.all.findings[&id].error;
            let so = dice.share() < 1.0 - absent;
            let yes = if so { error.missed < dice.share() } else { dice.share() < error.false_yes };
            (id, if yes { Answer::Yes } else { Answer::No })
        };
        order.into_iter().take(FINDINGS).map(answer).collect()
    }
}

fn shuffle(list: &mut [String], dice: &mut Dice) {
    for last in (1..list.len()).rev() {
        list.swap(last, dice.below(last + 1));
    }
}

/// A bell curve of variance 1: the sum of twelve even draws less six.
fn bell(dice: &mut Dice) -> f64 {
    (0..12).map(|_| dice.share()).sum::<f64>() - 6.0
}
