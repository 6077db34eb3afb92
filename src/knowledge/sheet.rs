//! The RON form of a pump sheet (`*.pump.ron`): the data of one installed pump, every field may be unknown.
//!
//! Quantities stand as text with a unit and are checked here; nothing is computed from them in this folder.

use super::Knowledge;
use super::load::{SourceText, ron_options};
use super::problem::Problem;
use super::schema::Id;
use super::small_file::SmallFile;
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
    /// How data are known, by the names of [`FIELDS`]; a number not named here counts as guessed.
    #[serde(default)]
    pub known: IndexMap<String, HowKnown>,
    /// Usual (healthy) value of readings on this pump, by reading id.
    #[serde(default)]
    pub usual: IndexMap<Id, String>,
    /// What the healthy pump was once found to read, in one running state each.
    #[serde(default)]
    pub baselines: Vec<Baseline>,
    /// How the numbers are known, in words.
    #[serde(default)]
    pub known_by: String,
    /// Free remarks.
    #[serde(default)]
    pub remarks: Vec<String>,
}

/// How a number of a sheet is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HowKnown {
    /// Measured on this pump.
    Measured,
    /// Read off a plate, a scale or a paper.
    ReadOff,
    /// Guessed.
    Guessed,
}

/// What the healthy pump read in one running state.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Baseline {
    /// Words of the running state, parted by commas; nothing = the state each reading is usually taken in.
    #[serde(default)]
    pub state: String,
    /// When it was taken.
    #[serde(default)]
    pub taken: String,
    /// Values by reading id.
    pub readings: IndexMap<Id, String>,
}

/// Data fields of a sheet with the kind of quantity each holds.
pub const FIELDS: &[(&str, Dimension)] = &[
    ("displacement_per_turn", Dimension::Volume),
    ("pump_speed", Dimension::Speed),
    ("motor_speed", Dimension::Speed),
    ("motor_power", Dimension::Power),
    ("motor_current_plate", Dimension::Current),
    ("motor_current_idle", Dimension::Current),
    ("supply_voltage", Dimension::Voltage),
    ("motor_sheave", Dimension::Length),
    ("pump_sheave", Dimension::Length),
    ("inlet_bore", Dimension::Length),
    ("inlet_length", Dimension::Length),
    ("inlet_roughness", Dimension::Length),
    ("inlet_losses", Dimension::Number),
    ("strainer_losses", Dimension::Number),
    ("level_over_inlet", Dimension::Length),
    ("npsh_required", Dimension::Length),
    ("liquid_temperature", Dimension::Temperature),
    ("liquid_density", Dimension::Density),
    ("liquid_viscosity", Dimension::ViscosityDynamic),
    ("liquid_vapour_pressure", Dimension::AbsolutePressure),
    ("altitude", Dimension::Length),
    ("barometer", Dimension::AbsolutePressure),
    ("working_pressure", Dimension::GaugePressure),
    ("relief_setting", Dimension::GaugePressure),
    ("orifice_bore", Dimension::Length),
    ("orifice_coefficient", Dimension::Number),
    ("hose_volume", Dimension::Volume),
    ("damper_volume", Dimension::Volume),
    ("damper_charge", Dimension::GaugePressure),
    ("oil_grade", Dimension::ViscosityKinematic),
    ("oil_fill", Dimension::Volume),
    ("room_temperature", Dimension::Temperature),
    ("inlet_gauge_span", Dimension::PressureDifference),
    ("inlet_gauge_class", Dimension::Ratio),
    ("outlet_gauge_span", Dimension::PressureDifference),
    ("outlet_gauge_class", Dimension::Ratio),
    ("end_play", Dimension::Length),
    ("adjuster_pitch", Dimension::Length),
    ("bolt_torque", Dimension::Torque),
    ("bolt_size", Dimension::Length),
    ("bolt_pitch", Dimension::Length),
    ("bolt_proof", Dimension::PressureDifference),
    ("shaft_distance", Dimension::Length),
    ("bearing_seat", Dimension::Length),
    ("bearing_interference", Dimension::Length),
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
    /// Baselines: the running state in words, and values by reading.
    pub baselines: Vec<(String, IndexMap<Id, Quantity>)>,
    /// Problems.
    pub problems: Vec<Problem>,
}

/// A sheet as the text of its file.
pub fn write_sheet(sheet: &Sheet) -> String {
    let pretty = ron::ser::PrettyConfig::default().new_line("\n").struct_names(false);
    let text = ron_options().to_string_pretty(sheet, pretty).unwrap_or_default();
    format!(
        "// Pump sheet. Every field may be left out; what is not measured is better left out than guessed.\n{text}\n"
    )
}

impl HowKnown {
    /// Every way, as it is typed.
    pub const WORDS: [(&'static str, Self); 3] =
        [("measured", Self::Measured), ("read off", Self::ReadOff), ("guessed", Self::Guessed)];

    /// As shown.
    pub fn words(self) -> &'static str {
        Self::WORDS.iter().find(|known| known.1 == self).map_or("", |known| known.0)
    }
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
    let mut file = SmallFile::read(source);
    check_head(&mut file, &read.sheet, knowledge);
    for (name, text) in &read.sheet.data {
        if let Some((_, dimension)) = FIELDS.iter().find(|(field, _)| field == name) {
            if let Some(quantity) = quantity(&mut file, &["data", name], text, *dimension) {
                read.data.insert(name.clone(), quantity);
            }
        } else {
            file.unknown(&["data", name], name, "a data field of a pump sheet", FIELDS.iter().map(|(field, _)| *field));
        }
    }
    for name in read.sheet.known.keys() {
        if !read.sheet.data.contains_key(name) {
            file.unknown(
                &["known", name],
                name,
                "among the data of this sheet",
                read.sheet.data.keys().map(String::as_str),
            );
        }
    }
    read.usual = values(&mut file, knowledge, &["usual"], &read.sheet.usual);
    for (at, baseline) in read.sheet.baselines.iter().enumerate() {
        let path = ["baselines", &at.to_string(), "readings"];
        let found = values(&mut file, knowledge, &path, &baseline.readings);
        read.baselines.push((baseline.state.clone(), found));
    }
    read.problems = file.problems;
    read
}

/// Values of readings, by id.
fn values(
    file: &mut SmallFile,
    knowledge: &Knowledge,
    path: &[&str],
    texts: &IndexMap<Id, String>,
) -> IndexMap<Id, Quantity> {
    let mut found = IndexMap::new();
    for (id, text) in texts {
        let path: Vec<&str> = path.iter().copied().chain([id.as_str()]).collect();
        let dimension = knowledge.all.readings.get(id).and_then(|r| super::dimension_named(&r.quantity));
        if let Some(dimension) = dimension {
            found.extend(quantity(file, &path, text, dimension).map(|quantity| (id.clone(), quantity)));
        } else {
            file.unknown(&path, id, "a reading", knowledge.all.readings.keys().map(String::as_str));
        }
    }
    found
}

fn check_head(file: &mut SmallFile, sheet: &Sheet, knowledge: &Knowledge) {
    if sheet.version == 0 || SHEET_VERSION < sheet.version {
        let hint = format!("this program reads version {SHEET_VERSION}");
        file.add(&["version"], "newer_version", format!("version {} is not known here", sheet.version), hint);
    }
    let families = &knowledge.all.families;
    if !families.contains_key(&sheet.family) {
        file.unknown(&["family"], &sheet.family, "a pump family", families.keys().map(String::as_str));
    }
    if sheet.chambers.is_some_and(|chambers| !(1..=12).contains(&chambers)) {
        let hint = "write the number of diaphragms, 1 to 12".to_owned();
        file.add(&["chambers"], "bad_number", "no pump has this many chambers".to_owned(), hint);
    }
}

fn quantity(file: &mut SmallFile, path: &[&str], text: &str, dimension: Dimension) -> Option<Quantity> {
    match parse(text, dimension, None) {
        Ok(parsed) => Some(parsed.quantity),
        Err(error) => {
            let hint = format!("allowed units: {}", dimension.allowed_units());
            file.add(path, "bad_quantity", format!("`{}`: {error}", clean(text)), hint);
            None
        }
    }
}
