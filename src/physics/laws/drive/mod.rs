//! Turns motor, belt and sheaves into speeds.

use crate::physics::law::Listed;

mod belt_deflection;
mod belt_slip;
mod motor_load;
mod motor_slip;
pub(in crate::physics) mod motor_speed;
pub(in crate::physics) mod sheave_speed;
mod synchronous_speed;

pub use belt_deflection::belt_deflection;
pub use belt_slip::belt_slip;
pub use motor_load::motor_load;
pub use motor_slip::motor_slip;
pub use motor_speed::motor_speed;
pub use sheave_speed::sheave_speed;
pub use synchronous_speed::synchronous_speed;

/// These laws as data.
pub static LAWS: [&dyn Listed; 7] = [
    &belt_deflection::LAW,
    &belt_slip::LAW,
    &motor_load::LAW,
    &motor_slip::LAW,
    &motor_speed::LAW,
    &sheave_speed::LAW,
    &synchronous_speed::LAW,
];
