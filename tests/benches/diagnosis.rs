//! What a diagnosis costs, beside plain numbers through the same models: a drawdown, and the densities of
//! an air reading, a bucket and a run time, at as many points for as many causes. The bound is 5 ms.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use tankhand::physics::diagnosis::{
    Claims, Evidence, GaugeErrors, Group, HoldLoss, Item, WellSite, diagnose, speaks,
};
use tankhand::physics::drawdown;

mod ratios;

use ratios::Ratios;

const RUNS: usize = 201;
/// As many points as a diagnosis takes.
const POINTS: usize = 768;
const BOUND: Duration = Duration::from_millis(5);
const PSI: f64 = 6_894.757_293_168_361;

/// Everything that can be read and seen at a low tank.
fn evidence() -> Evidence {
    let site = WellSite {
        volume: Some(44.0),
        label_cut_in: 40.0,
        label_cut_out: 60.0,
        atmosphere: 14.7,
        head: 0.0,
        gap: 2.0,
    };
    let errors = GaugeErrors { line: 1.2, line_mark: 1.0, air: 0.6, air_mark: 0.5, bucket: 0.017 };
    let mut evidence = Evidence::of(site, errors);
    (evidence.starts, evidence.cut_out) = (vec![40.0, 40.0, 39.0], Some(60.0));
    (evidence.precharge, evidence.zero) = (vec![31.0, 31.0, 31.5], Some(0.0));
    (evidence.drawdown, evidence.run_time) = (Some(9.8), Some(90.0));
    evidence.hold_shut = Some(HoldLoss { loss: 0.0, minutes: 15.0 });
    evidence.hold_open = Some(HoldLoss { loss: 0.5, minutes: 15.0 });
    for (item, word) in [
        (Item::Pin, "air"),
        (Item::Sound, "hollow"),
        (Item::Needle, "evenly"),
        (Item::Order, "right"),
        (Item::OtherTanks, "no"),
    ] {
        assert!(evidence.word(item, word));
    }
    evidence
}

fn main() {
    let evidence = evidence();
    let claims = Claims::by(&evidence.items());
    let plain = least_of(plain_models);
    let diagnosed = least_of(|| {
        black_box(diagnose(black_box(&evidence), &claims));
    });
    let likeliest: Vec<_> = diagnose(&evidence, &claims).likeliest.iter().map(|(cause, _)| *cause).collect();
    let explained = least_of(|| {
        black_box(speaks(&evidence, &likeliest));
    });
    let ratio = diagnosed.as_secs_f64() / plain.as_secs_f64();
    println!("plain numbers through the same models: {plain:?}");
    println!("a diagnosis: {diagnosed:?}, {ratio:.1} times as long (bound {BOUND:?})");
    println!("what speaks for and against {} causes: {explained:?}", likeliest.len());
    let mut ratios = Ratios::of("diagnosis");
    ratios.note("a diagnosis, beside plain numbers through its models", ratio, None);
    ratios.keep();
}

/// The models on plain numbers.
fn plain_models() {
    let density = |x: f64, mean: f64, u: f64| (-0.5 * ((x - mean) / u).powi(2)).exp() / u;
    let mut sum = 0.0;
    for _ in Group::Tank.causes() {
        for point in 0..POINTS {
            let charge = 20.0 + 20.0 * point as f64 / POINTS as f64;
            let water = 44.0 * drawdown(1.0, charge * PSI, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
            let run = (water / 11.0).ln() + 100f64.ln();
            sum += density(31.0, charge, 0.7) * density(9.8, water, 0.4) * density(90f64.ln(), run, 0.3);
        }
    }
    black_box(sum);
}

/// The least of many runs: what else the machine does can only add to it.
fn least_of(mut work: impl FnMut()) -> Duration {
    let time = |_| {
        let begin = Instant::now();
        work();
        begin.elapsed()
    };
    (0..RUNS).map(time).min().unwrap()
}
