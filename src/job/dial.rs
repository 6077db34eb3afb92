//! Turns the pump's model into the dial of a reading: the healthy band, the bands of the leading suspects, the value entered.

use super::sitting::Sitting;
use crate::evidence::{Band, Number, Output, Shown, State, of_key, shown};
use crate::quantity::{Quantity, find_unit, in_unit};

/// Suspects on the dial.
const SUSPECTS: usize = 3;
/// Free scale on either side of the bands, as a share of what they cover.
const MARGIN: f64 = 0.08;

/// What a reading should show on this pump.
#[derive(Debug, Clone, PartialEq)]
pub struct DialView {
    /// Healthy.
    pub healthy: DialBand,
    /// The leading suspects that would move it out of the healthy middle, the most probable first.
    pub suspects: Vec<DialBand>,
    /// What the bands rest on.
    pub basis: &'static str,
}

/// A band on the dial: nine of ten such pumps read inside.
#[derive(Debug, Clone, PartialEq)]
pub struct DialBand {
    /// "healthy", or the condition.
    pub name: String,
    /// Its ends in words.
    pub words: String,
    /// Its ends as shares of the scale drawn, 0 to 1.
    pub ends: (f64, f64),
}

/// A value on the dial.
#[derive(Debug, Clone, PartialEq)]
pub struct OnDial {
    /// Its place as a share of the scale drawn, 0 to 1.
    pub at: f64,
    /// Beside the healthy value, in words.
    pub words: String,
}

/// The bands before they are placed: names and SI.
struct Bands {
    number: Number,
    all: Vec<(String, Band)>,
    scale: (f64, f64),
}

impl Sitting {
    /// The running state to confirm before a number, in full; `None` where nothing is known that would depend on it.
    pub(super) fn state_in_full(&self, key: &str) -> Option<String> {
        let number = self.pump.as_ref()?.number(&self.knowledge, key, 0.0, None)?;
        Some(number.state.in_full())
    }

    /// What a reading shows on the healthy pump, by its model.
    pub(super) fn expected_healthy(&self, id: &str) -> Option<Quantity> {
        let pump = self.pump.as_ref()?;
        let number = pump.number(&self.knowledge, id, 0.0, None)?;
        self.quantity_of(id, pump.band(&number, &[]).ok()??.mid)
    }

    /// Running states that can be chosen for a reading: its own first, then those of the two-state tests. Keys, with the
    /// state in full.
    pub fn states_of(&self, reading: &str) -> Vec<(String, String)> {
        let id = of_key(reading).0;
        let own = self.knowledge.all.readings.get(id).and_then(shown);
        let Some(Ok(Shown { state: own, .. })) = own else { return Vec::new() };
        let tests = ["cold", "half, held", "half", "flooded", "open", "shut", "known"];
        let others = tests.iter().filter_map(|words| self.in_state(id, words).ok()).filter(|key| key != id);
        let in_full = |key: &str| match of_key(key).1 {
            "" => own.in_full(),
            words => State::parse(words).unwrap_or(own).in_full(),
        };
        [id.to_owned()].into_iter().chain(others).map(|key| (key.clone(), in_full(&key))).collect()
    }

    /// The dial of a reading or key; `None` where this pump's model does not know it.
    pub fn dial(&self, key: &str) -> Option<DialView> {
        let bands = self.bands(key)?;
        let place = |value: f64| (value - bands.scale.0) / (bands.scale.1 - bands.scale.0);
        let mut all = bands.all.iter().map(|(name, band)| DialBand {
            name: name.clone(),
            words: format!("{} to {}", self.in_words(key, band.low), self.in_words(key, band.high)),
            ends: (place(band.low).clamp(0.0, 1.0), place(band.high).clamp(0.0, 1.0)),
        });
        let basis = if bands.number.baseline.is_some() {
            "this pump's own healthy value, the rest from its sheet"
        } else {
            "computed from the pump sheet"
        };
        Some(DialView { healthy: all.next()?, suspects: all.collect(), basis })
    }

    /// A value in SI on the dial of a reading or key.
    pub fn on_dial(&self, key: &str, si: f64) -> Option<OnDial> {
        let bands = self.bands(key)?;
        let healthy = bands.all.first()?.1;
        let at = ((si - bands.scale.0) / (bands.scale.1 - bands.scale.0)).clamp(0.0, 1.0);
        let ratio = if 0.0 < healthy.mid { si.max(0.0) / healthy.mid } else { 0.0 };
        let percent = format!("{:.0} % of what is expected", 100.0 * ratio);
        let beside = if si < healthy.low {
            "below the healthy band"
        } else if healthy.high < si {
            "above the healthy band"
        } else {
            "in the healthy band"
        };
        let words = match bands.number.output {
            Output::DeliveredFlow if 0.0 < ratio => format!("{beside}, {percent}"),
            Output::OutletPressure if 0.0 < ratio => {
                let flow = 100.0 * ratio.sqrt();
                format!("{beside}, {percent}; at a fixed orifice that is {flow:.0} % of the flow")
            }
            _ => beside.to_owned(),
        };
        Some(OnDial { at, words })
    }

    /// The healthy band of a reading or key by this pump's model, in SI; `None` where the model does not know it.
    pub fn healthy_band(&self, key: &str) -> Option<(f64, f64)> {
        self.bands(key)?.all.first().map(|(_, band)| (band.low, band.high))
    }

    /// The running state of a reading or key, in full.
    pub fn running_state_of(&self, key: &str) -> Option<String> {
        self.states_of(key).into_iter().find(|(known, _)| known == key).map(|(_, state)| state)
    }

    fn bands(&self, key: &str) -> Option<Bands> {
        let pump = self.pump.as_ref()?;
        let usual = self.facts.usual.get(key).map(|quantity| quantity.si());
        let number = pump.number(&self.knowledge, key, 0.0, usual)?;
        let healthy = pump.band(&number, &[]).ok()??;
        let mut all = vec![("healthy".to_owned(), healthy)];
        let mut nodes = pump.nodes().to_vec();
        nodes.sort_by(|a, b| self.present(*b).total_cmp(&self.present(*a)));
        for node in nodes {
            let Ok(Some(band)) = pump.band(&number, &[node]) else { continue };
            if band.mid < healthy.low || healthy.high < band.mid {
                all.push((self.graph.nodes[node].name.clone(), band));
            }
            if SUSPECTS < all.len() {
                break;
            }
        }
        let low = all.iter().map(|(_, band)| band.low).fold(f64::INFINITY, f64::min);
        let high = all.iter().map(|(_, band)| band.high).fold(f64::NEG_INFINITY, f64::max);
        let margin = (MARGIN * (high - low)).max(number.error);
        Some(Bands { number, all, scale: (low - margin, high + margin) })
    }

    /// A value of a reading in its own unit.
    fn in_words(&self, key: &str, si: f64) -> String {
        let shown = self.quantity_of(key, si).and_then(|quantity| {
            Some(in_unit(quantity, find_unit(quantity.dimension(), &self.reading_of(key)?.unit)?))
        });
        shown.unwrap_or_default()
    }
}
