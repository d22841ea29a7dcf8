//! A machine that fails at every moment: what was told to be safe is there afterwards.

use std::cell::RefCell;
use std::io;
use std::path::Path;
use std::rc::Rc;

use tankhand::record::{Contents, Recorder, Storage, Trouble, Verification, verify_bytes};

use crate::samples::{Memory, entries, header, record, summary};

/// What a storage was asked to do.
#[derive(Clone, Debug)]
enum Call {
    Append(Vec<u8>),
    Sync,
    Cut(usize),
}

/// Storage that notes every call, and refuses the one at `fails_at`.
#[derive(Clone, Debug, Default)]
struct Noting {
    calls: Rc<RefCell<Vec<Call>>>,
    fails_at: Option<usize>,
}

impl Noting {
    fn note(&self, call: Call) -> io::Result<()> {
        let mut calls = self.calls.borrow_mut();
        calls.push(call);
        match self.fails_at {
            Some(at) if at + 1 == calls.len() => Err(io::Error::other("no space left on the demo disk")),
            _ => Ok(()),
        }
    }
}

impl Storage for Noting {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.note(Call::Append(bytes.to_vec()))
    }
    fn sync(&mut self) -> io::Result<()> {
        self.note(Call::Sync)
    }
    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.note(Call::Cut(usize::try_from(length).unwrap()))
    }
}

/// Everything that may be on the disk when the power fails after these calls: what was synced,
/// and any beginning of what was not.
fn remains(start: &[u8], calls: &[Call]) -> Vec<Vec<u8>> {
    let (mut safe, mut loose) = (start.to_vec(), Vec::new());
    for call in calls {
        match call {
            Call::Append(bytes) => loose.extend_from_slice(bytes),
            Call::Sync => safe.append(&mut loose),
            Call::Cut(length) => safe.truncate(*length),
        }
    }
    (0..=loose.len()).map(|kept| [&safe[..], &loose[..kept]].concat()).collect()
}

/// Checks that what remains goes on, and holds at least `safe` and at most all entries.
fn goes_on(bytes: &[u8], safe: usize) {
    let memory = Memory::holding(bytes);
    let (_, contents, _) = Recorder::resume(memory.clone(), Path::new("crash.toml"), bytes).unwrap();
    let kept = contents.entries.len();
    assert!(kept >= safe, "{kept} entries of {safe} safe ones");
    assert_eq!(contents.entries, entries()[..kept]);
    assert_eq!(verify_bytes(&memory.bytes()), [Verification::Sound { entries: kept as u64, outcome: None }]);
}

#[test]
fn what_was_told_safe_outlives_a_crash_at_any_call() {
    let storage = Noting::default();
    let mut recorder = Recorder::begin(storage.clone(), Path::new("crash.toml"), &header()).unwrap();
    let calls = || storage.calls.borrow().len();
    let mut safe_after = vec![(calls(), 0)];
    for batch in [0..1, 1..4, 4..5, 5..19] {
        recorder.append(&entries()[batch.clone()]).unwrap();
        safe_after.push((calls(), batch.end));
    }
    let all = storage.calls.borrow().clone();
    assert_eq!(all.len(), 10, "one write and one sync each");
    for crash in safe_after[0].0..=all.len() {
        let safe = safe_after.iter().rev().find(|(calls, _)| *calls <= crash).unwrap().1;
        for bytes in remains(&[], &all[..crash]) {
            goes_on(&bytes, safe);
        }
    }
}

#[test]
fn a_crash_while_a_torn_tail_is_cut_does_no_harm() {
    let whole = record(&header(), &entries(), None);
    let torn = &whole[..whole.len() - 30];
    let storage = Noting::default();
    let (mut recorder, contents, _) =
        Recorder::resume(storage.clone(), Path::new("crash.toml"), torn).unwrap();
    assert_eq!(contents.entries.len(), 18);
    recorder.append(&entries()[18..]).unwrap();
    let calls = storage.calls.borrow().clone();
    for crash in 0..=calls.len() {
        for bytes in remains(torn, &calls[..crash]) {
            goes_on(&bytes, if crash == calls.len() { 19 } else { 18 });
        }
    }
}

#[test]
fn after_a_failure_nothing_more_is_written_and_the_rest_is_told() {
    for (fails_at, doing, kept) in [(2, "write", 0), (3, "sync", 0), (4, "write", 1), (5, "sync", 1)] {
        let storage = Noting { fails_at: Some(fails_at), ..Noting::default() };
        let mut recorder = Recorder::begin(storage.clone(), Path::new("crash.toml"), &header()).unwrap();
        for entry in &entries()[..kept] {
            recorder.append(std::slice::from_ref(entry)).unwrap();
        }
        let fault = recorder.append(&entries()[kept..3]).unwrap_err();
        let n = if kept == 1 { "1 entry" } else { "0 entries" };
        assert_eq!(
            fault.to_string(),
            format!(
                "crash.toml: could not {doing} the latest entries: no space left on the demo disk\n  \
                 why: {n} safe in the record; what came later may be missing\n  \
                 what to do: make room on the disk, then resume the run from its record"
            )
        );
        let before = storage.calls.borrow().len();
        let closed = Trouble::Closed { kept: kept as u64 };
        assert_eq!(recorder.append(&entries()[kept..3]).unwrap_err().trouble, closed);
        assert_eq!(recorder.finish(&summary()).unwrap_err().trouble, closed);
        assert_eq!(storage.calls.borrow().len(), before, "nothing more is tried");
        for bytes in remains(&[], &storage.calls.borrow()) {
            goes_on(&bytes, kept);
        }
    }
}

#[test]
fn a_head_that_cannot_be_written_is_no_record() {
    for fails_at in [0, 1] {
        let storage = Noting { fails_at: Some(fails_at), ..Noting::default() };
        let fault = Recorder::begin(storage, Path::new("crash.toml"), &header()).unwrap_err();
        assert!(matches!(fault.trouble, Trouble::Io { doing: "make", .. }));
    }
}

#[test]
fn the_finished_record_outlives_a_crash() {
    let storage = Noting::default();
    let mut recorder = Recorder::begin(storage.clone(), Path::new("crash.toml"), &header()).unwrap();
    recorder.append(&entries()).unwrap();
    recorder.finish(&summary()).unwrap();
    let calls = storage.calls.borrow().clone();
    for bytes in remains(&[], &calls) {
        assert_eq!(Contents::from_bytes(&bytes).unwrap().summary, Some(summary()));
    }
}
