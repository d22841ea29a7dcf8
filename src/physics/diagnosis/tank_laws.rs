//! The laws of each cause of the tank: what its air valve shows, what water it gives, what it weighs, what
//! it lost since an earlier visit, how long the pump runs. All shares and spreads are judgements.

use super::cause::CauseId::{self, *};
use super::causes_of_tank::OF_TANK;
use super::density::{Dimension, points, uniform};
use super::run_time::RunLaw;
use super::switch::Shared;
use crate::physics::air::given;

/// How many causes the tank has; each has its row in [`TANK_LAWS`].
pub(super) const TANKS: usize = OF_TANK.len();

/// Drawdown of a tank in order, gal; `precharge`, `cut_in` and `cut_out` in psi above `atmosphere`.
pub(super) fn gives(volume: f64, precharge: f64, [cut_in, cut_out]: [f64; 2], atmosphere: f64) -> f64 {
    let [precharge, cut_in, cut_out] = [precharge, cut_in, cut_out].map(|gauge| gauge + atmosphere);
    given(&volume, &precharge, &cut_in, &cut_out).max(0.0)
}

/// What the air valve of the drained tank shows, psi.
#[derive(Clone, Copy)]
pub(super) enum AirShown {
    /// What is usual below cut-in.
    Usual,
    /// The same, or, so often, anything from there on: nobody saw to such a tank.
    Neglected { often: f64, from: f64 },
    /// More below cut-in than is usual: from `less` nearer to it than low begins, down to [`LOW_TO`], or to `more`
    /// beyond where low begins if that is further.
    Low { more: f64, less: f64 },
    /// From so far above cut-in on, and by so much more on average.
    High { from: f64, by: f64 },
    /// Anything between these.
    Between([f64; 2]),
    /// So often nothing at all, else anything up to that; of one of several tanks what is usual.
    Failed { nothing: f64, up_to: f64 },
    /// From there on to the pressure of the water; of one of several tanks what is usual.
    ShutIn { from: f64 },
}

/// What water a tank gives between cut-out and cut-in.
#[derive(Clone, Copy)]
pub(super) enum WaterGiven {
    /// What the formula says.
    Whole,
    /// A share of it, from and to.
    Share([f64; 2]),
    /// A share of it as another volume than the plate's gives: [`WRONG_PLATE`].
    OtherVolume,
    /// That of a tank with any air up to that, psi.
    Failed { up_to: f64 },
    /// That of the pipe, gal: the least, and how much more at most.
    ShutIn { least: f64, more: f64 },
    /// Half of it, and half of what a second tank gives, which so often has no air, else any precharge up to so
    /// far below cut-in, psi.
    WithSick { no_air: f64, below: f64 },
}

/// What water stands in the drained tank.
#[derive(Clone, Copy)]
pub(super) enum WaterInside {
    /// A share of its volume: the least, and how much more at most.
    Share { least: f64, more: f64 },
    /// All that it does not give.
    NotGiven,
}

/// How the precharge went since an earlier visit.
#[derive(Clone, Copy)]
pub(super) enum SinceEarlier {
    /// Down by so many psi a year, and by how much that scatters, psi.
    Lost { a_year: f64, scatter: f64 },
    /// Down by anything between these, psi a year.
    Leaked([f64; 2]),
    /// Then it lay so far below cut-in, and scattered so much, psi; what is read now tells nothing of it.
    WasUsual { below: f64, scatter: f64 },
}

/// What a cause of the tank says of every reading.
#[derive(Clone, Copy)]
pub(super) struct TankLaw {
    pub cause: CauseId,
    pub air: AirShown,
    pub water: WaterGiven,
    pub inside: WaterInside,
    pub since: SinceEarlier,
    pub run: RunLaw,
}

const NEGLECTED: AirShown = AirShown::Neglected { often: 0.3, from: 5.0 };
const FAILED_AIR: AirShown = AirShown::Failed { nothing: 0.6, up_to: 30.0 };
const SHUT_IN: AirShown = AirShown::ShutIn { from: 5.0 };
const FAILED: WaterGiven = WaterGiven::Failed { up_to: 25.0 };
const PIPE_ONLY: WaterGiven = WaterGiven::ShutIn { least: 0.05, more: 0.35 };
const WITH_SICK: WaterGiven = WaterGiven::WithSick { no_air: 0.3, below: 12.0 };
const DROPS: WaterInside = WaterInside::Share { least: 0.005, more: 0.0 };
const BEHIND_TEAR: WaterInside = WaterInside::Share { least: 0.05, more: 0.65 };
const KEPT: SinceEarlier = SinceEarlier::Lost { a_year: 0.5, scatter: 1.0 };
/// Of tanks that lost some, though no leak was found.
const SANK: SinceEarlier = SinceEarlier::Lost { a_year: 1.0, scatter: 1.2 };
const WAS_USUAL: SinceEarlier = SinceEarlier::WasUsual { below: 2.5, scatter: 2.5 };

/// In the order of the causes of the tank.
pub(super) static TANK_LAWS: [TankLaw; TANKS] = {
    use RunLaw::{ByWater, Moved, Only};
    use SinceEarlier::Leaked;
    use WaterGiven::{OtherVolume, Share, Whole};
    [
        law(TankRight, AirShown::Usual, Whole, DROPS, KEPT, ByWater),
        law(Low, AirShown::Low { more: 2.0, less: 0.0 }, Whole, DROPS, SANK, ByWater),
        law(High, AirShown::High { from: 0.5, by: 8.0 }, Whole, DROPS, KEPT, ByWater),
        law(Waterlogged, AirShown::Between([0.0, 3.0]), Whole, DROPS, WAS_USUAL, ByWater),
        law(Torn, FAILED_AIR, FAILED, BEHIND_TEAR, WAS_USUAL, ByWater),
        law(Stuck, NEGLECTED, Share([0.0, 0.6]), DROPS, KEPT, ByWater),
        law(Blocked, NEGLECTED, Share([0.1, 0.75]), DROPS, KEPT, Moved { by: -0.25, more: 0.25 }),
        law(Shut, SHUT_IN, PIPE_ONLY, DROPS, WAS_USUAL, Only { seconds: 3.0, spread: 0.55 }),
        law(Hidden, AirShown::Usual, WITH_SICK, DROPS, KEPT, ByWater),
        law(Plate, NEGLECTED, OtherVolume, DROPS, KEPT, ByWater),
        law(Trapped, NEGLECTED, Share([0.3, 0.85]), WaterInside::NotGiven, KEPT, ByWater),
        law(AirLeak, AirShown::Low { more: 0.0, less: 2.0 }, Whole, DROPS, Leaked([4.0, 25.0]), ByWater),
    ]
};

const fn law(
    cause: CauseId,
    air: AirShown,
    water: WaterGiven,
    inside: WaterInside,
    since: SinceEarlier,
    run: RunLaw,
) -> TankLaw {
    TankLaw { cause, air, water, inside, since, run }
}

/// Shares of the water where the plate is wrong: too large a plate, too small a one; nearer to it is within
/// what plates are off. How often it is too large.
const WRONG_PLATE: [[f64; 2]; 2] = [[0.5, 0.84], [1.16, 1.6]];
const PLATE_TOO_LARGE: f64 = 0.6;
/// Down to that a low precharge goes, psi, unless low itself begins near it.
const LOW_TO: f64 = 3.0;
/// Keeps a logarithm finite.
const TINY_SHARE: f64 = 1e-12;

impl WaterGiven {
    /// From where to where the shares lie that are left, in two parts, and how often it is the first; none where all is left, or what is left is no share.
    fn shares(self) -> Option<([[f64; 2]; 2], f64)> {
        match self {
            WaterGiven::Share(ends) => Some(([ends; 2], 1.0)),
            WaterGiven::OtherVolume => Some((WRONG_PLATE, PLATE_TOO_LARGE)),
            WaterGiven::Whole
            | WaterGiven::Failed { .. }
            | WaterGiven::ShutIn { .. }
            | WaterGiven::WithSick { .. } => None,
        }
    }

    /// Density of a share of the water that is left; none where all is, or what is left is no share.
    pub(super) fn left_share(self, share: f64) -> Option<f64> {
        let (parts, often) = self.shares()?;
        let [first, second] = parts.map(|[from, to]| uniform(share, from, to));
        Some(often * first + (1.0 - often) * second)
    }

    /// A share of the water that is left.
    pub(super) fn left_share_of(self, u: f64) -> f64 {
        let Some(([first, second], often)) = self.shares() else { return 1.0 };
        let at = |[from, to]: [f64; 2], u: f64| from + (to - from) * u;
        if u <= often { at(first, u / often) } else { at(second, (u - often) / (1.0 - often)) }
    }
}

/// What the air valve shows under a cause, at a point.
pub(super) struct AirLaw<'s> {
    shown: AirShown,
    k: usize,
    shared: &'s Shared,
}

impl<'s> AirLaw<'s> {
    /// Of a tank that is `alone`, its own air is what was read.
    pub(super) fn of(law: &TankLaw, k: usize, shared: &'s Shared, alone: bool) -> AirLaw<'s> {
        let is_its_own = matches!(law.air, AirShown::Failed { .. } | AirShown::ShutIn { .. });
        AirLaw { shown: if is_its_own && !alone { AirShown::Usual } else { law.air }, k, shared }
    }

    fn cut_in(&self) -> f64 {
        self.shared.cut_in[self.k]
    }

    /// How likely it shows nothing at all.
    pub(super) fn atom(&self) -> f64 {
        if let AirShown::Failed { nothing, .. } = self.shown { nothing } else { 0.0 }
    }

    /// From where to where it lies evenly, where it does.
    fn ends(&self) -> Option<[f64; 2]> {
        let (cut_in, low) = (self.cut_in(), self.shared.law.low_from());
        match self.shown {
            AirShown::Low { more, less } => {
                Some([cut_in - (cut_in - LOW_TO).max(low + more), cut_in - low + less])
            }
            AirShown::Between(ends) => Some(ends),
            AirShown::Failed { up_to, .. } => Some([0.0, up_to]),
            AirShown::ShutIn { from } => Some([from, self.shared.cut_out[self.k].max(from + 1.0)]),
            AirShown::Usual | AirShown::Neglected { .. } | AirShown::High { .. } => None,
        }
    }

    /// Its density.
    pub(super) fn density(&self, air: f64) -> f64 {
        if let Some([from, to]) = self.ends() {
            return uniform(air, from, to);
        }
        let cut_in = self.cut_in();
        if let AirShown::High { from, by } = self.shown {
            let over = air - cut_in - from;
            return if over >= 0.0 { (-over / by).exp() / by } else { 0.0 };
        }
        let usual = self.shared.law.density(cut_in - air);
        let AirShown::Neglected { often, from } = self.shown else { return usual };
        (1.0 - often) * usual + often * uniform(air, from, from + cut_in)
    }

    /// One of it.
    pub(super) fn usual(&self, u: f64) -> f64 {
        if let Some([from, to]) = self.ends() {
            return from + (to - from) * u;
        }
        let cut_in = self.cut_in();
        if let AirShown::High { from, by } = self.shown {
            return cut_in + from - by * (u + TINY_SHARE).ln();
        }
        let usual = cut_in - self.shared.gap[self.k];
        let AirShown::Neglected { often, from } = self.shown else { return usual };
        if points().uniform(self.k, Dimension::Other) < often { from + cut_in * u } else { usual }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::diagnosis::cause::Group;
    use crate::physics::diagnosis::evidence::{Evidence, GaugeErrors, WellSite};
    use crate::physics::drawdown;
    use crate::quantity::PSI;

    #[test]
    fn laws_stand_in_the_order_of_their_causes() {
        let ids: Vec<CauseId> = Group::Tank.causes().iter().map(|cause| cause.id).collect();
        assert_eq!(TANK_LAWS.map(|law| law.cause).to_vec(), ids);
    }

    #[test]
    fn a_tank_in_order_gives_what_the_formula_says() {
        for (precharge, cut_in, cut_out) in [(38.0, 40.0, 60.0), (10.0, 30.0, 50.0), (45.0, 40.0, 60.0)] {
            let by_formula = 44.0 * drawdown(1.0, precharge * PSI, cut_in * PSI, cut_out * PSI, 0.0).unwrap();
            let in_psi = gives(44.0, precharge, [cut_in, cut_out], 14.695_95);
            assert!((by_formula - in_psi).abs() < 1e-4, "{precharge}: {by_formula} {in_psi}");
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
            let water = TANK_LAWS[cause.place()].water;
            let density = |share: f64| water.left_share(share).unwrap();
            assert!((below(2.0, 0.0, density) - 1.0).abs() < 1e-3, "{cause:?}");
            for u in [0.01, 0.25, 0.5, 0.59, 0.61, 0.75, 0.99] {
                let found = below(water.left_share_of(u), 0.0, density);
                assert!((found - u).abs() < 1e-3, "{cause:?} {u}: {found}");
            }
        }
        let whole = TANK_LAWS[Low.place()].water;
        assert_eq!((whole.left_share(0.5), whole.left_share_of(0.3)), (None, 1.0));
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
            let law = AirLaw::of(&TANK_LAWS[cause.place()], k, &shared, true);
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
            let law = AirLaw::of(&TANK_LAWS[cause.place()], 6, &shared, true);
            assert!((below(300.0, -5.0, |air| law.density(air)) - 1.0).abs() < 5e-3, "{cause:?}");
            let odd = (0..768).filter(|&k| {
                let law = AirLaw::of(&TANK_LAWS[cause.place()], k, &shared, true);
                (law.usual(0.5) - (5.0 + 0.5 * shared.cut_in[k])).abs() < 1e-9
            });
            assert!((200..260).contains(&odd.count()), "three in ten have any precharge");
        }
    }
}
