//! Turns the numbers of a job into a CSV table: one line per number taken, values in one unit and in SI.

use super::view::RecordView;
use crate::text::{clean, csv_cell};

const HEAD: &[&str] = &[
    "entry",
    "time",
    "reading",
    "name",
    "as entered",
    "value",
    "unit",
    "value in SI",
    "quantity",
    "healthy from",
    "healthy to",
    "verdict",
    "usual",
    "standing",
    "running state",
    "instrument",
    "check",
    "pump",
    "program",
    "knowledge release",
    "knowledge hash",
];

/// The table, LF at line ends; the head names the columns. A vacuum is a negative gauge pressure.
pub(super) fn render(view: &RecordView) -> String {
    let mut table = line(HEAD.iter().map(|name| (*name).to_owned()));
    let number = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
    for row in &view.readings {
        let (gauge, made) = (&row.gauge, &view.made_with);
        let (from, to) = (gauge.healthy.map(|band| band.0), gauge.healthy.map(|band| band.1));
        table += &line(
            [
                row.entry.to_string(),
                row.at.clone(),
                row.id.clone(),
                row.name.clone(),
                row.entered.clone(),
                number(Some(gauge.value)),
                gauge.unit.clone(),
                number(Some(row.si)),
                row.quantity.clone(),
                number(from),
                number(to),
                gauge.verdict().to_owned(),
                number(gauge.usual),
                row.standing.to_owned(),
                row.running_state.clone(),
                row.instrument.clone(),
                row.check.clone().unwrap_or_default(),
                view.pump.clone(),
                made.program.clone(),
                made.release.clone(),
                made.hash.clone(),
            ]
            .into_iter(),
        );
    }
    table
}

fn line(cells: impl Iterator<Item = String>) -> String {
    let cells: Vec<String> = cells.map(|cell| csv_cell(&clean(&cell))).collect();
    cells.join(",") + "\n"
}
