//! The figure of a trend: precharges at one temperature over the years, and the fitted lines.

use super::analysis::{Corrected, Fitted, TrendAnalysis};
use super::order::TrendOrder;
use crate::physics::{MONTH, Reading};
use crate::quantity::Measure;
use crate::report::figure::{Axis, Figure, PlotMark, PlotTone, Point, Spread};

/// In how many pieces limits are drawn.
const PIECES: u32 = 12;

/// The figure, with what it says in words.
pub(super) fn figure(analysis: &TrendAnalysis<'_>, order: &TrendOrder<'_>, says: String) -> Option<Figure> {
    let unit = order.units.unit_for(Measure::Pressure)?;
    let place = |r: &Reading| (12.0 * 1970.0 + r.at / MONTH, unit.number_of(Measure::Pressure, r.value));
    let point = |r: &Reading| Point { x: place(r).0, y: place(r).1, limit: 2.0 * r.u / unit.size };
    let mut marks = vec![PlotMark::Across {
        label: "lower limit".to_string(),
        at: unit.number_of(Measure::Pressure, analysis.centre - order.band),
        tone: PlotTone::Limit,
    }];
    if let Ok(fitted) = &analysis.trend {
        let fitted_segments = analysis.segments.iter().filter(|segment| segment.len() > 1);
        for (at, segment) in fitted_segments.enumerate() {
            let level = level(segment, fitted);
            let on_line = |r: &Reading| place(&Reading { value: level + fitted.trend.slope() * r.at, ..*r });
            marks.push(PlotMark::Line {
                label: if at == 0 { "trend".to_string() } else { String::new() },
                tone: PlotTone::Computed,
                places: segment.iter().map(on_line).collect(),
            });
        }
        marks
            .extend(analysis.segments.last().into_iter().flat_map(|segment| limits(segment, fitted, &place)));
    }
    let read = |one: &Corrected<'_>| [one.found, one.left].into_iter().flatten().collect::<Vec<_>>();
    let points: Vec<Point> = analysis.visits.iter().flat_map(read).map(|r| point(&r)).collect();
    marks.push(PlotMark::Points { label: "read".to_string(), tone: PlotTone::Measured, points });
    Some(Figure {
        title: format!("Precharge at {}", order.temperature(analysis.reference)),
        says,
        x: Axis { spread: Spread::Calendar, ..Axis::even("date") },
        y: Axis::even(format!("precharge, {}", unit.symbol)),
        marks,
    })
}

/// Where the line of a stretch would be at the beginning of time.
fn level(segment: &[Reading], fitted: &Fitted) -> f64 {
    let from = segment.iter().map(|r| r.value - fitted.trend.slope() * r.at).sum::<f64>();
    from / segment.len() as f64
}

/// The limits of the newest stretch at about 95 %, carried on to the day by which to look again.
fn limits(segment: &[Reading], fitted: &Fitted, place: &dyn Fn(&Reading) -> (f64, f64)) -> Vec<PlotMark> {
    let (Some(first), level) = (segment.first(), level(segment, fitted)) else { return Vec::new() };
    let span = fitted.look_again - first.at;
    let side = |sign: f64| PlotMark::Line {
        label: if sign > 0.0 { "limits of the trend, 95 %".to_string() } else { String::new() },
        tone: PlotTone::Earlier,
        places: (0..=PIECES)
            .map(|n| first.at + span * f64::from(n) / f64::from(PIECES))
            .map(|at| {
                let value = level + fitted.trend.slope() * at + sign * 2.0 * fitted.trend.u_at(at);
                place(&Reading { at, value, u: 0.0 })
            })
            .collect(),
    };
    vec![side(1.0), side(-1.0)]
}
