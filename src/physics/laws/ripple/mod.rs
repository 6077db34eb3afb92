//! Turns the chambers into how flow and pressure swing.

use crate::physics::law::Listed;

mod dead_chamber;
mod dead_chamber_swing;
mod flow_variation_rods;
mod flow_variation_sinusoidal;
mod partial_chamber;
mod pressure_ripple;
mod ripple_frequency;
mod two_dead_chambers;

pub use dead_chamber::dead_chamber;
pub use dead_chamber_swing::dead_chamber_swing;
pub use flow_variation_rods::flow_variation_rods;
pub use flow_variation_sinusoidal::flow_variation_sinusoidal;
pub use partial_chamber::partial_chamber;
pub use pressure_ripple::pressure_ripple;
pub use ripple_frequency::ripple_frequency;
pub use two_dead_chambers::two_dead_chambers;

/// These laws as data.
pub static LAWS: [&dyn Listed; 8] = [
    &dead_chamber::LAW,
    &dead_chamber_swing::LAW,
    &flow_variation_rods::LAW,
    &flow_variation_sinusoidal::LAW,
    &partial_chamber::LAW,
    &pressure_ripple::LAW,
    &ripple_frequency::LAW,
    &two_dead_chambers::LAW,
];
