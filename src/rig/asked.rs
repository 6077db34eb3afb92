//! What a pump must answer to have a job played on it.

use crate::evidence::Answer;

/// A pump that answers whoever looks, the same whenever asked: the simulated one, or a table in tests.
pub trait Rig {
    /// What somebody finds who looks for this finding; can't-tell where nobody could.
    fn look(&mut self, finding: &str) -> Answer;
    /// What the instrument of this reading shows, in SI; `None` where the pump has no place for it.
    fn read(&mut self, reading: &str) -> Option<f64>;
    /// The needle of this reading while somebody watches: seconds and SI; empty where nothing moves.
    fn needle(&mut self, reading: &str) -> Vec<(f64, f64)>;
    /// Ends of the dial of this reading's gauge, SI; `None` where it has no gauge.
    fn face(&self, _reading: &str) -> Option<(f64, f64)> {
        None
    }
}
