//! Monte Carlo draws: an expression evaluated with every source of uncertainty moved at once (JCGM 101:2008,
//! 5.9).

use std::cell::RefCell;
use std::iter;
use std::rc::Rc;

use crate::quantity::{Random, Shape, standard};

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
    pub(super) fn of(shapes: Vec<Shape>, count: usize) -> Rc<Draws> {
        let last = LAST.take().filter(|draws| draws.shapes == shapes);
        let mut draws = last.unwrap_or_else(|| {
            Rc::new(Draws { shapes, rows: Vec::new(), count: 0, random: Random::new(SEED) })
        });
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
            rows.extend(shapes.iter().map(|shape| standard_draw(*shape, random)));
        }
        self.count = count;
    }

    /// The first so many draws.
    pub(super) fn rows(&self, count: usize) -> impl Iterator<Item = &[f64]> {
        let width = self.shapes.len();
        (0..count.min(self.count)).filter_map(move |at| self.rows.get(at * width..(at + 1) * width))
    }
}

/// A number of mean 0 and standard deviation 1, drawn from a distribution of that shape.
fn standard_draw(shape: Shape, random: &mut Random) -> f64 {
    match shape {
        Shape::Normal => random.normal(),
        Shape::Rectangular | Shape::StudentsT(_) => {
            standard(shape, &mut iter::from_fn(|| Some(random.uniform())))
        }
    }
}

/// What all draws begin with.
const SEED: u64 = 0x7461_6e6b;

#[cfg(test)]
mod tests {
    use super::*;

    /// Moments and ends of the two distributions; four standard deviations of a mean of 10,000 are 0.04.
    #[test]
    fn standard_numbers_have_mean_0_and_standard_deviation_1() {
        for (shape, fourth) in [(Shape::Normal, 3.0), (Shape::Rectangular, 1.8)] {
            let mut random = Random::new(SEED);
            let numbers: Vec<f64> = (0..10_000).map(|_| standard_draw(shape, &mut random)).collect();
            let mean = |power: i32| numbers.iter().map(|x| x.powi(power)).sum::<f64>() / 10_000.0;
            assert!(mean(1).abs() < 0.04 && (mean(2) - 1.0).abs() < 0.06, "{} {}", mean(1), mean(2));
            assert!(mean(3).abs() < 0.2 && (mean(4) - fourth).abs() < 0.4, "{} {}", mean(3), mean(4));
            assert_eq!(numbers.iter().any(|x| x.abs() > 3f64.sqrt()), shape == Shape::Normal);
        }
    }
}
