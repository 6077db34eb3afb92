//! Turns one row of the table into a run of the program, and the run into what is wrong with it.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};
use weephole::text::clean_lines;

/// Only a hang reaches it.
const PATIENCE: Duration = Duration::from_secs(60);
/// Address space of the program, KiB.
const MEMORY: &str = "1500000";
/// Most that may be printed about any input, bytes.
const MOST_SAID: u64 = 2_000_000;
/// Files above this are not compared byte by byte.
const COMPARED: u64 = 200_000_000;

/// One hostile input and what must come of it.
pub struct Row {
    /// What is in it.
    pub what: &'static str,
    /// Puts it into a folder.
    pub put: fn(&Path),
    /// Arguments; `@NAME` is the path of NAME in that folder.
    pub run: &'static [&'static str],
    /// What is piped in.
    pub typed: &'static str,
    /// Exit code.
    pub code: i32,
    /// What must be said, on standard output or standard error.
    pub says: &'static str,
}

/// Runs all rows and tells everything that is wrong with any.
pub fn judge(kind: &str, rows: &[Row]) {
    let mut wrong = Vec::new();
    for row in rows {
        let place = tempfile::tempdir().unwrap();
        let folder = place.path().join("in");
        fs::create_dir(&folder).unwrap();
        (row.put)(&folder);
        let before = contents(&folder);
        let found = run(row, place.path(), &folder);
        println!("{kind} | {} | exit {} | {}", row.what, found.code, row.says);
        let mut faults = found.faults(row);
        faults.extend(changed(&before, &contents(&folder)));
        faults.extend(unclean(&folder));
        let told = faults.into_iter().map(|fault| format!("{kind}, {}: {fault}", row.what));
        wrong.extend(told);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// How a run ended and what it said.
struct Found {
    code: i32,
    out: Vec<u8>,
    err: Vec<u8>,
}

impl Found {
    fn faults(&self, row: &Row) -> Vec<String> {
        let (out, err) = (String::from_utf8_lossy(&self.out), String::from_utf8_lossy(&self.err));
        let mut faults = Vec::new();
        let all = format!("{out}{err}");
        if self.code != row.code || !all.contains(row.says) {
            let said: String = all.chars().take(1500).collect();
            faults.push(format!("exit {}, not {} with `{}`:\n{said}", self.code, row.code, row.says));
        }
        if all.contains("panicked") {
            faults.push(format!("it panics: {err}"));
        }
        for (name, bytes, text) in [("output", &self.out, &out), ("errors", &self.err, &err)] {
            if std::str::from_utf8(bytes).is_err() {
                faults.push(format!("{name}: not UTF-8"));
            }
            if clean_lines(text) != **text {
                faults.push(format!("{name}: a control or hidden character: {}", around(text)));
            }
        }
        faults
    }
}

/// The place of the first character that must not be there.
fn around(text: &str) -> String {
    let clean = clean_lines(text);
    let at = text.chars().zip(clean.chars()).take_while(|(a, b)| a == b).count();
    text.chars().skip(at.saturating_sub(40)).take(80).collect::<String>().escape_debug().to_string()
}

fn run(row: &Row, place: &Path, folder: &Path) -> Found {
    let (typed, out, err) = (place.join("typed"), place.join("out"), place.join("err"));
    fs::write(&typed, row.typed).unwrap();
    let input = if row.typed == "/dev/zero" { PathBuf::from("/dev/zero") } else { typed };
    // The shell sets the limits: core files, memory, and how much may be written, in blocks of 512 bytes.
    let limits = format!("ulimit -c 0; ulimit -v {MEMORY}; exec \"$0\" \"$@\"");
    let mut child = Command::new("sh")
        .args(["-c", &limits, env!("CARGO_BIN_EXE_weephole"), "--data-dir"])
        .arg(folder.join("data"))
        .args(row.run.iter().map(|word| match word.strip_prefix('@') {
            Some(name) => folder.join(name).into_os_string(),
            None => (*word).into(),
        }))
        .env("RUST_BACKTRACE", "0")
        .current_dir(folder)
        .stdin(Stdio::from(File::open(input).unwrap()))
        .stdout(Stdio::from(File::create(&out).unwrap()))
        .stderr(Stdio::from(File::create(&err).unwrap()))
        .spawn()
        .unwrap();
    let begun = Instant::now();
    let code = loop {
        if let Some(status) = child.try_wait().unwrap() {
            // No code: ended by a signal.
            break status.code().unwrap_or(-1);
        }
        let size = fs::metadata(&out).unwrap().len();
        if PATIENCE < begun.elapsed() || MOST_SAID < size {
            child.kill().unwrap();
            child.wait().unwrap();
            break if MOST_SAID < size { -3 } else { -2 };
        }
        sleep(Duration::from_millis(5));
    };
    Found { code, out: fs::read(out).unwrap(), err: fs::read(err).unwrap() }
}

/// Every ordinary file of a folder, links not followed; folders whose names begin with `new` may change.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        let Ok(entries) = fs::read_dir(&next) else { continue };
        for entry in entries {
            let entry = entry.unwrap();
            let kind = entry.file_type().unwrap();
            if kind.is_dir() && !entry.file_name().as_encoded_bytes().starts_with(b"new") {
                open.push(entry.path());
            } else if kind.is_file() && entry.metadata().unwrap().len() <= COMPARED {
                found.insert(entry.path(), fs::read(entry.path()).unwrap());
            }
        }
    }
    found
}

/// Files that were there before must be as they were.
fn changed(before: &BTreeMap<PathBuf, Vec<u8>>, after: &BTreeMap<PathBuf, Vec<u8>>) -> Vec<String> {
    // A file or folder with this in its name is there to be changed.
    let may = |path: &Path| path.to_string_lossy().contains("may_");
    let lost = before.iter().filter(|(path, bytes)| !may(path) && after.get(*path) != Some(bytes));
    lost.map(|(path, _)| format!("{} was changed", path.display())).collect()
}

/// Records that the program wrote: Markdown beside the journals, and whatever is named `record`.
fn unclean(folder: &Path) -> Vec<String> {
    let written = contents(folder).into_iter().filter(|(path, _)| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        name.starts_with("record") || path.extension().is_some_and(|end| end == "md")
    });
    let wrong = written.filter_map(|(path, bytes)| {
        let text = String::from_utf8(bytes).ok();
        let is_clean = text.as_ref().is_some_and(|text| clean_lines(text) == *text);
        (!is_clean).then(|| {
            let text = text.unwrap_or_default();
            format!("{}: a control or hidden character: {}", path.display(), around(&text))
        })
    });
    wrong.collect()
}

/// Ids of all findings of the built-in knowledge.
pub fn shipped_findings() -> Vec<String> {
    let output = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .args(["knowledge", "list", "findings", "--json"])
        .output()
        .unwrap();
    let rows: Vec<serde_json::Value> = serde_json::from_slice(&output.stdout).unwrap();
    rows.iter().filter_map(|row| row["id"].as_str().map(str::to_owned)).collect()
}
