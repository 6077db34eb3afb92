//! Turns orders about the pump sheet into lines and saved fields: what is known, what would help, the settings of a rebuild.

use super::console::Halt;
use super::session::Session;
use crate::job::{Refused, Setting};
use crate::knowledge::sheet::HowKnown;

impl Session<'_> {
    /// Shows the sheet, fills in a field, or writes the file.
    pub(super) fn sheet(&mut self, words: &str) -> Result<(), Halt> {
        match words.trim() {
            "" => self.sheet_so_far(),
            "save" => self.save_sheet(),
            words => self.fill(words),
        }
    }

    fn sheet_so_far(&mut self) -> Result<(), Halt> {
        self.say("Pump sheet:")?;
        for row in self.sitting.form() {
            let how = row.how.map_or_else(String::new, |how| format!(" ({})", how.words()));
            if !row.value.is_empty() {
                self.say(&format!("  {}: {}{how}", row.key, row.value))?;
            }
        }
        let rows = self.sitting.form();
        let open: Vec<&str> = rows.iter().filter(|row| row.value.is_empty()).map(|row| row.key.as_str()).collect();
        self.say(&format!("Not known: {}.", open.join(", ")))?;
        self.what_helps()?;
        self.say("`sheet FIELD VALUE measured`, `read off` or `guessed` fills one in; `sheet FIELD ?` empties it.")?;
        self.say(
            "`sheet healthy READING VALUE @ STATE` keeps what the healthy pump shows; `sheet save` writes the file.",
        )
    }

    /// Which fields would help most.
    fn what_helps(&mut self) -> Result<(), Halt> {
        let helps = self.sitting.helps();
        let one = |field: &str, share: f64| format!("{field} ({:.0} % of what is uncertain)", 100.0 * share);
        let told: Vec<String> = helps.iter().map(|helps| one(helps.field, helps.share)).collect();
        if told.is_empty() { Ok(()) } else { self.say(&format!("Would help most: {}.", told.join(", "))) }
    }

    fn fill(&mut self, words: &str) -> Result<(), Halt> {
        let (words, how) = how_known(words);
        let (key, value) = key_and_value(words);
        match self.sitting.fill(&key, value, how) {
            Ok(filled) => {
                if self.keep(filled.event)? {
                    self.say(&format!("Saved in this job: {}. `sheet save` writes the file.", filled.said))?;
                    self.what_helps()?;
                }
                Ok(())
            }
            Err(Refused::Unknown { word, near }) => {
                let near = near.map_or_else(String::new, |near| format!(" Did you mean `{near}`?"));
                self.say(&format!("`{word}` is not on the sheet.{near} `sheet` lists all fields."))
            }
            Err(refused) => self.say(&format!("Not taken: {refused}.")),
        }
    }

    fn save_sheet(&mut self) -> Result<(), Halt> {
        let (name, text) = self.sitting.sheet_file();
        match self.archive.write_sheet(&name, &text) {
            Ok(place) => self.say(&format!("Pump sheet written: {place}. `job --pump` takes it for the next job.")),
            Err(why) => self.say(&format!("Pump sheet not written: {why}")),
        }
    }

    /// The settings of a rebuild.
    pub(super) fn settings(&mut self) -> Result<(), Halt> {
        self.say("Settings for this pump; the maker's paper goes before them:")?;
        let settings = self.sitting.settings();
        self.say_settings(&settings, "  ")
    }

    /// Settings with this much before each line.
    pub(super) fn say_settings(&mut self, settings: &[Setting], lead: &str) -> Result<(), Halt> {
        for setting in settings {
            self.say(&format!("{lead}{}: {}", setting.title, setting.lines.join(" ")))?;
        }
        Ok(())
    }
}

/// The words without how it is known at their end.
fn how_known(words: &str) -> (&str, Option<HowKnown>) {
    let found = HowKnown::WORDS.iter().find_map(|(word, how)| Some((words.strip_suffix(word)?.trim_end(), Some(*how))));
    found.unwrap_or((words, None))
}

/// The field, `healthy` taking the reading behind it along, and its value.
fn key_and_value(words: &str) -> (String, &str) {
    let (first, rest) = words.split_once(char::is_whitespace).unwrap_or((words, ""));
    if first != "healthy" {
        return (first.to_owned(), rest.trim());
    }
    let rest = rest.trim();
    let (reading, value) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    (format!("healthy {reading}"), value.trim())
}

#[cfg(test)]
mod tests {
    use super::{HowKnown, how_known, key_and_value};

    #[test]
    fn a_field_its_value_and_how_it_is_known_are_told_apart() {
        assert_eq!(how_known("inlet_bore 38 mm read off"), ("inlet_bore 38 mm", Some(HowKnown::ReadOff)));
        assert_eq!(how_known("inlet_bore 38 mm"), ("inlet_bore 38 mm", None));
        assert_eq!(key_and_value("inlet_bore 38 mm"), ("inlet_bore".to_owned(), "38 mm"));
        let healthy = ("healthy outlet_pressure".to_owned(), "70 bar @ cold");
        assert_eq!(key_and_value("healthy outlet_pressure 70 bar @ cold"), healthy);
        assert_eq!(key_and_value("inlet_bore"), ("inlet_bore".to_owned(), ""));
    }
}
