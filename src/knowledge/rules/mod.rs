//! Turns knowledge into problems, one rule per file: what it checks, why it matters, the check.

mod bad_case;
mod bad_id;
mod bad_lesson;
mod bad_number;
mod bad_quantity;
mod cause_out_of_reach;
mod circle;
mod few_aliases;
mod inseparable_pair;
mod missing_source;
mod never_or_always;
mod no_hold_point;
mod no_proof;
mod no_renewal_rule;
mod nobody_asks;
mod opening_without_gate;
mod same_meaning;
mod shares_sum;
mod touched_by_nothing;
mod unknown_id;
mod unpriced_check;

use super::entries::Knowledge;
use super::problem::Problem;

/// One rule.
pub struct Rule {
    /// Name as it stands in problems.
    pub name: &'static str,
    /// What it finds.
    pub finds: &'static str,
    /// Why that matters.
    pub matters: &'static str,
    /// True if it makes no sense while a file could not be read.
    pub needs_all_files: bool,
    /// The check.
    pub check: fn(&Knowledge, &mut Vec<Problem>),
}

/// What is found while the files are read, before any rule: name and what it finds.
pub const WHILE_READING: &[(&str, &str)] = &[
    ("unreadable", "a file that is not RON of this shape"),
    ("newer_version", "a file of a newer format"),
    ("key_twice", "a key that stands twice in the same brackets"),
    ("not_finite", "a number that is not finite"),
    ("id_twice", "an id given again in another place"),
    ("no_causes", "knowledge without a cause"),
    ("too_many", "more than 20,000 entries in all files together"),
];

/// All rules: first those whose problems are errors, then those that warn.
pub const ALL: &[Rule] = &[
    bad_id::RULE,
    unknown_id::RULE,
    circle::RULE,
    bad_number::RULE,
    bad_quantity::RULE,
    bad_case::RULE,
    bad_lesson::RULE,
    shares_sum::RULE,
    missing_source::RULE,
    never_or_always::RULE,
    cause_out_of_reach::RULE,
    inseparable_pair::RULE,
    touched_by_nothing::RULE,
    same_meaning::RULE,
    few_aliases::RULE,
    nobody_asks::RULE,
    unpriced_check::RULE,
    opening_without_gate::RULE,
    no_proof::RULE,
    no_hold_point::RULE,
    no_renewal_rule::RULE,
];

#[cfg(test)]
mod tests;
