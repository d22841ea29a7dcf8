//! Reading what follows when it is not as a step says.

use super::checking::Checking;
use super::drafting::Drafting;
use super::otherwise::{Otherwise, StatesLeft};
use crate::document::Fields;
use crate::lang::RawTemplate;
use crate::source::Quoted;

/// What follows, unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftOtherwise {
    word: &'static str,
    label: Option<String>,
    says: RawTemplate,
    stops: bool,
    finding: Option<String>,
    brings: Vec<Quoted>,
    undoes: Vec<Quoted>,
}

/// Reads it: a text, or `{ again = … }` or `{ stop = … }`, each with `label` and `finding` if wanted; a stop
/// with the states that what it tells brings about and ends.
pub(super) fn draft(
    fields: &Fields<'_>,
    drafting: &Drafting<'_>,
    (key, word): (&str, &'static str),
) -> Option<DraftOtherwise> {
    if !fields.has(key) {
        return None;
    }
    if !fields.is_table(key) {
        let says = drafting.text(fields, key)?;
        let (label, finding, brings, undoes) = Default::default();
        return Some(DraftOtherwise { word, label, says, stops: false, finding, brings, undoes });
    }
    let table = fields.table(key)?;
    let stops = table.has("stop");
    table.only(if stops {
        &["stop", "label", "finding", "brings", "undoes"]
    } else {
        &["again", "label", "finding"]
    });
    if stops == table.has("again") {
        table.missing("stop", "what is told when the work ends there, or `again`, before it is asked again");
        return None;
    }
    let says = drafting.text(&table, if stops { "stop" } else { "again" })?;
    let [label, finding] = ["label", "finding"].map(|key| table.text(key).map(|text| text.text));
    let [brings, undoes] = ["brings", "undoes"].map(|key| table.texts(key));
    Some(DraftOtherwise { word, label, says, stops, finding, brings, undoes })
}

impl DraftOtherwise {
    /// Checks its text.
    pub fn check(&self, checking: &mut Checking<'_>) -> Option<Otherwise> {
        let (word, stops) = (self.word, self.stops);
        let (label, finding) = (self.label.clone(), self.finding.clone());
        let [brings, undoes] = [&self.brings, &self.undoes]
            .map(|names| checking.states(names).into_iter().map(|(name, _)| name).collect());
        let leaves = StatesLeft { brings, undoes };
        Some(Otherwise { word, label, says: checking.text(&self.says)?, stops, finding, leaves })
    }
}
