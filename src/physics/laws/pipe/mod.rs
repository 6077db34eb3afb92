//! Turns pipes and fittings into velocities and losses.

use crate::physics::law::Listed;

mod fitting_crane;
mod fitting_two_k;
mod friction_colebrook;
pub(in crate::physics) mod friction_factor;
mod friction_fully_turbulent;
mod friction_haaland;
mod friction_laminar;
mod friction_swamee_jain;
mod loss_coefficient;
pub(in crate::physics) mod pipe_loss;
pub(in crate::physics) mod pipe_velocity;
pub(in crate::physics) mod reynolds;
mod velocity_limits;

pub use fitting_crane::fitting_crane;
pub use fitting_two_k::fitting_two_k;
pub use friction_colebrook::friction_colebrook;
pub use friction_factor::friction_factor;
pub use friction_fully_turbulent::friction_fully_turbulent;
pub use friction_haaland::friction_haaland;
pub use friction_laminar::friction_laminar;
pub use friction_swamee_jain::friction_swamee_jain;
pub use loss_coefficient::loss_coefficient;
pub use pipe_loss::pipe_loss;
pub use pipe_velocity::pipe_velocity;
pub use reynolds::reynolds;
pub use velocity_limits::velocity_limits;

/// These laws as data.
pub static LAWS: [&dyn Listed; 13] = [
    &fitting_crane::LAW,
    &fitting_two_k::LAW,
    &friction_colebrook::LAW,
    &friction_factor::LAW,
    &friction_fully_turbulent::LAW,
    &friction_haaland::LAW,
    &friction_laminar::LAW,
    &friction_swamee_jain::LAW,
    &loss_coefficient::LAW,
    &pipe_loss::LAW,
    &pipe_velocity::LAW,
    &reynolds::LAW,
    &velocity_limits::LAW,
];
