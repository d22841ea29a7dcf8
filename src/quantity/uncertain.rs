//! A value with its uncertainty and where that comes from.
//!
//! An [`Uncertain`] holds, beside its best estimate, how far each independent source of uncertainty
//! moves it: the product of the sensitivity and the source's standard uncertainty (JCGM
//! 100:2008, 5.1.3). Sources are shared by identity, so what two values have in common cancels
//! in their difference and `x - x` is exactly zero.

use std::cmp::Ordering;
use std::ops::{Add, Div, Mul, Neg, Sub};

use smallvec::SmallVec;

use super::SourceId;
use super::law::coverage_factor;
use super::source::Shape;

formula!(STANDARD_UNCERTAINTY:
    "The standard uncertainty of a value.",
    "√(Σ c² u²), c the sensitivity to each source",
    source "JCGM 100:2008, 5.1.2"
);

type Components = SmallVec<[(SourceId, f64); 4]>;

/// A best estimate and its sensitivities to independent sources of uncertainty.
#[derive(Debug, PartialEq)]
pub struct Uncertain {
    value: f64,
    /// Sorted by source; each with sensitivity times standard uncertainty, never zero.
    components: Components,
}

impl Uncertain {
    /// A value known exactly.
    pub fn exact(value: f64) -> Uncertain {
        Uncertain { value, components: Components::new() }
    }

    /// The same value, with the further standard uncertainty `u` of `source`.
    ///
    /// ```
    /// use tankhand::quantity::{SourceId, Uncertain};
    /// let x = Uncertain::exact(10.0).with_component(SourceId::Reading(1), 0.3).with_component(SourceId::Reading(2), 0.4);
    /// assert_eq!(x.standard_uncertainty(), 0.5);
    /// assert_eq!((x.clone() - x).standard_uncertainty(), 0.0);
    /// ```
    pub fn with_component(self, source: SourceId, u: f64) -> Uncertain {
        let mut components = Components::new();
        if u != 0.0 {
            components.push((source, u));
        }
        self + Uncertain { value: 0.0, components }
    }

    /// The best estimate.
    pub fn value(&self) -> f64 {
        self.value
    }

    #[doc = STANDARD_UNCERTAINTY!()]
    pub fn standard_uncertainty(&self) -> f64 {
        self.components.iter().map(|(_, component)| component * component).sum::<f64>().sqrt()
    }

    /// How well the standard uncertainty itself is known: the effective degrees of freedom of Welch and
    /// Satterthwaite (JCGM 100:2008, G.4.1); infinite where no source is told by few readings.
    pub fn degrees_of_freedom(&self) -> f64 {
        let quartic = |(source, component): &(SourceId, f64)| match source.shape() {
            Shape::StudentsT(degrees) => component.powi(4) / f64::from(degrees),
            Shape::Rectangular | Shape::Normal => 0.0,
        };
        self.standard_uncertainty().powi(4) / self.components.iter().map(quartic).sum::<f64>()
    }

    /// How far the value may be off either way at 95 %: twice the standard uncertainty, more where few
    /// readings tell it (JCGM 100:2008, 6.3.3 and G.3.2).
    ///
    /// ```
    /// use tankhand::quantity::{SourceId, Uncertain};
    /// let of = |source| Uncertain::exact(38.0).with_component(source, 1.0).expanded_uncertainty();
    /// assert_eq!(of(SourceId::Spread(1)), 2.0);
    /// assert!((of(SourceId::Few(1, 2)) - 4.303).abs() < 0.001);
    /// ```
    pub fn expanded_uncertainty(&self) -> f64 {
        self.standard_uncertainty() * coverage_factor(self.degrees_of_freedom())
    }

    /// What each source contributes, signed, in the order of the sources.
    pub fn components(&self) -> &[(SourceId, f64)] {
        &self.components
    }

    /// The same value with what each source contributes multiplied by a factor.
    pub fn rescaled(mut self, factor: &dyn Fn(SourceId) -> f64) -> Uncertain {
        self.components.retain(|(source, component)| {
            *component *= factor(*source);
            *component != 0.0
        });
        self
    }

    /// A function of one value: its value and derivative there.
    pub fn map(mut self, value: f64, derivative: f64) -> Uncertain {
        self.value = value;
        self.components.retain(|(_, component)| {
            *component *= derivative;
            *component != 0.0
        });
        self
    }

    /// A function of two values: its value and both partial derivatives there.
    #[inline]
    fn combine(self, other: Uncertain, value: f64, by_self: f64, by_other: f64) -> Uncertain {
        // Most operands in a formula are known exactly; the other's parts then stay in place.
        match (self.components.is_empty(), other.components.is_empty()) {
            (_, true) => self.map(value, by_self),
            (true, false) => other.map(value, by_other),
            (false, false) => {
                let mine = Scaled { components: &self.components, by: by_self };
                Uncertain {
                    value,
                    components: mine.merged(Scaled { components: &other.components, by: by_other }),
                }
            }
        }
    }
}

/// The parts of a value, to be multiplied by a derivative.
struct Scaled<'a> {
    components: &'a [(SourceId, f64)],
    by: f64,
}

impl Scaled<'_> {
    /// The parts of both, joined by source.
    fn merged(self, other: Scaled<'_>) -> Components {
        let mut components = Components::new();
        let mut push = |source: SourceId, component: f64| {
            if component != 0.0 {
                components.push((source, component));
            }
        };
        let (mut a, mut b) = (0, 0);
        while let (Some(&(s, x)), Some(&(t, y))) = (self.components.get(a), other.components.get(b)) {
            let order = s.cmp(&t);
            let component = match order {
                Ordering::Less => self.by * x,
                Ordering::Equal => self.by * x + other.by * y,
                Ordering::Greater => other.by * y,
            };
            push(s.min(t), component);
            a += usize::from(order.is_le());
            b += usize::from(order.is_ge());
        }
        self.components[a..].iter().for_each(|&(s, x)| push(s, self.by * x));
        other.components[b..].iter().for_each(|&(t, y)| push(t, other.by * y));
        components
    }
}

impl Clone for Uncertain {
    /// As one block of memory, not part by part.
    fn clone(&self) -> Uncertain {
        Uncertain { value: self.value, components: Components::from_slice(&self.components) }
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
        let value = self.value + other.value;
        self.combine(other, value, 1.0, 1.0)
    }
}

impl Sub for Uncertain {
    type Output = Uncertain;
    fn sub(self, other: Uncertain) -> Uncertain {
        let value = self.value - other.value;
        self.combine(other, value, 1.0, -1.0)
    }
}

impl Mul for Uncertain {
    type Output = Uncertain;
    fn mul(self, other: Uncertain) -> Uncertain {
        let (x, y) = (self.value, other.value);
        self.combine(other, x * y, y, x)
    }
}

impl Div for Uncertain {
    type Output = Uncertain;
    fn div(self, other: Uncertain) -> Uncertain {
        let (divisor, quotient) = (other.value, self.value / other.value);
        self.combine(other, quotient, 1.0 / divisor, -quotient / divisor)
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
            let (sx, sy) = (SourceId::Reading(1), SourceId::Reading(2));
            let u = Uncertain::exact(x).with_component(sx, 1.0);
            let v = Uncertain::exact(y).with_component(sy, 1.0);
            let result = formula(u, v);
            let h = 1e-6;
            let dx = (formula(x + h, y) - formula(x - h, y)) / (2.0 * h);
            let dy = (formula(x, y + h) - formula(x, y - h)) / (2.0 * h);
            for (source, expected) in [(sx, dx), (sy, dy)] {
                let found = result.components().iter().find(|p| p.0 == source).map_or(0.0, |p| p.1);
                prop_assert!((found - expected).abs() <= 1e-5 * (1.0 + expected.abs()), "{found} {expected}");
            }
        }

        #[test]
        fn a_value_less_itself_is_exactly_zero(x in -1e6f64..1e6, u in 0.0f64..10.0, w in 0.0f64..10.0) {
            let a = Uncertain::exact(x).with_component(SourceId::Reading(7), u).with_component(SourceId::Reading(3), w);
            prop_assert_eq!(a.clone() - a, Uncertain::exact(0.0));
        }

        #[test]
        fn order_of_addition_does_not_matter(
            ids in proptest::collection::vec((0u64..6, -3.0f64..3.0), 0..8)
        ) {
            let one = ids.iter().fold(Uncertain::exact(0.0), |x, &(s, u)| x.with_component(SourceId::Reading(s), u));
            let two = ids.iter().rev().fold(Uncertain::exact(0.0), |x, &(s, u)| x.with_component(SourceId::Reading(s), u));
            prop_assert!((one.standard_uncertainty() - two.standard_uncertainty()).abs() < 1e-9);
            prop_assert!(one.components().is_sorted_by(|a, b| a.0 < b.0));
        }
    }
}
