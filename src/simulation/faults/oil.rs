//! Turns what is wrong on the oil side into air, loss, stiffness and make-up that does not follow.

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Bad, Fault, add, fault};
use crate::physics::steady::Part;
use crate::simulation::pump::oil::Cell;
use crate::simulation::works::{Works, unprimed};

fn every_cell(works: &mut Works, change: impl Fn(&mut Cell)) {
    for chamber in &mut works.chambers {
        change(&mut chamber.oil);
    }
}

/// A way out of one cell that passes such a share of its chamber at the design pressure.
fn seat(works: &mut Works, bad: Bad, share: f64) {
    let hole = works.hole_of_one(share);
    if let Some(chamber) = works.chambers.get_mut(bad.chamber) {
        chamber.oil.seat += hole;
    }
}

/// Oil side.
pub const FAULTS: &[Fault] = &[
    fault("oil_not_topped_up", "oil never topped up, level fell below the mark", Slow, |works, bad| {
        works.air_behind(bad.even(0.05, 0.6));
    }),
    fault("oil_grade_too_thick", "oil too thick for this place and season", WithWork, |works, bad| {
        works.thicker_oil *= bad.log(2.0, 30.0);
        add(works, Part::RoomTemperature, -bad.even(5.0, 15.0));
    }),
    fault("oil_cold_soak", "oil stiff from a cold night, loaded at once", AtOnce, |works, bad| {
        // As it runs before it is warm: the oil has the room's warmth and hardly any of its own.
        add(works, Part::RoomTemperature, -bad.even(15.0, 35.0));
        works.pump[Part::OilResistance] *= 0.2;
    }),
    fault("oil_grade_too_thin", "oil too thin for the heat", WithWork, |works, bad| {
        works.thicker_oil *= bad.even(0.6, 0.2);
        every_cell(works, |cell| cell.loss *= bad.log(4.0, 40.0));
    }),
    fault("oil_wrong_type", "wrong kind of oil, or oils that do not agree", WithWork, |works, bad| {
        works.thicker_oil *= bad.log(1.3, 4.0);
        works.air_behind(bad.even(0.02, 0.2));
    })
    .leaves("seals that swell, sludge"),
    fault("oil_overfilled", "oil filled above the mark", WithWork, |works, bad| {
        works.heat += bad.even(50.0, 300.0);
    })
    .leaves("oil thrown from the breather"),
    fault("oil_change_missed", "oil far past its change", Slow, |works, bad| {
        works.thicker_oil *= bad.even(1.1, 1.8);
        every_cell(works, |cell| cell.make_up *= bad.log(0.7, 0.05));
    })
    .leaves("wear of pistons and bearings"),
    fault("condensation_in_oil", "dew in the oil from short cold runs", Slow, |_, _| ())
        .leaves("everything but the look of the oil"),
    fault("wash_down_into_case", "wash water forced in at breather or seal", AtOnce, |_, _| ())
        .leaves("everything but the look of the oil"),
    fault("breather_blocked", "case breather blocked by dirt or paint", Slow, |works, bad| {
        every_cell(works, |cell| cell.opens_at += bad.even(20e3, 65e3));
        works.heat += bad.even(10.0, 60.0);
    })
    .leaves("oil pressed past the shaft seal"),
    fault("make_up_clogged", "oil make-up screen or passage clogged", Slow, |works, bad| {
        every_cell(works, |cell| cell.make_up *= bad.log(0.1, 0.0005));
    }),
    fault("make_up_valve_leaking", "oil make-up valve held open or worn", AtOnce, |works, bad| {
        seat(works, bad, bad.log(0.05, 0.9));
    }),
    fault("oil_bleed_valve_leaking", "automatic oil-side air bleed does not close", AtOnce, |works, bad| {
        seat(works, bad, bad.log(0.04, 0.6));
    }),
    fault("inner_relief_low", "oil-side relief set low or leaking", WithWork, |works, bad| {
        let opens = bad.even(0.95, 0.45) * works.pump.design.pressure;
        // Full flow of a chamber a tenth above its opening.
        let passes = works.pump.design.flow / works.chambers.len() as f64 * std::f64::consts::PI / (0.1 * opens);
        every_cell(works, |cell| (cell.relief, cell.passes) = (opens, passes));
    }),
    fault("oil_piston_hours_over", "oil pistons past their working hours", Slow, |works, bad| {
        every_cell(works, |cell| cell.loss *= bad.log(8.0, 120.0));
    }),
    fault("oil_plug_loose", "oil drain plug or case joint leaks", Slow, |works, bad| {
        works.air_behind(bad.even(0.0, 0.4));
    })
    .leaves("oil under the pump"),
    fault("cells_not_primed", "air left behind the diaphragms after an oil fill", WithWork, |works, bad| {
        let pump = works.pump;
        if let Some(chamber) = works.chambers.get_mut(bad.chamber) {
            chamber.oil.air += unprimed(bad.even(0.1, 0.9), chamber.swept, &pump);
        }
        works.air_behind(0.1 * bad.severity);
    }),
];
