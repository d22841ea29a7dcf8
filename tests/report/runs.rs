//! Records of whole runs as pages.

use tankhand::record::{ForeignEntry, TornTail};
use tankhand::report::{Page, Places, RunView, procedure_page, record_page, summary_page, to_text};
use tankhand::source::SourceText;
use tankhand::system::{self, System};

use crate::golden;
use crate::samples::{LOOPS, SMALL, TWO_TANKS, begun, eventful, loaded, record};

fn at_both_widths(name: &str, page: &Page) {
    for width in [80, 40] {
        golden::holds(
            &format!("tests/report/golden/{name}-{width}.txt"),
            &(to_text(page, width).join("\n") + "\n"),
        );
    }
}

#[test]
fn a_run_is_summed_up() {
    let (contents, procedure) = eventful();
    at_both_widths("summary", &summary_page(&RunView::new(&contents, Some(&procedure))));
}

#[test]
fn without_the_procedure_every_answer_is_listed() {
    let (contents, _) = eventful();
    at_both_widths("summary-bare", &summary_page(&RunView::new(&contents, None)));
}

#[test]
fn a_run_that_stopped_or_has_not_ended_says_so() {
    let mut run = begun(loaded(SMALL), System::default());
    run.answers(["30", "jet", "understood", "", "104", "106"]);
    let (contents, procedure) = record(&run);
    at_both_widths("summary-not-ended", &summary_page(&RunView::new(&contents, Some(&procedure))));
    run.answers(["70 F", "clear", "clear"]);
    run.then(tankhand::engine::RunInput::WaitBegins);
    run.then(tankhand::engine::RunInput::WaitOver(std::time::Duration::from_secs(60)));
    let (contents, procedure) = record(&run);
    at_both_widths("summary-failed", &summary_page(&RunView::new(&contents, Some(&procedure))));
}

#[test]
fn the_whole_record_is_read_out() {
    let (contents, procedure) = eventful();
    at_both_widths(
        "record",
        &record_page(&RunView::new(&contents, Some(&procedure)), Some("every seal holds")),
    );
    at_both_widths("record-bare", &record_page(&RunView::new(&contents, None), None));
}

#[test]
fn a_procedure_is_read_out() {
    at_both_widths("procedure", &procedure_page("small", &loaded(SMALL), Places::Left));
}

#[test]
fn rounds_and_tanks_are_told_apart() {
    let system = system::load(&SourceText::new("well.toml", TWO_TANKS)).unwrap();
    let mut run = begun(loaded(LOOPS), system);
    run.answers(["29.5", "29.6", "sound", "44 gal", "20", "25", "28.5", "29.8", "sound"]);
    let (contents, procedure) = record(&run);
    assert!(contents.summary.is_some());
    at_both_widths("loops-summary", &summary_page(&RunView::new(&contents, Some(&procedure))));
    at_both_widths("loops-record", &record_page(&RunView::new(&contents, Some(&procedure)), None));
    at_both_widths("loops-procedure", &procedure_page("loops", &procedure, Places::Left));
}

#[test]
fn a_torn_end_and_entries_of_a_later_version_are_told() {
    let (mut contents, procedure) = eventful();
    contents.entries.truncate(2);
    contents.summary = None;
    contents.foreign.push(ForeignEntry { n: 3, kind: "photograph".into(), fields: toml::Table::new() });
    contents.torn = Some(TornTail {
        offset: 4_000,
        line: 210,
        length: 31,
        text: "\n[[entry]]\nn = 4".to_string(),
        added: false,
        step: Some("breaker".to_string()),
        given: None,
    });
    at_both_widths("torn-summary", &summary_page(&RunView::new(&contents, Some(&procedure))));
    at_both_widths(
        "torn-record",
        &record_page(&RunView::new(&contents, Some(&procedure)), Some("entry 4 is cut off")),
    );
}
