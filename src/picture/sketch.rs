//! Turns knowledge into the nodes and links to draw: all of them, or those around one entry.

use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Strength, Way};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// What a node of the picture is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpotKind {
    /// Someone can remove it.
    Cause,
    /// What the machine is then doing.
    Condition,
    /// A part harmed.
    Damage,
    /// Seen, heard or felt.
    Finding,
    /// Read off an instrument.
    Reading,
}

impl SpotKind {
    /// As written beside the node.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cause => "cause",
            Self::Condition => "condition",
            Self::Damage => "damage",
            Self::Finding => "finding",
            Self::Reading => "reading",
        }
    }
}

/// A node of the picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Id.
    pub id: String,
    /// Name as shown.
    pub name: String,
    /// What it is.
    pub kind: SpotKind,
}

/// A link of the picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrow {
    /// Index of the node it comes from.
    pub from: usize,
    /// Index of the node it leads to.
    pub to: usize,
    /// How often, as a probability.
    pub strength: f64,
    /// How often, in words; for a reading which way too.
    pub words: String,
}

/// What is to be drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sketch {
    /// Nodes in the order of the files.
    pub spots: Vec<Spot>,
    /// Links between them.
    pub arrows: Vec<Arrow>,
    /// The node it is drawn around.
    pub middle: Option<usize>,
}

impl Sketch {
    /// Every cause, condition, damage, finding and reading that a link touches.
    pub fn whole(knowledge: &Knowledge) -> Self {
        let mut spots: IndexMap<&str, Spot> = IndexMap::new();
        let all = &knowledge.all;
        let place = |id: &'_ str, name: &str, kind| Spot { id: id.to_owned(), name: name.to_owned(), kind };
        for (id, entry) in &all.causes {
            spots.insert(id, place(id, &entry.name, SpotKind::Cause));
        }
        for (id, entry) in &all.conditions {
            spots.insert(id, place(id, &entry.name, SpotKind::Condition));
        }
        for (id, entry) in &all.damage {
            spots.insert(id, place(id, &entry.name, SpotKind::Damage));
        }
        for (id, entry) in all.findings.iter().filter(|(_, entry)| !entry.shown_by.is_empty()) {
            spots.insert(id, place(id, &entry.name, SpotKind::Finding));
        }
        for (id, entry) in all.readings.iter().filter(|(_, entry)| !entry.moved_by.is_empty()) {
            spots.insert(id, place(id, &entry.name, SpotKind::Reading));
        }
        let arrows = arrows(knowledge, |id| spots.get_index_of(id));
        Self { spots: spots.into_values().collect(), arrows, middle: None }
    }

    /// What leads to an entry and what follows from it, so many links up and down. None if nothing links to it.
    pub fn around(knowledge: &Knowledge, id: &str, steps: usize) -> Option<Self> {
        let whole = Self::whole(knowledge);
        let middle = whole.spots.iter().position(|spot| spot.id == id)?;
        let mut kept = BTreeSet::from([middle]);
        for up in [true, false] {
            let mut edge = BTreeSet::from([middle]);
            for _ in 0..steps {
                edge = whole.arrows.iter().filter_map(|arrow| next(arrow, up, &edge)).collect();
                kept.extend(&edge);
            }
        }
        let kept: Vec<usize> = kept.into_iter().collect();
        let renumbered = |old: usize| kept.binary_search(&old).ok();
        let arrows = whole.arrows.iter().filter_map(|arrow| {
            Some(Arrow { from: renumbered(arrow.from)?, to: renumbered(arrow.to)?, ..arrow.clone() })
        });
        let arrows = arrows.collect();
        let middle = renumbered(middle);
        let spots = kept.iter().filter_map(|&at| whole.spots.get(at).cloned()).collect();
        Some(Self { spots, arrows, middle })
    }
}

fn next(arrow: &Arrow, up: bool, edge: &BTreeSet<usize>) -> Option<usize> {
    let (here, there) = if up { (arrow.to, arrow.from) } else { (arrow.from, arrow.to) };
    edge.contains(&here).then_some(there)
}

fn arrows(knowledge: &Knowledge, at: impl Fn(&str) -> Option<usize>) -> Vec<Arrow> {
    let all = &knowledge.all;
    let mut arrows = Vec::new();
    let mut draw = |from: &str, to: &str, strength: Strength, way: &str| {
        if let (Some(from), Some(to)) = (at(from), at(to)) {
            let words = format!("{way}{}", strength.word());
            arrows.push(Arrow { from, to, strength: strength.number(), words });
        }
    };
    let causes = all.causes.iter().map(|(id, entry)| (id, &entry.leads_to));
    let inner = all.conditions.iter().chain(&all.damage).map(|(id, entry)| (id, &entry.leads_to));
    for (id, links) in causes.chain(inner) {
        links.iter().for_each(|(to, link)| draw(id, to, link.strength, ""));
    }
    for (id, entry) in &all.findings {
        entry.shown_by.iter().for_each(|(by, link)| draw(by, id, link.strength, ""));
    }
    for (id, entry) in &all.readings {
        for (by, pull) in &entry.moved_by {
            let way = match pull.way {
                Way::Down => "down, ",
                Way::Up => "up, ",
                Way::Either => "up or down, ",
            };
            draw(by, id, pull.strength, way);
        }
    }
    arrows
}
