//! From visits to a trend: charges at one temperature, stretches between settings, the fit.

use thiserror::Error;

use super::history::{Told, Visit};
use crate::physics::{
    Drift, Leaving, MONTH, OutOfRange, Reading, Trend, charge_at, leaves, look_again, trend_of_stretches,
};
use crate::quantity::{DAY, Uncertain};

/// The confidence of verdicts and intervals.
const CONFIDENCE: f64 = 0.95;

/// After how many months another reading is thought of, to see when it would tell.
const LOOKS: [u32; 9] = [1, 2, 3, 6, 9, 12, 18, 24, 36];

/// A visit with its charges as they would read at the one temperature.
#[derive(Clone, Debug)]
pub(super) struct Corrected<'a> {
    pub visit: &'a Visit,
    pub found: Option<Reading>,
    pub left: Option<Reading>,
}

/// What the visits come to.
pub(super) struct Reckoned<'a> {
    /// The temperature all charges are brought to; K.
    pub reference: f64,
    pub visits: Vec<Corrected<'a>>,
    /// The readings since each time the air was set; those of a tank that is gone left out.
    pub stretches: Vec<Vec<Reading>>,
    /// The charge wanted, else as last left; Pa.
    pub centre: f64,
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
    pub leaving: Leaving,
    pub look_again: f64,
    /// In how many months one more reading would tell, when it cannot be told yet.
    pub would_tell: Option<u32>,
}

impl<'a> Reckoned<'a> {
    /// Reckons visits in the order of their days; `band` is how far the charge may stray, in Pa.
    /// `None` when no charge can be brought to one temperature.
    pub fn of(visits: &'a [Visit], band: f64) -> Option<Reckoned<'a>> {
        let newest = visits.iter().rev().find(|visit| visit.temperature.is_some())?;
        let reference = newest.temperature.as_ref()?.value.value();
        let elevation = visits.iter().rev().find_map(|visit| visit.elevation.as_ref());
        let elevation = elevation.map_or(0.0, |told| told.value.value());
        let bring =
            |visit: &Visit, told: &Option<Told>| corrected(visit, told.as_ref()?, reference, elevation);
        let visits: Vec<Corrected> = visits
            .iter()
            .map(|visit| Corrected {
                visit,
                found: bring(visit, &visit.found),
                left: bring(visit, &visit.left),
            })
            .collect();
        let stretches = stretches(&visits);
        let last = *stretches.last()?.last()?;
        let wanted = visits.iter().rev().find_map(|one| {
            let wanted = one.visit.wanted.as_ref().filter(|_| one.left.is_some())?;
            corrected(one.visit, wanted, reference, elevation).map(|reading| reading.value)
        });
        let left = visits.iter().rev().find_map(|one| one.left).unwrap_or(last).value;
        let centre = wanted.unwrap_or(left);
        let trend = fitted(&stretches, centre, band);
        Some(Reckoned { reference, visits, stretches, centre, trend })
    }
}

/// A charge as it would read at the one temperature.
fn corrected(visit: &Visit, told: &Told, reference: f64, elevation: f64) -> Option<Reading> {
    let temperature = visit.temperature.as_ref()?.value.clone();
    let exact = Uncertain::exact;
    let charge = charge_at(told.value.clone(), temperature, exact(reference), exact(elevation)).ok()?;
    let at = told.at.unix_seconds() as f64;
    Some(Reading { at, value: charge.value(), u: charge.standard_uncertainty() })
}

/// The readings between one setting of the air and the next.
fn stretches(visits: &[Corrected<'_>]) -> Vec<Vec<Reading>> {
    let mut stretches = Vec::new();
    let mut now = Vec::new();
    for one in visits {
        if one.visit.new_tank {
            stretches.clear();
            now.clear();
        } else {
            now.extend(one.found);
        }
        if let Some(left) = one.left {
            stretches.push(std::mem::replace(&mut now, vec![left]));
        }
    }
    stretches.push(now);
    stretches.retain(|stretch| !stretch.is_empty());
    stretches
}

fn fitted(stretches: &[Vec<Reading>], centre: f64, band: f64) -> Result<Fitted, NoTrend> {
    if !stretches.iter().any(|stretch| lasts(stretch) >= DAY) {
        return Err(NoTrend::TooShort);
    }
    let trend = trend_of_stretches(stretches, 0.0)?;
    let (least, most) = trend.loss_interval(CONFIDENCE)?;
    let drift = trend.drift(band / 12.0, CONFIDENCE)?;
    let leaving = leaves(&trend, [centre - band, centre + band], CONFIDENCE)?;
    let later = || LOOKS.into_iter().find(|months| tells_after(stretches, &trend, band, *months));
    let would_tell = if drift == Drift::CantTellYet { later() } else { None };
    Ok(Fitted {
        loss: (trend.loss_per_month(), least, most),
        drift,
        look_again: look_again(&trend, &leaving),
        leaving,
        would_tell,
        trend,
    })
}

/// How long a stretch lasts; s.
fn lasts(stretch: &[Reading]) -> f64 {
    let times = stretch.iter().map(|reading| reading.at);
    times.clone().fold(f64::NEG_INFINITY, f64::max) - times.fold(f64::INFINITY, f64::min)
}

/// Whether one more reading, on the line, would tell after so many months.
fn tells_after(stretches: &[Vec<Reading>], trend: &Trend, band: f64, months: u32) -> bool {
    let at = trend.last_reading() + f64::from(months) * MONTH;
    let mut more = stretches.to_vec();
    let Some(newest) = more.last_mut() else { return false };
    let u = newest.last().map_or(0.0, |reading| reading.u);
    newest.push(Reading { at, value: trend.at(at), u });
    let drift = trend_of_stretches(&more, 0.0).and_then(|trend| trend.drift(band / 12.0, CONFIDENCE));
    drift.is_ok_and(|drift| drift != Drift::CantTellYet)
}
