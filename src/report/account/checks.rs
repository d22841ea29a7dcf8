//! The checks of a run, each with how far it was from the other verdict.

use crate::procedure::LoopKind;
use crate::quantity::{Measure, Scalar, Uncertain, Units, Verdict, show_briefly, show_with_limits};
use crate::record::Entry;
use crate::report::run_view::RunView;
use crate::report::wording::percent;
use crate::report::{Page, Row};

impl RunView<'_> {
    /// Adds the checks: those that failed first, then those that could not tell.
    pub(super) fn put_checks(&self, page: &mut Page) {
        let mut checks = self.checks.clone();
        checks.sort_by_key(|check| match check.verdict {
            Some(Verdict::Fail) => 0,
            Some(Verdict::Unsure) | None => 1,
            Some(Verdict::Pass) => 2,
        });
        let row = |check: &Entry| {
            let cells = [
                check.verdict.map_or("", Verdict::word).to_string(),
                self.steps.label_of(check),
                self.margin(check),
                check.said.clone().unwrap_or_default(),
            ];
            Row { verdict: check.verdict, ..Row::new(cells) }
        };
        let rows = checks.into_iter().map(row);
        page.headed_table("Checks", &["Verdict", "Check", "Margin", "What was told"], rows);
    }

    /// How far a check was from failing or holding, with its limits; how likely it holds when the
    /// numbers do not tell.
    fn margin(&self, check: &Entry) -> String {
        let units = self.contents.header.units;
        let margin = self.margin_of(check).map(|(measure, margin)| worded(measure, &margin, units));
        let unsure = check.truth.filter(|_| check.verdict == Some(Verdict::Unsure));
        let chance = unsure.map(|truth| format!("holds with a chance of {}", percent(truth.least)));
        [margin, chance].into_iter().flatten().collect::<Vec<_>>().join("\n")
    }

    fn margin_of(&self, check: &Entry) -> Option<(Measure, Uncertain)> {
        let placed = self.steps.get(&check.step)?;
        // What a run ends with are the values of its last tank.
        let of_one = !placed.around.contains(&LoopKind::Each);
        let check_made = placed.step.course().checks()?;
        let (measure, margin) = check_made.expr.margin(self.values.filter(|_| of_one)?)?;
        // A margin that speaks against the verdict on record was made from other numbers.
        let agrees = check.truth.is_some_and(|truth| truth.best == (Scalar::value(&margin) >= 0.0));
        agrees.then_some((measure, margin))
    }
}

fn worded(measure: Measure, margin: &Uncertain, units: Units) -> String {
    let worded = |margin: &Uncertain| match margin.standard_uncertainty() > 0.0 {
        true => show_with_limits(measure, margin, units),
        false => show_briefly(measure, margin, units),
    };
    let tiny = 1e-9 * (1.0 + margin.standard_uncertainty());
    if margin.value() < -tiny {
        format!("missed by {}", worded(&-margin.clone()))
    } else {
        format!("{} to spare", worded(margin))
    }
}
