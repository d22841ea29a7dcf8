//! What a run reads with.

use std::borrow::Cow;

use super::observations::{Observation, Origin};
use super::run::Run;
use crate::procedure::{Observable, observable};
use crate::quantity::Uncertain;
use crate::record::Provenance;
use crate::system::Gauge;

impl Run {
    /// The gauge of that name: the owner's by the system file, else one as commonly found, with the smallest mark
    /// that the owner told.
    pub(super) fn gauge(&self, id: &str) -> Option<Cow<'_, Gauge>> {
        let gauge = self.setting.system.gauge(id)?;
        Some(match self.known_mark(id) {
            Some(mark) => Cow::Owned(gauge.marked(mark)),
            None => Cow::Borrowed(gauge),
        })
    }

    /// The smallest mark of a gauge, SI, where somebody told it.
    fn known_mark(&self, gauge: &str) -> Option<f64> {
        let newest = self.state.observations.iter().rev().find(|seen| {
            seen.origin == Origin::Fact
                && seen.provenance != Provenance::Assumed
                && observable(seen.observable).and_then(Observable::marks) == Some(gauge)
        });
        newest.and_then(Observation::si).filter(|mark| *mark > 0.0)
    }

    /// A reading's value with its uncertainties.
    pub(super) fn with_uncertainty(&self, si: f64, gauge: Option<&str>, entry: u64) -> Uncertain {
        match gauge.and_then(|id| self.gauge(id)) {
            Some(gauge) => gauge.read(si, entry),
            None => Uncertain::exact(si),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use crate::clock::Moment;
    use crate::engine::{EarlierAnswers, Run, RunInput, Setting};
    use crate::lang::Values;
    use crate::procedure::{LoadContext, NoParts, load};
    use crate::quantity::{PSI, Uncertain, Units};
    use crate::source::SourceText;
    use crate::system::{self, System};

    /// A reading of the tire gauge, and its mark.
    const STEPS: &str = r#"
format = 1
title = "t"
purpose = "p"

[[fact]]
id = "air_mark"
observes = "air_mark"
kind = "pressure change"
ask = "Its smallest mark?"
usual = "0.5 psi"

[[step]]
id = "air"
read = "pressure"
gauge = "air"
ask = "What does it show?"
"#;

    /// The resolution and the accuracy of a reading after these answers, psi.
    fn read(answers: &[&str], system: System) -> Vec<f64> {
        let now = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        let around = LoadContext { texts: &NoParts, paths: &[] };
        let setting = Setting {
            procedure: Arc::new(load(&SourceText::new("t.toml", STEPS), &around).unwrap()),
            name: "t".to_string(),
            system: Arc::new(system),
            tank: 0,
            units: Units::Us,
            past: EarlierAnswers::default(),
        };
        let mut run = Run::begin(setting, now).0;
        for answer in answers {
            run.take(RunInput::Answer(answer), now).unwrap();
        }
        assert_eq!(run.ask(), None, "nothing more is asked");
        let air = run.state.names.value("air").unwrap();
        air.amount().into_iter().flat_map(Uncertain::components).map(|(_, u)| u / PSI).collect()
    }

    #[test]
    fn a_told_mark_counts_and_is_not_asked_beside_a_system_file() {
        let [third, twelfth] = [3f64.sqrt(), 12f64.sqrt()];
        let file = |gauges: &str| {
            system::load(&SourceText::new("system.toml", format!("format = 1\n{gauges}"))).unwrap()
        };
        let coarse = "[[gauge]]\nid = \"air\"\ndivision = \"2 psi\"\n";
        let rows: [(&[&str], System, [f64; 2]); 6] = [
            (&["", "38 psi"], System::default(), [0.5 / twelfth, 1.0 / third]),
            (&["2 psi", "38 psi"], System::default(), [2.0 / twelfth, 2.0 / third]),
            (&["0.1 psi", "38 psi"], System::default(), [0.1 / twelfth, 1.0 / third]),
            (&["0 psi", "38 psi"], System::default(), [0.5 / twelfth, 1.0 / third]),
            (&["38 psi"], file(""), [0.5 / twelfth, 1.0 / third]),
            (&["38 psi"], file(coarse), [2.0 / twelfth, 2.0 / third]),
        ];
        for (answers, system, expected) in rows {
            let read = read(answers, system);
            assert!(read.iter().zip(expected).all(|(u, it)| (u - it).abs() < 1e-9), "{answers:?}: {read:?}");
        }
    }
}
