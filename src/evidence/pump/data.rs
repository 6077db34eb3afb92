//! Turns a pump sheet as read into the numbers of the physics, in a form that a journal can keep.

use crate::knowledge::schema::Id;
use crate::knowledge::sheet::{HowKnown, SheetRead};
use crate::physics::sheet::{Field, Known, PumpSheet};
use crate::quantity::Quantity;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// Share of what a pump sweeps that a healthy one delivers, for a displacement that only a usual flow tells.
const DELIVERED: f64 = 0.97;

/// The numbers of a pump sheet, in SI.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct PumpData {
    /// Chambers.
    #[serde(default)]
    pub chambers: Option<u32>,
    /// Equipment fitted, if known.
    #[serde(default)]
    pub fitted: Option<Vec<String>>,
    /// Numbers by field name, and how each is known.
    #[serde(default)]
    pub data: Vec<(String, f64, HowKnown)>,
    /// What the healthy pump read: running state in words (nothing = the reading's own), reading, value.
    #[serde(default)]
    pub baselines: Vec<(String, Id, f64)>,
}

impl PumpData {
    /// The numbers of a sheet.
    pub fn of(read: &SheetRead) -> Self {
        let known = |name: &String| read.sheet.known.get(name).copied().unwrap_or(HowKnown::Guessed);
        let mut data: Vec<(String, f64, HowKnown)> =
            read.data.iter().map(|(name, quantity)| (name.clone(), quantity.si(), known(name))).collect();
        let grade = Field::OilGrade.name();
        let told = data.iter().any(|(name, ..)| name == grade);
        if let Some(oil) = read.sheet.oil.as_deref().and_then(grade_in).filter(|_| !told) {
            data.push((grade.to_owned(), oil, HowKnown::ReadOff));
        }
        let usual = read.usual.iter().map(|(id, quantity)| (String::new(), id.clone(), quantity.si()));
        let more = read.baselines.iter().flat_map(|(state, readings)| {
            readings.iter().map(move |(id, quantity)| (state.clone(), id.clone(), quantity.si()))
        });
        let baselines = usual.chain(more).collect();
        Self { chambers: read.sheet.chambers, fitted: read.sheet.fitted.clone(), data, baselines }
    }

    /// True if nothing is known of the pump.
    pub fn is_empty(&self) -> bool {
        self.data.is_empty() && self.chambers.is_none()
    }

    /// The sheet of the physics. What it lacks of speed, displacement and pressure is taken from usual values.
    pub fn sheet(&self, usual: &IndexMap<Id, Quantity>) -> PumpSheet {
        let has = |what: &str| self.fitted.as_ref().map(|fitted| fitted.iter().any(|one| one == what));
        let mut sheet = PumpSheet {
            chambers: self.chambers,
            belt: has("belt"),
            damper: has("damper"),
            strainer: has("strainer"),
            ..PumpSheet::default()
        };
        for (name, value, how) in &self.data {
            if let Some(field) = Field::named(name) {
                sheet = sheet.with(field, *value, known(*how));
            }
        }
        let usual = |id: &str| usual.get(id).map(|quantity| quantity.si());
        let mut fill = |field: Field, value: Option<f64>| {
            if sheet.get(field).is_none()
                && let Some(value) = value
            {
                sheet = sheet.clone().with(field, value, Known::Guessed);
            }
            sheet.get(field)
        };
        let speed = fill(Field::PumpSpeed, usual("pump_rpm"));
        fill(Field::WorkingPressure, usual("outlet_pressure"));
        let per_turn = usual("delivered_flow_full").zip(speed).map(|(flow, speed)| flow / speed / DELIVERED);
        fill(Field::DisplacementPerTurn, per_turn);
        sheet
    }
}

fn known(how: HowKnown) -> Known {
    match how {
        HowKnown::Measured => Known::Measured,
        HowKnown::ReadOff => Known::ReadOff,
        HowKnown::Guessed => Known::Guessed,
    }
}

/// The viscosity at 40 °C that words such as "mineral oil, ISO VG 68" name, m²/s.
fn grade_in(words: &str) -> Option<f64> {
    let words = words.to_lowercase();
    let after = words.split("vg").nth(1)?.trim_start();
    let digits: String = after.chars().take_while(char::is_ascii_digit).collect();
    let grade: f64 = digits.parse().ok()?;
    (2.0..=2000.0).contains(&grade).then_some(grade * 1e-6)
}

#[cfg(test)]
mod tests {
    use super::grade_in;
    use crate::knowledge::sheet::FIELDS;
    use crate::physics::sheet::Field;

    #[test]
    fn a_grade_is_found_in_words() {
        let grade = |words: &str| grade_in(words).map(|grade| (grade * 1e6).round());
        assert_eq!(grade("mineral oil, ISO VG 68"), Some(68.0));
        assert_eq!(grade("VG100 synthetic"), Some(100.0));
        assert_eq!(grade_in("engine oil"), None);
    }

    /// The fields that a file may hold are those that the physics knows, and no others.
    #[test]
    fn fields_have_the_same_names_on_both_sides() {
        let of_files: Vec<&str> = FIELDS.iter().map(|field| field.0).collect();
        let of_physics: Vec<&str> = Field::ALL.iter().map(|field| field.1).collect();
        assert_eq!(of_files, of_physics);
    }
}
