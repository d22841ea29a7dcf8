//! Records of whole runs as pages.

use tankhand::report::{Page, procedure_page, record_page, summary_page, to_text};

use crate::golden;
use crate::samples::{Played, SMALL, eventful, loaded};

fn at_both_widths(name: &str, page: &Page) {
    for width in [80, 40] {
        golden::holds(&format!("{name}-{width}.txt"), &(to_text(page, width).join("\n") + "\n"));
    }
}

#[test]
fn a_run_is_summed_up() {
    let (contents, procedure) = eventful();
    at_both_widths("summary", &summary_page(&contents, Some(&procedure)));
}

#[test]
fn without_the_procedure_every_answer_is_listed() {
    let (contents, _) = eventful();
    at_both_widths("summary-bare", &summary_page(&contents, None));
}

#[test]
fn a_run_that_stopped_or_has_not_ended_says_so() {
    let mut run = Played::begin(loaded(SMALL));
    run.answers(&["30", "jet", "understood", "104", "106"]);
    let (contents, procedure) = run.record();
    at_both_widths("summary-not-ended", &summary_page(&contents, Some(&procedure)));
    run.answers(&["70 F", "clear", "clear"]);
    run.then(tankhand::engine::Input::WaitBegins);
    run.then(tankhand::engine::Input::WaitOver(std::time::Duration::from_secs(60)));
    let (contents, procedure) = run.record();
    at_both_widths("summary-failed", &summary_page(&contents, Some(&procedure)));
}

#[test]
fn the_whole_record_is_read_out() {
    let (contents, procedure) = eventful();
    at_both_widths("record", &record_page(&contents, Some(&procedure), Some("every seal holds")));
    at_both_widths("record-bare", &record_page(&contents, None, None));
}

#[test]
fn a_procedure_is_read_out() {
    at_both_widths("procedure", &procedure_page("small", &loaded(SMALL)));
}
