//! Turns marks and dates into what to practise next: groups of look-alikes come back at growing intervals.
//!
//! A group passed climbs one rung of the ladder, a group failed goes back to the first. Intervals that grow hold better
//! than equal ones; source: Cepeda and others, Psychological Bulletin 132 (2006) 354, from memory; the rungs are common
//! practice, no source.

use super::score::Score;
use crate::knowledge::Knowledge;
use crate::knowledge::schema::Id;
use indexmap::IndexMap;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days until a group comes back, rung by rung.
const LADDER: [i64; 6] = [1, 3, 7, 16, 35, 70];

/// A group of look-alikes with the day on which it is due.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// Group.
    pub alike: String,
    /// The lesson of it practised longest ago, or never.
    pub lesson: Id,
    /// Times it was passed in a row.
    pub rung: usize,
    /// The day; none if it was never practised.
    pub on: Option<Date>,
    /// True if it is due now.
    pub is_due: bool,
}

impl Due {
    /// Name of the group.
    pub fn group(&self) -> String {
        self.alike.replace('_', " ")
    }

    /// When it is to be practised: new, due, or again on a day.
    pub fn when(&self) -> String {
        match (self.on, self.is_due) {
            (None, _) => "new".to_owned(),
            (Some(_), true) => "due".to_owned(),
            (Some(on), false) => format!("again on {on}"),
        }
    }
}

/// All groups, what is due longest first, then what was never practised, then what comes back later.
pub fn due(knowledge: &Knowledge, marked: &[(Date, Score)], today: Date) -> Vec<Due> {
    let mut groups: IndexMap<&str, Vec<&Id>> = IndexMap::new();
    for (id, lesson) in &knowledge.all.lessons {
        groups.entry(lesson.alike.as_str()).or_default().push(id);
    }
    let mut all: Vec<Due> =
        groups.into_iter().filter_map(|(alike, lessons)| one(alike, &lessons, marked, today)).collect();
    all.sort_by_key(|due| (!due.is_due, due.on.is_none(), due.on));
    all
}

fn one(alike: &str, lessons: &[&Id], marked: &[(Date, Score)], today: Date) -> Option<Due> {
    let own = marked.iter().filter(|(_, score)| score.alike == alike);
    let (mut rung, mut last) = (0_usize, None);
    for (day, score) in own {
        rung = if score.passed() { rung + 1 } else { 0 };
        last = Some(*day);
    }
    let wait = LADDER[rung.saturating_sub(1).min(LADDER.len() - 1)];
    let on = last.map(|day| day.checked_add(wait.days()).unwrap_or(Date::MAX));
    let last_of = |lesson: &Id| marked.iter().rev().find(|(_, score)| score.lesson == *lesson).map(|(day, _)| *day);
    let lesson = lessons.iter().min_by_key(|lesson| last_of(lesson))?;
    Some(Due { alike: alike.to_owned(), lesson: (*lesson).clone(), rung, on, is_due: on.is_none_or(|on| on <= today) })
}
