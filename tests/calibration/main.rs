//! Calibration: thousands of simulated owners are told what the program would tell them, and what it
//! says with 95 % confidence is held against the truth.

#![allow(clippy::unwrap_used)]

#[path = "../support/golden.rs"]
mod golden;

mod owner;
mod promises;

use std::fmt::Write as _;

use owner::{Owner, World};
use promises::{PROMISES, Promise, Told};
use statrs::distribution::{Beta, ContinuousCDF};

/// How a promise fared with so many owners.
struct Fared {
    right: u64,
    made: u64,
    owners: u64,
}

fn fared(promise: &Promise, owners: std::ops::Range<u64>, world: World) -> Fared {
    let (mut right, mut made) = (0, 0);
    let count = owners.end - owners.start;
    for seed in owners {
        match (promise.made)(&mut Owner::new(seed, world)) {
            Told::Right => (right, made) = (right + 1, made + 1),
            Told::Wrong => made += 1,
            Told::Nothing => {}
        }
    }
    Fared { right, made, owners: count }
}

impl Fared {
    fn share(&self) -> f64 {
        self.right as f64 / self.made.max(1) as f64
    }

    /// The limits of Clopper and Pearson at a confidence.
    fn limits(&self, confidence: f64) -> [f64; 2] {
        let (k, n) = (self.right as f64, self.made as f64);
        let beta = |a: f64, b: f64, p: f64| Beta::new(a, b).unwrap().inverse_cdf(p);
        let outside = 0.5 * (1.0 - confidence);
        let low = if self.right == 0 { 0.0 } else { beta(k, n - k + 1.0, outside) };
        let high = if self.right == self.made { 1.0 } else { beta(k + 1.0, n - k, 1.0 - outside) };
        [low, high]
    }
}

#[test]
#[ignore = "writes tests/calibration/table.toml: TANKHAND_OWNERS (10000) owners for each promise"]
fn calibration_table() {
    let owners = std::env::var("TANKHAND_OWNERS").map_or(10_000, |owners| owners.parse().unwrap());
    let mut text = String::new();
    let only = std::env::var("TANKHAND_PROMISE").unwrap_or_default();
    for promise in PROMISES.iter().filter(|promise| promise.name.contains(&only)) {
        let begin = std::time::Instant::now();
        let fared = fared(promise, 0..owners, World::ASSUMED);
        let [low, high] = fared.limits(0.95).map(|share| 100.0 * share);
        let silent = 100.0 * (1.0 - fared.made as f64 / fared.owners as f64);
        println!(
            "{:70} kept {:.1} ({low:.1} to {high:.1}), not told {silent:.1} {:?}",
            promise.name,
            100.0 * fared.share(), begin.elapsed()
        );
    }
    println!("{text}");
}
