//! Doubt, played against the engine alone: what it comes from, and what would settle a check.

mod support;

use support::{setting, start};
use tankhand::engine::{Event, Input, Refusal, Run};

/// A run played through with these answers, and the events of it all.
fn played(steps: &str, system: &str, answers: &[&str]) -> (Run, Vec<Event>) {
    let (mut run, mut events) = Run::begin(setting(steps, system), start());
    for answer in answers {
        events.extend(run.take(Input::Answer(answer, false), start()).unwrap());
    }
    (run, events)
}

const DOUBTS: &str = r#"
step = [
  { id = "air", label = "air as found", read = "pressure", ask = "Air", times = 2, gauge = "air" },
  { id = "line", read = "pressure", ask = "Line", gauge = "line" },
  { id = "above", compute = "line - air" },
]
"#;

#[test]
fn every_source_of_doubt_has_a_name() {
    let (run, _) = played(DOUBTS, "", &["28", "28.5", "40"]);
    let above = run.value("above").unwrap();
    let mut names: Vec<String> =
        above.amount().unwrap().parts().iter().map(|(source, _)| run.source_name(*source).unwrap()).collect();
    names.sort();
    assert_eq!(
        names,
        [
            "accuracy of the line gauge",
            "accuracy of the tire gauge",
            "division of the line gauge, line",
            "division of the tire gauge, air as found, reading 1",
            "division of the tire gauge, air as found, reading 2",
            "spread of the readings of air as found",
        ]
    );
    assert_eq!(run.source_name(tankhand::quantity::SourceId(99)), None);
}

#[test]
fn a_reading_past_the_end_of_the_dial_is_questioned() {
    let system = "format = 1\n[[gauge]]\nid = \"line\"\nspan = \"60 psi\"\n";
    let (mut run, _) =
        played("step = [{ id = \"p\", read = \"pressure\", ask = \"P\", gauge = \"line\" }]", system, &[]);
    let refusal = run.take(Input::Answer("62", false), start()).unwrap_err();
    assert_eq!(refusal, Refusal::Doubt("The line gauge only goes to 60 psi, by your system file.".into()));
    assert!(run.take(Input::Answer("62", true), start()).is_ok());
}
