//! Turns what is wrong with valves and diaphragms into seats that leak, lifts that hang, and holes.

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Bad, Fault, fault};
use crate::simulation::pump::chamber::Chamber;
use crate::simulation::pump::valve::Valve;
use crate::simulation::works::Works;

/// Both valves of every chamber.
fn every_valve(works: &mut Works, change: impl Fn(&mut Valve)) {
    for chamber in &mut works.chambers {
        change(&mut chamber.inlet);
        change(&mut chamber.outlet);
    }
}

fn the_chamber(works: &mut Works, bad: Bad, change: impl FnOnce(&mut Chamber)) {
    if let Some(chamber) = works.chambers.get_mut(bad.chamber) {
        change(chamber);
    }
}

/// A hole in the diaphragm that passes such a share of one chamber at the design pressure.
fn torn(works: &mut Works, bad: Bad, share: f64) {
    let hole = works.hole_of_one(share);
    the_chamber(works, bad, |chamber| chamber.hole += hole);
}

/// Valves, diaphragms.
pub const FAULTS: &[Fault] = &[
    fault("debris_under_inlet_valve", "a piece holds one inlet valve open", AtOnce, |works, bad| {
        the_chamber(works, bad, |chamber| chamber.inlet.held = bad.log(0.004, 0.8));
    }),
    fault("debris_under_outlet_valve", "a piece holds one outlet valve open", AtOnce, |works, bad| {
        the_chamber(works, bad, |chamber| chamber.outlet.held = bad.log(0.004, 0.8));
    }),
    fault("valves_run_past_life", "valve set run past its working hours", Slow, |works, bad| {
        works.wear(bad.log(0.04, 0.35));
    }),
    fault("spring_fatigue", "valve springs past their cycle life", AtOnce, |works, bad| {
        the_chamber(works, bad, |chamber| {
            chamber.inlet.lifts_at = 200.0;
            chamber.inlet.closing = bad.log(4e-3, 25e-3);
        });
    }),
    fault("valve_spring_wrong", "wrong, mixed or missing valve spring", WithWork, |works, bad| {
        for chamber in &mut works.chambers {
            chamber.inlet.lifts_at = bad.log(8e3, 70e3);
        }
    }),
    fault("valve_assembled_wrong", "valve upside down, wrong bore or wrong order", WithWork, |works, bad| {
        the_chamber(works, bad, |chamber| chamber.inlet.most = bad.log(0.3, 0.01));
    }),
    fault("seat_seal_missing", "seat ring cut, rolled or left out", WithWork, |works, bad| {
        the_chamber(works, bad, |chamber| chamber.outlet.leak += bad.log(0.002, 0.03));
    }),
    fault("seat_not_home", "seat tilted, its bore dirty, or retainer not clamping", WithWork, |works, bad| {
        the_chamber(works, bad, |chamber| chamber.inlet.leak += bad.log(0.002, 0.03));
    }),
    fault("new_valve_on_worn_seat", "new valve fitted on an old cut seat", WithWork, |works, bad| {
        the_chamber(works, bad, |chamber| {
            chamber.inlet.leak += bad.log(0.001, 0.01);
            chamber.outlet.leak += bad.log(0.001, 0.01);
        });
    }),
    fault("deposit_on_valve_guides", "gum or scale on the valve guides", Slow, |works, bad| {
        let lag = bad.log(1.5, 6.0);
        every_valve(works, |valve| {
            valve.opening *= lag;
            valve.closing *= lag;
        });
    }),
    fault("fibres_in_liquid", "strings, fibres or film wrap round valves", AtOnce, |works, bad| {
        works.wear(bad.log(0.02, 0.1));
        the_chamber(works, bad, |chamber| chamber.inlet.held = bad.log(0.003, 0.1));
    }),
    fault("diaphragm_life_over", "diaphragm past its working life", AtOnce, |works, bad| {
        torn(works, bad, bad.log(0.03, 0.8));
    })
    .leaves("milky oil and oil in the liquid"),
    fault("diaphragm_screw_loose", "diaphragm screw not tight or not locked", WithWork, |works, bad| {
        torn(works, bad, bad.log(0.02, 0.4));
    })
    .leaves("milky oil and oil in the liquid"),
    fault(
        "diaphragm_fitted_wrong",
        "diaphragm folded, turned over, pinched or nicked at fitting",
        WithWork,
        |works, bad| {
            torn(works, bad, bad.log(0.02, 0.6));
        },
    )
    .leaves("milky oil and oil in the liquid"),
    fault("foreign_body_in_chamber", "hard object in a liquid chamber", AtOnce, |works, bad| {
        torn(works, bad, bad.log(0.05, 0.8));
    })
    .leaves("milky oil, a dent in the diaphragm"),
];
