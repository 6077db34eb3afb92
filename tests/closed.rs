//! Nothing goes out and nothing strange comes in: no network in the binary, no crate that could bring one, licences that fit,
//! files that only their owner can read.

#![allow(clippy::unwrap_used)]

use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::io::Write as _;
use std::process::{Command, Stdio};

/// What a program must ask of the system to reach a network (POSIX.1-2017, System Interfaces). `socketpair`, `send` and
/// `recv` are not among them: signals are handed over inside the program with those.
const REACHES_OUT: &[&str] =
    &["socket", "connect", "bind", "listen", "accept", "accept4", "getaddrinfo", "gethostbyname", "sendto", "recvfrom"];
/// Crates that speak to a network or start to; from their own descriptions in the registry.
const SPEAKERS: &[&str] = &[
    "reqwest",
    "hyper",
    "ureq",
    "curl",
    "isahc",
    "tokio",
    "async-std",
    "smol",
    "socket2",
    "openssl",
    "native-tls",
    "rustls",
    "quinn",
    "h2",
    "tungstenite",
    "trust-dns-resolver",
    "hickory-resolver",
    "surf",
    "attohttpc",
    "zmq",
];
/// Licences under which the program may be handed on together with its own (SPDX names).
const ALLOWED: &[&str] = &["MIT", "Apache-2.0", "ISC", "Zlib", "BSD-2-Clause", "Unicode-3.0", "Unlicense"];
/// Licences of crates that only tests use and that are not handed on.
const ALLOWED_IN_TESTS: &[&str] = &["MPL-2.0"];

#[cfg(target_os = "linux")]
#[test]
fn the_binary_cannot_reach_a_network() {
    use object::{Object as _, ObjectSymbol as _};
    let bytes = fs::read(env!("CARGO_BIN_EXE_weephole")).unwrap();
    let file = object::File::parse(bytes.as_slice()).unwrap();
    let asked: BTreeSet<String> = file
        .dynamic_symbols()
        .filter(object::ObjectSymbol::is_undefined)
        .map(|symbol| symbol.name().unwrap().to_owned())
        .collect();
    assert!(asked.contains("write"), "the names of what it asks of the system are read: {asked:?}");
    for name in REACHES_OUT {
        assert!(!asked.contains(*name), "the binary asks the system for `{name}`");
    }
}

#[test]
fn no_locked_crate_speaks_to_a_network() {
    let lock = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.lock")).unwrap();
    let locked: BTreeSet<&str> =
        lock.lines().filter_map(|line| line.strip_prefix("name = \"")?.strip_suffix('"')).collect();
    assert!(50 < locked.len() && locked.contains("ratatui"));
    for crate_name in SPEAKERS {
        assert!(!locked.contains(crate_name), "{crate_name} is locked");
    }
}

/// Every crate of this platform has a licence that allows handing the program on; read from the crates' own manifests, no
/// registry is asked.
#[cfg(all(target_os = "linux", target_arch = "x86_64"))]
#[test]
fn licences_fit() {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .args(["--filter-platform", "x86_64-unknown-linux-gnu", "--manifest-path"])
        .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let found: Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = found["packages"].as_array().unwrap();
    assert!(50 < packages.len());
    let in_program = in_the_program();
    for package in packages {
        let (name, licence) = (package["name"].as_str().unwrap(), package["license"].as_str().unwrap_or_default());
        let handed_on = in_program.contains(name);
        assert!(is_allowed(licence, handed_on), "{name} is under `{licence}`; handed on: {handed_on}");
    }
}

/// Names of the crates that end up in the program.
fn in_the_program() -> BTreeSet<String> {
    let output = Command::new(env!("CARGO"))
        .args(["tree", "--edges", "normal", "--prefix", "none", "--format", "{p}", "--locked", "--offline"])
        .args(["--target", "x86_64-unknown-linux-gnu", "--manifest-path"])
        .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    text.lines().filter_map(|line| line.split(' ').next()).map(str::to_owned).collect()
}

/// True if every part joined by AND has an alternative (OR, or the older `/`) that is allowed.
fn is_allowed(licence: &str, handed_on: bool) -> bool {
    let fits = |one: &str| {
        let one = one.trim_matches(['(', ')', ' ']);
        ALLOWED.contains(&one) || (!handed_on && ALLOWED_IN_TESTS.contains(&one))
    };
    !licence.is_empty() && licence.split(" AND ").all(|part| part.replace('/', " OR ").split(" OR ").any(fits))
}

#[test]
fn alternatives_and_conjunctions_of_licences_are_read() {
    assert!(is_allowed("(MIT OR Apache-2.0) AND Unicode-3.0", true) && is_allowed("Apache-2.0/MIT", true));
    assert!(!is_allowed("MIT AND GPL-3.0", true) && !is_allowed("", true) && !is_allowed("MPL-2.0", true));
}

/// What is said at a pump is nobody else's: folder and journal can be read by their owner alone.
#[cfg(unix)]
#[test]
fn jobs_can_be_read_by_their_owner_alone() {
    use std::os::unix::fs::PermissionsExt as _;
    let place = tempfile::tempdir().unwrap();
    let data = place.path().join("data");
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .arg("--data-dir")
        .arg(&data)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"it lost pressure\n").unwrap();
    assert!(child.wait().unwrap().success());
    let mode = |path: &std::path::Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode(&data), mode(&data.join("jobs"))), (0o700, 0o700));
    let journals = fs::read_dir(data.join("jobs")).unwrap().map(|entry| entry.unwrap().path());
    let journals: Vec<_> = journals.filter(|path| path.extension().is_some_and(|end| end == "journal")).collect();
    assert_eq!(journals.len(), 1);
    assert_eq!(mode(&journals[0]), 0o600);
}
