//! Turns remedies and procedures that nothing proves into problems.

use super::Rule;
use crate::knowledge::entries::Knowledge;
use crate::knowledge::problem::{Problem, Severity};

/// Every remedy and procedure says what proves it before the pump goes back to service.
pub const RULE: Rule = Rule {
    name: "no_proof",
    finds: "a remedy or procedure without a proof for the return to service",
    matters: "a repair that nobody proves is found out by the operator",
    needs_all_files: false,
    check,
};

fn check(knowledge: &Knowledge, problems: &mut Vec<Problem>) {
    let all = &knowledge.all;
    let remedies = all.remedies.iter().map(|(id, remedy)| (id, &remedy.proof));
    let procedures = all.procedures.iter().map(|(id, procedure)| (id, &procedure.proof));
    for (id, proof) in remedies.chain(procedures) {
        if proof.iter().all(|proof| proof.trim().is_empty()) {
            let message = "nothing proves that this was done right".to_owned();
            let hint = "name at least one reading or look among `proof`".to_owned();
            problems.push(knowledge.problem(Severity::Warning, RULE.name, id, &["proof"], (message, hint)));
        }
    }
}
