//! Turns what a person knows of a pump into its sheet, field by field: every field may stay unknown.

use super::enter::{Refused, limited};
use super::event::{Event, PumpNote};
use super::sitting::Sitting;
use crate::evidence::{number_key, of_key, read_pump_sheet, shown};
use crate::knowledge::sheet::{Baseline, FIELDS, HowKnown, SHEET_VERSION, Sheet, write_sheet};
use crate::knowledge::{SourceText, applies, did_you_mean};

/// Rows that are no data with a unit.
const PLAIN: [&str; 2] = ["name", "chambers"];
/// Before the key of a reading: what the pump shows when healthy.
const HEALTHY: &str = "healthy ";
/// What stands for "not known".
const UNKNOWN: [&str; 4] = ["", "?", "-", "unknown"];

/// One row of the form.
#[derive(Debug, Clone, PartialEq)]
pub struct FormRow {
    /// What it is filled in by.
    pub key: String,
    /// As shown.
    pub label: String,
    /// As written; empty where it is not known.
    pub value: String,
    /// How it is known, for data.
    pub how: Option<HowKnown>,
}

/// A field filled in, understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    /// The event to save.
    pub event: Event,
    /// What it says now.
    pub said: String,
}

/// A field that would help if it were measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Helps {
    /// Field.
    pub field: &'static str,
    /// Share of a reading's spread that would go.
    pub share: f64,
}

impl Sitting {
    fn sheet(&self) -> Sheet {
        let bound = self.job.pump.as_ref().map(|pump| &pump.sheet).filter(|sheet| sheet.version != 0);
        bound.cloned().unwrap_or_else(|| Sheet {
            version: SHEET_VERSION,
            name: self.header().pump,
            family: self.job.family.clone(),
            ..Sheet::default()
        })
    }

    /// The form as it is filled in.
    pub fn form(&self) -> Vec<FormRow> {
        let sheet = self.sheet();
        let plain = PLAIN.iter().map(|&key| FormRow {
            key: key.to_owned(),
            label: key.to_owned(),
            value: match key {
                "name" => sheet.name.clone(),
                _ => sheet.chambers.map_or_else(String::new, |chambers| chambers.to_string()),
            },
            how: None,
        });
        let data = FIELDS.iter().map(|(name, _)| FormRow {
            key: (*name).to_owned(),
            label: name.replace('_', " "),
            value: sheet.data.get(*name).cloned().unwrap_or_default(),
            how: sheet.data.contains_key(*name).then(|| sheet.known.get(*name).copied().unwrap_or(HowKnown::Guessed)),
        });
        let mut rows: Vec<FormRow> = plain.chain(data).collect();
        rows.extend(self.healthy_rows(&sheet));
        rows
    }

    /// Readings that physics knows, with what the pump shows when healthy, in their own state and in those written down.
    fn healthy_rows(&self, sheet: &Sheet) -> Vec<FormRow> {
        let row = |key: &str, value: String| FormRow {
            key: format!("{HEALTHY}{key}"),
            label: format!("healthy: {}", self.name_of(key)),
            value,
            how: None,
        };
        let mut rows = Vec::new();
        for (id, reading) in self.knowledge.all.readings.iter().filter(|(_, reading)| shown(reading).is_some()) {
            if applies(&reading.families, &self.job.family) {
                rows.push(row(id, sheet.usual.get(id).cloned().unwrap_or_default()));
            }
            for baseline in &sheet.baselines {
                if let Some(value) = baseline.readings.get(id) {
                    rows.push(row(&number_key(id, &baseline.state), value.clone()));
                }
            }
        }
        rows
    }

    /// Fills in a field by its key; "?" or nothing empties it. A healthy value is filled in by `healthy READING`, with the
    /// running state behind `@`.
    pub fn fill(&self, key: &str, text: &str, how: Option<HowKnown>) -> Result<Filled, Refused> {
        let (mut sheet, text) = (self.sheet(), limited(text));
        let value = (!UNKNOWN.contains(&text.as_str())).then(|| text.clone());
        let mut label = key.replace('_', " ");
        match key {
            "name" => sheet.name = value.clone().unwrap_or_default(),
            "chambers" => sheet.chambers = chambers(value.as_deref())?,
            _ if key.starts_with(HEALTHY) => {
                label = self.fill_healthy(&mut sheet, &key[HEALTHY.len()..], value.clone())?;
            }
            _ if FIELDS.iter().any(|(name, _)| *name == key) => fill_data(&mut sheet, key, value.clone(), how),
            _ => {
                let names = FIELDS.iter().map(|(name, _)| *name).chain(PLAIN);
                let near = did_you_mean(key, names).map(str::to_owned);
                return Err(Refused::Unknown { word: limited(key), near });
            }
        }
        let source = SourceText { name: "this sheet".to_owned(), text: write_sheet(&sheet) };
        let read = read_pump_sheet(&source, &self.knowledge);
        if let Some(problem) = read.problems.first() {
            return Err(Refused::NotANumber(format!("{}; {}", problem.message, problem.hint)));
        }
        let event = Event::Sheet { pump: Box::new(PumpNote::of(&read, &self.knowledge)) };
        let said = value.map_or_else(|| format!("{label}: not known"), |value| format!("{label}: {value}"));
        Ok(Filled { event, said })
    }

    fn fill_healthy(&self, sheet: &mut Sheet, typed: &str, value: Option<String>) -> Result<String, Refused> {
        let (reading, words) = of_key(typed.trim());
        let (value, words) = match value.as_deref().and_then(|value| value.split_once('@')) {
            Some((value, words)) => (Some(value.trim().to_owned()), words.to_owned()),
            None => (value, words.to_owned()),
        };
        if !self.knowledge.all.readings.contains_key(reading) {
            let near = did_you_mean(reading, self.knowledge.all.readings.keys().map(String::as_str)).map(str::to_owned);
            return Err(Refused::Unknown { word: limited(reading), near });
        }
        let key = self.in_state(reading, &words)?;
        let (id, state) = of_key(&key);
        let place = if state.is_empty() {
            &mut sheet.usual
        } else {
            let at = sheet.baselines.iter().position(|baseline| baseline.state == state).unwrap_or_else(|| {
                sheet.baselines.push(Baseline { state: state.to_owned(), ..Baseline::default() });
                sheet.baselines.len() - 1
            });
            &mut sheet.baselines[at].readings
        };
        match value {
            Some(value) => drop(place.insert(id.to_owned(), value)),
            None => drop(place.shift_remove(id)),
        }
        sheet.baselines.retain(|baseline| !baseline.readings.is_empty());
        Ok(format!("healthy {}", self.name_of(&key)))
    }

    /// The sheet as a file: the pump's name, and the text.
    pub fn sheet_file(&self) -> (String, String) {
        let sheet = self.sheet();
        (sheet.name.clone(), write_sheet(&sheet))
    }

    /// The fields that blur the readings of this pump most and were not measured; without a model, those that make one.
    pub fn helps(&self) -> Vec<Helps> {
        match &self.pump {
            Some(pump) => {
                let found = pump.helps_most(&self.knowledge, &self.job.family).unwrap_or_default();
                found.into_iter().map(|(field, share)| Helps { field, share }).collect()
            }
            None => ["displacement_per_turn", "pump_speed", "working_pressure"]
                .map(|field| Helps { field, share: 1.0 })
                .to_vec(),
        }
    }
}

fn chambers(value: Option<&str>) -> Result<Option<u32>, Refused> {
    let Some(value) = value else { return Ok(None) };
    let found = value.trim().parse().ok().filter(|count| (1..=10).contains(count));
    found.map(Some).ok_or_else(|| Refused::NotANumber(format!("`{value}` is no number of chambers: 1 to 10")))
}

fn fill_data(sheet: &mut Sheet, field: &str, value: Option<String>, how: Option<HowKnown>) {
    if let Some(value) = value {
        sheet.data.insert(field.to_owned(), value);
        sheet.known.insert(field.to_owned(), how.unwrap_or(HowKnown::Guessed));
    } else {
        sheet.data.shift_remove(field);
        sheet.known.shift_remove(field);
    }
}
