//! Turns an oil's grade and temperature into its viscosity.

use crate::physics::law::Listed;

mod d2270;
pub(in crate::physics) mod d341;
mod oil_at_100;
mod oil_grade_band;
mod oil_line;
mod oil_of_grade;
mod oil_temperature;
mod oil_viscosity;
mod saybolt_to_viscosity;
mod viscosity_index;
mod viscosity_to_saybolt;

pub use oil_at_100::oil_at_100;
pub use oil_grade_band::oil_grade_band;
pub use oil_line::oil_line;
pub use oil_of_grade::oil_of_grade;
pub use oil_temperature::oil_temperature;
pub use oil_viscosity::oil_viscosity;
pub use saybolt_to_viscosity::saybolt_to_viscosity;
pub use viscosity_index::viscosity_index;
pub use viscosity_to_saybolt::viscosity_to_saybolt;

/// These laws as data.
pub static LAWS: [&dyn Listed; 9] = [
    &oil_at_100::LAW,
    &oil_grade_band::LAW,
    &oil_line::LAW,
    &oil_of_grade::LAW,
    &oil_temperature::LAW,
    &oil_viscosity::LAW,
    &saybolt_to_viscosity::LAW,
    &viscosity_index::LAW,
    &viscosity_to_saybolt::LAW,
];
