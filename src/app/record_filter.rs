//! Which records are meant: by tank, procedure, outcome and day.

use std::collections::BTreeSet;

use crate::clock::Day;
use crate::record::Glance;
use crate::report::outcome_word;
use crate::words::{counted, did_you_mean};

/// What the records meant have in common; what is left out does not matter.
#[derive(Clone, Copy, Debug, Default)]
pub struct RecordFilter<'a> {
    /// The tank's id.
    pub tank: Option<&'a str>,
    /// The procedure's name.
    pub procedure: Option<&'a str>,
    /// How the run ended, in the word that lists show.
    pub outcome: Option<&'a str>,
    /// The first day on which it may have begun.
    pub since: Option<Day>,
    /// The last day on which it may have begun.
    pub until: Option<Day>,
}

impl RecordFilter<'_> {
    /// Whether that record is meant.
    pub fn takes(&self, glance: &Glance) -> bool {
        let day = glance.started.day();
        self.tank.is_none_or(|tank| glance.tanks.iter().any(|one| one == tank))
            && self.procedure.is_none_or(|procedure| glance.procedure == procedure)
            && self.outcome.is_none_or(|outcome| outcome_word(glance.outcome) == outcome)
            && self.since.is_none_or(|since| since <= day)
            && self.until.is_none_or(|until| day <= until)
    }

    /// Says that none of these is meant, and what might have been.
    pub(super) fn none_among(&self, known: &KnownWords) -> String {
        let hint = |word: Option<&str>, known: &BTreeSet<String>, of: &str| {
            let word = word.filter(|word| !known.contains(*word))?;
            let known: Vec<&str> = known.iter().map(String::as_str).collect();
            Some(match known.as_slice() {
                [] => format!("No record names a {of}."),
                _ => {
                    let remedy = did_you_mean(word, &known);
                    format!("There is no {of} `{}` in them: {remedy}", word.escape_debug())
                }
            })
        };
        let hints =
            [hint(self.tank, &known.tanks, "tank"), hint(self.procedure, &known.procedures, "procedure")];
        let mut said = vec![format!("None of {} fits.", counted(known.records, "record"))];
        said.extend(hints.into_iter().flatten());
        said.join(" ")
    }
}

/// The words that records have for what they can be asked for by.
#[derive(Debug, Default)]
pub(super) struct KnownWords {
    tanks: BTreeSet<String>,
    procedures: BTreeSet<String>,
    records: usize,
}

impl KnownWords {
    pub fn note(&mut self, glance: &Glance) {
        self.records += 1;
        self.tanks.extend(glance.tanks.iter().cloned());
        self.procedures.insert(glance.procedure.clone());
    }
}
