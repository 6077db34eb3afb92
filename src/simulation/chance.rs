//! Turns a seed and words into even numbers: the same ones on every machine.

use crate::physics::likelihood::{GOLDEN, mixed};

/// A small seeded generator (`SplitMix64`; Steele, Lea and Flood 2014).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Chance(u64);

impl Chance {
    /// A stream of a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// A stream of a seed and words: two streams with other words have nothing to do with each other (FNV-1a, 64 bit).
    pub fn of(seed: u64, words: &[&str]) -> Self {
        let mut mixed = 0xcbf2_9ce4_8422_2325 ^ seed;
        for byte in words.iter().flat_map(|word| word.bytes().chain([0])) {
            mixed = (mixed ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        let mut stream = Self(mixed);
        stream.bits();
        stream
    }

    /// 64 even bits.
    pub fn bits(&mut self) -> u64 {
        let drawn = mixed(self.0);
        self.0 = self.0.wrapping_add(GOLDEN);
        drawn
    }

    /// Evenly between 0 and 1, 1 left out.
    pub fn even(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Happens with a probability.
    pub fn happens(&mut self, probability: f64) -> bool {
        self.even() < probability
    }

    /// Normal, of mean 0 and standard deviation 1 (Box and Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.even(), self.even());
        (-2.0 * libm::log(a)).sqrt() * libm::cos(std::f64::consts::TAU * b)
    }

    /// A place below `count`; 0 where there is none.
    pub fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.bits() % count.max(1) as u64).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::Chance;

    /// First outputs for seed 1234567: the reference code of `SplitMix64` (Vigna), from memory.
    #[test]
    fn it_is_the_published_generator() {
        let mut chance = Chance::new(1_234_567);
        let first: Vec<u64> = (0..3).map(|_| chance.bits()).collect();
        assert_eq!(first, [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]);
    }

    /// Mean 0 and variance 1 within four standard errors; words make streams of their own.
    #[test]
    fn normal_numbers_are_normal() {
        let mut chance = Chance::of(7, &["inlet gauge"]);
        let drawn: Vec<f64> = (0..20_000).map(|_| chance.normal()).collect();
        let mean = drawn.iter().sum::<f64>() / 20_000.0;
        let square = drawn.iter().map(|x| x * x).sum::<f64>() / 20_000.0;
        assert!(mean.abs() < 4.0 / 141.4 && (square - 1.0).abs() < 4.0 * 2_f64.sqrt() / 141.4, "{mean} {square}");
        assert_ne!(Chance::of(7, &["a", "b"]).bits(), Chance::of(7, &["ab"]).bits());
    }
}
