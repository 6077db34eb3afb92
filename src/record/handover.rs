//! Turns the page for the next shift into Markdown short enough for one sheet of paper.

use crate::job::Sitting;
use crate::text::markdown as escape;
use std::fmt::Write as _;

/// The page, LF at line ends.
pub(super) fn render(sitting: &Sitting) -> String {
    let page = sitting.handover();
    let (release, hash) = &sitting.job.knowledge;
    let mut text = format!("# Hand-over: {}\n", escape(&page.pump));
    for (title, lines) in page.parts() {
        let _ = write!(text, "\n## {title}\n\n");
        for line in lines {
            let _ = writeln!(text, "- {}", escape(line));
        }
    }
    let made = format!("Program {}, knowledge {release} ({hash}).", sitting.job.program);
    let _ = write!(text, "\n{}\n{}\n", escape(&made), super::SITE_RULES);
    text
}
