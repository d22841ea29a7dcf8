//! Monte Carlo draws: an expression evaluated with every source of uncertainty moved at once (JCGM 101:2008,
//! 5.9).

use std::cell::RefCell;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::draw::Draw;
use super::draw_plan::DrawPlan;
use super::part::TypedNode;
use super::program::Program;
use crate::quantity::{Shape, SourceId, Uncertain, standard};

/// A plan made ready to be drawn from.
pub(super) struct Draws<'p> {
    plan: &'p DrawPlan<'p>,
    derived: Vec<Program>,
}

/// A first-order value made ready to be drawn from.
pub(super) struct FirstOrder {
    value: f64,
    parts: Vec<(usize, f64)>,
}

impl FirstOrder {
    /// Where it comes to lie in a draw.
    pub fn value(&self, draw: &Draw<'_>) -> f64 {
        self.value + self.parts.iter().map(|(at, part)| part * draw.at(*at)).sum::<f64>()
    }
}

impl<'p> Draws<'p> {
    /// Makes a plan ready.
    pub fn new(plan: &'p DrawPlan<'p>) -> Draws<'p> {
        let derived = (0..plan.derived.len()).map(|at| Program::of_derived(plan, at)).collect();
        Draws { plan, derived }
    }

    /// Makes a part ready.
    pub fn program(&self, part: &TypedNode) -> Program {
        Program::new(part, self.plan, self.derived.len())
    }

    /// Makes a first-order value ready.
    pub fn first_order(&self, amount: &Uncertain) -> FirstOrder {
        let born = |source: &SourceId| self.plan.born.iter().position(|other| other == source);
        let before = self.plan.sources.len() + self.plan.limits.len();
        let at = |source: &SourceId| self.plan.place_of(*source).or_else(|| Some(before + born(source)?));
        let parts = amount.components().iter().filter_map(|(source, part)| Some((at(source)?, *part)));
        FirstOrder { value: amount.value(), parts: parts.collect() }
    }

    /// Makes a draw at random.
    pub fn at_random(&self, random: &mut Random) -> Draw<'_> {
        let plan = self.plan;
        let mut moved = Vec::with_capacity(plan.sources.len() + plan.limits.len() + plan.born.len());
        moved.extend(plan.sources.iter().map(|source| random.standard(source.shape())));
        moved.extend(plan.limits.iter().map(|_| random.standard(Shape::Rectangular)));
        moved.extend(plan.born.iter().map(|source| random.standard(source.shape())));
        let computed = Vec::with_capacity(self.derived.len());
        let mut draw = Draw { plan, moved, met: RefCell::default(), computed };
        for program in &self.derived {
            let value = program.value(&draw);
            draw.computed.push(value);
        }
        draw
    }
}

/// Random numbers that are the same in every run and on every machine.
pub(super) struct Random(Pcg64Mcg);

impl Random {
    /// The generator, at its beginning.
    pub fn new() -> Random {
        Random(Pcg64Mcg::seed_from_u64(0x7461_6e6b))
    }

    /// From 0 up to 1.
    fn uniform(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number of mean 0 and standard deviation 1.
    fn standard(&mut self, shape: Shape) -> f64 {
        match shape {
            Shape::Rectangular => 3f64.sqrt() * (2.0 * self.uniform() - 1.0),
            // Box and Muller (JCGM 101:2008, C.4); 1 - u is never zero.
            Shape::Normal => {
                let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
                radius * (std::f64::consts::TAU * self.uniform()).cos()
            }
            Shape::StudentsT(_) => standard(shape, &mut std::iter::from_fn(|| Some(self.uniform()))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Moments and ends of the two distributions; four standard deviations of a mean of 10,000 are 0.04.
    #[test]
    fn standard_numbers_have_mean_0_and_standard_deviation_1() {
        for (shape, fourth) in [(Shape::Normal, 3.0), (Shape::Rectangular, 1.8)] {
            let mut random = Random::new();
            let numbers: Vec<f64> = (0..10_000).map(|_| random.standard(shape)).collect();
            let mean = |power: i32| numbers.iter().map(|x| x.powi(power)).sum::<f64>() / 10_000.0;
            assert!(mean(1).abs() < 0.04 && (mean(2) - 1.0).abs() < 0.06, "{} {}", mean(1), mean(2));
            assert!(mean(3).abs() < 0.2 && (mean(4) - fourth).abs() < 0.4, "{} {}", mean(3), mean(4));
            assert_eq!(numbers.iter().any(|x| x.abs() > 3f64.sqrt()), shape == Shape::Normal);
        }
    }
}
