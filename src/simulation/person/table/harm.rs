//! Turns a fault into the parts that are found harmed by the time somebody opens the pump, and how often.
//!
//! Shares of jobs with this fault, slight and grave: a fault that wears, tears or rusts a part leaves it so, and who opens
//! the place sees it. Estimates; beside each group stands what they rest on. Where a row of the table has the same look under
//! another name, the shares agree.

/// What is found harmed, and how often, slight and grave.
type Harm = (&'static str, f64, f64);

/// Per fault what a direct look finds harmed.
pub const HARM: &[(&str, &[Harm])] = &[
    // Belts and motor: slip burns and wears a belt, side load and a lost phase spoil bearing and winding. Practice, no
    // source.
    ("belt_not_retensioned", &[("found_belt_damaged", 0.2, 0.6), ("found_belt_damaged_by_heat", 0.3, 0.6)]),
    (
        "belt_wet_or_oily",
        &[
            ("found_belt_oiled", 0.35, 0.4),
            ("found_belt_damaged_by_heat", 0.2, 0.45),
            ("found_shaft_seal_leaking", 0.35, 0.4),
        ],
    ),
    (
        "belt_set_worn_out",
        &[("found_belt_damaged", 0.8, 0.97), ("found_sheave_worn", 0.3, 0.5), ("found_belt_damaged_by_heat", 0.4, 0.6)],
    ),
    ("belt_too_tight", &[("found_end_bearing_damaged", 0.08, 0.35), ("found_motor_bearing_damaged", 0.08, 0.25)]),
    ("sheaves_out_of_line", &[("found_belt_damaged", 0.3, 0.7), ("found_sheave_worn", 0.2, 0.5)]),
    ("phase_lost", &[("found_motor_winding_damaged", 0.1, 0.35)]),
    ("supply_voltage_low", &[("found_motor_winding_damaged", 0.05, 0.15)]),
    // Bearings and shaft: what runs rough, crooked or without its play is found so; a shaft that wobbles spoils its
    // lip. Practice.
    (
        "bearing_hours_over",
        &[
            ("found_end_bearing_damaged", 0.5, 0.95),
            ("found_rod_bearing_damaged", 0.05, 0.15),
            ("found_shaft_seal_leaking", 0.08, 0.2),
        ],
    ),
    (
        "coupling_out_of_line",
        &[
            ("found_coupling_element_torn", 0.35, 0.65),
            ("found_shaft_seal_leaking", 0.15, 0.3),
            ("found_motor_bearing_damaged", 0.05, 0.2),
        ],
    ),
    ("base_bolts_loose", &[("found_fasteners_shaken_loose", 0.3, 0.6)]),
    ("shaft_seal_aged", &[("found_shaft_seal_leaking", 0.85, 0.97), ("found_belt_oiled", 0.08, 0.2)]),
    ("end_play_too_small", &[("found_end_bearing_damaged", 0.2, 0.7)]),
    ("end_play_too_large", &[("found_end_bearing_damaged", 0.15, 0.4), ("found_shaft_seal_leaking", 0.2, 0.4)]),
    // Starved for long: Surface Production Operations ch. 12 (starved pumps break valves). Shares: practice, no source.
    ("pump_set_too_high", &[("found_seat_pitted", 0.05, 0.2), ("found_valve_hammered", 0.08, 0.25)]),
    ("inlet_line_too_long", &[("found_seat_pitted", 0.05, 0.15), ("found_valve_hammered", 0.08, 0.25)]),
    ("inlet_line_undersized", &[("found_seat_pitted", 0.03, 0.15), ("found_valve_hammered", 0.05, 0.2)]),
    // Valves: MIL-HDBK-1164 6.4.5.3 (grit and hours wear them); a jet under pressure cuts what it passes: physics. A
    // fault that is a broken spring or a cut seat is found as such. Shares: practice, no source.
    (
        "liquid_gritty",
        &[
            ("found_valve_face_worn", 0.5, 0.85),
            ("found_seat_wire_drawn", 0.3, 0.7),
            ("found_valve_retainer_worn", 0.15, 0.35),
        ],
    ),
    (
        "liquid_too_hot",
        &[
            ("found_diaphragm_attacked", 0.05, 0.2),
            ("found_ring_swollen", 0.05, 0.15),
            ("found_valve_swollen", 0.05, 0.15),
        ],
    ),
    (
        "valves_run_past_life",
        &[
            ("found_valve_face_worn", 0.75, 0.95),
            ("found_seat_wire_drawn", 0.2, 0.45),
            ("found_valve_retainer_worn", 0.2, 0.4),
            ("found_valve_hammered", 0.15, 0.35),
            ("found_valve_spring_broken_inlet", 0.05, 0.12),
        ],
    ),
    (
        "spring_fatigue",
        &[
            ("found_valve_spring_broken_inlet", 0.85, 0.95),
            ("found_valve_spring_broken_outlet", 0.1, 0.1),
            ("found_valve_piece_lodged", 0.15, 0.3),
            ("found_valve_hammered", 0.2, 0.4),
        ],
    ),
    ("debris_under_inlet_valve", &[("found_seat_wire_drawn", 0.08, 0.2)]),
    ("debris_under_outlet_valve", &[("found_seat_wire_drawn", 0.1, 0.3)]),
    ("new_valve_on_worn_seat", &[("found_seat_wire_drawn", 0.6, 0.85)]),
    ("seat_not_home", &[("found_seat_bore_washed", 0.25, 0.55)]),
    ("seat_seal_missing", &[("found_seat_bore_washed", 0.25, 0.55)]),
    ("valve_spring_wrong", &[("found_valve_hammered", 0.1, 0.2)]),
    (
        "inlet_supply_pressure_high",
        &[
            ("found_diaphragm_pushed_back", 0.1, 0.35),
            ("found_valve_spring_broken_inlet", 0.05, 0.2),
            ("found_valve_hammered", 0.15, 0.3),
            ("found_joint_leaking", 0.15, 0.3),
        ],
    ),
    ("manifold_seal_draws_air", &[("found_joint_leaking", 0.2, 0.35)]),
    ("outside_manifold_web_cracked", &[("found_head_cracked", 0.2, 0.3)]),
    // Diaphragms: as often as the row of the fault has it torn at clamp, centre or by a cut. Practice, no source.
    ("diaphragm_life_over", &[("found_diaphragm_torn", 0.8, 0.97)]),
    ("diaphragm_screw_loose", &[("found_diaphragm_torn", 0.3, 0.5)]),
    ("diaphragm_fitted_wrong", &[("found_diaphragm_torn", 0.55, 0.75), ("found_joint_leaking", 0.2, 0.3)]),
    ("foreign_body_in_chamber", &[("found_diaphragm_torn", 0.5, 0.8)]),
    // Oil side: NAVEDTRA 14115 (water and sediment); lips that drip leak, as often as the row of the fault says.
    // Practice.
    (
        "oil_not_topped_up",
        &[
            ("found_oil_piston_worn", 0.05, 0.15),
            ("found_end_bearing_damaged", 0.02, 0.12),
            ("found_shaft_seal_leaking", 0.3, 0.35),
        ],
    ),
    ("oil_grade_too_thin", &[("found_shaft_seal_leaking", 0.2, 0.3), ("found_oil_piston_worn", 0.1, 0.2)]),
    (
        "oil_wrong_type",
        &[
            ("found_ring_swollen", 0.2, 0.4),
            ("found_diaphragm_attacked", 0.1, 0.3),
            ("found_shaft_seal_leaking", 0.12, 0.25),
        ],
    ),
    ("oil_overfilled", &[("found_shaft_seal_leaking", 0.25, 0.4)]),
    ("oil_change_missed", &[("found_oil_piston_worn", 0.1, 0.35), ("found_end_bearing_damaged", 0.1, 0.3)]),
    ("condensation_in_oil", &[("found_oil_parts_rusted", 0.2, 0.5)]),
    ("wash_down_into_case", &[("found_oil_parts_rusted", 0.15, 0.4)]),
    ("breather_blocked", &[("found_shaft_seal_leaking", 0.4, 0.65)]),
    ("oil_piston_hours_over", &[("found_oil_piston_worn", 0.75, 0.95)]),
    ("outside_follower_worn", &[("found_cam_face_scuffed", 0.5, 0.8)]),
    // Outlet and gauges: a throttling relief cuts its seat, pulses strain gauges and shake bolts loose. Practice, no
    // source.
    ("relief_seat_worn", &[("found_relief_seat_cut", 0.85, 0.97)]),
    ("relief_dirt_on_seat", &[("found_relief_seat_cut", 0.15, 0.3)]),
    ("outlet_gauge_faulty", &[("found_gauge_strained", 0.4, 0.6)]),
    ("damper_gas_lost", &[("found_fasteners_shaken_loose", 0.1, 0.25)]),
    ("damper_charge_wrong", &[("found_fasteners_shaken_loose", 0.05, 0.2)]),
];
