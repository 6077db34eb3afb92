//! Turns the marks of all practice jobs into trends and two small charts.

use super::page::{Effect, Page, World};
use crate::practice::Progress;
use crate::screen::chart::{bar, columns};
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, flow, line, para, span};
use crate::screen::parts::percent;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::text::Line;

const KEYS: &[Bound<()>] = &[acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to the lessons", ())];
/// Rows of the course.
const ROWS: usize = 4;
/// Cells of a bar.
const CELLS: usize = 20;

/// How practice goes.
pub(super) struct ProgressPage;

fn trend(name: &str, all: &str, last: &str, theme: &Theme) -> Line<'static> {
    Line::from(vec![
        span(&format!("{name:38}"), theme.text),
        span(&format!("{all:>8}"), theme.strong),
        span(&format!("{last:>10}"), theme.strong),
    ])
}

fn trends(progress: &Progress, width: usize, theme: &Theme) -> Lines {
    let times = |times: f64| format!("{times:.1} x");
    let both = |(all, last): (f64, f64), words: fn(f64) -> String| (words(all), words(last));
    let rows = [
        ("passed", both(progress.passed, percent)),
        ("minutes, times the planner's", (times(progress.over_planner.0), times(progress.over_planner.1))),
        ("told per minute, of the best possible", both(progress.share_of_best, percent)),
        ("unsafe moves", (progress.unsafe_moves.0.to_string(), progress.unsafe_moves.1.to_string())),
    ];
    if width < 56 {
        let told = |(name, (all, last)): (&str, (String, String))| {
            flow(&[(&format!("{name}:"), theme.text), (&format!("{all}, last ten {last}"), theme.strong)], width)
        };
        return rows.into_iter().flat_map(told).collect();
    }
    let head = format!("{:38}{:>8}{:>10}", "", "all", "last ten");
    let rows = rows.into_iter().map(|(name, (all, last))| trend(name, &all, &last, theme));
    std::iter::once(line(&head, theme.heading)).chain(rows).collect()
}

/// The latest jobs as columns, those not passed marked below.
fn course(progress: &Progress, room: usize, theme: &Theme) -> Lines {
    let first = progress.course.len().saturating_sub(room);
    let latest = progress.course.get(first..).unwrap_or_default();
    let shares: Vec<f64> = latest.iter().map(|(share, _)| *share).collect();
    let marks: String = latest.iter().map(|(_, passed)| if *passed { " " } else { "x" }).collect();
    let head = "JOB BY JOB: TOLD PER MINUTE, OF THE BEST POSSIBLE; x: NOT PASSED";
    let mut lines = para(head, room, theme.heading);
    lines.extend(columns(&shares, ROWS, theme.bar, theme));
    lines.push(line(&marks, theme.trouble));
    lines
}

/// How sure against how often right.
fn sure(progress: &Progress, width: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("HOW SURE, AND HOW OFTEN RIGHT THEN", theme.heading)];
    let cells = CELLS.min(width.saturating_sub(2));
    for (said, right, count) in &progress.sure {
        lines.extend(para(
            &format!("said {}: right {}, {count} times", percent(*said), percent(*right)),
            width,
            theme.text,
        ));
        for (label, share) in [("said", *said), ("right", *right)] {
            let mut spans = vec![span(&format!("{label:>7} "), theme.dim)];
            spans.extend(bar((share, 1.0), cells, theme));
            lines.push(Line::from(spans));
        }
    }
    lines
}

impl Page for ProgressPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, full, progress) = (&world.theme, Columns::of(world.size.0).full, &world.progress);
        let mut body = Lines::new();
        if progress.jobs == 0 {
            body.push(line("No job has ended yet.", theme.text));
        } else {
            body.extend(trends(progress, full, theme));
            body.push(blank());
            body.extend(course(progress, full, theme));
            body.push(blank());
            body.extend(sure(progress, full, theme));
        }
        let title = format!("{} jobs ended", progress.jobs);
        Sheet { place: "PROGRESS", title, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        find(KEYS, key.code).map(|()| Effect::Close).into_iter().collect()
    }
}
