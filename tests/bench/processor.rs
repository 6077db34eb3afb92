//! Turns the kernel's count into the time this program has had a processor.

/// Milliseconds this program has had a processor, where the system tells; on a machine in use the clock tells more of the
/// others.
pub fn on_processor() -> Option<f64> {
    let told = std::fs::read_to_string("/proc/self/schedstat").ok()?;
    told.split_whitespace().next()?.parse::<f64>().ok().map(|nanoseconds| nanoseconds / 1e6)
}
