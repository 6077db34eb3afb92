//! Turns gas in the liquid into what it costs.

use crate::physics::law::Listed;

mod discharge_delay;
mod dissolved_air;
pub(in crate::physics) mod free_gas;
mod gas_at_pressure;
mod gas_binding;

pub use discharge_delay::discharge_delay;
pub use dissolved_air::dissolved_air;
pub use free_gas::free_gas;
pub use gas_at_pressure::gas_at_pressure;
pub use gas_binding::gas_binding;

/// These laws as data.
pub static LAWS: [&dyn Listed; 5] =
    [&discharge_delay::LAW, &dissolved_air::LAW, &free_gas::LAW, &gas_at_pressure::LAW, &gas_binding::LAW];
