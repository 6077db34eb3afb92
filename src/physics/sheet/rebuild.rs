//! Turns a sheet into the settings of a rebuild: end play, bolts, belt, press fits, oil, and how the pump is primed and
//! accepted.

use super::{Field, PumpSheet};
use crate::physics::law::OutOfRange;
use crate::physics::laws::drive::belt_deflection;
use crate::physics::laws::rebuild::{
    axial_advance, bolt_passes, bolt_preload, bolt_torque, fit_heating, stress_area_metric,
};

/// End play where the maker's value is not on the sheet, m: 0.006 in or 0.15 mm (common practice, no source).
pub const END_PLAY: f64 = 0.15e-3;
/// Nut factor of a lubricated thread, and share of the proof stress for joints that are opened again (from memory).
const BOLT: (f64, f64) = (0.15, 0.75);
/// Clearance that lets a heated part slip on, over its interference (common practice, no source).
const SLIPS_ON: f64 = 1.0;
/// Heat expansion of steel, 1/K.
const STEEL: f64 = 11.7e-6;
/// Bearings are not heated above this, K (from memory).
const HOTTEST: f64 = 393.15;

/// The settings for one pump, SI; `None` where the sheet does not tell enough.
#[derive(Debug, Clone, PartialEq)]
pub struct Rebuild {
    /// End play wanted at the dial.
    pub end_play: f64,
    /// True if the end play is the maker's, from the sheet.
    pub end_play_known: bool,
    /// How far a quarter turn of the adjuster moves the bearing. It never stands for the dial reading.
    pub quarter_turn: Option<f64>,
    /// Torques of the three passes, and if the last is from the sheet rather than from the bolt's size.
    pub bolts: Option<([f64; 3], bool)>,
    /// Free span of the belt and its deflection at mid-span.
    pub belt: Option<[f64; 2]>,
    /// Temperature to which the bearing is heated to slip on, K, and whether a bearing bears it.
    pub heating: Option<(f64, bool)>,
    /// Oil fill, m³.
    pub oil_fill: Option<f64>,
}

/// The settings of a sheet.
///
/// # Errors
/// [`OutOfRange`] for a number on the sheet that no part has.
pub fn rebuild(sheet: &PumpSheet) -> Result<Rebuild, OutOfRange> {
    let quarter = std::f64::consts::FRAC_PI_2;
    let quarter_turn = sheet.get(Field::AdjusterPitch).map(|pitch| axial_advance(pitch, quarter)).transpose()?;
    Ok(Rebuild {
        end_play: sheet.get(Field::EndPlay).unwrap_or(END_PLAY),
        end_play_known: sheet.get(Field::EndPlay).is_some(),
        quarter_turn,
        bolts: bolts(sheet)?,
        belt: belt(sheet)?,
        heating: heating(sheet)?,
        oil_fill: sheet.get(Field::OilFill),
    })
}

fn bolts(sheet: &PumpSheet) -> Result<Option<([f64; 3], bool)>, OutOfRange> {
    if let Some(torque) = sheet.get(Field::BoltTorque) {
        return Ok(Some((bolt_passes(torque)?, true)));
    }
    let all = [Field::BoltSize, Field::BoltPitch, Field::BoltProof].map(|field| sheet.get(field));
    let [Some(size), Some(pitch), Some(proof)] = all else { return Ok(None) };
    let preload = bolt_preload(BOLT.1, proof, stress_area_metric(size, pitch)?)?;
    Ok(Some((bolt_passes(bolt_torque(BOLT.0, size, preload)?)?, false)))
}

fn belt(sheet: &PumpSheet) -> Result<Option<[f64; 2]>, OutOfRange> {
    let all = [Field::ShaftDistance, Field::MotorSheave, Field::PumpSheave].map(|field| sheet.get(field));
    let [Some(distance), Some(motor), Some(pump)] = all else { return Ok(None) };
    belt_deflection(distance, motor, pump).map(Some)
}

fn heating(sheet: &PumpSheet) -> Result<Option<(f64, bool)>, OutOfRange> {
    let all = [Field::BearingInterference, Field::BearingSeat].map(|field| sheet.get(field));
    let [Some(interference), Some(seat)] = all else { return Ok(None) };
    let rise = fit_heating(interference * (1.0 + SLIPS_ON), STEEL, seat)?;
    let hot = sheet.get(Field::RoomTemperature).unwrap_or(293.15) + rise;
    Ok(Some((hot, hot <= HOTTEST)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::rebuild;
    use crate::physics::laws::{near, si};
    use crate::physics::sheet::{Field, Known, PumpSheet};

    /// 0.006 in or 0.15 mm of end play: common practice, no source.
    #[test]
    fn without_the_makers_value_the_end_play_is_the_usual_one() {
        let usual = rebuild(&PumpSheet::default()).unwrap();
        near(usual.end_play, 0.15e-3, 1e-9);
        near(usual.end_play, si(0.006, "in"), 0.005e-3);
        assert!(!usual.end_play_known && usual.bolts.is_none() && usual.belt.is_none() && usual.heating.is_none());
    }

    /// M10×1.5 8.8 dry 50.5 N m at K 0.2 (see `bolt_preload`): 37.9 lubricated; a quarter turn of 1.25 mm is 0.3125 mm; 0.02 mm of
    /// interference, doubled, on 60 mm of steel is 57 K.
    #[test]
    fn settings_follow_from_the_sheet() {
        let sheet = [
            (Field::AdjusterPitch, 1.25e-3),
            (Field::BoltSize, 0.010),
            (Field::BoltPitch, 1.5e-3),
            (Field::BoltProof, 580e6),
            (Field::BearingInterference, 0.02e-3),
            (Field::BearingSeat, 0.06),
            (Field::RoomTemperature, 293.15),
        ]
        .into_iter()
        .fold(PumpSheet::default(), |sheet, (field, value)| sheet.with(field, value, Known::Measured));
        let found = rebuild(&sheet).unwrap();
        near(found.quarter_turn.unwrap(), 0.3125e-3, 1e-9);
        let ([first, second, last], from_sheet) = found.bolts.unwrap();
        near(last, 0.75 * 50.5, 0.1);
        near(first, 0.3 * last, 1e-9);
        near(second, 0.6 * last, 1e-9);
        assert!(!from_sheet);
        let (hot, bears) = found.heating.unwrap();
        near(hot, 293.15 + 57.0, 0.5);
        assert!(bears);
        let tight = sheet.with(Field::BearingInterference, 0.06e-3, Known::Measured);
        assert!(!rebuild(&tight).unwrap().heating.unwrap().1, "171 K more");
    }
}
