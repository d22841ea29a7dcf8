//! A run that was left and gone on with ends as if it had never been left.

use tankhand::app::Demo;
use tankhand::record::{Contents, Entry, EntryKind, effective_entries};

use crate::stage::{Kept, Taped, Work, demo, play_in_parts, played};

/// Entries without their numbers, which a return to the run moves on.
fn unnumbered<'c>(entries: impl Iterator<Item = &'c Entry>) -> Vec<Entry> {
    entries
        .filter(|entry| !matches!(entry.kind, EntryKind::Paused | EntryKind::Resumed))
        .map(|entry| Entry { n: 0, replaces: None, ..entry.clone() })
        .collect()
}

/// What is shown once the record is closed.
fn summary(transcript: &str) -> &str {
    let close = "\n  seal the record > seal\n";
    let at = transcript.rfind(close).unwrap();
    &transcript[at + close.len()..]
}

/// After every question so many answers are given as before it was left; after one in so many, all.
const FURTHER: usize = 8;
const TO_THE_END: usize = 9;

/// Every question is one at which the program may end. Threads as there are processors: each is a
/// play of its own.
fn may_end_anywhere(demo: &Demo) {
    let taped = Taped::of(Work::Demo(demo), demo.script().unwrap());
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let (taped, expected) = (&taped, &played(demo).contents());
    std::thread::scope(|scope| {
        for first in 0..threads {
            let questions = (first..taped.questions()).step_by(threads);
            scope.spawn(move || {
                for at in questions {
                    goes_on_alike((demo, expected), &taped.gone_on_with(at, FURTHER), at);
                    if at % TO_THE_END == 0 {
                        ends_alike((demo, expected), &taped.gone_on_with(at, usize::MAX), at);
                    }
                }
            });
        }
    });
}

/// A run that was gone on with has what one that was never left had by then.
fn goes_on_alike((demo, contents): (&Demo, &Contents), halves: &Kept, question: usize) {
    let (goes_on, whole) =
        (unnumbered(halves.contents().entries.iter()), unnumbered(contents.entries.iter()));
    let at = format!("{} left at question {question}", demo.name);
    assert_eq!(goes_on[..], whole[..goes_on.len().min(whole.len())], "{at}");
}

/// A run that was gone on with ends as one that was never left.
fn ends_alike((demo, contents): (&Demo, &Contents), halves: &Kept, question: usize) {
    let whole = played(demo);
    let goes_on = halves.contents();
    let at = format!("{} left at question {question}", demo.name);
    assert_eq!(halves.done, whole.done, "{at}");
    let entered_again = goes_on.entries.iter().filter(|e| e.kind == EntryKind::Resumed).count();
    assert_eq!(entered_again, 1, "{at}");
    let effective = |contents: &Contents| unnumbered(effective_entries(&contents.entries));
    assert_eq!(effective(&goes_on), effective(contents), "{at}");
    assert_eq!(goes_on.summary, contents.summary, "{at}");
    assert_eq!(summary(&halves.transcript), summary(&whole.transcript), "{at}");
}

/// Nobody is there any more at the first, a middle and the last question; then somebody is.
#[test]
fn a_run_without_input_is_gone_on_with() {
    let demo = demo("gritty-tank");
    let script = || demo.script().unwrap();
    let contents = played(demo).contents();
    let last = Taped::of(Work::Demo(demo), script()).questions() - 1;
    for answers in [0, last / 2, last] {
        let folder = tempfile::tempdir().unwrap();
        let played = play_in_parts(Work::Demo(demo), script(), folder.path(), answers);
        let halves = Kept {
            transcript: played.transcript,
            done: played.ended.unwrap(),
            file: String::new(),
            record: std::fs::read_to_string(&played.record).unwrap(),
        };
        ends_alike((demo, &contents), &halves, answers);
    }
}

#[test]
fn the_gritty_tank_may_be_left_anywhere() {
    may_end_anywhere(demo("gritty-tank"));
}

#[test]
fn the_waterlogged_tank_may_be_left_anywhere() {
    may_end_anywhere(demo("waterlogged-tank"));
}

#[test]
fn the_mountain_hut_may_be_left_anywhere() {
    may_end_anywhere(demo("mountain-hut"));
}

#[test]
fn the_meadow_well_may_be_left_anywhere() {
    may_end_anywhere(demo("meadow-well"));
}

#[test]
fn the_lake_cabin_may_be_left_anywhere() {
    may_end_anywhere(demo("lake-cabin"));
}
