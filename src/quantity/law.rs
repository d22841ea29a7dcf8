//! The law of an error that several sources make up: how likely it stays below a limit.
//!
//! Of the sources one, the greatest, is summed over by its own distribution function; the others take
//! values spread evenly over theirs, the same every time. So a single limit of error is judged exactly,
//! and a sum of several to about a thousandth (JCGM 101:2008, 5.9, without random numbers).

use std::sync::LazyLock;

use smallvec::SmallVec;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};
use statrs::function::erf::erfc;

use super::SourceId;
use super::random::mirrored_points;
use super::source::Shape;

/// Points over which the lesser sources are spread; each is taken with its opposite. A thirteenth axis is the
/// first again.
static SPREAD: LazyLock<Vec<[f64; 12]>> = LazyLock::new(|| mirrored_points(256));

/// More degrees of freedom than these make no difference.
const MANY_DEGREES: f64 = 1e3;

/// How far a value may be off either way at 95 %, in standard uncertainties: 2, or more for few degrees of
/// freedom (JCGM 100:2008, G.3.2), which are rounded down (G.4.1).
pub(super) fn coverage_factor(degrees: f64) -> f64 {
    let few = (1.0..MANY_DEGREES).contains(&degrees);
    let t = few.then(|| students(degrees.floor())).flatten();
    t.map_or(2.0, |t| t.inverse_cdf(0.975)).max(2.0)
}

/// The probability that the sum of errors lies below a limit.
pub(super) fn probability_below(limit: f64, components: &[(SourceId, f64)]) -> f64 {
    let parts = joined(components);
    let Some((greatest, others)) = parts.split_last() else { return if limit > 0.0 { 1.0 } else { 0.0 } };
    if limit.abs() >= farthest(&parts) {
        return if limit > 0.0 { 1.0 } else { 0.0 };
    }
    let below = Below::new(greatest);
    if others.is_empty() {
        return below.value(limit);
    }
    let mut sum = 0.0;
    for point in SPREAD.iter() {
        let mut places = point.iter().cycle().copied();
        let moved: f64 = others.iter().map(|(shape, size)| size * standard(*shape, &mut places)).sum();
        sum += below.value(limit - moved) + below.value(limit + moved);
    }
    sum / (2.0 * SPREAD.len() as f64)
}

type Summands = SmallVec<[(Shape, f64); 8]>;

/// The sources by how they are distributed and how much they move, the greatest last. Normal ones make
/// up one.
fn joined(components: &[(SourceId, f64)]) -> Summands {
    let (mut parts, mut normal) = (Summands::new(), 0.0);
    for (source, size) in components {
        match source.shape() {
            Shape::Normal => normal = f64::hypot(normal, *size),
            shape @ (Shape::Rectangular | Shape::StudentsT(_)) => parts.push((shape, size.abs())),
        }
    }
    if normal > 0.0 {
        parts.push((Shape::Normal, normal));
    }
    parts.sort_by(|a, b| a.1.total_cmp(&b.1));
    parts
}

/// Beyond this no sum lies; of a normal part nothing that a number could tell.
fn farthest(parts: &Summands) -> f64 {
    let reach = |(shape, size): &(Shape, f64)| match shape {
        Shape::Rectangular => 3f64.sqrt() * size,
        Shape::Normal => 8.5 * size,
        Shape::StudentsT(_) => f64::INFINITY,
    };
    parts.iter().map(reach).sum()
}

/// The distribution function of one source.
enum Below {
    Even(f64),
    Bell(f64),
    Students(f64, StudentsT),
}

impl Below {
    fn new((shape, size): &(Shape, f64)) -> Below {
        match shape {
            Shape::Rectangular => Below::Even(12f64.sqrt() * size),
            Shape::Normal => Below::Bell(*size),
            Shape::StudentsT(degrees) => {
                students(f64::from(*degrees)).map_or(Below::Bell(*size), |t| Below::Students(*size, t))
            }
        }
    }

    fn value(&self, limit: f64) -> f64 {
        match self {
            Below::Even(width) => (0.5 + limit / width).clamp(0.0, 1.0),
            Below::Bell(size) => normal_below(limit / size),
            Below::Students(size, t) => t.cdf(limit / size),
        }
    }
}

fn students(degrees: f64) -> Option<StudentsT> {
    StudentsT::new(0.0, 1.0, degrees).ok()
}

/// The probability that a standard normal variable lies below `z`.
pub(crate) fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// A number of that shape from places between 0 and 1; of a standard uncertainty of 1.
pub(crate) fn standard(shape: Shape, places: &mut dyn Iterator<Item = f64>) -> f64 {
    let mut place = || places.next().unwrap_or(0.5);
    match shape {
        Shape::Rectangular => 3f64.sqrt() * (2.0 * place() - 1.0),
        Shape::Normal => Normal::standard().inverse_cdf(place().clamp(1e-12, 1.0 - 1e-12)),
        // R. W. Bailey, Mathematics of Computation 62 (1994) 779 (from memory).
        Shape::StudentsT(degrees) => {
            let (degrees, of_size) = (f64::from(degrees), 1.0 - place());
            let square = degrees * (of_size.max(1e-12).powf(-2.0 / degrees) - 1.0);
            square.sqrt() * (std::f64::consts::TAU * place()).cos()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const EVEN: SourceId = SourceId::Gauge(1);

    #[test]
    fn one_source_is_judged_by_its_own_law() {
        for (source, limit, expected) in [
            (EVEN, 0.9 * 3f64.sqrt(), 0.95),
            (EVEN, 1.8, 1.0),
            (EVEN, -1.8, 0.0),
            (SourceId::Spread(1), 1.644_853_627, 0.95),
            // JCGM 100:2008, Table G.2, 90 %: 6.31 and 2.92 for one and two degrees (from memory).
            (SourceId::Few(1, 1), 6.314, 0.95),
            (SourceId::Few(1, 2), 2.920, 0.95),
        ] {
            // In whatever unit: pressures are in Pa, volumes in m³.
            for unit in [2e-5, 2.0, 2e5] {
                let found = probability_below(unit * limit, &[(source, -unit)]);
                assert!((found - expected).abs() < 1e-4, "{source:?} {unit} {limit}: {found}");
            }
        }
        // A pressure in SI: Φ(1) = 0.8413 (Abramowitz and Stegun, Table 26.1; from memory).
        let found = probability_below(6_895.0, &[(SourceId::Spread(1), 6_895.0)]);
        assert!((found - 0.8413).abs() < 1e-4, "{found}");
    }

    /// Two limits make a trapezoid, whose tail is a parabola; four even ones and a bell are nearly a bell.
    #[test]
    fn a_sum_is_judged_to_a_thousandth() {
        let two = [(EVEN, 2.0 / 3f64.sqrt()), (SourceId::Reading(1), 1.0 / 3f64.sqrt())];
        let limit = 3.0 - 0.8_f64.sqrt();
        assert!((probability_below(limit, &two) - 0.95).abs() < 1e-3);
        assert!((probability_below(-limit, &two) - 0.05).abs() < 1e-3);
        let mut many: Vec<_> = (0..4).map(|at| (SourceId::Reading(at), 1.0)).collect();
        many.extend([(SourceId::Spread(1), 1.5), (SourceId::Spread(2), 2.0)]);
        let u = (4.0_f64 + 1.5 * 1.5 + 4.0).sqrt();
        let found = probability_below(1.644_9 * u, &many);
        assert!((found - 0.95).abs() < 2e-3, "{found}");
        assert_eq!(probability_below(0.0, &many), 0.5);
        // A bell of 1 beside the wider limit of 2: (G(4) - G(0)) / 4, where G' = Φ.
        let lesser = [(EVEN, 2.0 / 3f64.sqrt()), (SourceId::Spread(1), 1.0)];
        let found = probability_below(2.0, &lesser);
        assert!((found - 0.9003).abs() < 1e-3, "{found}");
        // A sum of two of Student's with one degree of freedom each is another, as wide as both.
        let few = [(SourceId::Few(1, 1), 1.0), (SourceId::Few(2, 1), 0.5)];
        let found = probability_below(1.5 * 6.314, &few);
        assert!((found - 0.95).abs() < 3e-3, "{found}");
    }
}
