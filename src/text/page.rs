//! Turns plain text into one self-contained HTML page; the only place where text enters a page, always escaped.

use super::escape::html as escape;
use std::fmt::Write as _;

/// Forbids everything but the page's own style, should a text ever slip through.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";

const STYLE: &str = "\
html{background:#fff;color:#111;font:16px/1.45 system-ui,'Segoe UI',Roboto,'Liberation Sans',sans-serif}
body{max-width:46rem;margin:1.5rem auto;padding:0 1rem;overflow-wrap:break-word}
h1{font-size:1.6rem;line-height:1.2;margin:0 0 .6rem}
h2{font-size:1.15rem;margin:1.8rem 0 .5rem;border-bottom:2px solid #111;padding-bottom:.15rem}
h3{font-size:1rem;margin:1rem 0 .3rem}
p,ul,ol,blockquote,figure{margin:.4rem 0}
ul,ol{padding-left:1.3rem}
blockquote{border-left:4px solid #0072b2;padding:.2rem 0 .2rem .8rem;font-style:italic}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.1rem .8rem;margin:.4rem 0}
dt{color:#444}dd{margin:0}
table{border-collapse:collapse;width:100%;font-size:.9rem}
th,td{text-align:left;vertical-align:top;padding:.22rem .5rem .22rem 0;border-bottom:1px solid #bbb}
th{border-bottom:1px solid #111}
td.n,th.n{text-align:right;white-space:nowrap;padding-right:1rem}
td.t,th.t{white-space:nowrap}
figcaption{font-size:.9rem;color:#333}
svg{display:block;width:100%;height:auto;font:13px system-ui,'Segoe UI',Roboto,'Liberation Sans',sans-serif}
footer{margin-top:2rem;border-top:1px solid #111;padding-top:.4rem;font-size:.85rem;color:#333}
@page{size:A4;margin:15mm}
@media print{html{font-size:10.5pt}body{max-width:none;margin:0;padding:0}
h2,h3{break-after:avoid}figure,tr,li{break-inside:avoid}thead{display:table-header-group}}
";

/// The page as it grows.
#[derive(Default)]
pub struct Body {
    text: String,
}

impl Body {
    /// Opens an element.
    pub fn open(&mut self, tag: &str) {
        let _ = writeln!(self.text, "<{tag}>");
    }

    /// Closes an element.
    pub fn close(&mut self, tag: &str) {
        let _ = writeln!(self.text, "</{tag}>");
    }

    /// An element that holds text only.
    pub fn leaf(&mut self, tag: &str, text: &str) {
        let _ = writeln!(self.text, "<{tag}>{}</{tag}>", escape(text));
    }

    /// A drawing that was built of escaped text.
    pub fn raw(&mut self, drawing: &str) {
        self.text.push_str(drawing);
    }

    /// The whole.
    pub fn text(self) -> String {
        self.text
    }
}

/// The page with its head: no script, nothing loaded from anywhere, LF at line ends.
pub fn whole(title: &str, body: Body) -> String {
    let title = escape(title);
    let meta = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">", escape(POLICY));
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n{meta}\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{title}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n{}</body>\n</html>\n",
        body.text()
    )
}

/// A section heading.
pub fn heading(body: &mut Body, title: &str) {
    body.leaf("h2", title);
}

/// A list of lines; nothing without lines.
pub fn list(body: &mut Body, lines: &[String]) {
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
pub fn table(body: &mut Body, head: &[&str], rows: Vec<Vec<String>>) {
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
