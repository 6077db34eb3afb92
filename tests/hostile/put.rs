//! What the rows put into their folders: files, links, pipes, forged journals and packed files.

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::Command;

/// Everything that could command a terminal, turn the reading direction, hide, or end a text too early.
pub const EVIL: &str =
    "\u{1b}]0;owned\u{7}\u{1b}[2J\u{9b}31m\u{90}q\u{202e}\u{2066}\u{200b}\u{feff}\u{e0041}\u{7f}\u{ad}";
/// The same as RON and JSON escapes.
pub const EVIL_ESCAPED: &str = "\\u{1b}]0;owned\\u{7}\\u{1b}[2J\\u{9b}31m\\u{90}q\\u{202e}\\u{2066}\\u{200b}\\u{feff}\\u{e0041}\\u{7f}\\u{ad}\\u{0}";

/// Writes a file, making the folders above it.
pub fn write(folder: &Path, name: &str, bytes: impl AsRef<[u8]>) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

/// A link at `name` to wherever.
pub fn link(folder: &Path, name: &str, to: &str) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    symlink(to, path).unwrap();
}

/// A pipe that nobody writes into.
pub fn pipe(folder: &Path, name: &str) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
}

/// A file of so many bytes that takes no room.
pub fn hole(folder: &Path, name: &str, bytes: u64) {
    write(folder, name, "");
    fs::OpenOptions::new().write(true).open(folder.join(name)).unwrap().set_len(bytes).unwrap();
}

/// A journal of these lines, each with its check.
pub fn journal(folder: &Path, name: &str, lines: &[String]) {
    let framed = lines.iter().map(|json| format!("{:08x} {json}\n", crc32fast::hash(json.as_bytes())));
    write(folder, name, framed.collect::<String>());
}

/// The line of an event at minute so many.
pub fn line(minute: usize, event: &str) -> String {
    format!("{{\"at\":\"2026-11-02T07:{minute:02}:00Z\",{event}}}")
}

/// The opening of a job on a pump of this name.
pub fn opened(pump: &str) -> String {
    let pump = format!("{{\"name\":{},\"lines\":[[\"oil\",\"68\"]]}}", serde_json::json!(pump));
    line(
        0,
        &format!(
            "\"what\":\"opened\",\"version\":2,\"program\":\"0.1.0\",\"family\":\"oil_backed\",\"release\":\"r\",\"hash\":\"h\",\"pump\":{pump}"
        ),
    )
}

/// A complaint in these words.
pub fn complaint(words: &str) -> String {
    line(1, &format!("\"what\":\"complaint\",\"words\":{},\"findings\":[\"crackle_noise\"]", serde_json::json!(words)))
}

/// A packed knowledge of these files with a hash that fits.
pub fn packed(files: &[(String, String)]) -> String {
    let sha256 = weephole::text::fingerprint(files.iter().flat_map(|(name, text)| [name.as_str(), text.as_str()]));
    let files: Vec<_> = files.iter().map(|(name, text)| serde_json::json!({ "name": name, "text": text })).collect();
    let pack = serde_json::json!({
        "format": "weephole knowledge", "version": 1, "release": "r", "sha256": sha256, "files": files,
    });
    pack.to_string()
}

/// Two million letters in one line.
pub const LONG: &str = letters(&[b'g'; 2_000_000]);
/// More letters than a file name may have.
pub const LONG_NAME: &str = letters(&{
    let mut name = [b'a'; 300];
    name[0] = b'@';
    name
});

const fn letters(bytes: &'static [u8]) -> &'static str {
    match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(_) => "",
    }
}
