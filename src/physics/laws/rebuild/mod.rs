//! Turns threads, bolts and fits into settings.

use crate::physics::law::Listed;

mod axial_advance;
mod bolt_passes;
mod bolt_preload;
mod bolt_stretch;
mod bolt_torque;
mod fit_heating;
mod stress_area_inch;
mod stress_area_metric;

pub use axial_advance::axial_advance;
pub use bolt_passes::bolt_passes;
pub use bolt_preload::bolt_preload;
pub use bolt_stretch::bolt_stretch;
pub use bolt_torque::bolt_torque;
pub use fit_heating::fit_heating;
pub use stress_area_inch::stress_area_inch;
pub use stress_area_metric::stress_area_metric;

/// These laws as data.
pub static LAWS: [&dyn Listed; 8] = [
    &axial_advance::LAW,
    &bolt_passes::LAW,
    &bolt_preload::LAW,
    &bolt_stretch::LAW,
    &bolt_torque::LAW,
    &fit_heating::LAW,
    &stress_area_inch::LAW,
    &stress_area_metric::LAW,
];
