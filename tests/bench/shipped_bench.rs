//! Turns the complaint stories into timings on the shipped knowledge: each job is told again, event by event.
//!
//! What a number will take of the pump's model is made before it comes, as on the screen. Prints for the belief (the list of likely causes with their statuses) and for the plan (ranked checks and next step):
//! median and worst over all events of all stories, milliseconds, one core. Then the same evidence with a joint factor over
//! nineteen conditions (1,160 sets of at most three, made-up likelihoods): all posteriors, the first ranked list of 40
//! questions, and the bound on what the sets of more than three weigh.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "../common/mod.rs"]
mod common;
#[path = "peak.rs"]
mod peak;
#[path = "../common/stories.rs"]
mod stories;

use common::shipped;
use std::rc::Rc;
use std::time::Instant;
use stories::{Telling, stories};
use weephole::belief::{
    FOR_PLANNING, Likelihood, Network, Question, Sets, causes_posterior, lighten, outcomes, sift, thinned, without,
};
use weephole::evidence::{network, question_of};
use weephole::job::{Event, Sitting};
use weephole::knowledge::NodeKind;

/// Conditions of the joint factor, and how many are present at most.
const PHYSICAL: (usize, u32) = (19, 3);
/// Questions of the first ranked list.
const LISTED: usize = 40;

fn main() {
    let knowledge = Rc::new(shipped().knowledge);
    let (mut belief, mut plan, mut prepared) = (Vec::new(), Vec::new(), Vec::new());
    let (mut without, mut numbers, mut made_up) = (Times::default(), Times::default(), Times::default());
    for (_, story) in stories() {
        let mut telling = Telling::begin(&story, &knowledge, false);
        telling.go_on(&story);
        let mut events = telling.job.sitting.job.entries.clone().into_iter();
        let mut sitting = Sitting::new(Rc::clone(&knowledge), events.next().into_iter().collect()).unwrap();
        for event in events {
            if let Event::Measured { reading, .. } = &event.event {
                prepared.push(milliseconds(|| while !sitting.prepare_for(reading) {}));
            }
            belief.push(milliseconds(|| sitting.apply(event)));
            plan.push(milliseconds(|| {
                let _ = sitting.plan();
            }));
            let net = network(&sitting.graph).unwrap();
            let mut evidence = sitting.evidence.likelihoods();
            if sitting.evidence.joint.is_empty() {
                without.measure(&net, &evidence, &sitting);
                evidence.push(made_up_numbers(&net, &sitting));
                made_up.measure(&net, &evidence, &sitting);
            } else {
                numbers.measure(&net, &evidence, &sitting);
            }
        }
    }
    print("made while somebody is at the gauge", prepared);
    print("belief", belief);
    print("plan", plan);
    print("posteriors", without.posterior);
    print("first list", without.list);
    print("posteriors, numbers weighed by the pump's model", numbers.posterior);
    print("first list, numbers weighed by the pump's model", numbers.list);
    println!(
        "  leaves out at most {:.1e}; sets of more than three weigh at most {:.1e}",
        numbers.light, numbers.unlisted
    );
    print("posteriors, a made-up factor of 1,160 sets", made_up.posterior);
    print("first list, a made-up factor", made_up.list);
    println!(
        "  leaves out at most {:.1e}; sets of more than three weigh at most {:.1e}",
        made_up.light, made_up.unlisted
    );
    if let Some(mib) = peak::peak_mib() {
        println!("memory at most {mib:.0} MiB");
    }
}

/// Times of the belief and of the first ranked list.
#[derive(Default)]
struct Times {
    posterior: Vec<f64>,
    list: Vec<f64>,
    unlisted: f64,
    light: f64,
}

impl Times {
    fn measure(&mut self, net: &Network, evidence: &[Likelihood], sitting: &Sitting) {
        let mut belief = None;
        self.posterior.push(milliseconds(|| belief = causes_posterior(net, evidence).ok()));
        let Some(belief) = belief else { return };
        self.unlisted = self.unlisted.max(belief.left_out);
        let open = sitting.knowledge.all.findings.keys().filter(|id| !sitting.settled().contains(*id));
        let questions: Vec<Question> =
            open.filter_map(|id| question_of(&sitting.knowledge, &sitting.graph, sitting.facts(), id)).collect();
        let causes = sitting.graph.of_kind(NodeKind::Cause);
        let light = lighten(net, evidence, FOR_PLANNING); // known since the belief was made
        self.list.push(milliseconds(|| {
            let thin = thinned(net, &without(evidence, &light.left_out)).unwrap();
            let cells = light.cells.max(thin.cells);
            let best = sift(net, &thin.likelihoods, &belief.present, (&causes, &questions), (LISTED, cells)).unwrap();
            let few: Vec<Question> = best.into_iter().map(|at| questions[at].clone()).collect();
            let _ = outcomes(net, &thin.likelihoods, &few, &causes).unwrap();
            self.light = self.light.max(thin.left_out);
        }));
    }
}

/// A joint factor over the conditions with most parents; likelihoods spread over some e^6, the same every time.
fn made_up_numbers(net: &Network, sitting: &Sitting) -> Likelihood {
    let mut nodes = sitting.graph.of_kind(NodeKind::Condition);
    nodes.sort_by_key(|&node| (std::cmp::Reverse(net.nodes()[node].parents.len()), node));
    nodes.truncate(PHYSICAL.0);
    let sets = (0..1_u64 << nodes.len()).filter(|set| set.count_ones() <= PHYSICAL.1);
    let spread = |set: u64| (set.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 40) as f64 / f64::from(1 << 24);
    Likelihood::Sets(Sets { nodes, sets: sets.map(|set| (set, libm::exp(6.0 * spread(set)))).collect() })
}

fn milliseconds(work: impl FnOnce()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64() * 1e3
}

fn print(what: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    println!(
        "{what}: median {:.2} ms, worst {:.2} ms, {} times",
        times[times.len() / 2],
        times[times.len() - 1],
        times.len()
    );
}
