//! `use`: the steps of a shared part stand here.

use std::rc::Rc;

use super::{DraftAction, Verb};
use crate::document::Fields;
use crate::procedure::draft::{DraftExpr, Drafting, check_id};
use crate::procedure::naming::{Bound, Naming};
use crate::source::Quoted;

/// A part to be put in place.
#[derive(Clone, Debug)]
pub(in crate::procedure) struct DraftUse {
    /// The part's name, such as `parts/drain`.
    pub name: Quoted,
    /// What its own names are led by.
    pub prefix: Option<String>,
    /// What it is given, each under the name it takes it by.
    pub with: Vec<(Quoted, DraftExpr)>,
    /// The heading of the summary under which its answers stand, in place of its own.
    pub tells: Option<Quoted>,
    /// How the names of the file that uses it are known outside of that.
    naming: Option<Rc<Naming>>,
}

impl DraftUse {
    /// What a name of the using file stands for.
    pub fn here(&self, name: &str) -> Bound {
        let outside = self.naming.as_ref().and_then(|naming| naming.outside(name));
        outside.unwrap_or_else(|| Bound::Name(name.to_string()))
    }
}

pub(super) const VERB: Verb = Verb {
    word: "use",
    sentence: "the steps of a shared part stand here",
    keys: &["as", "with"],
    draft: |fields, drafting, _| {
        let prefix = fields.text("as").filter(|prefix| {
            let id = prefix.text.strip_prefix('_').unwrap_or(&prefix.text);
            check_id(&Quoted { text: id.to_string(), ..prefix.clone() }, fields.walk())
        });
        Some(DraftAction::Use(DraftUse {
            name: fields.text("use")?,
            prefix: led(prefix.map(|p| p.text), drafting),
            with: with(fields, drafting),
            tells: fields.text("tells"),
            naming: drafting.naming.cloned(),
        }))
    },
};

/// A prefix inside a part that has one itself comes before that.
fn led(prefix: Option<String>, drafting: &Drafting<'_>) -> Option<String> {
    let outer = drafting.naming.and_then(|naming| naming.prefix.clone());
    match (outer, prefix) {
        (Some(outer), Some(inner)) => Some(format!("{inner} {outer}")),
        (outer, inner) => outer.or(inner),
    }
}

fn with(fields: &Fields<'_>, drafting: &Drafting<'_>) -> Vec<(Quoted, DraftExpr)> {
    let Some(table) = fields.has("with").then(|| fields.table("with")).flatten() else { return Vec::new() };
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
