//! The figures of a trend: precharges at one temperature over the years with the fitted lines, and below them
//! the drawdown at the same times.

use super::analysis::{Corrected, Fitted, TrendAnalysis};
use super::history::RecordedValue;
use super::order::TrendOrder;
use crate::physics::{MONTH, Reading};
use crate::quantity::Measure;
use crate::report::figure::{Axis, Figure, PlotMark, PlotShape, PlotTone, Point, Spread};

/// In how many pieces limits are drawn.
const LIMIT_PIECES: u32 = 12;
/// A line is carried on for so long at most; s. Further off no line is that sure.
const FURTHEST: f64 = 36.0 * MONTH;

/// The precharge, and the drawdown below it where it was caught, on one axis of time.
pub(super) fn panels(analysis: &TrendAnalysis<'_>, order: &TrendOrder<'_>, says: String) -> Vec<Figure> {
    let precharge = precharge(analysis, order, says);
    match (precharge, drawdown(analysis, order)) {
        (Some(precharge), Some(drawdown)) => Figure::panels([precharge, drawdown]).into(),
        (precharge, _) => precharge.into_iter().collect(),
    }
}

/// The precharge alone.
pub(super) fn precharge(
    analysis: &TrendAnalysis<'_>,
    order: &TrendOrder<'_>,
    says: String,
) -> Option<Figure> {
    let unit = order.units.unit_for(Measure::Pressure)?;
    let place = |r: &Reading| (months(r.at), unit.number_of(Measure::Pressure, r.value));
    let point = |r: &Reading| Point { x: place(r).0, y: place(r).1, limit: 2.0 * r.u / unit.size };
    let limit = |word: &str, at: f64| {
        let at = PlotShape::Across(unit.number_of(Measure::Pressure, at));
        PlotMark::new(word, PlotTone::Limit, at)
    };
    let mut marks = vec![
        limit("lower limit", analysis.centre - order.band),
        limit("upper limit", analysis.centre + order.band),
    ];
    marks.extend(settings(analysis));
    if let Ok(fitted) = &analysis.trend {
        marks.extend(lines(analysis, fitted, &place));
    }
    let points = |which: fn(&Corrected<'_>) -> Option<Reading>| {
        analysis.visits.iter().filter_map(which).map(|r| point(&r)).collect::<Vec<_>>()
    };
    marks.extend(found_and_left(points(|one| one.found), points(|one| one.left)));
    Some(Figure {
        title: format!("Precharge at {}", order.temperature(analysis.reference)),
        says,
        x: time(),
        y: Axis::even(format!("precharge, {}", unit.symbol)),
        marks,
    })
}

/// What the tank gave between cut-out and cut-in; `None` where it was never caught.
fn drawdown(analysis: &TrendAnalysis<'_>, order: &TrendOrder<'_>) -> Option<Figure> {
    let unit = order.units.unit_for(Measure::Volume)?;
    let point = |recorded: &RecordedValue| Point {
        x: months(recorded.at.unix_seconds() as f64),
        y: unit.number_of(Measure::Volume, recorded.value.value()),
        limit: 2.0 * recorded.value.standard_uncertainty() / unit.size,
    };
    let visits = || analysis.visits.iter().map(|one| one.visit);
    let found: Vec<Point> = visits().filter_map(|visit| visit.water_found.as_ref()).map(point).collect();
    let left: Vec<Point> = visits().filter_map(|visit| visit.water_left.as_ref()).map(point).collect();
    if found.is_empty() && left.is_empty() {
        return None;
    }
    Some(Figure {
        title: "Drawdown".to_string(),
        says: "Each with its limits at about 95 %. Drawdowns compare only while cut-in and cut-out stay as they are."
            .to_string(),
        x: time(),
        y: Axis::even(format!("drawdown, {}", unit.symbol)),
        marks: settings(analysis).into_iter().chain(found_and_left(found, left)).collect(),
    })
}

/// Months since the year 0, from seconds since 1970.
fn months(at: f64) -> f64 {
    12.0 * 1970.0 + at / MONTH
}

fn time() -> Axis {
    Axis { spread: Spread::Calendar, ..Axis::even("date") }
}

/// A line upright at each time that the precharge was set.
fn settings(analysis: &TrendAnalysis<'_>) -> Vec<PlotMark> {
    let set = analysis.visits.iter().filter_map(|one| one.left);
    let upright = |(at, reading): (usize, Reading)| {
        let label = if at == 0 { "precharge set" } else { "" };
        PlotMark::new(label, PlotTone::Limit, PlotShape::Upright(months(reading.at)))
    };
    set.enumerate().map(upright).collect()
}

fn found_and_left(found: Vec<Point>, left: Vec<Point>) -> impl Iterator<Item = PlotMark> {
    let all = [("as found", PlotTone::Earlier, found), ("as left", PlotTone::Measured, left)];
    all.into_iter()
        .filter(|(_, _, points)| !points.is_empty())
        .map(|(label, tone, points)| PlotMark::new(label, tone, PlotShape::Points(points)))
}

/// The trend between settings, its limits, and the trend carried on to the day it leaves the band.
fn lines(
    analysis: &TrendAnalysis<'_>,
    fitted: &Fitted,
    place: &dyn Fn(&Reading) -> (f64, f64),
) -> Vec<PlotMark> {
    let mut marks = Vec::new();
    let on_line = |level: f64, at: f64| Reading { at, value: level + fitted.trend.slope() * at, u: 0.0 };
    let earlier = analysis.segments.len().saturating_sub(1);
    for segment in analysis.segments.iter().take(earlier).filter(|segment| segment.len() > 1) {
        let until = segment.last().map_or(f64::NAN, |reading| reading.at);
        marks.extend(limits("", segment, fitted, until, place));
    }
    for (at, segment) in analysis.segments.iter().filter(|segment| segment.len() > 1).enumerate() {
        let level = level(segment, fitted);
        let places = segment.iter().map(|r| place(&on_line(level, r.at))).collect();
        let label = if at == 0 { "trend" } else { "" };
        marks.push(PlotMark::new(label, PlotTone::Computed, PlotShape::Line(places)));
    }
    let Some(newest) = analysis.segments.last() else { return marks };
    let (level, last) = (level(newest, fitted), fitted.trend.last_reading());
    let leaves = fitted.exit.estimate.filter(|at| *at > last && *at <= last + FURTHEST);
    let until = leaves.map_or(fitted.look_again, |leaves| leaves.max(fitted.look_again));
    marks.extend(limits("limits of the trend, 95 %", newest, fitted, until, place));
    let places = [last, until].map(|at| place(&on_line(level, at))).into();
    marks.push(PlotMark::new("trend, carried on", PlotTone::Expected, PlotShape::Line(places)));
    let leaves = leaves.map(|leaves| PlotShape::Upright(months(leaves)));
    marks.extend(leaves.map(|shape| PlotMark::new("leaves its band", PlotTone::Expected, shape)));
    marks
}

/// Where the line of a stretch would be at the beginning of time.
fn level(segment: &[Reading], fitted: &Fitted) -> f64 {
    let from = segment.iter().map(|r| r.value - fitted.trend.slope() * r.at).sum::<f64>();
    from / segment.len() as f64
}

/// The limits of a stretch at about 95 %, to the end of what is drawn.
fn limits(
    label: &str,
    segment: &[Reading],
    fitted: &Fitted,
    until: f64,
    place: &dyn Fn(&Reading) -> (f64, f64),
) -> Option<PlotMark> {
    let (first, level) = (segment.first()?, level(segment, fitted));
    let span = until - first.at;
    let edge = |sign: f64| {
        let at = (0..=LIMIT_PIECES).map(|n| first.at + span * f64::from(n) / f64::from(LIMIT_PIECES));
        let value = |at| level + fitted.trend.slope() * at + sign * 2.0 * fitted.trend.u_at(at);
        at.map(|at| place(&Reading { at, value: value(at), u: 0.0 })).collect()
    };
    Some(PlotMark::new(label, PlotTone::Limit, PlotShape::Area(edge(-1.0), edge(1.0))))
}
