//! Turns a vanished terminal into the end of the program.
//!
//! The event reader spins for ever when its terminal goes away and the hang-up signal is ignored. A small thread asks
//! once a second whether the terminal still is there. Everything answered is saved by then. The signal itself is left
//! alone.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Watches until it is dropped.
pub(super) struct Watch {
    is_done: Arc<AtomicBool>,
}

impl Watch {
    /// Begins to watch.
    pub(super) fn begin() -> Self {
        let is_done = Arc::new(AtomicBool::new(false));
        #[cfg(unix)]
        unix::begin(Arc::clone(&is_done));
        Self { is_done }
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.is_done.store(true, Ordering::Relaxed);
    }
}

#[cfg(unix)]
mod unix {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};
    use rustix::io::Errno;
    use std::sync::Arc;
    use std::sync::atomic::{AtomicBool, Ordering};

    /// 128 and the number of the hang-up signal.
    const HUNG_UP: i32 = 129;
    const SECOND: Timespec = Timespec { tv_sec: 1, tv_nsec: 0 };

    pub(super) fn begin(is_done: Arc<AtomicBool>) {
        std::thread::spawn(move || {
            while !is_done.load(Ordering::Relaxed) {
                if is_gone() {
                    std::process::exit(HUNG_UP);
                }
            }
        });
    }

    /// Waits a second at most. No event is asked for, so that waiting keys do not end the wait.
    fn is_gone() -> bool {
        let stdin = rustix::stdio::stdin();
        let mut watched = [PollFd::new(&stdin, PollFlags::empty())];
        match poll(&mut watched, Some(&SECOND)) {
            Ok(_) => {
                let gone = PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL;
                watched.iter().any(|fd| fd.revents().intersects(gone))
            }
            Err(Errno::INTR) => false,
            Err(_) => true,
        }
    }
}
