//! How loading grows with the length of a procedure: reading, checking and proving it, beside
//! the mere parsing of the same TOML. The time per step should stay about the same.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::fmt::Write;
use std::hint::black_box;
use std::time::Instant;

use tankhand::app::Library;
use tankhand::procedure::Step;
use tankhand::source::SourceText;
use toml::de::DeTable;

mod ratios;

use ratios::Ratios;

fn main() {
    println!("{:<22} {:>6} {:>12} {:>12} {:>14}", "procedure", "steps", "load", "per step", "load / parse");
    for steps in [10, 100, 1_000, 10_000] {
        let text = invented(steps);
        let load = seconds(|| {
            Library::default().load_source(&SourceText::new("procedures/long.toml", text.as_str())).unwrap();
        });
        row("invented", steps, load, seconds(|| parse(&text)));
    }
    let library = Library::default();
    let (mut all_steps, mut all_texts) = (0, Vec::new());
    for name in library.procedures() {
        let procedure = library.load(&name).unwrap();
        let (steps, texts) = (count(&procedure.steps), procedure.texts);
        let load = seconds(|| {
            Library::default().load(&name).unwrap();
        });
        row(&name, steps, load, seconds(|| texts.iter().for_each(|text| parse(text.text()))));
        all_steps += steps;
        all_texts.extend(texts);
    }
    let load = seconds(|| {
        let library = Library::default();
        library.procedures().iter().for_each(|name| drop(library.load(name).unwrap()));
    });
    all_texts.sort_by(|a, b| a.name().cmp(b.name()));
    all_texts.dedup();
    let parsing = seconds(|| all_texts.iter().for_each(|text| parse(text.text())));
    row("all, one after another", all_steps, load, parsing);
    let mut ratios = Ratios::of("loading");
    ratios.note("loading every built-in, beside parsing it", load / parsing, None);
    ratios.keep();
    // Loaded once, a library keeps the parts as they are used: a second time only the procedures themselves are judged.
    let warm = Library::default();
    let names = warm.procedures();
    names.iter().for_each(|name| drop(warm.load(name).unwrap()));
    let judging = seconds(|| names.iter().for_each(|name| drop(black_box(warm.load(name).unwrap()))));
    where_it_goes(load, parsing, judging);
}

/// Why loading costs more than parsing.
fn where_it_goes(load: f64, parsing: f64, judging: f64) {
    println!("\nof loading all built-ins ({:.0} µs):", load * 1e6);
    let part = |name: &str, seconds: f64, why: &str| {
        println!("{name:<30} {:>4.0} %   {why}", 100.0 * seconds / load);
    };
    part("parsing TOML", parsing, "the crate alone");
    part(
        "parts",
        (load - parsing - judging).max(0.0),
        "drafted, checked and proven, once for each way of using them",
    );
    part("procedures", judging, "each anew: its own steps, the heads of its parts, every path");
}

/// A procedure of so many steps, each fourth a reading, a value, a check and a deed.
fn invented(steps: usize) -> String {
    let mut text = "format = 1\ntitle = \"Long\"\npurpose = \"To be timed.\"\n".to_string();
    for n in 0..steps {
        let round = n / 4;
        match n % 4 {
            0 => write!(text, "[[step]]\nid = \"p{round}\"\nread = \"pressure\"\nask = \"Gauge?\"\n"),
            1 => write!(text, "[[step]]\nid = \"c{round}\"\ncompute = \"p{round} + 2 psi\"\n"),
            2 => write!(
                text,
                "[[step]]\nid = \"k{round}\"\ncheck = \"c{round} > 40 psi\"\npass = \"{{c{round}}}.\"\n"
            ),
            _ => write!(text, "[[step]]\nwhen = \"p{round} < 30 psi\"\ndo = \"Close the valve.\"\n"),
        }
        .unwrap();
    }
    text
}

fn parse(text: &str) {
    black_box(DeTable::parse(text).unwrap());
}

fn count(steps: &[Step]) -> usize {
    steps.iter().map(|step| 1 + count(step.body())).sum()
}

/// The least of repeated runs, for a third of a second or three times, whichever is longer: what else the
/// machine does can only add to it.
fn seconds(mut run: impl FnMut()) -> f64 {
    let begin = Instant::now();
    let (mut least, mut runs) = (f64::INFINITY, 0);
    while runs < 3 || begin.elapsed().as_millis() < 333 {
        let start = Instant::now();
        run();
        least = least.min(start.elapsed().as_secs_f64());
        runs += 1;
    }
    least
}

fn row(name: &str, steps: usize, load: f64, parse: f64) {
    let per_step = load / steps as f64;
    println!(
        "{name:<22} {steps:>6} {:>9.0} µs {:>9.2} µs {:>14.1}",
        load * 1e6,
        per_step * 1e6,
        load / parse
    );
}
