//! Numbers may be misread: each density is mixed with a broad one.

use super::items::Item;

/// How likely a number is misread. Judgement.
const MISREAD: f64 = 0.04;
/// As good as never.
const NEVER: f64 = 1e-9;

/// A density twice: misreading allowed for, and every number taken as it was read.
pub(super) type Twice = [f64; 2];

/// The product of two.
pub(super) fn both(a: Twice, b: Twice) -> Twice {
    [a[0] * b[0], a[1] * b[1]]
}

/// Which numbers may have been misread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Misread {
    /// Each.
    Any,
    /// This one alone.
    Only(Item),
}

impl Misread {
    /// The density of a number that may have been misread, and then be anything of a broad law.
    pub fn mixed(self, item: Item, density: f64, broad: f64) -> Twice {
        let share = match self {
            Misread::Any => MISREAD,
            Misread::Only(one) if one == item => MISREAD,
            Misread::Only(_) => NEVER,
        };
        [share, NEVER].map(|share| (1.0 - share) * density + share * broad)
    }
}
