//! The causes: what may be wrong with a well system, and what is right with it.
//!
//! Each stands in one of five groups, which are independent of one another: the tank, the switch, the
//! pump, what is measured with, and leaks. In each group one cause holds, the healthy one most often.
//! Priors are judgements: how often each is met by an owner who begins to look.

use super::cause::{Cause, CauseId, Group, Weight};
use super::causes_beside::BESIDE;
use super::causes_of_tank::OF_TANK;

const COUNT: usize = OF_TANK.len() + BESIDE.len();

/// Every cause, in the order of [`CauseId`], those of a group together and its healthy one first.
pub static CAUSES: [Cause; COUNT] = {
    let mut all = [OF_TANK[0]; COUNT];
    let mut at = 0;
    while at < COUNT {
        all[at] = if at < OF_TANK.len() { OF_TANK[at] } else { BESIDE[at - OF_TANK.len()] };
        at += 1;
    }
    all
};

/// How many causes a group of [`BESIDE`] has; what is told of each is a table of that length, so that a new
/// cause does not compile before it has its row there.
pub(super) const fn count(group: Group) -> usize {
    let (mut count, mut at) = (0, 0);
    while at < BESIDE.len() {
        if BESIDE[at].group as usize == group as usize {
            count += 1;
        }
        at += 1;
    }
    count
}

impl Group {
    /// Its causes, the healthy one first.
    pub fn causes(self) -> &'static [Cause] {
        let first = CAUSES.iter().position(|cause| cause.group == self).unwrap_or(0);
        let count = CAUSES.iter().filter(|cause| cause.group == self).count();
        &CAUSES[first..first + count]
    }

    /// The priors of its causes; they sum to 1.
    pub(super) fn priors<const N: usize>(self) -> [f64; N] {
        let mut priors = [0.0; N];
        let whole: f64 = self.causes().iter().map(|cause| cause.prior).sum();
        for (prior, cause) in priors.iter_mut().zip(self.causes()) {
            *prior = cause.prior / whole;
        }
        priors
    }
}

impl CauseId {
    /// Its row of the table.
    pub fn cause(self) -> &'static Cause {
        &CAUSES[self as usize]
    }

    /// Its place in its group.
    pub fn place(self) -> usize {
        CAUSES[..self as usize].iter().filter(|cause| cause.group == self.cause().group).count()
    }

    /// Whether it is the healthy one of its group.
    pub fn is_healthy(self) -> bool {
        self.cause().weight == Weight::Fine
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_stands_in_the_order_of_its_ids_and_its_priors_fill_each_group() {
        for (at, cause) in CAUSES.iter().enumerate() {
            assert_eq!(cause.id as usize, at, "{}", cause.name);
            assert_eq!(cause.tested_by.is_empty(), cause.id.is_healthy(), "{}", cause.name);
            assert_eq!(cause.remedy.is_empty(), cause.id.is_healthy(), "{}", cause.name);
            assert!(CAUSES[..at].iter().all(|other| other.name != cause.name), "{}", cause.name);
        }
        for group in Group::ALL {
            assert!(
                group.causes()[0].id.is_healthy() && group.causes()[1..].iter().all(|it| !it.id.is_healthy())
            );
            let whole: f64 = group.causes().iter().map(|cause| cause.prior).sum();
            assert!((whole - 1.0).abs() < 0.011, "{group:?}: {whole}");
        }
    }
}
