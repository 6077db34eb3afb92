//! Turns a fault into the parts that are found harmed by the time somebody opens the pump, and how often.
//!
//! Shares of jobs with this fault, slight and grave. Common practice, no source, unless the table above says otherwise: a
//! fault that wears, tears or rusts a part leaves it so, and who opens the place sees it.

/// What is found harmed, and how often, slight and grave.
type Harm = (&'static str, f64, f64);

/// Per fault what a direct look finds harmed.
pub const HARM: &[(&str, &[Harm])] = &[
    ("belt_not_retensioned", &[("found_belt_damaged", 0.2, 0.6), ("found_belt_damaged_by_heat", 0.1, 0.4)]),
    ("belt_wet_or_oily", &[("found_belt_oiled", 0.6, 0.7)]),
    ("belt_set_worn_out", &[("found_belt_damaged", 0.8, 0.97), ("found_sheave_worn", 0.3, 0.5)]),
    ("belt_too_tight", &[("found_end_bearing_damaged", 0.1, 0.5), ("found_motor_bearing_damaged", 0.1, 0.4)]),
    ("phase_lost", &[("found_motor_winding_damaged", 0.1, 0.35)]),
    ("supply_voltage_low", &[("found_motor_winding_damaged", 0.05, 0.15)]),
    ("bearing_hours_over", &[("found_end_bearing_damaged", 0.5, 0.95), ("found_rod_bearing_damaged", 0.25, 0.5)]),
    ("coupling_out_of_line", &[("found_coupling_element_torn", 0.2, 0.6), ("found_shaft_seal_leaking", 0.1, 0.3)]),
    ("sheaves_out_of_line", &[("found_belt_damaged", 0.3, 0.7), ("found_sheave_worn", 0.2, 0.5)]),
    ("base_bolts_loose", &[("found_fasteners_shaken_loose", 0.3, 0.6)]),
    ("shaft_seal_aged", &[("found_shaft_seal_leaking", 0.85, 0.97)]),
    ("end_play_too_small", &[("found_end_bearing_damaged", 0.2, 0.7)]),
    ("end_play_too_large", &[("found_end_bearing_damaged", 0.15, 0.4)]),
    ("liquid_gritty", &[("found_valve_face_worn", 0.5, 0.85), ("found_seat_wire_drawn", 0.3, 0.7)]),
    ("liquid_too_hot", &[("found_diaphragm_attacked", 0.05, 0.2), ("found_ring_swollen", 0.05, 0.15)]),
    (
        "valves_run_past_life",
        &[
            ("found_valve_face_worn", 0.75, 0.95),
            ("found_seat_wire_drawn", 0.2, 0.45),
            ("found_valve_retainer_worn", 0.2, 0.4),
            ("found_valve_hammered", 0.15, 0.35),
        ],
    ),
    (
        "spring_fatigue",
        &[("found_valve_spring_broken_inlet", 0.4, 0.5), ("found_valve_spring_broken_outlet", 0.4, 0.5)],
    ),
    ("new_valve_on_worn_seat", &[("found_seat_wire_drawn", 0.3, 0.6)]),
    ("seat_not_home", &[("found_seat_bore_washed", 0.1, 0.4)]),
    ("seat_seal_missing", &[("found_seat_bore_washed", 0.15, 0.45)]),
    ("valve_spring_wrong", &[("found_valve_hammered", 0.2, 0.4)]),
    ("diaphragm_life_over", &[("found_diaphragm_torn", 0.75, 0.97)]),
    ("diaphragm_screw_loose", &[("found_diaphragm_torn", 0.1, 0.3)]),
    ("diaphragm_fitted_wrong", &[("found_diaphragm_torn", 0.25, 0.6)]),
    ("foreign_body_in_chamber", &[("found_diaphragm_torn", 0.3, 0.7)]),
    ("oil_not_topped_up", &[("found_oil_piston_worn", 0.05, 0.2)]),
    ("oil_wrong_type", &[("found_ring_swollen", 0.2, 0.4), ("found_diaphragm_attacked", 0.1, 0.3)]),
    ("oil_overfilled", &[("found_shaft_seal_leaking", 0.1, 0.3)]),
    ("oil_change_missed", &[("found_oil_piston_worn", 0.1, 0.35), ("found_end_bearing_damaged", 0.1, 0.3)]),
    ("condensation_in_oil", &[("found_oil_parts_rusted", 0.2, 0.5)]),
    ("wash_down_into_case", &[("found_oil_parts_rusted", 0.15, 0.4)]),
    ("breather_blocked", &[("found_shaft_seal_leaking", 0.3, 0.6)]),
    ("oil_piston_hours_over", &[("found_oil_piston_worn", 0.75, 0.95)]),
    ("relief_seat_worn", &[("found_relief_seat_cut", 0.85, 0.97)]),
    ("relief_dirt_on_seat", &[("found_relief_seat_cut", 0.15, 0.3)]),
    ("inlet_gauge_faulty", &[("found_gauge_strained", 0.4, 0.6)]),
    ("outlet_gauge_faulty", &[("found_gauge_strained", 0.4, 0.6)]),
    ("damper_gas_lost", &[("found_fasteners_shaken_loose", 0.1, 0.25)]),
    ("inlet_supply_pressure_high", &[("found_diaphragm_pushed_back", 0.1, 0.4)]),
];
