//! What stands there: the facts the run began with.

use crate::record::{Entry, EntryKind};
use crate::report::answers::answer;
use crate::report::run_view::RunView;
use crate::report::{Page, Row};

impl RunView<'_> {
    /// Adds the facts of the installation.
    pub(super) fn put_installation(&self, page: &mut Page) {
        let row = |entry: &Entry| {
            let path = self.steps.fact(&entry.step).and_then(|fact| fact.from.as_deref());
            let label = match path.filter(|_| entry.round.is_empty()) {
                Some(path) => spoken(path),
                None => spoken(&self.steps.label_of(entry)),
            };
            Row::new([label, answer(entry)])
        };
        page.headed_table("Installation", &[], self.of_kind(EntryKind::Fact).map(row));
    }
}

/// A name of the system file in words: `switch.cut_in` is the switch's cut-in.
fn spoken(path: &str) -> String {
    path.replace(['.', '_'], " ").replace("cut in", "cut-in").replace("cut out", "cut-out")
}
