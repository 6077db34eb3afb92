//! Turns knowledge into problems, one rule per file: what it checks, why it matters, the check.

mod bad_case;
mod bad_id;
mod bad_number;
mod bad_quantity;
mod circle;
mod missing_source;
mod nobody_asks;
mod shares_sum;
mod unknown_id;

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

/// All rules.
pub const ALL: &[Rule] = &[
    bad_id::RULE,
    unknown_id::RULE,
    circle::RULE,
    bad_number::RULE,
    bad_quantity::RULE,
    shares_sum::RULE,
    missing_source::RULE,
    nobody_asks::RULE,
    bad_case::RULE,
];
