//! What a simulated flush costs: three starts watched, a bucket, ten fills and flushes, half an hour of rest
//! and a night, by the plant alone. It should stay under 5 ms.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::hint::black_box;
use std::time::Instant;

use tankhand::physics::plant::{Plant, PlantSite, Until};

fn fill(plant: &mut Plant) {
    plant.set_drain(0.12);
    plant.run_until(Until::PumpStarts, 7_200.0);
    plant.set_drain(0.0);
    plant.run_until(Until::PumpStops, 7_200.0);
}

/// A flush; seconds that went by at the installation.
fn flush() -> f64 {
    let mut plant = Plant::new(PlantSite { house_open: false, ..PlantSite::default() }, 1);
    (0..4).for_each(|_| fill(&mut plant));
    plant.set_breaker(false);
    plant.set_drain(0.3);
    plant.run_until(Until::Falls(40.0 * tankhand::quantity::PSI), 7_200.0);
    for _ in 0..10 {
        plant.set_breaker(false);
        plant.set_drain(1.0);
        plant.run_until(Until::RunsDry, 7_200.0);
        plant.set_drain(0.0);
        plant.set_breaker(true);
        plant.run_until(Until::PumpStops, 7_200.0);
    }
    plant.advance(1_800.0);
    plant.advance(43_200.0);
    plant.seconds()
}

fn main() {
    let begin = Instant::now();
    let mut times = Vec::new();
    while times.len() < 3 || begin.elapsed().as_millis() < 333 {
        let start = Instant::now();
        black_box(flush());
        times.push(start.elapsed().as_secs_f64());
    }
    times.sort_by(f64::total_cmp);
    println!("{:.0} s at the installation: {:.2} ms", flush(), times[times.len() / 2] * 1e3);
}
