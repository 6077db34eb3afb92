//! Turns pieces of work that stand by themselves into their results in order, on several threads.

use super::Failure;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;

/// Threads at most.
const THREADS: usize = 8;

/// The results of pieces 0 to `count`, in order, whatever thread worked them out. Each thread makes a worker of its own.
/// Once `stop` is set no new piece is begun, and what is there so far comes back.
pub fn several<T: Send, W: FnMut(usize) -> T>(
    count: usize,
    stop: &AtomicBool,
    worker: impl Fn() -> W + Sync,
) -> Result<Vec<T>, Failure> {
    let next = AtomicUsize::new(0);
    let threads = thread::available_parallelism().map_or(1, usize::from).min(THREADS).min(count);
    let work = || -> Vec<(usize, T)> {
        let mut own = worker();
        let places = std::iter::repeat_with(|| next.fetch_add(1, Ordering::Relaxed));
        let open = places.take_while(|at| *at < count && !stop.load(Ordering::Relaxed));
        open.map(|at| (at, own(at))).collect()
    };
    let parts: Vec<_> = thread::scope(|scope| {
        let running: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        running.into_iter().map(thread::ScopedJoinHandle::join).collect()
    });
    let mut found = BTreeMap::new();
    for part in parts {
        found.extend(part.map_err(|_| Failure::Could("a thread that played cases broke down".to_owned()))?);
    }
    Ok(found.into_values().collect())
}
