//! What uncertainty costs: a drawdown with four uncertain inputs, beside the same on plain
//! numbers, beside a general-purpose package for Python, and a million draws of it; what a check
//! costs when first order stands and when it is judged by draws.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Instant;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;
use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::{Run, RunInput, Setting};
use tankhand::lang::{Ancestry, CheckedExpr, Unknown, Value, Values};
use tankhand::physics::drawdown;
use tankhand::procedure::check_expression;
use tankhand::quantity::{SourceId, Uncertain, Units};
use tankhand::source::SourceText;
use tankhand::system::System;

mod ratios;

use ratios::Ratios;

const PSI: f64 = 6_894.757_293_168_361;
const GALLON: f64 = 3.785_411_784e-3;
/// Volume, charge, cut-in, cut-out; and how far each is doubted (standard uncertainty).
const AT: [f64; 4] = [44.0 * GALLON, 37.0 * PSI, 40.0 * PSI, 60.0 * PSI];
const U: [f64; 4] = [0.5 * GALLON, 0.6 * PSI, 0.6 * PSI, 0.6 * PSI];
const BATCHES: usize = 301;
const BATCH: usize = 1_000;
/// As many as judge a check.
const DRAWS: usize = 10_000;

/// The same drawdown; prints its value, its standard uncertainty and the median time in seconds.
const PYTHON: &str = "\
import math, statistics, sys, time
from uncertainties import ufloat, __version__
at, u = eval(sys.argv[1]), eval(sys.argv[2])
def air(z):
    h = 6356766.0 * z / (6356766.0 + z)
    return 101325.0 * (1.0 - h * 0.0065 / 288.15) ** 5.25588
def held(v, c, p):
    return v * (1.0 - c / p)
def drawdown(v, c, i, o, z):
    a = air(z)
    c, i, o = c + a, i + a, o + a
    return held(v, c, o) - held(v, c, i)
args = [ufloat(x, s) for x, s in zip(at, u)]
times = []
for _ in range(101):
    begin = time.perf_counter()
    for _ in range(50):
        result = drawdown(*args, 0.0)
        value, doubt = result.nominal_value, result.std_dev
    times.append((time.perf_counter() - begin) / 50)
print(value, doubt, statistics.median(times), __version__)
";

fn main() {
    let inputs: [Uncertain; 4] =
        std::array::from_fn(|i| Uncertain::exact(AT[i]).with_component(SourceId::Reading(i as u64), U[i]));
    let plain = median_of(|| {
        let [v, precharge, on, off] = black_box(AT);
        black_box(drawdown(v, precharge, on, off, black_box(0.0)).unwrap());
    });
    let carried = median_of(|| {
        let [v, precharge, on, off] = black_box(&inputs).clone();
        let z = Uncertain::exact(black_box(0.0));
        black_box(drawdown(v, precharge, on, off, z).unwrap().standard_uncertainty());
    });
    let [v, precharge, on, off] = inputs;
    let result = drawdown(v, precharge, on, off, Uncertain::exact(0.0)).unwrap();
    println!("drawdown with four uncertain inputs, medians of {BATCHES} batches of {BATCH}");
    println!("plain numbers              {:10.3} µs", plain * 1e6);
    println!("with uncertainty           {:10.3} µs   (bound: 1)", carried * 1e6);
    println!("ratio                      {:10.1}", carried / plain);
    let mut ratios = Ratios::of("uncertainty");
    ratios.note("a drawdown with uncertainty, beside plain numbers", carried / plain, None);
    beside_python(&result, carried, &mut ratios);
    draws(&mut ratios);
    ratios.keep();
    println!("\nfrom an answer to the verdict of a check after it (bound: 5 ms)");
    for (how, check) in [
        ("straight", "air - on <= 1 psi"),
        ("at a kink", "max(air, on) - min(air, on) <= 1 psi"),
        ("at a kink behind a drawdown", "drawdown(44 gal, air, on, 60 psi) >= 11.3 gal"),
    ] {
        let (seconds, advice) = check_time(check);
        println!("{how:<28} {:8.3} ms   {}", seconds * 1e3, advice.unwrap_or_default());
    }
}

/// A check by 10,000 draws of a drawdown, all of it from plan to verdict, beside a loop that somebody wrote for
/// this one formula over as many draws made beforehand; taken in turn.
fn draws(ratios: &mut Ratios) {
    let text = "drawdown(44 gal +- 0.9 gal, 40 psi +- 1 psi, 40 psi +- 1 psi, 60 psi +- 1 psi) >= 11.2 gal";
    let check = check_expression(text).unwrap();
    let mut generator = Pcg64Mcg::seed_from_u64(1);
    let mut even = || 2.0 * ((generator.next_u64() >> 11) as f64 / (1_u64 << 53) as f64) - 1.0;
    let made: Vec<[f64; 4]> = (0..DRAWS).map(|_| std::array::from_fn(|_| even())).collect();
    let (mut ours, mut hand) = (Vec::new(), Vec::new());
    let mut shares = (0.0, 0.0);
    for _ in 0..BATCHES {
        let begin = Instant::now();
        let judged = black_box(check.judged(&Nothing).unwrap());
        ours.push(begin.elapsed().as_secs_f64());
        let begin = Instant::now();
        let held = black_box(by_hand(black_box(&made)));
        hand.push(begin.elapsed().as_secs_f64());
        shares = (judged.truth.least, held as f64 / DRAWS as f64);
    }
    let (ours, hand) = (median(ours), median(hand));
    println!("\na check by {DRAWS} draws   {:10.3} ms", ours * 1e3);
    println!("a loop written by hand     {:10.3} ms", hand * 1e3);
    println!("ratio                      {:10.2}   (bound: 3)", ours / hand);
    ratios.note("a check by 10,000 draws, beside a loop written by hand", ours / hand, Some(3.0));
    println!("a million draws so         {:10.1} ms", ours * 1e3 * 1e6 / DRAWS as f64);
    println!("share in which it holds    {:10.4} {:10.4}", shares.0, shares.1);
}

/// In how many of the draws the drawdown is large enough.
fn by_hand(made: &[[f64; 4]]) -> usize {
    let holds = |x: &&[f64; 4]| {
        let (volume, precharge) = ((44.0 + 0.9 * x[0]) * GALLON, (40.0 + x[1]) * PSI);
        let (cut_in, cut_out) = ((40.0 + x[2]) * PSI, (60.0 + x[3]) * PSI);
        drawdown(volume, precharge, cut_in, cut_out, black_box(0.0)).is_ok_and(|given| given >= 11.2 * GALLON)
    };
    made.iter().filter(holds).count()
}

/// No names.
struct Nothing;

impl Values for Nothing {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        Err(Unknown::because(format!("{name} is not known")))
    }
}

impl Ancestry for Nothing {
    fn formula(&self, _: &str) -> Option<&CheckedExpr> {
        None
    }
}

/// The median.
fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// The median time from an answer to the verdict of a check of it, in seconds, and what would settle it.
fn check_time(check: &str) -> (f64, Option<String>) {
    let text = format!(
        "format = 1\ntitle = \"Check\"\npurpose = \"To be timed.\"\n\
         [[step]]\nid = \"on\"\nread = \"pressure\"\ngauge = \"line\"\nask = \"Start?\"\n\
         [[step]]\nid = \"air\"\nread = \"pressure\"\ngauge = \"air\"\nask = \"Air?\"\n\
         [[step]]\nid = \"near\"\ncheck = \"{check}\"\n"
    );
    let procedure = Library::default().load_source(&SourceText::new("procedures/check.toml", text)).unwrap();
    let setting = Setting {
        procedure: Arc::new(procedure),
        name: "check".to_string(),
        system: Arc::new(System::default()),
        tank: 0,
        units: Units::Us,
        past: tankhand::engine::EarlierAnswers::default(),
    };
    let start = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
    let (mut run, _) = Run::begin(setting, start);
    run.take(RunInput::Answer("38 psi"), start).unwrap();
    let mut advice = None;
    let times = (0..BATCHES).map(|_| {
        let mut run = run.clone();
        let begin = Instant::now();
        let events = black_box(run.take(RunInput::Answer("38 psi"), start).unwrap());
        let time = begin.elapsed().as_secs_f64();
        advice = events.into_iter().find_map(|event| event.entry.advice);
        time
    });
    (median(times.collect()), advice)
}

/// The median time of one call, in seconds.
fn median_of(mut call: impl FnMut()) -> f64 {
    let batch = |_| {
        let begin = Instant::now();
        (0..BATCH).for_each(|_| call());
        begin.elapsed().as_secs_f64() / BATCH as f64
    };
    median((0..BATCHES).map(batch).collect())
}

/// The same in Python with its `uncertainties` package, when there is one to be had.
fn beside_python(result: &Uncertain, carried: f64, ratios: &mut Ratios) {
    let folder = std::env::temp_dir().join(format!("tankhand-uncertainty-{}", std::process::id()));
    match python_with_package(&folder).and_then(|python| timed(&python)) {
        Some((value, u, seconds, version)) => {
            println!("Python uncertainties {version} {:10.3} µs", seconds * 1e6);
            println!("ratio                      {:10.1}   (bound: at least 50)", seconds / carried);
            ratios.note(
                "a drawdown with uncertainty, beside Python's package",
                carried / seconds,
                Some(0.02),
            );
            let apart =
                (value / result.value() - 1.0).abs().max((u / result.standard_uncertainty() - 1.0).abs());
            println!("both agree to              {apart:10.0e}");
        }
        None => println!("Python with `uncertainties` cannot be had here; this ratio is left out"),
    }
    let _ = std::fs::remove_dir_all(&folder);
}

/// A Python that has the package: the one there is, or one in a folder of its own.
fn python_with_package(folder: &Path) -> Option<PathBuf> {
    let usual = PathBuf::from("python3");
    if runs(Command::new(&usual).args(["-c", "import uncertainties"])) {
        return Some(usual);
    }
    let own = folder.join("bin/python3");
    let made = runs(Command::new(&usual).args(["-m", "venv"]).arg(folder))
        && runs(Command::new(&own).args(["-m", "pip", "install", "--quiet", "uncertainties==3.2.3"]));
    made.then_some(own)
}

fn runs(command: &mut Command) -> bool {
    command.stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok_and(|status| status.success())
}

/// Value, standard uncertainty, seconds a call, version.
fn timed(python: &Path) -> Option<(f64, f64, f64, String)> {
    let list = |numbers: [f64; 4]| format!("{numbers:?}");
    let output = Command::new(python).args(["-c", PYTHON, &list(AT), &list(U)]).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    let words: Vec<&str> = text.split_whitespace().collect();
    let [value, u, seconds, version] = words[..] else { return None };
    Some((value.parse().ok()?, u.parse().ok()?, seconds.parse().ok()?, version.to_string()))
}
