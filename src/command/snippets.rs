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
    let mark = AnnotationKind::Primary.span(problem.range.0..problem.range.1);
    let snippet = Snippet::source(source.text.as_str()).path(problem.file.as_str()).annotation(mark);
    let hint = Level::HELP.message(problem.hint.as_str());
    Renderer::plain().render(&[title.element(snippet).element(hint)])
}

fn is_inside(problem: &Problem, source: &SourceText) -> bool {
    let (from, to) = problem.range;
    from <= to && to <= source.text.len() && source.text.is_char_boundary(from) && source.text.is_char_boundary(to)
}
