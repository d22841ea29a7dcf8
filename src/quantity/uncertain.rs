//! A value with its uncertainty and where that comes from.
//!
//! An [`Uncertain`] holds, beside its best estimate, how far each independent source of doubt
//! moves it: the product of the sensitivity and the source's standard uncertainty (JCGM
//! 100:2008, 5.1.3). Sources are shared by identity, so what two values have in common cancels
//! in their difference and `x - x` is exactly zero.

use std::ops::{Add, Div, Mul, Neg, Sub};

use smallvec::SmallVec;

/// The identity of one independent source of doubt: a gauge's accuracy, one reading's
/// resolution. Whoever makes the sources sees to it that different ones differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SourceId(pub u64);

type Parts = SmallVec<[(SourceId, f64); 4]>;

/// A best estimate and its sensitivities to independent sources of doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncertain {
    value: f64,
    /// Sorted by source; each with sensitivity times standard uncertainty, never zero.
    parts: Parts,
}

impl Uncertain {
    /// A value known without doubt.
    pub fn exact(value: f64) -> Uncertain {
        Uncertain { value, parts: Parts::new() }
    }

    /// The same value, doubted further by `source` with standard uncertainty `u`.
    ///
    /// ```
    /// use tankhand::quantity::{SourceId, Uncertain};
    /// let x = Uncertain::exact(10.0).doubt(SourceId(1), 0.3).doubt(SourceId(2), 0.4);
    /// assert_eq!(x.standard_uncertainty(), 0.5);
    /// assert_eq!((x.clone() - x).standard_uncertainty(), 0.0);
    /// ```
    pub fn doubt(self, source: SourceId, u: f64) -> Uncertain {
        let mut parts = Parts::new();
        if u != 0.0 {
            parts.push((source, u));
        }
        self + Uncertain { value: 0.0, parts }
    }

    /// The best estimate.
    pub fn value(&self) -> f64 {
        self.value
    }

    /// The combined standard uncertainty (JCGM 100:2008, 5.1.2).
    pub fn standard_uncertainty(&self) -> f64 {
        self.parts.iter().map(|(_, part)| part * part).sum::<f64>().sqrt()
    }

    /// What each source contributes, signed, in the order of the sources.
    pub fn parts(&self) -> &[(SourceId, f64)] {
        &self.parts
    }

    /// The same value with what each source contributes multiplied by a factor.
    pub fn rescaled(mut self, factor: &dyn Fn(SourceId) -> f64) -> Uncertain {
        self.parts.retain(|(source, part)| {
            *part *= factor(*source);
            *part != 0.0
        });
        self
    }

    /// A function of one value: its value and derivative there.
    pub fn map(mut self, value: f64, derivative: f64) -> Uncertain {
        self.value = value;
        self.parts.retain(|(_, part)| {
            *part *= derivative;
            *part != 0.0
        });
        self
    }

    /// A function of two values: its value and both partial derivatives there.
    fn combine(&self, other: &Uncertain, value: f64, by_self: f64, by_other: f64) -> Uncertain {
        let mut parts = Parts::new();
        let mut push = |source: SourceId, part: f64| {
            if part != 0.0 {
                parts.push((source, part));
            }
        };
        let (mut a, mut b) = (self.parts.iter().peekable(), other.parts.iter().peekable());
        loop {
            match (a.peek(), b.peek()) {
                (Some(&&(s, x)), Some(&&(t, y))) if s == t => {
                    push(s, by_self * x + by_other * y);
                    a.next();
                    b.next();
                }
                (Some(&&(s, x)), Some(&&(t, _))) if s < t => {
                    push(s, by_self * x);
                    a.next();
                }
                (_, Some(&&(t, y))) => {
                    push(t, by_other * y);
                    b.next();
                }
                (Some(&&(s, x)), None) => {
                    push(s, by_self * x);
                    a.next();
                }
                (None, None) => return Uncertain { value, parts },
            }
        }
    }
}

impl From<f64> for Uncertain {
    fn from(value: f64) -> Uncertain {
        Uncertain::exact(value)
    }
}

impl Add for Uncertain {
    type Output = Uncertain;
    fn add(self, other: Uncertain) -> Uncertain {
        self.combine(&other, self.value + other.value, 1.0, 1.0)
    }
}

impl Sub for Uncertain {
    type Output = Uncertain;
    fn sub(self, other: Uncertain) -> Uncertain {
        self.combine(&other, self.value - other.value, 1.0, -1.0)
    }
}

impl Mul for Uncertain {
    type Output = Uncertain;
    fn mul(self, other: Uncertain) -> Uncertain {
        self.combine(&other, self.value * other.value, other.value, self.value)
    }
}

impl Div for Uncertain {
    type Output = Uncertain;
    fn div(self, other: Uncertain) -> Uncertain {
        let quotient = self.value / other.value;
        self.combine(&other, quotient, 1.0 / other.value, -quotient / other.value)
    }
}

impl Neg for Uncertain {
    type Output = Uncertain;
    fn neg(self) -> Uncertain {
        let value = -self.value;
        self.map(value, -1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Scalar;
    use proptest::prelude::*;

    /// f(x, y) computed with and without uncertainty must agree with a numerical derivative.
    fn formula<S: Scalar>(x: S, y: S) -> S {
        (x.clone() * y.clone() - S::from(3.0) / x.clone()) + (y.sqrt() * x.ln()).exp().powf(0.25)
    }

    proptest! {
        #[test]
        fn derivatives_agree_with_numerical_ones(x in 0.5f64..4.0, y in 0.5f64..4.0) {
            let (sx, sy) = (SourceId(1), SourceId(2));
            let u = Uncertain::exact(x).doubt(sx, 1.0);
            let v = Uncertain::exact(y).doubt(sy, 1.0);
            let result = formula(u, v);
            let h = 1e-6;
            let dx = (formula(x + h, y) - formula(x - h, y)) / (2.0 * h);
            let dy = (formula(x, y + h) - formula(x, y - h)) / (2.0 * h);
            for (source, expected) in [(sx, dx), (sy, dy)] {
                let found = result.parts().iter().find(|p| p.0 == source).map_or(0.0, |p| p.1);
                prop_assert!((found - expected).abs() <= 1e-5 * (1.0 + expected.abs()), "{found} {expected}");
            }
        }

        #[test]
        fn a_value_less_itself_is_exactly_zero(x in -1e6f64..1e6, u in 0.0f64..10.0, w in 0.0f64..10.0) {
            let a = Uncertain::exact(x).doubt(SourceId(7), u).doubt(SourceId(3), w);
            prop_assert_eq!(a.clone() - a, Uncertain::exact(0.0));
        }

        #[test]
        fn order_of_addition_does_not_matter(
            ids in proptest::collection::vec((0u64..6, -3.0f64..3.0), 0..8)
        ) {
            let one = ids.iter().fold(Uncertain::exact(0.0), |x, &(s, u)| x.doubt(SourceId(s), u));
            let two = ids.iter().rev().fold(Uncertain::exact(0.0), |x, &(s, u)| x.doubt(SourceId(s), u));
            prop_assert!((one.standard_uncertainty() - two.standard_uncertainty()).abs() < 1e-9);
            prop_assert!(one.parts().is_sorted_by(|a, b| a.0 < b.0));
        }
    }
}
