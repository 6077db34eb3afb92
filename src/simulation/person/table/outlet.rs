//! Turns a fault into what a person notices of faults after the pump, and how often.
//!
//! Shares of jobs with this fault, slight and grave. Estimates from common practice, no source.

use super::Row;

/// Outlet line, relief, damper.
pub const ROWS: &[Row] = &[
    // Orifice law: one outlet shut leaves enough for the others, a new nozzle cures. Shares: practice, no source.
    Row {
        fault: "nozzle_worn",
        look: (0.85, 0.96),
        shows: &[
            ("nozzle_over_gauge", 0.7, 0.96),
            ("jet_pattern_bad", 0.4, 0.7),
            ("came_slowly", 0.75, 0.75),
            ("pressure_right_with_new_nozzle", 0.8, 0.95),
            ("touched_outlet", 0.05, 0.05),
            ("known_orifice_low", 0.03, 0.03),
            ("grit_seen", 0.2, 0.3),
            ("current_near_idle", 0.02, 0.1),
            ("weak_only_with_all_outlets", 0.2, 0.35),
        ],
    },
    // Orifice law, as above, but since somebody changed it. Shares: practice, no source.
    Row {
        fault: "nozzle_too_large",
        look: (0.88, 0.95),
        shows: &[
            ("nozzle_number_differs", 0.85, 0.95),
            ("nozzle_over_gauge", 0.5, 0.6),
            ("touched_outlet", 0.6, 0.6),
            ("after_work", 0.4, 0.4),
            ("load_or_speed_raised", 0.35, 0.35),
            ("pressure_right_with_new_nozzle", 0.8, 0.95),
            ("never_right", 0.25, 0.25),
            ("known_orifice_low", 0.03, 0.03),
            ("since_work_first_start", 0.3, 0.3),
            ("weak_only_with_all_outlets", 0.25, 0.4),
        ],
    },
    // Orifice law: right with one shut. Comes and goes with who opens. Shares: practice, no source.
    Row {
        fault: "too_many_outlets_open",
        look: (0.9, 0.96),
        shows: &[
            ("weak_only_with_all_outlets", 0.8, 0.93),
            ("nozzle_number_differs", 0.5, 0.6),
            ("changed_lineup", 0.4, 0.4),
            ("comes_and_goes", 0.5, 0.5),
            ("came_suddenly", 0.35, 0.35),
            ("pressure_right_with_new_nozzle", 0.1, 0.1),
            ("touched_outlet", 0.3, 0.3),
            ("known_orifice_low", 0.03, 0.03),
            ("after_work", 0.12, 0.12),
        ],
    },
    // Orifice law: pressure rises until the relief lifts. Shares: practice, no source.
    Row {
        fault: "nozzle_plugged",
        look: (0.9, 0.97),
        shows: &[
            ("nozzle_dirty", 0.85, 0.97),
            ("jet_pattern_bad", 0.55, 0.75),
            ("came_suddenly", 0.5, 0.55),
            ("pump_pieces_in_strainer_or_outlet", 0.15, 0.2),
            ("bypass_line_flows", 0.2, 0.85),
            ("relief_chatters", 0.1, 0.35),
            ("bypass_line_warm", 0.1, 0.5),
            ("comes_and_goes", 0.2, 0.2),
            ("grit_seen", 0.15, 0.2),
        ],
    },
    // Orifice law, as above, but since somebody changed it. Shares: practice, no source.
    Row {
        fault: "nozzle_too_small",
        look: (0.88, 0.95),
        shows: &[
            ("nozzle_number_differs", 0.85, 0.95),
            ("touched_outlet", 0.55, 0.55),
            ("after_work", 0.4, 0.4),
            ("bypass_line_flows", 0.2, 0.8),
            ("never_right", 0.25, 0.25),
            ("relief_chatters", 0.1, 0.3),
            ("bypass_line_warm", 0.1, 0.45),
            ("pressure_right_with_new_nozzle", 0.7, 0.85),
            ("since_work_first_start", 0.3, 0.3),
        ],
    },
    // The leak is seen; the line empties through it at rest: physics. Shares: practice, no source.
    Row {
        fault: "outlet_hose_leaking",
        look: (0.93, 0.98),
        shows: &[
            ("leak_after_pump", 0.88, 0.98),
            ("fine_jet_seen", 0.2, 0.45),
            ("came_suddenly", 0.4, 0.5),
            ("tank_drop_differs_from_meter", 0.3, 0.7),
            ("hose_bulges", 0.1, 0.25),
            ("leak_left_running", 0.2, 0.2),
            ("far_outlet_weaker", 0.2, 0.4),
            ("harmful_liquid_leaks", 0.03, 0.08),
            ("pressure_drops_after_stop", 0.5, 0.8),
        ],
    },
    // MIL-HDBK-1164 table 13 (low pressure: relief set too low). Shares: practice, no source.
    Row {
        fault: "relief_set_low",
        look: (0.88, 0.96),
        shows: &[
            ("relief_opens_early", 0.7, 0.97),
            ("bypass_line_flows", 0.5, 0.93),
            ("touched_outlet", 0.5, 0.5),
            ("relief_tampered", 0.5, 0.55),
            ("bypass_line_warm", 0.35, 0.8),
            ("after_work", 0.35, 0.35),
            ("relief_chatters", 0.15, 0.25),
            ("since_work_first_start", 0.3, 0.3),
            ("relief_used_to_regulate", 0.2, 0.25),
            ("relief_weeps_below_set", 0.1, 0.1),
        ],
    },
    // Esposito, Fluid Power, ex. 8.1 (a spring relief opens long before it passes all). Throttled liquid warms:
    // physics.
    Row {
        fault: "relief_seat_worn",
        look: (0.85, 0.95),
        shows: &[
            ("bypass_line_flows", 0.55, 0.93),
            ("relief_weeps_below_set", 0.6, 0.8),
            ("came_slowly", 0.6, 0.6),
            ("bypass_line_warm", 0.45, 0.85),
            ("relief_used_to_regulate", 0.4, 0.45),
            ("relief_chatters", 0.3, 0.4),
            ("return_at_low_pressure", 0.4, 0.75),
            ("pressure_drops_after_stop", 0.35, 0.6),
            ("relief_opens_early", 0.3, 0.5),
            ("dry_after_lifting", 0.05, 0.03),
        ],
    },
    // As above, at once, and washed away by lifting. Shares: practice, no source.
    Row {
        fault: "relief_dirt_on_seat",
        look: (0.82, 0.93),
        shows: &[
            ("bypass_line_flows", 0.6, 0.95),
            ("dry_after_lifting", 0.6, 0.4),
            ("return_at_low_pressure", 0.5, 0.85),
            ("came_suddenly", 0.55, 0.6),
            ("bypass_line_warm", 0.5, 0.9),
            ("pressure_drops_after_stop", 0.4, 0.65),
            ("relief_chatters", 0.15, 0.2),
            ("look_strainer_sharp", 0.1, 0.1),
            ("grit_seen", 0.2, 0.25),
            ("relief_weeps_below_set", 0.3, 0.3),
        ],
    },
    // DOE-HDBK-1018/1 ME-03 (no shut-off head of its own): it shows only when the outlet is shut. Shares: practice.
    Row {
        fault: "relief_set_high",
        look: (0.88, 0.95),
        shows: &[
            ("relief_opens_late", 0.8, 0.96),
            ("relief_tampered", 0.45, 0.55),
            ("relief_blocked_off", 0.2, 0.5),
            ("touched_outlet", 0.45, 0.45),
            ("pressure_jumps_on_shutoff", 0.6, 0.9),
            ("all_readings_as_baseline", 0.6, 0.6),
            ("after_work", 0.3, 0.3),
            ("hammer_on_closing", 0.1, 0.2),
            ("load_or_speed_raised", 0.2, 0.25),
        ],
    },
    // Physics: an open way to the tank at any pressure, at rest too. Shares: practice, no source.
    Row {
        fault: "bypass_left_open",
        look: (0.95, 0.99),
        shows: &[
            ("bypass_handle_open", 0.93, 0.98),
            ("bypass_line_flows", 0.7, 0.97),
            ("return_at_low_pressure", 0.7, 0.95),
            ("touched_outlet", 0.4, 0.4),
            ("after_work", 0.4, 0.4),
            ("came_suddenly", 0.45, 0.45),
            ("bypass_line_warm", 0.4, 0.6),
            ("changed_lineup", 0.4, 0.4),
            ("since_work_first_start", 0.35, 0.35),
            ("pressure_drops_after_stop", 0.6, 0.9),
        ],
    },
    // As above; most have a check that holds the line at rest. Shares: practice, no source.
    Row {
        fault: "regulator_stuck_bypassing",
        look: (0.85, 0.95),
        shows: &[
            ("bypass_line_flows", 0.8, 0.98),
            ("return_at_low_pressure", 0.75, 0.95),
            ("came_suddenly", 0.6, 0.65),
            ("bypass_line_warm", 0.5, 0.7),
            ("dry_after_lifting", 0.1, 0.05),
            ("relief_chatters", 0.1, 0.1),
            ("comes_and_goes", 0.25, 0.2),
            ("grit_seen", 0.15, 0.15),
            ("pressure_drops_after_stop", 0.15, 0.25),
        ],
    },
    // Rough and Tumble Engineering (started against a shut valve). Shares: practice, no source.
    Row {
        fault: "outlet_valve_shut",
        look: (0.95, 0.99),
        shows: &[
            ("outlet_valve_found_shut", 0.92, 0.98),
            ("bypass_line_flows", 0.5, 0.97),
            ("changed_lineup", 0.4, 0.4),
            ("relief_full_flow", 0.1, 0.7),
            ("came_suddenly", 0.5, 0.55),
            ("bypass_line_warm", 0.3, 0.8),
            ("relief_chatters", 0.15, 0.35),
            ("after_work", 0.3, 0.3),
            ("touched_outlet", 0.35, 0.35),
            ("starts_loaded", 0.1, 0.1),
        ],
    },
    // Physics: the drop lies across the filter. Shares: practice, no source.
    Row {
        fault: "outlet_filter_clogged",
        look: (0.92, 0.97),
        shows: &[
            ("pressure_drop_over_filter", 0.8, 0.97),
            ("came_slowly", 0.65, 0.65),
            ("bypass_line_flows", 0.2, 0.85),
            ("far_outlet_weaker", 0.4, 0.6),
            ("relief_chatters", 0.05, 0.25),
            ("bypass_line_warm", 0.1, 0.55),
            ("gauge_behind_something", 0.1, 0.1),
            ("grit_seen", 0.2, 0.3),
            ("pump_pieces_in_strainer_or_outlet", 0.1, 0.15),
        ],
    },
    // Physics: the drop lies along the line. Shares: practice, no source.
    Row {
        fault: "outlet_line_choked",
        look: (0.8, 0.92),
        shows: &[
            ("line_changed_or_scaled", 0.8, 0.93),
            ("far_outlet_weaker", 0.5, 0.8),
            ("came_slowly", 0.5, 0.5),
            ("bypass_line_flows", 0.2, 0.85),
            ("liquid_leaves_scale", 0.3, 0.35),
            ("relief_chatters", 0.05, 0.25),
            ("bypass_line_warm", 0.1, 0.5),
            ("nozzle_dirty", 0.15, 0.2),
            ("changed_lineup", 0.2, 0.2),
        ],
    },
    // Boyle: air gives first and comes back when pressure is let off. Shares: practice, no source.
    Row {
        fault: "outlet_air_pocket",
        look: (0.7, 0.85),
        shows: &[
            ("spongy_first_minutes", 0.6, 0.8),
            ("outlet_open_helps", 0.5, 0.75),
            ("since_work_first_start", 0.5, 0.55),
            ("outlet_spits", 0.3, 0.6),
            ("after_work", 0.5, 0.5),
            ("pressure_drops_after_stop", 0.05, 0.05),
            ("high_point_seen", 0.15, 0.2),
            ("eases_by_the_hour", 0.4, 0.4),
            ("pipes_shake", 0.1, 0.3),
            ("needle_creeps_down", 0.3, 0.5),
        ],
    },
    // Physics: without gas it is as stiff as the pipe, and so is what follows. Shares: practice, no source.
    Row {
        fault: "damper_gas_lost",
        look: (0.9, 0.97),
        shows: &[
            ("damper_cold_and_hard", 0.6, 0.85),
            ("damper_hisses_liquid", 0.3, 0.45),
            ("pipes_shake", 0.5, 0.85),
            ("came_slowly", 0.5, 0.5),
            ("hammer_on_closing", 0.2, 0.35),
            ("gauge_steady_pump_loud", 0.2, 0.25),
            ("all_readings_as_baseline", 0.2, 0.1),
            ("relief_chatters", 0.1, 0.2),
        ],
    },
    // As above; charged too high the bladder stands at its stop. Shares: practice, no source.
    Row {
        fault: "damper_charge_wrong",
        look: (0.88, 0.95),
        shows: &[
            ("damper_cold_and_hard", 0.4, 0.65),
            ("pipes_shake", 0.3, 0.8),
            ("touched_outlet", 0.5, 0.5),
            ("after_work", 0.35, 0.35),
            ("load_or_speed_raised", 0.3, 0.3),
            ("gauge_steady_pump_loud", 0.15, 0.2),
            ("all_readings_as_baseline", 0.3, 0.15),
            ("hammer_on_closing", 0.1, 0.25),
        ],
    },
];
