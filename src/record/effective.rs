//! Which entries still count once later ones have replaced or taken back earlier ones.

use std::collections::BTreeMap;

use rustc_hash::FxHashSet;

use super::{Entry, EntryRole};

/// The numbers of the entries that no longer count, each with the number of the entry that
/// struck it last: one that names it in `replaces`, be it a new answer or a withdrawal.
///
/// Striking is final. To take back an amendment does not bring the earlier answer to life: the
/// question is open again. A `replaces` that names no earlier entry does nothing.
pub fn struck(entries: &[Entry]) -> BTreeMap<u64, u64> {
    let known: FxHashSet<u64> = entries.iter().map(|entry| entry.n).collect();
    let strikes = entries.iter().filter_map(|entry| Some((entry.replaces?, entry.n)));
    strikes.filter(|(old, new)| old < new && known.contains(old)).collect()
}

/// For each entry, whether it still counts: it was not replaced or taken back, and it does not
/// follow from an answer that was.
///
/// What the program worked out, checked or told after an answer stands or falls with it: when
/// the answer is taken back, everything derived between the two entries no longer counts. A
/// withdrawal itself never counts.
///
/// ```
/// use tankhand::clock::Moment;
/// use tankhand::record::{Entry, EntryKind, are_effective};
/// let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
/// let numbered = |n, kind, replaces| Entry { n, replaces, ..Entry::new(kind, "charge", at) };
/// let entries = [
///     numbered(1, EntryKind::Reading, None),
///     numbered(2, EntryKind::Checked, None),
///     numbered(3, EntryKind::Withdrawn, Some(1)),
///     numbered(4, EntryKind::Reading, Some(1)),
///     numbered(5, EntryKind::Checked, None),
/// ];
/// assert_eq!(are_effective(&entries), [false, false, false, true, true]);
/// ```
pub fn are_effective(entries: &[Entry]) -> Vec<bool> {
    let struck = struck(entries);
    let mut counts: Vec<bool> = entries
        .iter()
        .map(|entry| entry.kind.role() != EntryRole::Withdrawal && !struck.contains_key(&entry.n))
        .collect();
    // From the last withdrawal backwards, so that each entry is looked at once.
    let mut withdrawn_from = u64::MAX;
    for (entry, counts) in entries.iter().zip(&mut counts).rev() {
        withdrawn_from = entry.takes_back().unwrap_or(u64::MAX).min(withdrawn_from);
        if entry.n > withdrawn_from && entry.is_derived() {
            *counts = false;
        }
        if entry.n <= withdrawn_from {
            withdrawn_from = u64::MAX;
        }
    }
    counts
}

/// The entries [in effect](are_effective), in order.
///
/// ```
/// use tankhand::clock::Moment;
/// use tankhand::record::{Entry, EntryKind, effective_entries};
/// let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
/// let numbered = |n, kind, replaces| Entry { n, replaces, ..Entry::new(kind, "charge", at) };
/// let entries = [
///     numbered(1, EntryKind::Reading, None),
///     numbered(2, EntryKind::Withdrawn, Some(1)),
///     numbered(3, EntryKind::Reading, None),
/// ];
/// let left: Vec<u64> = effective_entries(&entries).map(|entry| entry.n).collect();
/// assert_eq!(left, [3]);
/// ```
pub fn effective_entries(entries: &[Entry]) -> impl Iterator<Item = &Entry> {
    entries.iter().zip(are_effective(entries)).filter(|(_, counts)| *counts).map(|(entry, _)| entry)
}
