//! Turns tables into the text of a BIF file (Bayesian interchange format, the 0.15 form that libraries read).

use super::tables::Tables;
use super::writer::Variable;
use crate::text::clean;
use std::fmt::Write as _;

/// The file: what must be set and what is left out, all variables, then all tables. Every number is written with the
/// digits that give it back exactly.
pub fn bif(tables: &Tables) -> String {
    let mut text = head(tables);
    // Writing to a text cannot fail.
    let _ = writeln!(text, "\nnetwork {} {{\n}}", super::writer::identifier(&tables.family));
    for variable in &tables.variables {
        declare(&mut text, variable);
    }
    for variable in &tables.variables {
        tabulate(&mut text, variable, &tables.variables);
    }
    text
}

fn head(tables: &Tables) -> String {
    let given: Vec<&str> =
        tables.variables.iter().map(|v| v.name.as_str()).filter(|name| name.starts_with("given_")).collect();
    let mut text = format!(
        "// Symptom-cause graph of the pump family {}; knowledge {} ({}).\n\
         //\n\
         // Every query must set these to yes: {}.\n\
         // Without them the numbers are not those of a job, in which at least one cause is present.\n\
         // Findings are as people answer them: what they miss and what they see wrongly is part of their tables.\n\
         // Readings appear as their bands: below, in or above the healthy one. The joint factor by which physics ties\n\
         // measured numbers together is not exported. Where a band is a share of the pump's usual value, that value is\n\
         // taken to stand in the middle of the scale.\n\
         // Nodes named *_o0, *_o1 and so on are links of a chain: a node with more than five parents is the end of such a chain.\n",
        clean(&tables.family),
        clean(&tables.release),
        tables.hash,
        given.join(", "),
    );
    if !tables.same_observation.is_empty() {
        text.push_str("// These observe the same thing; a query sets at most one of each line:\n");
    }
    for group in &tables.same_observation {
        let _ = writeln!(text, "//   {}", group.join(", "));
    }
    text
}

fn declare(text: &mut String, variable: &Variable) {
    text.push('\n');
    if !variable.words.is_empty() {
        let _ = writeln!(text, "// {}", clean(&variable.words));
    }
    let (name, count, states) = (&variable.name, variable.states.len(), variable.states.join(", "));
    let _ = writeln!(text, "variable {name} {{\n  type discrete [ {count} ] {{ {states} }};\n}}");
}

fn tabulate(text: &mut String, variable: &Variable, all: &[Variable]) {
    let parents: Vec<&Variable> = variable.parents.iter().map(|&parent| &all[parent]).collect();
    let names: Vec<&str> = parents.iter().map(|parent| parent.name.as_str()).collect();
    let bar = if names.is_empty() { "" } else { " | " };
    let _ = writeln!(text, "\nprobability ( {}{bar}{} ) {{", variable.name, names.join(", "));
    for (index, row) in variable.rows.iter().enumerate() {
        let numbers: Vec<String> = row.iter().map(f64::to_string).collect();
        let states = states_of(index, &parents);
        let key = if parents.is_empty() { "table".to_owned() } else { format!("({})", states.join(", ")) };
        let _ = writeln!(text, "  {key} {};", numbers.join(", "));
    }
    text.push_str("}\n");
}

/// States of the parents in a row; the last parent changes fastest.
fn states_of(mut row: usize, parents: &[&Variable]) -> Vec<&'static str> {
    let mut states = Vec::with_capacity(parents.len());
    for parent in parents.iter().rev() {
        states.push(parent.states[row % parent.states.len()]);
        row /= parent.states.len();
    }
    states.reverse();
    states
}
