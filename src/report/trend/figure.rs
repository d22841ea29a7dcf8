//! The figure of a trend: charges at one temperature over the years, and the fitted lines.

use super::order::TrendOrder;
use super::reckon::{Corrected, Reckoned};
use crate::physics::{MONTH, Reading};
use crate::quantity::Measure;
use crate::report::figure::{Axis, Figure, Joined, Mark, Point, Spread, Tone};

/// The figure, with what it says in words.
pub(super) fn figure(reckoned: &Reckoned<'_>, order: &TrendOrder<'_>, says: String) -> Option<Figure> {
    let unit = order.units.unit_for(Measure::Pressure)?;
    let place = |r: &Reading| (12.0 * 1970.0 + r.at / MONTH, unit.from_si(Measure::Pressure, r.value));
    let point = |r: &Reading| Point { x: place(r).0, y: place(r).1, limit: 2.0 * r.u / unit.size };
    let mut marks = vec![Mark::Across {
        label: "least".to_string(),
        at: unit.from_si(Measure::Pressure, reckoned.centre - order.band),
        tone: Tone::Limit,
    }];
    if let Ok(fitted) = &reckoned.trend {
        let fitted_stretches = reckoned.stretches.iter().filter(|stretch| stretch.len() > 1);
        for (at, stretch) in fitted_stretches.enumerate() {
            let level = stretch.iter().map(|r| r.value - fitted.trend.slope() * r.at).sum::<f64>();
            let level = level / stretch.len() as f64;
            let on_line = |r: &Reading| place(&Reading { value: level + fitted.trend.slope() * r.at, ..*r });
            marks.push(Mark::Line {
                label: if at == 0 { "trend".to_string() } else { String::new() },
                tone: Tone::Reckoned,
                places: stretch.iter().map(on_line).collect(),
                joined: Joined::Straight,
            });
        }
    }
    let read = |one: &Corrected<'_>| [one.found, one.left].into_iter().flatten().collect::<Vec<_>>();
    let points: Vec<Point> = reckoned.visits.iter().flat_map(read).map(|r| point(&r)).collect();
    marks.push(Mark::Points { label: "read".to_string(), tone: Tone::Measured, points });
    Some(Figure {
        title: format!("Air charge at {}", order.temperature(reckoned.reference)),
        says,
        x: Axis { spread: Spread::Calendar, ..Axis::even("day") },
        y: Axis::even(format!("air charge, {}", unit.symbol)),
        marks,
    })
}
