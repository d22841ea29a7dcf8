//! How far the starts and stops of a pressure switch scatter, as few of them tell it.

use super::{FormulaResult, OutOfRange};
use crate::quantity::PSI;

/// How far the points of a sound switch commonly scatter, as a standard deviation; Pa. A judgement: cut-ins
/// that are watched three times mostly agree within 1 psi.
pub(super) const COMMON_SCATTER: f64 = 0.4 * PSI;
/// How sure that is, as the degrees of freedom of readings that would tell it so well.
pub(super) const COMMON_DEGREES: usize = 4;

/// What is common and what was seen, joined: the variance of one point, and its degrees of freedom.
///
/// `squares` are the squared distances of what was seen from what was expected, `degrees` those they leave
/// free; `reading_u` is how well one point is read (JCGM 100:2008, 4.2.4 and H.3.6: a pooled variance).
pub(super) fn joined_variance(squares: f64, degrees: usize, reading_u: f64) -> (f64, usize) {
    let common = COMMON_SCATTER * COMMON_SCATTER + reading_u * reading_u;
    let all = COMMON_DEGREES + degrees;
    ((COMMON_DEGREES as f64 * common + squares) / all as f64, all)
}

/// How far below the lowest of the starts watched the lowest start to come may lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LowestStart {
    /// How far below, by best estimate; Pa.
    pub below: f64,
    /// Standard uncertainty of that, of Student's t; Pa.
    pub u: f64,
    /// Its degrees of freedom.
    pub degrees: usize,
}

formula!(LOWEST_START:
    "How far below the lowest start watched the lowest of the next 30 starts may lie.",
    "2.04 s - (mean - lowest); uncertain by s √(0.49² + 1/n + 2.04²/2ν), s the scatter of the starts joined with 0.4 psi that are common",
    range "at least one start",
    source "order statistics of the normal distribution: H. L. Harter, Biometrika 48 (1961) 151 (from memory); that starts commonly \
            scatter by 0.4 psi, as sure as five readings would tell it, is a judgement"
);

#[doc = LOWEST_START!()]
///
/// Units: Pa to Pa.
///
/// ```
/// use tankhand::physics::lowest_start;
/// let psi = 6894.757;
/// let alike = lowest_start(&[40.0 * psi; 3], 0.3 * psi).unwrap();
/// let apart = lowest_start(&[40.0 * psi, 41.0 * psi, 42.0 * psi], 0.3 * psi).unwrap();
/// assert!(apart.u > alike.u && apart.degrees == 6);
/// ```
pub fn lowest_start(starts: &[f64], reading_u: f64) -> FormulaResult<LowestStart> {
    if starts.is_empty() {
        return Err(OutOfRange::new("no start was watched", &[], "the lowest of none is not known"));
    }
    super::flush::not_negative("how well a start is read", reading_u)?;
    let n = starts.len() as f64;
    let mean = starts.iter().map(|start| start / n).sum::<f64>();
    let squares: f64 = starts.iter().map(|start| (start - mean).powi(2)).sum();
    let (variance, degrees) = joined_variance(squares, starts.len() - 1, reading_u);
    // What reading adds to the scatter of readings is no scatter of the switch.
    let scatter = (variance - reading_u * reading_u).max(0.25 * variance).sqrt();
    let lowest = starts.iter().copied().fold(f64::INFINITY, f64::min);
    let below = LOWEST_OF_30 * scatter - (mean - lowest);
    // The scatter itself is known to one in the root of twice its degrees of freedom (JCGM 100:2008, E.4.3).
    let of_scatter = LOWEST_OF_30 * LOWEST_OF_30 / (2.0 * degrees as f64);
    let u = scatter * (ITS_SCATTER * ITS_SCATTER + 1.0 / n + of_scatter).sqrt();
    Ok(LowestStart { below, u, degrees })
}

/// How far the lowest of 30 lies below the middle, in standard deviations of one.
const LOWEST_OF_30: f64 = 2.043;
/// The standard deviation of that, in the same.
const ITS_SCATTER: f64 = 0.494;
