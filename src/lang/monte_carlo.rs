//! Monte Carlo draws: an expression evaluated with every source of uncertainty moved at once (JCGM 101:2008,
//! 5.9).

use std::cell::RefCell;
use std::rc::Rc;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::quantity::{Shape, standard};

/// Draws of sources of those shapes: a row for each draw, how far each source is moved in it in standard
/// uncertainties. What each contributes is no part of them, so that they serve whatever its gauge is good to.
#[derive(Clone)]
pub(super) struct Draws {
    shapes: Vec<Shape>,
    rows: Vec<f64>,
    count: usize,
    random: Random,
}

thread_local! {
    /// The draws asked for last: a check and what would decide it ask for the same ones again and again.
    static LAST: RefCell<Option<Rc<Draws>>> = const { RefCell::new(None) };
}

impl Draws {
    /// At least so many draws of these shapes; the same every time.
    pub fn of(shapes: Vec<Shape>, count: usize) -> Rc<Draws> {
        let last = LAST.take().filter(|draws| draws.shapes == shapes);
        let mut draws = last
            .unwrap_or_else(|| Rc::new(Draws { shapes, rows: Vec::new(), count: 0, random: Random::new() }));
        if draws.count < count {
            Rc::make_mut(&mut draws).extend_to(count);
        }
        LAST.set(Some(draws.clone()));
        draws
    }

    fn extend_to(&mut self, count: usize) {
        let Draws { shapes, rows, random, .. } = self;
        rows.reserve((count - self.count) * shapes.len());
        for _ in self.count..count {
            rows.extend(shapes.iter().map(|shape| random.standard(*shape)));
        }
        self.count = count;
    }

    /// The first so many draws.
    pub fn rows(&self, count: usize) -> impl Iterator<Item = &[f64]> {
        let width = self.shapes.len();
        (0..count.min(self.count)).filter_map(move |at| self.rows.get(at * width..(at + 1) * width))
    }
}

/// Random numbers that are the same in every run and on every machine.
#[derive(Clone)]
struct Random(Pcg64Mcg);

impl Random {
    /// The generator, at its beginning.
    fn new() -> Random {
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
