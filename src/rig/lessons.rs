//! Turns lessons whose faults the simulation does not have into problems with their place in the file.

use crate::knowledge::{Knowledge, Problem, Severity, did_you_mean};
use crate::simulation::faults;

/// Name of the rule in problems.
const RULE: &str = "unknown_fault";

/// Every fault of a lesson that the simulation does not have.
pub fn lesson_problems(knowledge: &Knowledge) -> Vec<Problem> {
    let named =
        knowledge.all.lessons.iter().flat_map(|(id, lesson)| lesson.faults.keys().map(move |fault| (id, fault)));
    let unknown = named.filter(|(_, fault)| faults::named(fault).is_none());
    let problem = |(lesson, fault): (&String, &String)| {
        let near = did_you_mean(fault, faults::all().map(|known| known.id));
        let hint = near.map_or_else(
            || "name a fault of the simulation; many have the id of their cause".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        let message = format!("there is no fault `{fault}` in the simulation");
        knowledge.problem(Severity::Error, RULE, lesson, &["faults", fault], (message, hint))
    };
    unknown.map(problem).collect()
}
