//! Turns one leading cause, and what stays open, into lines: chain, confirming checks, readings, remedy.

use crate::job::{Broke, ChainLink, Confirming, ExpectedReading, RemedyView, ResultCause, Results, Status};
use crate::screen::ask::part;
use crate::screen::likely::style_of;
use crate::screen::lines::{Lines, blank, hanging, line, minutes, numbered, para, span};
use crate::screen::parts::{at_least, of_20};
use crate::screen::theme::Theme;
use crate::text::capital;

/// All that belongs to a leading cause.
pub(super) fn cause_lines(cause: &ResultCause, columns: usize, theme: &Theme) -> Lines {
    let row = &cause.row;
    let stands = format!("{}: {} of 20 jobs like this, {}", row.status.word(), row.of_20, row.word);
    let mut lines = para(&capital(&stands), columns, style_of(row.status, theme));
    lines.push(blank());
    lines.extend(chain(&cause.chain, columns, theme));
    if row.status != Status::Confirmed && !cause.confirm.is_empty() {
        lines.push(line("WOULD CONFIRM IT", theme.heading));
        lines.extend(cause.confirm.iter().flat_map(|check| bullet(&confirming(check), columns, theme)));
        lines.push(blank());
    }
    if row.status != Status::Confirmed && !cause.readings.is_empty() {
        lines.push(line("READINGS THAT WOULD SPEAK FOR IT", theme.heading));
        lines.extend(cause.readings.iter().flat_map(|reading| bullet(&expected(reading), columns, theme)));
        lines.push(blank());
    }
    if !cause.run_on.is_empty() {
        lines.push(line("UNTIL A PLANNED STOP", theme.heading));
        lines.extend(cause.run_on.iter().flat_map(|view| {
            let said = format!("{}: {}. {}", capital(&view.name), view.may.words(), view.limits);
            bullet(said.trim_end(), columns, theme)
        }));
        lines.push(blank());
    }
    if let Some(view) = &cause.remedy {
        lines.extend(remedy(view, columns, theme));
    }
    if !cause.lets_it_happen.is_empty() {
        lines.push(line("WHAT USUALLY LETS IT HAPPEN", theme.heading));
        lines.extend(para(&cause.lets_it_happen, columns, theme.text));
        lines.push(blank());
    }
    lines
}

fn chain(chain: &[ChainLink], columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("CHAIN", theme.heading)];
    let [first, through, last, beside] = theme.marks.path;
    for (at, link) in chain.iter().enumerate() {
        let is_last = at + 1 == chain.len();
        let mark = if is_last { last } else { [first, through][at.min(1)] };
        let label = format!("{mark} {:<10}", link.kind);
        let beside = if is_last { " " } else { beside };
        for (row, mut piece) in
            hanging((&label, theme.dim), (&link.name, theme.strong), columns).into_iter().enumerate()
        {
            // The path goes on beside a name of several rows.
            if 0 < row
                && let Some(lead) = piece.spans.first_mut().filter(|lead| lead.content.starts_with("  "))
            {
                *lead = span(&format!("{beside}{}", &lead.content[1..]), theme.dim);
            }
            lines.push(piece);
        }
    }
    lines.push(blank());
    lines
}

fn remedy(view: &RemedyView, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line(&view.kind.to_uppercase(), theme.heading)];
    let name = format!("{}, {}", capital(&view.name), minutes(view.minutes));
    lines.extend(para(&name, columns, theme.strong));
    lines.extend(numbered(&view.steps, columns, theme.text));
    part(&mut lines, "Parts:", &view.parts.join(", "), (columns, theme));
    for setting in &view.settings {
        part(&mut lines, &format!("{}:", setting.title), &setting.lines.join(" "), (columns, theme));
    }
    part(&mut lines, "Proved by:", &view.proof.join("; "), (columns, theme));
    lines.push(blank());
    lines
}

fn confirming(check: &Confirming) -> String {
    let opens = check.opens.as_ref().map_or(String::new(), |opens| format!(", open: {opens}"));
    let finds = at_least(check.finds_of_20);
    format!("{}, {}{opens}; finds it in {finds}", capital(&check.name), minutes(check.minutes))
}

fn expected(reading: &ExpectedReading) -> String {
    let times = at_least(reading.of_20);
    format!("{} {} the healthy {}, in {times}", capital(&reading.name), reading.way, reading.healthy)
}

fn bullet(text: &str, columns: usize, theme: &Theme) -> Lines {
    hanging((theme.marks.dot, theme.dim), (text, theme.text), columns)
}

/// Parts found harmed, and why they broke.
pub(super) fn broke_lines(all: &[Broke], columns: usize, theme: &Theme) -> Lines {
    let mut lines = Lines::new();
    for broke in all {
        lines.push(line("WHY DID IT BREAK?", theme.heading));
        let because = broke.because.as_deref().unwrap_or("not known yet");
        lines.extend(para(&format!("{}: {because}", capital(&broke.name)), columns, theme.strong));
        for row in broke.causes.iter().filter(|_| broke.because.is_none()) {
            lines.extend(bullet(&format!("{}, {} of 20", row.name, row.of_20), columns, theme));
        }
        for look in &broke.looks {
            lines.extend(hanging(("It looks:", theme.dim), (look, theme.text), columns));
        }
        for look in &broke.unexplained {
            lines.extend(hanging(("Stays unexplained:", theme.trouble), (look, theme.text), columns));
        }
        lines.push(blank());
    }
    lines
}

/// What no leading cause explains, what may not be in the graph, and what to look at again.
pub(super) fn open_ends(results: &Results, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line("WHAT STAYS OPEN", theme.heading)];
    for complaint in &results.unexplained {
        lines.extend(hanging(("Still unexplained:", theme.dim), (complaint, theme.strong), columns));
    }
    let share = of_20(results.not_in_graph);
    lines.extend(hanging(("Something not known here:", theme.dim), (&format!("{share} jobs"), theme.text), columns));
    if !results.conflict.1.is_empty() {
        let names = results.conflict.1.join("; ");
        lines.extend(hanging(("Fits badly, check again:", theme.trouble), (&names, theme.text), columns));
    }
    lines
}
