//! Turns summaries of jobs into what is asked of past ones: which of them came back, and which hold some words.

use super::summary::JobSummary;
use crate::knowledge::search_all;
use crate::text::fold;
use std::collections::BTreeMap;

/// An earlier job of the same pump that this one repeats.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CameBack {
    /// Place of the earlier job in the list given.
    pub of: usize,
    /// Whole days between its last entry and this one's opening.
    pub days: i64,
    /// "same cause" or "same complaint".
    pub why: &'static str,
}

/// For each job: the latest earlier job of the same pump with the same cause or a complaint in common, whose last entry is
/// at most `within` days before this one was opened. Jobs without a pump's name never come back.
pub fn came_back(jobs: &[&JobSummary], within: i64) -> Vec<Option<CameBack>> {
    let mut pumps: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (at, job) in jobs.iter().enumerate().filter(|(_, job)| !job.pump.trim().is_empty()) {
        pumps.entry(fold(job.pump.trim())).or_default().push(at);
    }
    let mut flags: Vec<Option<CameBack>> = vec![None; jobs.len()];
    for of_pump in pumps.values_mut() {
        of_pump.sort_by_key(|at| (jobs[*at].opened, *at));
        for (place, &at) in of_pump.iter().enumerate() {
            let mut earlier = of_pump[..place].iter().rev();
            flags[at] = earlier.find_map(|&of| repeats(jobs, (of, at), within));
        }
    }
    flags
}

fn repeats(jobs: &[&JobSummary], (of, at): (usize, usize), within: i64) -> Option<CameBack> {
    let (earlier, later) = (jobs[of], jobs[at]);
    // Copies of one job that went different ways are no repetition.
    if earlier.root == later.root {
        return None;
    }
    let days = (later.opened.as_second() - earlier.last.as_second()).div_euclid(86_400);
    let same_cause = earlier.cause.is_some() && earlier.cause == later.cause;
    let same_complaint = earlier.findings.iter().any(|finding| later.findings.contains(finding));
    let why = if same_cause { "same cause" } else { "same complaint" };
    let repeats = (0..=within).contains(&days) && (same_cause || same_complaint);
    repeats.then_some(CameBack { of, days, why })
}

/// Places of the jobs that hold every word, if only nearly, best first: in pump, complaint, cause, remark, number or id.
/// `name` gives the name of a cause.
pub fn find(query: &str, jobs: &[(u32, &JobSummary)], name: impl Fn(&str) -> String) -> Vec<usize> {
    let text = |(number, job): &(u32, &JobSummary)| {
        let cause = job.cause.as_deref().map(&name).unwrap_or_default();
        format!("{number} {} {} {} {cause} {}", job.id, job.pump, job.complaint, job.remark)
    };
    let texts: Vec<String> = jobs.iter().map(text).collect();
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    search_all(query, &texts).into_iter().map(|(at, _)| at).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{JobSummary, came_back, find};
    use jiff::{SignedDuration, Timestamp};

    fn job(root: &str, pump: &str, day: i64, cause: Option<&str>, finding: &str) -> JobSummary {
        let start: Timestamp = "2026-01-01T08:00:00Z".parse().unwrap();
        let opened = start + SignedDuration::from_hours(24 * day);
        JobSummary {
            id: root.to_owned(),
            root: root.to_owned(),
            pump: pump.to_owned(),
            family: "oil_backed".to_owned(),
            complaint: finding.replace('_', " "),
            findings: vec![finding.to_owned()],
            ending: None,
            cause: cause.map(str::to_owned),
            remark: String::new(),
            opened,
            last: opened + SignedDuration::from_hours(1),
            follow_up: None,
            entries: 5,
        }
    }

    #[test]
    fn a_job_comes_back_within_the_time_on_the_same_pump_only() {
        let jobs = [
            job("a", "Fog pump 2", 0, Some("strainer_clogged"), "low_flow"),
            job("b", "fog PUMP 2", 30, Some("strainer_clogged"), "crackle_noise"),
            job("c", "Fog pump 3", 31, Some("strainer_clogged"), "low_flow"),
            job("d", "Fog pump 2", 60, Some("belt_slack"), "crackle_noise"),
            job("e", "Fog pump 2", 200, Some("belt_slack"), "crackle_noise"),
            job("f", "", 201, Some("belt_slack"), "crackle_noise"),
            job("g", " ", 202, Some("belt_slack"), "crackle_noise"),
        ];
        let refs: Vec<&JobSummary> = jobs.iter().collect();
        let flags = came_back(&refs, 90);
        let told: Vec<Option<(usize, i64, &str)>> =
            flags.iter().map(|flag| flag.as_ref().map(|flag| (flag.of, flag.days, flag.why))).collect();
        let expected = [None, Some((0, 29, "same cause")), None, Some((1, 29, "same complaint")), None, None, None];
        assert_eq!(told, expected);
        assert!(came_back(&refs, 10).iter().all(Option::is_none));
        assert_eq!(came_back(&refs, 365)[4].as_ref().unwrap().of, 3);
    }

    #[test]
    fn copies_that_went_different_ways_are_no_repetition() {
        let jobs = [job("a", "P", 0, None, "low_flow"), job("a", "P", 1, None, "low_flow")];
        assert!(came_back(&jobs.iter().collect::<Vec<_>>(), 90).iter().all(Option::is_none));
    }

    #[test]
    fn all_words_must_fit_and_a_misspelling_is_mended() {
        let jobs = [
            job("a", "Fog pump 2", 0, Some("strainer_clogged"), "low_flow"),
            job("b", "Fog pump 3", 0, Some("belt_slack"), "low_flow"),
            job("c", "Wash pump", 0, Some("strainer_clogged"), "crackle_noise"),
        ];
        let numbered: Vec<(u32, &JobSummary)> = (1..).zip(&jobs).collect();
        let found = |query: &str| find(query, &numbered, |id| id.replace('_', " "));
        assert_eq!(found("strainer"), [0, 2]);
        assert_eq!(found("fog strainer"), [0]);
        assert_eq!(found("strianer wash"), [2]);
        assert_eq!(found("fog"), [0, 1]);
        assert!(found("diaphragm").is_empty() && found("").is_empty());
    }
}
