//! The figure of a hold test: the pressure before and after, and the loss that is allowed.
//!
//! It is drawn for any procedure that works out the difference of two readings of pressure with a
//! wait between them; the loss allowed is the number a check holds that difference against.

use super::figures::Source;
use crate::lang::{Binary, Comparison, Expr};
use crate::lang::{Node, Value};
use crate::procedure::Action;
use crate::quantity::{Measure, Operator, Unit, show_with_limits, unit};
use crate::record::{Entry, EntryKind};
use crate::report::answers::amount;
use crate::report::figure::{Axis, Figure, Joined, Mark, Point, Tone};

pub(super) fn figure(source: &Source<'_>) -> Option<Figure> {
    source.computed().find_map(|(placed, expr)| {
        let (start, end) = difference(expr.expr())?;
        Hold::found(source, &placed.step.id, (start, end))?.figure(source)
    })
}

/// The names in `a - b`.
fn difference(expr: &Expr) -> Option<(&str, &str)> {
    let Node::Binary(Binary::Arithmetic(Operator::Subtract), _, a, b) = &expr.node else { return None };
    match (&a.node, &b.node) {
        (Node::Name(a), Node::Name(b)) => Some((a, b)),
        _ => None,
    }
}

struct Hold<'a> {
    /// The name of the loss.
    loss: &'a str,
    start: &'a Entry,
    end: &'a Entry,
    unit: &'static Unit,
}

impl<'a> Hold<'a> {
    /// The readings, when both are in force and a wait lies between them.
    fn found(source: &Source<'a>, loss: &'a str, (start, end): (&str, &str)) -> Option<Hold<'a>> {
        let entries = &source.told.entries;
        let last =
            |id: &str| entries.iter().rposition(|entry| entry.step == id && entry.kind == EntryKind::Reading);
        let (at_start, at_end) = (last(start)?, last(end)?);
        let waited = entries.get(at_start..at_end)?.iter().any(|entry| entry.kind == EntryKind::Waited);
        let is_pressure = |id: &str| match source.told.steps.get(id).map(|placed| &placed.step.action) {
            Some(Action::Read(read)) => read.measure == Measure::Pressure,
            _ => false,
        };
        let unit = source.unit(Measure::Pressure)?;
        let hold = Hold { loss, start: entries[at_start], end: entries[at_end], unit };
        (waited && is_pressure(start) && is_pressure(end)).then_some(hold)
    }

    fn figure(&self, source: &Source<'_>) -> Option<Figure> {
        let start = self.point(self.start)?;
        let end = self.point(self.end)?;
        let mut marks = Vec::new();
        let allowed = self.allowed(source);
        marks.extend(allowed.map(|allowed| Mark::Band {
            label: format!("a loss of {} at most", shown_in(allowed, self.unit)),
            low: start.y - allowed / self.unit.size,
            high: start.y,
        }));
        marks.push(Mark::Line {
            label: String::new(),
            tone: Tone::Reckoned,
            places: vec![(start.x, start.y), (end.x, end.y)],
            joined: Joined::Straight,
        });
        marks.push(Mark::Points { label: "measured".into(), tone: Tone::Measured, points: vec![start, end] });
        Some(Figure {
            title: "Hold test".to_string(),
            says: self.says(source, end.x),
            x: Axis::even("time, min"),
            y: Axis::even(format!("pressure, {}", self.unit.symbol)),
            marks,
        })
    }

    fn point(&self, entry: &Entry) -> Option<Point> {
        let read_in = unit(entry.unit.as_deref()?)?;
        let y = self.unit.from_si(Measure::Pressure, read_in.to_si(Measure::Pressure, entry.value?));
        let u = entry.uncertainty.unwrap_or(0.0) * read_in.size / self.unit.size;
        let x = entry.at.since(self.start.at).as_secs_f64() / 60.0;
        Some(Point { x, y, limit: 2.0 * u })
    }

    /// The loss that a check still lets pass, SI.
    fn allowed(&self, source: &Source<'_>) -> Option<f64> {
        source.told.steps.placed.iter().find_map(|placed| {
            let Action::Check(check) = &placed.step.action else { return None };
            let Node::Binary(Binary::Compare(Comparison::AtMost | Comparison::Less), _, a, b) =
                &check.expr.expr().node
            else {
                return None;
            };
            match (&a.node, &b.node) {
                (Node::Name(name), Node::Number(number, Some(unit))) if name == self.loss => {
                    Some(number * unit.size)
                }
                _ => None,
            }
        })
    }

    fn says(&self, source: &Source<'_>, minutes: f64) -> String {
        let read = |entry| amount(entry).unwrap_or_default();
        let mut says =
            format!("{} at the start, {} after {minutes:.0} min.", read(self.start), read(self.end));
        if let Ok(Value::Amount(measure, loss)) = source.values.value(self.loss) {
            says.push_str(&format!(" The loss is {}.", show_with_limits(measure, &loss, source.units)));
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

fn shown_in(si: f64, unit: &Unit) -> String {
    format!("{} {}", crate::quantity::show_number(si / unit.size, 0.02 * si / unit.size), unit.symbol)
}
