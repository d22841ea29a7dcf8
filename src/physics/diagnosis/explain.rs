//! What speaks for a cause and what against it.

use super::cause::CauseId;
use super::evidence::Evidence;
use super::items::Item;
use super::posterior::Posterior;

/// What one piece of evidence does to the odds of a cause.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Speaks {
    /// The evidence.
    pub item: Item,
    /// By which factor it moves the odds, as a natural logarithm: above zero it speaks for the cause.
    pub ln_odds: f64,
}

/// Less than this factor says nothing: 3 to 2.
const SILENT: f64 = 0.4;
/// No factor is believed beyond this: 1,000 to 1.
const MOST_LN_ODDS: f64 = 6.9;

/// What speaks for each cause and against it, the strongest first: the odds with all evidence against those
/// without each piece of it.
///
/// Units: natural logarithms of odds. Range: -6.9 to 6.9. Source: likelihood ratios (textbook).
///
/// ```
/// # use tankhand::physics::diagnosis::{CauseId, Evidence, GaugeErrors, Item, WellSite, speaks};
/// # let site = WellSite { volume: Some(44.0), label_cut_in: 40.0, label_cut_out: 60.0, atmosphere: 14.7, head: 0.0, gap: 2.0 };
/// # let errors = GaugeErrors { line: 0.6, line_mark: 0.5, air: 0.6, air_mark: 0.5, bucket: 0.02 };
/// let mut evidence = Evidence::of(site, errors);
/// evidence.word(Item::Pin, "water");
/// let torn = &speaks(&evidence, &[CauseId::Torn])[0];
/// assert!(torn[0].item == Item::Pin && torn[0].ln_odds > 2.0);
/// ```
pub fn speaks(evidence: &Evidence, causes: &[CauseId]) -> Vec<Vec<Speaks>> {
    let ln_odds = |evidence: &Evidence| -> Vec<f64> {
        let all = Posterior::of(evidence).marginals();
        causes
            .iter()
            .map(|cause| all[*cause as usize].clamp(1e-6, 1.0 - 1e-6))
            .map(|p| (p / (1.0 - p)).ln())
            .collect()
    };
    let with = ln_odds(evidence);
    let mut said = vec![Vec::new(); causes.len()];
    for item in evidence.items() {
        let without = ln_odds(&evidence.without(item));
        for (cause, (with, without)) in said.iter_mut().zip(with.iter().zip(without)) {
            let ln_odds = (with - without).clamp(-MOST_LN_ODDS, MOST_LN_ODDS);
            if ln_odds.abs() >= SILENT {
                cause.push(Speaks { item, ln_odds });
            }
        }
    }
    for cause in &mut said {
        cause.sort_by(|a, b| b.ln_odds.abs().total_cmp(&a.ln_odds.abs()));
    }
    said
}

impl Speaks {
    /// How strongly it speaks, in words.
    pub fn strength(&self) -> &'static str {
        match self.ln_odds.abs() {
            strong if strong >= 3.0 => "strongly",
            plain if plain >= 1.4 => "clearly",
            _ => "a little",
        }
    }
}
