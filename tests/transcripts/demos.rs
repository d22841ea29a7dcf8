//! The demonstrations: their transcripts and records, line for line.

use sha2::{Digest, Sha256};
use tankhand::app::{DEMOS, Demo, Done};
use tankhand::procedure::SHIPPED;
use tankhand::record::{Finding, Outcome, TextRole, verify_bytes};

use crate::golden::{blessing, folders, holds, in_project};
use crate::stage::{Work, play};

const FOLDER: &str = "transcripts-demo";

/// The record as written, without what changes with every word of a procedure: the kept texts,
/// their digests and the seals. Those are checked apart.
fn reviewable(record: &str) -> String {
    let mut kept =
        String::from("# The record of this run, without the texts it keeps and without its seals.\n");
    let mut end_of_text = None;
    for line in record.lines() {
        match (end_of_text, line) {
            (Some(end), line) if line == end => end_of_text = None,
            (Some(_), _) => {}
            (None, "text = '''") => end_of_text = Some("'''"),
            (None, "text = \"\"\"") => end_of_text = Some("\"\"\""),
            (None, line) if line.starts_with("seal = ") || line.starts_with("sha256 = ") => {}
            (None, line) => kept.push_str(&format!("{}\n", rounded(line))),
        }
    }
    kept
}

/// A line with its long numbers rounded: the last digits of a power or a logarithm are not the
/// same on every machine.
fn rounded(line: &str) -> String {
    if !["value = ", "uncertainty = ", "truth = "].iter().any(|start| line.starts_with(start)) {
        return line.to_string();
    }
    let words = line.split_inclusive([' ', ',', '}']).map(|word| {
        let number = word.trim_end_matches([' ', ',', '}']);
        match number.parse::<f64>() {
            Ok(value) if number.len() > 10 => format!("{value:.8}{}", &word[number.len()..]),
            _ => word.to_string(),
        }
    });
    words.collect()
}

fn plays_as_it_should(demo: &Demo, outcome: Outcome, done: Done) {
    let folder = tempfile::tempdir().unwrap();
    let played = play(Work::Demo(demo), demo.script().unwrap(), folder.path());
    assert_eq!(played.ended.as_ref().unwrap(), &done);
    assert_eq!(played.contents().summary.unwrap().outcome, outcome);
    holds(&format!("{FOLDER}/{}/transcript.txt", demo.name), &played.transcript);
    let record = std::fs::read_to_string(&played.record).unwrap();
    holds(&format!("{FOLDER}/{}/record.toml", demo.name), &reviewable(&record));
}

fn named(name: &str) -> &'static Demo {
    DEMOS.iter().find(|demo| demo.name == name).unwrap()
}

#[test]
fn the_gritty_tank() {
    plays_as_it_should(named("gritty-tank"), Outcome::Completed, Done::Well);
}

#[test]
fn the_waterlogged_tank() {
    plays_as_it_should(named("waterlogged-tank"), Outcome::Failed, Done::Short);
}

#[test]
fn the_mountain_hut() {
    plays_as_it_should(named("mountain-hut"), Outcome::Completed, Done::Well);
}

#[test]
fn the_hill_cottage() {
    plays_as_it_should(named("hill-cottage"), Outcome::Completed, Done::Well);
}

#[test]
fn the_night_pump() {
    plays_as_it_should(named("night-pump"), Outcome::Completed, Done::Well);
}

#[test]
fn the_meadow_well() {
    plays_as_it_should(named("meadow-well"), Outcome::Completed, Done::Well);
}

#[test]
fn the_lake_cabin_in_autumn() {
    plays_as_it_should(named("lake-cabin"), Outcome::Completed, Done::Well);
}

#[test]
fn the_lake_cabin_in_spring() {
    plays_as_it_should(named("lake-cabin-spring"), Outcome::Completed, Done::Well);
}

#[test]
fn the_driveway_tank() {
    plays_as_it_should(named("driveway-tank"), Outcome::Completed, Done::Well);
}

#[test]
fn the_waterlogged_bargain() {
    plays_as_it_should(named("waterlogged-bargain"), Outcome::Failed, Done::Short);
}

#[test]
fn larch_street() {
    plays_as_it_should(named("larch-street"), Outcome::Completed, Done::Well);
}

#[test]
fn the_leaky_new_tank() {
    plays_as_it_should(named("leaky-new-tank"), Outcome::Failed, Done::Short);
}

#[test]
fn the_second_tank() {
    plays_as_it_should(named("second-tank"), Outcome::Completed, Done::Short);
}

#[test]
fn the_sick_twin() {
    plays_as_it_should(named("sick-twin"), Outcome::Unfinished, Done::Short);
}

#[test]
fn two_tanks_in_spring() {
    plays_as_it_should(named("two-tanks-spring"), Outcome::Completed, Done::Short);
}

#[test]
fn the_hidden_dead_tank() {
    plays_as_it_should(named("hidden-dead-tank"), Outcome::Failed, Done::Short);
}

#[test]
fn the_work_handed_over() {
    plays_as_it_should(named("handed-over"), Outcome::Completed, Done::Well);
}

#[test]
fn the_switch_set_too_high() {
    plays_as_it_should(named("over-set"), Outcome::Unfinished, Done::Short);
}

#[test]
fn the_weak_pump() {
    plays_as_it_should(named("weak-pump"), Outcome::Failed, Done::Short);
}

#[test]
fn the_quick_pump() {
    plays_as_it_should(named("quick-pump"), Outcome::Failed, Done::Short);
}

#[test]
fn the_flood_water() {
    plays_as_it_should(named("flood-water"), Outcome::Unfinished, Done::Short);
}

#[test]
fn the_frozen_corner() {
    plays_as_it_should(named("frozen-corner"), Outcome::Unfinished, Done::Short);
}

#[test]
fn the_cracked_pump() {
    plays_as_it_should(named("cracked-pump"), Outcome::Failed, Done::Short);
}

#[test]
fn two_tanks_left_as_shipped() {
    plays_as_it_should(named("left-as-shipped"), Outcome::Completed, Done::Short);
}

#[test]
fn records_keep_the_texts_they_were_made_with_and_their_seals_hold() {
    for demo in DEMOS {
        let folder = tempfile::tempdir().unwrap();
        let played = play(Work::Demo(demo), demo.script().unwrap(), folder.path());
        let bytes = std::fs::read(&played.record).unwrap();
        let contents = played.contents();
        let sound = Finding::Sound {
            entries: contents.last_number(),
            outcome: contents.summary.as_ref().map(|summary| summary.outcome),
        };
        assert_eq!(verify_bytes(&bytes), [sound], "{}", demo.name);
        assert!(contents.header.demo, "{}: its system file does not say that it is invented", demo.name);
        let mut roles = Vec::new();
        for text in &contents.header.texts {
            let original = match text.role {
                TextRole::System => std::fs::read_to_string(in_project(&text.name)).unwrap(),
                _ => SHIPPED.iter().find(|file| file.file == text.name).unwrap().text.to_string(),
            };
            assert_eq!(*text.text, original, "{}", text.name);
            let digest: String =
                Sha256::digest(original.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect();
            let line = format!("sha256 = \"{digest}\"\n");
            assert!(String::from_utf8_lossy(&bytes).contains(&line), "{}: no {line}", text.name);
            roles.push(text.role);
        }
        assert_eq!(roles.first(), Some(&TextRole::Procedure));
        assert_eq!(roles.last(), Some(&TextRole::System));
    }
}

#[test]
fn every_folder_is_a_demonstration_and_is_whole() {
    let mut names: Vec<String> = DEMOS.iter().map(|demo| demo.name.to_string()).collect();
    names.sort();
    assert_eq!(folders(FOLDER), names);
    let wanted = ["README.md", "answers.toml", "record.toml", "system.toml", "transcript.txt"];
    // While goldens are being written for the first time they are not all there.
    for name in names.iter().filter(|_| !blessing()) {
        let entries = std::fs::read_dir(in_project(FOLDER).join(name)).unwrap();
        let mut files: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        files.sort();
        assert_eq!(files, wanted, "{name}");
    }
}
