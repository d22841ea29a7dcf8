//! What the program promises, each with an owner to whom it is made.

use tankhand::lang::Value;
use tankhand::physics::{Held, MONTH, Reading, precharge_at, trend, water_lost};
use tankhand::quantity::{GALLON, Measure, Verdict};

use crate::owner::{Owner, psi};

/// What became of a promise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    Right,
    Wrong,
    /// It was not made: can't tell, or out of a formula's range.
    NotMade,
}

/// A promise that is to be kept 95 times in 100, or more often where that is said.
pub struct Promise {
    pub name: &'static str,
    /// Why it may be kept more often.
    pub oftener: Option<&'static str>,
    pub made: fn(&mut Owner) -> Kept,
    /// How much work it is beside the others.
    pub costs: u64,
}

const fn kept(name: &'static str, made: fn(&mut Owner) -> Kept) -> Promise {
    Promise { name, oftener: None, made, costs: 1 }
}

const fn oftener(name: &'static str, why: &'static str, made: fn(&mut Owner) -> Kept) -> Promise {
    Promise { name, oftener: Some(why), made, costs: 1 }
}

const ONE_LIMIT: &str = "one limit alone ends before twice its standard uncertainty";
const FEW: &str = "few readings in whole steps: Student's t does not know that a step is small";
const LIMITS: &str = "limits of error end where a normal distribution goes on";
const WIDENS: &str = "scatter may only widen what the gauges leave";
const SCATTER: &str = "room is left for starts that scatter";

pub static PROMISES: &[Promise] = &[
    oftener("± of three equal readings to the nearest psi", ONE_LIMIT, |o| mean_of(o, (3, 1.0), 0.0)),
    oftener("± of nine equal readings to the nearest psi", ONE_LIMIT, |o| mean_of(o, (9, 1.0), 0.0)),
    oftener("± of two readings that scatter by a third of a step", FEW, |o| mean_of(o, (2, 1.0), 0.33)),
    oftener("± of three readings that scatter by a tenth of a step", ONE_LIMIT, |o| {
        mean_of(o, (3, 1.0), 0.1)
    }),
    oftener("± of three readings that scatter by a third of a step", FEW, |o| mean_of(o, (3, 1.0), 0.33)),
    oftener("± of three readings that scatter by half a step", FEW, |o| mean_of(o, (3, 1.0), 0.5)),
    oftener("± of nine readings that scatter by a third of a step", FEW, |o| mean_of(o, (9, 1.0), 0.33)),
    kept("± of three readings that scatter by a step", |o| mean_of(o, (3, 1.0), 1.0)),
    kept("± of two scattering readings", |o| mean_of(o, (2, 0.0), 0.7)),
    kept("± of three scattering readings", |o| mean_of(o, (3, 0.0), 0.7)),
    kept("± of five scattering readings", |o| mean_of(o, (5, 0.1), 0.7)),
    oftener("± of three scattering readings of a dial good to 2 psi", LIMITS, |o| {
        let dial = o.gauge(Measure::Pressure, psi(2.0), psi(1.0));
        scattered(o, &dial, 3, psi(1.0))
    }),
    oftener("± of a drawdown worked out from four readings", LIMITS, drawdown),
    Promise {
        costs: 20,
        ..kept("interval of a drawdown with the precharge at the cut-in", drawdown_at_kink)
    },
    kept("no pass at exactly the limit, by one dial reading", |o| at_the_limit(o, 1)),
    kept("no pass at exactly the limit, by two readings that scatter", |o| at_the_limit(o, 2)),
    kept("no pass at exactly the limit, by three readings that scatter", |o| at_the_limit(o, 3)),
    kept("no pass at exactly the limit, by a single limit of error", single_limit),
    kept("± of the dumps to go, four jars", |o| jars_to_go(o, 4, 0.10)),
    kept("± of the dumps to go, five jars", |o| jars_to_go(o, 5, 0.15)),
    kept("± of the dumps to go, eight jars", |o| jars_to_go(o, 8, 0.10)),
    kept("± of a turn's worth after three adjustments, fine gauge", |o| turns_worth(o, 0.1)),
    oftener("± of a turn's worth after three adjustments, dial", LIMITS, |o| turns_worth(o, 1.0)),
    oftener(
        "precharge set to the target is under the cut-in on the warmest day",
        SCATTER,
        target_on_the_warmest_day,
    ),
    kept("precharge set to the target is under the lowest of 30 later starts", target_under_later_starts),
    Promise { costs: 4, ..kept("no pass of a hold test with the leak that it would show", hold_test) },
    oftener("± of the loss a month in a trend", WIDENS, loss_a_month),
];

fn right(yes: bool) -> Kept {
    if yes { Kept::Right } else { Kept::Wrong }
}

/// Whether the limits of an expression hold the truth.
fn holds(owner: &Owner, text: &str, truth: f64) -> Kept {
    let Some(amount) = owner.value(text) else { return Kept::NotMade };
    right((amount.value() - truth).abs() <= amount.expanded_uncertainty())
}

fn mean_of(owner: &mut Owner, (n, step): (usize, f64), scatter: f64) -> Kept {
    let gauge = owner.gauge(Measure::Pressure, 0.0, psi(step));
    scattered(owner, &gauge, n, psi(scatter))
}

fn scattered(owner: &mut Owner, gauge: &crate::owner::Gauge, n: usize, scatter: f64) -> Kept {
    let truth = psi(owner.even(30.0, 50.0));
    repeats(owner, gauge, n, (truth, scatter));
    holds(owner, "mean(p)", truth)
}

fn repeats(owner: &mut Owner, gauge: &crate::owner::Gauge, n: usize, (truth, scatter): (f64, f64)) {
    let readings: Vec<Value> = (0..n)
        .map(|_| {
            let now = truth + owner.bell(scatter);
            owner.read(gauge, now)
        })
        .collect();
    owner.knows("p", Value::Series(readings));
}

/// True values of a tank: volume, precharge, cut-in, cut-out.
fn read_a_tank(owner: &mut Owner, truth: [f64; 4]) {
    let [tape, tire, line] = [
        owner.gauge(Measure::Volume, 0.05 * truth[0], 0.0),
        owner.gauge(Measure::Pressure, psi(1.0), psi(0.5)),
        owner.gauge(Measure::Pressure, psi(2.0), psi(1.0)),
    ];
    let gauges = [&tape, &tire, &line, &line];
    for (at, name) in ["volume", "precharge", "cut_in", "cut_out"].into_iter().enumerate() {
        owner.reads(name, gauges[at], truth[at]);
    }
}

fn drawdown(owner: &mut Owner) -> Kept {
    let truth = [owner.even(20.0, 80.0) * GALLON, psi(33.0), psi(40.0), psi(60.0)];
    read_a_tank(owner, truth);
    let true_drawdown = tankhand::physics::drawdown(truth[0], truth[1], truth[2], truth[3], 0.0).unwrap();
    holds(owner, "drawdown(volume, precharge, cut_in, cut_out)", true_drawdown)
}

fn drawdown_at_kink(owner: &mut Owner) -> Kept {
    let truth = [44.0 * GALLON, psi(owner.even(37.0, 43.0)), psi(40.0), psi(60.0)];
    read_a_tank(owner, truth);
    let true_drawdown = tankhand::physics::drawdown(truth[0], truth[1], truth[2], truth[3], 0.0).unwrap();
    let Some([low, high]) = owner.interval("drawdown(volume, precharge, cut_in, cut_out)") else {
        return Kept::NotMade;
    };
    right(low <= true_drawdown && true_drawdown <= high)
}

/// What a check says when the truth lies exactly at the limit: a pass is wrong.
fn verdict_at_limit(owner: &Owner, check: &str) -> Kept {
    right(owner.judges(check).truth.verdict(0.95) != Verdict::Pass)
}

fn at_the_limit(owner: &mut Owner, n: usize) -> Kept {
    let step = if n == 1 { psi(1.0) } else { 0.0 };
    let limit = if n == 1 { psi(2.0) } else { 0.0 };
    let gauge = owner.gauge(Measure::Pressure, limit, step);
    let truth = psi(owner.even(30.0, 60.0));
    repeats(owner, &gauge, n, (truth, if n == 1 { 0.0 } else { psi(0.5) }));
    owner.knows("limit", Value::exact(Measure::Pressure, truth));
    verdict_at_limit(owner, "p <= limit")
}

fn single_limit(owner: &mut Owner) -> Kept {
    let gauge = owner.gauge(Measure::Pressure, psi(2.0), 0.0);
    owner.reads("p", &gauge, psi(50.0));
    verdict_at_limit(owner, "p <= 50 psi")
}

/// Jars read to their marks, of a decay with a scatter of its own.
fn jars_to_go(owner: &mut Owner, n: usize, scatter: f64) -> Kept {
    let (first, left) = (owner.even(8.0, 20.0), owner.even(0.45, 0.65));
    let cone = owner.gauge(Measure::Concentration, 0.0, 1e-4);
    let jars: Vec<Value> = (0..n)
        .map(|at| {
            let now = 1e-3 * first * left.powf(at as f64) * owner.bell(scatter).exp();
            owner.read(&cone, now)
        })
        .collect();
    owner.knows("grit", Value::Series(jars));
    let truth = (0.1 / first).ln() / left.ln() - (n as f64 - 1.0);
    holds(owner, "flushes_to_go(grit, 0.1 mL/L)", truth.max(0.0))
}

fn turns_worth(owner: &mut Owner, step: f64) -> Kept {
    let gauge = owner.gauge(Measure::Pressure, psi(0.0), psi(step));
    let worth = loop {
        // Beforehand a turn is worth 2.5 psi, u 0.5 psi.
        let worth = psi(2.5) + owner.bell(psi(0.5));
        if worth > psi(1.0) {
            break worth;
        }
    };
    let scatter = owner.switch_scatter();
    let turns = [2.0, 1.5, 1.0];
    let (mut cut_in, mut cut_out) = (psi(28.0), psi(48.0));
    let (mut ins, mut outs) = (Vec::new(), Vec::new());
    for at in 0..=turns.len() {
        for (points, now) in [(&mut ins, cut_in), (&mut outs, cut_out)] {
            let now = now + owner.bell(scatter);
            points.push(owner.read(&gauge, now));
        }
        let by = turns.get(at).map_or(0.0, |turns| turns * worth);
        (cut_in, cut_out) = (cut_in + by, cut_out + by);
    }
    let exact = |numbers: &[f64]| {
        Value::Series(numbers.iter().map(|turns| Value::exact(Measure::Number, *turns)).collect())
    };
    owner.knows("ins", Value::Series(ins)).knows("outs", Value::Series(outs));
    owner.knows("big", exact(&turns)).knows("small", exact(&[0.0; 3]));
    holds(owner, "pressure_per_range_turn(ins, outs, big, small)", worth)
}

/// Sets the precharge to the target with the gauges it was worked out for; tells it as it truly is,
/// on the warmest day.
fn charged(owner: &mut Owner, cut_in: f64, scatter: f64) -> Option<f64> {
    let [tire, line] = [
        owner.gauge(Measure::Pressure, psi(1.0), psi(0.5)),
        owner.gauge(Measure::Pressure, psi(2.0), psi(1.0)),
    ];
    let starts: Vec<Value> = (0..3)
        .map(|_| {
            let now = cut_in + owner.bell(scatter);
            owner.read(&line, now)
        })
        .collect();
    let found = psi(owner.even(20.0, 36.0));
    owner.knows("starts_at", Value::Series(starts));
    owner.reads("air_found", &tire, found);
    owner.works_out("cut_in", CUT_IN);
    owner.works_out("below", "lowest_start_below(starts_at)");
    owner.works_out("doubt", "below + uncertainty_between(air_found, cut_in - below)");
    let target = owner.value("precharge_target(cut_in, 60 degF, 90 degF, 2 psi, 0 ft, doubt)")?.value();
    // The true precharge at which the gauge shows the target; the next mark below.
    let set = owner.set_by(&tire, target);
    tankhand::physics::precharge_at(set, 288.706 + owner.world.warmer, 305.372, 0.0).ok()
}

/// The cut-in as the procedures work it out.
const CUT_IN: &str = "min(starts_at)";

fn target_on_the_warmest_day(owner: &mut Owner) -> Kept {
    let cut_in = psi(owner.even(30.0, 50.0));
    let Some(precharge) = charged(owner, cut_in, 0.0) else { return Kept::NotMade };
    right(precharge < cut_in)
}

fn target_under_later_starts(owner: &mut Owner) -> Kept {
    let cut_in = psi(owner.even(30.0, 50.0));
    let scatter = owner.switch_scatter();
    let Some(precharge) = charged(owner, cut_in, scatter) else { return Kept::NotMade };
    let lowest = (0..30).map(|_| cut_in + owner.bell(scatter)).fold(f64::INFINITY, f64::min);
    right(precharge < lowest)
}

/// A tank that loses water at exactly the rate of which the test says that it would have shown: to pass
/// it as tight is wrong.
fn hold_test(owner: &mut Owner) -> Kept {
    let (volume, precharge, start) = (44.0 * GALLON, psi(36.0), psi(owner.even(45.0, 58.0)));
    let line = owner.gauge(Measure::Pressure, psi(2.0), psi(0.5));
    let thermometer = owner.gauge(Measure::Temperature, 1.0, 0.1);
    owner.reads("start", &line, start);
    owner.reads("start_temp", &thermometer, 288.15);
    for (name, measure, exact) in [
        ("volume", Measure::Volume, volume),
        ("precharge", Measure::Pressure, precharge),
        ("limit", Measure::PressureChange, psi(1.0)),
    ] {
        owner.knows(name, Value::exact(measure, exact));
    }
    // What the sentence says would have shown: the water of a fall by the limit.
    let seen = "water_lost(volume, precharge, 59 degF, start, start_temp, start - limit, start_temp)";
    let Some(seen) = owner.value(seen) else { return Kept::NotMade };
    // That water gone, by the plain law of gases, bisected.
    let lost = |end: f64| {
        let at = |pressure| Held { pressure, temperature: 288.15 };
        water_lost(volume, at(precharge), at(start), at(end), 0.0).unwrap()
    };
    let (mut low, mut high) = (start - psi(10.0), start);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        (low, high) = if lost(middle) > seen.value() { (middle, high) } else { (low, middle) };
    }
    let colder = owner.even(-2.0, 2.0);
    let end = precharge_at(low, 288.15, 288.15 + colder + owner.world.warmer * 0.2, 0.0).unwrap();
    owner.reads("end", &line, end);
    owner.reads("end_temp", &thermometer, 288.15 + colder);
    verdict_at_limit(owner, "corrected_loss(start, start_temp, end, end_temp) <= limit")
}

fn loss_a_month(owner: &mut Owner) -> Kept {
    let loss = psi(owner.even(0.0, 1.0));
    let level = psi(owner.even(30.0, 40.0));
    let u = psi(0.3);
    let readings: Vec<Reading> = [0.0, 5.0, 12.0, 24.0]
        .iter()
        .map(|month| Reading { at: month * MONTH, value: level - loss * month + owner.bell(u), u })
        .collect();
    let (low, high) = trend(&readings, 0.0).unwrap().loss_interval(0.95).unwrap();
    right(low <= loss && loss <= high)
}
