//! Which measures may be combined, and what comes of it.

use super::Measure::{self, *};

/// An arithmetic operator.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Operator {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}

impl Operator {
    /// The sign as written.
    pub fn sign(self) -> &'static str {
        match self {
            Operator::Add => "+",
            Operator::Subtract => "-",
            Operator::Multiply => "*",
            Operator::Divide => "/",
        }
    }
}

/// The measure of `left op right`, or `None` when the two do not go together.
///
/// ```
/// use tankhand::quantity::{Measure::*, Operator, result_of};
/// assert_eq!(result_of(Pressure, Operator::Subtract, Pressure), Some(PressureChange));
/// assert_eq!(result_of(Pressure, Operator::Add, Pressure), None);
/// assert_eq!(result_of(Volume, Operator::Divide, Duration), Some(Flow));
/// ```
pub fn result_of(left: Measure, operator: Operator, right: Measure) -> Option<Measure> {
    match operator {
        Operator::Add => sum(left, right).or_else(|| sum(right, left)),
        Operator::Subtract => difference(left, right),
        Operator::Multiply => product(left, right).or_else(|| product(right, left)),
        Operator::Divide => quotient(left, right),
    }
}

fn plain(measure: Measure) -> bool {
    matches!(measure, Number | Count)
}

fn sum(left: Measure, right: Measure) -> Option<Measure> {
    match (left.change(), right) {
        (Some(change), right) if change == right => Some(left),
        (None, right) if left == right => Some(left),
        (None, right) if plain(left) && plain(right) => Some(Number),
        _ => None,
    }
}

fn difference(left: Measure, right: Measure) -> Option<Measure> {
    match left.change() {
        Some(change) if left == right => Some(change),
        Some(change) if right == change => Some(left),
        Some(_) => None,
        None => sum(left, right),
    }
}

fn product(left: Measure, right: Measure) -> Option<Measure> {
    match (left, right) {
        (Count, Count) => Some(Count),
        (left, right) if plain(right) && left == Count => Some(right),
        (left, right) if plain(right) && left.change().is_none() => Some(left),
        (Flow, Duration) => Some(Volume),
        (Concentration, Volume) => Some(Volume),
        (MassConcentration, Volume) => Some(Mass),
        _ => None,
    }
}

fn quotient(left: Measure, right: Measure) -> Option<Measure> {
    match (left, right) {
        (left, right) if plain(left) && plain(right) => Some(Number),
        (left, right) if plain(right) && left.change().is_none() => Some(left),
        (left, right) if left == right && left.change().is_none() => Some(Number),
        (Volume, Duration) => Some(Flow),
        (Volume, Flow) => Some(Duration),
        (Mass, Volume) => Some(MassConcentration),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_and_differences_stay_apart() {
        let table = [
            (Pressure, Operator::Add, PressureChange, Some(Pressure)),
            (PressureChange, Operator::Add, Pressure, Some(Pressure)),
            (PressureChange, Operator::Subtract, Pressure, None),
            (Pressure, Operator::Subtract, AbsolutePressure, None),
            (Temperature, Operator::Subtract, Temperature, Some(TemperatureChange)),
            (Temperature, Operator::Multiply, Number, None),
            (Instant, Operator::Subtract, Instant, Some(Duration)),
            (Flow, Operator::Multiply, Duration, Some(Volume)),
            (Duration, Operator::Multiply, Flow, Some(Volume)),
            (Volume, Operator::Divide, Flow, Some(Duration)),
            (Volume, Operator::Divide, Volume, Some(Number)),
            (Count, Operator::Multiply, Volume, Some(Volume)),
            (Count, Operator::Add, Count, Some(Count)),
            (Count, Operator::Add, Number, Some(Number)),
            (Count, Operator::Divide, Count, Some(Number)),
            (Pressure, Operator::Add, Volume, None),
        ];
        for (left, operator, right, expected) in table {
            assert_eq!(
                result_of(left, operator, right),
                expected,
                "{} {} {}",
                left.name(),
                operator.sign(),
                right.name()
            );
        }
    }
}
