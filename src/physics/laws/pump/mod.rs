//! Turns the pump itself into flows and powers.

use crate::physics::law::Listed;

mod compressibility_efficiency;
mod compression;
mod delivered_flow;
mod displacement;
pub(in crate::physics) mod hydraulic_power;
pub(in crate::physics) mod leak_at_pressure;
mod mechanical_efficiency;
pub(in crate::physics) mod shaft_power;
mod shaft_torque;
mod slip;
mod swash_stroke;
mod two_speeds;

pub use compressibility_efficiency::compressibility_efficiency;
pub use compression::compression;
pub use delivered_flow::delivered_flow;
pub use displacement::displacement;
pub use hydraulic_power::hydraulic_power;
pub use leak_at_pressure::leak_at_pressure;
pub use mechanical_efficiency::mechanical_efficiency;
pub use shaft_power::shaft_power;
pub use shaft_torque::shaft_torque;
pub use slip::slip;
pub use swash_stroke::swash_stroke;
pub use two_speeds::two_speeds;

/// These laws as data.
pub static LAWS: [&dyn Listed; 12] = [
    &compressibility_efficiency::LAW,
    &compression::LAW,
    &delivered_flow::LAW,
    &displacement::LAW,
    &hydraulic_power::LAW,
    &leak_at_pressure::LAW,
    &mechanical_efficiency::LAW,
    &shaft_power::LAW,
    &shaft_torque::LAW,
    &slip::LAW,
    &swash_stroke::LAW,
    &two_speeds::LAW,
];
