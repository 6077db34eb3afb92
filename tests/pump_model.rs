//! Checks how pump sheets and the physics of the shipped knowledge come together in the evidence of a job.
#![allow(clippy::unwrap_used)]

mod common;
#[path = "common/pumps.rs"]
mod pumps;

use indexmap::IndexMap;
use proptest::prelude::*;
use std::cell::OnceCell;
use weephole::belief::{Likelihood, posterior};
use weephole::evidence::{Facts, Measured, PumpData, PumpModel, network, physics_problems, read_pump_sheet, weigh};
use weephole::knowledge::{Graph, Knowledge, SourceText, dimension_named, load};
use weephole::physics::likelihood::Suspect;
use weephole::quantity::Quantity;

/// The shipped knowledge with the model of the invented triplex, made once for each thread.
struct Bench {
    knowledge: Knowledge,
    graph: Graph,
    model: PumpModel,
}

thread_local! {
    static BENCH: OnceCell<Bench> = const { OnceCell::new() };
}

fn with_bench<T>(work: impl FnOnce(&Bench) -> T) -> T {
    BENCH.with(|cell| {
        work(cell.get_or_init(|| {
            let knowledge = common::shipped().knowledge;
            let (graph, model) = pumps::model(&knowledge, &PumpData::of(&pumps::sheet(&knowledge, "triplex.pump.ron")));
            Bench { knowledge, graph, model }
        }))
    })
}

fn measured(knowledge: &Knowledge, numbers: &[(&str, f64)]) -> IndexMap<String, Measured> {
    let quantity =
        |id: &str, si: f64| Quantity::new(dimension_named(&knowledge.all.readings[id].quantity).unwrap(), si).unwrap();
    numbers
        .iter()
        .map(|(id, si)| ((*id).to_owned(), Measured { quantity: quantity(id, *si), text: String::new() }))
        .collect()
}

/// Every condition and reading of the shipped knowledge that names physics names something that exists, and every condition
/// that a physical reading is moved by is known to the physics, but for those that are not of the steady model.
#[test]
fn the_shipped_knowledge_names_physics_that_exists() {
    let knowledge = common::shipped().knowledge;
    assert_eq!(physics_problems(&knowledge), Vec::new());
    with_bench(|bench| {
        let gauges = bench.model.suspects().iter().filter(|suspect| matches!(suspect, Suspect::Gauge(_))).count();
        assert_eq!((bench.model.nodes().len(), gauges), (38, 3));
    });
    let readings = knowledge.all.readings.values().filter(|reading| reading.physics.is_some()).count();
    assert_eq!(readings, 15);
}

#[test]
fn a_misspelt_name_is_found_at_its_place() {
    let text = r#"(
    version: 1,
    conditions: {
        "starved": (
            name: "starved",
            leak: 0.1,
            physics: moves([(what: "levle", by: add("-1 m", "-2 m"))]),
        ),
    },
    readings: {
        "vacuum": (
            name: "vacuum",
            question: "?",
            instrument: "gauge",
            running_state: "full",
            quantity: "gauge_pressure",
            unit: "kPa",
            healthy: between("-10 kPa", "0 kPa"),
            scale: ("-100 kPa", "100 kPa"),
            gauge_error: "1 kPa",
            physics: (shows: "inlet_pressure", state: "drowned"),
        ),
        "flow": (
            name: "flow",
            question: "?",
            instrument: "bucket",
            running_state: "full",
            quantity: "flow",
            unit: "L/min",
            healthy: of_usual(0.9, 1.1),
            scale: ("0 L/min", "100 L/min"),
            gauge_error: "1 L/min",
            physics: (shows: "outlet_pressure"),
        ),
    },
)"#;
    let loaded = load(vec![SourceText { name: "bad.ron".to_owned(), text: text.to_owned() }]);
    let problems = physics_problems(&loaded.knowledge);
    let said: Vec<(usize, &str, &str)> =
        problems.iter().map(|problem| (problem.line, problem.message.as_str(), problem.hint.as_str())).collect();
    assert_eq!(said[0], (7, "`levle` is not a part of the pump model", "did you mean `level`?"));
    assert!(said[1].0 == 21 && said[1].1 == "`drowned` is not a word of a running state", "{said:?}");
    assert!(said[2].0 == 33 && said[2].1.contains("this reading takes `flow`"), "{said:?}");
}

/// With a sheet all physical numbers are one factor; without one, or with one that tells too little, each stands alone.
#[test]
fn numbers_are_weighed_together_only_with_a_pump() {
    with_bench(|Bench { knowledge, graph, model }| {
        let numbers = [("outlet_pressure", 6e6), ("delivered_flow_full", 0.46e-3), ("oil_temperature", 330.0)];
        let facts = Facts { numbers: measured(knowledge, &numbers), ..Facts::default() };
        let with = weigh(knowledge, graph, &facts, Some(model));
        let factors = with.used.iter().filter(|(_, likelihood)| matches!(likelihood, Likelihood::Sets(_))).count();
        assert_eq!((factors, with.used.len()), (1, 2), "one factor, and the oil by its band");
        assert_eq!(with.joint, ["delivered_flow_full", "outlet_pressure"]);
        let without = weigh(knowledge, graph, &facts, None);
        assert!(without.joint.is_empty() && without.used.len() == 1, "the others want a usual value");
        let little = PumpModel::of(knowledge, graph, &PumpData::default(), &IndexMap::new()).unwrap();
        assert!(little.is_none());
    });
}

/// Usual values alone make a pump, once speed, flow and pressure are among them.
#[test]
fn a_baseline_alone_is_enough() {
    with_bench(|Bench { knowledge, graph, .. }| {
        let usual = [("outlet_pressure", 7e6), ("delivered_flow_full", 0.5e-3), ("pump_rpm", 8.333)];
        let usual: IndexMap<String, Quantity> =
            measured(knowledge, &usual).into_iter().map(|(id, measured)| (id, measured.quantity)).collect();
        let model = PumpModel::of(knowledge, graph, &PumpData::default(), &usual).unwrap().unwrap();
        let worn = [("outlet_pressure", 4.2e6), ("delivered_flow_full", 0.505e-3), ("pump_rpm", 8.35)];
        let facts = Facts { numbers: measured(knowledge, &worn), usual, ..Facts::default() };
        let evidence = weigh(knowledge, graph, &facts, Some(&model));
        let network = network(graph).unwrap();
        let [before, after] =
            [Vec::new(), evidence.likelihoods()].map(|seen| posterior(&network, &seen).unwrap().present);
        let of = |id: &str| graph.node(id).unwrap();
        let others = model.nodes().iter().filter(|node| **node != of("orifice_worn"));
        let next = others.map(|&node| after[node]).fold(0.0, f64::max);
        assert!(0.4 < after[of("orifice_worn")] && 2.0 * next < after[of("orifice_worn")], "{next}");
        assert!(after[of("valves_worn")] < before[of("valves_worn")], "as much flow as ever");
    });
}

#[test]
fn sheets_that_no_pump_can_have_are_found_at_their_place() {
    let knowledge = common::shipped().knowledge;
    for (line, says) in [
        (r#"data: {"working_pressure": "80 bar", "relief_setting": "70 bar"},"#, "the relief opens at 70.0 bar"),
        (r#"usual: {"inlet_pressure_full": "-31 inHg"},"#, "no gauge can show more vacuum here"),
        (r#"baselines: [(state: "half, drowned", readings: {"pump_rpm": "250 rpm"})],"#, "`drowned` is not a word"),
        (r#"known: {"levle": measured},"#, "`levle` is not among the data"),
    ] {
        let basis = r#""displacement_per_turn": "0.0624 L", "pump_speed": "500 rpm""#;
        let whole = if line.starts_with("data") {
            line.replace("data: {", &format!("data: {{{basis}, "))
        } else {
            format!(r#"data: {{{basis}, "working_pressure": "70 bar"}}, {line}"#)
        };
        let text = format!("(\nversion: 1,\nname: \"x\",\nfamily: \"oil_backed\",\n{whole}\n)");
        let source = SourceText { name: "x.pump.ron".to_owned(), text };
        let read = read_pump_sheet(&source, &knowledge);
        assert!(read.problems.iter().any(|problem| problem.message.contains(says)), "{says}: {:?}", read.problems);
        assert!(
            read.problems.iter().all(|problem| problem.line == 5 && !problem.hint.is_empty()),
            "{:?}",
            read.problems
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    /// Whatever the order of the facts, the evidence is the same to the last bit.
    #[test]
    fn the_order_of_numbers_does_not_matter(pressure in 2e6..9e6_f64, flow in 0.2e-3..0.6e-3_f64, inlet in -60e3..0.0_f64) {
        with_bench(|Bench { knowledge, graph, model }| {
            let numbers = [("outlet_pressure", pressure), ("inlet_pressure_full", inlet), ("delivered_flow_full", flow)];
            let turned = [numbers[1], numbers[2], numbers[0]];
            let [one, other] = [numbers, turned].map(|numbers| {
                let facts = Facts { numbers: measured(knowledge, &numbers), ..Facts::default() };
                weigh(knowledge, graph, &facts, Some(model))
            });
            prop_assert_eq!(one, other);
            Ok(())
        })?;
    }
}
