//! A run that was left and gone on with ends as if it had never been left.

use tankhand::app::{DEMOS, Demo};
use tankhand::record::{Entry, EntryKind, effective};

use crate::stage::{Played, Work, play, play_in_parts};

/// The entries in force, without their numbers, which a return to the run moves on.
fn in_force(played: &Played) -> Vec<Entry> {
    let entries = played.contents().entries;
    effective(&entries)
        .filter(|entry| !matches!(entry.kind, EntryKind::Paused | EntryKind::Resumed))
        .map(|entry| Entry { n: 0, replaces: None, ..entry.clone() })
        .collect()
}

/// What is shown once the record is closed.
fn summary(played: &Played) -> &str {
    let close = "\n  close the record >\n";
    let at = played.transcript.rfind(close).unwrap();
    &played.transcript[at + close.len()..]
}

/// How many answers a script gives.
fn answers(played: &Played) -> usize {
    let begins = |line: &&str| line.starts_with("  ") && line.contains(" >");
    played.transcript.lines().filter(begins).count()
}

fn any_prefix_does(demo: &Demo) {
    let folder = tempfile::tempdir().unwrap();
    let uninterrupted = play(Work::Demo(demo), demo.script().unwrap(), folder.path());
    let done = *uninterrupted.ended.as_ref().unwrap();
    let (entries, words) = (in_force(&uninterrupted), uninterrupted.contents().summary);
    for left_after in 0..answers(&uninterrupted) - 1 {
        let folder = tempfile::tempdir().unwrap();
        let work = Work::Demo(demo);
        let played = play_in_parts(work, demo.script().unwrap(), folder.path(), left_after);
        let at = format!("{} left after {left_after} answers", demo.name);
        assert_eq!(played.ended.as_ref().unwrap(), &done, "{at}");
        let entered_again = played.contents().entries.iter().filter(|e| e.kind == EntryKind::Resumed).count();
        assert_eq!(entered_again, 1, "{at}");
        assert_eq!(in_force(&played), entries, "{at}");
        assert_eq!(played.contents().summary, words, "{at}");
        assert_eq!(summary(&played), summary(&uninterrupted), "{at}");
    }
}

fn named(name: &str) -> &'static Demo {
    DEMOS.iter().find(|demo| demo.name == name).unwrap()
}

#[test]
fn the_gritty_tank_may_be_left_anywhere() {
    any_prefix_does(named("gritty-tank"));
}

#[test]
fn the_waterlogged_tank_may_be_left_anywhere() {
    any_prefix_does(named("waterlogged-tank"));
}

#[test]
fn the_mountain_hut_may_be_left_anywhere() {
    any_prefix_does(named("mountain-hut"));
}

#[test]
fn the_meadow_well_may_be_left_anywhere() {
    any_prefix_does(named("meadow-well"));
}

#[test]
fn the_lake_cabin_may_be_left_anywhere() {
    any_prefix_does(named("lake-cabin"));
}
