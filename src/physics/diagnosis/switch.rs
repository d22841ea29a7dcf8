//! What all causes share: the true switch points and the error of the line gauge, drawn once from the
//! readings, with how well each cause of switch and gauge goes with them.

use super::density::{Dimension, GapLaw, POINTS, normal, points, uniform};
use super::evidence::Evidence;
use super::items::Item;

/// How many causes the switch has, and how many the measuring.
pub(super) const SWITCHES: usize = 7;
pub(super) const MEASURES: usize = 4;

/// How the errors of a gauge are drawn: most about what is known of it, the rest this wide, psi.
const WIDE: [f64; 2] = [0.2, 6.0];
/// No gauge is taken to be better than that, psi.
const EXACT: f64 = 0.02;
/// How often the rush of the pump stops it too soon: a part between tank and switch, a pump far too strong.
/// Judgements.
const APART_CUTS_SHORT: f64 = 0.3;
const RUSH_CUTS_SHORT: f64 = 0.3;
/// How far a switch's points scatter about its label, psi.
const LABEL_SCATTER: f64 = 1.8;

/// The points, one entry each.
pub(super) struct Shared {
    /// Cut-in at the tank, psi.
    pub cut_in: Vec<f64>,
    /// Cut-out at the tank, psi.
    pub cut_out: Vec<f64>,
    /// The law of the gap, and a gap of it.
    pub law: GapLaw,
    pub gap: Vec<f64>,
    /// Weight under each cause of the switch.
    pub switch: [Vec<f64>; SWITCHES],
    /// Weight of a switch in order where the pump is far too strong for the tank.
    pub rushed: Vec<f64>,
    /// Weight under each cause of the measuring.
    pub measuring: [Vec<f64>; MEASURES],
    /// Logarithm of the density of these readings were anything possible.
    pub ln_broad: f64,
}

/// The middle of the watched starts, their variance, and how well the middle is known.
struct Starts {
    mean: f64,
    variance: Option<f64>,
    /// The variance of those that were watched earlier, about their own middle.
    variance_before: Option<f64>,
    u: f64,
}

/// The variance of some starts, with what the gauge's marks add; nothing of a single one.
fn variance(starts: &[f64], mark: f64) -> Option<f64> {
    let count = starts.len() as f64;
    let mean = starts.iter().sum::<f64>() / count;
    let about = starts.iter().map(|start| (start - mean).powi(2)).sum::<f64>();
    (starts.len() > 1).then(|| about / (count - 1.0) + mark * mark)
}

fn starts(evidence: &Evidence) -> Starts {
    let mark = evidence.errors.line_mark / 12f64.sqrt();
    let (seen, count) = (&evidence.starts, evidence.starts.len() as f64);
    let variance_before = variance(&evidence.starts_before, mark);
    if seen.is_empty() {
        let mean = evidence.cut_in_elsewhere.unwrap_or(evidence.site.label_cut_in);
        return Starts {
            mean,
            variance: None,
            variance_before,
            u: if evidence.cut_in_elsewhere.is_some() { 1.5 } else { LABEL_SCATTER },
        };
    }
    let mean = seen.iter().sum::<f64>() / count;
    let variance = variance(seen, mark);
    let u = 0.35f64.hypot(mark).max(0.5 * variance.unwrap_or(0.0).sqrt());
    Starts { mean, variance, variance_before, u }
}

/// True scatters of a switch in order, and of one that is loose, psi.
const STEADY: [f64; 3] = [0.3, 0.5, 0.7];
const LOOSE: [f64; 4] = [2.0, 3.0, 4.0, 5.0];

impl Starts {
    fn are_repeated(&self) -> bool {
        self.variance.or(self.variance_before).is_some()
    }

    /// How well the variances of repeated starts go with one of these true scatters, psi.
    fn scattered(&self, truths: &[f64]) -> f64 {
        let of = |truth: &f64| {
            let whole = truth * truth + 0.15;
            let goes = |variance: f64| (-variance / whole).exp() / whole;
            self.variance.iter().chain(&self.variance_before).copied().map(goes).product::<f64>()
        };
        truths.iter().map(of).sum::<f64>() / truths.len() as f64
    }
}

/// One point: the line gauge's error, and the switch points at the switch.
struct SwitchPoint {
    error: f64,
    cut_in: f64,
    cut_out: f64,
}

impl Shared {
    pub fn of(evidence: &Evidence) -> Shared {
        let starts = starts(evidence);
        let law = GapLaw::about(evidence.site.gap);
        let gap = (0..POINTS).map(|k| law.quantile(points().uniform(k, Dimension::Precharge))).collect();
        let mut shared = Shared {
            cut_in: Vec::with_capacity(POINTS),
            cut_out: Vec::with_capacity(POINTS),
            law,
            gap,
            switch: std::array::from_fn(|_| Vec::with_capacity(POINTS)),
            rushed: Vec::with_capacity(POINTS),
            measuring: std::array::from_fn(|_| Vec::with_capacity(POINTS)),
            ln_broad: ln_broad(evidence, &starts),
        };
        for k in 0..POINTS {
            let point = point(k, evidence, &starts);
            shared.cut_in.push((point.cut_in - evidence.site.head).max(3.0));
            shared.cut_out.push((point.cut_out - evidence.site.head).max(4.0));
            let switch = switch_weights(&point, evidence, &starts, 0.0);
            shared.rushed.push(switch_weights(&point, evidence, &starts, RUSH_CUTS_SHORT)[0]);
            let measuring = gauge_weights(&point, evidence);
            shared.switch.iter_mut().zip(switch).for_each(|(all, one)| all.push(one));
            shared.measuring.iter_mut().zip(measuring).for_each(|(all, one)| all.push(one));
        }
        shared
    }
}

fn point(k: usize, evidence: &Evidence, starts: &Starts) -> SwitchPoint {
    let at = points();
    let seen = starts.variance.is_some() || evidence.has(Item::Starts);
    let wide = at.uniform(k, Dimension::Wide) < WIDE[0];
    let error =
        at.standard(k, Dimension::LineError) * if wide { WIDE[1] } else { evidence.errors.line.max(EXACT) };
    let error = if seen { error } else { 0.0 };
    let cut_in = starts.mean - error + starts.u * at.standard(k, Dimension::CutIn);
    let u_out = 0.4f64.hypot(evidence.errors.line_mark / 12f64.sqrt());
    let z = at.standard(k, Dimension::CutOut);
    let usual = evidence.site.label_cut_out - evidence.site.label_cut_in;
    let cut_out = evidence.cut_out.map_or(cut_in + usual + 2.0 * z, |read| read - error + u_out * z);
    SwitchPoint { error, cut_in: cut_in.max(3.0), cut_out: cut_out.max(cut_in.max(3.0) + 1.0) }
}

/// How well the differential goes with a switch in order that is stopped too soon in this share of all
/// installations, as it feels the pump's rush before the tank does.
fn cut_short(point: &SwitchPoint, evidence: &Evidence, share: f64) -> f64 {
    if evidence.cut_out.is_none() {
        return 1.0;
    }
    let usual = evidence.site.label_cut_out - evidence.site.label_cut_in;
    let apart = point.cut_out - point.cut_in;
    (1.0 - share) * normal(apart, usual, LABEL_SCATTER) + share * uniform(apart, 0.1 * usual, usual)
}

/// The weights, where a switch in order is stopped too soon in this share of all installations.
fn switch_weights(point: &SwitchPoint, evidence: &Evidence, starts: &Starts, rush: f64) -> [f64; SWITCHES] {
    let mut weights = [1.0; SWITCHES];
    if evidence.has(Item::Starts) {
        let (label, usual) =
            (evidence.site.label_cut_in, evidence.site.label_cut_out - evidence.site.label_cut_in);
        let (cut_in, apart) = (point.cut_in, point.cut_out - point.cut_in);
        let differential = |mean: f64, u: f64| evidence.cut_out.map_or(1.0, |_| normal(apart, mean, u));
        let as_labelled = normal(cut_in, label, LABEL_SCATTER);
        let off = (4.0..=12.5).contains(&(cut_in - label).abs());
        let narrow = evidence.cut_out.map_or(1.0, |_| uniform(apart, 0.2 * usual, 0.65 * usual));
        weights = [as_labelled * differential(usual, LABEL_SCATTER); SWITCHES];
        weights[0] = as_labelled * cut_short(point, evidence, rush);
        weights[1] = if off { differential(usual, 2.5) / 17.0 } else { 0.0 };
        weights[2] = normal(cut_in, label - 1.0, 2.5) * differential(usual + 2.0, 3.0);
        weights[3] = as_labelled * narrow;
        weights[4] = as_labelled * cut_short(point, evidence, APART_CUTS_SHORT);
    }
    if starts.are_repeated() {
        let (steady, loose) = (starts.scattered(&STEADY), starts.scattered(&LOOSE));
        for (place, weight) in weights.iter_mut().enumerate() {
            *weight *= if place == 2 { loose } else { steady };
        }
    }
    stops(&mut weights, point, evidence);
    weights
}

/// Whether the pump stops, and at which pressure it does not.
fn stops(weights: &mut [f64; SWITCHES], point: &SwitchPoint, evidence: &Evidence) {
    let label = evidence.site.label_cut_out;
    match evidence.never_stops {
        Some(needle) => {
            let needle = needle - point.error;
            weights[..5].iter_mut().for_each(|weight| *weight *= 0.005 / 50.0);
            weights[5] *= 0.95 * uniform(needle, label - 15.5, label - 0.5);
            weights[6] *= 0.95 * uniform(needle, label + 2.5, label + 30.5);
        }
        None if evidence.cut_out.is_some() => weights[5..].iter_mut().for_each(|weight| *weight *= 0.05),
        None => {}
    }
}

fn gauge_weights(point: &SwitchPoint, evidence: &Evidence) -> [f64; MEASURES] {
    if !evidence.has(Item::Starts) {
        return [1.0; MEASURES];
    }
    let (error, known) = (point.error, evidence.errors.line.max(EXACT));
    let drawn = (1.0 - WIDE[0]) * normal(error, 0.0, known) + WIDE[0] * normal(error, 0.0, WIDE[1]);
    // Off by a shift in 7 of 10 gauges, which shows at zero; by its span in the others.
    let zero = evidence.zero.map_or(1.0, |zero| {
        let floor = zero.max(0.0);
        let shifted =
            if floor <= 0.3 && error < 0.0 { normal(0.0, 0.0, 0.5) } else { normal(floor, error, 0.5) };
        0.7 * shifted + 0.3 * normal(floor, 0.0, 0.5)
    });
    let other = evidence.second_gauge.map_or(1.0, |more| normal(more, error, known.hypot(0.6)) + 1e-3);
    let whole = zero * other / drawn;
    let mut weights = [normal(error, 0.0, known) * whole; MEASURES];
    weights[1] = if (4.0..=10.3).contains(&error.abs()) { whole / 12.6 } else { 0.0 };
    weights
}

/// The density of the readings of line and switch were anything possible, as a logarithm.
fn ln_broad(evidence: &Evidence, starts: &Starts) -> f64 {
    let mut ln = -(60f64.ln());
    if evidence.cut_out.is_some() {
        ln -= 60f64.ln();
    }
    if starts.are_repeated() {
        ln += (0.5 * (starts.scattered(&STEADY) + starts.scattered(&LOOSE)) + 1e-300).ln();
    }
    if evidence.never_stops.is_some() {
        ln -= 50f64.ln();
    }
    if evidence.zero.is_some() {
        ln -= 12f64.ln();
    }
    if evidence.second_gauge.is_some() {
        ln -= 20f64.ln();
    }
    ln
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::diagnosis::cause::Group;

    #[test]
    fn the_groups_are_as_large_as_the_table_says() {
        let sizes = [Group::Switch, Group::Measuring].map(|group| group.causes().len());
        assert_eq!(sizes, [SWITCHES, MEASURES]);
    }
}
