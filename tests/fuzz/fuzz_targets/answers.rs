//! Any text is read as a file of answers or refused with reasons.
#![no_main]

mod harmless;

use libfuzzer_sys::fuzz_target;
use tankhand::console::Script;
use tankhand::report::faults_text;
use tankhand::source::SourceText;

fuzz_target!(|text: &str| {
    if let Err(faults) = Script::load(&SourceText::new("any.toml", text)) {
        harmless::text(&faults_text(&faults, 80, false));
    }
});
