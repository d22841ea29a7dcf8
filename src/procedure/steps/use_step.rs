//! `use`: the steps of a shared part stand here.

use crate::procedure::drafting::check_id;
use crate::procedure::keys::{Takes, key};
use crate::procedure::verb::{DraftAction, DraftUse, Verb};

pub(super) const VERB: Verb = Verb {
    key: key("use", Takes::Text, "the part whose steps stand here, such as \"parts/drain\""),
    sentence: "the steps of a shared part stand here",
    keys: &[key("as", Takes::Text, "what the part's ids are led by, when it is used twice")],
    answered: false,
    draft: |fields, _| {
        let prefix = fields.text("as").filter(|prefix| check_id(prefix, fields.walk()));
        Some(DraftAction::Part(DraftUse { name: fields.text("use")?, prefix: prefix.map(|p| p.text) }))
    },
};
