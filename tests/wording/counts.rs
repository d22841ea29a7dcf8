//! How the procedures read, counted: a table to hold a change of words against.

use std::fmt::Write as _;

use crate::grade::{Count, grade, longest_sentence};
use crate::stand_ins::stand_in;
use crate::texts::{Spoken, procedures, spoken, without_holes};
use crate::{HARDEST_TEXT, MOST_WORDS, golden, whole_sentences};

/// The keys whose texts stand before an answer.
const BEFORE_AN_ANSWER: &[&str] = &["do", "ask", "see"];

/// What one procedure says, its parts in place.
struct Reading {
    words: usize,
    grade: f64,
    long_sentences: usize,
    hard_texts: usize,
    stand_ins: usize,
    known: usize,
    median: usize,
}

impl Reading {
    fn of(texts: &[Spoken]) -> Reading {
        let read: Vec<String> = texts.iter().filter(whole_sentences).map(|text| spoken(&text.text)).collect();
        let count: Count = read.iter().map(|text| Count::of(text)).sum();
        let hard = |text: &&String| Count::of(text).words >= 15 && grade(&Count::of(text)) > HARDEST_TEXT;
        let is_known = |word: &str| word.trim_matches(|c: char| !c.is_alphabetic()) == "known";
        let plain = || texts.iter().map(|text| without_holes(&text.text));
        let mut lengths: Vec<usize> = texts
            .iter()
            .filter(|text| BEFORE_AN_ANSWER.contains(&text.key.as_str()))
            .map(|text| text.text.chars().count())
            .collect();
        lengths.sort_unstable();
        Reading {
            words: count.words,
            grade: grade(&count),
            long_sentences: read.iter().filter(|text| longest_sentence(text) > MOST_WORDS).count(),
            hard_texts: read.iter().filter(hard).count(),
            stand_ins: plain().filter(|text| stand_in(text).is_some()).count(),
            known: plain().map(|text| text.split_whitespace().filter(|word| is_known(word)).count()).sum(),
            median: lengths.get(lengths.len() / 2).copied().unwrap_or_default(),
        }
    }
}

/// The table is made by `TANKHAND_BLESS=1 cargo test --test wording counts`.
#[test]
fn how_the_procedures_read_is_known() {
    let mut table = format!(
        "{:14} {:>6} {:>6} {:>10} {:>6} {:>10} {:>6} {:>7}\n",
        "procedure", "words", "grade", "over 20", "hard", "stand-ins", "known", "median"
    );
    for (name, texts) in procedures() {
        let it = Reading::of(&texts);
        let (hard, median) = (it.hard_texts, it.median);
        writeln!(
            table,
            "{name:14} {:>6} {:>6.1} {:>10} {hard:>6} {:>10} {:>6} {median:>7}",
            it.words, it.grade, it.long_sentences, it.stand_ins, it.known
        )
        .unwrap();
    }
    table.push_str(
        "\ngrade: school grade at which it reads with ease; over 20: texts with a sentence of more words; hard: texts over the grade of one text;\n\
         stand-ins: texts that say a term of the trade otherwise; known: that word, read by a person; median: characters of an instruction, a question or a check.\n",
    );
    golden::holds("tests/wording/counts.txt", &table);
}
