//! Turns a fault into what a person notices of faults of tank, feed and site, and how often.
//!
//! Shares of jobs with this fault, slight and grave. Estimates from common practice, no source.

use super::Row;

/// Tank, feed and site.
pub const ROWS: &[Row] = &[
    // Pumps and Hydraulics (no water to lift, air drawn in); else practice. One site in two has a second pump there.
    Row {
        fault: "tank_low",
        look: (0.95, 0.99),
        shows: &[
            ("tank_level_low_seen", 0.9, 0.99),
            ("worse_as_tank_falls", 0.6, 0.9),
            ("better_brim_full", 0.6, 0.9),
            ("tank_empty_seen", 0.02, 0.3),
            ("vortex_seen", 0.15, 0.6),
            ("bubbles_at_tank_end", 0.1, 0.6),
            ("came_slowly", 0.35, 0.35),
            ("level_falls_while_running", 0.5, 0.8),
            ("comes_and_goes", 0.3, 0.3),
            ("bubbles_at_inlet", 0.1, 0.6),
            ("other_suction_users_alike", 0.25, 0.45),
            ("same_pump_fine_elsewhere", 0.9, 0.95),
            ("milk_clears_from_below", 0.05, 0.5),
            ("ran_without_liquid", 0.03, 0.3),
        ],
    },
    // As a tank run low, but it comes at once: the tank is not filled again. Practice, no source.
    Row {
        fault: "float_valve_stuck",
        look: (0.85, 0.95),
        shows: &[
            ("float_hangs_seen", 0.8, 0.95),
            ("tank_level_low_seen", 0.7, 0.97),
            ("level_falls_while_running", 0.7, 0.9),
            ("worse_as_tank_falls", 0.5, 0.8),
            ("better_brim_full", 0.5, 0.8),
            ("tank_empty_seen", 0.05, 0.35),
            ("came_suddenly", 0.5, 0.6),
            ("vortex_seen", 0.1, 0.4),
            ("comes_and_goes", 0.3, 0.3),
            ("other_suction_users_alike", 0.25, 0.45),
            ("same_pump_fine_elsewhere", 0.9, 0.95),
            ("bubbles_at_tank_end", 0.05, 0.45),
            ("bubbles_at_inlet", 0.05, 0.45),
            ("milk_clears_from_below", 0.05, 0.4),
            ("ran_without_liquid", 0.03, 0.3),
        ],
    },
    // Physics: air comes with the liquid from the tank on, less the higher the level. Badly placed outlets are built
    // so.
    Row {
        fault: "tank_vortex",
        look: (0.7, 0.92),
        shows: &[
            ("vortex_seen", 0.6, 0.92),
            ("bubbles_at_tank_end", 0.4, 0.85),
            ("bubbles_at_inlet", 0.4, 0.85),
            ("better_brim_full", 0.6, 0.85),
            ("worse_as_tank_falls", 0.5, 0.8),
            ("tank_level_low_seen", 0.4, 0.6),
            ("comes_and_goes", 0.5, 0.4),
            ("milk_clears_from_below", 0.4, 0.7),
            ("tank_foam_seen", 0.1, 0.2),
            ("same_pump_fine_elsewhere", 0.85, 0.92),
            ("never_right", 0.2, 0.2),
            ("came_slowly", 0.3, 0.3),
        ],
    },
    // Physics: the shut tank pumps itself to a vacuum, all its users alike; a stop or an opened lid ends it.
    Row {
        fault: "tank_vent_blocked",
        look: (0.85, 0.95),
        shows: &[
            ("lid_open_helps", 0.75, 0.95),
            ("vacuum_climbs_with_time", 0.6, 0.85),
            ("came_suddenly", 0.3, 0.4),
            ("comes_and_goes", 0.4, 0.3),
            ("hose_flattens", 0.1, 0.5),
            ("worse_as_tank_falls", 0.3, 0.4),
            ("changed_lineup", 0.2, 0.2),
            ("pressure_fades", 0.3, 0.5),
            ("same_pump_fine_elsewhere", 0.9, 0.95),
            ("other_suction_users_alike", 0.25, 0.45),
        ],
    },
    // Rough and Tumble Engineering (strainer end covered); what floats comes and goes. Else practice, no source.
    Row {
        fault: "tank_debris_over_outlet",
        look: (0.8, 0.93),
        shows: &[
            ("sludge_at_outlet", 0.75, 0.95),
            ("came_suddenly", 0.5, 0.6),
            ("vacuum_climbs_with_time", 0.3, 0.3),
            ("vacuum_falls_off_suddenly", 0.25, 0.3),
            ("comes_and_goes", 0.35, 0.3),
            ("look_strainer_fibres", 0.25, 0.4),
            ("bucket_helps", 0.7, 0.9),
            ("hose_flattens", 0.1, 0.4),
            ("strainer_dirty_seen", 0.3, 0.4),
            ("same_pump_fine_elsewhere", 0.9, 0.95),
        ],
    },
    // Physics: bubbles follow the return and fill the tank for all its users. Shares: practice, no source.
    Row {
        fault: "return_stirs_air",
        look: (0.75, 0.9),
        shows: &[
            ("return_falls_free", 0.75, 0.9),
            ("tank_foam_seen", 0.6, 0.9),
            ("bubbles_at_tank_end", 0.55, 0.9),
            ("bubbles_at_inlet", 0.5, 0.85),
            ("bubbles_follow_return", 0.6, 0.85),
            ("milk_clears_from_below", 0.5, 0.75),
            ("changed_lineup", 0.4, 0.4),
            ("never_right", 0.2, 0.2),
            ("worse_as_tank_falls", 0.4, 0.5),
            ("same_pump_fine_elsewhere", 0.85, 0.92),
            ("other_suction_users_alike", 0.2, 0.35),
            ("after_work", 0.35, 0.35),
        ],
    },
    // Physics: the feed sags with draw, other users make it worse and their stop better. Other taps may be as short.
    Row {
        fault: "feed_supply_short",
        look: (0.85, 0.95),
        shows: &[
            ("feed_sags", 0.75, 0.97),
            ("came_suddenly", 0.3, 0.35),
            ("comes_and_goes", 0.55, 0.5),
            ("worse_with_other_pump", 0.35, 0.45),
            ("other_suction_users_alike", 0.35, 0.45),
            ("hose_flattens", 0.1, 0.4),
            ("changed_lineup", 0.25, 0.25),
            ("tank_level_low_seen", 0.15, 0.3),
            ("bucket_helps", 0.8, 0.95),
            ("same_pump_fine_elsewhere", 0.8, 0.9),
            ("alone_helps", 0.3, 0.4),
        ],
    },
    // Physics: fed above the springs it runs through at rest. Noisy valves, short-lived springs: practice, no source.
    Row {
        fault: "inlet_supply_pressure_high",
        look: (0.92, 0.97),
        shows: &[
            ("inlet_above_limit", 0.85, 0.98),
            ("flows_when_stopped", 0.5, 0.8),
            ("hammer_tracks_setting", 0.3, 0.4),
            ("seat_hammered_seen", 0.15, 0.3),
            ("liquid_leaks_at_head", 0.15, 0.3),
            ("changed_lineup", 0.35, 0.35),
            ("oil_level_rose", 0.08, 0.2),
            ("came_suddenly", 0.3, 0.3),
            ("diaphragm_printed_oil_side", 0.1, 0.35),
            ("knock_each_turn", 0.12, 0.3),
            ("same_part_failed_again", 0.15, 0.3),
            ("inlet_spring_broken_seen", 0.05, 0.2),
        ],
    },
    // Pumps and Hydraulics (less with more lift). Other pumps on the same water suffer too. Else practice, no source.
    Row {
        fault: "level_fell_with_season",
        look: (0.9, 0.95),
        shows: &[
            ("changed_season_level", 0.8, 0.92),
            ("came_slowly", 0.6, 0.6),
            ("vacuum_deeper_than_usual", 0.5, 0.9),
            ("tank_level_low_seen", 0.5, 0.7),
            ("foot_valve_in_mud", 0.15, 0.25),
            ("prime_fades", 0.15, 0.3),
            ("hose_flattens", 0.05, 0.3),
            ("worse_when_warm", 0.05, 0.1),
            ("same_pump_fine_elsewhere", 0.8, 0.9),
            ("other_suction_users_alike", 0.25, 0.4),
            ("worse_as_liquid_warms", 0.15, 0.3),
        ],
    },
    // Pumps and Hydraulics (lift); Surface Production Operations ch. 12 (starved pumps break valves). Pits: practice.
    Row {
        fault: "pump_set_too_high",
        look: (0.9, 0.95),
        shows: &[
            ("never_right", 0.55, 0.6),
            ("line_drains_when_standing", 0.2, 0.3),
            ("changed_lineup", 0.4, 0.4),
            ("hose_flattens", 0.05, 0.3),
            ("worse_when_warm", 0.05, 0.1),
            ("prime_fades", 0.15, 0.3),
            ("vacuum_deeper_than_usual", 0.4, 0.8),
            ("line_long_seen", 0.2, 0.3),
            ("same_pump_fine_elsewhere", 0.6, 0.7),
            ("worse_as_liquid_warms", 0.2, 0.35),
            ("same_part_failed_again", 0.15, 0.3),
            ("seat_hammered_seen", 0.08, 0.25),
            ("pits_seen", 0.05, 0.2),
            ("after_work", 0.3, 0.3),
        ],
    },
    // Standard atmosphere: the barometer is low at every tank of the site, so another one helps only where it stands
    // higher.
    Row {
        fault: "site_too_high",
        look: (0.92, 0.97),
        shows: &[
            ("changed_site_height", 0.75, 0.85),
            ("never_right", 0.3, 0.3),
            ("same_pump_fine_elsewhere", 0.4, 0.25),
            ("worse_as_liquid_warms", 0.25, 0.5),
            ("cooling_helps", 0.1, 0.4),
            ("other_suction_users_alike", 0.2, 0.3),
            ("after_work", 0.12, 0.12),
            ("prime_fades", 0.1, 0.25),
            ("pits_seen", 0.03, 0.15),
        ],
    },
];
