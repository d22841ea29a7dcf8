//! What each cause of the tank predicts, at each point: precharge, drawdown, weight, and how well the
//! readings go with them.
//!
//! A sound tank gives what Boyle's law says. Where a reading of the air is there, precharges are drawn about
//! it as well as from what is usual, and weighed by the ratio of the densities; so are shares of lost water
//! about what the bucket says. Shares and spreads are judgements, where nothing else is said.

use super::density::{Dimension, NO_DENSITY, normal, of_mark, points};
use super::evidence::Evidence;
use super::items::Item;
use super::misread::{Assumed, both, mixed};
use super::switch::Shared;
use super::tank_laws::{AirLaw, SinceEarlier, TankLaw, WaterGiven, WaterInside, gives};
use crate::physics::constants::WATER_DENSITY;
use crate::quantity::{GALLON, POUND};

/// A gallon of water, lb.
const POUNDS_A_GALLON: f64 = WATER_DENSITY.value * GALLON / POUND;

// Densities of readings were anything possible: of a precharge, 1/psi; over how much a drawdown may be, in
// drawdowns of a tank in order; over how much a weight may be, lb for each gallon of the tank: about full.
const ANY_PRECHARGE: f64 = 1.0 / 70.0;
const ANY_DRAWDOWN: f64 = 1.3;
const ANY_WEIGHT: f64 = 8.0;

/// What stands for a volume that is not known, gal: only shares count then.
const ANY_VOLUME: f64 = 40.0;
/// The gap that tanks are set to, psi: common practice; and the least drawdown that a share is taken of, gal.
const NOMINAL_GAP: f64 = 2.0;
const LEAST_NOMINAL: f64 = 0.1;
/// How one reading at the air valve scatters beside gauge and mark, psi.
const AIR_SCATTER: f64 = 0.25;
/// What a tire gauge that is off shows beside what there is, psi, and how that scatters.
const AIR_OFF: [f64; 2] = [7.0, 2.0];
/// A tire gauge that shows no more than that shows nothing, psi; how dense such readings are, 1/psi.
const SHOWS_NOTHING: f64 = 0.3;
const NOTHING_SHOWN: f64 = 0.45;
/// How much of a drawdown is caught where the air is cool, and where it is still warm: the least, and how much
/// more at most.
const AIR_COOL: [f64; 2] = [0.96, 0.04];
const AIR_WARM: [f64; 2] = [0.78, 0.16];
/// How far volumes lie from their plates: for so many of the tanks anywhere within so much, for the others
/// scattered so much.
const ROUNDED_PLATES: f64 = 0.35;
const ROUNDED_BY: f64 = 0.08;
const PLATE_SCATTER: f64 = 0.015;
/// A second tank that fails has a precharge of anything up to that at least, psi; what is taken for no air, psi
/// absolute.
const SICK_UP_TO: f64 = 4.0;
const NO_AIR: f64 = 0.01;
/// How many of the points of a precharge lie at zero and about the reading; the others are drawn from what is
/// usual. Where a tank may show nothing at all, and where not. No judgement: weights make up for where points lie.
const AT_ZERO_OR_NEAR: [f64; 2] = [0.4, 0.36];
const NEAR_ONLY: [f64; 2] = [0.0, 0.6];
/// How many of the points of a share lie about what the bucket says. No judgement either.
const SHARE_NEAR: f64 = 0.5;
/// About which share of a drawdown the bucket is looked at, how far about it, as a share of the water and in gal,
/// at least, and the least drawdown for it, gal. No judgement either.
const SHARE_MIDDLE: f64 = 0.97;
const SHARE_ABOUT: [f64; 2] = [0.04, 0.1];
const LEAST_SHARE: f64 = 0.01;
const LEAST_COOL: f64 = 0.05;
/// How far beside cut-in the water is stopped, psi; the least differential for it, psi; a splash, gal.
const STOPPED_BESIDE: f64 = 0.5;
const STOP_DIFFERENTIAL: f64 = 2.0;
const SPLASH: f64 = 0.08;
/// How well a tank is weighed: the plate's weight, as a share, and the scale, lb.
const WEIGHED: [f64; 2] = [0.045, 0.5];
/// No more years count for what is lost without a leak, as somebody saw to it; no visit is nearer than that, years.
const YEARS_THAT_COUNT: f64 = 3.0;
const LEAST_YEARS: f64 = 0.02;
/// How an earlier precharge scatters beside the reading, psi; and how much more by another gauge, in
/// uncertainties of the reading.
const EARLIER_SCATTER: f64 = 1.1;
const OTHER_GAUGE: f64 = 1.2;

/// One cause of the tank at one point.
pub(super) struct TankPoint<const N: usize> {
    /// Weight of the point, all that is not below.
    pub weight: Assumed<N>,
    /// Density of the air readings: tire gauge in order, or off.
    pub air: [Assumed<N>; 2],
    /// Density of the bucket: air cool, or warm.
    pub bucket: [Assumed<N>; 2],
    /// Drawdown, gal.
    pub drawdown: f64,
}

/// The readings that tanks are held against, worked out once.
pub(super) struct TankReadings<'e> {
    pub evidence: &'e Evidence,
    /// The middle of the air readings, and how well it is known.
    air: Option<[f64; 2]>,
    /// The whole volume, gal; any where it is not known, as then only shares count.
    volume: f64,
    /// Drawdown of a tank in order by the label, gal.
    pub nominal: f64,
}

impl<'e> TankReadings<'e> {
    pub(super) fn of(evidence: &'e Evidence) -> TankReadings<'e> {
        let site = &evidence.site;
        let volume = site.volume.unwrap_or(ANY_VOLUME);
        let labels = [site.label_cut_in, site.label_cut_out];
        let u = evidence.errors.air.hypot(of_mark(evidence.errors.air_mark).hypot(AIR_SCATTER));
        let seen = &evidence.precharge;
        let air = (!seen.is_empty()).then(|| [seen.iter().sum::<f64>() / seen.len() as f64, u]);
        let nominal = gives(volume, site.label_cut_in - NOMINAL_GAP, labels, site.atmosphere);
        TankReadings { evidence, air, volume, nominal: nominal.max(LEAST_NOMINAL) }
    }

    /// Density of these readings were anything possible, as a logarithm.
    pub(super) fn ln_broad(&self) -> f64 {
        let mut ln = 0.0;
        let mut add = |is: bool, density: f64| ln += if is { density.ln() } else { 0.0 };
        add(self.evidence.has(Item::Precharge), ANY_PRECHARGE);
        add(self.evidence.has(Item::Earlier), ANY_PRECHARGE);
        add(self.evidence.has(Item::Drawdown), 1.0 / (ANY_DRAWDOWN * self.nominal));
        add(self.evidence.has(Item::Weighed), 1.0 / (ANY_WEIGHT * self.volume));
        ln
    }

    /// A cause of the tank at a point; nothing where it cannot be.
    pub(super) fn point<const N: usize>(
        &self,
        law: &TankLaw,
        k: usize,
        shared: &Shared,
    ) -> Option<TankPoint<N>> {
        let (tank, weight) = self.tank(law, k, shared)?;
        let switch = [shared.cut_in[k], shared.cut_out[k]];
        let words = both(self.weighed(law.inside, &tank, k), self.since(law.since, switch[0]));
        let warm = points().uniform(k, Dimension::One);
        let bucket = [AIR_COOL, AIR_WARM].map(|[least, more]| least + more * warm);
        Some(TankPoint {
            weight: both([weight; N], words),
            air: self.air_readings(&tank),
            bucket: bucket.map(|share| self.bucket(tank.drawdown * share, switch)),
            drawdown: tank.drawdown,
        })
    }

    /// A tank at one point, with its weight.
    fn tank(&self, law: &TankLaw, k: usize, shared: &Shared) -> Option<(TankAt, f64)> {
        let at = points();
        let switch = [shared.cut_in[k], shared.cut_out[k]];
        let tanks = self.evidence.tanks.max(1) as f64;
        let (air, mut weight) = self.air(&AirLaw::of(law, k, shared, tanks <= 1.0), k);
        if weight <= 0.0 {
            return None;
        }
        let atmosphere = self.evidence.site.atmosphere;
        let plate = match at.uniform(k, Dimension::Volume) {
            u if u < ROUNDED_PLATES => ROUNDED_BY * (2.0 * u / ROUNDED_PLATES - 1.0),
            _ => PLATE_SCATTER * at.standard(k, Dimension::One),
        };
        let off = if matches!(law.water, WaterGiven::OtherVolume) { 0.0 } else { plate };
        let volume = self.volume * (1.0 + off);
        let other = at.uniform(k, Dimension::Other);
        let whole = gives(volume, air, switch, atmosphere);
        let mut share = 1.0;
        let drawdown = match law.water {
            WaterGiven::Whole => whole,
            WaterGiven::ShutIn { least, more } => least + more * other + whole * (1.0 - 1.0 / tanks),
            WaterGiven::Failed { up_to } => {
                let failed = gives(volume / tanks, up_to * other, switch, atmosphere);
                failed + whole * (1.0 - 1.0 / tanks)
            }
            WaterGiven::WithSick { no_air, below } => {
                let sick = if at.uniform(k, Dimension::One) < no_air {
                    NO_AIR - atmosphere
                } else {
                    (switch[0] - below).max(SICK_UP_TO) * other
                };
                0.5 * whole + 0.5 * gives(volume, sick, switch, atmosphere)
            }
            WaterGiven::Share(_) | WaterGiven::OtherVolume => {
                let (left, ratio) = self.share(law.water, whole, k);
                weight *= ratio;
                share = left;
                whole * (1.0 - (1.0 - left) / tanks)
            }
        };
        (weight > 0.0).then_some((TankAt { air, drawdown, share, volume }, weight))
    }

    /// What the air valve shows: about the reading, or from what is usual, with its weight.
    fn air(&self, law: &AirLaw<'_>, k: usize) -> (f64, f64) {
        let at = points();
        let (from, u) = (at.uniform(k, Dimension::PrechargeFrom), at.uniform(k, Dimension::Precharge));
        let atom = law.atom();
        let Some([read, known]) = self.air else {
            return if from < atom { (0.0, 1.0) } else { (law.usual(u), 1.0) };
        };
        let [at_zero, near] = if atom > 0.0 { AT_ZERO_OR_NEAR } else { NEAR_ONLY };
        if from < at_zero {
            return (0.0, atom / at_zero);
        }
        let usual = 1.0 - at_zero - near;
        let air = if from < at_zero + near {
            read + known * at.standard(k, Dimension::Precharge)
        } else {
            law.usual(u)
        };
        let density = law.density(air);
        (air, (1.0 - atom) * density / (near * normal(air, read, known) + usual * density + NO_DENSITY))
    }

    /// How much of its water a tank still gives: about what the bucket says, or from what is usual.
    fn share(&self, water: WaterGiven, whole: f64, k: usize) -> (f64, f64) {
        let at = points();
        let usual = water.left_share_of(at.uniform(k, Dimension::Share));
        let Some(caught) = self.evidence.drawdown.filter(|_| self.evidence.has(Item::Drawdown)) else {
            return (usual, 1.0);
        };
        let cool = (SHARE_MIDDLE * whole).max(LEAST_COOL);
        let tanks = self.evidence.tanks.max(1) as f64;
        let u = tanks * (SHARE_ABOUT[0] * caught / cool + SHARE_ABOUT[1] / cool).max(LEAST_SHARE);
        let mean = 1.0 - tanks * (1.0 - caught / cool);
        let near = at.uniform(k, Dimension::ShareFrom) < SHARE_NEAR;
        let share = if near { mean + u * at.standard(k, Dimension::Share) } else { usual };
        let density = water.left_share(share).unwrap_or(0.0);
        let points_there = SHARE_NEAR * normal(share, mean, u) + (1.0 - SHARE_NEAR) * density;
        (share.max(LEAST_SHARE), density / (points_there + NO_DENSITY))
    }

    /// Density of the air readings, with the tire gauge in order and off.
    fn air_readings<const N: usize>(&self, tank: &TankAt) -> [Assumed<N>; 2] {
        let Some([read, u]) = self.air else { return [[1.0; N]; 2] };
        let air = tank.air;
        let mut in_order = normal(read, air, u);
        if read <= SHOWS_NOTHING {
            // A gauge shows nothing below zero.
            in_order += NOTHING_SHOWN * (1.0 - (air / u).tanh());
        }
        let off = AIR_OFF[0];
        let off = 0.5 * normal(read, air - off, AIR_OFF[1]) + 0.5 * normal(read, air + off, AIR_OFF[1]);
        [in_order, off].map(|density| mixed(Item::Precharge, density, ANY_PRECHARGE))
    }

    /// Density of the water caught, where so much should come.
    fn bucket<const N: usize>(&self, expected: f64, [cut_in, cut_out]: [f64; 2]) -> Assumed<N> {
        let Some(caught) = self.evidence.drawdown.filter(|_| self.evidence.has(Item::Drawdown)) else {
            return [1.0; N];
        };
        let stop = STOPPED_BESIDE * expected / (cut_out - cut_in).max(STOP_DIFFERENTIAL);
        let marks = expected * self.evidence.errors.bucket;
        let u = (marks * marks + stop * stop + SPLASH * SPLASH).sqrt();
        mixed(Item::Drawdown, normal(caught, expected, u), 1.0 / (ANY_DRAWDOWN * self.nominal))
    }

    /// Density of the weight.
    fn weighed<const N: usize>(&self, inside: WaterInside, tank: &TankAt, k: usize) -> Assumed<N> {
        let Some([scale, plate]) = self.evidence.weight.filter(|_| self.evidence.has(Item::Weighed)) else {
            return [1.0; N];
        };
        let share = match inside {
            WaterInside::Share { least, more } => least + more * points().uniform(k, Dimension::One),
            WaterInside::NotGiven => 1.0 - tank.share,
        };
        let expected = plate + POUNDS_A_GALLON * share * tank.volume;
        let density = normal(scale, expected, WEIGHED[0] * plate + WEIGHED[1]);
        mixed(Item::Weighed, density, 1.0 / (ANY_WEIGHT * tank.volume))
    }

    /// Density of the precharge of an earlier visit.
    fn since<const N: usize>(&self, since: SinceEarlier, cut_in: f64) -> Assumed<N> {
        let (Some(earlier), Some([read, u])) = (self.evidence.earlier, self.air) else { return [1.0; N] };
        let years = earlier.years.max(LEAST_YEARS);
        let other = if earlier.same_gauge { 0.0 } else { OTHER_GAUGE * u };
        let known = EARLIER_SCATTER.hypot(other);
        let lost = earlier.precharge - read;
        let density = match since {
            SinceEarlier::Lost { a_year, scatter } => {
                normal(lost, a_year * years.min(YEARS_THAT_COUNT), known.hypot(scatter))
            }
            SinceEarlier::Leaked(a_year) => {
                let [from, to] = a_year.map(|a_year| a_year * years);
                0.5 * (((lost - from) / known).tanh() - ((lost - to) / known).tanh()) / (to - from)
            }
            SinceEarlier::WasUsual { below, scatter } => {
                normal(earlier.precharge, cut_in - below, scatter + u)
            }
        };
        mixed(Item::Earlier, density, ANY_PRECHARGE)
    }
}

/// A tank at a point.
struct TankAt {
    /// What its air valve shows, psi.
    air: f64,
    drawdown: f64,
    share: f64,
    volume: f64,
}
