//! Turns words such as "half, flooded" into the running state in which a reading is taken.

use super::part::Part;
use super::pump::Pump;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The running state of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct State {
    /// Speed, per cent of full speed; 0 = standing.
    pub speed: u8,
    /// The outlet.
    pub outlet: Outlet,
    /// The inlet.
    pub inlet: Inlet,
    /// The oil.
    pub oil: Oil,
    /// The orifice at the outlet.
    pub orifice: Orifice,
}

/// What the pump pushes against.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outlet {
    /// The working outlet.
    #[default]
    Working,
    /// The outlet is set until the working pressure stands.
    Held,
    /// Open to the tank.
    Open,
    /// Shut; all flow leaves by the relief.
    Shut,
}

/// Where the liquid comes from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Inlet {
    /// The line as found.
    #[default]
    AsFound,
    /// A vessel one metre above the pump on a short clean hose.
    Flooded,
}

/// Warmth of the oil.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Oil {
    /// At running temperature.
    #[default]
    Warm,
    /// As the room, just started.
    Cold,
}

/// What the flow leaves by.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Orifice {
    /// The one fitted.
    #[default]
    Fitted,
    /// One known to be good, in place of the working outlet.
    Known,
}

impl Default for State {
    fn default() -> Self {
        Self { speed: 100, outlet: Outlet::Working, inlet: Inlet::AsFound, oil: Oil::Warm, orifice: Orifice::Fitted }
    }
}

/// A word of a state and what it sets.
type Word = (&'static str, fn(&mut State));

/// The words of a state.
const WORDS: [Word; 13] = [
    ("full", |state| state.speed = 100),
    ("half", |state| state.speed = 50),
    ("standing", |state| state.speed = 0),
    ("working", |state| state.outlet = Outlet::Working),
    ("held", |state| state.outlet = Outlet::Held),
    ("open", |state| state.outlet = Outlet::Open),
    ("shut", |state| state.outlet = Outlet::Shut),
    ("as found", |state| state.inlet = Inlet::AsFound),
    ("flooded", |state| state.inlet = Inlet::Flooded),
    ("warm", |state| state.oil = Oil::Warm),
    ("cold", |state| state.oil = Oil::Cold),
    ("fitted", |state| state.orifice = Orifice::Fitted),
    ("known", |state| state.orifice = Orifice::Known),
];

impl State {
    /// The state that words name, parted by commas; a speed may be a percentage. What is not named is the usual.
    ///
    /// # Errors
    /// The word that names nothing.
    pub fn parse(words: &str) -> Result<Self, String> {
        Self::default().with_words(words)
    }

    /// The state with everything set that words name.
    ///
    /// # Errors
    /// As [`State::parse`].
    pub fn with_words(self, words: &str) -> Result<Self, String> {
        let mut state = self;
        for word in words.split(',').map(|word| word.trim().to_lowercase().replace('_', " ")) {
            if word.is_empty() {
                continue;
            }
            let per_cent = word.strip_suffix('%').and_then(|number| number.trim().parse::<u8>().ok());
            match (per_cent, WORDS.iter().find(|known| known.0 == word)) {
                (Some(speed), _) if speed <= 130 => state.speed = speed,
                (_, Some((_, set))) => set(&mut state),
                _ => return Err(word),
            }
        }
        Ok(state)
    }

    /// The words that name it, always in the same order; nothing for the usual state.
    pub fn key(self) -> String {
        let usual = Self::default();
        let mut words: Vec<String> = Vec::new();
        let speed = match self.speed {
            100 => String::new(),
            50 => "half".to_owned(),
            0 => "standing".to_owned(),
            speed => format!("{speed}%"),
        };
        words.push(speed);
        let rest = [
            (self.outlet != usual.outlet).then_some(match self.outlet {
                Outlet::Working => "working",
                Outlet::Held => "held",
                Outlet::Open => "open",
                Outlet::Shut => "shut",
            }),
            (self.inlet == Inlet::Flooded).then_some("flooded"),
            (self.oil == Oil::Cold).then_some("cold"),
            (self.orifice == Orifice::Known).then_some("known"),
        ];
        words.extend(rest.into_iter().flatten().map(str::to_owned));
        words.retain(|word| !word.is_empty());
        words.join(", ")
    }

    /// Everything it says, the usual included: what a person is asked to confirm.
    pub fn in_full(self) -> String {
        let speed = match self.speed {
            100 => "full speed".to_owned(),
            0 => "standing".to_owned(),
            50 => "half speed".to_owned(),
            speed => format!("{speed} % speed"),
        };
        let outlet = match self.outlet {
            Outlet::Working => "outlet working",
            Outlet::Held => "outlet held at working pressure",
            Outlet::Open => "outlet open to the tank",
            Outlet::Shut => "outlet shut, on the relief",
        };
        let inlet = if self.inlet == Inlet::Flooded { "inlet flooded" } else { "inlet as found" };
        let oil = if self.oil == Oil::Cold { "oil cold" } else { "oil warm" };
        let orifice = if self.orifice == Orifice::Known { ", known orifice" } else { "" };
        format!("{speed}, {outlet}, {inlet}, {oil}{orifice}")
    }

    /// The words a state may be named by.
    pub fn words() -> impl Iterator<Item = &'static str> {
        WORDS.iter().map(|word| word.0)
    }

    /// The pump in this state: what the state overrides, whatever is wrong with the pump. `sound` is the pump as built.
    pub fn put(self, pump: &mut Pump, sound: &Pump) {
        pump[Part::MotorSynchronous] *= f64::from(self.speed) / 100.0;
        if self.inlet == Inlet::Flooded {
            for (part, value) in [(Part::Level, 1.0), (Part::InletLength, 1.0), (Part::StrainerLosses, 0.0)] {
                pump[part] = value;
            }
            (pump[Part::Gas], pump[Part::Supply]) = (0.0, 1.0);
        }
        if self.orifice == Orifice::Known {
            pump[Part::OrificeArea] = sound[Part::OrificeArea];
            (pump[Part::OutletLosses], pump[Part::OutsideArea]) = (0.0, 0.0);
        }
    }
}

impl fmt::Display for State {
    /// What is not the usual, or "at work".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut words: Vec<String> = Vec::new();
        match self.speed {
            100 => {}
            0 => words.push("standing".to_owned()),
            50 => words.push("half speed".to_owned()),
            speed => words.push(format!("{speed} % speed")),
        }
        let outlet = match self.outlet {
            Outlet::Working => "",
            Outlet::Held => "outlet held at working pressure",
            Outlet::Open => "outlet open to the tank",
            Outlet::Shut => "outlet shut, on the relief",
        };
        let inlet = if self.inlet == Inlet::Flooded { "inlet flooded" } else { "" };
        let oil = if self.oil == Oil::Cold { "oil cold" } else { "" };
        let orifice = if self.orifice == Orifice::Known { "known orifice" } else { "" };
        words.extend([outlet, inlet, oil, orifice].into_iter().filter(|word| !word.is_empty()).map(str::to_owned));
        if words.is_empty() { f.write_str("at work") } else { f.write_str(&words.join(", ")) }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{Inlet, Oil, State};

    #[test]
    fn words_name_a_state_whatever_their_order() {
        let state = State::parse("cold, half,flooded").unwrap();
        assert_eq!((state.speed, state.inlet, state.oil), (50, Inlet::Flooded, Oil::Cold));
        assert_eq!(State::parse("flooded,50 %, cold").unwrap(), state);
        assert_eq!(state.to_string(), "half speed, inlet flooded, oil cold");
        assert_eq!(State::parse("").unwrap(), State::default());
        for words in ["", "half, held", "30%, shut, flooded, cold, known", "standing", "open"] {
            let state = State::parse(words).unwrap();
            assert_eq!(state.key(), words);
            assert_eq!(State::parse(&state.key()).unwrap(), state);
        }
        assert_eq!(state.in_full(), "half speed, outlet working, inlet flooded, oil cold");
        assert_eq!(state.with_words("full").unwrap().key(), "flooded, cold");
        assert_eq!(State::parse("half, drowned").unwrap_err(), "drowned");
    }
}
