//! Where a name comes from that is not known where it stands.

use crate::source::Fault;

/// Where a name that is not known comes from.
pub(super) struct NameOrigin {
    /// In a sentence.
    pub comes_from: String,
    /// What all names have in common that are missing for the same reason.
    pub cause: String,
    /// What to do to have it.
    pub remedy: String,
}

/// A fault about a name that is not known: one for all places, with where it comes from.
pub(super) fn missing_name(fault: Fault, origin: Option<NameOrigin>, name: &str) -> Fault {
    match origin {
        Some(NameOrigin { comes_from, cause, remedy }) => {
            let unset = fault.code == "not-given";
            let bind =
                fault.remedy.clone().filter(|_| unset).map_or(String::new(), |bind| format!(", or {bind}"));
            fault.why(comes_from).remedy(format!("{remedy}{bind}")).cause(cause)
        }
        None => fault.cause(format!("name {name}")),
    }
}
