//! Reading what follows when it is not as a step says.

use super::checking::Checking;
use super::drafting::Drafting;
use super::keys::{AGAIN_KEYS, STOP_KEYS, names};
use super::otherwise::{Otherwise, StatesLeft};
use crate::document::Fields;
use crate::lang::RawTemplate;

/// What follows, as what is still to be done with it: to be checked.
pub(super) type DraftOtherwise = Box<dyn Fn(&mut Checking<'_>) -> Option<Otherwise>>;

/// Reads it: a text, or `{ again = … }` or `{ stop = … }`, each with `label` and `finding` if wanted; a stop
/// with the states that what it tells brings about and ends.
pub(super) fn draft(
    fields: &Fields<'_>,
    drafting: &Drafting<'_>,
    (key, word): (&str, &'static str),
) -> Option<DraftOtherwise> {
    let table = fields.is_table(key).then(|| fields.table(key)).flatten();
    let (says, stops) = match &table {
        None => (drafting.text(fields, key)?, false),
        Some(table) => in_table(table, drafting)?,
    };
    let [label, finding] = ["label", "finding"].map(|key| Some(table.as_ref()?.text(key)?.text));
    let [brings, undoes] =
        ["brings", "undoes"].map(|key| table.as_ref().map_or_else(Vec::new, |table| table.texts(key)));
    Some(Box::new(move |checking| {
        let leaves = StatesLeft { brings: checking.states(&brings), undoes: checking.states(&undoes) };
        let (label, finding) = (label.clone(), finding.clone());
        Some(Otherwise { word, label, says: checking.text(&says)?, stops, finding, leaves })
    }))
}

/// What a table says, and whether the work ends then.
fn in_table(table: &Fields<'_>, drafting: &Drafting<'_>) -> Option<(RawTemplate, bool)> {
    let stops = table.has("stop");
    table.only(&names(if stops { STOP_KEYS } else { AGAIN_KEYS }));
    if stops == table.has("again") {
        table.missing("stop", "what is told when the work ends there, or `again`, before it is asked again");
        return None;
    }
    Some((drafting.text(table, if stops { "stop" } else { "again" })?, stops))
}
