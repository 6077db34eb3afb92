//! Keeps the house: who may import whom, what stands at the top, one `//!` line on every file, no file too long.

#![allow(clippy::unwrap_used)]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Which folders of `src/` a folder may import. `text` and `quantity` know no pump; only `store` touches disk and clock.
const MAY_IMPORT: &[(&str, &[&str])] = &[
    ("text", &[]),
    ("quantity", &[]),
    ("physics", &["quantity"]),
    ("simulation", &["quantity", "physics"]),
    ("knowledge", &["text", "quantity"]),
    ("belief", &[]),
    ("evidence", &["text", "quantity", "physics", "knowledge", "belief"]),
    ("planning", &["knowledge", "belief"]),
    ("job", &["text", "quantity", "knowledge", "belief", "evidence", "planning"]),
    ("trial", &["knowledge", "evidence", "planning", "job"]),
    ("rig", &["knowledge", "evidence", "physics", "simulation"]),
    ("exam", &["knowledge", "belief", "evidence", "planning", "job", "trial", "rig", "simulation"]),
    ("practice", &["quantity", "knowledge", "evidence", "planning", "job", "trial", "rig"]),
    ("learning", &["quantity", "knowledge", "belief", "evidence", "job"]),
    ("record", &["text", "quantity", "knowledge", "job"]),
    ("exchange", &["text", "knowledge", "belief", "evidence"]),
    ("editing", &["text", "quantity", "knowledge"]),
    ("proof", &["knowledge", "trial", "editing"]),
    ("picture", &["text", "knowledge"]),
    ("store", &["text"]),
    ("screen", &["text", "quantity", "knowledge", "evidence", "planning", "job", "practice"]),
    ("line", &["text", "quantity", "knowledge", "evidence", "planning", "job", "practice"]),
    (
        "command",
        &[
            "text",
            "quantity",
            "physics",
            "simulation",
            "knowledge",
            "belief",
            "evidence",
            "planning",
            "job",
            "trial",
            "rig",
            "exam",
            "practice",
            "learning",
            "record",
            "exchange",
            "editing",
            "proof",
            "picture",
            "store",
            "screen",
            "line",
        ],
    ),
];

/// Longest file of decisions, in lines; the shape of the files and tests may be longer.
const MOST_LINES: usize = 420;
const LONG_BY_NATURE: &[&str] = &["knowledge/schema.rs"];

/// What may stand at the top of the project.
const TOP: &[&str] =
    &["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md", "LICENSE", "src", "knowledge", "tests", "demo"];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(rust_files(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Every source file with its path below `src/` and its text.
fn sources() -> BTreeMap<String, String> {
    let src = root().join("src");
    rust_files(&src)
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(&src).unwrap().to_string_lossy().replace('\\', "/");
            (name, std::fs::read_to_string(path).unwrap())
        })
        .collect()
}

fn is_test(name: &str) -> bool {
    name.ends_with("tests.rs") || name.contains("/tests/") || name.ends_with("enumeration.rs")
}

/// Text outside comments and before the tests at the end of a file.
fn code(text: &str) -> String {
    let body = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or(text);
    body.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

#[test]
fn folders_import_only_what_they_may() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        let Some((folder, _)) = name.split_once('/') else { continue };
        let allowed = MAY_IMPORT.iter().find(|(known, _)| *known == folder);
        let Some((_, allowed)) = allowed else {
            wrong.push(format!("{name}: the folder {folder} is not in the table"));
            continue;
        };
        for part in code(&text).split("crate::").skip(1) {
            let other: String = part.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect();
            let known = MAY_IMPORT.iter().any(|(known, _)| *known == other);
            if known && other != folder && !allowed.contains(&other.as_str()) {
                wrong.push(format!("{name}: imports {other}"));
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_the_store_touches_disk_and_clock() {
    let forbidden = ["std::fs", "File::open", "SystemTime", "Timestamp::now", "Instant::now", "Zoned::now"];
    let wrong: Vec<String> = sources()
        .into_iter()
        .filter(|(name, _)| !name.starts_with("store/") && !is_test(name))
        .flat_map(|(name, text)| {
            let code = code(&text);
            let found: Vec<&str> = forbidden.into_iter().filter(|word| code.contains(word)).collect();
            found.into_iter().map(|word| format!("{name}: {word}")).collect::<Vec<_>>()
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_file_says_what_it_turns_into_what() {
    let mut all: Vec<(String, String)> = sources().into_iter().collect();
    for path in rust_files(&root().join("tests")) {
        all.push((path.display().to_string(), std::fs::read_to_string(&path).unwrap()));
    }
    let wrong: Vec<&String> = all.iter().filter(|(_, text)| !text.starts_with("//! ")).map(|(name, _)| name).collect();
    assert!(wrong.is_empty(), "no //! on line 1: {wrong:?}");
}

#[test]
fn no_file_is_too_long() {
    let wrong: Vec<String> = sources()
        .into_iter()
        .filter(|(name, _)| !is_test(name) && !LONG_BY_NATURE.contains(&name.as_str()))
        .map(|(name, text)| (text.lines().count(), name))
        .filter(|(lines, _)| MOST_LINES < *lines)
        .map(|(lines, name)| format!("{name}: {lines} lines"))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn nothing_is_left_over() {
    let marks = [concat!("TO", "DO"), concat!("FIX", "ME"), concat!("XX", "X"), concat!("HA", "CK")];
    for (name, text) in sources() {
        for mark in marks {
            assert!(!text.contains(mark), "{name}: {mark}");
        }
    }
}

#[test]
fn the_top_holds_only_what_was_agreed() {
    let extra: Vec<String> = std::fs::read_dir(root())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.') && name != "target" && !TOP.contains(&name.as_str()))
        .collect();
    assert!(extra.is_empty(), "{extra:?}");
}

/// The table in DEVELOPERS.md names every folder.
#[test]
fn the_code_map_names_every_folder() {
    let guide = std::fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    for (folder, _) in MAY_IMPORT {
        assert!(guide.contains(&format!("`{folder}`")), "DEVELOPERS.md does not name `{folder}`");
        assert!(root().join("src").join(folder).is_dir(), "src/{folder} is missing");
    }
}
