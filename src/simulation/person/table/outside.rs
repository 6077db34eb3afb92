//! Turns a fault into what a person notices of faults that are on no list, and how often.
//!
//! Shares of jobs with this fault, slight and grave. Estimates from common practice, no source.

use super::Row;

/// What is on no list.
pub const ROWS: &[Row] = &[
    // Physics: a damper behind a plug is none. Shares: practice, no source.
    Row {
        fault: "outside_damper_neck_plugged",
        look: (0.0, 0.0),
        shows: &[
            ("pipes_shake", 0.4, 0.8),
            ("needle_shakes_fast", 0.3, 0.7),
            ("came_slowly", 0.6, 0.6),
            ("damper_cold_and_hard", 0.3, 0.45),
            ("liquid_leaves_scale", 0.35, 0.4),
            ("gauge_steady_pump_loud", 0.15, 0.2),
            ("hammer_on_closing", 0.2, 0.3),
            ("damper_hisses_liquid", 0.02, 0.02),
        ],
    },
    // Displacement: one stroke is short at any pressure and speed. Shares: practice, no source.
    Row {
        fault: "outside_follower_worn",
        look: (0.0, 0.0),
        shows: &[
            ("chamber_differs", 0.3, 0.6),
            ("came_slowly", 0.7, 0.7),
            ("oil_glitters", 0.4, 0.6),
            ("knock_each_turn", 0.3, 0.5),
            ("look_cam_face_scuffed", 0.5, 0.8),
            ("same_chamber_after_new_valves", 0.6, 0.7),
            ("look_oil_yellow_metal", 0.2, 0.3),
            ("slap_at_mid_stroke", 0.15, 0.25),
        ],
    },
    // Physics: it stays up until pressure is gone. No chamber is dead by it. Shares: practice, no source.
    Row {
        fault: "outside_relief_does_not_reseat",
        look: (0.0, 0.0),
        shows: &[
            ("bypass_line_flows", 0.5, 0.9),
            ("bypass_line_warm", 0.4, 0.7),
            ("back_after_stop_and_start", 0.2, 0.2),
            ("came_suddenly", 0.6, 0.6),
            ("relief_chatters", 0.2, 0.25),
            ("comes_and_goes", 0.5, 0.5),
            ("dry_after_lifting", 0.2, 0.2),
            ("relief_weeps_below_set", 0.3, 0.3),
        ],
    },
    // Physics: outlet leaks to inlet at any speed, at rest too. The crack lies inside. Shares: practice, no source.
    Row {
        fault: "outside_manifold_web_cracked",
        look: (0.0, 0.0),
        shows: &[
            ("valve_cover_warm", 0.3, 0.5),
            ("came_suddenly", 0.4, 0.4),
            ("pressure_drops_after_stop", 0.6, 0.8),
            ("falls_with_pressure", 0.5, 0.7),
            ("loss_same_at_half_speed", 0.5, 0.7),
            ("valve_hisses", 0.3, 0.5),
            ("crack_seen", 0.2, 0.3),
            ("inlet_rises_after_stop", 0.4, 0.6),
        ],
    },
    // As liquid too hot. Shares: practice, no source.
    Row {
        fault: "outside_tank_heater_stuck_on",
        look: (0.0, 0.0),
        shows: &[
            ("worse_as_liquid_warms", 0.6, 0.85),
            ("changed_warmer", 0.2, 0.2),
            ("cooling_helps", 0.3, 0.8),
            ("came_slowly", 0.4, 0.4),
            ("comes_and_goes", 0.4, 0.4),
            ("same_pump_fine_elsewhere", 0.7, 0.85),
            ("other_suction_users_alike", 0.2, 0.4),
            ("came_suddenly", 0.15, 0.15),
        ],
    },
    // Physics: slip and current come with the other machine. Shares: practice, no source.
    Row {
        fault: "outside_motor_shares_load",
        look: (0.0, 0.0),
        shows: &[
            ("motor_hot", 0.15, 0.35),
            ("motor_trips", 0.1, 0.25),
            ("comes_and_goes", 0.6, 0.6),
            ("shaft_turns_slow", 0.3, 0.6),
            ("changed_lineup", 0.3, 0.3),
            ("current_and_gauge_disagree", 0.5, 0.7),
            ("touched_drive", 0.3, 0.3),
            ("after_work", 0.3, 0.3),
        ],
    },
    // Physics: a hose that gives. Shares: practice, no source.
    Row {
        fault: "outside_outlet_hose_too_soft",
        look: (0.0, 0.0),
        shows: &[
            ("hose_bulges", 0.2, 0.35),
            ("touched_outlet", 0.5, 0.5),
            ("changed_lineup", 0.4, 0.4),
            ("after_work", 0.4, 0.4),
            ("line_changed_or_scaled", 0.3, 0.35),
            ("pipes_shake", 0.3, 0.4),
            ("hammer_on_closing", 0.1, 0.1),
            ("spongy_first_minutes", 0.3, 0.5),
        ],
    },
    // Physics: another user's strokes come down the shared feed. Shares: practice, no source.
    Row {
        fault: "outside_inlet_pulsed_by_neighbour",
        look: (0.0, 0.0),
        shows: &[
            ("worse_with_other_pump", 0.4, 0.55),
            ("alone_helps", 0.5, 0.65),
            ("comes_and_goes", 0.7, 0.7),
            ("shocks_match_other_valve", 0.3, 0.4),
            ("vacuum_falls_off_suddenly", 0.3, 0.4),
            ("other_suction_users_alike", 0.3, 0.4),
            ("feed_sags", 0.3, 0.6),
            ("inlet_hose_jumps", 0.4, 0.6),
            ("same_pump_fine_elsewhere", 0.8, 0.9),
        ],
    },
];
