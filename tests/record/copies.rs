//! Several files that hold one run, by the real binary: one counts, the others are told of.

use std::fs;
use std::path::Path;

use tankhand::record::{Header, Summary, mend};

use crate::commands::{output_of, put};
use crate::samples::{entries, header, record, summary};

const ID: &str = "20310405-0901-flush";

fn made(upto: usize, summary: Option<&Summary>) -> Vec<u8> {
    record(&header(), &entries()[..upto], summary)
}

fn closed() -> Vec<u8> {
    made(4, Some(&summary()))
}

/// A record of which an entry was changed.
fn edited() -> Vec<u8> {
    String::from_utf8(closed()).unwrap().replace("value = 38.0", "value = 39.0").into_bytes()
}

/// Files, by names without their ending.
type Files<'f> = &'f [(&'f str, Vec<u8>)];

fn home_of(files: Files<'_>) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    files.iter().for_each(|(name, bytes)| put(home.path(), name, bytes));
    home
}

/// What a list, a check of all seals and an export say became of the files, each in its last line that does, and how
/// many rows the export has.
fn accounts(home: &Path) -> ([String; 3], usize) {
    let line = |arguments: &[&str]| {
        let told = output_of(home, arguments);
        let line = told.lines().find(|line| line.contains(" understood")).unwrap_or(&told);
        line.split_once(": ").map(|(_, line)| line.to_string()).unwrap_or_default()
    };
    let export = ["records", "export", "--kind", "reading"];
    let rows = output_of(home, &export).matches("reading,step-3").count();
    ([line(&["records"]), line(&["records", "verify"]), line(&export)], rows)
}

const RENAMED: &str = "1 understood (1 under another name)";

/// Whatever stands under the run's name, a whole record counts, once.
#[test]
fn a_whole_record_counts_whatever_stands_beside_it() {
    let copy = format!("{ID} (1)");
    let second = format!("{ID} (2)");
    let saved = format!("{ID}-saved-1");
    let begun = |entries| made(entries, None);
    let added = [begun(3), b"# a remark\n".to_vec()].concat();
    let one_not = format!("{RENAMED}, 1 not.");
    let twice = format!("{RENAMED}, 1 there twice.");
    // A list looks at a record's two ends only.
    let looked = "2 understood (1 under another name).";
    let table: [(Files<'_>, [&str; 3]); 8] = [
        (&[(ID, closed()[1..].to_vec()), (&copy, closed())], [&one_not; 3]),
        (&[(ID, Vec::new()), (&copy, closed())], [&one_not; 3]),
        (&[(ID, edited()), (&copy, closed())], [looked, &one_not, &one_not]),
        (&[(ID, closed()), (&copy, edited())], ["1 understood, 1 there twice."; 3]),
        (&[(&copy, closed()), (&second, closed())], [&twice; 3]),
        (&[(&copy, edited()), (&second, closed())], [&twice; 3]),
        (&[(ID, begun(3)), (&saved, begun(4))], [&twice; 3]),
        (&[(ID, added), (&saved, begun(4))], [&twice; 3]),
    ];
    for (files, expected) in table {
        let home = home_of(files);
        let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
        assert_eq!(accounts(home.path()), (expected.map(str::to_string), 1), "{names:?}");
    }
}

/// Of two files under other names the first by name counts, in lists of either order.
#[test]
fn the_copy_that_counts_is_named() {
    let home = home_of(&[("b", closed()), ("a", closed())]);
    let beside = "HOME/records/a.toml holds it too, and is the one that counts";
    for call in [&["records"][..], &["records", "verify"], &["logbook"]] {
        let told = output_of(home.path(), call);
        assert!(told.contains(beside), "{call:?}: {told}");
    }
}

#[test]
fn a_copy_under_no_records_name_is_no_fault_beside_the_record() {
    let home = home_of(&[(ID, closed())]);
    fs::write(home.path().join("records").join(format!("{ID}.toml.bak")), closed()).unwrap();
    let told = output_of(home.path(), &["records", "verify"]);
    let end = format!("2 files: 1 understood, 1 other ({ID}.toml.bak).\nexit 0");
    assert!(told.ends_with(&end), "{told}");
}

/// A run is named by its id: the file that counts is shown.
#[test]
fn a_run_is_shown_from_the_file_that_counts() {
    let copy = format!("{ID} (1)");
    let saved = format!("{ID}-saved-1");
    for (files, file) in [
        (&[(ID, Vec::new()), (copy.as_str(), closed())], &copy),
        (&[(ID, made(3, None)), (saved.as_str(), closed())], &saved),
    ] {
        let home = home_of(files);
        let told = output_of(home.path(), &["records", "verify", ID]);
        assert_eq!(told, format!("HOME/records/{file}.toml: every seal holds: 4 entries, failed\nexit 0"));
    }
    let home = home_of(&[(ID, Vec::new())]);
    let told = output_of(home.path(), &["records", "verify", ID]);
    assert!(told.contains("the file is empty") && told.ends_with("exit 1"), "{told}");
}

/// What is said of the records when a run is to be gone on with, on one line.
fn resumed(home: &Path, arguments: &[&str]) -> String {
    let told = output_of(home, &[&["resume"], arguments].concat());
    let told = told.split("Going on").next().unwrap();
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The samples keep no procedure that could be gone on with, which is told after this.
#[test]
fn a_run_goes_on_in_what_was_saved_of_it() {
    let saved = format!("{ID}-saved-1");
    let told = format!(
        "This run goes on in HOME/records/{saved}.toml. Nothing more is written to HOME/records/{ID}.toml: keep that one \
         elsewhere."
    );
    let added = [made(2, None), b"# a remark\n".to_vec()].concat();
    for before in [made(2, None), added, Vec::new()] {
        let home = home_of(&[(ID, before), (&saved, made(4, None))]);
        for call in [&[][..], &[ID], &["flush"]] {
            assert_eq!(resumed(home.path(), call), told, "{call:?}");
        }
    }
    // The run went on in the file of its name, and what was saved is its beginning.
    for earlier in [made(2, None), made(4, None)] {
        let home = home_of(&[(ID, made(4, None)), (&saved, earlier)]);
        assert_eq!(resumed(home.path(), &[]), "");
    }
}

#[test]
fn of_two_ways_a_run_went_on_one_is_to_be_named() {
    let saved = format!("{ID}-saved-1");
    let mut others = entries();
    others[1].said = Some("Another way.".to_string());
    let home = home_of(&[(ID, made(4, None)), (&saved, record(&header(), &others[..3], None))]);
    assert_eq!(
        resumed(home.path(), &[]),
        format!(
            "tankhand: More than one file holds this run, and each goes on otherwise: compare them, then name one: \
             tankhand resume HOME/records/{ID}.toml or tankhand resume HOME/records/{saved}.toml exit 2"
        )
    );
    let named = format!("{}/records/{ID}.toml", home.path().display());
    assert_eq!(resumed(home.path(), &[&named]), "");
}

/// However often a record is mended or brought back, its run counts once.
#[test]
fn a_mended_run_counts_once() {
    let home = home_of(&[(ID, edited())]);
    let file = home.path().join(format!("records/{ID}.toml"));
    let (new, ..) = mend(&file).unwrap();
    let again = format!("{ID}-mended-2");
    let second = record(
        &Header {
            id: again.clone(),
            mended: tankhand::record::read(&new).unwrap().header.mended,
            ..header()
        },
        &entries()[..2],
        Some(&summary()),
    );
    put(home.path(), &again, &second);
    let ([_, verified, exported], rows) = accounts(home.path());
    assert_eq!([verified.as_str(), &exported], ["1 understood, 1 not, 1 there twice."; 2]);
    assert_eq!(rows, 0, "the reading was not whole");
    let copy = format!("{ID} (1)");
    put(home.path(), &copy, &closed());
    let ([_, verified, exported], rows) = accounts(home.path());
    assert_eq!([verified, exported], [(); 2].map(|()| format!("{RENAMED}, 1 not, 2 there twice.")));
    assert_eq!(rows, 1);
    fs::rename(home.path().join(format!("records/{copy}.toml")), file).unwrap();
    assert_eq!(accounts(home.path()), ([(); 3].map(|()| "1 understood, 2 there twice.".to_string()), 1));
}

/// The folder of records is looked for by every command in one way.
#[cfg(unix)]
#[test]
fn a_folder_that_is_not_there_is_told_by_every_command() {
    let calls: [&[&str]; 6] =
        [&["records"], &["records", "verify"], &["records", "export"], &["logbook"], &["trend"], &["resume"]];
    let words = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let none = "There is no folder HOME/records: no run has been recorded here yet, or the folder was moved or deleted.";
    for call in calls {
        let home = tempfile::tempdir().unwrap();
        let told = words(output_of(home.path(), call));
        assert!(told.contains(none), "{call:?}: {told}");
        std::os::unix::fs::symlink("no-such-disk", home.path().join("records")).unwrap();
        let told = words(output_of(home.path(), call));
        let nowhere = "tankhand: HOME/records: could not read it: the link HOME/records leads to no-such-disk, which is not \
                       there why: its disk may not be there what to do: connect or mount the disk, or name another \
                       folder with --home exit 3";
        assert!(told.ends_with(nowhere), "{call:?}: {told}");
    }
}

/// A path that leads to a file is taken whatever its ending.
#[test]
fn a_file_is_opened_whatever_its_ending() {
    let home = home_of(&[(ID, closed())]);
    for ending in ["TOML", "toml.txt", "bak"] {
        let file = home.path().join(format!("records/{ID}.{ending}"));
        fs::write(&file, closed()).unwrap();
        let told = output_of(home.path(), &["records", "verify", &file.display().to_string()]);
        assert_eq!(told, format!("HOME/records/{ID}.{ending}: every seal holds: 4 entries, failed\nexit 0"));
    }
    let told = output_of(home.path(), &["records", "verify", "no such file.TOML"]);
    assert!(told.contains("There is no record `no such file.TOML`"), "{told}");
}

/// What has a record's name and nothing else of one is told in one way.
#[test]
fn a_name_alone_is_no_record() {
    let home = home_of(&[("20310802-0750-junk", b"hello\n".to_vec())]);
    let told = "it is named like a record, but nothing of one is in it";
    for call in [
        &["records"][..],
        &["records", "verify"],
        &["records", "verify", "20310802-0750-junk"],
        &["records", "show", "20310802-0750-junk"],
        &["records", "mend", "20310802-0750-junk"],
    ] {
        let all = output_of(home.path(), call);
        assert!(all.split_whitespace().collect::<Vec<_>>().join(" ").contains(told), "{call:?}: {all}");
    }
}

/// A list tells of an end without a seal, as a check of all seals does.
#[test]
fn a_list_tells_of_an_end_that_was_cut_off() {
    let open = made(3, None);
    let home = home_of(&[(ID, open[..open.len() - 100].to_vec())]);
    let told = output_of(home.path(), &["records"]);
    let words = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("the last entry was cut off while it was written"), "{words}");
    assert!(words.ends_with("1 file: 0 understood, 1 not. This is a first look: `tankhand records verify` checks every seal. exit 1"));
    let told = output_of(home.path(), &["records", "mend", ID]);
    let words = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("the answer to `step-3` in it was"), "{words}");
    assert!(
        words.ends_with("what to do: resume the run, which cuts it off and asks again exit 2"),
        "{words}"
    );
    assert_eq!(fs::read_dir(home.path().join("records")).unwrap().count(), 1);
}

/// What is made of a changed record says so, on the terminal too.
#[test]
fn a_page_of_a_changed_record_is_told_to_be_one() {
    let home = home_of(&[(ID, edited())]);
    let page = home.path().join("page.html");
    let told = output_of(home.path(), &["records", "report", ID, "--html", page.to_str().unwrap()]);
    assert_eq!(
        told,
        "HOME/page.html written.\nBROKEN SEAL: entry 3 was changed after it was written. The page holds only what is \
         whole.\nexit 1"
    );
    let told = output_of(home.path(), &["records", "compare", ID, ID]);
    let note = format!(
        "BROKEN SEAL in {ID}: entry 3 was changed after it was written. Only what is whole was compared."
    );
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(&told).ends_with(&format!("{note} Note: {note} exit 1")), "{told}");
}

/// What a record calls its place makes up no lines of the list.
#[test]
fn a_name_with_a_line_end_stays_on_its_line() {
    let site = Some("Alder\n6 files: 6 understood.".to_string());
    let header = Header { site, ..header() };
    let home = home_of(&[(ID, record(&header, &entries()[..4], Some(&summary())))]);
    let told = output_of(home.path(), &["records"]);
    assert_eq!(told.lines().find(|line| line.starts_with("6 files")), None, "{told}");
}
