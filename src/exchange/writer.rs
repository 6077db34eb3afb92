//! Turns noisy-ORs, "at least one" and "at most one" into variables with small tables.

use std::collections::BTreeSet;

/// A node with at most this many parents is one table, any other a chain of tables over two.
const PLAIN_PARENTS: usize = 5;
/// States of everything but readings and counts.
const NO_YES: &[&str] = &["no", "yes"];
/// States of a reading, in the order of [`crate::evidence::Bin`].
pub const BANDS: &[&str] = &["below", "in", "above"];
/// How many members of a group are present so far.
const COUNT: &[&str] = &["none", "one", "more"];
/// What the names of nodes that every query sets begin with; no other name does.
const GIVEN: &str = "given_";
/// Words that mean something in the file itself.
const RESERVED: [&str; 8] = ["network", "variable", "probability", "property", "type", "discrete", "table", "default"];

/// A discrete variable.
#[derive(Debug, Clone, PartialEq)]
pub struct Variable {
    /// Identifier: letters, digits and underscores, the first a letter.
    pub name: String,
    /// What it stands for, in a line of words; empty for a part of another variable.
    pub words: String,
    /// Names of its states.
    pub states: &'static [&'static str],
    /// Indices of its parents, all below its own.
    pub parents: Vec<usize>,
    /// Probability of each state, for each combination of the parents' states; the last parent changes fastest.
    pub rows: Vec<Vec<f64>>,
}

/// Variables written so far, parents before children.
#[derive(Debug, Default)]
pub struct Writer {
    /// The variables.
    pub variables: Vec<Variable>,
    names: BTreeSet<String>,
}

impl Writer {
    /// Adds a variable, with underscores behind its name until nothing else is called so; its index.
    pub fn push(&mut self, mut variable: Variable) -> usize {
        while !self.names.insert(variable.name.clone()) {
            variable.name.push('_');
        }
        self.variables.push(variable);
        self.variables.len() - 1
    }

    /// Adds P(no) = (1 − leak) · Π (1 − strength) over the parents present; the index of the variable with that name.
    pub fn noisy_or(&mut self, (name, words): (&str, &str), leak: f64, parents: &[(usize, f64)]) -> usize {
        if parents.len() <= PLAIN_PARENTS {
            let strengths: Vec<f64> = parents.iter().map(|parent| parent.1).collect();
            let rows = combinations(parents.len()).map(|present| {
                let acts = strengths.iter().zip(present).filter(|(_, present)| *present);
                no_first(acts.fold(1.0 - leak, |no, (strength, _)| no * (1.0 - strength)))
            });
            return self.yes_no(name, words, parents.iter().map(|parent| parent.0).collect(), rows.collect());
        }
        self.or_chain((name, words), leak, parents)
    }

    /// Each link is true if the link before it is, or if one more parent acts.
    fn or_chain(&mut self, (name, words): (&str, &str), leak: f64, parents: &[(usize, f64)]) -> usize {
        let mut before = None;
        for (step, &(parent, strength)) in parents.iter().enumerate() {
            let (name, words) =
                if step + 1 == parents.len() { (name.to_owned(), words) } else { (link(name, step), "") };
            let (scope, rows) = match before {
                None => (vec![parent], vec![no_first(1.0 - leak), no_first((1.0 - leak) * (1.0 - strength))]),
                Some(before) => {
                    let yes = no_first(0.0);
                    (vec![before, parent], vec![no_first(1.0), no_first(1.0 - strength), yes.clone(), yes])
                }
            };
            before = Some(self.yes_no(&name, words, scope, rows));
        }
        before.unwrap_or_default()
    }

    /// Adds a variable that is *yes* if one of two others is.
    pub fn either(&mut self, name: &str, one: usize, other: usize) -> usize {
        self.yes_no(name, "", vec![one, other], vec![no_first(1.0), no_first(0.0), no_first(0.0), no_first(0.0)])
    }

    /// Adds a node to be set: a copy of another.
    pub fn given(&mut self, id: &str, words: &str, of: usize) {
        self.yes_no(&format!("{GIVEN}{id}"), words, vec![of], vec![no_first(1.0), no_first(0.0)]);
    }

    /// Adds a node that is *yes* if at most one of the members is present.
    pub fn at_most_one(&mut self, id: &str, members: &[usize]) {
        let words = "at most one of these; set to yes";
        let name = format!("{GIVEN}{id}");
        if members.len() <= PLAIN_PARENTS {
            let rows = combinations(members.len()).map(|present| {
                let count = present.iter().filter(|present| **present).count();
                no_first(f64::from(u8::from(1 < count)))
            });
            let rows = rows.collect();
            self.yes_no(&name, words, members.to_vec(), rows);
            return;
        }
        let mut before = self.count(link(id, 0), vec![members[0]], &[0, 1]);
        for (step, &member) in members.iter().enumerate().take(members.len() - 1).skip(1) {
            before = self.count(link(id, step), vec![before, member], &[0, 1, 1, 2, 2, 2]);
        }
        let too_many = [0.0, 0.0, 0.0, 1.0, 1.0, 1.0].map(no_first);
        self.yes_no(&name, words, vec![before, members[members.len() - 1]], too_many.to_vec());
    }

    /// A count so far that follows from its parents: `results` is its state for each combination.
    fn count(&mut self, name: String, parents: Vec<usize>, results: &[usize]) -> usize {
        let certain = |result: &usize| (0..COUNT.len()).map(|state| f64::from(u8::from(state == *result))).collect();
        let rows = results.iter().map(certain).collect();
        self.push(Variable { name, words: String::new(), states: COUNT, parents, rows })
    }

    fn yes_no(&mut self, name: &str, words: &str, parents: Vec<usize>, rows: Vec<Vec<f64>>) -> usize {
        self.push(Variable { name: name.to_owned(), words: words.to_owned(), states: NO_YES, parents, rows })
    }
}

/// The name of an entry in the file: its id, unless that begins with a digit, is reserved or looks like a `given_*` node.
pub fn identifier(id: &str) -> String {
    let is_plain =
        id.starts_with(|c: char| c.is_ascii_alphabetic()) && !RESERVED.contains(&id) && !id.starts_with(GIVEN);
    if is_plain { id.to_owned() } else { format!("n_{id}") }
}

/// The name of a link in the chain of a node.
pub fn link(part: &str, step: usize) -> String {
    format!("{part}_o{step}")
}

fn no_first(no: f64) -> Vec<f64> {
    vec![no, 1.0 - no]
}

/// All combinations of absent and present, the last member changing fastest.
fn combinations(members: usize) -> impl Iterator<Item = Vec<bool>> {
    (0..1_usize << members).map(move |index| (0..members).rev().map(|bit| index >> bit & 1 == 1).collect())
}
