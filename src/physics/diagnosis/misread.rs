//! Numbers may be misread: each density is mixed with a broad one.

use super::items::Item;

/// How likely a number is misread. Judgement.
const MISREAD: f64 = 0.04;
/// As good as never.
const NEVER: f64 = 1e-9;

/// The numbers whose densities are mixed: of all others any value is likely enough.
pub(super) const MISREADABLE: [Item; 5] =
    [Item::Precharge, Item::Drawdown, Item::RunTime, Item::Weighed, Item::Earlier];

/// Assumptions that every diagnosis is made under: any number may have been misread; every one was taken as
/// it was read.
pub(super) const ALL_OR_NONE: usize = 2;
/// The same, and beside them each of [`MISREADABLE`] alone.
pub(super) const EACH_ALONE: usize = ALL_OR_NONE + MISREADABLE.len();

/// A density under each of the first so many assumptions.
pub(super) type Assumed<const N: usize> = [f64; N];

/// The product of two.
pub(super) fn both<const N: usize>(a: Assumed<N>, b: Assumed<N>) -> Assumed<N> {
    std::array::from_fn(|at| a[at] * b[at])
}

/// The density of a number that, where it may have been misread, may be anything of a broad law.
#[inline]
pub(super) fn mixed<const N: usize>(item: Item, density: f64, broad: f64) -> Assumed<N> {
    let [may, was_not] = [MISREAD, NEVER].map(|share| (1.0 - share) * density + share * broad);
    std::array::from_fn(|at| match at.checked_sub(ALL_OR_NONE) {
        Some(alone) if MISREADABLE[alone] == item => may,
        None if at == 0 => may,
        Some(_) | None => was_not,
    })
}
