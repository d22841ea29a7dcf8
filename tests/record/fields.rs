//! A field of a record that is not what it should be, whatever seal it has.

use tankhand::record::{Contents, Trouble};

use crate::samples::sealed;

const HEAD: &str = "format = 1
program = 'p'
id = 'i'
procedure = 'f'
title = 't'
started = 2031-04-05T09:01:00Z
units = 'us'
";
const NOTE: &str = "n = 1
kind = 'note'
step = 's'
at = 2031-04-05T09:01:00Z
";
const RESULT: &str = "outcome = 'failed'
at = 2031-04-05T09:01:00Z
words = 'w'
";

fn entry(fields: &str) -> String {
    format!("\n[[entry]]\n{fields}")
}

fn result(fields: &str) -> String {
    format!("\n[result]\n{fields}")
}

/// How many entries a record of these blocks has.
fn count(head: &str, blocks: &[String]) -> Result<u64, Trouble> {
    let head = format!("{head}[sealed]\n");
    let blocks: Vec<&[u8]> = std::iter::once(&head).chain(blocks).map(String::as_bytes).collect();
    Contents::from_bytes(&sealed(&blocks)).map(|contents| contents.last_number())
}

/// What is said of the part that is not clear.
fn refused(head: &str, block: String) -> String {
    match count(head, &[block]) {
        Err(Trouble::Unclear { message, .. }) => message,
        other => panic!("{other:?}"),
    }
}

/// The lines with one in place of that of its key, or added.
fn with(lines: &str, line: &str) -> String {
    let key = line.split_once('=').map_or("", |(key, _)| key);
    let kept = lines.lines().filter(|other| !other.starts_with(key)).chain([line]);
    kept.map(|line| format!("{line}\n")).collect()
}

#[test]
fn a_field_of_an_entry_is_what_it_should_be() {
    let table = [
        ("n = 1.0", "a whole number from 1; a float"),
        ("n = -1", "a whole number from 1; a integer"),
        ("kind = 1", "a text; a integer"),
        ("step = []", "a text; a array"),
        ("at = '2031-04-05T09:01:00Z'", "a date and time with its offset; a string"),
        ("at = 2031-04-05T09:01:00", "a date and time with its offset; a datetime"),
        ("round = 1", "a list of whole numbers; a integer"),
        ("round = [1, '2']", "a list of whole numbers; a array"),
        ("take = 4294967296", "a whole number from 1; a integer"),
        ("tank = 1", "a text; a integer"),
        ("value = '38'", "a number; a string"),
        ("value = inf", "a number; a float"),
        ("uncertainty = true", "a number; a boolean"),
        ("verdict = 'perhaps'", "`pass`, `fail` or `can't tell`; a string"),
        ("truth = true", "a table of `best`, `least` and `most`; a boolean"),
        ("truth = {best = true, least = 0.5}", "a table of `best`, `least` and `most`; a table"),
        ("truth = {best = 1, least = 0.5, most = 1}", "a table of `best`, `least` and `most`; a table"),
        ("truth = {best = true, least = nan, most = 1}", "a table of `best`, `least` and `most`; a table"),
        ("replaces = '3'", "a whole number from 1; a string"),
        ("said = 1", "a text; a integer"),
    ];
    for (line, expected) in table {
        let key = line.split(' ').next().unwrap_or_default();
        assert_eq!(
            refused(HEAD, entry(&with(NOTE, line))),
            format!("`{key}` should be {expected} stands there"),
            "{line}"
        );
    }
    for key in ["n", "kind", "step", "at"] {
        let without = with(NOTE, &format!("{key} = 0")).replace(&format!("{key} = 0\n"), "");
        assert_eq!(refused(HEAD, entry(&without)), format!("`{key}` is missing"));
    }
}

#[test]
fn a_field_of_the_head_is_what_it_should_be() {
    let table = [
        ("id = 1", "`id` should be a text; a integer stands there"),
        (
            "started = 2031-04-05",
            "`started` should be a date and time with its offset; a datetime stands there",
        ),
        ("units = 'both'", "no units are called \"both\""),
        ("site = 1", "`site` should be a text; a integer stands there"),
        ("tank = 1", "`tank` should be a text; a integer stands there"),
        ("tanks = 'left'", "`tanks` should be a list of texts; a string stands there"),
        ("tanks = ['left', 1]", "`tanks` should be a list of texts; a array stands there"),
        ("demo = 1", "`demo` should be true or false; a integer stands there"),
        (
            "transcribed = true",
            "`transcribed` should be a date and time with its offset; a boolean stands there",
        ),
        ("text = 1", "`text` should be a list of tables; a integer stands there"),
        ("text = [1]", "`text` should be a list of tables; a array stands there"),
    ];
    for (line, expected) in table {
        assert_eq!(refused(&with(HEAD, line), entry(NOTE)), expected, "{line}");
    }
}

#[test]
fn a_kept_text_has_its_role_and_its_digest() {
    // FIPS 180-4, the digest of no bytes (from memory; any tool for digests gives it).
    let nothing = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
    let kept = |role: &str, digest: &str| {
        format!("{HEAD}[[text]]\nrole = '{role}'\nname = 'x.toml'\nsha256 = '{digest}'\ntext = ''\n")
    };
    assert_eq!(count(&kept("part", nothing), &[entry(NOTE)]), Ok(1));
    assert_eq!(refused(&kept("guide", nothing), entry(NOTE)), "no text has the role \"guide\"");
    assert_eq!(
        refused(&kept("part", "00"), entry(NOTE)),
        "the text \"x.toml\" does not have the digest that stands with it"
    );
}

#[test]
fn a_block_is_one_entry_or_the_result() {
    let none = "one `[[entry]]` or `[result]` should stand here";
    assert_eq!(refused(HEAD, "x = 1\n".to_string()), none);
    assert_eq!(refused(HEAD, entry(NOTE) + &entry(NOTE)), none);
    assert_eq!(refused(HEAD, entry(NOTE) + &result(RESULT)), none);
    assert_eq!(
        refused(HEAD, "\nresult = 1\n".to_string()),
        "`result` should be a table; a integer stands there"
    );
    let table = [
        ("outcome = 'good'", "no outcome is called \"good\""),
        ("at = 1", "`at` should be a date and time with its offset; a integer stands there"),
        ("words = 1", "`words` should be a text; a integer stands there"),
    ];
    for (line, expected) in table {
        assert_eq!(refused(HEAD, result(&with(RESULT, line))), expected, "{line}");
    }
}

#[test]
fn entries_stand_in_their_order_and_before_the_result() {
    let unclear = |line, message: &str| Err(Trouble::Unclear { line, message: message.to_string() });
    let foreign = with(&with(NOTE, "kind = 'photographed'"), "n = 2");
    let blocks = [entry(NOTE), result(RESULT), entry(&with(NOTE, "n = 2")), entry(&foreign)];
    let of = |order: &[usize]| count(HEAD, &order.iter().map(|at| blocks[*at].clone()).collect::<Vec<_>>());
    assert_eq!(of(&[0, 2, 1]), Ok(2));
    assert_eq!(of(&[0, 3, 1]), Ok(2));
    assert_eq!(of(&[1]), Ok(0));
    assert_eq!(of(&[3]), unclear(11, "entry 1 should stand here"));
    assert_eq!(of(&[2]), unclear(11, "entry 1 should stand here"));
    assert_eq!(of(&[0, 0]), unclear(18, "entry 2 should stand here"));
    assert_eq!(of(&[1, 0]), unclear(17, "something stands after the result"));
    assert_eq!(of(&[1, 1]), unclear(17, "something stands after the result"));
}

/// The first two keys tell a record from any other file.
#[test]
fn a_record_is_known_by_its_first_keys() {
    let of = |text: &str| Contents::from_bytes(text.as_bytes()).map(|contents| contents.last_number());
    let program = "program = 'p'\n";
    assert_eq!(of(""), Err(Trouble::Empty));
    assert_eq!(of(&format!("# x\n\nformat =1\n{program}")), Err(Trouble::HeadTorn));
    assert_eq!(of(&format!("format = 2\n{program}")), Err(Trouble::Newer { format: 2 }));
    for other in ["format = 0\n", "format = x\n", "format 1\n", "formats = 1\n", ""] {
        assert_eq!(of(&format!("{other}{program}")), Err(Trouble::NotARecord), "{other}");
    }
    for other in ["format = 1\n", "format = 2\n", "format = 2\ntitle = 't'\nprogram = 'p'\n"] {
        assert_eq!(of(other), Err(Trouble::NotARecord), "{other}");
    }
}
