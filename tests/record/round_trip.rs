//! Whatever is recorded is read back as it was, and nothing else is ever written.

use std::path::Path;

use proptest::prelude::*;
use tankhand::quantity::Truth;
use tankhand::record::{
    Contents, Entry, EntryKind, Header, KeptText, Recorder, Summary, TextRole, Trouble, Verification,
    effective_entries, struck, verify_bytes,
};

use crate::any::{any_entries, any_header, hostile};
use crate::samples::{Memory, entries, header, moment, sealed, summary};

proptest! {
    #[test]
    fn what_is_recorded_is_read_back(
        header in any_header(),
        entries in any_entries(),
        words in hostile(),
        ended in any::<bool>(),
        batch in 1..4_usize,
    ) {
        let memory = Memory::default();
        let mut recorder = Recorder::begin(memory.clone(), Path::new("any.toml"), &header).unwrap();
        let mut before = memory.bytes();
        for some in entries.chunks(batch) {
            recorder.append(some).unwrap();
            let after = memory.bytes();
            prop_assert!(after.starts_with(&before), "nothing is rewritten");
            before = after;
        }
        let batches = entries.len().div_ceil(batch);
        prop_assert_eq!(memory.calls(), (1 + batches, 1 + batches));
        let summary = ended.then(|| Summary { words, ..summary() });
        if let Some(summary) = &summary {
            recorder.finish(summary).unwrap();
        }
        let bytes = memory.bytes();
        let outcome = summary.as_ref().map(|summary| summary.outcome);
        prop_assert_eq!(verify_bytes(&bytes), [Verification::Sound { entries: entries.len() as u64, outcome }]);
        let whole: toml::Table = std::str::from_utf8(&bytes).unwrap().parse().unwrap();
        let listed = whole.get("entry").map_or(0, |list| list.as_array().unwrap().len());
        prop_assert_eq!(listed, entries.len());
        let expected = Contents { header, entries, foreign: Vec::new(), summary, torn: None };
        prop_assert_eq!(Contents::from_bytes(&bytes).unwrap(), expected);
    }

    #[test]
    fn no_bytes_make_the_reader_fall_over(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let found = verify_bytes(&bytes);
        prop_assert!(matches!(found.as_slice(), [Verification::Unreadable(_)]), "{:?}", found);
    }

    #[test]
    fn no_sealed_text_makes_the_reader_fall_over(text in hostile(), more in hostile()) {
        let block = format!("\n[[entry]]\n{text}\nx = {more}\n");
        prop_assume!(!block.contains("\nseal"));
        let found = verify_bytes(&sealed(&[MINIMAL, block.as_bytes()]));
        prop_assert!(matches!(found.as_slice(), [Verification::Unreadable(Trouble::Unclear { line: 10, .. })]), "{:?}", found);
    }
}

/// The shortest head there is; eight lines with its seal.
const MINIMAL: &[u8] = b"format = 1\nprogram = \"p\"\nid = \"i\"\nprocedure = \"f\"\ntitle = \"t\"\n\
    started = 2031-04-05T09:01:00Z\nunits = \"us\"\n";

#[test]
fn brackets_in_brackets_do_not_exhaust_the_reader() {
    for (open, close) in [("[", "]"), ("{a = ", "}")] {
        let deep = format!("x = {}1{}\n", open.repeat(100_000), close.repeat(100_000));
        for bytes in [sealed(&[MINIMAL, deep.as_bytes()]), sealed(&[&[MINIMAL, deep.as_bytes()].concat()])] {
            let found = verify_bytes(&bytes);
            assert!(
                matches!(found.as_slice(), [Verification::Unreadable(Trouble::Unclear { .. })]),
                "{found:?}"
            );
        }
        let torn = [&sealed(&[MINIMAL])[..], b"\n[[entry]]\n", deep.as_bytes()].concat();
        assert!(matches!(verify_bytes(&torn).as_slice(), [Verification::Torn(_)]));
    }
}

/// A recorder that has written `entries()`.
fn begun() -> (Memory, Recorder<Memory>) {
    let memory = Memory::default();
    let mut recorder = Recorder::begin(memory.clone(), Path::new("sample.toml"), &header()).unwrap();
    recorder.append(&entries()).unwrap();
    (memory, recorder)
}

#[test]
fn no_entries_are_no_write() {
    let (memory, mut recorder) = begun();
    recorder.append(&[]).unwrap();
    assert_eq!(memory.calls(), (2, 2));
}

/// What the recorder says to an entry it must not write; it must be good for more afterwards.
fn refused(spoil: impl Fn(&mut Entry)) -> String {
    let (memory, mut recorder) = begun();
    let good = Entry { n: 20, ..Entry::new(EntryKind::Note, "x", moment("2031-04-05T11:00:00Z")) };
    let mut bad = good.clone();
    spoil(&mut bad);
    let before = memory.bytes();
    let fault = recorder.append(&[good.clone(), Entry { n: 21, ..bad.clone() }]).unwrap_err();
    assert!(matches!(fault.trouble, Trouble::Unwritable { n: 21, .. }), "{fault}");
    let fault = recorder.append(&[bad]).unwrap_err();
    assert_eq!(memory.bytes(), before);
    recorder.append(&[good]).unwrap();
    fault.trouble.what()
}

#[test]
fn what_would_not_read_back_is_refused_before_it_is_written() {
    let nan = f64::NAN;
    let table = toml::Table::from_iter([("deep".to_string(), toml::Value::Float(nan))]);
    let told = [
        refused(|entry| entry.value = Some(nan)),
        refused(|entry| entry.uncertainty = Some(f64::INFINITY)),
        refused(|entry| entry.truth = Some(Truth { best: true, least: nan, most: 1.0 })),
        refused(|entry| entry.truth = Some(Truth { best: true, least: 0.0, most: f64::INFINITY })),
        refused(|entry| drop(entry.more.insert("x".to_string(), toml::Value::Table(table.clone())))),
        refused(|entry| drop(entry.more.insert("seal".to_string(), toml::Value::Boolean(true)))),
        refused(|entry| drop(entry.more.insert("step".to_string(), toml::Value::Boolean(true)))),
        refused(|entry| entry.replaces = Some(u64::MAX)),
    ];
    let not_finite = |key: &str| format!("entry 20 cannot be recorded: `{key}` is not a finite number");
    let not_back = "entry 20 cannot be recorded: it would not read back as it was".to_string();
    let expected = [
        not_finite("value"),
        not_finite("uncertainty"),
        not_finite("truth"),
        not_finite("truth"),
        not_finite("x"),
        not_back.clone(),
        not_back.clone(),
        not_back,
    ];
    assert_eq!(told, expected);
}

#[test]
fn numbers_go_on_one_by_one() {
    let (_, mut recorder) = begun();
    assert_eq!(recorder.next_number(), 20);
    let fault = recorder.append(&entries()[..1]).unwrap_err();
    assert_eq!(fault.trouble.what(), "entry 1 cannot be recorded: the next entry has number 20");
}

#[test]
fn after_the_result_nothing_is_written() {
    let (memory, mut recorder) = begun();
    recorder.finish(&summary()).unwrap();
    let before = memory.bytes();
    assert_eq!(recorder.append(&entries()[..1]).unwrap_err().trouble, Trouble::Closed { kept: 19 });
    assert_eq!(recorder.finish(&summary()).unwrap_err().trouble, Trouble::Closed { kept: 19 });
    assert_eq!(memory.bytes(), before);
}

#[test]
fn what_was_replaced_or_taken_back_does_not_count() {
    let numbered = |n, kind, replaces| Entry { n, replaces, ..Entry::new(kind, "x", summary().at) };
    let told = [
        numbered(1, EntryKind::Reading, None),
        numbered(2, EntryKind::Choice, None),
        numbered(3, EntryKind::Reading, Some(1)),
        numbered(4, EntryKind::Withdrawn, Some(3)),
        numbered(5, EntryKind::Withdrawn, Some(9)),
        numbered(6, EntryKind::Note, Some(6)),
        numbered(7, EntryKind::Note, Some(8)),
        numbered(8, EntryKind::Note, None),
    ];
    assert_eq!(struck(&told).into_iter().collect::<Vec<_>>(), [(1, 3), (3, 4)]);
    assert_eq!(effective_entries(&told).map(|entry| entry.n).collect::<Vec<_>>(), [2, 6, 7, 8]);
}

/// A kept text, as it stands in a record's file.
fn written(text: &str) -> String {
    let kept = KeptText { role: TextRole::System, name: "kept".to_string(), text: text.into() };
    let header = Header { texts: vec![kept], ..header() };
    let bytes = crate::samples::record(&header, &entries()[..1], None);
    assert_eq!(Contents::from_bytes(&bytes).unwrap().header, header, "{text:?} is read back");
    let file = String::from_utf8(bytes).unwrap();
    let (_, after) = file.split_once("\ntext = ").unwrap();
    after.split_once("\n\n[sealed]\n").unwrap().0.to_string()
}

/// Every character that has a spelling of its own, in a text of one line and in one of several.
#[test]
fn a_text_is_written_in_one_way() {
    let table = [
        ("plain", r#""plain""#),
        ("°F ± 1", r#""°F ± 1""#),
        ("a \"b\"", r#""a \"b\"""#),
        ("tab\there", r#""tab\there""#),
        (r"back\slash", r#""back\\slash""#),
        ("re\rturn", r#""re\rturn""#),
        ("\u{1b}[2J", r#""\u001B[2J""#),
        ("\u{FFFF}", "\"\u{FFFF}\""),
        ("\u{202E}", r#""\u202E""#),
        ("seal = 1", r#""seal = 1""#),
        ("one\ntwo", "'''\none\ntwo'''"),
        ("one\ntwo\n", "'''\none\ntwo\n'''"),
        ("\"quoted\"\ntwo", "'''\n\"quoted\"\ntwo'''"),
        ("it's\nso", "'''\nit's\nso'''"),
        ("one\nends in '", "\"\"\"\none\nends in '\"\"\""),
        ("three '''\ntwo", "\"\"\"\nthree '''\ntwo\"\"\""),
        ("one\nseal = 2", "\"\"\"\none\n\\u0073eal = 2\"\"\""),
        ("seal = 1\ntwo", "\"\"\"\n\\u0073eal = 1\ntwo\"\"\""),
        ("a\u{1b}\n\t\"b\"\"\"c\n'''", "\"\"\"\na\\u001B\n\t\"b\"\\\"\"c\n'''\"\"\""),
        ("'''\nends in \"", "\"\"\"\n'''\nends in \\\"\"\"\""),
        ("'''\nb\"\"", "\"\"\"\n'''\nb\"\\\"\"\"\""),
        ("'''\nö\\\r\n", "\"\"\"\n'''\nö\\\\\\r\n\"\"\""),
    ];
    for (text, expected) in table {
        assert_eq!(written(text), expected, "{text:?}");
    }
}

#[test]
fn only_a_record_whose_every_seal_holds_is_sound() {
    let whole = crate::samples::record(&header(), &entries(), Some(&summary()));
    let sound = |bytes: &[u8]| verify_bytes(bytes).iter().map(Verification::is_sound).collect::<Vec<_>>();
    assert_eq!(sound(&whole), [true]);
    assert_eq!(sound(&crate::samples::record(&header(), &[], None)), [true]);
    assert_eq!(sound(&whole[..whole.len() - 2]), [false]);
    assert_eq!(sound(b"nothing"), [false]);
    let edited = String::from_utf8(whole).unwrap().replacen("38", "39", 1);
    assert!(!sound(edited.as_bytes()).contains(&true));
}
