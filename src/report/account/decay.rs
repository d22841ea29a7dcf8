//! The figure of the flush: settled solids round by round, with the fitted decay and the stop line.
//!
//! It is drawn for any procedure that works out `flushes_to_go(series, floor)`.

use crate::lang::Values;
use crate::physics::{Stabilization, flushes_to_go, stabilization};
use crate::quantity::{Measure, Scalar, Uncertain, Unit, show_number};
use crate::report::figure::{Axis, Figure, PlotMark, PlotShape, PlotTone, Point, Spread};
use crate::report::run_view::RunView;
use crate::words::capitalized;

const FUNCTION: &str = "flushes_to_go";
/// How many rounds beyond the last the fit is drawn at most.
const BEYOND: f64 = 4.0;
/// How many readings the stop rule looks at.
const LAST: usize = 3;

pub(super) fn figure(run: &RunView<'_>, values: &dyn Values) -> Option<Figure> {
    let (expr, arguments) =
        run.steps.computed().find_map(|(_, expr)| Some((expr, expr.arguments(FUNCTION, values)?)))?;
    let [series, floor, ..] = arguments.as_slice() else { return None };
    let unit = run.contents.header.units.unit_for(Measure::Concentration)?;
    let label = expr.name_in_call(FUNCTION, 0).map(|name| run.steps.label(name));
    let label = label.unwrap_or_else(|| "settled solids".to_string());
    let read = series.amounts();
    let values = read.iter().map(Scalar::value).collect();
    let solids = Solids { label, unit, read, values, floor: floor.amount()?.value() };
    (!solids.read.is_empty()).then(|| solids.figure())
}

struct Solids {
    label: String,
    unit: &'static Unit,
    read: Vec<Uncertain>,
    values: Vec<f64>,
    floor: f64,
}

impl Solids {
    fn figure(&self) -> Figure {
        let shown = |si: f64| self.unit.number_of(Measure::Concentration, si);
        let floor = format!("stop line, {}", self.shown(self.floor));
        let floor = PlotMark::new(floor, PlotTone::Limit, PlotShape::Across(shown(self.floor)));
        let point = |(amount, flush): (&Uncertain, u32)| Point {
            x: f64::from(flush),
            y: shown(amount.value()),
            limit: 2.0 * amount.standard_uncertainty() / self.unit.size,
        };
        let points = self.read.iter().zip(1..).map(point).collect();
        let mut marks = vec![floor];
        marks.extend(self.fit());
        marks.push(PlotMark::new("measured", PlotTone::Measured, PlotShape::Points(points)));
        Figure {
            title: format!("{}, round by round", capitalized(&self.label)),
            says: self.says(),
            x: Axis { whole: true, ..Axis::even("round of the flush") },
            y: Axis {
                spread: Spread::Factors,
                ..Axis::even(format!("{}, {}", self.label, self.unit.symbol))
            },
            marks,
        }
    }

    fn fit(&self) -> Option<PlotMark> {
        let fit = flushes_to_go(&self.values, self.floor).ok()?;
        let last = self.read.len() as f64 + fit.estimate.min(BEYOND);
        let at = |flush: f64| {
            let si = fit.first * fit.left_per_flush.powf(flush - 1.0);
            (flush, self.unit.number_of(Measure::Concentration, si))
        };
        Some(PlotMark::new("fit", PlotTone::Computed, PlotShape::Line(vec![at(1.0), at(last)])))
    }

    fn shown(&self, si: f64) -> String {
        format!("{} {}", show_number(self.unit.number_of(Measure::Concentration, si), 0.0), self.unit.symbol)
    }

    fn says(&self) -> String {
        let mut says = vec![match self.values.as_slice() {
            [first, .., last] => format!(
                "{} went from {} in round 1 to {} in round {}.",
                capitalized(&self.label),
                self.shown(*first),
                self.shown(*last),
                self.values.len()
            ),
            _ => "There is one reading.".to_string(),
        }];
        match flushes_to_go(&self.values, self.floor) {
            Ok(fit) => {
                says.push(format!(
                    "By the fit each round left {:.0} % of what the one before brought.",
                    100.0 * fit.left_per_flush
                ));
                if fit.estimate > 0.0 {
                    let (least, most) = fit.interval();
                    says.push(format!(
                        "At that pace the stop line is reached after {} more (95 %: {} to {}).",
                        show_number(fit.estimate, fit.standard_uncertainty.max(0.05)),
                        show_number(least, 0.05),
                        show_number(most, 0.05)
                    ));
                }
            }
            Err(reason) => says.push(format!("No fit: {reason}.")),
        }
        says.extend(match stabilization(&self.values, LAST, self.floor) {
            Ok(Stabilization::AtFloor) => Some("The last three lie at or below the stop line.".to_string()),
            Ok(Stabilization::Steady) => Some("The last three agree within 10 %.".to_string()),
            Ok(Stabilization::Changing) => {
                Some("The last three still differed by more than 10 %.".to_string())
            }
            Ok(Stabilization::TooFew) | Err(_) => None,
        });
        says.join(" ")
    }
}
