//! A detached signature with OpenSSH, by the very commands that the format's page tells.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use tankhand::report::{SIGN, VERIFY_SIGNATURE};

use crate::samples::{entries, header, record, summary};

/// Runs a command in a folder that is also its home; whether it went well.
fn went_well(folder: &Path, command: &str) -> bool {
    let mut run = Command::new("sh");
    run.args(["-c", command]).current_dir(folder).env("HOME", folder);
    run.stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok_and(|it| it.success())
}

#[test]
fn a_signature_shows_what_seals_cannot() {
    if !went_well(Path::new("."), "command -v ssh-keygen") {
        println!("SKIPPED: signatures need ssh-keygen (OpenSSH 8.2 or later)");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let whole = record(&header(), &entries(), Some(&summary()));
    fs::write(at("record.toml"), &whole).unwrap();
    fs::create_dir(at(".ssh")).unwrap();
    assert!(went_well(folder.path(), "ssh-keygen -q -t ed25519 -N '' -f .ssh/id_ed25519"));
    let key = fs::read_to_string(at(".ssh/id_ed25519.pub")).unwrap();
    fs::write(at("allowed_signers"), format!("owner {key}")).unwrap();
    assert!(went_well(folder.path(), &SIGN.replace("~/", "")));
    assert!(went_well(folder.path(), VERIFY_SIGNATURE));
    // The same run with another verdict, every seal made anew, and with its last entries cut off.
    let otherwise = record(&header(), &entries()[..9], Some(&summary()));
    let cut = record(&header(), &entries()[..9], None);
    for forged in [otherwise, cut] {
        fs::write(at("record.toml"), forged).unwrap();
        assert!(!went_well(folder.path(), VERIFY_SIGNATURE));
    }
    fs::write(at("record.toml"), whole).unwrap();
    assert!(went_well(folder.path(), VERIFY_SIGNATURE));
}
