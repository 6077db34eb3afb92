//! Turns a value, its healthy band and its scale into a drawing of a number scale, with the value before the work if any.

use crate::quantity::short_number;
use crate::record::Gauge;
use crate::record::{band_words, with_unit};
use crate::text::drawing::{Drawing, FAINT, Hang, INK, WIDTH};

const HEIGHT: f64 = 74.0;
const LEFT: f64 = 14.0;
const RIGHT: f64 = WIDTH - 14.0;
/// Height of the axis.
const AXIS: f64 = 40.0;

/// The drawing; `shown` is the value in words.
pub(super) fn render(name: &str, gauge: &Gauge, shown: &str, before: Option<f64>) -> String {
    let window = window(gauge, before);
    let x = |value: f64| LEFT + (RIGHT - LEFT) * ((value - window.0) / (window.1 - window.0)).clamp(0.0, 1.0);
    let told = format!("{name}: {shown}, {}; healthy {}", gauge.verdict(), band_words(gauge));
    let mut drawing = Drawing::new(HEIGHT, &told);
    band(&mut drawing, gauge, x);
    drawing.line((LEFT, AXIS), (RIGHT, AXIS), &format!("stroke=\"{INK}\" stroke-width=\"1.5\""));
    for (end, hang) in [(window.0, Hang::Start), (window.1, Hang::End)] {
        drawing.line((x(end), AXIS - 5.0), (x(end), AXIS + 5.0), &format!("stroke=\"{INK}\""));
        drawing.text((x(end), AXIS + 30.0), hang, FAINT, &with_unit(end, &gauge.unit));
    }
    if let Some(usual) = gauge.usual {
        let at = x(usual);
        let diamond = [(at, AXIS - 6.0), (at + 6.0, AXIS), (at, AXIS + 6.0), (at - 6.0, AXIS)];
        drawing.shape(&diamond, &format!("fill=\"#fff\" stroke=\"{INK}\" stroke-width=\"1.5\""));
    }
    if let Some(before) = before {
        moved(&mut drawing, x(before), x(gauge.value));
    }
    value(&mut drawing, gauge, shown, x(gauge.value));
    drawing.finish()
}

/// What part of the scale is drawn: all that matters and a margin, never more than the instrument could show.
fn window(gauge: &Gauge, before: Option<f64>) -> (f64, f64) {
    let healthy = gauge.healthy.into_iter().flat_map(|(from, to)| [from, to]);
    let points: Vec<f64> = healthy.chain(gauge.usual).chain(before).chain([gauge.value]).collect();
    let low = points.iter().copied().fold(f64::INFINITY, f64::min);
    let high = points.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let span = if high - low <= 0.0 { (gauge.scale.1 - gauge.scale.0).abs() / 4.0 } else { high - low };
    let (from, to) = ((low - 0.4 * span).max(gauge.scale.0.min(low)), (high + 0.4 * span).min(gauge.scale.1.max(high)));
    if from < to { (from, to) } else { (from - 0.5, to + 0.5) }
}

fn band(drawing: &mut Drawing, gauge: &Gauge, x: impl Fn(f64) -> f64) {
    let Some((from, to)) = gauge.healthy else { return };
    let (left, right) = (x(from), x(to));
    let style = "fill=\"#d5efe4\" stroke=\"#00664b\" stroke-width=\"1.5\"";
    drawing.rect((left, AXIS - 9.0), (right - left, 18.0), style);
    let words = format!("healthy {} to {}", short_number(from, 3), short_number(to, 3));
    let middle = f64::midpoint(left, right).clamp(190.0, WIDTH - 190.0);
    drawing.text((middle, AXIS + 30.0), Hang::Middle, "#00664b", &words);
}

/// The way from the value before, hollow, to the value after.
fn moved(drawing: &mut Drawing, before: f64, after: f64) {
    drawing.line((before, AXIS), (after, AXIS), "stroke=\"#0072b2\" stroke-width=\"5\" stroke-opacity=\"0.55\"");
    drawing.circle((before, AXIS), 5.5, "fill=\"#fff\" stroke=\"#0072b2\" stroke-width=\"2\"");
}

/// A pointer on the value, its number and its verdict.
fn value(drawing: &mut Drawing, gauge: &Gauge, shown: &str, at: f64) {
    let ink = match gauge.verdict() {
        "below its band" | "above its band" => "#a83f00",
        _ => "#005a8c",
    };
    drawing.shape(&[(at - 7.0, AXIS - 15.0), (at + 7.0, AXIS - 15.0), (at, AXIS - 1.0)], &format!("fill=\"{ink}\""));
    let words = format!("{shown}: {}", gauge.verdict());
    let hang = match at {
        at if at < WIDTH / 3.0 => Hang::Start,
        at if 2.0 * WIDTH / 3.0 < at => Hang::End,
        _ => Hang::Middle,
    };
    let x = match hang {
        Hang::Start => (at - 7.0).max(LEFT),
        Hang::End => (at + 7.0).min(RIGHT),
        Hang::Middle => at,
    };
    drawing.text((x, AXIS - 21.0), hang, ink, &words);
}
