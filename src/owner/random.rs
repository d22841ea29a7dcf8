//! Chance, from a seed.

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// A source of chance.
#[derive(Clone, Debug)]
pub(super) struct Chance(Pcg64Mcg);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        // Neighboring seeds begin alike: let them part.
        let mut random = Pcg64Mcg::seed_from_u64(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x6f77_6e65);
        random.next_u64();
        Chance(random)
    }

    /// From 0 up to 1.
    pub fn even(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.even()
    }

    /// A draw from the standard normal distribution, near enough.
    pub fn standard(&mut self) -> f64 {
        (0..12).map(|_| self.even()).sum::<f64>() - 6.0
    }

    pub fn happens(&mut self, probability: f64) -> bool {
        self.even() < probability
    }

    pub fn one_of<T: Copy>(&mut self, among: &[T]) -> T {
        let at = (self.even() * among.len() as f64) as usize;
        among[at.min(among.len() - 1)]
    }
}
