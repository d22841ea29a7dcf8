//! Which causes a procedure claims to test.

use super::cause::{Cause, CauseId, Group};
use super::causes::CAUSES;
use super::items::Item;

/// From which probability on something is said to be so.
pub const SURE: f64 = 0.95;
/// A cause less likely than that is not named.
pub(super) const LIKELY: f64 = 0.05;

/// The causes that a procedure claims to test, by what its steps try.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Claims(u32);

impl Claims {
    /// What can be said, or ruled out, by trying these things.
    pub fn by(items: &[Item]) -> Claims {
        let tested = CAUSES.iter().filter(|cause| cause.is_tested_by(&|item| items.contains(&item)));
        Claims(tested.map(|cause| 1 << cause.id as u32).sum())
    }

    /// What can be said by having tried these things, though it may be more than can be ruled out.
    pub fn shown_by(items: &[Item]) -> Claims {
        let shown = CAUSES.iter().filter(|cause| cause.is_shown_by(&|item| items.contains(&item)));
        Claims(shown.map(|cause| 1 << cause.id as u32).sum())
    }

    /// Whether a cause is among them. Healthy conditions never are.
    pub fn has(&self, cause: CauseId) -> bool {
        self.0 & (1 << cause as u32) != 0
    }

    /// The same without those of a group.
    pub fn without(&self, group: Group) -> Claims {
        let of_group: u32 = group.causes().iter().map(|cause| 1 << cause.id as u32).sum();
        Claims(self.0 & !of_group)
    }

    /// The same without one.
    pub(super) fn without_cause(&self, cause: CauseId) -> Claims {
        Claims(self.0 & !(1 << cause as u32))
    }

    /// Those that are among others too.
    pub fn also_in(&self, other: &Claims) -> Claims {
        Claims(self.0 & other.0)
    }

    /// The causes, in the order of the table.
    pub fn causes(&self) -> impl Iterator<Item = &'static Cause> {
        let claims = *self;
        CAUSES.iter().filter(move |cause| claims.has(cause.id))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cause_is_claimed_by_what_tells_it() {
        let yearly = Claims::by(&[Item::Precharge, Item::Starts, Item::Pin]);
        let names: Vec<&str> = yearly.causes().map(|cause| cause.name).collect();
        assert_eq!(
            names,
            [
                "precharge low",
                "precharge high",
                "waterlogged",
                "bladder torn",
                "tank's own valve shut",
                "cut-in is not what its label says",
                "nipple under the switch clogged",
            ]
        );
        assert_eq!(yearly.also_in(&Claims::by(&[Item::Zero])).causes().count(), 0);
    }
}
