//! The figure of the switch: where the pump started and stopped, reading by reading, beside the precharge and
//! the limits; drawn for any record that tells cut-in and cut-out.

use crate::quantity::{Measure, Unit};
use crate::record::{Entry, EntryKind, Phase, observed, si_of};
use crate::report::answers::amount;
use crate::report::figure::{Axis, Figure, PlotMark, PlotShape, PlotTone, Point};
use crate::report::run_view::RunView;
use crate::words::list;

/// What is held against the switch, each with the word for it.
const LIMITS: [(&str, &str); 2] = [("relief_setting", "relief valve"), ("plate_limit", "plate limit")];

pub(super) fn figure(run: &RunView<'_>) -> Option<Figure> {
    let unit = run.contents.header.units.unit_for(Measure::Pressure)?;
    let limits = LIMITS.iter().filter_map(|(of, word)| across(run, (of, None), word, unit));
    let mut marks: Vec<PlotMark> = scatter(run, unit).into_iter().chain(limits).collect();
    marks.extend(across(run, ("precharge", Some(Phase::Left)), "precharge as left", unit));
    let found = ["cut_in", "cut_out"].map(|of| readings(run, of, Phase::Found, 0, unit).len());
    let after = found.into_iter().max().unwrap_or(0);
    let read = |observable: &str, phase, tone: PlotTone, word: &str| {
        let before = if phase == Phase::Left { after } else { 0 };
        let points = readings(run, observable, phase, before, unit);
        let label = format!("{} {word}", observable.replace('_', "-"));
        (!points.is_empty()).then_some(PlotMark::new(label, tone, PlotShape::Points(points)))
    };
    let mut lines = Vec::new();
    for observable in ["cut_in", "cut_out"] {
        lines.extend(read(observable, Phase::Found, PlotTone::Earlier, "as found"));
        lines.extend(read(observable, Phase::Left, PlotTone::Measured, "as left"));
    }
    let seen = |name: &str| lines.iter().any(|mark| mark.label.starts_with(name));
    if !(seen("cut-in") && seen("cut-out")) {
        return None;
    }
    let names: Vec<String> = lines.iter().map(|mark| mark.label.clone()).collect();
    marks.extend(lines);
    Some(Figure {
        title: "The switch".to_string(),
        says: format!(
            "{}, each reading with its limits at 95 %; as found are open squares, as left dots; a band \
             shows how far the starts scatter. The precharge belongs below the lowest cut-in, cut-out below the limits.",
            crate::words::capitalized(&list(&names, "and"))
        ),
        x: Axis { whole: true, ..Axis::even("reading, as found, then as left") },
        y: Axis::even(format!("pressure, {}", unit.symbol)),
        marks,
    })
}

/// Between which pressures the pump started, of the later of found and left of which there are several.
fn scatter(run: &RunView<'_>, unit: &Unit) -> Option<PlotMark> {
    let starts = |phase| readings(run, "cut_in", phase, 0, unit);
    let several = [Phase::Left, Phase::Found].map(starts).into_iter().find(|starts| starts.len() > 1)?;
    let low = several.iter().map(|point| point.y).fold(f64::INFINITY, f64::min);
    let high = several.iter().map(|point| point.y).fold(f64::NEG_INFINITY, f64::max);
    (high > low).then(|| PlotMark::new("scatter of cut-in", PlotTone::Limit, PlotShape::Band(low, high)))
}

/// Every reading of a thing in one phase, in its order, counted on from those before.
fn readings(run: &RunView<'_>, observable: &str, phase: Phase, before: usize, unit: &Unit) -> Vec<Point> {
    let of = |entry: &&Entry| {
        entry.kind == EntryKind::Reading
            && entry.phase == Some(phase)
            && entry.observes.as_deref() == Some(observable)
    };
    let read = (before + 1..).zip(run.entries.iter().copied().filter(of));
    read.filter_map(|(x, entry)| Point::of(x as f64, entry, Measure::Pressure, unit)).collect()
}

/// A line across at what stands for a thing.
fn across(
    run: &RunView<'_>,
    (of, phase): (&str, Option<Phase>),
    word: &str,
    unit: &Unit,
) -> Option<PlotMark> {
    let entry = observed(&run.entries, of, phase)?;
    let at = unit.number_of(Measure::Pressure, si_of(entry, Measure::Pressure)?);
    Some(PlotMark::new(format!("{word} {}", amount(entry)?), PlotTone::Limit, PlotShape::Across(at)))
}
