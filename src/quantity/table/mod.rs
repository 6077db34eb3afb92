//! The definitions of the units, turned into one table per dimension, the most usual unit first.
//!
//! Source of every factor: NIST SP 811 (2008), Appendix B.8, taken back to the exact definitions it rests on
//! (inch 0.0254 m, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s², US gallon 231 in³, imperial gallon
//! 4.546 09 L). Columns of mercury and water are the "conventional" ones: mercury of 13 595.1 kg/m³, water of
//! 1000 kg/m³, at standard gravity. Where a name has several meanings (gallon, horsepower, month), the remark
//! at the entry says which is taken.

pub(super) mod fluid;
pub(super) mod machine;

/// m.
const INCH: f64 = 0.0254;
/// m.
const FOOT: f64 = 0.3048;
/// kg.
const POUND: f64 = 0.453_592_37;
/// Standard acceleration of free fall, m/s².
const GRAVITY: f64 = 9.806_65;
/// N.
const POUND_FORCE: f64 = POUND * GRAVITY;
/// Litres.
const US_GALLON: f64 = 3.785_411_784;
/// Litres.
const IMP_GALLON: f64 = 4.546_09;
/// Conventional millimetre of mercury, Pa.
const MM_MERCURY: f64 = 133.322_387_415;
