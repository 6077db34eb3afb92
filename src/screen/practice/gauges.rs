//! Turns the needles of a practice pump into two dials whose needles move, each with the trace it has drawn.
//!
//! A pump makes more strokes in a second than a terminal makes pictures, so the needles are shown slowed down.

use super::page::{Effect, Page, World};
use crate::practice::Dial;
use crate::screen::chart::columns;
use crate::screen::dial::place;
use crate::screen::face::{Face, face_lines, has_room};
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, line, para, span, two_ends};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crate::text::capital;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::text::Line;

/// Needles are shown so many times slower.
const SLOWER: f64 = 8.0;
/// Rows of a trace beside the job, and on the page of the gauges.
const TRACE: (usize, usize) = (2, 4);

const KEYS: &[Bound<()>] = &[acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to the job", ())];

/// Both dials beside something else, each a group of its own.
pub(super) fn beside(world: &World, columns: usize) -> Vec<Lines> {
    let theme = &world.theme;
    let Some(exercise) = &world.exercise else { return Vec::new() };
    let says = |text: &str| vec![line("GAUGES", theme.heading), line(text, theme.dim)];
    if exercise.stands() {
        return vec![says("The pump stands.")];
    }
    match &world.dials {
        None => vec![says(&format!("walking up to the gauges{}", theme.marks.cut))],
        Some(dials) if dials.is_empty() => vec![says("No gauge to watch.")],
        Some(dials) => dials.iter().map(|dial| gauge(dial, world.seconds, (columns, TRACE.0), theme)).collect(),
    }
}

/// One dial: its value, the needle on its face, the ends of the face, the trace.
fn gauge(dial: &Dial, seconds: f64, (width, rows): (usize, usize), theme: &Theme) -> Lines {
    let now = dial.point(seconds / SLOWER);
    let words = dial.course.get(now).map_or("", |point| point.words.as_str());
    let cut = theme.marks.cut;
    let mut lines = vec![
        two_ends((&capital(dial.name), theme.heading), (words, theme.strong), width, cut),
        face(dial, now, width, theme),
        two_ends((&dial.ends.0, theme.dim), (&dial.ends.1, theme.dim), width, cut),
    ];
    lines.extend(columns(&trace(dial, now, width), rows, theme.bar, theme));
    lines
}

/// The round face: the healthy band outside, where the needle swings inside.
fn round(dial: &Dial, seconds: f64, columns: usize, theme: &Theme) -> Lines {
    let needle = dial.course.get(dial.point(seconds / SLOWER)).map(|point| point.at);
    let healthy = dial.healthy.map(|band| (band, theme.good));
    let bands = healthy.into_iter().chain([(dial.swing, theme.bar)]).collect();
    face_lines(&Face { bands, needle }, columns, theme)
}

/// The face: where the needle swings, and where it stands now.
fn face(dial: &Dial, now: usize, cells: usize, theme: &Theme) -> Line<'static> {
    let (from, to) = (place(dial.swing.0, cells), place(dial.swing.1, cells));
    let at = dial.course.get(now).map(|point| place(point.at, cells));
    let cell = |cell: usize| match cell {
        _ if at == Some(cell) => span(theme.marks.needle, theme.strong),
        cell if (from..=to).contains(&cell) => span(theme.marks.half, theme.bar),
        _ => span(theme.marks.empty, theme.dim),
    };
    Line::from((0..cells).map(cell).collect::<Vec<_>>())
}

/// The last heights up to now, the newest at the right end.
fn trace(dial: &Dial, now: usize, cells: usize) -> Vec<f64> {
    let many = dial.course.len();
    let back = |back: usize| (now + many * (back / many.max(1) + 1) - back) % many.max(1);
    (0..cells.min(many)).rev().filter_map(|at| dial.course.get(back(at))).map(|point| point.height).collect()
}

/// The gauges alone, larger.
pub(super) struct GaugesPage;

impl Page for GaugesPage {
    fn shows_dials(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, full) = (&world.theme, Columns::of(world.size.0).full);
        let stands = world.exercise.as_ref().is_none_or(crate::practice::Exercise::stands);
        let mut body = Lines::new();
        match &world.dials {
            Some(dials) if !stands => {
                let tall = has_room(world.size);
                for dial in dials {
                    let mut lines = gauge(dial, world.seconds, (full, TRACE.1), theme);
                    if tall {
                        lines.splice(1..1, round(dial, world.seconds, full, theme));
                    }
                    body.extend(lines);
                    let swings = format!("The needle goes from {} to {}.", dial.between.0, dial.between.1);
                    body.extend(para(&swings, full, theme.text));
                    body.push(blank());
                }
            }
            _ => body.extend(beside(world, full).into_iter().flatten().skip(1)), // without the heading
        }
        let title = format!("at full speed, slowed down {SLOWER:.0} times");
        Sheet { place: "GAUGES", title, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        find(KEYS, key.code).map(|()| Effect::Close).into_iter().collect()
    }
}
