//! Turns the graph of a family into printable tables for the wall: per symptom its causes, the way they lead to it, how
//! often, how to look and what removes them.
//!
//! "How often" follows the strongest way alone, so it is a lower bound: other ways can only add to it. Rows stand in the
//! order of the cause's share times that.

use crate::knowledge::{Graph, Knowledge, NodeKind};
use crate::text::page::{Body, heading, table, whole};
use crate::text::{capital, markdown};
use std::fmt::Write as _;

/// Rows of a table at most: a wall is read standing.
const ROWS: usize = 12;
const HEAD: [&str; 6] = ["Cause", "Way", "Of 20 pumps with only this cause", "Of 1,000 jobs", "Look", "Remedy"];
const SITE: &str = "Site isolation procedures, local codes and licensed practice go before anything said here. \
                    ISOLATE FIRST: locked, tagged, pressure relieved, two proofs of zero.";

/// One line of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct WallRow {
    /// Name of the cause.
    pub cause: String,
    /// Conditions and damage between cause and symptom.
    pub way: String,
    /// Probability of the symptom with only this cause, by the strongest way.
    pub often: f64,
    /// Share of jobs per 1,000.
    pub share: f64,
    /// The quickest look at the cause itself.
    pub look: String,
    /// What removes it.
    pub remedy: String,
}

/// One symptom.
#[derive(Debug, Clone, PartialEq)]
pub struct WallTable {
    /// The symptom.
    pub symptom: String,
    /// Its causes, leading ones first.
    pub rows: Vec<WallRow>,
    /// Causes that did not find room.
    pub left_out: usize,
}

/// All tables asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Family and state of the knowledge.
    pub of: String,
    /// Tables.
    pub tables: Vec<WallTable>,
}

/// The table of one finding, or of all that can be complaints.
pub fn wall(knowledge: &Knowledge, family: &str, finding: Option<&str>) -> Wall {
    let graph = Graph::new(knowledge, family, None);
    let wanted = knowledge.all.findings.iter().filter(|(id, entry)| match finding {
        Some(wanted) => wanted == id.as_str(),
        None => !entry.aliases.is_empty() && graph.findings.contains_key(id.as_str()),
    });
    let tables = wanted.map(|(id, entry)| table_of(knowledge, &graph, id, &entry.name)).collect();
    let family = knowledge.all.families.get(family).map_or(family, |family| &family.name);
    Wall { of: format!("{family}; knowledge {} ({})", knowledge.release, knowledge.hash), tables }
}

fn table_of(knowledge: &Knowledge, graph: &Graph, finding: &str, name: &str) -> WallTable {
    let ways = Ways::to(graph, finding);
    let causes = graph.of_kind(NodeKind::Cause).into_iter();
    let mut rows: Vec<WallRow> = causes.filter_map(|cause| row(knowledge, graph, cause, &ways)).collect();
    rows.sort_by(|a, b| (b.share * b.often).total_cmp(&(a.share * a.often)));
    let left_out = rows.len().saturating_sub(ROWS);
    rows.truncate(ROWS);
    WallTable { symptom: capital(name), rows, left_out }
}

/// The strongest way from every node to one finding.
struct Ways {
    /// Product of the strengths along it; 0 = no way.
    often: Vec<f64>,
    /// The node that comes next on it; none = the finding itself.
    next: Vec<Option<usize>>,
}

impl Ways {
    /// Nodes stand with parents before children, so that one walk from the back settles all.
    fn to(graph: &Graph, finding: &str) -> Self {
        let count = graph.nodes.len();
        let mut ways = Self { often: vec![0.0; count], next: vec![None; count] };
        for &(node, strength) in graph.findings.get(finding).map(|leaf| leaf.parents.as_slice()).unwrap_or_default() {
            ways.often[node] = strength;
        }
        for (child, node) in graph.nodes.iter().enumerate().rev() {
            for &(parent, strength) in &node.parents {
                let through = strength * ways.often[child];
                if ways.often[parent] < through {
                    (ways.often[parent], ways.next[parent]) = (through, Some(child));
                }
            }
        }
        ways
    }

    fn between(&self, from: usize) -> Vec<usize> {
        std::iter::successors(self.next[from], |&node| self.next[node]).collect()
    }
}

fn row(knowledge: &Knowledge, graph: &Graph, cause: usize, ways: &Ways) -> Option<WallRow> {
    let often = Some(ways.often[cause]).filter(|often| 0.0 < *often)?;
    let between: Vec<&str> = ways.between(cause).into_iter().map(|node| graph.nodes[node].name.as_str()).collect();
    let id = graph.nodes[cause].id.as_str();
    let entry = knowledge.all.causes.get(id)?;
    let remedy = entry.remedy.as_ref().and_then(|remedy| knowledge.all.remedies.get(remedy));
    Some(WallRow {
        cause: entry.name.clone(),
        way: if between.is_empty() { "directly".to_owned() } else { between.join(", ") },
        often,
        share: entry.shares.get(&graph.family).copied().unwrap_or_default(),
        look: look(knowledge, id, &graph.family),
        remedy: remedy.map(|remedy| remedy.name.clone()).unwrap_or_default(),
    })
}

/// The quickest check that yields a direct look at a cause, openings not counted.
fn look(knowledge: &Knowledge, cause: &str, family: &str) -> String {
    let all = &knowledge.all;
    let sees = |id: &String| all.findings.get(id).is_some_and(|finding| finding.verdict_on.as_deref() == Some(cause));
    let fits = |families: &[String]| crate::knowledge::applies(families, family);
    let checks = all.checks.values().filter(|check| fits(&check.families) && check.yields.iter().any(sees));
    let quickest = checks.min_by(|a, b| {
        (a.opens(), a.minutes).partial_cmp(&(b.opens(), b.minutes)).unwrap_or(std::cmp::Ordering::Equal)
    });
    quickest.map_or_else(String::new, |check| {
        let gate = if check.opens() { "ISOLATE FIRST: " } else { "" };
        format!("{gate}{}, {} min", check.name, check.minutes)
    })
}

impl WallRow {
    fn cells(&self) -> Vec<String> {
        let often = (20.0 * self.often).round();
        let often = if often < 1.0 { "fewer than 1".to_owned() } else { format!("{often}") };
        let share = format!("{}", self.share);
        vec![capital(&self.cause), self.way.clone(), often, share, self.look.clone(), capital(&self.remedy)]
    }
}

impl WallTable {
    fn rest(&self) -> Option<String> {
        (0 < self.left_out).then(|| format!("{} more causes are rarer than these.", self.left_out))
    }
}

impl Wall {
    /// As Markdown.
    pub fn markdown(&self) -> String {
        let mut text = format!("# Causes by symptom\n\n{}\n\n{SITE}\n", markdown(&self.of));
        for table in &self.tables {
            let _ =
                write!(text, "\n## {}\n\n| {} |\n|{}\n", markdown(&table.symptom), HEAD.join(" | "), "---|".repeat(6));
            for row in &table.rows {
                let cells: Vec<String> = row.cells().iter().map(|cell| markdown(cell)).collect();
                let _ = writeln!(text, "| {} |", cells.join(" | "));
            }
            if let Some(rest) = table.rest() {
                let _ = write!(text, "\n{rest}\n");
            }
        }
        text
    }

    /// As one self-contained page, made to be printed.
    pub fn html(&self) -> String {
        let mut body = Body::default();
        body.leaf("h1", "Causes by symptom");
        body.leaf("p", &self.of);
        body.leaf("p", SITE);
        let mut head = HEAD;
        (head[2], head[3]) = ("Of 20 pumps with only this cause:n", "Of 1,000 jobs:n");
        for one in &self.tables {
            heading(&mut body, &one.symptom);
            table(&mut body, &head, one.rows.iter().map(WallRow::cells).collect());
            if let Some(rest) = one.rest() {
                body.leaf("p", &rest);
            }
        }
        whole("Causes by symptom", body)
    }
}
