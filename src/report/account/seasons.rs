//! The figure of the precharge over the temperatures of a year: what the air that was set will show when it is
//! colder or warmer, beside cut-in.

use crate::physics::precharge_at;
use crate::quantity::{Measure, show_number};
use crate::record::{EntryKind, Phase, observed, si_of, temperature_at};
use crate::report::figure::{Axis, Figure, PlotMark, PlotShape, PlotTone, Point};
use crate::report::run_view::RunView;

/// In how many pieces the line is drawn.
const SEASON_PIECES: u32 = 8;

pub(super) fn figure(run: &RunView<'_>) -> Option<Figure> {
    let units = run.contents.header.units;
    let (psi, degrees) = (units.unit_for(Measure::Pressure)?, units.unit_for(Measure::Temperature)?);
    let set = observed(&run.entries, "precharge", Some(Phase::Left))
        .filter(|_| run.contents.header.tanks.is_empty())?;
    let at = si_of(temperature_at(&run.entries, set)?, Measure::Temperature)?;
    let precharge = si_of(set, Measure::Pressure)?;
    let facts = run.entries.iter().filter(|entry| entry.kind == EntryKind::Fact);
    let temperatures: Vec<f64> = facts
        .filter(|entry| entry.observes.as_deref() == Some("tank_temperature"))
        .filter_map(|entry| si_of(entry, Measure::Temperature))
        .collect();
    let coldest = temperatures.iter().copied().fold(at, f64::min);
    let warmest = temperatures.iter().copied().fold(at, f64::max);
    let elevation = observed(&run.entries, "elevation", None).and_then(|entry| si_of(entry, Measure::Length));
    let place = |temperature: f64| {
        let shows = precharge_at(precharge, at, temperature, elevation.unwrap_or(0.0)).ok()?;
        let x = degrees.number_of(Measure::Temperature, temperature);
        Some((x, psi.number_of(Measure::Pressure, shows)))
    };
    let step = |n: u32| coldest + (warmest - coldest) * f64::from(n) / f64::from(SEASON_PIECES);
    let places: Vec<(f64, f64)> = (0..=SEASON_PIECES).filter_map(|n| place(step(n))).collect();
    let (x, _) = place(at).filter(|_| warmest - coldest > 1.0)?;
    let point = Point::of(x, set, Measure::Pressure, psi)?;
    let cut_in = observed(&run.entries, "cut_in", Some(Phase::Left))
        .or_else(|| observed(&run.entries, "cut_in", Some(Phase::Found)))
        .and_then(|entry| si_of(entry, Measure::Pressure));
    let across = cut_in.map(|cut_in| {
        let at = psi.number_of(Measure::Pressure, cut_in);
        PlotMark::new(format!("cut-in {}", show_number(at, 0.02)), PlotTone::Limit, PlotShape::Across(at))
    });
    let line = PlotMark::new("the same air", PlotTone::Computed, PlotShape::Line(places));
    let read = PlotMark::new("as left", PlotTone::Measured, PlotShape::Points(vec![point]));
    Some(Figure {
        title: "Precharge over the year".to_string(),
        says: "What the tire gauge shows of the same air on the coldest and on the warmest day, with the tank empty. On \
               the warmest day it has to stay below cut-in."
            .to_string(),
        x: Axis::even(format!("temperature at the tank, {}", degrees.symbol)),
        y: Axis::even(format!("precharge, {}", psi.symbol)),
        marks: across.into_iter().chain([line, read]).collect(),
    })
}
