//! What no text may say without the words that make it safe, wherever it stands.

use std::fs;

use tankhand::procedure::SHIPPED;
use toml::Value;

use crate::golden::in_project;

/// A text with these words says one of those too.
struct Phrase {
    with: &'static [&'static str],
    says: &'static [&'static str],
}

const fn phrase(with: &'static [&'static str], says: &'static [&'static str]) -> Phrase {
    Phrase { with, says }
}

/// Held sentence by sentence.
static SENTENCES: &[Phrase] = &[
    phrase(&["touch a wire", "touch wires"], &["never", "do not", "no "]),
    phrase(&["dig under"], &["never"]),
    phrase(&["antifreeze"], &["never"]),
];

/// Held text by text.
static TEXTS: &[Phrase] = &[
    phrase(
        &[
            "change its core",
            "change the valve core",
            "new valve core",
            "change the core",
            "tighten the core",
        ],
        &["all air", "all the air", "what will repairs cost"],
    ),
    phrase(&["screw the core tighter"], &["all the air"]),
    phrase(
        &["lift the lever", "lift its lever"],
        &["heater", "new valve at hand", "a new relief valve", "do not lift"],
    ),
    phrase(&["unscrew the aerators"], &["drain valve"]),
    phrase(&["frozen", "thaw", "stuck thread"], &["no flame", "never with a flame", "no fuel"]),
    phrase(&["lost in a year", "second look"], &["{3 psi}"]),
    phrase(
        &["trips often", "trips soon after"],
        &["{3 psi} to {5 psi} lower", "2.5 times", "its precharge is too high"],
    ),
    phrase(&["above the plate limit, {tank_limit}: the tank may burst"], &["{air_now}", "{found}"]),
];

/// Every string of a file, those inside tables too.
fn strings(value: &Value, into: &mut Vec<String>) {
    match value {
        Value::String(text) => into.push(text.clone()),
        Value::Array(values) => values.iter().for_each(|value| strings(value, into)),
        Value::Table(table) => table.values().for_each(|value| strings(value, into)),
        Value::Integer(_) | Value::Float(_) | Value::Boolean(_) | Value::Datetime(_) => {}
    }
}

/// Every text of every shipped file, in small letters.
fn said() -> Vec<(&'static str, String)> {
    let mut all = Vec::new();
    for file in SHIPPED {
        let mut texts = Vec::new();
        strings(&Value::Table(file.text.parse().unwrap()), &mut texts);
        all.extend(texts.into_iter().map(|text| (file.name, text.to_lowercase())));
    }
    all
}

fn breaks(phrase: &Phrase, text: &str) -> bool {
    let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
    has(phrase.with) && !has(phrase.says)
}

#[test]
fn dangerous_words_never_stand_without_the_careful_ones() {
    let said = said();
    let mut broken: Vec<String> = Vec::new();
    for (name, text) in &said {
        let sentences = text.split_inclusive(['.', '?', '!', ';']);
        let in_sentences = |row: &Phrase| sentences.clone().any(|sentence| breaks(row, sentence));
        let wrong = SENTENCES.iter().any(in_sentences) || TEXTS.iter().any(|row| breaks(row, text));
        broken.extend(wrong.then(|| format!("{name}: {text}")));
    }
    assert!(broken.is_empty(), "{broken:#?}");
    let held = |row: &Phrase| said.iter().any(|(_, text)| row.with.iter().any(|word| text.contains(word)));
    let idle: Vec<&[&str]> = TEXTS.iter().filter(|row| !held(row)).map(|row| row.with).collect();
    assert!(idle.is_empty(), "nothing says {idle:?}");
}

/// A word typed too often is not meant any more.
#[test]
fn a_word_for_a_warning_is_typed_seven_times_in_a_run_at_most() {
    let mut most = 0;
    for folder in fs::read_dir(in_project("transcripts-demo")).unwrap() {
        let path = folder.unwrap().path();
        let text = fs::read_to_string(path.join("transcript.txt")).unwrap();
        let typed = text.matches("  type understood to go on > understood\n").count();
        assert!(typed <= 7, "{}: {typed}", path.display());
        most = most.max(typed);
    }
    assert!(most > 4, "no more than {most} were typed: were they found?");
}
