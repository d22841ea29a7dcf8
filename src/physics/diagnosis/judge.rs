//! The diagnosis: what is sure, what is likeliest, what to try next, what to do for now.

use super::cause::CauseId::{self, *};
use super::cause::{Cause, Group};
use super::causes::CAUSES;
use super::claims::{Claims, LIKELY, SURE};
use super::decision::{Working, working};
use super::evidence::Evidence;
use super::evidence_against_good::{beyond, left_open, surprising, vouched};
use super::history::{AirCourse, course};
use super::items::Item;
use super::next_test::{Ranked, ranked};
use super::posterior::{Posterior, misread_alone};

/// At most so many causes are named where nothing is sure.
const NAMED: usize = 3;
/// From which probability on something is called good. Higher than what names a fault: a good word on a fault
/// costs more than a fault named wrongly. Judgement.
const GOOD: f64 = 0.96;
/// Beside something sure, only what is this likely is named.
const LIKELY_BESIDE: f64 = 0.25;
/// So many starts of the pump must be watched before its switch is said not to scatter. Judgement.
const STARTS_TO_JUDGE: usize = 3;
/// Evidence so much better with misread numbers than without asks for the number again: 10 to 1.
const ODDS: f64 = 10.0;
/// Causes with one remedy: the precharge is set, and looked at again. Which of them it is may stay open.
const AIR_MISSING: [CauseId; 3] = [Low, Waterlogged, AirLeak];

/// A cause that is sure.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedCause {
    /// The cause; of several with one remedy the likeliest.
    pub cause: CauseId,
    /// How likely it is, or one of the others.
    pub probability: f64,
    /// Others with the same remedy, where which of them it is stays open.
    pub or: Vec<(CauseId, f64)>,
}

/// A reading that goes with nothing else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Odd {
    /// This reading goes with no cause; everything fits once it is taken to be misread.
    Reading(Item),
    /// No one misreading explains it: none of the causes fits.
    NothingFits,
}

/// What follows from all the evidence.
#[derive(Clone, Debug)]
pub struct Diagnosis {
    /// How likely each cause is, in the order of [`CAUSES`].
    pub probabilities: Vec<f64>,
    /// How likely none of these is.
    pub none: f64,
    /// How likely it is that no cause holds that is claimed to be tested, or that what was seen speaks for.
    pub good: f64,
    /// Whether that may be said: it is sure, every claimed cause was tested, nothing speaks for a cause
    /// that was not claimed, and no reading is odd.
    pub is_good: bool,
    /// The groups of which that may be said: what was tested covers most of what could be wrong.
    pub vouched: Vec<Group>,
    /// What such a word leaves open: causes of these groups that nobody set out to test.
    pub left_open: Vec<CauseId>,
    /// Causes that nobody set out to test, though what was seen speaks for them.
    pub beyond: Vec<CauseId>,
    /// Causes that are sure, and were tested.
    pub found: Vec<NamedCause>,
    /// The likeliest causes beside, at most three, the likeliest first.
    pub likeliest: Vec<(CauseId, f64)>,
    /// A reading that goes with nothing else.
    pub odd: Option<Odd>,
    /// Claimed causes that what was tried can neither say nor rule out.
    pub untested: Vec<CauseId>,
    /// Tests not made yet, the one that tells most for its minutes first.
    pub tests: Vec<Ranked>,
    /// Where the precharge went from visit to visit.
    pub course: Option<AirCourse>,
    /// What to do for now about the tank.
    pub working: Working,
}

/// Diagnoses a well system.
///
/// Every cause predicts the readings ([`CAUSES`] says how); their likelihoods, all uncertainties and one
/// number in 25 misread allowed for, with priors that are judgements, give each cause a probability.
/// `claims` is what the examination set out to test: only such causes are named, and only when all of them
/// were tested is anything called good.
///
/// Units: psi, gal, s, lb ([`Evidence`]); probabilities. Range: pressures of 0 to 150 psi, tanks of 1 to
/// 500 gal. Sources: Boyle's law; J. de Kleer and B. C. Williams, Artificial Intelligence 32, 1987 (the
/// method); priors and tables of words are judgements of this project.
///
/// ```
/// use tankhand::physics::diagnosis::{CauseId, Claims, Evidence, GaugeErrors, WellSite, diagnose};
/// let site = WellSite {
///     volume: Some(44.0),
///     label_cut_in: 40.0,
///     label_cut_out: 60.0,
///     atmosphere: 14.7,
///     head: 0.0,
///     gap: 2.0,
/// };
/// let errors = GaugeErrors { line: 0.6, line_mark: 0.5, air: 0.6, air_mark: 0.5, bucket: 0.02 };
/// let mut evidence = Evidence::of(site, errors);
/// evidence.starts = vec![40.0, 40.5, 40.0];
/// evidence.cut_out = Some(60.0);
/// evidence.precharge = vec![24.0, 24.0, 24.5];
/// evidence.drawdown = Some(8.2);
/// let found = diagnose(&evidence, &Claims::by(&evidence.items()));
/// assert_eq!(found.found[0].cause, CauseId::Low);
/// ```
pub fn diagnose(evidence: &Evidence, claims: &Claims) -> Diagnosis {
    let posterior = Posterior::of(evidence);
    let probabilities = posterior.marginals();
    let tried = evidence.items();
    let tested = claims.also_in(&tested(evidence, &tried));
    let beyond = beyond(evidence, &probabilities, claims);
    let vouched = vouched(evidence, &probabilities, claims);
    let left_open = left_open(evidence, claims, &vouched);
    // What is only worth knowing does not stand against a good word.
    let counts = |cause: CauseId| claims.has(cause) || beyond.contains(&cause);
    let good = posterior.all(&|cause| !(counts(cause.id) && cause.harms()));
    let untested: Vec<CauseId> = claims.causes().map(|it| it.id).filter(|it| !tested.has(*it)).collect();
    let mut odd = odd(evidence, &posterior);
    let found = found(&probabilities, &Claims::shown_by(&tried), odd);
    let harmless = found.iter().all(|it| !it.cause.cause().harms());
    let mut is_good = good >= GOOD && harmless && untested.is_empty();
    is_good &= odd.is_none() && beyond.is_empty() && !vouched.is_empty();
    if is_good {
        odd = surprising(evidence, &posterior).map(Odd::Reading);
        is_good = odd.is_none();
    }
    let likeliest = likeliest(&probabilities, claims, &beyond, &found);
    let open = |group: Group| !vouched.contains(&group) && claims.causes().any(|cause| cause.group == group);
    let narrowed = narrowed(&probabilities, &|cause| counts(cause.id) || open(cause.group));
    let in_vain = |item: Item| item == Item::Earlier && evidence.earlier_unknown;
    let tests = ranked(&narrowed, &|item| evidence.has(item) || in_vain(item));
    let drained = evidence.has(Item::Precharge) || evidence.has(Item::Pin);
    let shown = Claims::by(&tried);
    let working = working(&probabilities, &|cause| shown.has(cause) || beyond.contains(&cause), drained);
    let none = posterior.none;
    let course = course(&evidence.history);
    Diagnosis {
        probabilities,
        none,
        good,
        is_good,
        vouched,
        left_open,
        beyond,
        found,
        likeliest,
        odd,
        untested,
        tests,
        course,
        working,
    }
}

/// What was tried is enough to rule out. A few starts may agree by chance.
fn tested(evidence: &Evidence, tried: &[Item]) -> Claims {
    let tested = Claims::by(tried);
    let watched = evidence.starts.len() + evidence.starts_before.len();
    if watched >= STARTS_TO_JUDGE || evidence.has(Item::SwitchSound) {
        tested
    } else {
        tested.without_cause(Nipple)
    }
}

/// The probabilities, with those of causes left out that need no test.
fn narrowed(probabilities: &[f64], counts: &dyn Fn(&Cause) -> bool) -> Vec<f64> {
    let all = probabilities.iter().zip(&CAUSES);
    all.map(|(p, cause)| if cause.id.is_healthy() || counts(cause) { *p } else { 0.0 }).collect()
}

/// What is sure. Of the tank and the gauges nothing is while a reading is odd.
fn found(probabilities: &[f64], tested: &Claims, odd: Option<Odd>) -> Vec<NamedCause> {
    let of = |cause: CauseId| probabilities[cause as usize];
    let may_be = |group: Group| odd.is_none() || !matches!(group, Group::Tank | Group::Measuring);
    let mut found: Vec<NamedCause> = tested
        .causes()
        .filter(|cause| of(cause.id) >= SURE && may_be(cause.group))
        .map(|cause| NamedCause { cause: cause.id, probability: of(cause.id), or: Vec::new() })
        .collect();
    let mut kin = AIR_MISSING.map(|cause| (cause, of(cause)));
    kin.sort_by(|a, b| b.1.total_cmp(&a.1));
    let together: f64 = kin.iter().map(|(_, p)| p).sum();
    if together >= SURE && kin[0].1 < SURE && tested.has(kin[0].0) && may_be(Group::Tank) {
        let or = kin[1..].iter().filter(|(_, p)| *p >= LIKELY).copied().collect();
        found.push(NamedCause { cause: kin[0].0, probability: together, or });
    }
    found.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    // Whether the precharge is right goes by the switch.
    found.sort_by_key(|it| it.cause != Drifted);
    found
}

/// The likeliest causes of groups in which none is sure.
fn likeliest(
    probabilities: &[f64],
    claims: &Claims,
    beyond: &[CauseId],
    found: &[NamedCause],
) -> Vec<(CauseId, f64)> {
    let named_in = |group: Group| found.iter().any(|it| it.cause.cause().group == group);
    let least = if found.is_empty() { LIKELY } else { LIKELY_BESIDE };
    let named = claims.causes().map(|cause| cause.id).chain(beyond.iter().copied());
    let open = named.filter(|cause| !named_in(cause.cause().group));
    let mut all: Vec<(CauseId, f64)> =
        open.map(|cause| (cause, probabilities[cause as usize])).filter(|(_, p)| *p >= least).collect();
    all.sort_by(|a, b| b.1.total_cmp(&a.1));
    all.truncate(NAMED);
    all
}

/// Whether a reading goes with nothing else: the evidence is held against itself with no number misread.
fn odd(evidence: &Evidence, posterior: &Posterior) -> Option<Odd> {
    if let Some(item) = posterior.leaks.unexplained {
        return Some(Odd::Reading(item));
    }
    let [mixed, as_read] = posterior.ln_evidence;
    let enough = mixed - ODDS.ln();
    if as_read >= enough {
        return None;
    }
    let explained = misread_alone(evidence).filter(|(item, _)| evidence.has(*item));
    let (item, best) = explained.max_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(if best >= enough { Odd::Reading(item) } else { Odd::NothingFits })
}
