//! What is whole in a damaged record is saved, and what is missing is said.

use std::fs;
use std::path::Path;

use proptest::prelude::*;
use tankhand::record::{
    Contents, Entry, Header, Mended, Recorder, Trouble, Verification, mend, read, verify,
};

use crate::samples::{Memory, entries, header, record, sealed, summary};

/// How many bytes the line of a seal has.
const SEAL_LINE: usize = 74;

/// The record of whole parts, and what is missing from it.
fn mended(bytes: &[u8]) -> Result<(Contents, Mended), Trouble> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("20310405-0901-flush.toml");
    fs::write(&path, bytes).unwrap();
    let (new, mended, _) = mend(&path).map_err(|fault| fault.trouble)?;
    assert_eq!(new, folder.path().join("20310405-0901-flush-mended.toml"));
    assert_eq!(fs::read(&path).unwrap(), bytes);
    let contents = read(&new).unwrap();
    assert_eq!(contents.header.mended.as_ref(), Some(&mended));
    let counted = contents.entries.len() as u64;
    let outcome = contents.summary.as_ref().map(|summary| summary.outcome);
    assert_eq!(verify(&new).unwrap(), [Verification::Sound { entries: counted, outcome }]);
    Ok((contents, mended))
}

fn whole() -> String {
    String::from_utf8(record(&header(), &entries(), Some(&summary()))).unwrap()
}

fn lost(numbers: &[u64], head: bool) -> Mended {
    Mended { from: header().id, lost: numbers.to_vec(), head }
}

/// The entries but those of these numbers.
fn without(numbers: &[u64]) -> Vec<Entry> {
    entries().into_iter().filter(|entry| !numbers.contains(&entry.n)).collect()
}

#[test]
fn what_editors_do_to_line_ends_loses_nothing() {
    let crlf = whole().replace('\n', "\r\n");
    for text in [format!("\u{feff}{}", whole()), crlf.clone(), format!("\u{feff}{crlf}")] {
        let (contents, missing) = mended(text.as_bytes()).unwrap();
        assert_eq!(missing, lost(&[], false));
        let Header { id, mended, .. } = contents.header.clone();
        assert_eq!(contents.header, Header { id, mended, ..header() });
        assert_eq!((contents.entries, contents.summary), (entries(), Some(summary())));
    }
}

#[test]
fn damage_costs_the_entries_it_is_in_and_no_others() {
    let edit = |from: &str, to: &str| whole().replacen(from, to, 1);
    let seal_of_three = |text: &str| {
        let at = text.find("n = 4\n").unwrap() - "\n[[entry]]\n".len();
        at - 4
    };
    let digit = {
        let (mut text, at) = (whole(), seal_of_three(&whole()));
        let other = if text.as_bytes()[at] == b'0' { "1" } else { "0" };
        text.replace_range(at..=at, other);
        text
    };
    let no_seal = {
        let (mut text, at) = (whole(), whole().find("\n[[entry]]\nn = 4\n").unwrap() - SEAL_LINE);
        text.replace_range(at..=at, "S");
        text
    };
    let table: [(String, &[u64]); 7] = [
        (edit("value = 38.0", "value = 39.0"), &[3]),
        (edit("value = 38.0", "value = 39.0").replace("n = 9\n", "n = 8\n"), &[3, 9]),
        // The next seal vouches for the entry whose own seal was damaged.
        (digit, &[]),
        (no_seal, &[]),
        (edit("[[entry]]\nn = 2\n", "[[entry]]\n\0n\0=\0"), &[2]),
        // What is missing right before the result is told too.
        (edit("step-19", "step-91"), &[19]),
        (edit("step-19", "step-91").replace("step-18", "step-81"), &[18, 19]),
    ];
    for (text, numbers) in table {
        let (contents, missing) = mended(text.as_bytes()).unwrap();
        assert_eq!(missing, lost(numbers, false));
        assert_eq!((contents.entries, contents.summary), (without(numbers), Some(summary())));
    }
    let (contents, missing) = mended(edit("do not use the tank", "gladly use it").as_bytes()).unwrap();
    assert_eq!((missing, contents.entries, contents.summary), (lost(&[], false), entries(), None));
}

/// Where no entry and no result follows, it is the damaged ones themselves that tell how many are missing.
#[test]
fn damage_to_the_last_entries_of_an_open_record_is_told() {
    let open = String::from_utf8(record(&header(), &entries()[..4], None)).unwrap();
    let last = open.replace("step-4", "step-7");
    for (text, whole, numbers) in
        [(last.clone(), 3, &[4][..]), (last.replace("step-3", "step-8"), 2, &[3, 4])]
    {
        let (contents, missing) = mended(text.as_bytes()).unwrap();
        assert_eq!((contents.entries, missing), (entries()[..whole].to_vec(), lost(numbers, false)));
    }
}

/// The blocks of a record, without the lines of their seals.
fn blocks(bytes: &[u8]) -> Vec<Vec<u8>> {
    let text = String::from_utf8(bytes.to_vec()).unwrap();
    let (mut all, mut block) = (Vec::new(), String::new());
    for line in text.split_inclusive('\n') {
        match line.len() == SEAL_LINE && line.starts_with("seal = ") {
            true => all.push(std::mem::take(&mut block).into_bytes()),
            false => block.push_str(line),
        }
    }
    all
}

/// What stands behind the result is none of the run's; damaged, it counts as an entry that is missing.
#[test]
fn what_stands_behind_the_result_is_told_as_missing() {
    let mut all = blocks(&record(&header(), &entries()[..2], Some(&summary())));
    all.push(blocks(&record(&header(), &entries()[..3], None)).remove(3));
    let bytes = sealed(&all.iter().map(Vec::as_slice).collect::<Vec<_>>());
    let text = String::from_utf8(bytes).unwrap().replace("value = 38.0", "value = 39.0");
    let (contents, missing) = mended(text.as_bytes()).unwrap();
    assert_eq!((contents.entries, missing), (entries()[..2].to_vec(), lost(&[3], false)));
    assert_eq!(contents.summary, Some(summary()));
}

/// The numbers of the entries that are kept, of those of a later version, and of what is missing.
type Kept<'t> = (&'t [u64], &'t [u64], &'t [u64]);

/// Entries of kinds unknown here are saved as they are; of two with one number the first counts.
#[test]
fn entries_of_a_later_version_are_saved_in_their_order() {
    let known =
        |n: u64| format!("\n[[entry]]\nn = {n}\nkind = \"note\"\nstep = \"s\"\nat = 2031-04-05T09:02:00Z\n");
    let foreign = |n: u64| format!("\n[[entry]]\nn = {n}\nkind = \"photographed\"\nframe = 7\n");
    let head = blocks(&record(&header(), &[], None)).remove(0);
    let table: [(Vec<String>, &str, Kept<'_>); 6] = [
        (vec![known(1), foreign(2), known(3)], "n = 1\n", (&[3], &[2], &[1])),
        (vec![known(1), foreign(2), known(3)], "n = 2\n", (&[1, 3], &[], &[2])),
        (vec![known(1), known(1)], "", (&[1], &[], &[2])),
        (vec![foreign(1), foreign(1)], "", (&[], &[1], &[2])),
        (vec![known(1), foreign(2), known(1)], "", (&[1], &[2], &[3])),
        (vec![known(1), known(2), foreign(1)], "", (&[1, 2], &[], &[3])),
    ];
    for (entries, damaged, expected) in table {
        let all: Vec<&[u8]> =
            std::iter::once(head.as_slice()).chain(entries.iter().map(String::as_bytes)).collect();
        let mut text = String::from_utf8(sealed(&all)).unwrap();
        if !damaged.is_empty() {
            text = text.replacen(damaged, &format!("{damaged}moon = 1\n"), 1);
        }
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("it.toml");
        fs::write(&path, text).unwrap();
        let (new, missing, _) = mend(&path).unwrap();
        let contents = read(&new).unwrap();
        let kept: Vec<u64> = contents.entries.iter().map(|entry| entry.n).collect();
        let later: Vec<u64> = contents.foreign.iter().map(|entry| entry.n).collect();
        assert_eq!((&kept[..], &later[..], &missing.lost[..]), expected, "{entries:?}");
    }
}

/// Of a damaged head every line and every text that can be read by itself is kept.
#[test]
fn of_a_head_there_is_what_can_be_read() {
    let text = whole().replace("title = \"Flush the", "tit\0le = \"Flush the").replace("Power", "Powder");
    let (contents, missing) = mended(text.as_bytes()).unwrap();
    assert_eq!((missing, contents.entries), (lost(&[], true), entries()));
    let kept = header().texts;
    let expected = Header {
        id: "20310405-0901-flush-mended".to_string(),
        title: "not known".to_string(),
        mended: Some(lost(&[], true)),
        texts: vec![kept[0].clone(), kept[2].clone()],
        ..header()
    };
    assert_eq!(contents.header, expected);
}

/// When the run began is told by the head itself where no entry is left to tell it.
#[test]
fn of_a_head_without_entries_there_is_what_can_be_read() {
    let text = String::from_utf8(record(&header(), &entries()[..1], Some(&summary()))).unwrap();
    let text = text.replace("title = \"Flush the", "tit\0le = \"Flush the").replace("step-1", "step-7");
    let (contents, missing) = mended(text.as_bytes()).unwrap();
    assert_eq!(
        (missing, contents.entries, contents.summary),
        (lost(&[1], true), Vec::new(), Some(summary()))
    );
    assert_eq!((contents.header.title.as_str(), contents.header.started), ("not known", header().started));
}

/// A mended record that does not speak of its head has the whole of it.
#[test]
fn a_head_is_lost_only_where_that_is_told() {
    let head = |mended: &str| {
        let head = String::from_utf8(blocks(&record(&header(), &[], None)).remove(0)).unwrap();
        let head = head.replacen("units = ", &format!("mended = \"it\"\nlost = [2]\n{mended}units = "), 1);
        Contents::from_bytes(&sealed(&[head.as_bytes()])).unwrap().header.mended.unwrap()
    };
    assert_eq!(head(""), Mended { from: "it".to_string(), lost: vec![2], head: false });
    assert_eq!(head("head_lost = true\n"), Mended { from: "it".to_string(), lost: vec![2], head: true });
}

/// What was mended before is named; where another file has that name, the new one has a name of its own.
#[test]
fn a_record_is_mended_once() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("it.toml");
    let named = |name: &str| folder.path().join(format!("20310405-0901-flush-{name}.toml"));
    fs::write(&path, whole().replace("value = 38.0", "value = 39.0")).unwrap();
    fs::write(named("mended"), "my notes").unwrap();
    assert_eq!(mend(&path).unwrap().0, named("mended-2"));
    let fault = mend(&path).unwrap_err();
    assert_eq!(fault, Trouble::MendedBefore { before: named("mended-2") }.at(&path));
    assert_eq!(fs::read(named("mended")).unwrap(), b"my notes");
}

/// What was cut off at the end is told, whether anything else is missing or not.
#[test]
fn an_end_that_was_cut_off_is_told() {
    let open = String::from_utf8(record(&header(), &entries()[..4], None)).unwrap();
    let torn = &open[..open.len() - 90];
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("it.toml");
    fs::write(&path, torn).unwrap();
    let line = torn[..torn.find("n = 4\n").unwrap()].matches('\n').count();
    let message = |bytes| {
        format!(
            "the last entry was cut off while it was written ({bytes} bytes from line {line}); it was about `step-4`"
        )
    };
    let length = torn.len() - torn.find("\n[[entry]]\nn = 4\n").unwrap();
    let trouble = mend(&path).unwrap_err().trouble;
    assert_eq!(trouble, Trouble::OnlyTorn { line, message: message(length) });
    fs::write(&path, torn.replace("value = 38.0", "value = 39.0")).unwrap();
    let (_, missing, tail) = mend(&path).unwrap();
    assert_eq!((missing, tail.unwrap().message()), (lost(&[3], false), message(length)));
}

#[test]
fn what_cannot_be_mended_is_said() {
    assert_eq!(mended(whole().as_bytes()), Err(Trouble::NothingToMend));
    assert_eq!(mended(&whole().as_bytes()[..300]), Err(Trouble::NothingWhole));
    assert_eq!(mended(b"turn the valve slowly"), Err(Trouble::OnlyNamed));
    assert_eq!(mended(b""), Err(Trouble::Empty));
    let later = whole().replace("format = 1\n", "format = 2\n");
    assert_eq!(mended(later.as_bytes()), Err(Trouble::Newer { format: 2 }));
}

#[test]
fn a_run_goes_on_from_a_mended_record_only_when_nothing_is_missing() {
    let open = String::from_utf8(record(&header(), &entries()[..4], None)).unwrap();
    let resumed = |text: &str| {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("it.toml");
        fs::write(&path, text).unwrap();
        let bytes = fs::read(mend(&path).unwrap().0).unwrap();
        Recorder::resume(Memory::holding(&bytes), Path::new("it.toml"), &bytes)
            .map(|(recorder, _, _)| recorder.next_number())
            .map_err(|fault| fault.trouble)
    };
    assert_eq!(resumed(&open.replace('\n', "\r\n")), Ok(5));
    assert_eq!(resumed(&open.replace("value = 38.0", "value = 39.0")), Err(Trouble::Incomplete));
}

proptest! {
    /// Whatever is overwritten, every entry that stands elsewhere is saved as it was.
    #[test]
    fn what_damage_did_not_touch_is_saved(
        at in any::<proptest::sample::Index>(),
        instead in proptest::collection::vec(any::<u8>(), 1..40),
    ) {
        let mut bytes = whole().into_bytes();
        let from = at.index(bytes.len() - instead.len());
        bytes[from..from + instead.len()].copy_from_slice(&instead);
        prop_assume!(bytes != whole().as_bytes());
        let to = from + instead.len();
        let ends: Vec<usize> = (0..=entries().len()).map(|n| record(&header(), &entries()[..n], None).len()).collect();
        let begins = |n: usize| if n == 0 { 0 } else { ends[n - 1] };
        // A seal's line that is destroyed joins its block to the next one.
        let near = |n: usize| from < ends[n] && begins(n - 1) < to;
        match mended(&bytes) {
            Ok((contents, _)) => {
                let untouched = entries().into_iter().zip(1..).filter(|(_, n)| !near(*n)).map(|(entry, _)| entry);
                for entry in untouched {
                    prop_assert!(contents.entries.contains(&entry), "entry {} is lost", entry.n);
                }
                prop_assert!(contents.entries.iter().all(|entry| entries().contains(entry)));
            }
            Err(Trouble::OnlyTorn { .. }) => prop_assert!(from >= ends[entries().len()]),
            Err(trouble) => prop_assert!(from < ends[0], "{trouble}"),
        }
    }
}
