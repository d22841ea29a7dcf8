//! Which facts of the shipped files are taken from the system file, for the page that tells of its keys.

use std::sync::LazyLock;

use super::shipped::{SHIPPED, part_name};
use crate::document::Fields;

/// A fact that is asked where the system file does not say it.
#[derive(Clone, Debug)]
pub struct AskedFact {
    /// The key of the system file that it is taken from, such as `switch.cut_in`.
    pub from: String,
    /// What an empty answer means, as written; nothing where it must be answered.
    pub usual: Option<String>,
    /// Whether `not known` is an answer.
    pub unknown: bool,
    /// The file that asks it, without its folder.
    pub file: &'static str,
}

static ASKED: LazyLock<Vec<AskedFact>> = LazyLock::new(|| {
    let mut asked = Vec::new();
    for file in SHIPPED {
        let fact = |fields: &Fields<'_>| {
            Some(AskedFact {
                from: fields.text("from")?.text,
                usual: fields.text("usual").map(|usual| usual.text),
                unknown: fields.flag("unknown"),
                file: part_name(file.name),
            })
        };
        let facts = file.read(|root| root.tables("fact").iter().filter_map(fact).collect::<Vec<_>>());
        asked.extend(facts.into_iter().flatten());
    }
    asked
});

/// The shipped facts that are taken from a key of the system file.
pub fn asked_facts(key: &str) -> Vec<&'static AskedFact> {
    ASKED.iter().filter(|fact| fact.from == key).collect()
}
