//! Turns the numbers of a pump's sheet into the pump that the steady model works on.

use super::part::{CARDS, PARTS, Part};
use crate::physics::law::OutOfRange;
use crate::physics::laws::water::{vapour_pressure, water_density, water_viscosity};
use std::ops::{Index, IndexMut};

/// A pump as the steady model takes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pump {
    /// Chambers, evenly spaced, 1 to 10.
    pub chambers: u32,
    /// What it was built for; does not move with faults or with errors of the sheet.
    pub design: Design,
    /// What it pumps.
    pub liquid: Liquid,
    parts: [f64; PARTS],
}

/// The working point a pump was built for, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Design {
    /// Flow, m³/s.
    pub flow: f64,
    /// Outlet pressure, Pa gauge.
    pub pressure: f64,
    /// Speed of the pump's shaft, rev/s.
    pub speed: f64,
}

/// Properties of the liquid at one temperature, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    /// Temperature at which they hold, K.
    pub at: f64,
    /// kg/m³.
    pub density: f64,
    /// Pa s.
    pub viscosity: f64,
    /// Pa absolute.
    pub vapour: f64,
    /// Water: the properties follow the temperature. Otherwise the vapour pressure alone is moved, as water's would.
    pub is_water: bool,
}

impl Liquid {
    /// Clean water at a temperature in K.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 0 to 100 °C.
    pub fn water(kelvin: f64) -> Result<Self, OutOfRange> {
        let vapour = vapour_pressure(kelvin)?;
        let density = water_density(kelvin, vapour.max(101_325.0))?;
        let [viscosity, _] = water_viscosity(kelvin, density)?;
        Ok(Self { at: kelvin, density, viscosity, vapour, is_water: true })
    }

    /// The same liquid at another temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 0 to 100 °C.
    pub fn warmed(self, kelvin: f64) -> Result<Self, OutOfRange> {
        if (kelvin - self.at).abs() < 1e-9 {
            return Ok(self);
        }
        if self.is_water {
            return Self::water(kelvin);
        }
        let [from, to] = [vapour_pressure(self.at)?, vapour_pressure(kelvin)?];
        Ok(Self { at: kelvin, vapour: self.vapour * to / from, ..self })
    }
}

impl Pump {
    /// A pump with the usual value in every part.
    pub fn usual(chambers: u32, design: Design, liquid: Liquid) -> Self {
        Self { chambers, design, liquid, parts: CARDS.map(|card| card.usual) }
    }

    /// The pump with one part changed.
    #[must_use]
    pub fn with(mut self, part: Part, value: f64) -> Self {
        self[part] = value;
        self
    }
}

impl Index<Part> for Pump {
    type Output = f64;

    fn index(&self, part: Part) -> &f64 {
        &self.parts[part as usize]
    }
}

impl IndexMut<Part> for Pump {
    fn index_mut(&mut self, part: Part) -> &mut f64 {
        &mut self.parts[part as usize]
    }
}
