//! Turns hand-made chances and minutes into lists whose order is known; tests only.

use super::{CauseCost, Costs, in_order, minutes_left};

fn cost(look: f64, repair: f64) -> CauseCost {
    CauseCost {
        node: 0,
        look: Some("look".to_owned()),
        look_minutes: look,
        look_openings: 0,
        repair_minutes: repair,
        repair_openings: 0,
    }
}

/// Two causes looked at in the order of chance over minutes (Kadane and Simon 1977), worked by hand:
/// p = 0.6, 0.4; looks 5 and 30 min; repairs 10 and 20 min too long to guess. Treated in order 0, 1:
/// repairs 0.6·100 + 0.4·200 = 140, looks 1·5 + 0.4·min(30, (1 − 1)·200) = 5. Total 145.
#[test]
fn list_value_by_hand() {
    let costs = Costs::of_causes(vec![cost(5.0, 100.0), cost(30.0, 200.0)], Vec::new());
    let minutes = minutes_left(&costs, &[0.6, 0.4], 0);
    assert!((minutes - 145.0).abs() < 1e-9, "{minutes}");
    let order: Vec<usize> = in_order(&costs, &[0.6, 0.4], 0).into_iter().map(|entry| entry.cause).collect();
    assert_eq!(order, [0, 1]);
}

/// At 95 % sure, looking first (40 min) costs more than 5 % of a wasted repair of 90 min.
#[test]
fn repairs_straight_away_when_sure() {
    let costs = Costs::of_causes(vec![cost(40.0, 90.0), cost(10.0, 90.0)], Vec::new());
    assert!(in_order(&costs, &[0.95, 0.02], 0)[0].repair_now);
}

/// No cause, no minutes, no list.
#[test]
fn nothing_left() {
    let costs = Costs::of_causes(Vec::new(), Vec::new());
    assert!(minutes_left(&costs, &[], 0) == 0.0 && in_order(&costs, &[], 0).is_empty());
}
