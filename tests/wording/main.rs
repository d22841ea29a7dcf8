//! Whether a tired person can read what the shipped procedures say.
//!
//! For every procedure, its parts in place: the reading grade, the length of each text, numbers
//! that would not follow the household's units, and words of the trade at their first use.

#![allow(clippy::unwrap_used)]

mod counts;
#[path = "../support/golden.rs"]
mod golden;
mod grade;
mod stand_ins;
mod texts;

use grade::{Count, grade, longest_sentence};
use stand_ins::stand_in;
use tankhand::words::ORDERS;
use texts::{Spoken, procedures, spoken, without_holes};

/// Reading age about 12 to 13, as the grade counts it.
const HARDEST: f64 = 8.0;
/// The hardest that a single text of some length may be.
const HARDEST_TEXT: f64 = 12.0;
/// The most words in one sentence. A colon ends one too: what follows it is read by itself.
const MOST_WORDS: usize = 20;
/// The most words in one text.
const LONGEST: usize = 60;

/// Units that the household may not have.
const UNITS: &[&str] = &[
    "psi", "bar", "kPa", "gal", "gallon", "gallons", "ft", "feet", "inch", "inches", "°F", "degF", "°C", "lb",
];

/// Headings and the labels of choices are no sentences, and would make a text look easier.
fn whole_sentences(text: &&Spoken) -> bool {
    text.text.trim_end_matches(['`', ')']).ends_with(['.', '?', '!'])
}

#[test]
fn every_procedure_can_be_read_at_twelve() {
    let mut too_hard = Vec::new();
    for (name, texts) in procedures() {
        let texts: Vec<&Spoken> = texts.iter().filter(whole_sentences).collect();
        let count: Count = texts.iter().map(|text| Count::of(&spoken(&text.text))).sum();
        let grade = grade(&count);
        println!("{name:15} grade {grade:.1}, {} words in {} texts", count.words, texts.len());
        if grade > HARDEST {
            too_hard.push(format!("{name}: grade {grade:.1}"));
        }
    }
    assert!(too_hard.is_empty(), "harder than grade {HARDEST}: {too_hard:?}");
}

#[test]
fn no_single_text_is_hard() {
    let hard = objections(|text| {
        let count = Count::of(&spoken(&text.text));
        let grade = grade(&count);
        (count.words >= 15 && grade > HARDEST_TEXT).then(|| format!("grade {grade:.1}"))
    });
    assert_eq!(hard, Vec::<String>::new());
}

/// What stands in any text of any procedure, told once.
fn objections(objection: impl Fn(&Spoken) -> Option<String>) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for (name, texts) in procedures() {
        for text in &texts {
            if let Some(why) = objection(text) {
                told.push(format!("{name}, {} of {}: {why}", text.key, text.step));
            }
        }
    }
    told.sort();
    told.dedup_by_key(|line| line.split_once(", ").map(|(_, rest)| rest.to_string()));
    told
}

#[test]
fn no_text_is_longer_than_it_may_be() {
    let long = objections(|text| {
        let words = Count::of(&spoken(&text.text)).words;
        (words > LONGEST).then(|| format!("{words} words"))
    });
    assert_eq!(long, Vec::<String>::new());
}

#[test]
fn no_sentence_is_longer_than_it_may_be() {
    let long = objections(|text| {
        let words = longest_sentence(&spoken(&text.text));
        (words > MOST_WORDS).then(|| format!("a sentence of {words} words"))
    });
    assert_eq!(long, Vec::<String>::new());
}

#[test]
fn numbers_follow_the_household_s_units() {
    let fixed = objections(|text| {
        let plain = without_holes(&text.text);
        let words: Vec<&str> = plain.split_whitespace().collect();
        let unit = |word: &str| UNITS.contains(&word.trim_matches(|c: char| !c.is_alphabetic() && c != '°'));
        let number = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
        let joined = |word: &&str| {
            number(word) && unit(word.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.'))
        };
        let apart = words.windows(2).find(|pair| number(pair[0]) && unit(pair[1]));
        let found = words.iter().find(|word| joined(word)).map(ToString::to_string);
        found.or_else(|| apart.map(|pair| pair.join(" ")))
    });
    assert_eq!(fixed, Vec::<String>::new());
}

#[test]
fn terms_are_called_by_their_names() {
    let found = objections(|text| {
        let (not, say) = stand_in(&without_holes(&text.text))?;
        Some(format!("`{not}`: say {say}"))
    });
    assert_eq!(found, Vec::<String>::new());
}

/// At a prompt these words are orders, so an answer that is one of them cannot be given.
#[test]
fn no_choice_is_named_like_an_order() {
    let clashes = objections(|text| {
        (text.key == "choice" && ORDERS.contains(&text.text.as_str())).then(|| text.text.clone())
    });
    assert_eq!(clashes, Vec::<String>::new());
}

/// Ids in holes are not words of a text.
#[test]
fn holes_are_left_out() {
    assert_eq!(without_holes("Add {gulp}, {target in bar} of air"), "Add , of air");
    assert_eq!(spoken("Add {gulp}."), "Add number.");
}
