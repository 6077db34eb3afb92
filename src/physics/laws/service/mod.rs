//! Turns what is measured after a repair into what to accept.

use crate::physics::law::Listed;

mod acceptance_flow;
mod acceptance_inlet;
mod acceptance_speed;
mod bucket_flow;

pub use acceptance_flow::acceptance_flow;
pub use acceptance_inlet::acceptance_inlet;
pub use acceptance_speed::acceptance_speed;
pub use bucket_flow::bucket_flow;

/// These laws as data.
pub static LAWS: [&dyn Listed; 4] =
    [&acceptance_flow::LAW, &acceptance_inlet::LAW, &acceptance_speed::LAW, &bucket_flow::LAW];
