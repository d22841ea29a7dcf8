//! `practice`: the same prompts, what would be seen beside them, and what was wrong at the end.

use tankhand::app::{
    Done, Failure, Home, Occasion, PracticeOrder, Stage, TrendCall, practice, resume, trend,
};
use tankhand::clock::SetClock;
use tankhand::console::{Script, ScriptFace, Style};
use tankhand::record::{list, read};
use tankhand::source::SourceText;

use crate::golden::holds;

fn script(answers: &[(&str, &str)]) -> Script {
    let head = "format = 1\nstart = 2031-04-05T20:00:00-05:00\n".to_string();
    let text = answers
        .iter()
        .fold(head, |text, (step, give)| format!("{text}[[answer]]\nstep = \"{step}\"\ngive = \"{give}\"\n"));
    Script::load(&SourceText::new("answers.toml", text)).unwrap()
}

fn practiced(home: &Home, fault: &str, answers: &[(&str, &str)]) -> String {
    let order = PracticeOrder {
        procedure: "tests/owner/start.toml".to_string(),
        fault: Some(fault.to_string()),
        seed: Some(4),
        ..PracticeOrder::default()
    };
    played(answers, |stage| practice(&order, home, stage))
}

/// The transcript of a use case with these answers.
fn played(answers: &[(&str, &str)], plays: impl FnOnce(&mut Stage<'_>) -> Result<Done, Failure>) -> String {
    let mut transcript = Vec::new();
    let script = script(answers);
    let clock = SetClock::at(script.start());
    let style = Style { unicode: true, ..Style::plain(80) };
    let mut face = ScriptFace::new(script, &clock, &mut transcript, style);
    let mut stage = Stage { face: &mut face, clock: &clock, width: 80, occasion: Occasion::Script };
    let done = plays(&mut stage);
    assert!(matches!(done, Ok(Done::Well | Done::Short)), "{done:?}");
    String::from_utf8(transcript).unwrap()
}

#[test]
fn what_would_be_seen_is_told_and_what_is_typed_counts() {
    let folder = tempfile::tempdir().unwrap();
    let home = Home::find(Some(folder.path())).unwrap();
    let answers = [
        ("power", ""),
        ("seen_to_start", "48"),
        ("how_it_fell", "dropped"),
        ("runs_for", "12"),
        ("noted", "a needle that drops"),
        ("close", "seal"),
    ];
    let transcript = practiced(&home, "waterlogged", &answers);
    holds("tests/owner/practice.txt", &transcript);
    let kept = std::fs::read_dir(home.practice()).unwrap().next().unwrap().unwrap().path();
    assert!(read(&kept).unwrap().header.practice.is_some());
    assert_eq!(list(&home.records()).unwrap().records, []);
    // Even among the records of real work it is none of them.
    std::fs::create_dir_all(home.records()).unwrap();
    std::fs::copy(&kept, home.records().join(kept.file_name().unwrap())).unwrap();
    assert_eq!(list(&home.records()).unwrap().records, []);
    let mut out = Vec::new();
    let none = trend(&TrendCall::default(), &home, 80, &mut out);
    assert!(none.is_err(), "{none:?}");
}

/// What a transcript tells of the installation.
fn sights(transcript: &str) -> Vec<&str> {
    transcript
        .lines()
        .filter(|line| ["    The ", "    You "].iter().any(|lead| line.starts_with(lead)))
        .collect()
}

#[test]
fn a_practice_that_was_left_is_gone_on_with_at_the_same_installation() {
    let folders = [(); 2].map(|()| tempfile::tempdir().unwrap());
    let [whole, parted] = folders.each_ref().map(|folder| Home::find(Some(folder.path())).unwrap());
    let first = [("power", "done"), ("seen_to_start", "31")];
    let rest = [("how_it_fell", "evenly"), ("runs_for", "40"), ("noted", "none"), ("close", "seal")];
    let told = practiced(&whole, "waterlogged", &[first.as_slice(), &rest].concat());
    let before = practiced(&parted, "waterlogged", &[first.as_slice(), &[("how_it_fell", "pause")]].concat());
    let path = std::fs::read_dir(parted.practice()).unwrap().next().unwrap().unwrap().path();
    let id = path.file_stem().unwrap().to_str().unwrap();
    let after = played(&rest, |stage| resume(Some(id), &parted, stage));
    // The question at which it was left is put once more.
    let again = sights(&before).len() - 1;
    assert_eq!(sights(&told), [&sights(&before)[..again], &sights(&after)].concat());
    assert_eq!(after.lines().last(), told.lines().last());
}
