//! Plain cases: what is sure, what is asked next, what is done for now.

use proptest::prelude::*;
use tankhand::physics::diagnosis::CauseId::{self, *};
use tankhand::physics::diagnosis::{
    Claims, Diagnosis, Evidence, GaugeErrors, HoldLoss, Item, Odd, WellSite, Working, diagnose, speaks,
};

fn site() -> WellSite {
    WellSite {
        volume: Some(44.0),
        label_cut_in: 40.0,
        label_cut_out: 60.0,
        atmosphere: 14.7,
        head: 0.0,
        gap: 2.0,
    }
}

/// A line gauge within 1 psi, a tire gauge within 1 psi, a bucket within 3 %.
fn errors() -> GaugeErrors {
    GaugeErrors { line: 0.6, line_mark: 0.5, air: 0.6, air_mark: 0.5, bucket: 0.017 }
}

/// A visit with everything in order: 44 gal at 40/60, precharge 38 psi, 11.2 gal in 100 s.
fn sound() -> Evidence {
    let mut evidence = Evidence::of(site(), errors());
    evidence.starts = vec![40.0, 40.0, 40.5];
    evidence.cut_out = Some(60.0);
    evidence.zero = Some(0.0);
    evidence.precharge = vec![38.0, 38.0, 38.5];
    evidence.drawdown = Some(11.2);
    evidence.run_time = Some(100.0);
    evidence.hold_shut = Some(HoldLoss { loss: 0.0, minutes: 15.0 });
    evidence.hold_open = Some(HoldLoss { loss: 0.5, minutes: 15.0 });
    let words = [
        (Item::Pin, "air"),
        (Item::Sound, "hollow"),
        (Item::Needle, "evenly"),
        (Item::SwitchSound, "once"),
        (Item::Order, "right"),
        (Item::OtherTanks, "no"),
        (Item::Alone, "use"),
    ];
    assert!(words.into_iter().all(|(item, word)| evidence.word(item, word)));
    evidence
}

fn said(evidence: &Evidence) -> Diagnosis {
    diagnose(evidence, &Claims::by(&evidence.items()))
}

type Change = fn(&mut Evidence);

#[test]
fn what_is_plain_is_sure() {
    let table: [(&str, Change, &[CauseId], Working); 8] = [
        ("in order", |_| {}, &[], Working::Accept),
        (
            "low",
            |it| (it.precharge, it.drawdown, it.run_time) = (vec![22.0; 3], Some(8.0), Some(72.0)),
            &[Low],
            Working::SetAgain,
        ),
        (
            "high",
            |it| {
                (it.precharge, it.drawdown, it.run_time) = (vec![50.0; 3], Some(5.7), Some(50.0));
                it.word(Item::Needle, "dropped");
            },
            &[High],
            Working::SetAgain,
        ),
        (
            "torn",
            |it| {
                (it.precharge, it.drawdown, it.run_time) = (vec![0.0; 3], Some(6.0), Some(54.0));
                it.word(Item::Pin, "water");
                it.word(Item::Sound, "dull");
            },
            &[Torn],
            Working::Act,
        ),
        (
            "own valve shut",
            |it| {
                (it.precharge, it.drawdown, it.run_time) = (vec![59.0; 3], Some(0.2), Some(3.0));
                it.word(Item::Needle, "dropped");
                it.word(Item::Handle, "shut");
            },
            &[Shut],
            Working::Act,
        ),
        (
            "house leak",
            |it| {
                it.hold_open = Some(HoldLoss { loss: 6.0, minutes: 15.0 });
                it.word(Item::Alone, "alone");
            },
            &[House],
            Working::Accept,
        ),
        (
            "check valve",
            |it| {
                it.hold_shut = Some(HoldLoss { loss: 6.0, minutes: 15.0 });
                it.hold_open = Some(HoldLoss { loss: 6.0, minutes: 15.0 });
                it.word(Item::Look, "trickles");
            },
            &[CheckValve],
            Working::Accept,
        ),
        (
            "low, and a leak in the house",
            |it| {
                (it.precharge, it.drawdown, it.run_time) = (vec![22.0; 3], Some(8.0), Some(72.0));
                it.hold_open = Some(HoldLoss { loss: 6.0, minutes: 15.0 });
                it.word(Item::Alone, "alone");
            },
            &[Low, House],
            Working::SetAgain,
        ),
    ];
    for (name, change, causes, working) in table {
        let mut evidence = sound();
        change(&mut evidence);
        let said = said(&evidence);
        let mut found: Vec<CauseId> = said.found.iter().map(|found| found.cause).collect();
        found.sort();
        assert_eq!((found.as_slice(), said.working), (causes, working), "{name}: {said:?}");
        assert_eq!(said.is_good, causes.is_empty(), "{name}: {}", said.good);
    }
}

/// Nothing is called good while something that the visit set out to test was not tested.
#[test]
fn what_was_left_out_is_not_called_good() {
    let whole = sound();
    let claims = Claims::by(&whole.items());
    for item in [Item::Drawdown, Item::Pin, Item::HoldShut, Item::Precharge, Item::Starts] {
        let rest = if item == Item::HoldShut { whole.without(Item::HoldOpen) } else { whole.clone() };
        let said = diagnose(&rest.without(item), &claims);
        assert!(!said.is_good && !said.untested.is_empty() && said.found.is_empty(), "{item}: {said:?}");
    }
    assert!(said(&whole).is_good);
}

/// A glance at the running pump, with no plate, no precharge and no bucket.
fn glance(change: Change) -> Evidence {
    let mut evidence = Evidence::of(WellSite { volume: None, ..site() }, errors());
    (evidence.starts, evidence.cut_out, evidence.run_time) = (vec![40.0], Some(60.0), Some(100.0));
    let words = [
        (Item::Needle, "evenly"),
        (Item::SwitchSound, "once"),
        (Item::Sound, "hollow"),
        (Item::Handle, "open"),
    ];
    assert!(words.into_iter().all(|(item, word)| evidence.word(item, word)));
    change(&mut evidence);
    evidence
}

/// What nobody set out to test is not vouched for; where something seen speaks for it, nothing is good and it
/// is named with the test that would tell.
#[test]
fn a_good_word_goes_no_further_than_what_was_tested() {
    let table: [(&str, Change); 5] = [
        ("in order", |_| {}),
        ("the needle drops", |it| assert!(it.word(Item::Needle, "dropped"))),
        ("runs of 8 s", |it| it.run_time = Some(8.0)),
        ("the tank sounds dull", |it| assert!(it.word(Item::Sound, "dull"))),
        ("the switch chatters", |it| assert!(it.word(Item::SwitchSound, "chatter"))),
    ];
    let told = table.map(|(name, change)| {
        let said = said(&glance(change));
        let named: Vec<CauseId> = said.likeliest.iter().map(|(cause, _)| *cause).collect();
        let next = said.tests.first().map(|it| it.test.item);
        format!(
            "{name}: good {} in {:?}; {named:?}, next {next:?}, {:?}",
            said.is_good, said.vouched, said.working
        )
    });
    let expected = [
        "in order: good true in [Switch]; [], next Some(Drawdown), Accept",
        "the needle drops: good false in [Switch]; [High], next Some(Drawdown), LookAgain",
        "runs of 8 s: good false in [Switch]; [TooSmall, Low, Stuck], next Some(Order), Act",
        "the tank sounds dull: good true in [Switch]; [], next Some(Soap), Accept",
        "the switch chatters: good false in [Switch]; [Nipple, Apart], next Some(Order), Accept",
    ];
    assert_eq!(told.as_slice(), expected);
}

/// An answer that goes with no other takes a good word away, though each cause stays unlikely.
#[test]
fn an_answer_that_nothing_predicted_takes_the_good_word_away() {
    let mut evidence = sound();
    assert!(evidence.word(Item::Pin, "nothing"));
    let said = said(&evidence);
    assert_eq!((said.odd, said.is_good), (Some(Odd::Reading(Item::Pin)), false), "{said:?}");
}

/// A reading that nothing explains is asked for again, and takes the good word away.
#[test]
fn a_reading_that_fits_nothing_is_asked_for_again() {
    let table: [(&str, Change, Odd); 3] = [
        ("precharge 45 psi too much", |it| it.precharge = vec![83.0; 3], Odd::Reading(Item::Precharge)),
        ("twice the water", |it| it.drawdown = Some(24.0), Odd::Reading(Item::Drawdown)),
        (
            "pressure that rises with the house shut",
            |it| it.hold_shut = Some(HoldLoss { loss: -5.0, minutes: 15.0 }),
            Odd::Reading(Item::HoldShut),
        ),
    ];
    for (name, change, odd) in table {
        let mut evidence = sound();
        change(&mut evidence);
        let said = said(&evidence);
        assert_eq!((said.odd, said.is_good), (Some(odd), false), "{name}: {said:?}");
    }
}

/// A leak that is sure is named beside a reading that is odd; of the tank nothing is sure then.
#[test]
fn beside_an_odd_reading_only_the_tank_and_the_gauges_are_left_open() {
    let mut evidence = sound();
    (evidence.precharge, evidence.hold_open) = (vec![83.0; 3], Some(HoldLoss { loss: 6.0, minutes: 15.0 }));
    assert!(evidence.word(Item::Alone, "alone") && evidence.word(Item::Pin, "water"));
    let said = said(&evidence);
    let found: Vec<CauseId> = said.found.iter().map(|found| found.cause).collect();
    assert_eq!((said.odd, found), (Some(Odd::Reading(Item::Precharge)), vec![House]), "{said:?}");
}

/// A switch that has drifted from its label is worth knowing: it is named, and the tank is good by what was watched.
#[test]
fn what_is_only_worth_knowing_does_not_stand_against_good() {
    let mut evidence = sound();
    (evidence.starts, evidence.cut_out) = (vec![31.0, 31.0, 31.5], Some(51.0));
    (evidence.precharge, evidence.drawdown, evidence.run_time) = (vec![29.0; 3], Some(12.8), Some(114.0));
    let said = said(&evidence);
    let found: Vec<CauseId> = said.found.iter().map(|found| found.cause).collect();
    assert_eq!((found, said.is_good), (vec![Drifted], true), "{said:?}");
}

/// Whether a precharge is right goes by the switch, so that a drifted one is told first, though the other is surer.
#[test]
fn a_drifted_switch_is_told_before_what_goes_by_it() {
    let mut evidence = sound();
    (evidence.starts, evidence.cut_out) = (vec![32.0, 32.0, 32.5], Some(52.0));
    (evidence.precharge, evidence.drawdown, evidence.run_time) = (vec![16.0; 3], Some(8.55), Some(76.0));
    let said = said(&evidence);
    let found: Vec<CauseId> = said.found.iter().map(|found| found.cause).collect();
    assert_eq!(found, [Drifted, Low], "{said:?}");
    assert!(said.found[0].probability < said.found[1].probability, "{:?}", said.found);
}

#[test]
fn what_speaks_for_a_cause_is_what_was_read() {
    let mut evidence = Evidence::of(site(), errors());
    evidence.word(Item::Pin, "water");
    evidence.word(Item::Sound, "hollow");
    let told = speaks(&evidence, &[Torn]).remove(0);
    let told: Vec<(Item, bool, &str)> =
        told.iter().map(|it| (it.item, it.ln_odds > 0.0, it.strength())).collect();
    assert_eq!(told, [(Item::Pin, true, "strongly"), (Item::Sound, false, "clearly")]);
}

/// The same evidence gives the same diagnosis, to the last bit.
#[test]
fn nothing_is_left_to_chance() {
    let once = said(&sound());
    assert_eq!(once.probabilities, said(&sound()).probabilities);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn no_evidence_yields_what_is_no_probability(
        x in proptest::array::uniform12(0.0f64..150.0), u in proptest::array::uniform5(0.0f64..4.0)
    ) {
        let errors = GaugeErrors { line: u[0], line_mark: u[1], air: u[2], air_mark: u[3], bucket: u[4] / 40.0 };
        let site = WellSite { volume: Some(1.0 + x[0]), label_cut_in: 20.0 + x[1] / 5.0, ..site() };
        let mut evidence = Evidence::of(site, errors);
        (evidence.starts, evidence.precharge) = (vec![x[2], x[3]], vec![x[4]]);
        (evidence.cut_out, evidence.drawdown, evidence.run_time) = (Some(x[5]), Some(x[6]), Some(x[7]));
        (evidence.zero, evidence.second_gauge) = (Some(x[8]), Some(x[9] - 75.0));
        evidence.hold_shut = Some(HoldLoss { loss: x[10] - 50.0, minutes: 5.0 + x[11] });
        let said = said(&evidence);
        let all = said.probabilities.iter().chain([&said.none, &said.good]);
        prop_assert!(all.copied().all(|p| (0.0..=1.0 + 1e-9).contains(&p)), "{said:?}");
        prop_assert!(said.likeliest.len() <= 3);
    }
}
