//! Any text is read as an expression or refused; what is read prints as what reads the same, and
//! what has a value can be worked out and explained.
#![no_main]

mod harmless;

use libfuzzer_sys::fuzz_target;
use tankhand::app::{Calculation, Failure, calc};
use tankhand::lang::parse;
use tankhand::quantity::Units;
use tankhand::report::faults_text;

fuzz_target!(|text: &str| {
    match parse(text) {
        Ok(expr) => assert_eq!(parse(&expr.to_string()).as_ref(), Ok(&expr), "{expr}"),
        Err(problem) => assert!(problem.span.end <= text.len(), "{problem:?}"),
    }
    let mut shown = Vec::new();
    let wanted = Calculation { expression: text.to_string(), explain: true, units: Units::Us };
    match calc(&wanted, 80, &mut shown) {
        Err(Failure::Faults(faults)) => harmless::text(&faults_text(&faults, 80, false)),
        Err(failure) => harmless::text(&failure.to_string()),
        Ok(_) => harmless::text(&String::from_utf8(shown).unwrap()),
    }
});
