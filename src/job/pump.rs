//! Turns a pump sheet into what a journal keeps of it.

use super::event::PumpNote;
use crate::evidence::PumpData;
use crate::knowledge::Knowledge;
use crate::knowledge::sheet::SheetRead;
use crate::quantity::echo_text;
use crate::text::clean;

impl PumpNote {
    /// What the journal keeps of a pump sheet: every line as shown, and the usual values.
    pub fn of(read: &SheetRead, knowledge: &Knowledge) -> Self {
        let sheet = &read.sheet;
        let mut lines: Vec<(String, String)> = Vec::new();
        let mut add = |label: &str, value: String| {
            if !value.trim().is_empty() {
                lines.push((label.to_owned(), clean(&value)));
            }
        };
        add("place", sheet.place.clone());
        add("chambers", sheet.chambers.map(|n| n.to_string()).unwrap_or_default());
        add("fitted", sheet.fitted.as_ref().map(|fitted| fitted.join(", ").replace('_', " ")).unwrap_or_default());
        add("liquid", sheet.liquid.clone().unwrap_or_default());
        add("oil", sheet.oil.clone().unwrap_or_default());
        for (field, quantity) in &read.data {
            add(&field.replace('_', " "), echo_text(&sheet.data[field], *quantity));
        }
        for (id, quantity) in &read.usual {
            let name = knowledge.all.readings.get(id).map_or(id.as_str(), |reading| reading.name.as_str());
            add(&format!("usual {name}"), echo_text(&sheet.usual[id], *quantity));
        }
        add("known by", sheet.known_by.clone());
        for remark in &sheet.remarks {
            add("remark", remark.clone());
        }
        Self {
            name: clean(&sheet.name),
            lines,
            fitted: sheet.fitted.clone(),
            usual: read.usual.iter().map(|(id, q)| (id.clone(), sheet.usual[id].clone(), q.si())).collect(),
            data: PumpData::of(read),
            sheet: sheet.clone(),
        }
    }
}
