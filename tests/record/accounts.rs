//! Every file of a folder is accounted for, by the real binary: whole outputs.

use std::fs;
use std::path::Path;

use tankhand::record::Header;

use crate::commands::{output_of, put};
use crate::golden::holds;
use crate::samples::{entries, header, record, summary};

/// The bytes of a closed record of that name.
fn closed(id: &str) -> Vec<u8> {
    record(&Header { id: id.to_string(), ..header() }, &entries()[..3], Some(&summary()))
}

fn replaced(bytes: &[u8], from: &str, to: &str) -> Vec<u8> {
    String::from_utf8(bytes.to_vec()).unwrap().replace(from, to).into_bytes()
}

/// A folder with everything in it that a folder of records may have.
fn mixed(home: &Path) {
    let id = |day: u8| format!("204001{day:02}-0800-flush");
    let whole = |day: u8| closed(&id(day));
    put(home, &id(1), &whole(1));
    put(home, &id(2), &whole(2)[1..]);
    put(home, &id(3), b"");
    put(home, &id(4), &[b"\xEF\xBB\xBF", &whole(4)[..]].concat());
    put(home, &id(5), &replaced(&whole(5), "\n", "\r\n"));
    put(home, &id(6), &replaced(&whole(6), "format = 1\n", "format = 2\n"));
    put(home, &id(7), &replaced(&whole(7), "value = 38.0", "value = 39.0"));
    put(home, &id(8), &whole(8)[..400]);
    put(home, &id(9), &[&whole(9)[..], b"# a remark\n"].concat());
    put(home, "kept for the buyer", &whole(1));
    put(home, "the spring flush", &whole(10));
    put(home, &id(11), &vec![0; 300]);
    let folder = home.join("records");
    fs::write(folder.join(format!("{}.toml.txt", id(12))), whole(12)).unwrap();
    fs::write(folder.join("notes.txt"), "turn the valve slowly").unwrap();
    put(home, "procedure", b"format = 1\ntitle = \"Flush\"\n");
    put(home, &id(13), &replaced(&whole(13), &id(13), "../20400113-0800-flush"));
    fs::create_dir(folder.join("20400114-0800-flush.toml")).unwrap();
}

#[test]
fn every_file_is_accounted_for() {
    let home = tempfile::tempdir().unwrap();
    mixed(home.path());
    let calls: [&[&str]; 7] = [
        &["records"],
        &["records", "verify"],
        &["trend", "main"],
        &["records", "export", "--kind", "reading"],
        &["logbook"],
        &["trend", "another"],
        &["resume"],
    ];
    let told = |call: &&[&str]| format!("$ tankhand {}\n{}\n", call.join(" "), output_of(home.path(), call));
    holds("tests/record/golden/accounts.txt", &calls.iter().map(told).collect::<Vec<_>>().join("\n"));
}

#[test]
fn a_trend_without_a_record_it_can_read_tells_of_the_files() {
    let home = tempfile::tempdir().unwrap();
    put(home.path(), "20400103-0800-flush", b"");
    let told = output_of(home.path(), &["trend", "main"]);
    assert_eq!(
        told,
        "Precharge over the years\n========================\n\nNone of the records can be understood, so it cannot be \
         said how a tank's air has gone.\n\nFiles to look at\n----------------\n\n- HOME/records/20400103-0800-flush.toml: \
         the file is empty\n    why: the run was broken off before its first line was on the disk\n    what to do: \
         delete it; where no other file holds the run, begin it anew\n\n1 file: 0 understood, 1 not.\nexit 1"
    );
}

/// What records that cannot be understood would have offered is not taken for never measured.
#[test]
fn a_run_and_a_plan_say_that_there_is_more_than_they_could_see() {
    let home = tempfile::tempdir().unwrap();
    mixed(home.path());
    let unseen = "10 files among the records cannot be understood: `tankhand records` says which, and why.";
    let told = |call: &[&str], of: &str| {
        let told = output_of(home.path(), call).split_whitespace().collect::<Vec<_>>().join(" ");
        let (_, told) = told.split_once(of).unwrap_or_else(|| panic!("{told}"));
        format!("{}why.", told.split("why.").next().unwrap())
    };
    let expected = format!(" may be missing. {unseen}");
    assert_eq!(told(&["run", "precharge"], "What was read last time"), expected);
    let plan = ["plan", "--add-tank", "44 gal", "--cut-in", "40 psi", "--cut-out", "60 psi"];
    assert_eq!(told(&plan, "What was measured"), format!(" may be missing here. {unseen}"));
    fs::remove_dir_all(home.path().join("records")).unwrap();
    fs::write(home.path().join("records"), "no folder").unwrap();
    let why = fs::read_dir(home.path().join("records")).unwrap_err();
    assert_eq!(
        output_of(home.path(), &["run", "precharge"]),
        format!(
            "tankhand: HOME/records: could not read it: {why}\n  why: a file stands where a folder belongs\n  what to do: \
             move that file elsewhere, or name another folder with --home\nexit 3"
        )
    );
}

/// No folder is not the same as a folder with nothing in it.
#[test]
fn what_is_not_there_is_said_to_be_not_there() {
    let home = tempfile::tempdir().unwrap();
    let told = |call: &[&str]| output_of(home.path(), call);
    let none = "There is no folder HOME/records: no run has been recorded here yet, or the folder was moved or \
                deleted.";
    let words = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(words(told(&["records"])), format!("Records ======= {none} exit 0"));
    assert_eq!(told(&["records", "verify"]), format!("{none}\nexit 0"));
    fs::create_dir(home.path().join("records")).unwrap();
    assert_eq!(
        words(told(&["records"])),
        "Records ======= There are no records yet: HOME/records is empty. exit 0"
    );
}
