//! What a report costs: the record of a whole flush (some 190 entries) read, its seals checked, its
//! procedure loaded, the run folded anew, the page built and laid out; beside the mere parsing of the
//! record as TOML. It should stay under 50 ms.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::hint::black_box;
use std::time::Instant;

use tankhand::app::{DEMOS, Home, ReportTo, report};

#[path = "../support/stage.rs"]
mod stage;

mod ratios;

use ratios::Ratios;

fn main() {
    let demo = DEMOS.iter().find(|demo| demo.name == "gritty-tank").unwrap();
    let folder = tempfile::tempdir().unwrap();
    let played = stage::play(stage::Work::Demo(demo), demo.script().unwrap(), folder.path());
    let home = Home::find(Some(folder.path())).unwrap();
    let text = std::fs::read_to_string(&played.record).unwrap();
    let entries = played.contents().entries.len();
    let parse = seconds(|| drop(black_box(text.parse::<toml::Table>().unwrap())));
    let mut ratios = Ratios::of("report");
    println!("{:<10} {:>8} {:>12} {:>14}", "report", "entries", "time", "time / parse");
    for (name, to) in [("HTML", ReportTo::Html("-".into())), ("text", ReportTo::Text)] {
        let path = played.record.to_str().unwrap();
        let time = seconds(|| {
            let mut out = Vec::new();
            report(path, &to, &home, &mut out).unwrap();
            black_box(out);
        });
        println!("{name:<10} {entries:>8} {:>9.2} ms {:>14.1}", time * 1e3, time / parse);
        ratios.note(&format!("a report as {name}, beside a bare parse"), time / parse, None);
    }
    ratios.keep();
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
