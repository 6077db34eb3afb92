//! Turns a size and a seed into a made-up knowledge: as many causes and findings as asked for, tied as far apart as asked for.

#![allow(dead_code)]

use std::fmt::Write as _;
use weephole::simulation::Chance;

/// How large, and how tangled.
#[derive(Debug, Clone, Copy)]
pub struct Size {
    /// Causes; each has a direct look of its own among the findings.
    pub causes: usize,
    /// Findings, direct looks included.
    pub findings: usize,
    /// Conditions between causes and findings.
    pub conditions: usize,
    /// Nodes behind a finding, at most.
    pub behind: usize,
    /// Share of links that go anywhere; the others stay near, as in a real graph, whose places know little of each other.
    pub far: f64,
}

/// The pump family of a made-up knowledge.
pub const FAMILY: &str = "made_up";

const STRENGTHS: [&str; 4] = ["sometimes", "half", "often", "usually"];
/// How near a near link goes, in numbers of conditions.
const NEAR: usize = 6;

/// The knowledge as the text of one file. The same size and seed give the same text.
pub fn made_up(size: Size, seed: u64) -> String {
    let mut maker = Maker { size, chance: Chance::new(seed), text: String::new() };
    maker.whole();
    maker.text
}

struct Maker {
    size: Size,
    chance: Chance,
    text: String,
}

impl Maker {
    fn whole(&mut self) {
        self.text.push_str("(\n    version: 1,\n    release: \"made up\",\n");
        let _ = writeln!(
            self.text,
            "    families: {{\"{FAMILY}\": (name: \"made-up pump\", recognise: \"nobody has one\")}},"
        );
        self.text.push_str("    sources: {\"made\": (title: \"made up for a test\", kind: common_practice)},\n");
        self.list("causes", self.size.causes, Self::cause);
        self.list("conditions", self.size.conditions, Self::condition);
        self.list("findings", self.size.findings, Self::finding);
        self.list("checks", self.size.findings.div_ceil(2), Self::check);
        self.list("remedies", self.size.causes.div_ceil(2), Self::remedy);
        self.text.push_str(")\n");
    }

    fn list(&mut self, kind: &str, count: usize, entry: fn(&mut Self, usize)) {
        let _ = writeln!(self.text, "    {kind}: {{");
        (0..count).for_each(|at| entry(self, at));
        self.text.push_str("    },\n");
    }

    fn cause(&mut self, at: usize) {
        let links = self.links(at * self.size.conditions / self.size.causes, 2, "condition");
        let share = 1 + self.chance.below(20);
        let _ = writeln!(
            self.text,
            "        \"cause_{at}\": (name: \"{}\", place: \"place {}\", shares: {{\"{FAMILY}\": 0.{share:02}}}, basis: guess, \
             source: \"made\", leads_to: {{{links}}}, remedy: \"remedy_{}\"),",
            words("fault", at),
            at / 25,
            at / 2
        );
    }

    /// Conditions lead to later ones alone, so that there is no circle.
    fn condition(&mut self, at: usize) {
        let next = at + 1 + self.chance.below(NEAR);
        let link = if next < self.size.conditions { self.link("condition", next) } else { String::new() };
        let _ = writeln!(
            self.text,
            "        \"condition_{at}\": (name: \"{}\", leak: 0.001, leads_to: {{{link}}}),",
            words("state", at)
        );
    }

    fn finding(&mut self, at: usize) {
        let name = words(if at < self.size.causes { "look" } else { "sign" }, at);
        let shows = if at < self.size.causes {
            format!("verdict_on: \"cause_{at}\", error: (false_yes: 0.01, missed: 0.05)")
        } else {
            let home = at * self.size.conditions / self.size.findings;
            let links = self.links(home, self.size.behind, "condition");
            format!("aliases: [\"{name} a\", \"{name} b\", \"{name} c\"], shown_by: {{{links}}}")
        };
        let _ = writeln!(
            self.text,
            "        \"finding_{at}\": (name: \"{name}\", question: \"Is there {name}?\", {shows}),"
        );
    }

    /// A check yields two findings that stand beside each other.
    fn check(&mut self, at: usize) {
        let yields: Vec<String> =
            (2 * at..(2 * at + 2).min(self.size.findings)).map(|finding| format!("\"finding_{finding}\"")).collect();
        let minutes = 1 + self.chance.below(40);
        let _ = writeln!(
            self.text,
            "        \"check_{at}\": (name: \"{}\", yields: [{}], minutes: {minutes}.0, steps: [\"Look.\"]),",
            words("check", at),
            yields.join(", ")
        );
    }

    fn remedy(&mut self, at: usize) {
        let minutes = 5 + self.chance.below(200);
        let _ = writeln!(
            self.text,
            "        \"remedy_{at}\": (name: \"{}\", kind: remedy, minutes: {minutes}.0, steps: [\"Do it.\"], proof: [\"quiet\"]),",
            words("remedy", at)
        );
    }

    /// One to `most` different links, near to `home` or anywhere.
    fn links(&mut self, home: usize, most: usize, kind: &str) -> String {
        let mut to: Vec<usize> = Vec::new();
        for _ in 0..=self.chance.below(most) {
            let anywhere = self.chance.happens(self.size.far);
            let near = (home + self.chance.below(NEAR)).min(self.size.conditions - 1);
            let other = if anywhere { self.chance.below(self.size.conditions) } else { near };
            if !to.contains(&other) {
                to.push(other);
            }
        }
        to.into_iter().map(|other| self.link(kind, other)).collect::<Vec<_>>().join(", ")
    }

    fn link(&mut self, kind: &str, other: usize) -> String {
        let strength = STRENGTHS[self.chance.below(STRENGTHS.len())];
        format!("\"{kind}_{other}\": (strength: {strength}, basis: guess, source: \"made\")")
    }
}

/// A name of its own for every number: two made-up words and the number.
fn words(kind: &str, at: usize) -> String {
    const FIRST: [&str; 12] =
        ["grey", "slow", "hard", "thin", "dry", "cold", "loud", "worn", "loose", "bent", "deep", "sour"];
    const SECOND: [&str; 11] = ["ring", "seat", "cord", "plate", "lip", "stem", "cup", "shoe", "vane", "plug", "latch"];
    format!("{kind} {} {} {at}", FIRST[at % FIRST.len()], SECOND[at % SECOND.len()])
}
