//! Chance at a household.

use crate::quantity::Random;

/// The chance of a seed; not that of the plant, which begins with the seed itself.
pub(super) fn chance(seed: u64) -> Random {
    let mut random = Random::new(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x6f77_6e65);
    random.uniform();
    random
}
