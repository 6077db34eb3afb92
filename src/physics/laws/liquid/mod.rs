//! Turns what is known of another liquid into its properties.

use crate::physics::law::Listed;

mod liquid_density;
mod liquid_vapour_pressure;
mod liquid_viscosity;
mod two_points;

pub use liquid_density::liquid_density;
pub use liquid_vapour_pressure::liquid_vapour_pressure;
pub use liquid_viscosity::liquid_viscosity;

/// These laws as data.
pub static LAWS: [&dyn Listed; 3] = [&liquid_density::LAW, &liquid_vapour_pressure::LAW, &liquid_viscosity::LAW];
