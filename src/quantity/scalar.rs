//! Numbers that formulas are written for: plain ones and uncertain ones.

use std::fmt::Debug;
use std::ops::{Add, Div, Mul, Neg, Sub};

use super::Uncertain;

/// What a formula needs of its numbers, so that one text serves plain `f64` and [`Uncertain`].
///
/// ```
/// use tankhand::quantity::Scalar;
/// fn hypotenuse<S: Scalar>(a: S, b: S) -> S {
///     (a.clone() * a + b.clone() * b).sqrt()
/// }
/// assert_eq!(hypotenuse(3.0, 4.0), 5.0);
/// ```
pub trait Scalar:
    Clone
    + Debug
    + From<f64>
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
{
    /// The best estimate.
    fn value(&self) -> f64;

    /// A function of this number, given its value there and its derivative there.
    fn through(self, value: f64, derivative: f64) -> Self;

    /// Natural logarithm.
    fn ln(self) -> Self {
        let x = self.value();
        self.through(x.ln(), 1.0 / x)
    }

    /// e to this power.
    fn exp(self) -> Self {
        let y = self.value().exp();
        self.through(y, y)
    }

    /// Square root.
    fn sqrt(self) -> Self {
        let y = self.value().sqrt();
        self.through(y, 0.5 / y)
    }

    /// This number to a plain power.
    fn powf(self, power: f64) -> Self {
        let x = self.value();
        self.through(x.powf(power), power * x.powf(power - 1.0))
    }

    /// Distance from zero.
    fn abs(self) -> Self {
        if self.value() < 0.0 { -self } else { self }
    }

    /// The smaller by best estimate.
    fn min(self, other: Self) -> Self {
        if other.value() < self.value() { other } else { self }
    }

    /// The larger by best estimate.
    fn max(self, other: Self) -> Self {
        if other.value() > self.value() { other } else { self }
    }
}

impl Scalar for f64 {
    fn value(&self) -> f64 {
        *self
    }

    fn through(self, value: f64, _derivative: f64) -> f64 {
        value
    }
}

impl Scalar for Uncertain {
    fn value(&self) -> f64 {
        Uncertain::value(self)
    }

    fn through(self, value: f64, derivative: f64) -> Uncertain {
        self.map(value, derivative)
    }
}
