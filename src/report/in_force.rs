//! Which entries of a record still count.

use crate::record::{Entry, EntryKind, struck};

/// For each entry, whether it still counts: it was not replaced or taken back, and it does not
/// follow from an answer that was.
///
/// What the program worked out, checked or told after an answer stands or falls with it: when
/// the answer is taken back, everything derived between the two entries no longer counts. A
/// withdrawal itself never counts.
///
/// ```
/// use tankhand::clock::Moment;
/// use tankhand::record::{Entry, EntryKind};
/// use tankhand::report::in_force;
/// let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
/// let numbered = |n, kind, replaces| Entry { n, replaces, ..Entry::new(kind, "charge", at) };
/// let entries = [
///     numbered(1, EntryKind::Reading, None),
///     numbered(2, EntryKind::Checked, None),
///     numbered(3, EntryKind::Withdrawn, Some(1)),
///     numbered(4, EntryKind::Reading, Some(1)),
///     numbered(5, EntryKind::Checked, None),
/// ];
/// assert_eq!(in_force(&entries), [false, false, false, true, true]);
/// ```
pub fn in_force(entries: &[Entry]) -> Vec<bool> {
    let struck = struck(entries);
    let mut counts: Vec<bool> = entries
        .iter()
        .map(|entry| entry.kind != EntryKind::Withdrawn && !struck.contains_key(&entry.n))
        .collect();
    // From the last withdrawal backwards, so that each entry is looked at once.
    let mut taken_back_from = u64::MAX;
    for (entry, counts) in entries.iter().zip(&mut counts).rev() {
        if let (EntryKind::Withdrawn, Some(answer)) = (entry.kind, entry.replaces)
            && answer < entry.n
        {
            taken_back_from = taken_back_from.min(answer);
        }
        if entry.n > taken_back_from && entry.is_derived() {
            *counts = false;
        }
        if entry.n <= taken_back_from {
            taken_back_from = u64::MAX;
        }
    }
    counts
}
