//! Turns temperature and pressure of liquid water into density and compressibility (IAPWS R7-97(2012), region 1).

use super::vapour_pressure;
use crate::physics::law::{Input, OutOfRange};
use crate::quantity::Dimension;

/// Pressure of liquid water.
pub const PRESSURE: Input =
    Input::new("pressure", "absolute pressure of the water", Dimension::AbsolutePressure, "bar", (500.0, 100e6))
        .strict()
        .advice("give the absolute pressure, up to 1000 bar: gauge plus barometer");

/// J/(kg K).
const GAS_CONSTANT: f64 = 461.526;
/// Pa.
const PRESSURE_SCALE: f64 = 16.53e6;
/// K.
const TEMPERATURE_SCALE: f64 = 1386.0;

/// I, J and n of the basic equation, IAPWS R7-97 table 2.
const TERMS: [(i32, i32, f64); 34] = [
    (0, -2, 0.146_329_712_131_67),
    (0, -1, -0.845_481_871_691_14),
    (0, 0, -3.756_360_367_204),
    (0, 1, 3.385_516_916_838_5),
    (0, 2, -0.957_919_633_878_72),
    (0, 3, 0.157_720_385_132_28),
    (0, 4, -0.016_616_417_199_501),
    (0, 5, 0.000_812_146_299_835_68),
    (1, -9, 0.000_283_190_801_238_04),
    (1, -7, -0.000_607_063_015_658_74),
    (1, -1, -0.018_990_068_218_419),
    (1, 0, -0.032_529_748_770_505),
    (1, 1, -0.021_841_717_175_414),
    (1, 3, -5.283_835_796_993e-05),
    (2, -3, -0.000_471_843_210_732_67),
    (2, 0, -0.000_300_017_807_930_26),
    (2, 1, 4.766_139_390_698_7e-05),
    (2, 3, -4.414_184_533_084_6e-06),
    (2, 17, -7.269_499_629_759_4e-16),
    (3, -4, -3.167_964_484_505_4e-05),
    (3, 0, -2.827_079_798_531_2e-06),
    (3, 6, -8.520_512_812_010_3e-10),
    (4, -5, -2.242_528_190_8e-06),
    (4, -2, -6.517_122_289_560_1e-07),
    (4, 10, -1.434_172_993_792_4e-13),
    (5, -8, -4.051_699_686_011_7e-07),
    (8, -11, -1.273_430_174_164_1e-09),
    (8, -6, -1.742_487_123_063_4e-10),
    (21, -29, -6.876_213_129_553_1e-19),
    (23, -31, 1.447_830_782_852_1e-20),
    (29, -38, 2.633_578_166_279_5e-23),
    (30, -39, -1.194_762_264_007_1e-23),
    (31, -40, 1.822_809_458_140_4e-24),
    (32, -41, -9.353_708_729_245_8e-26),
];

/// kg/m³ from kelvin and Pa.
pub fn density(kelvin: f64, pressure: f64) -> f64 {
    PRESSURE_SCALE / (GAS_CONSTANT * kelvin * slopes(kelvin, pressure).0)
}

/// 1/Pa from kelvin and Pa, isothermal.
pub fn compressibility(kelvin: f64, pressure: f64) -> f64 {
    let (first, second) = slopes(kelvin, pressure);
    -second / first / PRESSURE_SCALE
}

/// Refuses a pressure at which water of this temperature is vapour.
pub fn vapour(input: Input, kelvin: f64, pressure: f64) -> Option<OutOfRange> {
    let boils = vapour_pressure::vapour_pressure(kelvin).ok()?;
    let advice = "it boils at this pressure; cool it or give the absolute pressure";
    (pressure < boils).then(|| input.refused(pressure, (boils, input.published().1), advice))
}

/// First and second derivative of the Gibbs energy over R T by the reduced pressure.
fn slopes(kelvin: f64, pressure: f64) -> (f64, f64) {
    let squeeze = 7.1 - pressure / PRESSURE_SCALE;
    let cold = TEMPERATURE_SCALE / kelvin - 1.222;
    TERMS.iter().fold((0.0, 0.0), |(first, second), (i, j, n)| {
        let warm = n * libm::pow(cold, f64::from(*j)) * f64::from(*i);
        let once = libm::pow(squeeze, f64::from(i - 1));
        let twice = libm::pow(squeeze, f64::from(i - 2)) * f64::from(i - 1);
        (first - warm * once, second + warm * twice)
    })
}
