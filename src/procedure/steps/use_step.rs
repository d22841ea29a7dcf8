//! `use`: the steps of a shared part stand here.

use crate::document::Fields;
use crate::procedure::drafting::{DraftExpr, Drafting, check_id};
use crate::procedure::keys::{Takes, key};
use crate::procedure::verb::{DraftAction, DraftUse, Verb};
use crate::source::Quoted;

pub(super) const VERB: Verb = Verb {
    key: key("use", Takes::Part, "the part whose steps stand here, such as \"parts/drain\""),
    sentence: "the steps of a shared part stand here",
    keys: &[
        key(
            "as",
            Takes::Text,
            "what the part's ids are led by, when it is used twice; what begins with _ follows them",
        ),
        key(
            "with",
            Takes::Names(&Takes::Expression),
            "what the part is given, each under the name it takes it by",
        ),
    ],
    answered: false,
    draft: |fields, drafting| {
        let prefix = fields.text("as").filter(|prefix| {
            let id = prefix.text.strip_prefix('_').unwrap_or(&prefix.text);
            check_id(&Quoted { text: id.to_string(), ..prefix.clone() }, fields.walk())
        });
        Some(DraftAction::Part(DraftUse {
            name: fields.text("use")?,
            prefix: prefix.map(|prefix| prefix.text),
            with: with(fields, drafting),
            tells: fields.text("tells"),
        }))
    },
};

fn with(fields: &Fields<'_>, drafting: &Drafting<'_>) -> Vec<(Quoted, DraftExpr)> {
    let Some(table) = fields.table("with") else { return Vec::new() };
    let mut given: Vec<(Quoted, DraftExpr)> = table
        .keys()
        .filter_map(|(name, span)| {
            let key = Quoted { text: name.to_string(), span, source: table.source().clone() };
            Some((key, drafting.expr(&table, name)?))
        })
        .collect();
    given.sort_by_key(|(key, _)| key.span.start);
    given
}
