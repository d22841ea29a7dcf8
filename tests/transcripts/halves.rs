//! A run that was left and gone on with ends as if it had never been left.

use tankhand::app::Demo;
use tankhand::record::{Contents, Entry, EntryKind, effective_entries};

use crate::stage::{Work, demo, play_in_parts, played};

/// The entries in force, without their numbers, which a return to the run moves on.
fn effective(contents: &Contents) -> Vec<Entry> {
    effective_entries(&contents.entries)
        .filter(|entry| !matches!(entry.kind, EntryKind::Paused | EntryKind::Resumed))
        .map(|entry| Entry { n: 0, replaces: None, ..entry.clone() })
        .collect()
}

/// What is shown once the record is closed.
fn summary(transcript: &str) -> &str {
    let close = "\n  close the record >\n";
    let at = transcript.rfind(close).unwrap();
    &transcript[at + close.len()..]
}

/// How many answers a script gives.
fn answers(transcript: &str) -> usize {
    let begins = |line: &&str| line.starts_with("  ") && line.contains(" >");
    transcript.lines().filter(begins).count()
}

/// Every prefix is tried, on as many threads as there are processors: each is a play of its own.
fn any_prefix_does(demo: &Demo) {
    let prefixes = answers(&played(demo).transcript) - 1;
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for first in 0..threads {
            scope.spawn(move || (first..prefixes).step_by(threads).for_each(|n| prefix_does(demo, n)));
        }
    });
}

fn prefix_does(demo: &Demo, left_after: usize) {
    let whole = played(demo);
    let contents = whole.contents();
    let folder = tempfile::tempdir().unwrap();
    let played = play_in_parts(Work::Demo(demo), demo.script().unwrap(), folder.path(), left_after);
    let at = format!("{} left after {left_after} answers", demo.name);
    assert_eq!(played.ended.as_ref().unwrap(), &whole.done, "{at}");
    let halves = played.contents();
    let entered_again = halves.entries.iter().filter(|e| e.kind == EntryKind::Resumed).count();
    assert_eq!(entered_again, 1, "{at}");
    assert_eq!(effective(&halves), effective(&contents), "{at}");
    assert_eq!(halves.summary, contents.summary, "{at}");
    assert_eq!(summary(&played.transcript), summary(&whole.transcript), "{at}");
}

#[test]
fn the_gritty_tank_may_be_left_anywhere() {
    any_prefix_does(demo("gritty-tank"));
}

#[test]
fn the_waterlogged_tank_may_be_left_anywhere() {
    any_prefix_does(demo("waterlogged-tank"));
}

#[test]
fn the_mountain_hut_may_be_left_anywhere() {
    any_prefix_does(demo("mountain-hut"));
}

#[test]
fn the_meadow_well_may_be_left_anywhere() {
    any_prefix_does(demo("meadow-well"));
}

#[test]
fn the_lake_cabin_may_be_left_anywhere() {
    any_prefix_does(demo("lake-cabin"));
}
