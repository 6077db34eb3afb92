//! Turns shapes and escaped text into an SVG drawing; colours and dashes that need no colour vision.

use super::escape::html as escape;
use std::fmt::Write as _;

/// Width of a drawing on a page, in its own units.
pub const WIDTH: f64 = 720.0;
/// Ink of text and axes.
pub const INK: &str = "#111";
/// Ink of what stands in the background.
pub const FAINT: &str = "#767676";

/// Where a text hangs on its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hang {
    /// Begins there.
    Start,
    /// Stands over it.
    Middle,
    /// Ends there.
    End,
}

/// A drawing as it grows.
pub struct Drawing {
    text: String,
    width: f64,
    height: f64,
    title: String,
}

impl Drawing {
    /// An empty drawing; the title is what a screen reader says.
    pub fn new(height: f64, title: &str) -> Self {
        Self::sized((WIDTH, height), title)
    }

    /// The same of any width.
    pub fn sized((width, height): (f64, f64), title: &str) -> Self {
        Self { text: String::new(), width, height, title: escape(title) }
    }

    /// A line; `style` holds further attributes.
    pub fn line(&mut self, (x1, y1): (f64, f64), (x2, y2): (f64, f64), style: &str) {
        let _ = writeln!(self.text, "<line x1=\"{x1:.1}\" y1=\"{y1:.1}\" x2=\"{x2:.1}\" y2=\"{y2:.1}\" {style}/>");
    }

    /// A box from its upper left corner.
    pub fn rect(&mut self, (x, y): (f64, f64), (width, height): (f64, f64), style: &str) {
        let _ = writeln!(
            self.text,
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" {style}/>"
        );
    }

    /// A line through points.
    pub fn path(&mut self, points: &[(f64, f64)], style: &str) {
        let _ = writeln!(self.text, "<polyline points=\"{}\" fill=\"none\" {style}/>", joined(points));
    }

    /// A filled shape.
    pub fn shape(&mut self, points: &[(f64, f64)], style: &str) {
        let _ = writeln!(self.text, "<polygon points=\"{}\" {style}/>", joined(points));
    }

    /// A circle.
    pub fn circle(&mut self, (x, y): (f64, f64), radius: f64, style: &str) {
        let _ = writeln!(self.text, "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{radius:.1}\" {style}/>");
    }

    /// One line of text on its baseline.
    pub fn text(&mut self, (x, y): (f64, f64), hang: Hang, ink: &str, text: &str) {
        let anchor = match hang {
            Hang::Start => "start",
            Hang::Middle => "middle",
            Hang::End => "end",
        };
        let _ = writeln!(
            self.text,
            "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\" fill=\"{ink}\">{}</text>",
            escape(text)
        );
    }

    /// The whole, as part of a page.
    pub fn finish(self) -> String {
        format!(
            "<svg viewBox=\"0 0 {:.0} {:.0}\" role=\"img\" aria-label=\"{}\" font-size=\"13\">\n{}</svg>\n",
            self.width, self.height, self.title, self.text
        )
    }

    /// The whole, as a file of its own on white.
    pub fn finish_alone(self) -> String {
        let Self { text, width, height, title } = self;
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.0}\" height=\"{height:.0}\" viewBox=\"0 0 {width:.0} \
             {height:.0}\" role=\"img\" font-family=\"'Liberation Sans',Arial,sans-serif\" font-size=\"13\">\n\
             <title>{title}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{text}</svg>\n"
        )
    }
}

fn joined(points: &[(f64, f64)]) -> String {
    let points: Vec<String> = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
    points.join(" ")
}
