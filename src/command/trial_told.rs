//! Turns the report of `weephole trial` into a table.

use crate::exam::{Confusion, Disagreement, Figure, Report, Settings};
use crate::knowledge::Knowledge;
use crate::simulation::faults;

/// Rows of the lists at the end.
const ROWS: usize = 10;
/// Columns of a name in the table.
const WIDE: usize = 44;

/// The report as text.
pub fn told(knowledge: &Knowledge, settings: &Settings, report: &Report) -> String {
    let mut lines = vec![beginning(settings, report), String::new()];
    for (name, figures) in
        [("first", &report.top1), ("in the first three", &report.top3), ("all in the first five", &report.all_in_top5)]
    {
        lines.extend(figures.iter().map(|(answers, figure)| percent(&format!("{name}, {answers} answers"), figure)));
    }
    lines.extend(
        report.outside_top3.iter().map(|figure| percent("\"not in this graph\" in the first three, 10", figure)),
    );
    lines.extend(effort(report));
    lines.push(number("calibration error after 10 answers", &report.calibration_error, 3));
    lines.push(number("Brier score after 10 answers, 0 to 1", &report.brier, 3));
    lines.extend(paired(report));
    lines.extend(list("Commonest confusions after 10 answers (true -> first):", &report.confusions, |one| {
        confusion(knowledge, one)
    }));
    let head = format!(
        "Graph and simulation part by more than two steps of the scale on {} links; the widest:",
        report.disagreements.len()
    );
    lines.extend(list(&head, &report.disagreements, disagreement));
    lines.join("\n")
}

fn beginning(settings: &Settings, report: &Report) -> String {
    let what = match (settings.outside, settings.faults) {
        (true, _) => "a fault outside the graph".to_owned(),
        (false, 1) => "one fault".to_owned(),
        (false, faults) => format!("{faults} faults"),
    };
    format!(
        "{} simulated jobs with {what}, seed {}; {:.1} % of answers wrong, {:.1} % can't-tell, strengths off by {} in \
         log-odds; {} pumps that showed nothing were drawn again. Causes with the same remedy count as one; 95 % intervals.",
        report.jobs,
        settings.seed,
        100.0 * settings.wrong,
        100.0 * settings.cannot_tell,
        settings.mismatch,
        report.redrawn
    )
}

fn effort(report: &Report) -> Vec<String> {
    vec![
        percent("solved", &report.solved),
        percent("solved, fixed order", &report.solved_fixed_order),
        number("minutes", &report.minutes_mean, 0),
        number("minutes, fixed order", &report.minutes_mean_fixed_order, 0),
        number("minutes, ratio to fixed order", &report.minutes_ratio_fixed_order, 2),
        number("answers, median", &report.questions_median, 0),
        number("openings", &report.openings_mean, 2),
        percent("wrong confirmations", &report.wrong_confirmations),
        percent("wrong confirmations, fixed order", &report.wrong_confirmations_fixed_order),
    ]
}

fn paired(report: &Report) -> Vec<String> {
    let Some(paired) = &report.paired else { return Vec::new() };
    vec![
        number("rule of the screen: minutes more", &paired.minutes_more, 1),
        number("rule of the screen: answers more", &paired.answers_more, 1),
        percent("rule of the screen: solved", &paired.solved),
        percent("base rule, same jobs: solved", &paired.solved_base_rule),
    ]
}

fn percent(name: &str, figure: &Figure) -> String {
    let times = |number: Option<f64>| number.map(|number| 100.0 * number);
    let hundred = Figure { value: times(figure.value), low: times(figure.low), high: times(figure.high), n: figure.n };
    row(name, &hundred, 1, " %")
}

fn number(name: &str, figure: &Figure, places: usize) -> String {
    row(name, figure, places, "")
}

fn row(name: &str, figure: &Figure, places: usize, unit: &str) -> String {
    let (Some(value), Some(low), Some(high)) = (figure.value, figure.low, figure.high) else {
        return format!("{name:WIDE$}  –");
    };
    format!("{name:WIDE$} {value:7.places$}{unit}   ({low:.places$} to {high:.places$}; {} jobs)", figure.n)
}

fn list<T>(head: &str, all: &[T], line: impl Fn(&T) -> String) -> Vec<String> {
    if all.is_empty() {
        return Vec::new();
    }
    let rows = all.iter().take(ROWS).map(|one| format!("  {}", line(one)));
    [String::new(), head.to_owned()].into_iter().chain(rows).collect()
}

fn confusion(knowledge: &Knowledge, one: &Confusion) -> String {
    let truth: Vec<&str> = one.truth.iter().map(|id| name(knowledge, id)).collect();
    format!("{:3}  {} -> {}", one.count, truth.join(" + "), name(knowledge, &one.first))
}

fn disagreement(one: &Disagreement) -> String {
    let Disagreement { finding, fault, graph, simulation, .. } = one;
    format!("{finding} of {fault}: graph {graph:.2}, simulation {simulation:.2}")
}

fn name<'a>(knowledge: &'a Knowledge, id: &'a str) -> &'a str {
    let known = knowledge.all.causes.get(id).map(|cause| cause.name.as_str());
    known.or_else(|| faults::named(id).map(|fault| fault.name)).unwrap_or(id)
}
