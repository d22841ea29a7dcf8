//! The owner's own files, by the real binary: none hides another, and none is passed over in silence.

#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{MAIN_SEPARATOR, Path};
use std::process::{Command, Stdio};

/// Output, errors and exit code, with the home's path made the same.
fn shown(home: &Path, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_tankhand"))
        .args(arguments)
        .env_clear()
        .envs([("LANG", "C.UTF-8"), ("TZ", "UTC"), ("COLUMNS", "400")])
        .env("TANKHAND_HOME", home)
        .current_dir(home)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let text = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    let text = text.replace(&home.display().to_string(), "HOME").replace(MAIN_SEPARATOR, "/");
    format!("{text}exit {}", output.status.code().unwrap())
}

const TINY: &str =
    "format = 1\ntitle = \"Look at the tank\"\npurpose = \"An invented look.\"\n[[step]]\ntell = \"Look.\"\n";

/// The lines of a list that are about the owner's own files, and its end.
fn own_lines(list: &str) -> String {
    let own = |line: &&str| line.contains("yours") || line.contains("HOME") || line.starts_with("exit");
    list.lines()
        .filter(own)
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ") + "\n")
        .collect()
}

#[test]
fn a_faulty_or_oddly_named_file_hides_no_other() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("procedures");
    fs::create_dir_all(folder.join("parts")).unwrap();
    for name in
        ["look.toml", "flush.toml", "my look.toml", "loud.TOML", "look.toml.txt", "notes.txt", ".look.toml"]
    {
        fs::write(folder.join(name), TINY).unwrap();
    }
    fs::write(folder.join("faulty.toml"), "format = 1\n").unwrap();
    fs::write(folder.join("cut.toml"), b"\xff\xfe").unwrap();
    fs::create_dir(folder.join("folder.toml")).unwrap();
    let name = "has a name of letters, digits, - and _, and ends in .toml.";
    let refused = ["look.toml.txt", "loud.TOML", "my look.toml"]
        .map(|file| format!("Not taken: HOME/procedures/{file}. The file of a procedure or part {name}\n"));
    let expected = format!(
        "cut DOES NOT LOAD: HOME/procedures/cut.toml: it is not UTF-8 text (at byte 0); save it as UTF-8 (yours)\n\
         faulty DOES NOT LOAD: 2 faults (yours)\n\
         flush Look at the tank (yours, in place of the shipped one)\n\
         look Look at the tank (yours)\n\
         Not taken: HOME/procedures/folder.toml. A procedure or part is a file; this is none.\n{}\
         What is wrong, and what to write: tankhand check HOME/procedures/cut.toml\nexit 2\n",
        refused.concat()
    );
    assert_eq!(own_lines(&shown(home.path(), &["procedures"])), expected);
    // By its name too it is told why.
    let told = shown(home.path(), &["run", "my look"]).split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(
        told,
        format!(
            "tankhand: Not taken: HOME/procedures/my look.toml. The file of a procedure or part {name} exit 2"
        )
    );
}

/// A link to a place that is not there is no missing file: nothing is written in its place.
#[cfg(unix)]
#[test]
fn a_system_file_that_cannot_be_read_is_not_taken_for_absent() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("system.toml");
    std::os::unix::fs::symlink("/nowhere/system.toml", &file).unwrap();
    for call in [&["system"][..], &["system", "set", "switch.cut_in", "40 psi"]] {
        let told = shown(home.path(), call);
        assert_eq!(told, "tankhand: HOME/system.toml: there is no such file\nexit 2", "{call:?}");
    }
    assert!(file.symlink_metadata().unwrap().is_symlink());
}

/// A shipped procedure that does not load for the owner's part is no less a fault, and it is told which file.
#[test]
fn a_faulty_part_is_a_fault_of_what_uses_it() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("procedures/parts");
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join("bang.toml"), "format = 1\n[[step\n").unwrap();
    let list = shown(home.path(), &["procedures"]);
    let broken: Vec<&str> = list.lines().filter(|line| line.contains("DOES NOT LOAD")).collect();
    assert_eq!(broken, ["trouble          DOES NOT LOAD: 1 fault"]);
    assert_eq!(
        own_lines(&list),
        "What is wrong, and what to write: tankhand check HOME/procedures/parts/bang.toml\nexit 2\n"
    );
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_nowhere_is_a_file_that_does_not_load() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("procedures");
    fs::create_dir(&folder).unwrap();
    std::os::unix::fs::symlink("nowhere.toml", folder.join("yearly.toml")).unwrap();
    assert_eq!(
        own_lines(&shown(home.path(), &["procedures"])),
        "yearly DOES NOT LOAD: HOME/procedures/yearly.toml: there is no such file (yours, in place \
         of the shipped one)\n\
         What is wrong, and what to write: tankhand check HOME/procedures/yearly.toml\nexit 2\n"
    );
}

/// What stands in a folder that cannot be read is not known, so nothing shipped is taken in its place.
#[test]
fn a_folder_that_cannot_be_read_is_a_fault() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("procedures"), "no folder").unwrap();
    let error = fs::read_dir(home.path().join("procedures")).unwrap_err();
    let why = format!(
        "HOME/procedures: the folder of your own procedures cannot be read ({error}), so what stands in it is not \
         known. Set right who may read it, or name another folder with --home"
    );
    for call in [&["procedures"][..], &["run", "flush"], &["sheet", "flush"], &["practice", "flush"]] {
        let said = shown(home.path(), call).split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(said, format!("tankhand: {why} exit 3"), "{call:?}");
    }
}

#[test]
fn a_system_file_that_is_no_file_is_not_taken_for_absent() {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("system.toml")).unwrap();
    for call in [&["run", "flush"][..], &["sheet", "flush"], &["plan"]] {
        assert_eq!(
            shown(home.path(), call),
            "tankhand: HOME/system.toml: this is no file\nexit 2",
            "{call:?}"
        );
    }
}
