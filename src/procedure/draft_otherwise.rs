//! Reading what follows when it is not as a step says.

use super::checking::Checking;
use super::drafting::Drafting;
use super::otherwise::Otherwise;
use crate::document::Fields;
use crate::lang::RawTemplate;

/// What follows, unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftOtherwise {
    word: &'static str,
    label: Option<String>,
    says: RawTemplate,
    stops: bool,
    finding: Option<String>,
}

/// Reads it: a text, or `{ again = … }` or `{ stop = … }`, each with `label` and `finding` if wanted.
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
        return Some(DraftOtherwise { word, label: None, says, stops: false, finding: None });
    }
    let table = fields.table(key)?;
    table.only(&["again", "stop", "label", "finding"]);
    let stops = table.has("stop");
    if stops == table.has("again") {
        table.missing("stop", "what is told when the work ends there, or `again`, before it is asked again");
        return None;
    }
    let says = drafting.text(&table, if stops { "stop" } else { "again" })?;
    let [label, finding] = ["label", "finding"].map(|key| table.text(key).map(|text| text.text));
    Some(DraftOtherwise { word, label, says, stops, finding })
}

impl DraftOtherwise {
    /// Checks its text.
    pub fn check(&self, checking: &mut Checking<'_>) -> Option<Otherwise> {
        let (word, stops) = (self.word, self.stops);
        let (label, finding) = (self.label.clone(), self.finding.clone());
        Some(Otherwise { word, label, says: checking.text(&self.says)?, stops, finding })
    }
}
