//! Turns the supply and its line into what reaches the pump.

use crate::physics::law::Listed;

pub(in crate::physics) mod inlet_gauge;
mod lift_allowed;
mod npsh_gauge;
pub(in crate::physics) mod npsh_margin;
pub(in crate::physics) mod npsh_system;
mod separation_speed;
mod suction_stroke;
mod theoretical_lift;

pub use inlet_gauge::inlet_gauge;
pub use lift_allowed::lift_allowed;
pub use npsh_gauge::npsh_gauge;
pub use npsh_margin::npsh_margin;
pub use npsh_system::npsh_system;
pub use separation_speed::separation_speed;
pub use suction_stroke::suction_stroke;
pub use theoretical_lift::theoretical_lift;

/// These laws as data.
pub static LAWS: [&dyn Listed; 8] = [
    &inlet_gauge::LAW,
    &lift_allowed::LAW,
    &npsh_gauge::LAW,
    &npsh_margin::LAW,
    &npsh_system::LAW,
    &separation_speed::LAW,
    &suction_stroke::LAW,
    &theoretical_lift::LAW,
];
