//! The figure of a trend: precharges at one temperature over the years, and the fitted lines.

use super::analysis::{Corrected, TrendAnalysis};
use super::order::TrendOrder;
use crate::physics::{MONTH, Reading};
use crate::quantity::Measure;
use crate::report::figure::{Axis, Figure, PlotMark, PlotTone, Point, Spread};

/// The figure, with what it says in words.
pub(super) fn figure(analysis: &TrendAnalysis<'_>, order: &TrendOrder<'_>, says: String) -> Option<Figure> {
    let unit = order.units.unit_for(Measure::Pressure)?;
    let place = |r: &Reading| (12.0 * 1970.0 + r.at / MONTH, unit.number_of(Measure::Pressure, r.value));
    let point = |r: &Reading| Point { x: place(r).0, y: place(r).1, limit: 2.0 * r.u / unit.size };
    let mut marks = vec![PlotMark::Across {
        label: "least".to_string(),
        at: unit.number_of(Measure::Pressure, analysis.centre - order.band),
        tone: PlotTone::Limit,
    }];
    if let Ok(fitted) = &analysis.trend {
        let fitted_segments = analysis.segments.iter().filter(|segment| segment.len() > 1);
        for (at, segment) in fitted_segments.enumerate() {
            let level = segment.iter().map(|r| r.value - fitted.trend.slope() * r.at).sum::<f64>();
            let level = level / segment.len() as f64;
            let on_line = |r: &Reading| place(&Reading { value: level + fitted.trend.slope() * r.at, ..*r });
            marks.push(PlotMark::Line {
                label: if at == 0 { "trend".to_string() } else { String::new() },
                tone: PlotTone::Computed,
                places: segment.iter().map(on_line).collect(),
            });
        }
    }
    let read = |one: &Corrected<'_>| [one.found, one.left].into_iter().flatten().collect::<Vec<_>>();
    let points: Vec<Point> = analysis.visits.iter().flat_map(read).map(|r| point(&r)).collect();
    marks.push(PlotMark::Points { label: "read".to_string(), tone: PlotTone::Measured, points });
    Some(Figure {
        title: format!("Precharge at {}", order.temperature(analysis.reference)),
        says,
        x: Axis { spread: Spread::Calendar, ..Axis::even("day") },
        y: Axis::even(format!("precharge, {}", unit.symbol)),
        marks,
    })
}
