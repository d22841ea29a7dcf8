//! Any text is loaded as a system file or refused with reasons.
#![no_main]

mod harmless;

use libfuzzer_sys::fuzz_target;
use tankhand::report::faults_text;
use tankhand::source::SourceText;

fuzz_target!(|text: &str| {
    if let Err(faults) = tankhand::system::load(&SourceText::new("any.toml", text)) {
        harmless::text(&faults_text(&faults, 80, false));
    }
});
