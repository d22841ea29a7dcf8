//! Chance from a seed, and points spread evenly: the same in every run and on every machine.

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// A source of chance.
#[derive(Clone, Debug)]
pub(crate) struct Random(Pcg64Mcg);

impl Random {
    /// The source of a seed, at its beginning.
    pub(crate) fn new(seed: u64) -> Random {
        Random(Pcg64Mcg::seed_from_u64(seed))
    }

    /// From 0 up to 1.
    pub(crate) fn uniform(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// From one end up to another.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// A draw from the standard normal distribution (Box and Muller; JCGM 101:2008, C.4). 1 - u is never zero.
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }

    /// A draw from the standard normal distribution, near enough: twelve even ones, less six.
    pub(crate) fn near_normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }

    /// Whether that happens which has so much probability.
    pub(crate) fn happens(&mut self, probability: f64) -> bool {
        self.uniform() < probability
    }

    /// One of several, each as likely.
    pub(crate) fn one_of<T: Copy>(&mut self, among: &[T]) -> T {
        let at = (self.uniform() * among.len() as f64) as usize;
        among[at.min(among.len() - 1)]
    }
}

/// What the axes of points go by, so that no two keep step.
const PRIMES: [u32; 12] = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37];

/// Points that fill a box evenly, each axis from 0 to 1: the fractional parts of multiples of square roots of
/// primes (R. D. Richtmyer, 1951, from memory). No random numbers. They fill each of many axes better than
/// [`mirrored_points`], which tell a sum over few better.
pub(crate) fn even_points<const AXES: usize>(count: u32) -> Vec<[f64; AXES]> {
    points(count, |number, prime| (f64::from(number) * f64::from(prime).sqrt() + 0.5).fract())
}

/// The same by numbers with their digits in the base of a prime mirrored at the point (J. H. Halton,
/// Numerische Mathematik 2 (1960) 84, from memory).
pub(crate) fn mirrored_points<const AXES: usize>(count: u32) -> Vec<[f64; AXES]> {
    points(count, |mut number, base| {
        let (mut digit, mut sum) = (1.0, 0.0);
        while number > 0 {
            digit /= f64::from(base);
            sum += digit * f64::from(number % base);
            number /= base;
        }
        sum
    })
}

fn points<const AXES: usize>(count: u32, place: fn(u32, u32) -> f64) -> Vec<[f64; AXES]> {
    const { assert!(AXES <= PRIMES.len()) };
    (1..=count).map(|number| std::array::from_fn(|axis| place(number, PRIMES[axis]))).collect()
}
