//! The real binary on a folder of records: listed by what they have in common, and verified line
//! by line; whole outputs.

use std::fs;
use std::path::{MAIN_SEPARATOR, Path};
use std::process::{Command, Stdio};

use tankhand::record::{Grade, Header, Outcome, Summary};

use crate::golden::holds;
use crate::samples::{entries, header, moment, record, summary};

/// Output, errors and exit code, with the home's path made the same, its parts apart as on Unix. It is
/// named from the folder around it, so that lines break alike wherever temporary files lie.
pub fn output_of(home: &Path, arguments: &[&str]) -> String {
    let name = home.file_name().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_tankhand"))
        .args(arguments)
        .env_clear()
        .envs([("LANG", "C.UTF-8"), ("TZ", "UTC"), ("COLUMNS", "100")])
        .env("TANKHAND_HOME", name)
        .current_dir(home.parent().unwrap())
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| {
        let text = String::from_utf8(bytes).unwrap().replace(&home.display().to_string(), "HOME");
        with_slashes(&text.replace(name.to_str().unwrap(), "HOME"))
    };
    format!("{}{}exit {}", text(output.stdout), text(output.stderr), output.status.code().unwrap())
}

/// A text with the parts of paths apart as on Unix.
fn with_slashes(text: &str) -> String {
    let of_word = |word: &str| match word.contains("HOME") {
        true => word.replace(MAIN_SEPARATOR, "/"),
        false => word.to_string(),
    };
    text.split_inclusive(char::is_whitespace).map(of_word).collect()
}

/// Puts a record into its file.
pub fn put_record(home: &Path, bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let id = text.lines().find_map(|line| line.strip_prefix("id = \"")?.strip_suffix('"')).unwrap();
    put(home, id, bytes);
}

pub fn put(home: &Path, id: &str, bytes: &[u8]) {
    let folder = home.join("records");
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join(format!("{id}.toml")), bytes).unwrap();
}

fn made(id: &str, tank: &str, procedure: &str, ended: Option<Outcome>) -> Vec<u8> {
    let (date, time) = (&id[..8], &id[9..13]);
    let started =
        format!("{}-{}-{}T{}:{}:00-05:00", &date[..4], &date[4..6], &date[6..], &time[..2], &time[2..]);
    let header = Header {
        id: id.to_string(),
        tank: Some(tank.to_string()),
        procedure: procedure.to_string(),
        title: format!("Invented {procedure}"),
        site: None,
        started: moment(&started),
        ..header()
    };
    let found = |outcome| match outcome {
        Outcome::Completed => (Grade::Attention, vec!["precharge low".to_string()]),
        Outcome::Failed => (Grade::Stop, vec!["bladder leaks".to_string(), "shell rusty".to_string()]),
        Outcome::Unfinished => (Grade::Act, Vec::new()),
    };
    let summary = ended.map(|outcome| {
        let (grade, found) = found(outcome);
        Summary { outcome, grade: Some(grade), found, ..summary() }
    });
    record(&header, &entries()[..3], summary.as_ref())
}

/// A home with four runs of two tanks.
fn home_of_four() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for (id, tank, procedure, ended) in [
        ("20310405-0901-flush", "cellar", "flush", Some(Outcome::Completed)),
        ("20310406-2359-check", "barn", "check", Some(Outcome::Failed)),
        ("20320101-0000-flush", "cellar", "flush", Some(Outcome::Unfinished)),
        ("20320102-0800-check", "cellar", "check", None),
    ] {
        put(home.path(), id, &made(id, tank, procedure, ended));
    }
    home
}

/// The ids a list shows, in its order.
fn ids(home: &Path, arguments: &[&str]) -> Vec<String> {
    let shown = output_of(home, &[&["records"], arguments].concat());
    let id = |line: &str| {
        line.split_whitespace().next().filter(|word| word.starts_with("203")).map(str::to_string)
    };
    shown.lines().filter_map(id).collect()
}

#[test]
fn the_list_shows_the_newest_first() {
    let home = home_of_four();
    assert_eq!(
        output_of(home.path(), &["records"]),
        "Records
=======

Record               Begun       Procedure       Tank               Outcome
-------------------  ----------  --------------  -----------------  --------------------------------
20320102-0800-check  2032-01-02  Invented check  cellar (invented)  not ended
20320101-0000-flush  2032-01-01  Invented flush  cellar (invented)  stopped early
20310406-2359-check  2031-04-06  Invented check  barn (invented)    failed; stop: bladder leaks and
                                                                    shell rusty
20310405-0901-flush  2031-04-05  Invented flush  cellar (invented)  completed; attention: precharge
                                                                    low

4 files: 4 understood.

This is a first look: `tankhand records verify` checks every seal.
exit 0"
    );
}

#[test]
fn the_list_is_narrowed_by_what_records_have_in_common() {
    let home = home_of_four();
    let [first, second, third, fourth] =
        ["20310405-0901-flush", "20310406-2359-check", "20320101-0000-flush", "20320102-0800-check"];
    let table: &[(&[&str], &[&str])] = &[
        (&["--tank", "cellar"], &[fourth, third, first]),
        (&["--tank", "cellar", "--procedure", "flush"], &[third, first]),
        (&["--outcome", "completed"], &[first]),
        (&["--outcome", "failed"], &[second]),
        (&["--outcome", "stopped early"], &[third]),
        (&["--outcome", "not ended"], &[fourth]),
        // The day counts by the clock on the wall there, and both days are meant.
        (&["--since", "2031-04-06"], &[fourth, third, second]),
        (&["--until", "2031-04-06"], &[second, first]),
        (&["--since", "2031-04-06", "--until", "2032-01-01"], &[third, second]),
    ];
    for (arguments, expected) in table {
        assert_eq!(ids(home.path(), arguments), *expected, "{arguments:?}");
    }
}

#[test]
fn when_nothing_fits_the_list_says_what_there_is() {
    let home = home_of_four();
    let table: &[(&[&str], &str)] = &[
        (
            &["records", "--tank", "celler"],
            "None of 4 records fits. There is no tank `celler` in them: did you mean `cellar`?\n\n4 files: 4 understood.\n\nThis is a first look: `tankhand records verify` checks every seal.\nexit 0",
        ),
        (
            &["records", "--procedure", "x", "--since", "2040-01-01"],
            "None of 4 records fits. There is no procedure `x` in them: there is: check, flush\n\n4 files: 4 understood.\n\nThis is a first look: `tankhand records verify` checks every seal.\nexit 0",
        ),
        (
            &["records", "--tank", "barn", "--until", "2031-04-05"],
            "None of 4 records fits.\n\n4 files: 4 understood.\n\nThis is a first look: `tankhand records verify` checks every seal.\nexit 0",
        ),
    ];
    for (arguments, expected) in table {
        let shown = output_of(home.path(), arguments);
        assert_eq!(shown.strip_prefix("Records\n=======\n\n"), Some(*expected), "{arguments:?}");
    }
}

#[test]
fn a_call_that_is_wrong_is_told() {
    let home = home_of_four();
    for (arguments, expected) in [
        (
            ["records", "--since", "2031-02-30"],
            "error: invalid value '2031-02-30' for '--since <DATE>': a day is written as year, month and day, such \
             as 2031-04-05\n\nFor more information, try '--help'.\nexit 2",
        ),
        (
            ["records", "--outcome", "done"],
            "error: invalid value 'done' for '--outcome <WORDS>'\n  [possible values: completed, failed, \"stopped \
             early\", \"not ended\"]\n\nFor more information, try '--help'.\nexit 2",
        ),
    ] {
        assert_eq!(output_of(home.path(), &arguments), expected);
    }
}

#[test]
fn a_file_that_cannot_be_read_stops_no_list() {
    let home = tempfile::tempdir().unwrap();
    let whole = made("20310405-0901-flush", "cellar", "flush", Some(Outcome::Completed));
    put(home.path(), "20310405-0901-flush", &whole);
    put(home.path(), "20310406-0901-flush", &whole[..300]);
    assert_eq!(
        output_of(home.path(), &["records", "--tank", "cellar"]),
        "Records
=======

Record               Begun       Procedure       Tank               Outcome
-------------------  ----------  --------------  -----------------  --------------------------------
20310405-0901-flush  2031-04-05  Invented flush  cellar (invented)  completed; attention: precharge
                                                                    low

Files to look at
----------------

- HOME/records/20310406-0901-flush.toml: the record breaks off before its first entry
    why: without a whole head it does not tell what was done with what
    what to do: look into it with a text editor; when no answer is in it, delete it and begin anew

2 files: 1 understood, 1 not.

This is a first look: `tankhand records verify` checks every seal.
exit 1"
    );
}

/// A part is no procedure: without the text that says what was performed nothing is performed.
#[test]
fn a_run_whose_record_lost_its_procedure_is_not_gone_on_with() {
    let home = tempfile::tempdir().unwrap();
    let started = moment("2021-04-05T09:01:00-05:00");
    let header = Header { demo: false, started, texts: header().texts.split_off(1), ..header() };
    put(home.path(), &header.id, &record(&header, &[], None));
    assert_eq!(
        output_of(home.path(), &["resume", &header.id]),
        "Going on: Flush the tank (an invented example)
tankhand: The record 20310405-0901-flush does not keep its procedure.
exit 2"
    );
}

/// Records each with something wrong.
fn spoiled() -> Vec<(&'static str, Vec<u8>)> {
    let named = |id: &str, summary: Option<&Summary>| {
        String::from_utf8(record(&Header { id: id.to_string(), ..header() }, &entries(), summary)).unwrap()
    };
    let changed = |id: &'static str, from: &str, to: &str| {
        let whole = named(id, Some(&summary()));
        assert_eq!(whole.matches(from).count(), 1, "{from}");
        (id, whole.replace(from, to).into_bytes())
    };
    let open = |id: &str| named(id, None).into_bytes();
    let torn = open("torn");
    vec![
        ("sound", named("sound", Some(&summary())).into_bytes()),
        ("open", open("open")),
        ("torn", torn[..torn.len() - 100].to_vec()),
        ("added", [&open("added"), &b"\nthanks for reading\n"[..]].concat()),
        changed("reading", "value = 38.0", "value = 36.0"),
        changed("seal-line", "\n\n[[entry]]\nn = 3", "\n\n\n[[entry]]\nn = 3"),
        changed("head", "tank = \"main\"", "tank = \"barn\""),
        changed("result", "outcome = \"failed\"", "outcome = \"completed\""),
        (
            "two",
            named("two", None).replace("value = 38.0", "value = 36.0").replace("n = 9\n", "n = 7\n").into(),
        ),
        ("empty", Vec::new()),
    ]
}

/// Each by itself, then all of a folder, with what became of every file.
#[test]
fn every_record_is_verified_line_by_line() {
    let (mut told, all) = (String::new(), tempfile::tempdir().unwrap());
    for (id, bytes) in spoiled() {
        let home = tempfile::tempdir().unwrap();
        put(home.path(), id, &bytes);
        put(all.path(), id, &bytes);
        told += &(output_of(home.path(), &["records", "verify", id]) + "\n\n");
    }
    told += &(output_of(all.path(), &["records", "verify"]) + "\n");
    holds("tests/record/golden/verified.txt", &told);
}
