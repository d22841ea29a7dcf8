//! Any text is read as a number of each family, or refused in a sentence.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tankhand::quantity::{UNITS, read_confidence, read_number};
use tankhand::words::is_harmless;

fuzz_target!(|text: &str| {
    for family in UNITS.iter().map(|unit| unit.family) {
        match read_number(text, family) {
            Ok(typed) => assert!(typed.number.is_finite()),
            Err(why) => assert!(!is_harmless(text) || is_harmless(&why.to_string())),
        }
    }
    if let Ok(confidence) = read_confidence(text) {
        assert!((0.5..1.0).contains(&confidence));
    }
});
