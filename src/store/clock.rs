//! Turns the machine's clocks into instants and spans of time; everybody else is handed the time.

use std::time::{Duration, Instant};

use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

/// The present instant, to be stored as it is (UTC, RFC 3339).
pub fn now() -> Timestamp {
    Timestamp::now()
}

/// The same instant on the wall clock of this machine, for showing only.
///
/// It stands here because the time zone is read from disk; without one the answer is in UTC.
pub fn local(at: Timestamp) -> ZonedDateTime {
    at.to_zoned_datetime(TimeZone::system())
}

/// Measures a span of time by a clock that never jumps, unlike the wall clock.
#[derive(Debug, Clone, Copy)]
pub struct Stopwatch {
    started: Instant,
}

impl Stopwatch {
    /// Starts counting now.
    pub fn start() -> Self {
        Self { started: Instant::now() }
    }

    /// Time since [`Stopwatch::start`].
    pub fn elapsed(&self) -> Duration {
        self.started.elapsed()
    }
}

#[cfg(test)]
mod tests {
    use super::{Stopwatch, local, now};

    #[test]
    fn the_local_clock_shows_the_same_instant() {
        let at = now();
        assert_eq!(local(at).timestamp(), at);
    }

    #[test]
    fn the_stopwatch_never_runs_backwards() {
        let watch = Stopwatch::start();
        let first = watch.elapsed();
        assert!(first <= watch.elapsed());
    }
}
