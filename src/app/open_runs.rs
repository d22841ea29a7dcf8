//! Runs that were left and wait, and which of them a word means.

use super::failure::Failure;
use super::home::Home;
use crate::record::{Glance, list};
use crate::words::all_begin;

/// Every run that waits, the newest first.
pub(super) fn open_runs(home: &Home) -> Result<Vec<Glance>, Failure> {
    let all = list(&home.records())?.records.into_iter();
    Ok(all.filter(|glance| glance.outcome.is_none()).collect())
}

/// Those that a word means: the run's name or its beginning, its procedure, its tank, words of its title.
pub(super) fn meant<'g>(word: &str, open: &'g [Glance]) -> Vec<&'g Glance> {
    let exact: Vec<&Glance> = open.iter().filter(|glance| glance.procedure == word).collect();
    if !exact.is_empty() {
        return exact;
    }
    open.iter()
        .filter(|glance| all_begin(word, &description(glance)) || glance.id.starts_with(word))
        .collect()
}

/// What a word is looked for in.
fn description(glance: &Glance) -> String {
    format!("{} {} {} {}", glance.procedure, glance.title, glance.tanks.join(" "), glance.id)
}
