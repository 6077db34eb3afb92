//! Turns the kernel's count into the largest memory the process has held.

/// Largest memory the process has held, from the kernel's own count; none where it keeps none.
pub fn peak_mib() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse::<f64>().ok().map(|kib| kib / 1024.0)
}
