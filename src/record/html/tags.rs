//! Turns plain text into HTML elements; the only place where text enters the page, always escaped.

use crate::text::html as escape;
use std::fmt::Write as _;

/// The page as it grows.
#[derive(Default)]
pub(super) struct Body {
    text: String,
}

impl Body {
    /// Opens an element.
    pub(super) fn open(&mut self, tag: &str) {
        let _ = writeln!(self.text, "<{tag}>");
    }

    /// Closes an element.
    pub(super) fn close(&mut self, tag: &str) {
        let _ = writeln!(self.text, "</{tag}>");
    }

    /// An element that holds text only.
    pub(super) fn leaf(&mut self, tag: &str, text: &str) {
        let _ = writeln!(self.text, "<{tag}>{}</{tag}>", escape(text));
    }

    /// A drawing that was built of escaped text.
    pub(super) fn raw(&mut self, drawing: &str) {
        self.text.push_str(drawing);
    }

    /// The whole.
    pub(super) fn text(self) -> String {
        self.text
    }
}

/// A section heading.
pub(super) fn heading(body: &mut Body, title: &str) {
    body.leaf("h2", title);
}

/// A list of lines; nothing without lines.
pub(super) fn list(body: &mut Body, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    body.open("ul");
    for line in lines {
        body.leaf("li", line);
    }
    body.close("ul");
}

/// A table. A column name may end in `:n` for numbers or `:t` for text kept on one line.
pub(super) fn table(body: &mut Body, head: &[&str], rows: Vec<Vec<String>>) {
    let columns: Vec<(&str, String)> = head.iter().map(|name| column(name)).collect();
    body.open("table");
    body.open("thead");
    body.raw("<tr>");
    for (name, class) in &columns {
        body.raw(&format!("<th scope=\"col\"{class}>{}</th>", escape(name)));
    }
    body.raw("</tr>\n");
    body.close("thead");
    body.open("tbody");
    for row in rows {
        body.raw("<tr>");
        for (cell, (_, class)) in row.iter().zip(&columns) {
            body.raw(&format!("<td{class}>{}</td>", escape(cell)));
        }
        body.raw("</tr>\n");
    }
    body.close("tbody");
    body.close("table");
}

/// Name of a column and its class attribute.
fn column(name: &str) -> (&str, String) {
    match name.split_once(':') {
        Some((name, class)) => (name, format!(" class=\"{class}\"")),
        None => (name, String::new()),
    }
}
