//! Replays the walks of `demo/walks.md` through the program, as they are written there: one home per walk.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

/// A command with what is typed into it, and what must be said, in that order.
#[derive(Default)]
struct Step {
    arguments: Vec<String>,
    typed: Vec<String>,
    said: Vec<String>,
    /// Said on standard error by a command that is refused.
    refused: Vec<String>,
}

/// The commands of a walk: those in its blocks of text.
fn steps(walk: &str) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for block in walk.split("```text\n").skip(1).map(|block| block.split("```").next().unwrap()) {
        for line in block.lines().filter(|line| !line.trim().is_empty()) {
            if let Some(command) = line.strip_prefix("$ weephole ") {
                steps.push(Step { arguments: words(command), ..Step::default() });
            } else if let Some(typed) = line.strip_prefix('>') {
                steps.last_mut().unwrap().typed.push(typed.trim().to_owned());
            } else if let Some(refused) = line.strip_prefix("! ") {
                steps.last_mut().unwrap().refused.push(refused.to_owned());
            } else {
                steps.last_mut().unwrap().said.push(line.to_owned());
            }
        }
    }
    steps
}

/// Words of a command line; quotes hold one together, and `\"` is a quote.
fn words(line: &str) -> Vec<String> {
    let (mut words, mut word, mut is_quoted) = (Vec::new(), String::new(), false);
    let mut letters = line.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => word.extend(letters.next()),
            '"' => is_quoted = !is_quoted,
            ' ' if !is_quoted => words.push(std::mem::take(&mut word)),
            letter => word.push(letter),
        }
    }
    words.push(word);
    words
}

fn replay(step: &Step, home: &Path) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .args(&step.arguments)
        .current_dir(home)
        .env("HOME", home)
        .envs(["DATA", "CACHE", "CONFIG"].map(|kind| (format!("XDG_{kind}_HOME"), home.join(kind))))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let typed: String = step.typed.iter().map(|line| format!("{line}\n")).collect();
    child.stdin.take().unwrap().write_all(typed.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let (out, err) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    let command = step.arguments.join(" ");
    assert_eq!(output.status.success(), step.refused.is_empty(), "{command}: {err}");
    assert!(step.refused.iter().all(|refused| err.contains(refused)), "{command}: {err}");
    assert!(!out.contains("is not understood here"), "{command}:\n{out}");
    let mut lines = out.lines();
    for said in &step.said {
        assert!(lines.any(|line| line == said), "{command} does not say: {said}\n{out}");
    }
}

#[test]
fn every_walk_is_true() {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/walks.md")).unwrap();
    let walks: Vec<&str> = text.split("\n## The ").skip(1).collect();
    assert_eq!(walks.len(), 3, "one for each user");
    std::thread::scope(|scope| {
        for walk in walks {
            scope.spawn(move || {
                let home = tempfile::tempdir().unwrap();
                let steps = steps(walk);
                assert!(!steps.is_empty() && steps.iter().any(|step| !step.said.is_empty()), "{walk}");
                steps.iter().for_each(|step| replay(step, home.path()));
            });
        }
    });
}
