//! Turns cautions, the trail and the head of the page into lines: what many pages share.

use super::lines::{Lines, flow, line, minutes, two_ends};
use super::page::World;
use super::theme::Theme;
use crate::job::{CautionView, Isolation, Sitting, StepView, TrailRow};
use crate::knowledge::schema::PumpState;
use crate::text::width;
use ratatui::text::Line;

/// A caution: signal word, hazard, what it does, how to avoid it.
pub(super) fn caution(caution: &CautionView, columns: usize, theme: &Theme) -> Lines {
    let word = format!("{} {}", theme.sign(caution.rank), caution.word);
    let what = format!("{} {}", caution.hazard, caution.consequence);
    flow(
        &[
            (word.as_str(), theme.signal(caution.rank)),
            (what.as_str(), theme.strong),
            (caution.avoid.as_str(), theme.text),
        ],
        columns,
    )
}

/// Cautions, gravest first, each by itself.
pub(super) fn cautions(all: &[CautionView], columns: usize, theme: &Theme) -> Vec<Lines> {
    all.iter().map(|view| caution(view, columns, theme)).collect()
}

/// The last answers, newest first.
pub(super) fn trail(sitting: &Sitting, columns: usize, theme: &Theme) -> Lines {
    let rows = sitting.trail();
    if rows.is_empty() {
        return Vec::new();
    }
    let head = format!("TRAIL  {} answered, newest first", rows.len());
    let mut lines = vec![line(&head, theme.heading)];
    lines.extend(rows.iter().rev().take(12).map(|row| trail_row(row, columns, theme)));
    lines
}

fn trail_row(row: &TrailRow, columns: usize, theme: &Theme) -> Line<'static> {
    let aside = if row.set_aside.is_some() { ", does not count" } else { "" };
    let answer = format!("{}{aside}", row.answer);
    let from = format!("{:12}", row.from);
    let room = columns.saturating_sub(width(&from) + 2).max(1);
    if columns < 60 {
        return two_ends((&row.name, theme.text), (&answer, theme.strong), columns, theme.marks.cut);
    }
    let mut line = two_ends((&row.name, theme.text), (&answer, theme.strong), room, theme.marks.cut);
    line.push_span(super::lines::span(&format!("  {from}"), theme.dim));
    line
}

/// Head of every page: pump, job, minutes, saved, release of the knowledge. What finds no room is left out.
pub(super) fn header(world: &World) -> Line<'static> {
    let (theme, columns) = (&world.theme, usize::from(world.size.0).saturating_sub(2));
    let cut = theme.marks.cut;
    let Some(desk) = &world.desk else {
        let release = format!("knowledge {}", world.knowledge.release);
        return two_ends(("weephole", theme.header), (&release, theme.header), columns, cut);
    };
    let header = desk.sitting.header();
    let release = header.knowledge.split(' ').next().unwrap_or_default().to_owned();
    let saved = if desk.unsaved { "NOT SAVED" } else { "saved" };
    let job = format!("job {}", desk.keeper.number());
    let minutes = format!("{} min", header.minutes);
    let whole =
        if header.pump == header.family { header.pump.clone() } else { format!("{}, {}", header.pump, header.family) };
    let (long, short) = (format!("{job}  {minutes}  {saved}"), format!("{minutes}  {saved}  {release}"));
    let candidates = [
        (whole.as_str(), format!("{long}  {}", header.knowledge)),
        (whole.as_str(), format!("{long}  {release}")),
        (whole.as_str(), short.clone()),
        (header.pump.as_str(), format!("{long}  {release}")),
        (header.pump.as_str(), short),
        (header.pump.as_str(), format!("{minutes}  {saved}")),
    ];
    let fits = |(name, end): &&(&str, String)| width(name) + 2 + width(end) <= columns;
    let (name, end) = candidates.iter().find(fits).unwrap_or(&candidates[5]);
    two_ends((name, theme.header), (end, theme.header), columns, cut)
}

/// Minutes, what is opened, and the pump's state, in one sentence.
pub(super) fn effort(step: &StepView) -> String {
    let opens = step.opens.as_ref().map_or_else(|| "nothing to open".to_owned(), |opens| format!("open: {opens}"));
    let state = match step.state {
        PumpState::Running => "; pump running",
        PumpState::Stopped => "; pump stopped",
        PumpState::Isolated => "; pump isolated",
        PumpState::Opened => "; pump isolated and opened",
        PumpState::Any => "",
    };
    format!("{}; {opens}{state}", minutes(step.minutes))
}

/// What an isolation proved earlier means for this step: it does not last by itself.
pub(super) fn isolation_note(sitting: &Sitting, step: &StepView) -> Option<String> {
    match &sitting.gates().isolation {
        Isolation::Proved(words, at) if step.needs_isolation => {
            let at = at.strftime("%H:%M UTC");
            Some(format!("Zero proved {at} ({words}). Prove it again before you reach in."))
        }
        Isolation::Proved(..) if step.state == PumpState::Running => {
            Some("End the isolation by the site procedure before the pump runs.".to_owned())
        }
        _ => None,
    }
}

/// A share as people weigh it; how it is written, not how it is found.
pub(super) fn of_20(share: f64) -> String {
    format!("{:.0} of 20", share * 20.0)
}

/// A share in percent, as written.
pub(super) fn percent(share: f64) -> String {
    if 0.0 < share && share < 0.005 { "<1 %".to_owned() } else { format!("{:.0} %", share * 100.0) }
}

/// So many of 20 pumps, rounded down: what misses now and then is never written as 20 of 20.
pub(super) fn at_least(of_20: f64) -> String {
    format!("{:.0} of 20", of_20.floor())
}
