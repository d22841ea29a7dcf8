//! The demonstrations: their transcripts and records, line for line.

use sha2::{Digest, Sha256};
use tankhand::app::{DEMOS, Done, Library};
use tankhand::procedure::SHIPPED;
use tankhand::record::{Contents, Outcome, TextRole, Verification, verify_bytes};
use tankhand::source::SourceText;

use crate::golden::{blessing, folders, holds, in_project};
use crate::stage::{demo, played};

const FOLDER: &str = "transcripts-demo";

/// The demonstration whose record is kept whole, as an example of the format. It is a short one,
/// and nothing in it is worked out whose last digits differ between machines.
const WHOLE: &str = "flood-water";

/// The file that holds what the record of a demonstration must be.
fn record_file(name: &str) -> &'static str {
    if name == WHOLE { "record.toml" } else { "entries.txt" }
}

/// Whether a value of an entry or of the result is worded by the procedure: questions, but for the
/// formula of a check, and what was told, but for where a fact is from. Such words are left out
/// where a record is compared, so that a sentence of a procedure may be changed;
/// `the_words_of_records_are_those_seen` holds them.
fn worded(table: &toml::Table, key: &str) -> bool {
    match key {
        "asked" => table["kind"].as_str() != Some("checked"),
        "said" => table["kind"].as_str() != Some("fact"),
        _ => key == "words",
    }
}

/// The entries of a record, one a line, between its head and its result; without seals and the
/// procedure's words.
fn listed(record: &str) -> String {
    let mut head: toml::Table = record.parse().unwrap();
    let told = take_entries(&mut head);
    head.retain(|key, _| key != "text" && key != "sealed");
    let mut lines: Vec<String> = head.iter().map(|(key, value)| format!("{key} = {value}")).collect();
    lines.extend(told.iter().map(line));
    lines.join("\n") + "\n"
}

/// Takes the entries and the result out of a record.
fn take_entries(record: &mut toml::Table) -> Vec<toml::Table> {
    let entries = record.remove("entry").unwrap();
    let tables = entries.as_array().unwrap().iter().cloned().chain(record.remove("result"));
    tables.map(|table| table.as_table().unwrap().clone()).collect()
}

/// An entry or the result on one line, beginning with what it is.
fn line(table: &toml::Table) -> String {
    let (first, rest): (Vec<_>, Vec<_>) =
        table.iter().partition(|(key, _)| ["n", "kind", "step", "outcome"].contains(&key.as_str()));
    let mut first: Vec<String> =
        first.into_iter().map(|(_, value)| value.to_string().replace('"', "")).collect();
    // The number, which is the second in the alphabet, leads.
    if first.len() > 1 {
        first.swap(0, 1);
    }
    let rest = rest.into_iter().filter(|(key, _)| *key != "seal" && !worded(table, key));
    let rest: Vec<String> = rest.map(|(key, value)| format!("{key} = {}", rounded(value))).collect();
    format!("{}: {}", first.join(" "), rest.join(", "))
}

/// A value with its long numbers rounded: the last digits of a power or a logarithm are not the
/// same on every machine.
fn rounded(value: &toml::Value) -> String {
    match value {
        toml::Value::Float(number) => {
            let text = number.to_string();
            if text.len() > 10 { format!("{number:.8}") } else { text }
        }
        toml::Value::String(text) => format!("{text:?}"),
        toml::Value::Table(table) => {
            let parts: Vec<String> =
                table.iter().map(|(key, value)| format!("{key} {}", rounded(value))).collect();
            format!("({})", parts.join(", "))
        }
        other => other.to_string(),
    }
}

fn plays_as_it_should(name: &str, outcome: Outcome, done: Done) {
    let played = played(demo(name));
    assert_eq!(played.done, done);
    assert_eq!(played.contents().summary.unwrap().outcome, outcome);
    holds(&format!("{FOLDER}/{name}/transcript.txt"), &played.transcript);
    let record = if name == WHOLE { played.record.clone() } else { listed(&played.record) };
    holds(&format!("{FOLDER}/{name}/{}", record_file(name)), &record);
}

/// A test for each demonstration: how the record and the program end.
macro_rules! play {
    ($($test:ident: $name:literal, $outcome:ident, $done:ident;)*) => {
        $(#[test]
        fn $test() {
            plays_as_it_should($name, Outcome::$outcome, Done::$done);
        })*

        #[test]
        fn every_demonstration_is_played() {
            let known: Vec<&str> = DEMOS.iter().map(|demo| demo.name).collect();
            let mut played = vec![$($name),*];
            played.sort_by_key(|name| known.iter().position(|other| other == name));
            assert_eq!(played, known);
        }
    };
}

play! {
    the_gritty_tank: "gritty-tank", Completed, Well;
    the_waterlogged_tank: "waterlogged-tank", Failed, Short;
    the_mountain_hut: "mountain-hut", Completed, Well;
    the_yard_spigot: "yard-spigot", Completed, Well;
    the_jumping_needle: "jumping-needle", Unfinished, Short;
    the_hill_cottage: "hill-cottage", Completed, Well;
    the_night_pump: "night-pump", Completed, Short;
    the_meadow_well: "meadow-well", Completed, Well;
    the_lake_cabin_in_autumn: "lake-cabin", Completed, Well;
    the_lake_cabin_in_spring: "lake-cabin-spring", Completed, Short;
    the_driveway_tank: "driveway-tank", Completed, Well;
    the_waterlogged_bargain: "waterlogged-bargain", Failed, Short;
    larch_street: "larch-street", Completed, Well;
    the_leaky_new_tank: "leaky-new-tank", Failed, Short;
    the_clover_rise: "clover-rise", Completed, Well;
    a_valve_before_the_relief_valve: "valve-before-relief", Unfinished, Short;
    the_second_tank: "second-tank", Completed, Short;
    the_sick_twin: "sick-twin", Unfinished, Short;
    two_tanks_in_spring: "two-tanks-spring", Completed, Well;
    the_hidden_dead_tank: "hidden-dead-tank", Failed, Short;
    the_work_handed_over: "handed-over", Completed, Well;
    the_switch_set_too_high: "over-set", Unfinished, Short;
    the_weak_pump: "weak-pump", Failed, Short;
    the_quick_pump: "quick-pump", Failed, Short;
    the_flood_water: "flood-water", Unfinished, Short;
    the_frozen_corner: "frozen-corner", Unfinished, Short;
    the_cracked_pump: "cracked-pump", Failed, Short;
    a_check_in_spring: "spring-check", Completed, Well;
    two_tanks_of_which_one_is_torn: "low-again", Failed, Short;
    the_fading_shower: "fading-shower", Completed, Well;
    the_stuck_switch: "stuck-switch", Completed, Short;
    the_running_toilet: "running-toilet", Completed, Well;
    back_to_the_well: "back-to-the-well", Completed, Short;
    days_to_wait: "days-to-wait", Completed, Short;
    a_tank_guessed_dead: "guessed-dead", Unfinished, Short;
    the_old_galvanized_tank: "old-galvanized", Completed, Well;
    a_tank_with_two_ports: "two-ports", Unfinished, Short;
    the_cottage_jet: "cottage-jet", Completed, Well;
    the_foot_valve: "foot-valve", Unfinished, Short;
    two_tanks_left_as_shipped: "left-as-shipped", Completed, Short;
}

/// Checks that a record keeps the texts it was made with, and that they load again.
fn keeps_its_texts(contents: &Contents, record: &str) {
    let texts = &contents.header.texts;
    for text in texts {
        let original = match text.role {
            TextRole::System => std::fs::read_to_string(in_project(&text.name)).unwrap(),
            _ => SHIPPED.iter().find(|file| file.file == text.name).unwrap().text.to_string(),
        };
        assert_eq!(*text.text, original, "{}", text.name);
        let digest: String =
            Sha256::digest(original.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect();
        let line = format!("sha256 = \"{digest}\"\n");
        assert!(record.contains(&line), "{}: no {line}", text.name);
    }
    let roles: Vec<TextRole> = texts.iter().map(|text| text.role).collect();
    let (first, last) = (roles.first(), roles.last());
    assert_eq!((first, last), (Some(&TextRole::Procedure), Some(&TextRole::System)));
    let source = SourceText::new(texts[0].name.as_str(), texts[0].text.clone());
    if let Err(faults) = Library::of_record(texts).load_source(&source) {
        panic!("{}: {}", texts[0].name, faults[0].heading());
    }
}

#[test]
fn records_keep_the_texts_they_were_made_with_and_their_seals_hold() {
    for demo in DEMOS {
        let played = played(demo);
        let contents = played.contents();
        let sound = Verification::Sound {
            entries: contents.last_number(),
            outcome: contents.summary.as_ref().map(|summary| summary.outcome),
        };
        assert_eq!(verify_bytes(played.record.as_bytes()), [sound], "{}", demo.name);
        assert!(contents.header.demo, "{}: its system file does not say that it is invented", demo.name);
        keeps_its_texts(&contents, &played.record);
    }
}

/// What was asked and told, as the record has it, is what the person saw.
#[test]
fn the_words_of_records_are_those_seen() {
    let squeezed = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    for demo in DEMOS {
        let played = played(demo);
        let seen = squeezed(&played.transcript);
        for table in take_entries(&mut played.record.parse().unwrap()) {
            for (_, words) in table.iter().filter(|(key, _)| worded(&table, key)) {
                let words = squeezed(words.as_str().unwrap());
                assert!(seen.contains(&words), "{}: {words}", demo.name);
            }
        }
    }
}

#[test]
fn every_folder_is_a_demonstration_and_is_whole() {
    let mut names: Vec<String> = DEMOS.iter().map(|demo| demo.name.to_string()).collect();
    names.sort();
    assert_eq!(folders(FOLDER), names);
    // While goldens are being written for the first time they are not all there.
    for name in names.iter().filter(|_| !blessing()) {
        let entries = std::fs::read_dir(in_project(FOLDER).join(name)).unwrap();
        let mut files: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        // The installation whose readings these are stands beside many.
        files.retain(|file| file != "plant.toml");
        files.sort();
        let mut wanted = ["README.md", "answers.toml", record_file(name), "system.toml", "transcript.txt"];
        wanted.sort_unstable();
        assert_eq!(files, wanted, "{name}");
    }
}
