//! Records cut at any byte and spoiled at any byte.

use std::path::Path;

use proptest::prelude::*;
use tankhand::record::{
    Contents, Edit, Header, Mended, Recorder, Section, TornTail, Trouble, Verification, verify_bytes,
};

use crate::samples::{Memory, entries, header, record, summary};

/// How many bytes the record has after its head and after each entry.
fn ends() -> Vec<usize> {
    let entries = entries();
    (0..=entries.len()).map(|n| record(&header(), &entries[..n], None).len()).collect()
}

#[test]
fn a_record_cut_anywhere_goes_on_from_its_last_whole_entry() {
    let (whole, ends) = (record(&header(), &entries(), None), ends());
    for cut in 0..=whole.len() {
        let bytes = &whole[..cut];
        let memory = Memory::holding(bytes);
        let resumed = Recorder::resume(memory.clone(), Path::new("cut.toml"), bytes);
        let Some(kept) = ends.iter().rposition(|end| *end <= cut) else {
            let trouble = resumed.unwrap_err().trouble;
            assert!(
                matches!(trouble, Trouble::Empty | Trouble::NotARecord | Trouble::HeadTorn),
                "cut at {cut}: {trouble:?}"
            );
            continue;
        };
        let (mut recorder, contents, torn) = resumed.unwrap();
        assert_eq!(contents.entries, entries()[..kept], "cut at {cut}");
        assert_eq!(torn.map_or(0, |tail| tail.length), (cut - ends[kept]) as u64);
        assert_eq!(memory.bytes(), whole[..ends[kept]]);
        recorder.append(&entries()[kept..]).unwrap();
        assert_eq!(memory.bytes(), whole, "cut at {cut}");
    }
}

#[test]
fn a_cut_result_leaves_the_run_open() {
    let open = record(&header(), &entries(), None);
    let whole = record(&header(), &entries(), Some(&summary()));
    for cut in open.len()..whole.len() {
        let memory = Memory::holding(&whole[..cut]);
        let (mut recorder, _, _) =
            Recorder::resume(memory.clone(), Path::new("cut.toml"), &whole[..cut]).unwrap();
        recorder.finish(&summary()).unwrap();
        assert_eq!(memory.bytes(), whole);
    }
    let fault = Recorder::resume(Memory::holding(&whole), Path::new("done.toml"), &whole).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "done.toml: this run has ended (failed)\n  why: a finished record is never added to\n  \
         what to do: begin a new run"
    );
}

#[test]
fn a_torn_tail_is_told_with_what_can_be_read_of_it() {
    let whole = record(&header(), &entries(), None);
    let start = ends()[2];
    let upto = |mark: &[u8]| start + whole[start..].windows(mark.len()).position(|w| w == mark).unwrap();
    let cut = upto(b"value");
    let tail = Contents::from_bytes(&whole[..cut]).unwrap().torn.unwrap();
    let expected = TornTail {
        offset: start as u64,
        line: whole[..start].iter().filter(|byte| **byte == b'\n').count() + 2,
        added: false,
        length: (cut - start) as u64,
        text: String::from_utf8(whole[start..cut].to_vec()).unwrap(),
        step: Some("step-3".to_string()),
        given: Some("38 psi\n(after a tap on the glass)".to_string()),
    };
    assert_eq!(tail, expected);
    assert_eq!(
        tail.message(),
        format!(
            "the last entry was cut off while it was written ({} bytes from line {}); \
             the answer to `step-3` in it was \"38 psi\\n(after a tap on the glass)\"",
            tail.length, tail.line
        )
    );
    let early = Contents::from_bytes(&whole[..start + 4]).unwrap().torn.unwrap();
    assert_eq!((early.text.as_str(), early.step, early.given), ("\n[[e", None, None));
}

#[test]
fn what_someone_added_at_the_end_is_left_alone_and_told() {
    let bytes = [&record(&header(), &entries(), None)[..], b"# I like this tank.\n"].concat();
    let line = bytes.iter().filter(|byte| **byte == b'\n').count();
    let memory = Memory::holding(&bytes);
    let fault = Recorder::resume(memory.clone(), Path::new("r.toml"), &bytes).unwrap_err();
    assert_eq!(
        fault.to_string(),
        format!(
            "r.toml:{line}: 20 bytes were added to the end of the record\n  \
             why: they have no seal, and are not the beginning of an entry\n  \
             what to do: take them out with a text editor, then go on"
        )
    );
    assert_eq!(memory.bytes(), bytes);
    assert_eq!(Contents::from_bytes(&bytes).unwrap().entries, entries());
    let told: Vec<_> = verify_bytes(&bytes).iter().map(Verification::to_string).collect();
    assert_eq!(told, [format!("something other than tankhand added 20 bytes at the end, from line {line}")]);
}

#[test]
fn zeros_a_disk_gave_back_are_cut_off() {
    let whole = record(&header(), &entries()[..3], None);
    let zeros = [&whole[..], &[0; 4096]].concat();
    let memory = Memory::holding(&zeros);
    let (_, contents, torn) = Recorder::resume(memory.clone(), Path::new("r.toml"), &zeros).unwrap();
    assert_eq!((contents.entries.len(), torn.unwrap().length, memory.bytes()), (3, 4096, whole));
}

#[test]
fn any_changed_byte_is_found() {
    for summary in [None, Some(summary())] {
        let whole = record(&header(), &entries(), summary.as_ref());
        for at in 0..whole.len() {
            // Each byte with one bit turned, another of the eight each time.
            let mut bytes = whole.clone();
            bytes[at] ^= 1 << (at % 8);
            let found = verify_bytes(&bytes);
            assert!(found.iter().all(|finding| !finding.is_sound()), "byte {at}");
        }
    }
}

#[test]
fn an_edit_is_refused_and_placed() {
    let whole = String::from_utf8(record(&header(), &entries(), None)).unwrap();
    let edited = whole.replace("value = 38.0", "value = 39.0");
    let line_of = |text: &str| edited[..edited.find(text).unwrap()].matches('\n').count();
    let first_line = line_of("[[entry]]\nn = 3") + 1;
    let seal_line = line_of("\n[[entry]]\nn = 4");
    let edit = Edit { section: Section::Entry(3), first_line, seal_line, missing_from: None };
    assert_eq!(verify_bytes(edited.as_bytes()), [Verification::Edited(edit)]);
    let memory = Memory::holding(edited.as_bytes());
    let fault = Recorder::resume(memory.clone(), Path::new("r.toml"), edited.as_bytes()).unwrap_err();
    assert_eq!(
        fault.to_string(),
        format!(
            "r.toml:{first_line}: entry 3 was changed after it was written\n  \
             why: the seal on line {seal_line} does not fit the bytes before it; \
             the change is between line {first_line} and there\n  \
             what to do: bring the file back from a copy; where there is none, `tankhand records mend r.toml` saves what is whole"
        )
    );
    assert_eq!(memory.bytes(), edited.as_bytes());
}

/// Behind a seal's line that was made into something else, lines are counted on as they stand.
#[test]
fn an_edit_is_placed_behind_a_seal_that_is_none_any_more() {
    let whole = String::from_utf8(record(&header(), &entries()[..5], None)).unwrap();
    let seal_of_two = whole.find("\n[[entry]]\nn = 3\n").unwrap() - 74;
    let mut edited = whole.replace("step-5", "step-7");
    edited.replace_range(seal_of_two..=seal_of_two, "S");
    let line_of = |text: &str| edited[..edited.find(text).unwrap()].matches('\n').count();
    let entry = |n: u64, first_line, seal_line| {
        Verification::Edited(Edit { section: Section::Entry(n), first_line, seal_line, missing_from: None })
    };
    let seal = line_of("\n[[entry]]\nn = 3");
    let last = edited.matches('\n').count();
    let found = verify_bytes(edited.as_bytes());
    assert_eq!(found, [entry(2, seal, seal), entry(5, line_of("[[entry]]\nn = 5") + 1, last)]);
}

/// Where blocks were taken out the numbers jump, and the next seal does not hold.
#[test]
fn entries_that_were_taken_out_are_told() {
    let whole = String::from_utf8(record(&header(), &entries(), None)).unwrap();
    let begin = |n: u64| whole.find(&format!("\n[[entry]]\nn = {n}\n")).unwrap();
    let without = |from, to| format!("{}{}", &whole[..begin(from)], &whole[begin(to)..]);
    let what = |text: &str| match verify_bytes(text.as_bytes()).as_slice() {
        [Verification::Edited(edit)] => Trouble::Edited(*edit).what(),
        other => panic!("{other:?}"),
    };
    for (from, to, expected) in [
        (1, 2, "entry 1 is missing, or entry 2 was changed after it was written"),
        (5, 7, "entries 5 and 6 are missing, or entry 7 was changed after it was written"),
        (5, 9, "entries 5 to 8 are missing, or entry 9 was changed after it was written"),
    ] {
        assert_eq!(what(&without(from, to)), expected);
    }
    let number = |to: &str| what(&whole.replace("\nn = 5\n", &format!("\nn = {to}\n")));
    assert_eq!(number("9999"), "entry 9999 was changed after it was written");
    assert_eq!(number("4"), "entry 4 was changed after it was written");
    // What a mended record lacks was told when it was mended.
    let mended = Header { mended: Some(Mended { lost: vec![3], ..Mended::default() }), ..header() };
    let mut text = String::from_utf8(record(&mended, &entries()[..5], None)).unwrap();
    text.replace_range(
        text.find("\n[[entry]]\nn = 3\n").unwrap()..text.find("\n[[entry]]\nn = 4\n").unwrap(),
        "",
    );
    assert_eq!(what(&text), "entry 4 was changed after it was written");
}

#[test]
fn edits_of_head_and_result_are_named() {
    let whole = String::from_utf8(record(&header(), &entries(), Some(&summary()))).unwrap();
    let section = |edited: String| match verify_bytes(edited.as_bytes()).as_slice() {
        [Verification::Edited(edit)] => edit.section.to_string(),
        other => panic!("{other:?}"),
    };
    assert_eq!(section(whole.replace("°F", "°C")), "the head of the record");
    assert_eq!(section(whole.replace("do not use", "gladly use")), "the result");
}

proptest! {
    #[test]
    fn a_record_is_sound_only_as_it_was(
        from in any::<proptest::sample::Index>(),
        length in 0..200_usize,
        instead in proptest::collection::vec(any::<u8>(), 0..200),
    ) {
        let whole = record(&header(), &entries(), Some(&summary()));
        let from = from.index(whole.len());
        let to = (from + length).min(whole.len());
        let bytes = [&whole[..from], &instead, &whole[to..]].concat();
        let sound = verify_bytes(&bytes).iter().all(Verification::is_sound);
        let an_earlier_end = bytes.len() < whole.len() && whole.starts_with(&bytes);
        prop_assert!(!sound || bytes == whole || an_earlier_end);
    }
}
