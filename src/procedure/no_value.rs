//! Why a name may have no value although it was answered.

use std::fmt;
use std::sync::Arc;

/// Why there may be no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum NoValue {
    /// For a reason that lies here, as a clause.
    Because(Arc<str>),
    /// The part that gives it is left out.
    LeftOut(Arc<str>),
    /// What a part is given under these names may have none; its user decides that.
    Given(Arc<[Arc<str>]>),
}

impl NoValue {
    /// What a part is given under a name.
    pub(super) fn given(name: &Arc<str>) -> NoValue {
        NoValue::Given(Arc::from([name.clone()]))
    }

    /// The names that a part is given, when that is why.
    pub(super) fn names(&self) -> &[Arc<str>] {
        match self {
            NoValue::Because(_) | NoValue::LeftOut(_) => &[],
            NoValue::Given(names) => names,
        }
    }

    /// Both reasons in one; one that lies here goes before those of the user.
    pub(super) fn and(self, other: NoValue) -> NoValue {
        match (self, other) {
            (NoValue::Given(a), NoValue::Given(b)) => {
                let more = b.iter().filter(|name| !a.contains(name));
                NoValue::Given(a.iter().chain(more).cloned().collect())
            }
            (own @ NoValue::LeftOut(_), _) | (_, own @ NoValue::LeftOut(_)) => own,
            (own @ NoValue::Because(_), _) | (_, own @ NoValue::Because(_)) => own,
        }
    }
}

impl fmt::Display for NoValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoValue::Because(why) => f.write_str(why),
            NoValue::LeftOut(part) => write!(f, "{part} is left out by this file"),
            NoValue::Given(_) => f.write_str("What the part is given may have no value"),
        }
    }
}
