//! Turns an outline and a wish (set, insert, remove) into the few bytes of the text that change.
//!
//! Everything outside a splice stays as it is. What is removed takes its own comment with it: the one at its line end
//! and the lines touching it above, but no rule line (`// ---`) and no "Left out" remark, which speak of more than it.

use crate::knowledge::outline::{Kind, Node, Outline, Span};

/// One stretch of a text and what takes its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Splice {
    /// Bytes replaced; an empty stretch inserts.
    pub span: Span,
    /// New text.
    pub text: String,
}

impl Splice {
    fn at(offset: usize, text: String) -> Self {
        Self { span: Span::new(offset, offset), text }
    }

    /// The value of a node replaced.
    pub fn set(node: &Node, value: &str) -> Self {
        Self { span: node.span, text: value.to_owned() }
    }
}

/// The text with all splices made; none if two of them overlap or one does not fit.
pub fn spliced(text: &str, splices: &[Splice]) -> Option<String> {
    let mut sorted: Vec<&Splice> = splices.iter().collect();
    sorted.sort_by_key(|splice| splice.span);
    let mut made = String::with_capacity(text.len());
    let mut done = 0;
    for splice in sorted {
        made.push_str(text.get(done..splice.span.start)?);
        made.push_str(&splice.text);
        text.get(splice.span.range())?;
        done = splice.span.end;
    }
    made.push_str(text.get(done..)?);
    Some(made)
}

/// How lines end in this text.
pub fn line_end(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

/// Puts a new entry (key and value, no comma) behind the last one in these brackets.
pub fn insert(text: &str, outline: &Outline, parent: &Node, entry: &str) -> Vec<Splice> {
    let Some(body) = parent.body else { return Vec::new() };
    let Some(last) = parent.children.last() else { return vec![insert_first(text, outline, parent, body, entry)] };
    let Some(indent) = indent_before(text, last.entry().start) else {
        return vec![Splice::at(last.span.end, format!(", {}", one_place(text, parent, entry)))];
    };
    let line_end = line_end(text);
    let fresh = format!("{line_end}{indent}{},", indented(entry, indent, line_end));
    let after = last.comma.map_or(last.span.end, |comma| comma + 1);
    let place = end_of_line(text, outline, after, body.end);
    match last.comma {
        Some(_) => vec![Splice::at(place, fresh)],
        None if place == last.span.end => vec![Splice::at(place, format!(",{fresh}"))],
        None => vec![Splice::at(last.span.end, ",".to_owned()), Splice::at(place, fresh)],
    }
}

/// An entry in brackets that were empty.
fn insert_first(text: &str, outline: &Outline, parent: &Node, body: Span, entry: &str) -> Splice {
    let line_end = line_end(text);
    let outer = line_indent(text, parent.entry().start);
    let indent = format!("{outer}    ");
    let entry = indented(entry, &indent, line_end);
    if outline.comments_in(body).is_empty() {
        let is_list = matches!(parent.kind, Kind::List);
        let fresh = if is_list { entry } else { format!("{line_end}{indent}{entry},{line_end}{outer}") };
        return Splice { span: body, text: fresh };
    }
    match body.of(text).rfind('\n') {
        Some(last) => Splice::at(body.start + last + 1, format!("{indent}{entry},{line_end}")),
        None => Splice::at(body.end, format!(" {entry}")),
    }
}

/// A multi-line entry in a one-line list still has to be indented.
fn one_place(text: &str, parent: &Node, entry: &str) -> String {
    indented(entry, line_indent(text, parent.entry().start), line_end(text))
}

/// Takes one entry out of its brackets.
pub fn remove(text: &str, outline: &Outline, parent: &Node, index: usize) -> Option<Splice> {
    let child = parent.children.get(index)?;
    let body = parent.body?;
    let start = child.entry().start;
    let after = child.comma.map_or(child.span.end, |comma| comma + 1);
    let place = end_of_line(text, outline, after, body.end);
    let alone = indent_before(text, start).is_some() && rest_of_line(text, place).is_empty();
    let span = if alone {
        Span::new(with_comments_above(text, line_start(text, start), body.start), next_line(text, place))
    } else if child.comma.is_some() {
        let blanks = text.get(after..)?.bytes().take_while(|byte| *byte == b' ').count();
        Span::new(start, after + blanks)
    } else {
        let before = index.checked_sub(1).and_then(|before| parent.children.get(before)?.comma);
        let before = before.filter(|&comma| outline.comments_in(Span::new(comma, start)).is_empty());
        Span::new(before.unwrap_or(start), after)
    };
    Some(Splice { span, text: String::new() })
}

/// Where the line of a value ends that ends at `after`: behind the comments of its line, if nothing else follows there.
fn end_of_line(text: &str, outline: &Outline, after: usize, limit: usize) -> usize {
    let mut place = after;
    loop {
        let rest = rest_of_line(text, place);
        let blanks = rest.len() - rest.trim_start().len();
        let comment = outline.comments.iter().find(|comment| comment.span.start == place + blanks);
        match comment.filter(|comment| comment.span.end <= limit) {
            Some(comment) => place = comment.span.end,
            None if rest.trim().is_empty() => return place + rest.len(),
            None => return after,
        }
    }
}

/// The line's text from here, without its end.
fn rest_of_line(text: &str, from: usize) -> &str {
    let rest = text.get(from..).unwrap_or_default();
    let line = rest.split('\n').next().unwrap_or_default();
    line.strip_suffix('\r').unwrap_or(line)
}

fn next_line(text: &str, from: usize) -> usize {
    let rest = text.get(from..).unwrap_or_default();
    rest.find('\n').map_or(text.len(), |end| from + end + 1)
}

fn line_start(text: &str, at: usize) -> usize {
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |end| end + 1)
}

/// The blanks a line begins with.
fn line_indent(text: &str, at: usize) -> &str {
    let line = text.get(line_start(text, at)..).unwrap_or_default();
    let blanks = line.bytes().take_while(|byte| matches!(byte, b' ' | b'\t')).count();
    line.get(..blanks).unwrap_or_default()
}

/// The blanks before this place, if the line holds nothing else before it.
fn indent_before(text: &str, at: usize) -> Option<&str> {
    let before = text.get(line_start(text, at)..at)?;
    before.bytes().all(|byte| matches!(byte, b' ' | b'\t')).then_some(before)
}

fn with_comments_above(text: &str, start: usize, limit: usize) -> usize {
    let mut start = start;
    while limit < start {
        let above = line_start(text, start - 1);
        let line = text.get(above..start).unwrap_or_default().trim();
        let Some(said) = line.strip_prefix("//") else { break };
        if above < limit || said.contains("---") || said.contains("===") || said.trim_start().starts_with("Left out") {
            break;
        }
        start = above;
    }
    start
}

/// An entry of several lines moved in; one with a text over several lines is left alone, as its blanks may be meant.
pub(super) fn indented(entry: &str, indent: &str, line_end: &str) -> String {
    let inner = Outline::read(&format!("{{{entry}\n}}")).map(|outline| outline.root);
    if inner.is_ok_and(|root| has_long_text(&root, entry)) {
        return entry.to_owned();
    }
    let mut lines = entry.lines();
    let mut moved = lines.next().unwrap_or_default().to_owned();
    for line in lines {
        moved.push_str(line_end);
        if !line.trim().is_empty() {
            moved.push_str(indent);
            moved.push_str(line);
        }
    }
    moved
}

/// Spans count from one byte before the entry, where the bracket around it stands.
fn has_long_text(node: &Node, entry: &str) -> bool {
    let is_text = matches!(node.kind, Kind::Text | Kind::Bytes);
    let span = Span::new(node.span.start.saturating_sub(1), node.span.end.saturating_sub(1));
    (is_text && span.of(entry).contains('\n')) || node.children.iter().any(|child| has_long_text(child, entry))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{insert, remove, spliced};
    use crate::knowledge::outline::Outline;

    fn inserted(text: &str, path: &[&str], entry: &str) -> String {
        let outline = Outline::read(text).unwrap();
        spliced(text, &insert(text, &outline, outline.find(path).unwrap(), entry)).unwrap()
    }

    fn removed(text: &str, path: &[&str], index: usize) -> String {
        let outline = Outline::read(text).unwrap();
        spliced(text, &[remove(text, &outline, outline.find(path).unwrap(), index).unwrap()]).unwrap()
    }

    #[test]
    fn an_entry_goes_behind_the_last_one_in_its_manner() {
        assert_eq!(inserted("{\"a\": 1}", &[], "\"b\": 2"), "{\"a\": 1, \"b\": 2}");
        assert_eq!(inserted("{\"a\": 1,}", &[], "\"b\": 2"), "{\"a\": 1, \"b\": 2,}");
        let lines = "(\n    m: {\n        \"a\": 1,  // one\n        // behind\n    },\n)";
        let with = "(\n    m: {\n        \"a\": 1,  // one\n        \"b\": 2,\n        // behind\n    },\n)";
        assert_eq!(inserted(lines, &["m"], "\"b\": 2"), with);
        assert_eq!(inserted(&lines.replace("1,", "1"), &["m"], "\"b\": 2"), with);
        assert_eq!(inserted("{\r\n  1: 2\r\n}", &[], "3: 4"), "{\r\n  1: 2,\r\n  3: 4,\r\n}");
        assert_eq!(inserted("{\n  1: 2 }", &[], "3: 4"), "{\n  1: 2,\n  3: 4, }");
    }

    #[test]
    fn empty_brackets_take_a_first_entry() {
        assert_eq!(inserted("(\n  m: {},\n)", &["m"], "1: 2"), "(\n  m: {\n      1: 2,\n  },\n)");
        assert_eq!(inserted("(m: [])", &["m"], "1"), "(m: [1])");
        assert_eq!(inserted("{\n  // none\n}", &[], "1: 2"), "{\n  // none\n    1: 2,\n}");
        assert_eq!(inserted("{/* none */}", &[], "1: 2"), "{/* none */ 1: 2}");
    }

    #[test]
    fn lines_are_moved_in_but_texts_are_not() {
        assert_eq!(
            inserted("(\n    m: {\n    },\n)", &["m"], "1: (\n    a: 2,\n)"),
            "(\n    m: {\n        1: (\n            a: 2,\n        ),\n    },\n)"
        );
        let long = inserted("{\n    0: \"\",\n}", &[], "1: \"a\n  b\"");
        assert_eq!(long, "{\n    0: \"\",\n    1: \"a\n  b\",\n}");
    }

    #[test]
    fn what_is_removed_takes_its_own_comments_and_no_others() {
        let text =
            "{\n  // --- side ---\n  // of a\n  1: 2,  // end\n  // Left out: b\n  3: 4,\n\n  // apart\n\n  5: 6\n}";
        assert_eq!(removed(text, &[], 0), text.replace("  // of a\n  1: 2,  // end\n", ""));
        assert_eq!(removed(text, &[], 1), text.replace("  3: 4,\n", ""));
        assert_eq!(removed(text, &[], 2), text.replace("  5: 6\n", ""));
    }

    #[test]
    fn one_of_a_line_is_removed_with_one_comma() {
        assert_eq!(removed("[1, 2, 3]", &[], 0), "[2, 3]");
        assert_eq!(removed("[1, 2, 3]", &[], 1), "[1, 3]");
        assert_eq!(removed("[1, 2, 3]", &[], 2), "[1, 2]");
        assert_eq!(removed("[1]", &[], 0), "[]");
        assert_eq!(removed("[1, /* x */ 2]", &[], 1), "[1, /* x */ ]");
    }
}
