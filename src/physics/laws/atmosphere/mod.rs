//! Turns the air outside into pressures.

use crate::physics::law::Listed;

mod barometer_at_altitude;
mod barometer_simple;
mod vacuum_ceiling;

pub use barometer_at_altitude::barometer_at_altitude;
pub use barometer_simple::barometer_simple;
pub use vacuum_ceiling::vacuum_ceiling;

/// These laws as data.
pub static LAWS: [&dyn Listed; 3] = [&barometer_at_altitude::LAW, &barometer_simple::LAW, &vacuum_ceiling::LAW];
