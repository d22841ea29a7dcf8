//! Which entries still count once later ones have replaced or taken back earlier ones.

use std::collections::BTreeMap;

use super::{Entry, EntryKind};

/// The numbers of the entries that no longer count, each with the number of the entry that
/// struck it last: one that names it in `replaces`, be it a new answer or a withdrawal.
///
/// Striking is final. To take back an amendment does not bring the earlier answer to life: the
/// question is open again. A `replaces` that names no earlier entry does nothing.
pub fn struck(entries: &[Entry]) -> BTreeMap<u64, u64> {
    let strikes = entries.iter().filter_map(|entry| Some((entry.replaces?, entry.n)));
    let known = |n: u64| entries.iter().any(|entry| entry.n == n);
    strikes.filter(|(old, new)| old < new && known(*old)).collect()
}

/// The entries in force: none that was struck, and no withdrawal, in order.
///
/// ```
/// use tankhand::clock::Moment;
/// use tankhand::record::{Entry, EntryKind, effective};
/// let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
/// let numbered = |n, kind, replaces| Entry { n, replaces, ..Entry::new(kind, "charge", at) };
/// let entries = [
///     numbered(1, EntryKind::Reading, None),
///     numbered(2, EntryKind::Withdrawn, Some(1)),
///     numbered(3, EntryKind::Reading, None),
/// ];
/// let left: Vec<u64> = effective(&entries).map(|entry| entry.n).collect();
/// assert_eq!(left, [3]);
/// ```
pub fn effective(entries: &[Entry]) -> impl Iterator<Item = &Entry> {
    let struck = struck(entries);
    entries.iter().filter(move |entry| entry.kind != EntryKind::Withdrawn && !struck.contains_key(&entry.n))
}
