//! The figures of hold tests: the pressure before and after, and the loss that is allowed.
//!
//! One is drawn for every value a procedure works out as the difference of two pressures with a
//! wait between them, or as their `corrected_loss`; the loss allowed is the number a check holds
//! that value against.

use crate::lang::{Binary, CheckedExpr, Node, Value, Values};
use crate::quantity::{Measure, Operator, Uncertain, Unit, show_roundly, show_with_limits};
use crate::record::{Entry, EntryKind};
use crate::report::answers::amount;
use crate::report::figure::{Axis, Figure, PlotMark, PlotShape, PlotTone, Point};
use crate::report::run_view::RunView;
use crate::words::capitalized;

/// The loss with what a change of temperature explains taken off.
const FUNCTION: &str = "corrected_loss";
/// From how many minutes on hours are told.
const HOURS_FROM: f64 = 180.0;

pub(super) fn figures(run: &RunView<'_>, values: &dyn Values) -> Vec<Figure> {
    let holds = run.steps.computed().filter_map(|(step, expr)| Hold::found(run, &step.id, difference(expr)?));
    holds.filter_map(|hold| hold.figure(values)).collect()
}

/// The names of the two pressures.
#[expect(clippy::wildcard_enum_match_arm, reason = "it looks for one shape of expression")]
fn difference(expr: &CheckedExpr) -> Option<(&str, &str)> {
    match &expr.expr().node {
        Node::Binary(Binary::Arithmetic(Operator::Subtract), _, a, b) => match (&a.node, &b.node) {
            (Node::Name(a), Node::Name(b)) => Some((a, b)),
            _ => None,
        },
        _ => Some((expr.name_in_call(FUNCTION, 0)?, expr.name_in_call(FUNCTION, 2)?)),
    }
}

struct Hold<'a> {
    run: &'a RunView<'a>,
    /// The name of the loss.
    loss: &'a str,
    start: &'a Entry,
    end: &'a Entry,
    unit: &'static Unit,
}

impl<'a> Hold<'a> {
    /// The readings, when both are in effect and a wait lies between them.
    fn found(run: &'a RunView<'a>, loss: &'a str, (start, end): (&str, &str)) -> Option<Hold<'a>> {
        let entries = &run.entries;
        let tells = |entry: &Entry| entry.kind.is_measured();
        let last = |id: &str| entries.iter().rposition(|entry| entry.step == id && tells(entry));
        let (at_start, at_end) = (last(start)?, last(end)?);
        let waited = entries.get(at_start..at_end)?.iter().any(|entry| entry.kind == EntryKind::Waited);
        let is_pressure = |id: &str| run.steps.measure(id) == Some(Measure::Pressure);
        let unit = run.contents.header.units.unit_for(Measure::Pressure)?;
        let hold = Hold { run, loss, start: entries[at_start], end: entries[at_end], unit };
        (waited && is_pressure(start) && is_pressure(end)).then_some(hold)
    }

    fn figure(&self, values: &dyn Values) -> Option<Figure> {
        let minutes = self.end.at.since(self.start.at).as_secs_f64() / 60.0;
        let (scale, word) = if minutes > HOURS_FROM { (60.0, "h") } else { (1.0, "min") };
        let start = Point::of(0.0, self.start, Measure::Pressure, self.unit)?;
        let end = Point::of(minutes / scale, self.end, Measure::Pressure, self.unit)?;
        let mut marks = Vec::new();
        let allowed = self.run.steps.limit(self.loss);
        let roundly =
            |si| show_roundly(Measure::PressureChange, &Uncertain::exact(si), self.run.contents.header.units);
        marks.extend(allowed.map(|allowed| {
            let label = format!("a loss of {} at most", roundly(allowed));
            let band = PlotShape::Band(start.y - allowed / self.unit.size, start.y);
            PlotMark::new(label, PlotTone::Limit, band)
        }));
        let between = PlotShape::Line(vec![(start.x, start.y), (end.x, end.y)]);
        marks.push(PlotMark::new("", PlotTone::Computed, between));
        marks.push(PlotMark::new("measured", PlotTone::Measured, PlotShape::Points(vec![start, end])));
        Some(Figure {
            title: self.title(),
            says: self.says(values, &format!("{:.0} {word}", minutes / scale)),
            x: Axis::even(format!("time, {word}")),
            y: Axis::even(format!("pressure, {}", self.unit.symbol)),
            marks,
        })
    }

    /// What the loss is called, up to its first comma.
    fn title(&self) -> String {
        let label = self.run.steps.label(self.loss);
        capitalized(label.split(", ").next().unwrap_or(&label))
    }

    fn says(&self, values: &dyn Values, time: &str) -> String {
        let read = |entry| amount(entry).unwrap_or_default();
        let mut says = format!("{} at the start, {} after {time}.", read(self.start), read(self.end));
        if let Ok(Value::Amount(measure, loss)) = values.value(self.loss) {
            let loss = show_with_limits(measure, &loss, self.run.contents.header.units);
            says.push_str(&format!(" The loss is {loss}."));
        }
        if self.start.gauge.is_some() && self.start.gauge == self.end.gauge {
            says.push_str(
                " The bars are the limits of each reading alone; what the gauge is off by is the same in both and \
                 cancels in the loss.",
            );
        }
        says
    }
}
