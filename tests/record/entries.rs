//! What entries are for a run, and which of them count.

use tankhand::record::{Entry, EntryKind, are_effective, struck};

use crate::samples::moment;

fn entry(kind: EntryKind) -> Entry {
    Entry::new(kind, "s", moment("2031-04-05T09:01:00-05:00"))
}

fn words(is: impl Fn(EntryKind) -> bool) -> Vec<&'static str> {
    EntryKind::all().filter(|kind| is(*kind)).map(EntryKind::word).collect()
}

#[test]
fn a_new_entry_has_no_number_yet() {
    assert_eq!(entry(EntryKind::Note).n, 0);
}

#[test]
fn kinds_are_answers_waits_and_asides() {
    assert_eq!(
        words(EntryKind::is_answer),
        ["fact", "done", "reading", "choice", "text", "waited", "not-so"]
    );
    assert_eq!(words(EntryKind::is_wait), ["wait-begun", "waited"]);
    assert_eq!(words(EntryKind::is_aside), ["note", "paused", "resumed"]);
}

/// A fact, or a step left out, follows from other entries where nobody was asked.
#[test]
fn what_nobody_was_asked_follows_from_the_rest() {
    assert_eq!(
        words(|kind| entry(kind).is_derived()),
        ["fact", "computed", "checked", "skipped", "stopped", "message", "finding"]
    );
    let asked = |kind| Entry { asked: Some("?".to_string()), ..entry(kind) };
    assert_eq!(
        words(|kind| asked(kind).is_derived()),
        ["computed", "checked", "stopped", "message", "finding"]
    );
}

#[test]
fn what_was_said_stands_before_what_would_decide() {
    let message = |said: Option<&str>, advice: Option<&str>| {
        let [said, advice] = [said, advice].map(|text| text.map(str::to_string));
        Entry { said, advice, ..entry(EntryKind::Checked) }.message()
    };
    let (said, advice) = ("Can't tell.", "Read again.");
    assert_eq!(message(Some(said), Some(advice)), Some("Can't tell. Read again.".to_string()));
    assert_eq!(message(Some(said), None), Some(said.to_string()));
    assert_eq!(message(None, Some(advice)), Some(advice.to_string()));
    assert_eq!(message(None, None), None);
}

/// Entries of these kinds, numbered from 1, each with the one it replaces.
fn numbered(all: &[(EntryKind, Option<u64>)]) -> Vec<Entry> {
    all.iter()
        .zip(1..)
        .map(|((kind, replaces), n)| Entry { n, replaces: *replaces, ..entry(*kind) })
        .collect()
}

/// Only an entry that stands before can be struck; the last that strikes it is told.
#[test]
fn an_entry_is_struck_by_a_later_one() {
    let all = [None, Some(1), Some(1), Some(4), Some(7), Some(0)].map(|of| (EntryKind::Reading, of));
    assert_eq!(struck(&numbered(&all)).into_iter().collect::<Vec<_>>(), [(1, 3)]);
}

/// The numbers of those that count.
fn counting(all: &[(EntryKind, Option<u64>)]) -> Vec<u64> {
    let entries = numbered(all);
    let counts = are_effective(&entries);
    entries.iter().zip(counts).filter(|(_, counts)| *counts).map(|(entry, _)| entry.n).collect()
}

#[test]
fn what_follows_from_an_answer_falls_with_it() {
    use EntryKind::{Checked, Computed, Note, Reading, Withdrawn};
    let begun = [(Computed, None), (Reading, None), (Checked, None), (Note, None), (Reading, None)];
    let with = |more: &[(EntryKind, Option<u64>)]| counting(&[&begun[..], more].concat());
    assert_eq!(with(&[]), [1, 2, 3, 4, 5]);
    assert_eq!(with(&[(Withdrawn, Some(5))]), [1, 2, 3, 4]);
    assert_eq!(with(&[(Withdrawn, Some(2))]), [1, 4, 5]);
    // Two taken back: from the earlier one on.
    assert_eq!(with(&[(Withdrawn, Some(5)), (Withdrawn, Some(2))]), [1, 4]);
    assert_eq!(with(&[(Withdrawn, Some(2)), (Withdrawn, Some(5))]), [1, 4]);
    // What was worked out afterwards counts.
    assert_eq!(with(&[(Withdrawn, Some(2)), (Checked, None)]), [1, 4, 5, 7]);
    // One that takes back nothing, or itself, or what is yet to come.
    for none in [None, Some(6), Some(7)] {
        assert_eq!(with(&[(Withdrawn, none), (Checked, None)]), [1, 2, 3, 4, 5, 7], "{none:?}");
    }
    // An amendment strikes the answer alone.
    assert_eq!(with(&[(Reading, Some(2))]), [1, 3, 4, 5, 6]);
    // An answer that is itself worked out.
    assert_eq!(with(&[(Withdrawn, Some(1))]), [2, 4, 5]);
}
