//! Turns signals from outside into flags: stop for a while (Ctrl-Z of a shell), go on, end.
//!
//! A program that is stopped while the full screen is on leaves the shell with a terminal that echoes nothing, and one that
//! goes on after that shows nothing until something changes. So the terminal is given back before a stop, and taken and
//! drawn anew after it. A request to end does the same on its way out.

use std::io;

/// What was asked from outside since the last look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Asked {
    /// Nothing.
    Nothing,
    /// To stop until somebody says to go on.
    Stop,
    /// It went on after a stop that gave no warning.
    GoneOn,
    /// To end.
    End,
}

#[cfg(unix)]
pub(super) use unix::Signals;

#[cfg(unix)]
mod unix {
    use super::{Asked, io};
    use signal_hook::SigId;
    use signal_hook::consts::{SIGCONT, SIGTERM, SIGTSTP};
    use signal_hook::flag::{register, register_conditional_shutdown};
    use signal_hook::low_level::{emulate_default_handler, unregister};
    use std::sync::Arc;
    use std::sync::atomic::{AtomicBool, Ordering};

    /// Listens until it is dropped.
    pub(in crate::screen) struct Signals {
        stop: Arc<AtomicBool>,
        go_on: Arc<AtomicBool>,
        end: Arc<AtomicBool>,
        known: Vec<SigId>,
    }

    impl Signals {
        /// Begins to listen.
        pub(in crate::screen) fn begin() -> io::Result<Self> {
            let flag = || Arc::new(AtomicBool::new(false));
            let mut signals = Self { stop: flag(), go_on: flag(), end: flag(), known: Vec::new() };
            signals.known.push(register(SIGTSTP, Arc::clone(&signals.stop))?);
            signals.known.push(register(SIGCONT, Arc::clone(&signals.go_on))?);
            // Asked twice, it ends at once: a long thought must not stand in the way.
            signals.known.push(register_conditional_shutdown(SIGTERM, 128 + SIGTERM, Arc::clone(&signals.end))?);
            signals.known.push(register(SIGTERM, Arc::clone(&signals.end))?);
            Ok(signals)
        }

        /// What was asked; each is told once, but for the end.
        pub(in crate::screen) fn asked(&self) -> Asked {
            if self.end.load(Ordering::Relaxed) {
                Asked::End
            } else if self.stop.swap(false, Ordering::Relaxed) {
                Asked::Stop
            } else if self.go_on.swap(false, Ordering::Relaxed) {
                Asked::GoneOn
            } else {
                Asked::Nothing
            }
        }

        /// Stops here until somebody says to go on.
        pub(in crate::screen) fn stop(&self) -> io::Result<()> {
            emulate_default_handler(SIGTSTP)?;
            self.go_on.store(false, Ordering::Relaxed);
            Ok(())
        }

        /// Ends the process as the signal would have, if it was asked to.
        pub(in crate::screen) fn end_if_asked(&self) {
            if self.end.load(Ordering::Relaxed) {
                let _ = emulate_default_handler(SIGTERM);
            }
        }
    }

    impl Drop for Signals {
        fn drop(&mut self) {
            for id in self.known.drain(..) {
                unregister(id);
            }
        }
    }
}

/// Systems without such signals.
#[cfg(not(unix))]
pub(super) struct Signals;

#[cfg(not(unix))]
#[allow(clippy::unused_self, clippy::unnecessary_wraps)]
impl Signals {
    pub(super) fn begin() -> io::Result<Self> {
        Ok(Self)
    }

    pub(super) fn asked(&self) -> Asked {
        Asked::Nothing
    }

    pub(super) fn stop(&self) -> io::Result<()> {
        Ok(())
    }

    pub(super) fn end_if_asked(&self) {}
}
