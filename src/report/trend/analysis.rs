//! From visits to a trend: precharges at one temperature, stretches between settings, the fit.

use thiserror::Error;

use super::history::{RecordedValue, Visit};
use crate::physics::diagnosis::{AirCourse, Stretch, course};
use crate::physics::{
    BandExit, Drift, MONTH, OutOfRange, Reading, Trend, band_exit, common_slope_trend, look_again,
    precharge_at,
};
use crate::quantity::{CONFIDENCE, DAY, PSI, Uncertain};

/// After how many months another reading is thought of, to see when it would tell.
const LOOKS: [u32; 9] = [1, 2, 3, 6, 9, 12, 18, 24, 36];

/// A visit with its precharges as they would read at the one temperature.
#[derive(Clone, Debug)]
pub(super) struct Corrected<'a> {
    pub visit: &'a Visit,
    pub found: Option<Reading>,
    pub left: Option<Reading>,
}

/// What the visits come to.
pub(super) struct TrendAnalysis<'a> {
    /// The temperature all precharges are brought to; K.
    pub reference: f64,
    pub visits: Vec<Corrected<'a>>,
    /// The readings since each time the air was set; those of a tank that is gone left out.
    pub segments: Vec<Vec<Reading>>,
    /// The precharge wanted, else as last left; Pa.
    pub centre: f64,
    /// Where the precharge goes from visit to visit, as a diagnosis judges it.
    pub course: Option<AirCourse>,
    pub trend: Result<Fitted, NoTrend>,
}

/// Why the visits have no trend.
#[derive(Debug, Error)]
pub(super) enum NoTrend {
    /// The air was never read on two days between one setting and the next.
    #[error("no stretch has readings of two days")]
    TooShort,
    /// A formula does not reach so far.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// The trend and what follows from it.
pub(super) struct Fitted {
    pub trend: Trend,
    /// Loss a month with its interval at 95 %; Pa.
    pub loss: (f64, f64, f64),
    pub drift: Drift,
    /// When it leaves the band; s since 1970.
    pub exit: BandExit,
    pub look_again: f64,
    /// In how many months one more reading would tell, when it cannot be told yet.
    pub decided_in: Option<u32>,
}

impl<'a> TrendAnalysis<'a> {
    /// Analyzes visits in the order of their days; `band` is how far the precharge may stray, in Pa.
    /// `None` when no precharge can be brought to one temperature.
    pub(super) fn of(visits: &'a [Visit], band: f64) -> Option<TrendAnalysis<'a>> {
        let newest = visits.iter().rev().find(|visit| visit.temperature.is_some())?;
        let reference = newest.temperature.as_ref()?.value.value();
        let elevation = visits.iter().rev().find_map(|visit| visit.elevation.as_ref());
        let elevation = elevation.map_or(0.0, |recorded| recorded.value.value());
        let bring = |visit: &Visit, recorded: &Option<RecordedValue>| {
            corrected(visit, recorded.as_ref()?, reference, elevation)
        };
        let visits: Vec<Corrected> = visits
            .iter()
            .map(|visit| Corrected {
                visit,
                found: bring(visit, &visit.found),
                left: bring(visit, &visit.left),
            })
            .collect();
        let segments = segments(&visits);
        let last = *segments.last()?.last()?;
        let target = visits.iter().rev().find_map(|one| {
            let target = one.visit.target.as_ref().filter(|_| one.left.is_some())?;
            corrected(one.visit, target, reference, elevation).map(|reading| reading.value)
        });
        let left = visits.iter().rev().find_map(|one| one.left).unwrap_or(last).value;
        let centre = target.unwrap_or(left);
        let trend = fitted(&segments, centre, band);
        let course = course(&stretches(&segments));
        Some(TrendAnalysis { reference, visits, segments, centre, course, trend })
    }
}

/// A precharge as it would read at the one temperature.
fn corrected(visit: &Visit, recorded: &RecordedValue, reference: f64, elevation: f64) -> Option<Reading> {
    let temperature = visit.temperature.as_ref()?.value.clone();
    let exact = Uncertain::exact;
    let precharge =
        precharge_at(recorded.value.clone(), temperature, exact(reference), exact(elevation)).ok()?;
    let at = recorded.at.unix_seconds() as f64;
    Some(Reading { at, value: precharge.value(), u: precharge.standard_uncertainty() })
}

/// The readings between one setting of the air and the next.
fn segments(visits: &[Corrected<'_>]) -> Vec<Vec<Reading>> {
    let mut segments = Vec::new();
    let mut now = Vec::new();
    for one in visits {
        if one.visit.new_tank {
            segments.clear();
            now.clear();
        } else {
            now.extend(one.found);
        }
        if let Some(left) = one.left {
            segments.push(std::mem::replace(&mut now, vec![left]));
        }
    }
    segments.push(now);
    segments.retain(|segment| !segment.is_empty());
    segments
}

/// From each reading to the next with no setting between.
fn stretches(segments: &[Vec<Reading>]) -> Vec<Stretch> {
    let between = |pair: &[Reading]| Stretch {
        lost: (pair[0].value - pair[1].value) / PSI,
        u: pair[0].u.hypot(pair[1].u) / PSI,
        days: (pair[1].at - pair[0].at) / DAY,
    };
    let apart = |stretch: &Stretch| stretch.days >= 1.0;
    segments.iter().flat_map(|segment| segment.windows(2).map(between)).filter(apart).collect()
}

fn fitted(segments: &[Vec<Reading>], centre: f64, band: f64) -> Result<Fitted, NoTrend> {
    if !segments.iter().any(|segment| lasts(segment) >= DAY) {
        return Err(NoTrend::TooShort);
    }
    let trend = common_slope_trend(segments, 0.0)?;
    let (least, most) = trend.loss_interval(CONFIDENCE)?;
    let drift = trend.drift(band / 12.0, CONFIDENCE)?;
    let exit = band_exit(&trend, [centre - band, centre + band], CONFIDENCE)?;
    let later = || LOOKS.into_iter().find(|months| decides_after(segments, &trend, band, *months));
    let decided_in = if drift == Drift::Undecided { later() } else { None };
    Ok(Fitted {
        loss: (trend.loss_per_month(), least, most),
        drift,
        look_again: look_again(&trend, &exit),
        exit,
        decided_in,
        trend,
    })
}

/// How long a stretch lasts; s.
fn lasts(segment: &[Reading]) -> f64 {
    let times = segment.iter().map(|reading| reading.at);
    times.clone().fold(f64::NEG_INFINITY, f64::max) - times.fold(f64::INFINITY, f64::min)
}

/// Whether one more reading, on the line, would tell after so many months.
fn decides_after(segments: &[Vec<Reading>], trend: &Trend, band: f64, months: u32) -> bool {
    let at = trend.last_reading() + f64::from(months) * MONTH;
    let mut more = segments.to_vec();
    let Some(newest) = more.last_mut() else { return false };
    let u = newest.last().map_or(0.0, |reading| reading.u);
    newest.push(Reading { at, value: trend.at(at), u });
    let drift = common_slope_trend(&more, 0.0).and_then(|trend| trend.drift(band / 12.0, CONFIDENCE));
    drift.is_ok_and(|drift| drift != Drift::Undecided)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Set to 38 psi each time, found 3, 5, 6 and 8 psi lower, ever sooner; and once risen.
    #[test]
    fn what_bends_is_told_from_the_stretches_between_settings() {
        let reading = |days: f64, psi: f64| Reading { at: days * DAY, value: psi * PSI, u: 0.5 * PSI };
        let segment =
            |from: f64, days: f64, found: f64| vec![reading(from, 38.0), reading(from + days, found)];
        let faster = [segment(0.0, 360.0, 35.0), segment(360.0, 300.0, 33.0), segment(660.0, 240.0, 32.0)];
        let last = segment(900.0, 180.0, 30.0);
        let all: Vec<Vec<Reading>> = faster.into_iter().chain([last]).collect();
        assert_eq!(course(&stretches(&all)), Some(AirCourse::LosingFaster));
        assert_eq!(course(&stretches(&[segment(0.0, 365.0, 42.0)])), Some(AirCourse::Rising));
        assert_eq!(course(&stretches(&[segment(0.0, 0.2, 36.0)])), None);
    }
}
