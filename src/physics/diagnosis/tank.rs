//! What each cause of the tank predicts, at each point: charge, drawdown, weight, and how well the
//! readings go with them.
//!
//! A sound tank gives `V pc (1/max(ci, pc) - 1/co)` (Boyle's law, absolute pressures). Where a reading
//! of the air is there, charges are drawn about it as well as from what is usual, and weighed by the
//! ratio of the densities; so are shares of lost water about what the bucket says.

use super::cause::CauseId::{self, *};
use super::density::{Dimension, normal, points};
use super::evidence::Evidence;
use super::items::Item;
use super::misread::{Assumed, both, mixed};
use super::switch::Shared;
use super::tank_laws::{AirLaw, gives, left_share, left_share_of};
use crate::physics::constants::WATER_DENSITY;
use crate::quantity::{GALLON, POUND};

/// A gallon of water, lb.
const POUNDS_A_GALLON: f64 = WATER_DENSITY.value * GALLON / POUND;
/// The density of a precharge were anything possible, 1/psi.
const ANY_PRECHARGE: f64 = 1.0 / 70.0;

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
    pub fn of(evidence: &'e Evidence) -> TankReadings<'e> {
        let site = &evidence.site;
        let volume = site.volume.unwrap_or(40.0);
        let labels = [site.label_cut_in, site.label_cut_out];
        let u = evidence.errors.air.hypot((evidence.errors.air_mark / 12f64.sqrt()).hypot(0.25));
        let seen = &evidence.precharge;
        let air = (!seen.is_empty()).then(|| [seen.iter().sum::<f64>() / seen.len() as f64, u]);
        let nominal = gives(volume, site.label_cut_in - 2.0, labels, site.atmosphere).max(0.1);
        TankReadings { evidence, air, volume, nominal }
    }

    /// Density of these readings were anything possible, as a logarithm.
    pub fn ln_broad(&self) -> f64 {
        let mut ln = 0.0;
        let mut add = |is: bool, density: f64| ln += if is { density.ln() } else { 0.0 };
        add(self.evidence.has(Item::Precharge), ANY_PRECHARGE);
        add(self.evidence.has(Item::Earlier), ANY_PRECHARGE);
        add(self.evidence.has(Item::Drawdown), 1.0 / (1.3 * self.nominal));
        add(self.evidence.has(Item::Weighed), 1.0 / (8.0 * self.volume));
        ln
    }

    /// A cause of the tank at a point; nothing where it cannot be.
    pub fn point<const N: usize>(&self, cause: CauseId, k: usize, shared: &Shared) -> Option<TankPoint<N>> {
        let (tank, weight) = self.tank(cause, k, shared)?;
        let switch = [shared.cut_in[k], shared.cut_out[k]];
        let words = both(self.weighed(cause, &tank, k), self.since(cause, switch[0]));
        let warm = points().uniform(k, Dimension::One);
        let bucket = [0.96 + 0.04 * warm, 0.78 + 0.16 * warm];
        Some(TankPoint {
            weight: both([weight; N], words),
            air: self.air_readings(&tank),
            bucket: bucket.map(|share| self.bucket(tank.drawdown * share, switch)),
            drawdown: tank.drawdown,
        })
    }

    /// A tank at one point, with its weight.
    fn tank(&self, cause: CauseId, k: usize, shared: &Shared) -> Option<(TankAt, f64)> {
        let at = points();
        let switch = [shared.cut_in[k], shared.cut_out[k]];
        let tanks = self.evidence.tanks.max(1) as f64;
        let law = AirLaw { cause, k, shared, alone: tanks <= 1.0 };
        let (air, mut weight) = self.air(&law);
        if weight <= 0.0 {
            return None;
        }
        let atmosphere = self.evidence.site.atmosphere;
        let plate = if at.uniform(k, Dimension::Volume) < 0.35 {
            0.08 * (2.0 * at.uniform(k, Dimension::Volume) / 0.35 - 1.0)
        } else {
            0.015 * at.standard(k, Dimension::One)
        };
        let volume = self.volume * if cause == Plate { 1.0 } else { 1.0 + plate };
        let charge = if cause == Torn && law.alone { 25.0 * at.uniform(k, Dimension::Other) } else { air };
        let whole = gives(volume, charge, switch, atmosphere);
        let other = at.uniform(k, Dimension::Other);
        let mut share = 1.0;
        let drawdown = match cause {
            Shut => 0.05 + 0.35 * other + whole * (1.0 - 1.0 / tanks),
            Torn if !law.alone => {
                let torn = gives(volume / tanks, 25.0 * other, switch, atmosphere);
                torn + whole * (1.0 - 1.0 / tanks)
            }
            Hidden => {
                let sick = if at.uniform(k, Dimension::One) < 0.3 {
                    0.01 - atmosphere
                } else {
                    (switch[0] - 12.0).max(4.0) * other
                };
                0.5 * whole + 0.5 * gives(volume, sick, switch, atmosphere)
            }
            _ if left_share(cause, 0.0).is_some() => {
                let (left, ratio) = self.share(cause, whole, k);
                weight *= ratio;
                share = left;
                whole * (1.0 - (1.0 - left) / tanks)
            }
            _ => whole,
        };
        (weight > 0.0).then_some((TankAt { air, drawdown, share, volume }, weight))
    }

    /// What the air valve shows: about the reading, or from what is usual, with its weight.
    fn air(&self, law: &AirLaw<'_>) -> (f64, f64) {
        let at = points();
        let (from, u) =
            (at.uniform(law.k, Dimension::PrechargeFrom), at.uniform(law.k, Dimension::Precharge));
        let atom = law.atom();
        let Some([read, known]) = self.air else {
            return if from < atom { (0.0, 1.0) } else { (law.usual(u), 1.0) };
        };
        let [at_zero, near] = if atom > 0.0 { [0.4, 0.36] } else { [0.0, 0.6] };
        if from < at_zero {
            return (0.0, atom / at_zero);
        }
        let usual = 1.0 - at_zero - near;
        let air = if from < at_zero + near {
            read + known * at.standard(law.k, Dimension::Precharge)
        } else {
            law.usual(u)
        };
        let wanted = law.density(air);
        (air, (1.0 - atom) * wanted / (near * normal(air, read, known) + usual * wanted + 1e-300))
    }

    /// How much of its water a tank still gives: about what the bucket says, or from what is usual.
    fn share(&self, cause: CauseId, whole: f64, k: usize) -> (f64, f64) {
        let at = points();
        let usual = left_share_of(cause, at.uniform(k, Dimension::Share));
        let Some(caught) = self.evidence.drawdown.filter(|_| self.evidence.has(Item::Drawdown)) else {
            return (usual, 1.0);
        };
        let cool = (0.97 * whole).max(0.05);
        let tanks = self.evidence.tanks.max(1) as f64;
        let u = tanks * (0.04 * caught / cool + 0.1 / cool).max(0.01);
        let mean = 1.0 - tanks * (1.0 - caught / cool);
        let near = at.uniform(k, Dimension::ShareFrom) < 0.5;
        let share = if near { mean + u * at.standard(k, Dimension::Share) } else { usual };
        let wanted = left_share(cause, share).unwrap_or(0.0);
        (share.max(0.01), wanted / (0.5 * normal(share, mean, u) + 0.5 * wanted + 1e-300))
    }

    /// Density of the air readings, with the tire gauge in order and off.
    fn air_readings<const N: usize>(&self, tank: &TankAt) -> [Assumed<N>; 2] {
        let Some([read, u]) = self.air else { return [[1.0; N]; 2] };
        let air = tank.air;
        let mut in_order = normal(read, air, u);
        if read <= 0.3 {
            // A gauge shows nothing below zero.
            in_order += 0.45 * (1.0 - (air / u).tanh());
        }
        let off = 0.5 * normal(read, air - 7.0, 2.0) + 0.5 * normal(read, air + 7.0, 2.0);
        [in_order, off].map(|density| mixed(Item::Precharge, density, ANY_PRECHARGE))
    }

    /// Density of the water caught, where so much should come.
    fn bucket<const N: usize>(&self, expected: f64, [cut_in, cut_out]: [f64; 2]) -> Assumed<N> {
        let Some(caught) = self.evidence.drawdown.filter(|_| self.evidence.has(Item::Drawdown)) else {
            return [1.0; N];
        };
        // The marks, a splash, and stopping half a psi beside cut-in.
        let stop = 0.5 * expected / (cut_out - cut_in).max(2.0);
        let marks = expected * self.evidence.errors.bucket;
        let u = (marks * marks + stop * stop + 0.0064).sqrt();
        mixed(Item::Drawdown, normal(caught, expected, u), 1.0 / (1.3 * self.nominal))
    }

    /// Density of the weight.
    fn weighed<const N: usize>(&self, cause: CauseId, tank: &TankAt, k: usize) -> Assumed<N> {
        let Some([scale, plate]) = self.evidence.weight.filter(|_| self.evidence.has(Item::Weighed)) else {
            return [1.0; N];
        };
        let water = match cause {
            Trapped => (1.0 - tank.share) * tank.volume,
            Torn => (0.05 + 0.65 * points().uniform(k, Dimension::One)) * tank.volume,
            _ => 0.005 * tank.volume,
        };
        let density = normal(scale, plate + POUNDS_A_GALLON * water, 0.045 * plate + 0.5);
        mixed(Item::Weighed, density, 1.0 / (8.0 * tank.volume))
    }

    /// Density of the precharge of an earlier visit.
    fn since<const N: usize>(&self, cause: CauseId, cut_in: f64) -> Assumed<N> {
        let (Some(earlier), Some([read, u])) = (self.evidence.earlier, self.air) else { return [1.0; N] };
        let years = earlier.years.max(0.02);
        let other = if earlier.same_gauge { 0.0 } else { 1.2 * u };
        let known = 1.1f64.hypot(other);
        let lost = earlier.precharge - read;
        let density = match cause {
            AirLeak => {
                let [from, to] = [4.0 * years, 25.0 * years];
                0.5 * (((lost - from) / known).tanh() - ((lost - to) / known).tanh()) / (to - from)
            }
            Waterlogged | Torn | Shut => normal(earlier.precharge, cut_in - 2.5, 2.5 + u),
            Low => normal(lost, 1.0 * years.min(3.0), known.hypot(1.2)),
            _ => normal(lost, 0.5 * years.min(3.0), known.hypot(1.0)),
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
