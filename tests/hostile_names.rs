//! Names that mean to command a terminal, to hide text or to turn its direction; by the real binary.

#![cfg(unix)]
#![allow(clippy::unwrap_used)]

use std::ffi::{OsStr, OsString};
use std::fs;
use std::os::unix::ffi::OsStringExt;
use std::path::Path;
use std::process::{Command, Stdio};

use tankhand::words::is_harmless;

/// Clears the screen, sets a title, hides, turns round, takes no room, and is no UTF-8.
const NAMES: [&[u8]; 8] = [
    b"\x1b[2Jx",
    b"\x1b]0;title\x07x",
    b"\x1b[8mx\r",
    "\u{202e}lmot.x".as_bytes(),
    "x\u{ad}\u{2800}\u{180e}\u{3164}\u{fff9}\u{e0041}".as_bytes(),
    "\u{9b}2Jx".as_bytes(),
    b"x\nTANKHAND SAYS: all is well",
    b"x\xff\xfe",
];

/// Runs the program; what it says, and its exit code.
fn shown(home: &Path, arguments: &[OsString]) -> (String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_tankhand"))
        .args(arguments)
        .env_clear()
        .envs([("LANG", "C.UTF-8"), ("TZ", "UTC"), ("COLUMNS", "80")])
        .env("TANKHAND_HOME", home)
        .current_dir(home.parent().unwrap())
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let text = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    (text, output.status.code().unwrap())
}

/// Every way in which a person or a program names something.
const CALLS: &[&[&str]] = &[
    &["NAME"],
    &["run", "NAME"],
    &["run", "NAME.toml"],
    &["run", "flush", "--system", "NAME"],
    &["run", "flush", "--tank", "NAME"],
    &["run", "flush", "--answers", "NAME"],
    &["run", "flush", "--demo", "NAME"],
    &["resume", "NAME"],
    &["check", "NAME"],
    &["procedures", "show", "NAME"],
    &["calc", "NAME"],
    &["guide", "NAME"],
    &["records"],
    &["records", "--tank", "NAME"],
    &["records", "--since", "NAME"],
    &["procedures"],
    &["system"],
    &["logbook"],
    &["records", "show", "NAME"],
    &["records", "show", "NAME.toml"],
    &["records", "verify"],
    &["records", "verify", "NAME.html"],
    &["records", "mend", "NAME.toml"],
    &["records", "export", "--to", "NAME/NAME"],
    &["trend", "NAME"],
    &["sheet", "flush", "--html", "NAME/NAME"],
    &["system", "set", "NAME", "NAME"],
    &["plan", "--cut-in", "NAME"],
];

#[test]
fn no_name_reaches_a_terminal_as_it_is() {
    for name in NAMES {
        let around = tempfile::tempdir().unwrap();
        let home = around.path().join(OsStr::new(&OsString::from_vec(name.to_vec())));
        fs::create_dir_all(home.join("records")).unwrap();
        fs::create_dir_all(home.join("procedures")).unwrap();
        let file = |ending: &str| [name, ending.as_bytes()].concat();
        for (folder, ending) in [("records", ".toml"), ("procedures", ".toml")] {
            fs::write(home.join(folder).join(OsString::from_vec(file(ending))), b"x").unwrap();
        }
        for call in CALLS {
            let argument = |word: &&str| {
                let parts = word.split("NAME").map(|part| part.as_bytes().to_vec()).collect::<Vec<_>>();
                OsString::from_vec(parts.join(name))
            };
            let (text, _) = shown(&home, &call.iter().map(argument).collect::<Vec<_>>());
            assert!(is_harmless(&text), "{call:?} with {name:?}: {text:?}");
            // What a person types may have lines; what lies in a folder makes up none.
            let typed = call.iter().any(|word| word.contains("NAME"));
            let forged = text.lines().find(|line| line.starts_with("TANKHAND SAYS")).filter(|_| !typed);
            assert_eq!(forged, None, "{call:?} with {name:?}: {text}");
        }
    }
}

/// A pipe that nobody reads and a device are no files to be written over, nor waited for.
#[test]
fn a_pipe_or_a_device_is_not_waited_for() {
    let home = tempfile::tempdir().unwrap();
    let pipe = home.path().join("pipe.html");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    for place in [pipe.as_os_str(), OsStr::new("/dev/null"), OsStr::new("/dev/tty")] {
        for call in [
            &["sheet", "flush", "--html", "PLACE"][..],
            &["records", "verify", "PLACE"],
            &["run", "flush", "--answers", "PLACE"],
            &["check", "PLACE"],
        ] {
            let argument =
                |word: &&str| if *word == "PLACE" { place.to_owned() } else { OsString::from(word) };
            let (text, code) = shown(home.path(), &call.iter().map(argument).collect::<Vec<_>>());
            assert_eq!(code, 2, "{call:?} with {place:?}: {text}");
        }
    }
}
