//! Turns a short sample of the belief exam into a test; the whole exam is `cargo run --release --example belief_exam`.
#![allow(clippy::unwrap_used)]

#[path = "bench/belief_exam.rs"]
mod exam;

/// Seed 3, 300 and 100 jobs on the stored network of sixty causes: confidence is off by no more than chance explains
/// (twice its mean), a wrong answer is among the two named in at least half of the jobs, and few are suspected in vain.
#[test]
fn a_short_exam_is_passed() {
    let net = exam::nets::stored("n60");
    let marks = exam::in_model(&net, 8, 300, 3);
    let mark = |name: &str| marks[name].as_f64().unwrap();
    assert!(mark("calibration_error") <= 2.0 * mark("calibration_error_by_chance"), "{marks}");
    assert!(mark("top_1") <= mark("top_3") && 0.5 < mark("top_3"), "{marks}");
    let wrong = exam::with_wrong(&net, 8, 100, 3);
    assert!(0.5 <= wrong["wrong_one_in_top_two"].as_f64().unwrap(), "{wrong}");
    assert!(wrong["false_alarms"].as_f64().unwrap() <= 0.08, "{wrong}");
}

/// Two bins by hand: two jobs at 0.95 with one right are 0.45 off, two at 0.55 with one right 0.05; the mean is 0.25.
#[test]
fn the_calibration_error_is_what_it_says() {
    let jobs = [(0.95, true), (0.95, false), (0.55, true), (0.55, false)];
    assert!((exam::calibration_error(&jobs) - 0.25).abs() < 1e-12);
}
