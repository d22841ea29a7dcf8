//! The laws of each cause of the tank: what its air valve shows, what water it gives.

use super::cause::CauseId::{self, *};
use super::density::{Dimension, points, uniform};
use super::switch::Shared;

/// Drawdown of a tank in order, gal: Boyle's law; `charge`, `cut_in` and `cut_out` in psi above
/// `atmosphere`.
pub(super) fn gives(volume: f64, charge: f64, [cut_in, cut_out]: [f64; 2], atmosphere: f64) -> f64 {
    if charge >= cut_out {
        return 0.0;
    }
    let from = charge.max(cut_in) + atmosphere;
    (volume * (charge + atmosphere) * (1.0 / from - 1.0 / (cut_out + atmosphere))).max(0.0)
}

/// Shares of the water that a cause leaves, from and to; those of a wrong plate are in two parts.
fn left(cause: CauseId) -> Option<[f64; 2]> {
    match cause {
        Stuck => Some([0.0, 0.6]),
        Blocked => Some([0.1, 0.75]),
        Trapped => Some([0.3, 0.85]),
        Plate => Some([0.5, 1.6]),
        _ => None,
    }
}

/// Density of a share of the water that a cause leaves; none where it leaves all.
pub(super) fn left_share(cause: CauseId, share: f64) -> Option<f64> {
    let [from, to] = left(cause)?;
    Some(if cause == Plate {
        0.6 * uniform(share, from, 0.84) + 0.4 * uniform(share, 1.16, to)
    } else {
        uniform(share, from, to)
    })
}

/// A share of the water that a cause leaves.
pub(super) fn left_share_of(cause: CauseId, u: f64) -> f64 {
    let [from, to] = left(cause).unwrap_or([1.0, 1.0]);
    match cause {
        Plate if u < 0.6 => from + (0.84 - from) * u / 0.6,
        Plate => 1.16 + (to - 1.16) * (u - 0.6) / 0.4,
        _ => from + (to - from) * u,
    }
}

/// What the air valve shows under a cause, at a point.
pub(super) struct AirLaw<'s> {
    pub cause: CauseId,
    pub k: usize,
    pub shared: &'s Shared,
    /// Whether it is of the only tank, so that its own air is what was read.
    pub alone: bool,
}

impl AirLaw<'_> {
    /// How likely it shows nothing at all.
    pub fn atom(&self) -> f64 {
        if self.cause == Torn && self.alone { 0.6 } else { 0.0 }
    }

    /// From where to where it lies evenly, where it does.
    fn ends(&self) -> Option<[f64; 2]> {
        let (cut_in, low) = (self.shared.cut_in[self.k], self.shared.law.low_from());
        match self.cause {
            Low => Some([cut_in - (cut_in - 3.0).max(low + 2.0), cut_in - low]),
            AirLeak => Some([cut_in - (cut_in - 3.0).max(low), cut_in - low + 2.0]),
            Waterlogged => Some([0.0, 3.0]),
            Torn if self.alone => Some([0.0, 30.0]),
            Shut if self.alone => Some([5.0, self.shared.cut_out[self.k].max(6.0)]),
            _ => None,
        }
    }

    /// Whether the precharge may be anything beside: nobody saw to such a tank.
    fn is_odd(&self) -> bool {
        matches!(self.cause, Stuck | Blocked | Plate | Trapped)
    }

    /// Its density.
    pub fn density(&self, air: f64) -> f64 {
        let cut_in = self.shared.cut_in[self.k];
        if let Some([from, to]) = self.ends() {
            return uniform(air, from, to);
        }
        if self.cause == High {
            let over = air - cut_in - 0.5;
            return if over >= 0.0 { (-over / 8.0).exp() / 8.0 } else { 0.0 };
        }
        let usual = self.shared.law.density(cut_in - air);
        if self.is_odd() { 0.7 * usual + 0.3 * uniform(air, 5.0, 5.0 + cut_in) } else { usual }
    }

    /// One of it.
    pub fn usual(&self, u: f64) -> f64 {
        let cut_in = self.shared.cut_in[self.k];
        if let Some([from, to]) = self.ends() {
            return from + (to - from) * u;
        }
        match self.cause {
            High => cut_in + 0.5 - 8.0 * (u + 1e-12).ln(),
            _ if self.is_odd() && points().uniform(self.k, Dimension::Other) < 0.3 => 5.0 + cut_in * u,
            _ => cut_in - self.shared.gap[self.k],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::diagnosis::evidence::{Evidence, GaugeErrors, WellSite};
    use crate::physics::drawdown;
    use crate::quantity::PSI;

    #[test]
    fn a_tank_in_order_gives_what_the_formula_says() {
        for (charge, cut_in, cut_out) in [(38.0, 40.0, 60.0), (10.0, 30.0, 50.0), (45.0, 40.0, 60.0)] {
            let by_formula = 44.0 * drawdown(1.0, charge * PSI, cut_in * PSI, cut_out * PSI, 0.0).unwrap();
            let here = gives(44.0, charge, [cut_in, cut_out], 14.695_95);
            assert!((by_formula - here).abs() < 1e-4, "{charge}: {by_formula} {here}");
        }
        assert!(gives(44.0, 65.0, [40.0, 60.0], 14.7).abs() < 1e-12);
    }

    /// How much of a density lies below a place, in small steps from `from` on.
    fn below(at: f64, from: f64, density: impl Fn(f64) -> f64) -> f64 {
        const STEPS: i32 = 20_000;
        let width = (at - from) / f64::from(STEPS);
        (0..STEPS).map(|step| density(from + width * (f64::from(step) + 0.5)) * width).sum()
    }

    /// What is drawn has the density that it is weighed by: as much of it lies below each draw as was asked for.
    #[test]
    fn shares_of_the_water_are_drawn_by_their_density() {
        for cause in [Stuck, Blocked, Trapped, Plate] {
            let density = |share: f64| left_share(cause, share).unwrap();
            assert!((below(2.0, 0.0, density) - 1.0).abs() < 1e-3, "{cause:?}");
            for u in [0.01, 0.25, 0.5, 0.59, 0.61, 0.75, 0.99] {
                let found = below(left_share_of(cause, u), 0.0, density);
                assert!((found - u).abs() < 1e-3, "{cause:?} {u}: {found}");
            }
        }
        assert_eq!((left_share(Low, 0.5), left_share_of(Low, 0.3)), (None, 1.0));
    }

    /// The same of what the air valve shows, where it is not what is usual beside anything else.
    #[test]
    fn precharges_are_drawn_by_their_density() {
        let site = WellSite {
            volume: None,
            label_cut_in: 40.0,
            label_cut_out: 60.0,
            atmosphere: 14.7,
            head: 0.0,
            gap: 2.0,
        };
        let errors = GaugeErrors { line: 0.6, line_mark: 0.5, air: 0.6, air_mark: 0.5, bucket: 0.02 };
        let shared = Shared::of(&Evidence::of(site, errors));
        for (cause, k) in [(Low, 0), (AirLeak, 1), (Waterlogged, 2), (Torn, 3), (Shut, 4), (High, 5)] {
            let law = AirLaw { cause, k, shared: &shared, alone: true };
            let density = |air: f64| law.density(air);
            assert!((below(300.0, -5.0, density) - 1.0).abs() < 5e-3, "{cause:?}");
            for u in [0.05, 0.3, 0.6, 0.9] {
                // Of what is too high, little lies far off.
                let expected = if cause == High { 1.0 - u } else { u };
                let found = below(law.usual(u), -5.0, density);
                assert!((found - expected).abs() < 5e-3, "{cause:?} {u}: {found}");
            }
        }
        for cause in [Stuck, Blocked, Plate, Trapped] {
            let law = AirLaw { cause, k: 6, shared: &shared, alone: true };
            assert!((below(300.0, -5.0, |air| law.density(air)) - 1.0).abs() < 5e-3, "{cause:?}");
            let odd = (0..768).filter(|k| {
                let law = AirLaw { cause, k: *k, shared: &shared, alone: true };
                (law.usual(0.5) - (5.0 + 0.5 * shared.cut_in[*k])).abs() < 1e-9
            });
            assert!((200..260).contains(&odd.count()), "three in ten have any precharge");
        }
    }
}
