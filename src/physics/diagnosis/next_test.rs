//! The tests that could still be made, ranked by what they would tell for their minutes.

use super::cause::CauseId::{self, *};
use super::cause::Group;
use super::decision::DRAINING;
use super::density::NO_DENSITY;
use super::items::Item;
use super::words::TABLES;

/// Something to try. Its figures are judgements.
#[derive(Debug)]
pub struct NextTest {
    /// What to do, as an order.
    pub says: &'static str,
    /// How many minutes it takes.
    pub minutes: f64,
    /// What is tried by it.
    pub item: Item,
    /// The group whose causes it tells apart.
    pub group: Group,
    /// How likely each outcome is under a cause that has no row; none where the item has a table of
    /// words.
    usual: &'static [f64],
    /// How likely under the others.
    rows: &'static [(CauseId, &'static [f64])],
    /// Whether it tells more when it is made again.
    again: bool,
    /// Whether the tank must be drained for it.
    drained: bool,
    /// What must have been tried for it to tell anything.
    after: Option<Item>,
}

const fn by_words(says: &'static str, minutes: f64, item: Item, group: Group) -> NextTest {
    test((says, minutes), (item, group), &[], &[])
}

/// A test with a good outcome and a bad one: how likely the bad one is.
const fn test(
    (says, minutes): (&'static str, f64),
    (item, group): (Item, Group),
    usual: &'static [f64],
    rows: &'static [(CauseId, &'static [f64])],
) -> NextTest {
    let after = if matches!(item, Item::Earlier) { Some(Item::Precharge) } else { None };
    NextTest { says, minutes, item, group, usual, rows, again: false, drained: false, after }
}

const fn drained(test: NextTest) -> NextTest {
    NextTest { drained: true, ..test }
}

const fn repeated(test: NextTest) -> NextTest {
    NextTest { again: true, ..test }
}

/// Every test.
pub static NEXT_TESTS: &[NextTest] = &[
    by_words(
        "look at the handle of the tank's own valve: along the pipe is open",
        1.0,
        Item::Handle,
        Group::Tank,
    ),
    drained(by_words("knock on the drained tank from top to bottom", 1.0, Item::Sound, Group::Tank)),
    drained(by_words(
        "with the tank drained, press the air valve's pin for a second",
        2.0,
        Item::Pin,
        Group::Tank,
    )),
    by_words("put soapy water on the air valve and the seams", 5.0, Item::Soap, Group::Tank),
    drained(by_words(
        "add a little air with the drain valve open, and see whether it stays",
        6.0,
        Item::AddedAir,
        Group::Tank,
    )),
    by_words(
        "10 minutes after the pump has stopped, draw water to a little above cut-in, and see whether the needle climbs",
        22.0,
        Item::Climbs,
        Group::Tank,
    ),
    by_words("walk along the line and look for another tank", 5.0, Item::OtherTanks, Group::Tank),
    test(
        ("look up last year's precharge, read with the same gauge", 1.0),
        (Item::Earlier, Group::Tank),
        &[0.96, 0.04],
        &[(AirLeak, &[0.10, 0.90]), (Waterlogged, &[0.1, 0.9]), (Torn, &[0.2, 0.8]), (Shut, &[0.5, 0.5])],
    ),
    test(
        ("catch the drawdown in a bucket, from cut-out to cut-in with the breaker off", 15.0),
        (Item::Drawdown, Group::Tank),
        &[0.90, 0.09, 0.01],
        &[
            (Low, &[0.1, 0.8, 0.1]),
            (High, &[0.1, 0.6, 0.3]),
            (AirLeak, &[0.1, 0.8, 0.1]),
            (Waterlogged, &[0.01, 0.09, 0.9]),
            (Torn, &[0.1, 0.3, 0.6]),
            (Stuck, &[0.02, 0.28, 0.7]),
            (Blocked, &[0.05, 0.35, 0.6]),
            (Shut, &[0.01, 0.01, 0.98]),
            (Hidden, &[0.1, 0.6, 0.3]),
            (Plate, &[0.1, 0.7, 0.2]),
            (Trapped, &[0.1, 0.6, 0.3]),
        ],
    ),
    test(
        ("drain the tank and read its precharge", 40.0),
        (Item::Precharge, Group::Tank),
        &[0.02, 0.03, 0.90, 0.05],
        &[
            (Low, &[0.03, 0.92, 0.04, 0.01]),
            (AirLeak, &[0.06, 0.88, 0.05, 0.01]),
            (High, &[0.01, 0.01, 0.10, 0.88]),
            (Waterlogged, &[0.93, 0.05, 0.01, 0.01]),
            (Torn, &[0.65, 0.30, 0.04, 0.01]),
            (Shut, &[0.01, 0.50, 0.15, 0.34]),
        ],
    ),
    drained(test(
        ("weigh the drained tank, or rock it", 3.0),
        (Item::Weighed, Group::Tank),
        &[0.96, 0.04],
        &[(Torn, &[0.15, 0.85]), (Trapped, &[0.1, 0.9])],
    )),
    test(
        ("read the model number on the plate again, and measure the tank", 4.0),
        (Item::Weighed, Group::Tank),
        &[0.94, 0.06],
        &[(Plate, &[0.15, 0.85])],
    ),
    repeated(test(
        ("watch three more starts of the pump", 6.0),
        (Item::Starts, Group::Switch),
        &[0.95, 0.04, 0.01],
        &[(Drifted, &[0.05, 0.93, 0.02]), (Nipple, &[0.15, 0.10, 0.75])],
    )),
    test(
        ("watch at which pressure the pump stops", 3.0),
        (Item::CutOut, Group::Switch),
        &[0.97, 0.03],
        &[(Narrow, &[0.05, 0.95]), (Unreached, &[0.05, 0.95]), (Welded, &[0.05, 0.95])],
    ),
    by_words("follow the pipe: does anything sit between tank and switch?", 2.0, Item::Order, Group::Switch),
    test(
        ("time the pump from start to stop, with all taps shut", 3.0),
        (Item::RunTime, Group::Pump),
        &[0.08, 0.86, 0.06],
        &[(ShortFlow, &[0.02, 0.12, 0.86]), (TooSmall, &[0.88, 0.11, 0.01])],
    ),
    test(
        ("read the pressure gauge with the drain valve open and the line empty", 1.0),
        (Item::Zero, Group::Measuring),
        &[0.97, 0.03],
        &[(LineOff, &[0.30, 0.70])],
    ),
    test(
        ("screw a second gauge on the drain valve and compare", 4.0),
        (Item::SecondGauge, Group::Measuring),
        &[0.95, 0.05],
        &[(LineOff, &[0.07, 0.93])],
    ),
    drained(repeated(test(
        ("read the precharge again with another tire gauge", 4.0),
        (Item::Precharge, Group::Measuring),
        &[0.94, 0.06],
        &[(AirOff, &[0.08, 0.92])],
    ))),
    repeated(test(
        ("let the tank rest for 20 minutes and catch the drawdown again", 30.0),
        (Item::Drawdown, Group::Measuring),
        &[0.93, 0.07],
        &[(WarmAir, &[0.15, 0.85])],
    )),
    test(
        ("shut the shutoff valve to the house and see whether the pressure holds for 15 minutes", 16.0),
        (Item::HoldShut, Group::Leaks),
        &[0.97, 0.03],
        &[(CheckValve, &[0.07, 0.93]), (Weeping, &[0.15, 0.85])],
    ),
    test(
        ("hold the pressure for 15 minutes with the house open and nobody drawing water", 16.0),
        (Item::HoldOpen, Group::Leaks),
        &[0.97, 0.03],
        &[(House, &[0.06, 0.94]), (CheckValve, &[0.07, 0.93]), (Weeping, &[0.15, 0.85])],
    ),
    by_words(
        "look for drips at the relief valve, drain valve and joints, and listen at the pipe from the well",
        3.0,
        Item::Look,
        Group::Leaks,
    ),
    by_words(
        "with every faucet shut, see at the gauge whether the pump starts by itself",
        10.0,
        Item::Alone,
        Group::Leaks,
    ),
];

impl NextTest {
    /// How likely each outcome is under a cause.
    fn outcomes(&self, cause: CauseId) -> &'static [f64] {
        let (usual, rows) = match TABLES.iter().find(|table| self.usual.is_empty() && table.item == self.item)
        {
            Some(table) => (table.usual, table.rows),
            None => (self.usual, self.rows),
        };
        rows.iter().find(|(known, _)| *known == cause).map_or(usual, |(_, row)| *row)
    }

    /// Whether it is still worth making where so much was tried.
    fn is_open(&self, tried: &dyn Fn(Item) -> bool) -> bool {
        let makes_sense = self.after.is_none_or(tried);
        makes_sense && (!tried(self.item) || self.again)
    }

    /// The information it would bring about the causes of its group, in bits.
    pub fn bits(&self, marginals: &[f64]) -> f64 {
        let causes = self.group.causes();
        let whole: f64 = causes.iter().map(|cause| marginals[cause.id as usize]).sum();
        let share = |cause: CauseId| marginals[cause as usize] / whole.max(NO_DENSITY);
        let mut mixed = vec![0.0; self.outcomes(causes[0].id).len()];
        let mut within = 0.0;
        for cause in causes {
            let (p, outcomes) = (share(cause.id), self.outcomes(cause.id));
            mixed.iter_mut().zip(outcomes).for_each(|(all, outcome)| *all += p * outcome);
            within += p * entropy(outcomes);
        }
        (entropy(&mixed) - within).max(0.0)
    }
}

/// Shannon's entropy, in bits.
fn entropy(probabilities: &[f64]) -> f64 {
    probabilities.iter().filter(|p| **p > 0.0).map(|p| -p * p.log2()).sum()
}

/// A test with what it would tell.
#[derive(Clone, Copy, Debug)]
pub struct Ranked {
    /// The test.
    pub test: &'static NextTest,
    /// How many minutes it takes, draining included where that is yet to be done.
    pub minutes: f64,
    /// What it would tell, in bits a minute.
    pub bits_a_minute: f64,
}

/// Less than so much is not worth anyone's while, in bits.
const LEAST_BITS: f64 = 0.02;

/// The tests not made yet that tell most for their minutes, the best first.
pub(super) fn ranked(marginals: &[f64], tried: &dyn Fn(Item) -> bool) -> Vec<Ranked> {
    let open = NEXT_TESTS.iter().filter(|test| test.is_open(tried));
    let telling = open.map(|test| (test, test.bits(marginals))).filter(|(_, bits)| *bits >= LEAST_BITS);
    let is_drained = tried(Item::Precharge) || tried(Item::Pin);
    let ranked = |(test, bits): (&'static NextTest, f64)| {
        let minutes = test.minutes + if test.drained && !is_drained { DRAINING } else { 0.0 };
        Ranked { test, minutes, bits_a_minute: bits / minutes }
    };
    let mut all: Vec<Ranked> = telling.map(ranked).collect();
    all.sort_by(|a, b| b.bits_a_minute.total_cmp(&a.bits_a_minute));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::diagnosis::causes::CAUSES;

    #[test]
    fn each_row_is_of_its_group_and_whole() {
        for test in NEXT_TESTS {
            for cause in test.group.causes() {
                let whole: f64 = test.outcomes(cause.id).iter().sum();
                assert!((whole - 1.0).abs() < 1e-9, "{}: {whole}", test.says);
            }
            assert!(test.rows.iter().all(|(cause, _)| cause.cause().group == test.group), "{}", test.says);
        }
    }

    #[test]
    fn last_years_value_tells_a_leak_from_a_low_setting_sooner_than_soap() {
        let mut even = vec![0.0; CAUSES.len()];
        even[Low as usize] = 0.5;
        even[AirLeak as usize] = 0.5;
        let best = ranked(&even, &|item| item == Item::Precharge);
        assert_eq!(best[0].test.item, Item::Earlier);
        assert!((best[0].bits_a_minute - 0.6418).abs() < 1e-3, "{}", best[0].bits_a_minute);
        let best = ranked(&even, &|item| matches!(item, Item::Precharge | Item::Earlier));
        assert_eq!(best[0].test.item, Item::Soap);
    }

    /// Mutual information is never below nothing nor above what there is to know.
    #[test]
    fn a_test_tells_no_more_than_there_is_to_know() {
        let priors: Vec<f64> = CAUSES.iter().map(|cause| cause.prior).collect();
        for test in NEXT_TESTS {
            let whole: f64 = test.group.causes().iter().map(|cause| cause.prior).sum();
            let known = test.group.causes().iter().map(|cause| cause.prior / whole);
            let bits = test.bits(&priors);
            assert!(bits > 0.0 && bits < entropy(&known.collect::<Vec<f64>>()), "{}: {bits}", test.says);
        }
    }
}
