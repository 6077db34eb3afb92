//! Turns the bytes that libFuzzer makes into calls of one target; its name stands in `FUZZ_TARGET`.

#![no_main]

mod targets;

use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;

static TARGET: LazyLock<targets::Target> = LazyLock::new(|| {
    let name = std::env::var("FUZZ_TARGET").unwrap_or_default();
    let found = targets::TARGETS.iter().find(|(known, _)| *known == name);
    found.unwrap_or_else(|| panic!("FUZZ_TARGET must be one of the targets, not `{name}`")).1
});

fuzz_target!(|data: &[u8]| TARGET(data));
