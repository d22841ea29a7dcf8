//! Shared by tests: loading a procedure from a text, and one place for time.
#![allow(dead_code)]

use std::sync::Arc;

use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::Setting;
use tankhand::procedure::Procedure;
use tankhand::quantity::Units;
use tankhand::source::SourceText;
use tankhand::system::{self, System};

/// The moment at which tests begin.
pub fn start() -> Moment {
    Moment::parse("2031-04-05T09:00:00-05:00").unwrap()
}

/// A procedure from its steps; `head` keys are added.
pub fn procedure(steps: &str) -> Procedure {
    let text = format!("format = 1\ntitle = \"Test\"\npurpose = \"To test.\"\n{steps}");
    match Library::default().load_source(&SourceText::new("procedures/test.toml", text)) {
        Ok(procedure) => procedure,
        Err(faults) => panic!("{}", faults.iter().map(|f| f.heading() + "\n").collect::<String>()),
    }
}

/// A setting with an installation described by a system file's text.
pub fn setting(steps: &str, system_text: &str) -> Setting {
    let system = match system_text {
        "" => System::default(),
        text => system::load(&SourceText::new("system.toml", text)).unwrap(),
    };
    Setting {
        procedure: Arc::new(procedure(steps)),
        name: "test".to_string(),
        system: Arc::new(system),
        tank: 0,
        units: Units::Us,
        past: tankhand::engine::EarlierAnswers::default(),
    }
}
