//! How a tank's precharge goes over the years, from one setting to the next reading.

use crate::physics::confidence::one_sided;
use crate::quantity::{DAY, YEAR};

use super::claims::SURE;

/// From how the precharge was left at one visit to how it was found at the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// What was lost, for one temperature, psi; below zero where it rose.
    pub lost: f64,
    /// Standard uncertainty of that, psi.
    pub u: f64,
    /// How many days lie between.
    pub days: f64,
}

/// Where the precharge goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AirCourse {
    /// No more is lost than is usual.
    Steady,
    /// More is lost than is usual.
    Losing,
    /// More is lost from stretch to stretch.
    LosingFaster,
    /// It rose. Air cannot appear: water behind the bladder, another gauge, a wrong temperature, or air
    /// that nobody wrote down.
    Rising,
    /// These readings do not tell.
    Unclear,
}

impl AirCourse {
    /// What it is called, what it means and what to do about it, where it is a finding of its own.
    pub fn message(self) -> Option<[&'static str; 3]> {
        match self {
            AirCourse::LosingFaster => Some([
                "losing air faster",
                "The tank loses air faster from visit to visit.",
                "Soap the air valve. If it is tight, the bladder or a seam is failing: plan for another tank.",
            ]),
            AirCourse::Losing => Some([
                "losing air",
                "The tank loses more air in a year than is common.",
                "Soap the air valve, and read the precharge again in a month.",
            ]),
            AirCourse::Rising => Some([
                "precharge rose",
                "The precharge rose since an earlier visit, and air cannot appear: water is behind the bladder, another gauge was used, the temperature was wrong, or air was added.",
                "Read it again with the same gauge, the tank drained and knocked on.",
            ]),
            AirCourse::Steady | AirCourse::Unclear => None,
        }
    }
}

/// What a tank may lose in a year, psi: judgement, common practice draws the line at 2 to 3.
const USUAL_A_YEAR: f64 = 3.0;
/// A rise of so much is no rise, psi. Judgement.
const NO_RISE: f64 = 1.0;

/// Where the precharge goes, by the stretches between visits, the oldest first; nothing without any.
///
/// Each stretch has a rate of its own, psi a year. Their weighted mean is held against what is usual, and a
/// straight line through them against none that rises: a bladder that fails does so ever faster. Said is
/// what is 95 % sure.
///
/// Units: psi, days. Range: any. Source: weighted least squares (JCGM 100:2008, H.3); the limits are
/// judgements.
///
/// ```
/// use tankhand::physics::diagnosis::{AirCourse, Stretch, course};
/// let lost = [(3.0, 360.0), (5.0, 300.0), (6.0, 240.0), (8.0, 180.0)];
/// let stretches = lost.map(|(lost, days)| Stretch { lost, u: 1.2, days });
/// assert_eq!(course(&stretches), Some(AirCourse::LosingFaster));
/// ```
pub fn course(stretches: &[Stretch]) -> Option<AirCourse> {
    let newest = stretches.last()?;
    let sure = one_sided(SURE).unwrap_or(f64::INFINITY);
    if stretches.iter().any(|it| it.lost + sure * it.u < -NO_RISE) {
        return Some(AirCourse::Rising);
    }
    let rates = Rates::of(stretches);
    let [slope, u] = rates.slope();
    let newest_rate = newest.lost - sure * newest.u;
    if stretches.len() >= 3 && slope > sure * u && newest_rate > 0.0 {
        return Some(AirCourse::LosingFaster);
    }
    let [mean, u] = rates.mean();
    Some(match mean - USUAL_A_YEAR {
        over if over > sure * u => AirCourse::Losing,
        over if over < -sure * u => AirCourse::Steady,
        _ => AirCourse::Unclear,
    })
}

/// Rates with their times and weights.
struct Rates(Vec<[f64; 3]>);

impl Rates {
    fn of(stretches: &[Stretch]) -> Rates {
        let mut passed = 0.0;
        let rate = |it: &Stretch| {
            let years = it.days.max(1.0) * DAY / YEAR;
            let middle = passed + 0.5 * years;
            passed += years;
            [middle, it.lost / years, (years / it.u.max(1e-6)).powi(2)]
        };
        Rates(stretches.iter().map(rate).collect())
    }

    fn sum(&self, of: impl Fn(&[f64; 3]) -> f64) -> f64 {
        self.0.iter().map(|rate| rate[2] * of(rate)).sum()
    }

    /// The weighted mean and its standard uncertainty.
    fn mean(&self) -> [f64; 2] {
        let whole = self.sum(|_| 1.0);
        [self.sum(|rate| rate[1]) / whole, whole.sqrt().recip()]
    }

    /// How the rate grows in a year, and its standard uncertainty.
    fn slope(&self) -> [f64; 2] {
        let whole = self.sum(|_| 1.0);
        let middle = self.sum(|rate| rate[0]) / whole;
        let spread = self.sum(|rate| (rate[0] - middle).powi(2));
        if spread <= 0.0 {
            return [0.0, f64::INFINITY];
        }
        [self.sum(|rate| (rate[0] - middle) * rate[1]) / spread, spread.sqrt().recip()]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_course_is_what_the_stretches_say() {
        use AirCourse::*;
        type Row<'t> = (&'t [(f64, f64)], Option<AirCourse>);
        let table: [Row<'_>; 7] = [
            (&[], None),
            (&[(0.5, 365.0)], Some(Steady)),
            (&[(3.0, 365.0)], Some(Unclear)),
            (&[(6.0, 365.0)], Some(Losing)),
            (&[(5.0, 365.0), (5.5, 365.0), (5.0, 365.0)], Some(Losing)),
            (&[(1.0, 365.0), (3.0, 330.0), (9.0, 300.0)], Some(LosingFaster)),
            (&[(0.5, 365.0), (-4.0, 365.0)], Some(Rising)),
        ];
        for (lost, expected) in table {
            let stretches: Vec<Stretch> =
                lost.iter().map(|(lost, days)| Stretch { lost: *lost, u: 1.0, days: *days }).collect();
            assert_eq!(course(&stretches), expected, "{lost:?}");
        }
    }

    /// Where scatter crosses what it is expected to be, nothing jumps: the verdict changes once.
    #[test]
    fn there_is_no_cliff() {
        let of = |lost: f64| course(&[Stretch { lost, u: 0.8, days: 365.25 }]);
        let verdicts: Vec<_> = (0..80).map(|step| of(f64::from(step) / 10.0)).collect();
        let changes = verdicts.windows(2).filter(|pair| pair[0] != pair[1]).count();
        assert_eq!(changes, 2, "{verdicts:?}");
    }
}
