//! Which records are meant: by tank, procedure, outcome and day.

use std::collections::BTreeSet;

use clap::builder::PossibleValuesParser;

use crate::clock::Day;
use crate::record::{Glance, Outcome};
use crate::report::outcome_word;
use crate::words::{counted, did_you_mean};

/// What the records meant have in common; what is left out does not matter.
#[derive(Debug, Default, clap::Args)]
pub struct RecordFilter {
    /// Only of this tank.
    #[arg(long, value_name = "ID")]
    pub tank: Option<String>,
    /// Only of this procedure.
    #[arg(long, value_name = "NAME")]
    pub procedure: Option<String>,
    /// Only runs that ended so.
    #[arg(long, value_name = "WORDS", value_parser = PossibleValuesParser::new(outcome_words()))]
    pub outcome: Option<String>,
    /// Only runs begun on this day or later, such as 2031-04-05.
    #[arg(long, value_name = "DATE")]
    pub since: Option<Day>,
    /// Only runs begun on this day or earlier.
    #[arg(long, value_name = "DATE")]
    pub until: Option<Day>,
}

/// The words that lists show for the ends of runs.
fn outcome_words() -> [&'static str; 4] {
    [Some(Outcome::Completed), Some(Outcome::Failed), Some(Outcome::Unfinished), None].map(outcome_word)
}

impl RecordFilter {
    /// Whether that record is meant.
    pub fn takes(&self, glance: &Glance) -> bool {
        let day = glance.started.day();
        self.tank.as_ref().is_none_or(|tank| glance.tanks.contains(tank))
            && self.procedure.as_ref().is_none_or(|procedure| glance.procedure == *procedure)
            && self.outcome.as_ref().is_none_or(|outcome| outcome_word(glance.outcome) == outcome)
            && self.since.is_none_or(|since| since <= day)
            && self.until.is_none_or(|until| day <= until)
    }

    /// Says that none of these is meant, and what might have been.
    pub(super) fn none_among(&self, known: &KnownWords) -> String {
        let hint = |word: &Option<String>, known: &BTreeSet<String>, of: &str| {
            let word = word.as_ref().filter(|word| !known.contains(*word))?;
            if known.is_empty() {
                return Some(format!("No record names a {of}."));
            }
            let remedy = did_you_mean(word, known);
            Some(format!("There is no {of} `{}` in them: {remedy}", word.escape_debug()))
        };
        let hints =
            [hint(&self.tank, &known.tanks, "tank"), hint(&self.procedure, &known.procedures, "procedure")];
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
    pub(super) fn note(&mut self, glance: &Glance) {
        self.records += 1;
        self.tanks.extend(glance.tanks.iter().cloned());
        self.procedures.insert(glance.procedure.clone());
    }
}
