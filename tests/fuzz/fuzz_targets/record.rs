//! Any bytes are read as a record or refused, and reading agrees with verifying. Every line of a
//! seal is made to hold first: no chance would find a SHA-256.
#![no_main]

mod harmless;

use libfuzzer_sys::fuzz_target;
use sha2::{Digest, Sha256};
use tankhand::record::{Contents, Verification, verify_bytes};

fn sealed(bytes: &[u8]) -> Vec<u8> {
    let (mut made, mut begin) = (Vec::new(), 0);
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        if line.starts_with(b"seal = ") {
            let hash = Sha256::digest(&made[begin..]);
            let digits: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
            begin = made.len();
            made.extend(format!("seal = \"{digits}\"\n").bytes());
        } else {
            made.extend(line);
        }
    }
    made
}

fuzz_target!(|bytes: &[u8]| {
    for bytes in [bytes, &sealed(bytes)] {
        let found = verify_bytes(bytes);
        found.iter().for_each(|finding| harmless::text(&finding.to_string()));
        match Contents::from_bytes(bytes) {
            Ok(_) => assert!(found.iter().any(Verification::is_sound) || found.len() == 1),
            Err(trouble) => {
                harmless::text(&trouble.at("any.toml".as_ref()).to_string());
                assert!(!found.iter().any(Verification::is_sound), "{found:?}");
            }
        }
    }
});
