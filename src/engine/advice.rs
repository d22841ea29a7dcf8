//! What would decide a check that can't tell: more readings, a longer wait, a finer gauge,
//! whichever is cheapest, all estimates taken to stay where they are.

use super::run::Run;
use super::sensitivity::Sensitivity;
use super::uncertainty_source::UncertaintySource;
use crate::lang::Value;
use crate::procedure::Check;
use crate::quantity::{Family, Measure, SourceId};
use crate::record::Entry;
use crate::system::{Accuracy, FINEST_SHARE, Gauge, finest};
use crate::words::list;

/// More readings of one thing than this nobody takes.
const MOST_READINGS: u32 = 9;

/// Times a person may be asked to wait, in minutes.
const WAITS: &[f64] =
    &[5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0, 90.0, 120.0, 180.0, 240.0, 360.0, 480.0, 720.0, 1440.0];

/// A gauge much finer than the present one is not to be had where no finest is known.
const MUCH_FINER: f64 = 20.0;

const TOO_CLOSE: &str = "No common gauge settles this: the value is too close to the limit.";
const ALL_FINER: &str = "It would take finer gauges throughout to settle this.";
const TOO_FAR_APART: &str = "The readings lie too far apart for a finer gauge to settle this.";

/// A gauge that takes part in a check.
struct AdvisedGauge<'r> {
    gauge: &'r Gauge,
    /// What it is good to now: the smallest limit of error it has anywhere, SI or a share.
    present: f64,
    /// The limits to advise, the coarsest first.
    ladder: Vec<f64>,
    /// The sources of uncertainty that are divisions of it.
    divisions: Vec<SourceId>,
}

impl Run {
    /// What would decide a check that can't tell, in a sentence; `None` when nothing can be said.
    pub(super) fn advice(&self, check: &Check) -> Option<String> {
        let sensitivity = Sensitivity::new(self, check);
        let improvement = self.by_readings(&sensitivity).or_else(|| self.by_waiting(check, &sensitivity));
        if let Some(how) = improvement {
            return Some(format!("As the figures stand, {how} would settle it."));
        }
        let parts = self.gauges_in(&sensitivity);
        let apart = sensitivity
            .sources
            .keys()
            .any(|source| matches!(self.uncertainty_source(*source), Some(UncertaintySource::Spread(_))));
        if parts.is_empty() {
            return apart.then(|| TOO_FAR_APART.to_string());
        }
        Some(match self.by_a_gauge(&sensitivity, &parts) {
            Some(how) => format!("As the figures stand, {how} would settle it."),
            None if sensitivity.decides(&finer(&parts, |part| part.ladder.last().copied())) => {
                ALL_FINER.to_string()
            }
            None if apart => TOO_FAR_APART.to_string(),
            None => TOO_CLOSE.to_string(),
        })
    }

    /// The fewest readings of one step that would do in place of those taken. One reading alone says nothing
    /// of how readings scatter, and equal ones are rounded alike: there more of them promise nothing.
    fn by_readings(&self, sensitivity: &Sensitivity<'_>) -> Option<String> {
        let needed = |(step, so_far): (String, u32)| {
            let fits = !sensitivity.uses_series_of(&step);
            let enough = |n: &u32| fits && sensitivity.decides_by_readings(&step, *n);
            least(so_far + 1..=MOST_READINGS, enough).map(|n| (n, so_far, step))
        };
        let found = sensitivity.repeated().into_iter().filter_map(needed);
        let (n, so_far, step) = found.min_by_key(|(n, _, _)| *n)?;
        Some(format!("{n} readings of {} instead of {so_far}", self.setting.procedure.label(&step)))
    }

    /// The shortest longer time that would do, where the check says what it was measured over. What was lost
    /// grows with the time, and so does what a rate is worth beside the uncertainty of the readings.
    fn by_waiting(&self, check: &Check, sensitivity: &Sensitivity<'_>) -> Option<String> {
        let over = check.over.as_ref()?;
        let time = over.value(&self.state.names).ok()?;
        let minutes = time.amount()?.value() / 60.0;
        let mut names = Vec::new();
        over.expr().names(&mut |name, _| names.push(name.to_string()));
        let rate = names.iter().any(|name| sensitivity.rests_on(name));
        let longer = |wait: &&f64| minutes > 0.0 && **wait > minutes;
        let enough = |wait: &&f64| match rate {
            true => sensitivity.decides(&|_| minutes / **wait),
            false => sensitivity.decides_grown(**wait / minutes),
        };
        let wait = least(WAITS.iter().filter(longer), enough)?;
        let shown = Value::exact(Measure::Duration, wait * 60.0).shown(self.setting.units);
        Some(format!("a test of {shown} instead of {}", time.shown(self.setting.units)))
    }

    /// The gauges in a check, the one that leaves most uncertainty first.
    fn gauges_in<'r>(&'r self, sensitivity: &Sensitivity<'r>) -> Vec<AdvisedGauge<'r>> {
        let mut parts: Vec<(f64, AdvisedGauge<'r>)> = Vec::new();
        let readings = sensitivity.readings();
        for gauge in self.setting.system.gauges() {
            let of_it = |entry: &&&Entry| entry.gauge.as_deref() == Some(gauge.id.as_ref());
            let divisions: Vec<SourceId> =
                readings.iter().filter(of_it).map(|entry| SourceId::Reading(entry.n)).collect();
            let accuracy = gauge.source().and_then(|source| sensitivity.sources.get(&source)).copied();
            if divisions.is_empty() && accuracy.is_none() {
                continue;
            }
            let own = divisions.iter().filter_map(|source| sensitivity.sources.get(source));
            let uncertainty = own.map(|part| part * part).sum::<f64>() + accuracy.unwrap_or(0.0).powi(2);
            let (present, ladder) = self.ladder(gauge);
            parts.push((uncertainty, AdvisedGauge { gauge, present, ladder, divisions }));
        }
        parts.sort_by(|(a, _), (b, _)| b.total_cmp(a));
        parts.into_iter().map(|(_, part)| part).collect()
    }

    /// What a gauge is good to, and the finer figures that could be advised, the coarsest first.
    /// One whose marks are coarser than it is good can be bettered by finer marks alone.
    fn ladder(&self, gauge: &Gauge) -> (f64, Vec<f64>) {
        let present = match gauge.accuracy {
            Accuracy::Share(share) => return (share, rounded_below(share, FINEST_SHARE, 0.01)),
            Accuracy::Within(limit) => limit,
            Accuracy::Grade(grade) => grade.least() * gauge.span.unwrap_or(0.0),
        };
        let unit = self.setting.units.unit_for(gauge.family.usual()).map_or(1.0, |unit| unit.size);
        let coarsest = present.max(gauge.division);
        let least = finest(gauge.family).unwrap_or(coarsest / MUCH_FINER);
        (present, rounded_below(coarsest, least, unit))
    }

    /// The coarsest finer gauge that would do: in place of one, else in place of all of a sort.
    fn by_a_gauge(&self, sensitivity: &Sensitivity<'_>, parts: &[AdvisedGauge<'_>]) -> Option<String> {
        for part in parts {
            let one = std::slice::from_ref(part);
            let enough = |limit: &&f64| sensitivity.decides(&finer(one, |_| Some(**limit)));
            if let Some(limit) = least(part.ladder.iter(), enough) {
                let good_to = self.good_to(one, *limit, sensitivity);
                return Some(format!("{good_to} in place of the {}", part.gauge.called()));
            }
        }
        let first = parts.first().filter(|_| parts.len() > 1)?;
        let alike = |part: &AdvisedGauge<'_>| {
            part.gauge.family == first.gauge.family && is_share(part.gauge) == is_share(first.gauge)
        };
        if !parts.iter().all(alike) {
            return None;
        }
        let enough = |limit: &&f64| sensitivity.decides(&finer(parts, |part| Some(limit.min(part.present))));
        let limit = least(first.ladder.iter(), enough)?;
        let called: Vec<String> = parts.iter().map(|part| format!("the {}", part.gauge.called())).collect();
        let good_to = self.good_to(parts, *limit, sensitivity);
        Some(format!("{good_to} in place of {}", list(&called, "and")))
    }

    /// `a gauge good to 0.5 psi`, or in the plural; where the marks alone matter, `marked every`.
    fn good_to(&self, parts: &[AdvisedGauge<'_>], limit: f64, sensitivity: &Sensitivity<'_>) -> String {
        let gauge = parts[0].gauge;
        let what = match gauge.family {
            Family::Pressure => ["a gauge", "gauges"],
            Family::Temperature => ["a thermometer", "thermometers"],
            Family::Time => ["a watch", "watches"],
            Family::Mass => ["a scale", "scales"],
            Family::Volume
            | Family::Flow
            | Family::Length
            | Family::Power
            | Family::Concentration
            | Family::MassConcentration
            | Family::Number => ["a measure", "measures"],
        }[usize::from(parts.len() > 1)];
        if is_share(gauge) {
            return format!("{what} good to {} %", crate::quantity::show_number(100.0 * limit, 0.0));
        }
        let measure = gauge.family.usual().difference();
        let word = if marks_alone(sensitivity, parts) { "marked every" } else { "good to" };
        format!("{what} {word} {}", Value::exact(measure, limit).shown(self.setting.units))
    }
}

/// The least of several improvements that is enough; none where not even the greatest, the last, is.
fn least<T>(
    mut improvements: impl DoubleEndedIterator<Item = T> + Clone,
    enough: impl Fn(&T) -> bool,
) -> Option<T> {
    let greatest = improvements.clone().next_back()?;
    if enough(&greatest) { improvements.find(enough) } else { None }
}

fn is_share(gauge: &Gauge) -> bool {
    matches!(gauge.accuracy, Accuracy::Share(_))
}

/// Whether only the marks of these gauges leave uncertainty: what they are off cancels.
fn marks_alone(sensitivity: &Sensitivity<'_>, parts: &[AdvisedGauge<'_>]) -> bool {
    let among = |source| sensitivity.sources.contains_key(&source);
    parts.iter().all(|part| !part.gauge.source().is_some_and(among))
}

/// The factors by which the sources shrink when gauges are good to what `limit` says, with marks
/// no coarser than that.
fn finer<'p>(
    parts: &'p [AdvisedGauge<'_>],
    limit: impl Fn(&AdvisedGauge<'_>) -> Option<f64> + 'p,
) -> impl Fn(SourceId) -> f64 + 'p {
    move |source| {
        for part in parts {
            let Some(limit) = limit(part) else { continue };
            if Some(source) == part.gauge.source() {
                return (limit / part.present).min(1.0);
            }
            if part.divisions.contains(&source) && !is_share(part.gauge) {
                return (limit / part.gauge.division).min(1.0);
            }
        }
        1.0
    }
}

/// Figures of 1, 2 and 5 in a unit, below one limit and not below another, the greatest first.
fn rounded_below(present: f64, least: f64, unit: f64) -> Vec<f64> {
    let mut figures = Vec::new();
    if !(present > 0.0 && least > 0.0 && unit > 0.0) {
        return figures;
    }
    let mut power = (present / unit).log10().floor() as i32;
    while 10f64.powi(power + 1) * unit > least * 0.999 && figures.len() < 30 {
        let all = [5.0, 2.0, 1.0].map(|digit| digit * 10f64.powi(power) * unit);
        figures.extend(all.into_iter().filter(|figure| *figure < present * 0.999 && *figure > least * 0.999));
        power -= 1;
    }
    figures
}

#[cfg(test)]
mod tests {
    use super::rounded_below;

    #[test]
    fn figures_to_advise_are_round_and_below_the_present_one() {
        assert_eq!(rounded_below(2.0, 0.1, 1.0), [1.0, 0.5, 0.2, 0.1]);
        assert_eq!(rounded_below(0.03, 0.005, 0.01), [0.02, 0.01, 0.005]);
        assert_eq!(rounded_below(0.1, 0.1, 1.0), [0.0; 0]);
        assert_eq!(rounded_below(f64::NAN, 0.1, 1.0), [0.0; 0]);
        // Both ends are held to a thousandth.
        assert_eq!(rounded_below(1.0, 0.50035, 1.0), [0.5]);
        assert_eq!(rounded_below(1.0, 0.5006, 1.0), [0.0; 0]);
        assert_eq!(rounded_below(1.0005, 0.5, 1.0), [0.5]);
        assert_eq!(rounded_below(1.002, 0.5, 1.0), [1.0, 0.5]);
        for nothing in [0.0, -1.0] {
            assert_eq!(rounded_below(nothing, 0.1, 1.0), [0.0; 0]);
            assert_eq!(rounded_below(1.0, nothing, 1.0), [0.0; 0]);
            assert_eq!(rounded_below(1.0, 0.1, nothing), [0.0; 0]);
        }
        assert_eq!(rounded_below(1.0, 1e-30, 1.0).len(), 30);
    }
}
