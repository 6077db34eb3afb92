//! Turns a suspect's place into its severities: the same few draws whatever else is present and in every running state.

/// What a state of `SplitMix64` moves on by.
pub const GOLDEN: u64 = 0x9E37_79B9_7F4A_7C15;

/// Draws.
pub const DRAWS: usize = 16;

/// Severities from 0 to 1, one in each of 16 equal steps, in an order of the suspect's own, so that the severities of two
/// suspects hang together as little as may be.
pub fn severities(suspect: usize) -> [f64; DRAWS] {
    let mut steps: [usize; DRAWS] = std::array::from_fn(|step| step);
    let mut seed = GOLDEN.wrapping_mul(suspect as u64 + 1);
    for last in (1..DRAWS).rev() {
        seed = mixed(seed);
        let other = usize::try_from(seed % (last as u64 + 1)).unwrap_or_default();
        steps.swap(last, other);
    }
    steps.map(|step| (step as f64 + 0.5) / DRAWS as f64)
}

/// The number that the `SplitMix64` generator gives after a state (Steele, Lea and Flood 2014); the next state is
/// [`GOLDEN`] further.
pub fn mixed(seed: u64) -> u64 {
    let mut z = seed.wrapping_add(GOLDEN);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::{DRAWS, severities};

    #[test]
    fn every_step_is_drawn_once_in_an_order_of_its_own() {
        let all: Vec<[u64; DRAWS]> = (0..40).map(|suspect| severities(suspect).map(f64::to_bits)).collect();
        for (at, drawn) in all.iter().enumerate() {
            let mut sorted = drawn.map(f64::from_bits);
            sorted.sort_by(f64::total_cmp);
            assert!((sorted[0] - 1.0 / 32.0).abs() < 1e-12 && (sorted[15] - 31.0 / 32.0).abs() < 1e-12);
            assert!((sorted.iter().sum::<f64>() - 8.0).abs() < 1e-9);
            assert!(all[..at].iter().all(|other| other != drawn), "{at}");
        }
    }
}
