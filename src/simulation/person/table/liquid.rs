//! Turns a fault into what a person notices of faults of liquid and instruments, and how often.
//!
//! Shares of jobs with this fault, slight and grave. Estimates from common practice, no source.

use super::Row;

/// Liquid and instruments.
pub const ROWS: &[Row] = &[
    // Vapour pressure: starved at a usual vacuum, cured by cooling; others on the tank too. Rubber: practice, no
    // source.
    Row {
        fault: "liquid_too_hot",
        look: (0.93, 0.97),
        shows: &[
            ("worse_as_liquid_warms", 0.6, 0.85),
            ("changed_warmer", 0.5, 0.6),
            ("cooling_helps", 0.4, 0.85),
            ("came_slowly", 0.35, 0.3),
            ("comes_and_goes", 0.4, 0.35),
            ("valve_swollen_seen", 0.05, 0.15),
            ("rubber_changed", 0.05, 0.15),
            ("other_suction_users_alike", 0.2, 0.4),
        ],
    },
    // Physics: gas comes out wherever pressure falls, again and again. Others on the tank too. Practice, no source.
    Row {
        fault: "liquid_gassy",
        look: (0.75, 0.88),
        shows: &[
            ("milk_clears_from_below", 0.55, 0.75),
            ("bubbles_at_tank_end", 0.4, 0.6),
            ("bubbles_at_inlet", 0.5, 0.85),
            ("changed_liquid", 0.35, 0.4),
            ("gas_pocket_returns", 0.5, 0.75),
            ("worse_as_liquid_warms", 0.4, 0.55),
            ("liquid_not_on_sheet", 0.3, 0.35),
            ("smell_hurts", 0.05, 0.1),
            ("cooling_helps", 0.25, 0.45),
            ("other_suction_users_alike", 0.2, 0.35),
            ("came_suddenly", 0.3, 0.3),
        ],
    },
    // Physics: friction, and valves that close late. Others on the tank too. Practice, no source.
    Row {
        fault: "liquid_too_thick",
        look: (0.85, 0.95),
        shows: &[
            ("liquid_flows_thick", 0.8, 0.95),
            ("changed_liquid", 0.45, 0.5),
            ("changed_colder", 0.4, 0.4),
            ("better_when_warm", 0.4, 0.55),
            ("liquid_not_on_sheet", 0.35, 0.4),
            ("hose_flattens", 0.05, 0.25),
            ("bad_after_standing", 0.25, 0.3),
            ("warm_flush_brings_back", 0.25, 0.35),
            ("strainer_out_helps", 0.1, 0.15),
            ("other_suction_users_alike", 0.2, 0.35),
            ("after_work", 0.1, 0.1),
        ],
    },
    // MIL-HDBK-1164 6.4.5.3 (grit wears, checks do not seat): all chambers alike, again after each renewal.
    Row {
        fault: "liquid_gritty",
        look: (0.85, 0.94),
        shows: &[
            ("grit_seen", 0.8, 0.95),
            ("seats_worn_alike", 0.3, 0.7),
            ("seat_groove_seen", 0.35, 0.65),
            ("look_strainer_sharp", 0.3, 0.45),
            ("nozzle_over_gauge", 0.3, 0.7),
            ("came_slowly", 0.5, 0.55),
            ("solids_all_the_time", 0.45, 0.5),
            ("coarse_grit_past_strainer", 0.2, 0.25),
            ("strainer_fouls_in_hours", 0.25, 0.4),
            ("strainer_torn_seen", 0.15, 0.2),
            ("jet_pattern_bad", 0.2, 0.45),
            ("oil_feels_gritty", 0.05, 0.08),
            ("valve_fails_fill_test", 0.3, 0.7),
            ("look_all_chambers_alike", 0.7, 0.85),
            ("pressure_drops_after_stop", 0.3, 0.7),
            ("valve_hisses", 0.15, 0.35),
            ("retainer_worn_seen", 0.15, 0.35),
            ("look_spring_rubbed", 0.08, 0.25),
            ("strainer_dirty_seen", 0.3, 0.4),
            ("same_part_failed_again", 0.3, 0.4),
        ],
    },
    // NAVEDTRA 14075 (first exclude instrument error). Shares: practice, no source.
    Row {
        fault: "inlet_gauge_faulty",
        look: (0.9, 0.97),
        shows: &[
            ("inlet_second_gauge_differs", 0.85, 0.98),
            ("inlet_gauge_off_zero", 0.6, 0.85),
            ("came_slowly", 0.3, 0.3),
            ("current_and_gauge_disagree", 0.05, 0.05),
            ("strainer_out_helps", 0.02, 0.02),
            ("work_is_fine", 0.6, 0.7),
            ("swing_within_log", 0.3, 0.3),
            ("bucket_helps", 0.02, 0.02),
            ("first_noticed_by_newcomer", 0.15, 0.15),
        ],
    },
    // NAVEDTRA 14075, as above. Shares: practice, no source.
    Row {
        fault: "outlet_gauge_faulty",
        look: (0.9, 0.97),
        shows: &[
            ("second_gauge_differs", 0.85, 0.98),
            ("gauge_off_zero", 0.55, 0.85),
            ("current_and_gauge_disagree", 0.5, 0.8),
            ("work_is_fine", 0.7, 0.75),
            ("came_suddenly", 0.4, 0.45),
            ("hammer_on_closing", 0.1, 0.15),
            ("known_orifice_low", 0.5, 0.8),
            ("first_noticed_by_newcomer", 0.15, 0.15),
            ("damper_cold_and_hard", 0.08, 0.08),
        ],
    },
    // Physics: a choked tube follows late and lets off late. Shares: practice, no source.
    Row {
        fault: "snubber_plugged",
        look: (0.85, 0.95),
        shows: &[
            ("gauge_needle_lazy", 0.75, 0.96),
            ("gauge_steady_pump_loud", 0.5, 0.75),
            ("needle_creeps_down", 0.55, 0.7),
            ("second_gauge_differs", 0.3, 0.7),
            ("work_is_fine", 0.65, 0.7),
            ("came_slowly", 0.5, 0.5),
            ("swing_within_log", 0.2, 0.1),
            ("current_and_gauge_disagree", 0.2, 0.45),
            ("liquid_leaves_scale", 0.2, 0.2),
        ],
    },
    // Volume over time tells the meter: physics. Shares: practice, no source.
    Row {
        fault: "flow_measure_wrong",
        look: (0.75, 0.9),
        shows: &[
            ("tank_drop_differs_from_meter", 0.65, 0.85),
            ("work_is_fine", 0.65, 0.7),
            ("return_not_counted", 0.3, 0.35),
            ("first_noticed_by_newcomer", 0.3, 0.35),
            ("doses_differ", 0.1, 0.15),
            ("current_and_gauge_disagree", 0.1, 0.1),
            ("just_so_for_months", 0.15, 0.15),
            ("swing_within_log", 0.6, 0.6),
            ("after_work", 0.15, 0.15),
        ],
    },
    // NAVEDTRA 14075, as for gauges. Shares: practice, no source.
    Row {
        fault: "oil_glass_misleading",
        look: (0.85, 0.93),
        shows: &[
            ("level_mark_doubtful", 0.8, 0.93),
            ("all_readings_as_baseline", 0.85, 0.8),
            ("oil_level_moves_after_stop", 0.45, 0.5),
            ("work_is_fine", 0.8, 0.8),
            ("oil_level_low", 0.35, 0.4),
            ("oil_above_mark", 0.25, 0.25),
            ("oil_milky", 0.1, 0.15),
            ("first_noticed_by_newcomer", 0.25, 0.25),
            ("swing_within_log", 0.8, 0.8),
        ],
    },
    // Rough and Tumble Engineering (a sharp click each stroke is health). Shares: practice, no source.
    Row {
        fault: "normal_behaviour",
        look: (0.8, 0.8),
        shows: &[
            ("all_readings_as_baseline", 0.85, 0.85),
            ("work_is_fine", 0.8, 0.8),
            ("just_so_for_months", 0.65, 0.65),
            ("first_noticed_by_newcomer", 0.45, 0.45),
            ("swing_within_log", 0.85, 0.85),
            ("bubbles_leave_no_loss", 0.15, 0.15),
            ("knock_each_turn", 0.1, 0.1),
            ("outlet_needle_swings", 0.1, 0.1),
            ("inlet_needle_swings", 0.1, 0.1),
            ("eases_by_the_hour", 0.1, 0.1),
            ("after_work", 0.2, 0.2),
        ],
    },
];
