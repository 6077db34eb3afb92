//! Turns the motion of the plungers into the head that the suction column needs.

use crate::physics::law::Listed;

mod acceleration_constant_rods;
mod acceleration_constant_sinusoidal;
mod acceleration_constant_tabled;
pub(in crate::physics) mod acceleration_head;
mod acceleration_head_column;
mod acceleration_head_uniform;

pub use acceleration_constant_rods::acceleration_constant_rods;
pub use acceleration_constant_sinusoidal::acceleration_constant_sinusoidal;
pub use acceleration_constant_tabled::acceleration_constant_tabled;
pub use acceleration_head::acceleration_head;
pub use acceleration_head_column::acceleration_head_column;
pub use acceleration_head_uniform::acceleration_head_uniform;

/// These laws as data.
pub static LAWS: [&dyn Listed; 6] = [
    &acceleration_constant_rods::LAW,
    &acceleration_constant_sinusoidal::LAW,
    &acceleration_constant_tabled::LAW,
    &acceleration_head::LAW,
    &acceleration_head_column::LAW,
    &acceleration_head_uniform::LAW,
];
