//! What all causes share: the true switch points and the error of the line gauge, drawn once from the
//! readings, with how well each cause of switch and gauge goes with them.

use super::cause::CauseId::{self, *};
use super::cause::Group;
use super::causes::count;
use super::density::{Dimension, GapLaw, NO_DENSITY, POINTS, normal, of_mark, points, uniform};
use super::evidence::Evidence;
use super::items::Item;

/// How many causes the switch has, and how many the measuring.
pub(super) const SWITCHES: usize = count(Group::Switch);
pub(super) const MEASURES: usize = count(Group::Measuring);

// All that stands here is a judgement, where nothing else is said; pressures in psi.

/// How the errors of a gauge are drawn: this share of the points so wide, the rest about what is known of it. Where
/// points lie: no judgement.
const WIDE: [f64; 2] = [0.2, 6.0];
/// No gauge is taken to be better than that.
const EXACT: f64 = 0.02;
/// How often the rush of the pump stops it too soon: a part between tank and switch, a pump far too strong.
const APART_CUTS_SHORT: f64 = 0.3;
const RUSH_CUTS_SHORT: f64 = 0.3;
/// From which share of the usual differential on a switch is stopped too soon.
const CUT_SHORT_FROM: f64 = 0.1;
/// How far a switch's points scatter about its label, and about a cut-in from an earlier record or the owner's word.
const LABEL_SCATTER: f64 = 1.8;
const ELSEWHERE_SCATTER: f64 = 1.5;
/// How well one start, and one stop, is read off a moving needle, beside the mark; and of the middle of starts no
/// less than this share of their own scatter.
const START_READ: f64 = 0.35;
const STOP_READ: f64 = 0.4;
const OF_SCATTER: f64 = 0.5;
/// How far a cut-out that nobody read lies from the usual differential.
const UNREAD_CUT_OUT: f64 = 2.0;
/// True scatters of a switch in order, and of one that is loose; what reading adds to their square.
const STEADY: &[f64] = &[0.3, 0.5, 0.7];
const LOOSE: &[f64] = &[2.0, 3.0, 4.0, 5.0];
const READ_SQUARE: f64 = 0.15;
/// The least that switch points are taken to be: cut-in, cut-out at the tank, differential.
const LEAST_CUT_IN: f64 = 3.0;
const LEAST_CUT_OUT: f64 = 4.0;
const LEAST_DIFFERENTIAL: f64 = 1.0;
/// How often the pump does not stop though its switch is in order, and how often it stops though it is not.
const RUNS_ON: f64 = 0.005;
const STOPS_ALL_THE_SAME: f64 = 0.05;
/// How far a gauge is off that is off, either way.
const OFF: [f64; 2] = [4.0, 10.3];
/// In so many gauges that are off all is shifted, which shows at zero, where it is read so well; in the others only
/// their span is off. A needle that shows less rests on its stop below zero.
const SHIFTED: f64 = 0.7;
const ZERO_READ: f64 = 0.5;
const AT_STOP: f64 = 0.3;
/// How well a second gauge agrees, and the density of what it shows where that was misread, 1/psi.
const SECOND_GAUGE: f64 = 0.6;
const SECOND_MISREAD: f64 = 1e-3;
/// Over how much a reading may lie, were anything possible: a switch point, the needle of a pump that does not stop,
/// a zero, the difference of two gauges.
const ANY_POINT: f64 = 60.0;
const ANY_NEEDLE: f64 = 50.0;
const ANY_ZERO: f64 = 12.0;
const ANY_DIFFERENCE: f64 = 20.0;

/// Where the cut-in lies under a cause of the switch.
#[derive(Clone, Copy)]
enum CutInLaw {
    /// So far below its label, with that scatter.
    Below { label: f64, scatter: f64 },
    /// Between so much and so much off, either way.
    Off([f64; 2]),
}

/// What lies between cut-in and cut-out.
#[derive(Clone, Copy)]
enum DifferentialLaw {
    /// So much more than by the label, with that scatter.
    Above { label: f64, scatter: f64 },
    /// As in a switch in order, or less in this share of all installations.
    CutShort(f64),
    /// Between these shares of what the label says.
    Shares([f64; 2]),
}

/// What a cause of the switch says of every reading.
struct SwitchLaw {
    cut_in: CutInLaw,
    differential: DifferentialLaw,
    /// How the starts scatter.
    scatters: &'static [f64],
    /// The needle where the pump does not stop, from and to above the cut-out of the label; none where it does.
    runs_on: Option<[f64; 2]>,
}

const LABELLED: CutInLaw = CutInLaw::Below { label: 0.0, scatter: LABEL_SCATTER };
const USUAL: DifferentialLaw = DifferentialLaw::Above { label: 0.0, scatter: LABEL_SCATTER };
const DRIFTED: DifferentialLaw = DifferentialLaw::Above { label: 0.0, scatter: 2.5 };
const NIPPLE: CutInLaw = CutInLaw::Below { label: 1.0, scatter: 2.5 };
const WIDER: DifferentialLaw = DifferentialLaw::Above { label: 2.0, scatter: 3.0 };

/// In the order of the causes of the switch.
static SWITCH_LAWS: [(CauseId, SwitchLaw); SWITCHES] = {
    use DifferentialLaw::{CutShort, Shares};
    [
        (SwitchRight, law(LABELLED, CutShort(0.0), STEADY, None)),
        (Drifted, law(CutInLaw::Off([4.0, 12.5]), DRIFTED, STEADY, None)),
        (Nipple, law(NIPPLE, WIDER, LOOSE, None)),
        (Narrow, law(LABELLED, Shares([0.2, 0.65]), STEADY, None)),
        (Apart, law(LABELLED, CutShort(APART_CUTS_SHORT), STEADY, None)),
        (Unreached, law(LABELLED, USUAL, STEADY, Some([-15.5, -0.5]))),
        (Welded, law(LABELLED, USUAL, STEADY, Some([2.5, 30.5]))),
    ]
};

/// A switch in order where the pump is far too strong for the tank.
static RUSHED: SwitchLaw = law(LABELLED, DifferentialLaw::CutShort(RUSH_CUTS_SHORT), STEADY, None);

const fn law(
    cut_in: CutInLaw,
    differential: DifferentialLaw,
    scatters: &'static [f64],
    runs_on: Option<[f64; 2]>,
) -> SwitchLaw {
    SwitchLaw { cut_in, differential, scatters, runs_on }
}

/// Which of two each gauge is under a cause of the measuring: in order, or off; the bucket's air cool, or warm.
pub(super) struct MeasuringLaw {
    line_off: bool,
    pub air_off: bool,
    pub warm: bool,
}

/// In the order of the causes of the measuring.
pub(super) static MEASURING_LAWS: [(CauseId, MeasuringLaw); MEASURES] = [
    (ReadRight, MeasuringLaw { line_off: false, air_off: false, warm: false }),
    (LineOff, MeasuringLaw { line_off: true, air_off: false, warm: false }),
    (AirOff, MeasuringLaw { line_off: false, air_off: true, warm: false }),
    (WarmAir, MeasuringLaw { line_off: false, air_off: false, warm: true }),
];

/// The density of what lies between two ends off the middle, either way.
fn off_either_way(x: f64, [from, to]: [f64; 2]) -> f64 {
    0.5 * uniform(x.abs(), from, to)
}

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

fn mean(starts: &[f64]) -> f64 {
    starts.iter().sum::<f64>() / starts.len() as f64
}

/// The variance of some starts, with what the gauge's marks add; nothing of a single one.
fn variance(starts: &[f64], mark: f64) -> Option<f64> {
    let mean = mean(starts);
    let about = starts.iter().map(|start| (start - mean).powi(2)).sum::<f64>();
    (starts.len() > 1).then(|| about / (starts.len() as f64 - 1.0) + mark * mark)
}

fn starts(evidence: &Evidence) -> Starts {
    let mark = of_mark(evidence.errors.line_mark);
    let [variance, variance_before] =
        [&evidence.starts, &evidence.starts_before].map(|starts| variance(starts, mark));
    let (mean, u) = if evidence.has(Item::Starts) {
        (mean(&evidence.starts), START_READ.hypot(mark).max(OF_SCATTER * variance.unwrap_or(0.0).sqrt()))
    } else {
        let label = (evidence.site.label_cut_in, LABEL_SCATTER);
        evidence.cut_in_elsewhere.map_or(label, |cut_in| (cut_in, ELSEWHERE_SCATTER))
    };
    Starts { mean, variance, variance_before, u }
}

impl Starts {
    /// How well the variances of repeated starts go with one of these true scatters; 1 where there are none.
    fn scattered(&self, truths: &[f64]) -> f64 {
        let of = |truth: &f64| {
            let whole = truth * truth + READ_SQUARE;
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
    pub(super) fn of(evidence: &Evidence) -> Shared {
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
        let scattered = SWITCH_LAWS.each_ref().map(|(_, law)| starts.scattered(law.scatters));
        let steady = starts.scattered(RUSHED.scatters);
        for k in 0..POINTS {
            let point = point(k, evidence, &starts);
            shared.cut_in.push((point.cut_in - evidence.site.head).max(LEAST_CUT_IN));
            shared.cut_out.push((point.cut_out - evidence.site.head).max(LEAST_CUT_OUT));
            let switch = |s: usize| SWITCH_LAWS[s].1.weight(&point, evidence, scattered[s]);
            shared.rushed.push(RUSHED.weight(&point, evidence, steady));
            let measuring = gauge_weights(&point, evidence);
            shared.switch.iter_mut().enumerate().for_each(|(s, all)| all.push(switch(s)));
            shared.measuring.iter_mut().zip(measuring).for_each(|(all, one)| all.push(one));
        }
        shared
    }
}

fn point(k: usize, evidence: &Evidence, starts: &Starts) -> SwitchPoint {
    let at = points();
    let seen = evidence.has(Item::Starts);
    let wide = at.uniform(k, Dimension::Wide) < WIDE[0];
    let error =
        at.standard(k, Dimension::LineError) * if wide { WIDE[1] } else { evidence.errors.line.max(EXACT) };
    let error = if seen { error } else { 0.0 };
    let cut_in = starts.mean - error + starts.u * at.standard(k, Dimension::CutIn);
    let u_out = STOP_READ.hypot(of_mark(evidence.errors.line_mark));
    let z = at.standard(k, Dimension::CutOut);
    let usual = evidence.site.label_cut_out - evidence.site.label_cut_in;
    let cut_out =
        evidence.cut_out.map_or(cut_in + usual + UNREAD_CUT_OUT * z, |read| read - error + u_out * z);
    let cut_in = cut_in.max(LEAST_CUT_IN);
    SwitchPoint { error, cut_in, cut_out: cut_out.max(cut_in + LEAST_DIFFERENTIAL) }
}

impl CutInLaw {
    fn density(self, cut_in: f64, by_label: f64) -> f64 {
        match self {
            CutInLaw::Below { label, scatter } => normal(cut_in, by_label - label, scatter),
            CutInLaw::Off(ends) => off_either_way(cut_in - by_label, ends),
        }
    }
}

impl DifferentialLaw {
    fn density(self, apart: f64, usual: f64) -> f64 {
        match self {
            DifferentialLaw::Above { label, scatter } => normal(apart, usual + label, scatter),
            // It feels the pump's rush before the tank does.
            DifferentialLaw::CutShort(share) => {
                let short = uniform(apart, CUT_SHORT_FROM * usual, usual);
                (1.0 - share) * normal(apart, usual, LABEL_SCATTER) + share * short
            }
            DifferentialLaw::Shares([from, to]) => uniform(apart, from * usual, to * usual),
        }
    }
}

impl SwitchLaw {
    /// The weight of a point, where the starts scatter as this well goes with the law.
    fn weight(&self, point: &SwitchPoint, evidence: &Evidence, scattered: f64) -> f64 {
        let (site, mut weight) = (&evidence.site, scattered);
        if evidence.has(Item::Starts) {
            weight *= self.cut_in.density(point.cut_in, site.label_cut_in);
            if evidence.cut_out.is_some() {
                let usual = site.label_cut_out - site.label_cut_in;
                weight *= self.differential.density(point.cut_out - point.cut_in, usual);
            }
        }
        weight * self.stops(point, evidence)
    }

    /// Whether the pump stops, and at which pressure it does not.
    fn stops(&self, point: &SwitchPoint, evidence: &Evidence) -> f64 {
        match (evidence.never_stops, self.runs_on) {
            (Some(_), None) => RUNS_ON / ANY_NEEDLE,
            (Some(needle), Some([from, to])) => {
                let above = needle - point.error - evidence.site.label_cut_out;
                (1.0 - STOPS_ALL_THE_SAME) * uniform(above, from, to)
            }
            (None, Some(_)) if evidence.cut_out.is_some() => STOPS_ALL_THE_SAME,
            (None, _) => 1.0,
        }
    }
}

fn gauge_weights(point: &SwitchPoint, evidence: &Evidence) -> [f64; MEASURES] {
    if !evidence.has(Item::Starts) {
        return [1.0; MEASURES];
    }
    let (error, known) = (point.error, evidence.errors.line.max(EXACT));
    let as_known = normal(error, 0.0, known);
    let of_points = (1.0 - WIDE[0]) * as_known + WIDE[0] * normal(error, 0.0, WIDE[1]);
    let zero = evidence.zero.map_or(1.0, |zero| {
        let floor = zero.max(0.0);
        let shift = if floor <= AT_STOP && error < 0.0 { floor } else { error };
        SHIFTED * normal(floor, shift, ZERO_READ) + (1.0 - SHIFTED) * normal(floor, 0.0, ZERO_READ)
    });
    let other = evidence
        .second_gauge
        .map_or(1.0, |more| normal(more, error, known.hypot(SECOND_GAUGE)) + SECOND_MISREAD);
    let whole = zero * other / of_points;
    let off = off_either_way(error, OFF);
    MEASURING_LAWS.each_ref().map(|(_, law)| whole * if law.line_off { off } else { as_known })
}

/// The density of the readings of line and switch were anything possible, as a logarithm.
fn ln_broad(evidence: &Evidence, starts: &Starts) -> f64 {
    let has = |is: bool, width: f64| if is { width.ln() } else { 0.0 };
    let scattered = 0.5 * (starts.scattered(STEADY) + starts.scattered(LOOSE));
    (scattered + NO_DENSITY).ln()
        - ANY_POINT.ln()
        - has(evidence.cut_out.is_some(), ANY_POINT)
        - has(evidence.never_stops.is_some(), ANY_NEEDLE)
        - has(evidence.zero.is_some(), ANY_ZERO)
        - has(evidence.second_gauge.is_some(), ANY_DIFFERENCE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn laws_stand_in_the_order_of_their_causes() {
        let ids = |group: Group| group.causes().iter().map(|cause| cause.id).collect::<Vec<_>>();
        assert_eq!(SWITCH_LAWS.each_ref().map(|(cause, _)| *cause).to_vec(), ids(Group::Switch));
        assert_eq!(MEASURING_LAWS.each_ref().map(|(cause, _)| *cause).to_vec(), ids(Group::Measuring));
    }
}
