//! A verb that only its own file and one line of the table know goes all the way: read and proven,
//! asked and answered, on paper, in the guide and in the schema.

use std::sync::Arc;

use super::Library;
use crate::clock::Moment;
use crate::engine::{AnswerKind, EarlierAnswers, Refusal, Run, RunInput, Setting};
use crate::procedure::{Procedure, Slot};
use crate::quantity::{Measure, Units};
use crate::record::EntryKind;
use crate::report::{Places, guide_page, procedure_page, procedure_schema, to_text, worksheet};
use crate::source::SourceText;
use crate::system::System;

const STEPS: &str = r#"format = 1
title = "Count"
purpose = "To count."
[[step]]
id = "valves"
tally = "How many valves stand open?"
most = 4
skip = true
[[step]]
when = "valves > 0"
do = "Shut the {valves} valves."
"#;

fn load(text: &str) -> Result<Procedure, Vec<String>> {
    let source = SourceText::new("procedures/count.toml", text);
    let heading = |fault: &crate::source::Fault| format!("[{}] {}", fault.code, fault.heading());
    Library::default().load_source(&source).map_err(|faults| faults.iter().map(heading).collect())
}

fn begun() -> (Run, Moment) {
    let setting = Setting {
        procedure: Arc::new(load(STEPS).unwrap()),
        name: "count".to_string(),
        system: Arc::new(System::default()),
        tank: 0,
        units: Units::Us,
        past: EarlierAnswers::default(),
    };
    let now = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
    (Run::begin(setting, now).0, now)
}

#[test]
fn it_is_read_and_proven() {
    let faults = |text: &str| load(text).unwrap_err();
    let unproven = STEPS.replace("when = \"valves > 0\"\n", "");
    assert_eq!(
        faults(&unproven),
        ["[maybe-unknown] procedures/count.toml:10:17: `valves` may not be known here"]
    );
    assert_eq!(
        faults(&STEPS.replace("most = 4", "msot = 4")),
        ["[unknown-key] procedures/count.toml:7:1: there is no key `msot` here"]
    );
}

#[test]
fn it_is_asked_and_answered() {
    let (mut run, now) = begun();
    let ask = run.ask().unwrap();
    assert_eq!(
        (ask.text.as_str(), ask.expects),
        ("How many valves stand open?", AnswerKind::Number(Measure::Count, None))
    );
    let refused = run.take(RunInput::Answer("5"), now).unwrap_err();
    assert_eq!(refused, Refusal::Again("There are 4 at most.".to_string()));
    let events = run.take(RunInput::Answer("3"), now).unwrap();
    let kept: Vec<_> = events.iter().map(|event| (event.entry.kind, event.entry.value)).collect();
    assert_eq!(kept, [(EntryKind::Reading, Some(3.0))]);
    assert_eq!(run.ask().unwrap().text, "Shut the 3 valves.");
}

#[test]
fn it_stands_on_paper_in_guide_and_schema() {
    let procedure = load(STEPS).unwrap();
    let page = to_text(&procedure_page("count", &procedure, Places::Left), 80);
    assert_eq!(
        page[page.len() - 5..],
        [
            "1  Count: How many valves stand open?",
            "   At most: 4",
            "   May be skipped, with a reason.",
            "2  Only if: valves > 0",
            "   Shut the {valves} valves."
        ]
    );
    let sheet = worksheet("count", &procedure, (&System::default(), 0), Units::Us);
    let items = sheet.sections.iter().flat_map(|section| &section.items);
    let slots: Vec<&Slot> = items.map(|item| &item.line.slot).collect();
    assert_eq!(slots, [&Slot::Numbers(None, 1), &Slot::Tick]);
    let guide = to_text(&guide_page("steps").unwrap(), 120);
    let row = guide.iter().find(|line| line.starts_with("tally")).unwrap();
    assert_eq!(
        row.split_whitespace().collect::<Vec<_>>().join(" "),
        "tally text with {…} how many of something there are most"
    );
    let schema = procedure_schema();
    let verbs = schema["$defs"]["step"]["allOf"].as_array().unwrap();
    let tally = verbs.iter().find(|verb| verb["then"]["title"] == "tally").unwrap();
    assert_eq!(tally["then"]["properties"]["most"]["maximum"], 100);
}
