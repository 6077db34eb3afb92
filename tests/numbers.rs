//! Checks measured numbers in jobs: by the pump's model where a sheet is bound, by declared bands where none is; running
//! states; the pump sheet filled in inside a job; the settings of a rebuild; the line session that asks for them.
#![allow(clippy::unwrap_used, clippy::panic)]

mod common;
#[path = "common/pumps.rs"]
mod pumps;

use common::MemoryJob;
use std::rc::Rc;
use weephole::belief::Likelihood;
use weephole::evidence::Why;
use weephole::job::{Archive, Entry, Event, JobLine, Keeper, PumpNote, Refused, Sitting, Taken};
use weephole::knowledge::Knowledge;
use weephole::knowledge::sheet::HowKnown;
use weephole::line::{Options, run};

fn knowledge() -> Rc<Knowledge> {
    Rc::new(common::shipped().knowledge)
}

fn job(knowledge: &Rc<Knowledge>, with_sheet: bool) -> MemoryJob {
    let mut job = MemoryJob::open(Rc::clone(knowledge), "oil_backed");
    if with_sheet {
        let read = pumps::sheet(knowledge, "triplex.pump.ron");
        job.happens(Event::Sheet { pump: Box::new(PumpNote::of(&read, knowledge)) });
    }
    job
}

fn measure(job: &mut MemoryJob, reading: &str, text: &str) {
    let event = job.sitting.measure(reading, text, None).unwrap().event;
    job.happens(event);
}

fn present(sitting: &Sitting, id: &str) -> f64 {
    sitting.present(sitting.graph.node(id).unwrap())
}

/// Flow as ever and pressure low: the orifice. Both low with the speed: the belt.
#[test]
fn numbers_move_the_belief_by_the_model_of_the_pump() {
    let knowledge = knowledge();
    let mut worn = job(&knowledge, true);
    for (reading, text) in
        [("outlet_pressure", "42 bar"), ("delivered_flow_full", "30.6 L/min"), ("pump_rpm", "504 rpm")]
    {
        measure(&mut worn, reading, text);
    }
    assert_eq!(worn.sitting.evidence.joint.len(), 3);
    assert!(0.5 < present(&worn.sitting, "orifice_worn"), "{}", present(&worn.sitting, "orifice_worn"));
    let mut slips = job(&knowledge, true);
    for (reading, text) in [
        ("outlet_pressure", "57 bar"),
        ("delivered_flow_full", "27 L/min"),
        ("pump_rpm", "447 rpm"),
        ("motor_rpm", "1470 rpm"),
    ] {
        measure(&mut slips, reading, text);
    }
    let drive = ["belt_slip", "hub_slips", "ratio_low"].map(|id| present(&slips.sitting, id)).iter().sum::<f64>();
    assert!(0.8 < drive && present(&slips.sitting, "orifice_worn") < 0.1, "{drive}");
    let mut plain = job(&knowledge, false);
    measure(&mut plain, "outlet_pressure", "42 bar");
    assert!(plain.sitting.evidence.joint.is_empty());
    assert_eq!(plain.sitting.evidence.set_aside[0].why, Why::NoUsualValue);
    let event = plain.sitting.usual("outlet_pressure", "70 bar").unwrap().event;
    plain.happens(event);
    assert!(matches!(plain.sitting.evidence.used[0].1, Likelihood::Pulls { .. }), "by its band");
}

/// A healthy value of this pump goes before the sheet: what the sheet takes for a fault is this pump's habit.
#[test]
fn the_pumps_own_healthy_value_goes_before_the_sheet() {
    let knowledge = knowledge();
    let [mut by_sheet, mut by_baseline] = [job(&knowledge, true), job(&knowledge, true)];
    let event = by_baseline.sitting.usual("outlet_pressure", "60 bar").unwrap().event;
    by_baseline.happens(event);
    for job in [&mut by_sheet, &mut by_baseline] {
        measure(job, "outlet_pressure", "60 bar");
    }
    let at = |job: &MemoryJob| job.sitting.on_dial("outlet_pressure", 60e5).unwrap().words;
    assert!(at(&by_sheet).starts_with("below the healthy band"), "{}", at(&by_sheet));
    assert!(at(&by_baseline).starts_with("in the healthy band"), "{}", at(&by_baseline));
    assert!(by_baseline.sitting.dial("outlet_pressure").unwrap().basis.contains("own healthy value"));
    for id in ["orifice_worn", "relief_passing"] {
        assert!(present(&by_baseline.sitting, id) < present(&by_sheet.sitting, id), "{id}");
    }
}

/// What a number takes is made portion by portion while somebody is at the gauge; the belief is the same to the last bit.
#[test]
fn the_model_is_prepared_before_the_number_comes() {
    let knowledge = knowledge();
    let [mut prepared, mut at_once] = [job(&knowledge, true), job(&knowledge, true)];
    let mut portions = 1;
    while !prepared.sitting.prepare_for("outlet_pressure") {
        portions += 1;
    }
    assert!(10 < portions, "{portions}");
    assert!(prepared.sitting.prepare_for("outlet_pressure") && prepared.sitting.prepare_for("low_flow"));
    for job in [&mut prepared, &mut at_once] {
        measure(job, "outlet_pressure", "42 bar");
    }
    assert_eq!(prepared.sitting.likely(usize::MAX), at_once.sitting.likely(usize::MAX));
}

#[test]
fn numbers_that_fit_nothing_say_what_to_check() {
    let knowledge = knowledge();
    let mut job = job(&knowledge, true);
    measure(&mut job, "pump_rpm", "500 rpm");
    measure(&mut job, "motor_rpm", "1463 rpm");
    assert_eq!(job.sitting.trouble(), None);
    measure(&mut job, "delivered_flow_full", "55 L/min");
    measure(&mut job, "nozzle_pressure", "140 %");
    measure(&mut job, "inlet_pressure_full", "60 kPa");
    let trouble = job.sitting.trouble().unwrap();
    assert!(trouble.contains("check the pump sheet, the gauge and the unit"), "{trouble}");
}

/// The running state is part of the key of a number, of its name, and of what is expected.
#[test]
fn a_number_in_another_running_state_is_a_number_of_its_own() {
    let knowledge = knowledge();
    let mut job = job(&knowledge, true);
    measure(&mut job, "outlet_pressure", "70 bar");
    measure(&mut job, "outlet_pressure", "18 bar @ half");
    let keys: Vec<&str> = job.sitting.job.given.keys().map(String::as_str).collect();
    assert_eq!(keys, ["outlet_pressure", "outlet_pressure@half"]);
    assert_eq!(job.sitting.evidence.joint.len(), 2);
    assert_eq!(job.sitting.name_of("outlet_pressure@half"), "outlet pressure (half speed)");
    let healthy = |key: &str| job.sitting.on_dial(key, 18e5).unwrap().words;
    assert!(
        healthy("outlet_pressure").starts_with("below")
            && healthy("outlet_pressure@half").starts_with("in the healthy")
    );
    assert!(job.sitting.settled().contains("outlet_pressure"), "nobody is asked twice");
    let refused = job.sitting.measure("outlet_pressure", "18 bar @ haf", None).unwrap_err();
    assert!(matches!(&refused, Refused::State(why) if why.contains("did you mean `half`?")), "{refused}");
    assert!(job.sitting.measure("oil_temperature", "50 degC @ cold", None).is_err(), "not of the model");
    let states = job.sitting.states_of("outlet_pressure");
    assert_eq!(
        states[0],
        ("outlet_pressure".to_owned(), "full speed, outlet working, inlet as found, oil warm".to_owned())
    );
    assert!(6 <= states.len() && states.iter().any(|(key, _)| key == "outlet_pressure@flooded"));
    let replayed = Sitting::new(Rc::clone(&knowledge), job.sitting.job.entries.clone()).unwrap();
    assert_eq!(replayed.evidence, job.sitting.evidence);
    let mut without = self::job(&knowledge, false);
    measure(&mut without, "outlet_pressure", "18 bar @ half");
    assert_eq!(without.sitting.evidence.set_aside[0].why, Why::OtherState);
}

#[test]
fn a_sheet_is_filled_in_field_by_field() {
    let knowledge = knowledge();
    let mut job = job(&knowledge, false);
    assert!(job.sitting.dial("outlet_pressure").is_none());
    for (key, text, how) in [
        ("chambers", "3", None),
        ("displacement_per_turn", "62.4 mL", Some(HowKnown::ReadOff)),
        ("pump_speed", "500 rpm", Some(HowKnown::Measured)),
        ("working_pressure", "1015 psi", None),
        ("healthy delivered_flow_full", "30 L/min", None),
        ("healthy outlet_pressure", "17 bar @ half", None),
    ] {
        let event = job.sitting.fill(key, text, how).unwrap().event;
        job.happens(event);
    }
    let dial = job.sitting.dial("outlet_pressure").unwrap();
    assert!(!dial.suspects.is_empty() && dial.suspects.len() <= 3, "{dial:?}");
    let helps: Vec<&str> = job.sitting.helps().iter().map(|helps| helps.field).collect();
    assert!(!helps.is_empty() && !helps.contains(&"pump_speed"), "{helps:?}");
    let row = |key: &str| job.sitting.form().into_iter().find(|row| row.key == key).unwrap();
    assert_eq!((row("pump_speed").value.as_str(), row("pump_speed").how), ("500 rpm", Some(HowKnown::Measured)));
    assert_eq!(row("healthy outlet_pressure@half").value, "17 bar");
    assert!(row("inlet_bore").value.is_empty());
    for (key, text, says) in [
        ("relief_setting", "60 bar", "the relief opens at 60.0 bar"),
        ("inlet_bore", "38 lm", "38 lm"),
        ("inlet_boar", "38 mm", "did you mean `inlet_bore`?"),
        ("chambers", "40", "1 to 10"),
    ] {
        let refused = job.sitting.fill(key, text, None).unwrap_err().to_string();
        assert!(refused.contains(says), "{key}: {refused}");
    }
    let (_, text) = job.sitting.sheet_file();
    let source = weephole::knowledge::SourceText { name: "saved".to_owned(), text };
    let read = weephole::knowledge::sheet::read_sheet(&source, &knowledge);
    assert!(read.problems.is_empty(), "{:?}", read.problems);
    assert_eq!(read.sheet, job.sitting.job.pump.as_ref().unwrap().sheet, "what is written reads back");
    let event = job.sitting.fill("working_pressure", "?", None).unwrap().event;
    job.happens(event);
    assert!(job.sitting.form().iter().any(|row| row.key == "working_pressure" && row.value.is_empty()));
}

#[test]
fn settings_demand_the_dial_reading() {
    let knowledge = knowledge();
    let mut job = job(&knowledge, true);
    let all = |sitting: &Sitting| {
        let told = |setting: &weephole::job::Setting| format!("{}: {}", setting.title, setting.lines.join(" "));
        sitting.settings().iter().map(told).collect::<Vec<_>>().join("\n")
    };
    let usual = all(&job.sitting);
    assert!(usual.contains("Set 0.15 mm = 0.0059"), "{usual}");
    assert!(usual.contains("common practice, no source") && usual.contains("dial"), "{usual}");
    for (key, text) in [("adjuster_pitch", "1.5 mm"), ("end_play", "0.2 mm"), ("bolt_torque", "50 N m")] {
        let event = job.sitting.fill(key, text, Some(HowKnown::ReadOff)).unwrap().event;
        job.happens(event);
    }
    let own = all(&job.sitting);
    assert!(
        own.contains("Set 0.2 mm") && own.contains("0.375 mm") && own.contains("never stand for the dial"),
        "{own}"
    );
    assert!(own.contains("15 N m") && own.contains("30 N m") && own.contains("50 N m"), "{own}");
    assert!(own.contains("Turn by hand until every chamber delivers"), "{own}");
}

/// One job in memory for a line session.
struct OneJob {
    entries: Vec<Entry>,
    sheets: Vec<(String, String)>,
}

struct Stamps(jiff::Timestamp);

impl Keeper for Stamps {
    fn keep(&mut self, event: Event) -> Result<Entry, String> {
        Ok(Entry { at: self.0, event })
    }

    fn place(&self) -> String {
        "memory".to_owned()
    }

    fn number(&self) -> u32 {
        1
    }
}

impl Archive for OneJob {
    fn jobs(&self) -> Vec<JobLine> {
        Vec::new()
    }

    fn begin(&mut self, _family: &str) -> Result<Taken, String> {
        Err("only one job".to_owned())
    }

    fn resume(&mut self, _number: u32) -> Result<Taken, String> {
        let at = self.entries.last().unwrap().at;
        Ok(Taken { keeper: Box::new(Stamps(at)), entries: self.entries.clone(), notices: Vec::new() })
    }

    fn write_sheet(&mut self, pump: &str, text: &str) -> Result<String, String> {
        self.sheets.push((pump.to_owned(), text.to_owned()));
        Ok("memory/pumps".to_owned())
    }

    fn write_record(&mut self, _number: u32, _markdown: &str) -> Result<String, String> {
        Err("no records".to_owned())
    }
}

#[test]
fn lines_ask_for_the_state_before_the_number() {
    let knowledge = knowledge();
    let mut job = job(&knowledge, true);
    let complaint = job.sitting.complaint("weak jet", &[]);
    job.happens(complaint);
    let mut archive = OneJob { entries: job.sitting.job.entries.clone(), sheets: Vec::new() };
    let place = |words: &str| {
        let hits = knowledge.observables(words, "oil_backed");
        hits.iter().position(|hit| hit.id == "outlet_pressure").unwrap() + 1
    };
    let which = place("outlet pressure").to_string();
    let tell = "tell outlet pressure";
    let lines = [
        tell,
        &which,
        "haf",
        "half",
        "12 bar",
        tell,
        &which,
        "",
        "70 bar",
        "sheet inlet_bore 25 mm measured",
        "sheet",
        "sheet inlet_boar 3 mm",
        "sheet save",
        "settings",
        "leave",
    ];
    let options = Options { family: "oil_backed".to_owned(), resume: Some(1), record: |_| String::new() };
    let mut out = Vec::new();
    run(&mut archive, Rc::clone(&knowledge), &mut lines.join("\n").as_bytes(), &mut out, options).unwrap();
    let out = String::from_utf8(out).unwrap();
    for wanted in [
        "Running state: full speed, outlet working, inlet as found, oil warm.",
        "did you mean `half`?",
        "Saved: outlet pressure (half speed): 12 bar gauge",
        "Beside what is expected: below the healthy band",
        "at a fixed orifice that is",
        "Saved: outlet pressure: 70 bar gauge",
        "Beside what is expected: in the healthy band, 100 % of what is expected",
        "Expected on this pump (computed from the pump sheet): ",
        "Saved in this job: inlet bore: 25 mm.",
        "  inlet_bore: 25 mm (measured)",
        "Would help most: ",
        "Did you mean `inlet_bore`?",
        "Pump sheet written: memory/pumps.",
        "  Bearing end play: Set 0.15 mm",
    ] {
        assert!(out.contains(wanted), "{wanted}\n---\n{out}");
    }
    assert!(archive.sheets[0].1.contains("\"inlet_bore\": \"25 mm\""), "{}", archive.sheets[0].1);
}
