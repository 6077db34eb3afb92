//! The RON form of a pump sheet (`*.pump.ron`): the data of one installed pump, every field may be unknown.
//!
//! Quantities stand as text with a unit and are checked here; nothing is computed from them in this folder.

use super::Knowledge;
use super::load::{SourceText, ron_options};
use super::outline::Outline;
use super::problem::{Problem, Severity, did_you_mean};
use super::schema::Id;
use super::translate;
use crate::quantity::{Dimension, Quantity, parse};
use crate::text::clean;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// Newest version of the sheet's file format.
pub const SHEET_VERSION: u32 = 1;

/// A pump sheet as written.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// File format.
    pub version: u32,
    /// What people on site call the pump.
    pub name: String,
    /// Family id.
    pub family: Id,
    /// Where it stands.
    #[serde(default)]
    pub place: String,
    /// Number of chambers.
    #[serde(default)]
    pub chambers: Option<u32>,
    /// Equipment fitted (`belt`, `damper`, `regulator`, …); not given = unknown.
    #[serde(default)]
    pub fitted: Option<Vec<String>>,
    /// Liquid pumped, in words.
    #[serde(default)]
    pub liquid: Option<String>,
    /// Grade of the oil behind the diaphragms, in words.
    #[serde(default)]
    pub oil: Option<String>,
    /// Data with units, by the names of [`FIELDS`].
    #[serde(default)]
    pub data: IndexMap<String, String>,
    /// Usual (healthy) value of readings on this pump, by reading id.
    #[serde(default)]
    pub usual: IndexMap<Id, String>,
    /// How the numbers are known.
    #[serde(default)]
    pub known_by: String,
    /// Free remarks.
    #[serde(default)]
    pub remarks: Vec<String>,
}

/// Data fields of a sheet with the kind of quantity each holds.
pub const FIELDS: &[(&str, Dimension)] = &[
    ("displacement_per_turn", Dimension::Volume),
    ("pump_speed", Dimension::Speed),
    ("motor_speed", Dimension::Speed),
    ("motor_power", Dimension::Power),
    ("motor_current_plate", Dimension::Current),
    ("supply_voltage", Dimension::Voltage),
    ("motor_sheave", Dimension::Length),
    ("pump_sheave", Dimension::Length),
    ("inlet_bore", Dimension::Length),
    ("inlet_length", Dimension::Length),
    ("level_over_inlet", Dimension::Length),
    ("liquid_temperature", Dimension::Temperature),
    ("altitude", Dimension::Length),
    ("working_pressure", Dimension::GaugePressure),
    ("relief_setting", Dimension::GaugePressure),
    ("orifice_bore", Dimension::Length),
    ("damper_charge", Dimension::GaugePressure),
    ("oil_fill", Dimension::Volume),
];

/// A sheet read: its fields as quantities, and everything wrong with it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SheetRead {
    /// The sheet as written.
    pub sheet: Sheet,
    /// Data by field.
    pub data: IndexMap<String, Quantity>,
    /// Usual values by reading.
    pub usual: IndexMap<Id, Quantity>,
    /// Problems.
    pub problems: Vec<Problem>,
}

/// Reads a pump sheet; problems are collected, not thrown.
pub fn read_sheet(source: &SourceText, knowledge: &Knowledge) -> SheetRead {
    let mut read = SheetRead::default();
    match ron_options().from_str::<Sheet>(&source.text) {
        Ok(sheet) => read.sheet = sheet,
        Err(error) => {
            read.problems.push(translate::problem(source, &error));
            return read;
        }
    }
    let mut reader = Reader { source, outline: Outline::read(&source.text).ok(), problems: Vec::new() };
    reader.keys_twice();
    reader.head(&read.sheet, knowledge);
    for (name, text) in &read.sheet.data {
        if let Some((_, dimension)) = FIELDS.iter().find(|(field, _)| field == name) {
            if let Some(quantity) = reader.quantity(&["data", name], text, *dimension) {
                read.data.insert(name.clone(), quantity);
            }
        } else {
            let known: Vec<&str> = FIELDS.iter().map(|(field, _)| *field).collect();
            reader.unknown(&["data", name], name, "a data field of a pump sheet", &known);
        }
    }
    for (id, text) in &read.sheet.usual {
        let dimension = knowledge.all.readings.get(id).and_then(|r| super::dimension_named(&r.quantity));
        if let Some(dimension) = dimension {
            if let Some(quantity) = reader.quantity(&["usual", id], text, dimension) {
                read.usual.insert(id.clone(), quantity);
            }
        } else {
            let known: Vec<&str> = knowledge.all.readings.keys().map(String::as_str).collect();
            reader.unknown(&["usual", id], id, "a reading", &known);
        }
    }
    read.problems = reader.problems;
    read
}

struct Reader<'a> {
    source: &'a SourceText,
    outline: Option<Outline>,
    problems: Vec<Problem>,
}

impl Reader<'_> {
    fn keys_twice(&mut self) {
        let found = self.outline.as_ref().map(Outline::duplicates).unwrap_or_default();
        for twice in found {
            let message = format!("`{}` stands twice; only the last would count", clean(twice.key()));
            let range = (twice.again.start, twice.again.end);
            let hint = "remove one of the two".to_owned();
            self.problems.push(self.source.problem(Severity::Error, "key_twice", range, message, hint));
        }
    }

    fn head(&mut self, sheet: &Sheet, knowledge: &Knowledge) {
        if sheet.version == 0 || SHEET_VERSION < sheet.version {
            let hint = format!("this program reads version {SHEET_VERSION}");
            self.add(&["version"], "newer_version", format!("version {} is not known here", sheet.version), hint);
        }
        if !knowledge.all.families.contains_key(&sheet.family) {
            let known: Vec<&str> = knowledge.all.families.keys().map(String::as_str).collect();
            self.unknown(&["family"], &sheet.family, "a pump family", &known);
        }
        if sheet.chambers.is_some_and(|chambers| !(1..=12).contains(&chambers)) {
            let hint = "write the number of diaphragms, 1 to 12".to_owned();
            self.add(&["chambers"], "bad_number", "no pump has this many chambers".to_owned(), hint);
        }
    }

    fn quantity(&mut self, path: &[&str], text: &str, dimension: Dimension) -> Option<Quantity> {
        match parse(text, dimension, None) {
            Ok(parsed) => Some(parsed.quantity),
            Err(error) => {
                let hint = format!("allowed units: {}", dimension.allowed_units());
                self.add(path, "bad_quantity", format!("`{}`: {error}", clean(text)), hint);
                None
            }
        }
    }

    fn unknown(&mut self, path: &[&str], word: &str, what: &str, known: &[&str]) {
        let hint = match did_you_mean(word, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known: {}", known[..known.len().min(20)].join(", ")),
        };
        self.add(path, "unknown_id", format!("`{}` is not {what}", clean(word)), hint);
    }

    fn add(&mut self, path: &[&str], rule: &'static str, message: String, hint: String) {
        let span = self.outline.as_ref().and_then(|outline| outline.find(path)).map_or((0, 0), |node| {
            let span = node.entry();
            (span.start, span.end)
        });
        self.problems.push(self.source.problem(Severity::Error, rule, span, message, hint));
    }
}
