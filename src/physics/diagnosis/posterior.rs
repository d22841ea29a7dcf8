//! How likely each cause is, all evidence taken together.
//!
//! Tank, switch, pump and measuring are kept as one table, so that pairs of causes cost nothing; leaks
//! stand apart. "None of these" is one more: readings that come from anywhere.

use super::cause::CauseId::{self, Apart, SwitchRight, TooSmall};
use super::cause::{Cause, Group};
use super::causes::CAUSES;
use super::density::{NO_DENSITY, POINTS};
use super::evidence::Evidence;
use super::items::Item;
use super::leaks::{LeakOdds, leaks, of};
use super::misread::{ALL_OR_NONE, Assumed, EACH_ALONE, MISREADABLE, both};
use super::run_time::{PUMPS, RunTime};
use super::switch::{MEASURES, MEASURING_LAWS, MeasuringLaw, SWITCHES, Shared};
use super::tank::TankReadings;
use super::tank_laws::{TANK_LAWS, TANKS, TankLaw};
use super::words::{EITHER, TABLES};

/// How often none of these is met. Judgement.
const NONE: f64 = 0.02;
/// Of so many answers one is given by chance where none of these is: most questions have two or three. Judgement.
const ANSWERS: f64 = 2.5;
/// The least likely that an answer is taken to be.
const LEAST_LIKELY: f64 = 1e-9;
/// The least water that a run is held against, gal.
const LEAST_WATER: f64 = 0.02;

/// Probabilities of tank, switch, pump and measuring together.
type JointTable = [[[[f64; MEASURES]; PUMPS]; SWITCHES]; TANKS];

/// How likely each cause is.
pub(super) struct Posterior {
    joint: Box<JointTable>,
    /// The leaks.
    pub leaks: LeakOdds,
    /// How likely none of these is.
    pub none: f64,
    /// Logarithm of how well the causes together predicted the readings: misreading allowed for, and every
    /// number taken as it was read.
    pub ln_evidence: Assumed<ALL_OR_NONE>,
}

/// Causes of tank, switch, pump and measuring weighed together, before they are made one.
struct JointWeights<const N: usize> {
    joint: Box<JointTable>,
    /// All of them together, under each assumption.
    whole: Assumed<N>,
    /// Logarithm of the density were anything possible.
    ln_broad: f64,
}

/// One cause of the tank with each of switch, pump and measuring; and with each of the switch, under each
/// assumption.
struct OfTank<const N: usize> {
    cells: [[[f64; MEASURES]; PUMPS]; SWITCHES],
    whole: [Assumed<N>; SWITCHES],
}

impl<const N: usize> JointWeights<N> {
    fn of(evidence: &Evidence) -> JointWeights<N> {
        let readings = TankReadings::of(evidence);
        let shared = Shared::of(evidence);
        let run = RunTime::of(evidence);
        let mut joint: Box<JointTable> = Box::new([[[[0.0; MEASURES]; PUMPS]; SWITCHES]; TANKS]);
        let mut whole = [0.0; N];
        for (tank, law) in joint.iter_mut().zip(&TANK_LAWS) {
            let run = run.as_ref().map(|run| run.with(law.run));
            let mut of_tank = sum::<N>(law, &shared, &readings, run.as_ref());
            weigh(&mut of_tank, law.cause.cause(), evidence);
            *tank = of_tank.cells;
            of_tank.whole.iter().for_each(|of_switch| add(&mut whole, of_switch));
        }
        let ln_broad = shared.ln_broad + readings.ln_broad() + run.map_or(0.0, |run| run.broad().ln());
        JointWeights { joint, whole, ln_broad }
    }
}

/// How well the causes together predict the readings, where each number alone may have been misread, as
/// logarithms.
pub(super) fn misread_alone(evidence: &Evidence) -> impl Iterator<Item = (Item, f64)> {
    let [_, _, alone @ ..] = JointWeights::<EACH_ALONE>::of(evidence).whole;
    MISREADABLE.into_iter().zip(alone).map(|(item, whole)| (item, whole.max(NO_DENSITY).ln()))
}

impl Posterior {
    pub(super) fn of(evidence: &Evidence) -> Posterior {
        let JointWeights { mut joint, whole, ln_broad } = JointWeights::<ALL_OR_NONE>::of(evidence);
        let ln_none = ln_broad - words_given(evidence) * ANSWERS.ln();
        let all = joint.as_flattened_mut().as_flattened_mut().as_flattened_mut();
        let explained = all.iter().sum::<f64>().max(NO_DENSITY);
        let none = NONE * ln_none.exp();
        let scale = (1.0 - NONE) / ((1.0 - NONE) * explained + none);
        all.iter_mut().for_each(|cell| *cell *= scale);
        let none = none / ((1.0 - NONE) * explained + none);
        let ln_evidence = whole.map(|whole| whole.max(NO_DENSITY).ln());
        Posterior { joint, leaks: leaks(evidence), none, ln_evidence }
    }

    /// How likely an answer in words was by all other evidence; nothing where the item is no word.
    ///
    /// As each cause's probability holds its likelihood as a factor, what was without it is the harmonic mean
    /// of the likelihoods, weighed by the probabilities with it.
    pub(super) fn predicted(&self, item: Item, answer: usize) -> Option<f64> {
        let mut parts: Vec<[f64; 2]> = Vec::new();
        if let Some(table) = TABLES.iter().find(|table| table.item == item) {
            let marginals = self.marginals();
            let causes = table.group.causes().iter();
            parts.extend(causes.map(|it| [marginals[it.id as usize], table.likelihood(it.id, answer)]));
        } else {
            let table = EITHER.iter().find(|table| table.item == item)?;
            for (of_tank, tank) in self.joint.iter().zip(Group::Tank.causes()) {
                for (of_switch, switch) in of_tank.iter().zip(Group::Switch.causes()) {
                    let both: f64 = of_switch.as_flattened().iter().sum();
                    parts.push([both, table.likelihood([tank.id, switch.id], answer)]);
                }
            }
        }
        let whole: f64 = parts.iter().map(|[p, _]| p).sum();
        Some(whole / parts.iter().map(|[p, likelihood]| p / likelihood.max(LEAST_LIKELY)).sum::<f64>())
    }

    /// The probability that of each group a cause is among those.
    pub(super) fn all(&self, among: &dyn Fn(&Cause) -> bool) -> f64 {
        let is = |group: Group| -> Vec<bool> { group.causes().iter().map(among).collect() };
        let [tank, switch, pump, measuring, leak] = Group::ALL.map(is);
        let mut sum = 0.0;
        for of_tank in self.joint.iter().zip(&tank).filter(|(_, is)| **is).map(|(of_tank, _)| of_tank) {
            for (s, of_switch) in of_tank.iter().enumerate() {
                for (p, of_pump) in of_switch.iter().enumerate() {
                    for (m, cell) in of_pump.iter().enumerate() {
                        sum += if switch[s] && pump[p] && measuring[m] { *cell } else { 0.0 };
                    }
                }
            }
        }
        let leak: f64 =
            leak.iter().zip(&self.leaks.probabilities).map(|(is, p)| if *is { *p } else { 0.0 }).sum();
        sum * leak
    }

    /// How likely each cause is, in the order of the table.
    pub(super) fn marginals(&self) -> Vec<f64> {
        let mut all = vec![0.0; CAUSES.len()];
        let first = Group::ALL.map(|group| group.causes()[0].id as usize);
        for (t, of_tank) in self.joint.iter().enumerate() {
            for (s, of_switch) in of_tank.iter().enumerate() {
                for (p, of_pump) in of_switch.iter().enumerate() {
                    for (m, cell) in of_pump.iter().enumerate() {
                        for (group, place) in [t, s, p, m].into_iter().enumerate() {
                            all[first[group] + place] += cell;
                        }
                    }
                }
            }
        }
        for cause in Group::Leaks.causes() {
            all[cause.id as usize] = of(&self.leaks, cause.id);
        }
        all
    }
}

/// Sums a cause of the tank over the points, with each of switch, pump and measuring.
fn sum<const N: usize>(
    law: &TankLaw,
    shared: &Shared,
    readings: &TankReadings<'_>,
    run: Option<&RunTime>,
) -> OfTank<N> {
    let [right, apart, too_small] = [SwitchRight, Apart, TooSmall].map(CauseId::place);
    let pump: [f64; PUMPS] = Group::Pump.priors();
    let measures: [f64; MEASURES] = Group::Measuring.priors();
    let mut sum = OfTank { cells: [[[0.0; MEASURES]; PUMPS]; SWITCHES], whole: [[0.0; N]; SWITCHES] };
    for k in 0..POINTS {
        let Some(point) = readings.point::<N>(law, k, shared) else { continue };
        let seen: [Assumed<N>; MEASURES] = std::array::from_fn(|m| {
            let (_, MeasuringLaw { air_off, warm, .. }) = MEASURING_LAWS[m];
            let read = both(point.air[usize::from(air_off)], point.bucket[usize::from(warm)]);
            both(both(point.weight, read), [shared.measuring[m][k] * measures[m]; N])
        });
        let mut all_seen = [0.0; N];
        seen.iter().for_each(|seen| add(&mut all_seen, seen));
        let full = point.drawdown.max(LEAST_WATER) / readings.nominal;
        let run = run.map_or([[[1.0; N]; PUMPS]; 2], |run| run.densities(full));
        for (s, (of_switch, whole)) in sum.cells.iter_mut().zip(&mut sum.whole).enumerate() {
            let (switch, run) = (shared.switch[s][k], &run[usize::from(s == apart)]);
            let mut ran = [0.0; N];
            for (p, of_pump) in of_switch.iter_mut().enumerate() {
                let switch = if s == right && p == too_small { shared.rushed[k] } else { switch };
                let ran_so = run[p].map(|run| switch * run * pump[p]);
                of_pump.iter_mut().zip(&seen).for_each(|(cell, seen)| *cell += ran_so[0] * seen[0]);
                add(&mut ran, &ran_so);
            }
            add(whole, &both(ran, all_seen));
        }
    }
    sum
}

fn add<const N: usize>(to: &mut Assumed<N>, more: &Assumed<N>) {
    to.iter_mut().zip(more).for_each(|(to, more)| *to += more);
}

/// Weighs a cause of the tank by its prior and by what was said in words.
fn weigh<const N: usize>(of_tank: &mut OfTank<N>, tank: &Cause, evidence: &Evidence) {
    let priors: [f64; TANKS] = Group::Tank.priors();
    let switches: [f64; SWITCHES] = Group::Switch.priors();
    let said = |cause: &Cause| -> f64 {
        let about = TABLES.iter().filter(|table| table.group == cause.group);
        about
            .filter_map(|table| Some(table.likelihood(cause.id, *evidence.words.get(&table.item)?)))
            .product()
    };
    let of_tank_itself = priors[tank.id.place()] * said(tank) / POINTS as f64;
    for (s, switch) in Group::Switch.causes().iter().enumerate() {
        let both: f64 = EITHER
            .iter()
            .filter_map(|table| {
                let answer = *evidence.words.get(&table.item)?;
                Some(table.likelihood([tank.id, switch.id], answer))
            })
            .product();
        let weight = of_tank_itself * switches[s] * said(switch) * both;
        of_tank.cells[s].as_flattened_mut().iter_mut().for_each(|cell| *cell *= weight);
        of_tank.whole[s].iter_mut().for_each(|whole| *whole *= weight);
    }
}

/// How many answers in words there are about tank and switch.
fn words_given(evidence: &Evidence) -> f64 {
    evidence.words.keys().filter(|item| !matches!(item, Item::Alone | Item::Look)).count() as f64
}
