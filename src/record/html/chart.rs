//! Turns the list of causes after each answer into a line chart: numbered lines, each with its own dash.

use crate::record::{BeliefLine, Beliefs};
use crate::text::cut;
use crate::text::drawing::{Drawing, FAINT, Hang, INK, WIDTH};

const LEFT: f64 = 48.0;
const RIGHT: f64 = WIDTH - 36.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 232.0;
/// Steps that still get a number each below the axis.
const NUMBERED: usize = 24;
/// Columns of a name in the legend.
const COLUMNS: usize = 84;

/// Okabe and Ito's colours that stand out on white, darkened where text hangs on them, each with a dash of its own.
const LOOKS: [(&str, &str); 6] = [
    ("#0072b2", ""),
    ("#d55e00", "9 4"),
    ("#007a59", "3 3"),
    ("#a0447a", "12 3 3 3"),
    ("#8a6100", "6 2"),
    (INK, "1 3"),
];

/// The drawing with its legend.
pub(super) fn render(beliefs: &Beliefs) -> String {
    let count = beliefs.steps.len();
    let height = BOTTOM + 44.0 + 20.0 * beliefs.lines.len() as f64;
    let mut drawing = Drawing::new(height, "Probability of the leading causes after each answer");
    axes(&mut drawing, beliefs);
    for (at, line) in beliefs.lines.iter().enumerate() {
        let points: Vec<(f64, f64)> =
            line.probabilities.iter().enumerate().map(|(step, p)| (across(step, count), up(*p))).collect();
        drawing.path(&points, &stroke(at, 2.5));
        for point in points {
            drawing.circle(point, 2.6, &format!("fill=\"{}\"", LOOKS[at % LOOKS.len()].0));
        }
    }
    for (at, y) in ends(&beliefs.lines).into_iter().enumerate() {
        let ink = LOOKS[at % LOOKS.len()].0;
        drawing.text((RIGHT + 12.0, y + 4.0), Hang::Start, ink, &(at + 1).to_string());
    }
    legend(&mut drawing, &beliefs.lines);
    drawing.finish()
}

fn across(step: usize, count: usize) -> f64 {
    if count < 2 {
        return f64::midpoint(LEFT, RIGHT);
    }
    LEFT + 10.0 + (RIGHT - LEFT - 10.0) * step as f64 / (count - 1) as f64
}

fn up(probability: f64) -> f64 {
    BOTTOM - (BOTTOM - TOP) * probability.clamp(0.0, 1.0)
}

fn stroke(at: usize, width: f64) -> String {
    let (ink, dash) = LOOKS[at % LOOKS.len()];
    let dash = if dash.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{dash}\"") };
    format!("stroke=\"{ink}\" stroke-width=\"{width}\"{dash}")
}

fn axes(drawing: &mut Drawing, beliefs: &Beliefs) {
    for percent in [0_u8, 25, 50, 75, 100] {
        let y = up(f64::from(percent) / 100.0);
        drawing.line((LEFT, y), (RIGHT, y), "stroke=\"#d0d0d0\"");
        drawing.text((LEFT - 6.0, y + 4.0), Hang::End, INK, &format!("{percent} %"));
    }
    let count = beliefs.steps.len();
    let every = count.div_ceil(NUMBERED).max(1);
    for (at, step) in beliefs.steps.iter().enumerate().filter(|(at, _)| at % every == 0) {
        let x = across(at, count);
        drawing.line((x, BOTTOM), (x, BOTTOM + 5.0), &format!("stroke=\"{INK}\""));
        drawing.text((x, BOTTOM + 19.0), Hang::Middle, FAINT, &step.entry.to_string());
    }
    drawing.text((LEFT - 6.0, BOTTOM + 19.0), Hang::End, FAINT, "entry");
}

/// Heights of the numbers at the ends of the lines, pushed apart so that none covers another.
fn ends(lines: &[BeliefLine]) -> Vec<f64> {
    const APART: f64 = 14.0;
    let mut order: Vec<(usize, f64)> =
        lines.iter().map(|line| up(line.probabilities.last().copied().unwrap_or(0.0))).enumerate().collect();
    order.sort_by(|a, b| b.1.total_cmp(&a.1).then(b.0.cmp(&a.0)));
    let mut heights = vec![0.0; lines.len()];
    let mut below = f64::INFINITY;
    for (at, y) in order {
        below = y.min(below - APART);
        heights[at] = below;
    }
    heights
}

fn legend(drawing: &mut Drawing, lines: &[BeliefLine]) {
    for (at, line) in lines.iter().enumerate() {
        let y = BOTTOM + 44.0 + 20.0 * at as f64;
        drawing.text((LEFT - 16.0, y + 4.0), Hang::End, LOOKS[at % LOOKS.len()].0, &(at + 1).to_string());
        drawing.line((LEFT - 8.0, y), (LEFT + 34.0, y), &stroke(at, 3.0));
        let last = 100.0 * line.probabilities.last().copied().unwrap_or(0.0);
        drawing.text((LEFT + 42.0, y + 4.0), Hang::Start, INK, &format!("{} ({last:.1} %)", cut(&line.name, COLUMNS)));
    }
}
