//! Densities, and points spread evenly over all that is not known.

use std::f64::consts::{FRAC_1_SQRT_2, FRAC_2_SQRT_PI};
use std::sync::LazyLock;

use statrs::distribution::{ContinuousCDF, Normal};

use crate::quantity::even_points;

/// How many points.
pub(super) const POINTS: usize = 768;
/// What each point stands for, in the order of [`Dimension`].
const AXES: usize = 11;

/// One thing that is not known.
#[derive(Clone, Copy, Debug)]
pub(super) enum Dimension {
    /// Which of two laws the error of the line gauge is drawn from.
    Wide,
    /// The error of the line gauge.
    LineError,
    /// The cut-in, about its reading.
    CutIn,
    /// The cut-out, about its reading.
    CutOut,
    /// Whether the precharge is drawn about its reading or from what is usual.
    PrechargeFrom,
    /// The precharge.
    Precharge,
    /// Whether lost water is drawn about the bucket or from what is usual.
    ShareFrom,
    /// The share of the water that is left.
    Share,
    /// The volume about the plate's.
    Volume,
    /// Something of the tank's own.
    One,
    /// Something else of the tank's own.
    Other,
}

/// Points that fill a box evenly. No random numbers, so that the same evidence always gives the same
/// diagnosis.
pub(super) struct Points {
    uniform: Vec<[f64; AXES]>,
    standard: Vec<[f64; AXES]>,
}

static SPREAD_POINTS: LazyLock<Points> = LazyLock::new(|| {
    let uniform = even_points::<AXES>(POINTS as u32);
    let normal = Normal::standard();
    let standard = uniform.iter().map(|point| point.map(|u| normal.inverse_cdf(u.clamp(1e-9, 1.0 - 1e-9))));
    Points { standard: standard.collect(), uniform }
});

/// The points.
pub(super) fn points() -> &'static Points {
    &SPREAD_POINTS
}

impl Points {
    /// A point's place on an axis, from 0 to 1.
    pub(super) fn uniform(&self, point: usize, axis: Dimension) -> f64 {
        self.uniform[point][axis as usize]
    }

    /// The same as a standard normal number.
    pub(super) fn standard(&self, point: usize, axis: Dimension) -> f64 {
        self.standard[point][axis as usize]
    }
}

/// 1/√(2π).
const PEAK: f64 = 0.5 * FRAC_1_SQRT_2 * FRAC_2_SQRT_PI;

/// The normal density.
pub(super) fn normal(x: f64, mean: f64, u: f64) -> f64 {
    let z = (x - mean) / u;
    PEAK * (-0.5 * z * z).exp() / u
}

/// The standard uncertainty of a reading to the nearest mark (JCGM 100:2008, 4.3.7).
pub(super) fn of_mark(mark: f64) -> f64 {
    mark / 12f64.sqrt()
}

/// Keeps a quotient of densities finite where both are none.
pub(super) const NO_DENSITY: f64 = 1e-300;

/// The density of what lies anywhere between two ends.
pub(super) fn uniform(x: f64, low: f64, high: f64) -> f64 {
    if x >= low && x <= high { 1.0 / (high - low).max(1e-9) } else { 0.0 }
}

/// The gap of a tank in order, psi: most often 2.5.
const GAP_RANGE: [f64; 2] = [-0.5, 7.0];
/// The same as mean and spread, before it is cut at [`GAP_RANGE`].
const GAP_LAW: [f64; 2] = [2.5, 2.0];

/// The law of the gap of a tank in order, where a greater gap is wanted by so much.
pub(super) struct GapLaw {
    more: f64,
    /// Where the normal law is cut, as probabilities below.
    cut: [f64; 2],
}

impl GapLaw {
    /// The law about a wanted gap, psi.
    pub(super) fn about(target: f64) -> GapLaw {
        let more = (target - GAP_LAW[0]).max(0.0);
        let law = Normal::standard();
        let cut = [GAP_RANGE[0] - more, GAP_RANGE[1]].map(|end| law.cdf((end - GAP_LAW[0]) / GAP_LAW[1]));
        GapLaw { more, cut }
    }

    /// From which gap on the precharge is low, psi.
    pub(super) fn low_from(&self) -> f64 {
        GAP_RANGE[1] + self.more
    }

    /// The density of a gap.
    pub(super) fn density(&self, gap: f64) -> f64 {
        if gap < GAP_RANGE[0] || gap > self.low_from() {
            return 0.0;
        }
        normal(gap, GAP_LAW[0] + self.more, GAP_LAW[1]) / (self.cut[1] - self.cut[0])
    }

    /// The gap below which so much of the law lies.
    pub(super) fn quantile(&self, u: f64) -> f64 {
        let p = self.cut[0] + (self.cut[1] - self.cut[0]) * u;
        GAP_LAW[0] + self.more + GAP_LAW[1] * Normal::standard().inverse_cdf(p.clamp(1e-9, 1.0 - 1e-9))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_fill_each_axis_evenly() {
        for axis in [Dimension::Wide, Dimension::Precharge, Dimension::Other] {
            let mean: f64 = (0..POINTS).map(|k| points().uniform(k, axis)).sum::<f64>() / POINTS as f64;
            let square: f64 = (0..POINTS).map(|k| points().standard(k, axis).powi(2)).sum();
            assert!((mean - 0.5).abs() < 3e-3 && (square / POINTS as f64 - 1.0).abs() < 0.02, "{axis:?}");
        }
    }

    #[test]
    fn the_usual_gap_is_a_whole_law_and_is_drawn_by_it() {
        for (target, middle) in [(2.0, 2.67), (10.0, 9.95)] {
            let law = GapLaw::about(target);
            let steps = 20_000;
            let gap = |k: i32| -1.0 + 20.0 * f64::from(k) / f64::from(steps);
            let whole: f64 = (0..steps).map(|k| law.density(gap(k))).sum();
            assert!((whole * 20.0 / f64::from(steps) - 1.0).abs() < 1e-3, "{whole}");
            let quantiles = [0.0, 0.5, 1.0].map(|u| law.quantile(u));
            assert!(
                (quantiles[0] + 0.5).abs() < 0.05 && (quantiles[1] - middle).abs() < 0.1,
                "{quantiles:?}"
            );
            assert!((quantiles[2] - law.low_from()).abs() < 1e-3, "{quantiles:?}");
        }
    }
}
