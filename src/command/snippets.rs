//! Turns a problem into a picture of the line it stands in, with the place marked and what to do.

use crate::knowledge::{Problem, Severity, SourceText};
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};

/// The problem with the lines around it, in plain characters.
pub fn picture(problem: &Problem, sources: &[SourceText]) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let title = level.primary_title(problem.message.as_str()).id(problem.rule);
    let source = sources.iter().find(|source| source.name == problem.file);
    let Some(source) = source.filter(|source| is_inside(problem, source)) else {
        return format!("{}:{}:{}: {} ({})", problem.file, problem.line, problem.column, problem.message, problem.hint);
    };
    // Only the lines that are marked: drawing looks through the whole text each time.
    let (from, lines) = lines_of(problem, source);
    let mark = AnnotationKind::Primary.span(problem.range.0 - from..problem.range.1 - from);
    let first = 1 + source.text[..from].matches('\n').count();
    let snippet = Snippet::source(lines).line_start(first).path(problem.file.as_str()).annotation(mark);
    let hint = Level::HELP.message(problem.hint.as_str());
    Renderer::plain().render(&[title.element(snippet).element(hint)])
}

/// Longest text that is drawn, bytes: a file in one line of megabytes is named only.
const MOST_DRAWN: usize = 20_000;

/// The whole lines in which a problem stands, and where they begin.
fn lines_of<'s>(problem: &Problem, source: &'s SourceText) -> (usize, &'s str) {
    let (text, (from, to)) = (source.text.as_str(), problem.range);
    let start = text[..from].rfind('\n').map_or(0, |at| at + 1);
    let end = text[to..].find('\n').map_or(text.len(), |at| to + at);
    (start, &text[start..end])
}

fn is_inside(problem: &Problem, source: &SourceText) -> bool {
    let (from, to) = problem.range;
    let fits = from <= to && to <= source.text.len();
    let whole = fits && source.text.is_char_boundary(from) && source.text.is_char_boundary(to);
    whole && lines_of(problem, source).1.len() <= MOST_DRAWN
}
