//! Doubt, played against the engine alone: what it comes from, and what would settle a check.

mod support;

use std::time::Duration;

use proptest::prelude::*;
use support::{Played, played};
use tankhand::engine::{Refusal, RunInput};
use tankhand::quantity::Verdict;

const SOURCES: &str = r#"
step = [
  { id = "air", label = "air as found", read = "pressure", ask = "Air", times = 2, gauge = "air" },
  { id = "line", read = "pressure", ask = "Line", gauge = "line" },
  { id = "above", compute = "line - air" },
]
"#;

#[test]
fn every_source_of_doubt_has_a_name() {
    let run = played(SOURCES, "", "28 28.5 40");
    let above = run.run.value("above").unwrap();
    let mut names: Vec<String> = above
        .amount()
        .unwrap()
        .components()
        .iter()
        .map(|(source, _)| run.source_name(*source).unwrap())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "accuracy of the line gauge",
            "accuracy of the tire gauge",
            "division of the line gauge, line",
            "division of the tire gauge, air as found, all readings alike",
            "spread of the readings of air as found",
        ]
    );
    assert_eq!(run.source_name(tankhand::quantity::SourceId::Reading(99)), None);
}

/// Readings of any measure that lie further apart than a mark were not rounded alike.
#[test]
fn readings_further_apart_than_a_mark_have_their_spread_alone() {
    let steps = r#"
step = [
  { id = "caught", read = "volume", ask = "Water", gauge = "bucket", times = 3 },
  { id = "all", compute = "caught * 1" },
]
"#;
    let system = "format = 1\n[[gauge]]\nid = \"bucket\"\nwithin = \"0 gal\"\ndivision = \"0.5 gal\"\n";
    let sources = |answers: &str| {
        let run = played(steps, system, answers);
        let all = run.run.value("all").unwrap();
        let components = all.amount().unwrap().components().to_vec();
        let mut told: Vec<String> = components
            .iter()
            .map(|(source, part)| {
                format!("{} {:.4}", run.source_name(*source).unwrap(), part / 3.785_411_784e-3)
            })
            .collect();
        told.sort();
        told
    };
    // 0.5/√12 = 0.1443; the spread of 4, 4.25 and 4.5, and of 4, 5 and 6, over √3 (JCGM 100:2008, 4.2.3).
    let spread = "spread of the readings of caught";
    let alike = "division of the bucket with marks, caught, all readings alike";
    assert_eq!(sources("4gal 4.25gal 4.5gal"), [format!("{alike} 0.1443"), format!("{spread} 0.1443")]);
    assert_eq!(sources("4gal 5gal 6gal"), [format!("{spread} 0.5774")]);
}

/// What an entry records of a number: in the household's unit, its standard uncertainty where it has one.
#[test]
fn entries_hold_numbers_in_their_unit_with_their_uncertainty() {
    let steps = r#"
step = [
  { id = "caught", read = "volume", ask = "Water", gauge = "bucket" },
  { id = "share", compute = "caught / 8 gal" },
  { id = "none", compute = "2 + 2" },
]
"#;
    let system = "format = 1\n[[gauge]]\nid = \"bucket\"\nwithin = \"1 gal\"\ndivision = \"0.5 gal\"\n";
    let run = played(steps, system, "4");
    let kept: Vec<String> = run
        .entries
        .iter()
        .map(|entry| {
            let unit = entry.unit.as_deref().unwrap_or("-");
            format!("{} {:.4?} {unit} {:.4?}", entry.step, entry.value, entry.uncertainty)
        })
        .collect();
    // 1/√3 and 0.5/√12 gal, taken together; of a number there is no unit.
    let expected = [
        "caught Some(4.0000) gal Some(0.5951)",
        "share Some(0.5000) - Some(0.0744)",
        "none Some(4.0000) - None",
    ];
    assert_eq!(kept, expected);
}

/// A reading in a round says which; figures have a last step and no division.
#[test]
fn a_source_of_doubt_in_rounds_says_in_which() {
    let steps = r#"
[[step]]
repeat = { until = "count(air) == 2", at_most = 2 }
[[step.step]]
id = "air"
read = "pressure"
ask = "Air"
times = 2
gauge = "air"
[[step]]
id = "mean_air"
compute = "mean(air) + (1 psi +- 0.5 psi) - 1 psi"
"#;
    let system = "format = 1\n[[gauge]]\nid = \"air\"\nkind = \"digital tire gauge\"\n";
    let run = played(steps, system, "28 28.5 29 29");
    let value = run.run.value("mean_air").unwrap();
    let sources =
        value.amount().unwrap().components().iter().map(|(source, _)| run.source_name(*source).unwrap());
    let mut names: Vec<String> = sources.collect();
    names.sort();
    assert_eq!(
        names,
        [
            "1 psi +- 0.5 psi",
            "accuracy of the digital tire gauge",
            "last step of the digital tire gauge, air, all readings alike",
            "spread of several answers",
            "spread of the readings of air"
        ]
    );
}

#[test]
fn a_reading_past_the_end_of_the_dial_is_questioned() {
    let system = "format = 1\n[[gauge]]\nid = \"line\"\nspan = \"60 psi\"\n";
    let mut run =
        played("step = [{ id = \"p\", read = \"pressure\", ask = \"P\", gauge = \"line\" }]", system, "");
    let refusal = run.refused("62");
    assert_eq!(refusal, Refusal::Unusual("The line gauge only goes to 60 psi, by your system file.".into()));
    run.answers(["62"]);
}

/// The one check of a run: what came of it, and what would settle it.
fn checked(run: &Played) -> (Verdict, Option<String>) {
    let entry = run.checked();
    (entry.verdict.unwrap(), entry.advice.clone())
}

fn advice_for(steps: &str, system: &str, answers: &str) -> Option<String> {
    let (verdict, advice) = checked(&played(steps, system, answers));
    assert_eq!(verdict, Verdict::Unsure);
    advice
}

/// A pressure held against a limit.
fn pressure(times: u32) -> String {
    format!(
        "[[step]]\nid = \"p\"\nlabel = \"line pressure\"\nread = \"pressure\"\nask = \"P\"\n\
         gauge = \"line\"\ntimes = {times}\n[[step]]\ncheck = \"p <= 50 psi\"\nunsure = \"Close.\"\n"
    )
}

#[test]
fn a_finer_gauge_is_advised_where_the_accuracy_leaves_the_doubt() {
    assert_eq!(
        advice_for(&pressure(1), "", "48.5").unwrap(),
        "As the figures stand, a gauge good to 1 psi in place of the line gauge would settle it."
    );
}

#[test]
fn finer_marks_are_advised_where_the_division_leaves_the_doubt() {
    let bucket = r#"step = [
        { id = "came", read = "volume", ask = "V", gauge = "bucket" },
        { check = "came >= 2 gal" },
    ]"#;
    assert_eq!(
        advice_for(bucket, "", "2.07").unwrap(),
        "As the figures stand, a measure good to 1 % in place of the bucket with marks would settle it."
    );
}

#[test]
fn more_readings_are_not_advised_for_the_spread_of_them() {
    let spread = r#"step = [
        { id = "p", read = "pressure", ask = "P", gauge = "line", times = 2 },
        { id = "apart", compute = "spread(p)" },
        { check = "apart <= 1 psi" },
    ]"#;
    assert_eq!(
        advice_for(spread, "", "48 48.9").unwrap(),
        "As the figures stand, a gauge marked every 0.1 psi in place of the line gauge would settle it."
    );
}

#[test]
fn a_longer_wait_is_advised_where_the_check_says_over_what_time() {
    let hold = r#"step = [
        { id = "before", read = "pressure", ask = "P", gauge = "line" },
        { id = "holding", wait = "15 min" },
        { id = "after", read = "pressure", ask = "P", gauge = "line" },
        { check = "before - after <= 1 psi", over = "holding" },
    ]"#;
    let mut run = played(hold, "", "50");
    run.then(RunInput::WaitBegins).then(RunInput::WaitOver(Duration::from_secs(900))).answer("49.5");
    let advice = "As the figures stand, a test of 60 min instead of 16 min would settle it.";
    assert_eq!(checked(&run), (Verdict::Unsure, Some(advice.to_string())));
}

#[test]
fn what_lies_at_the_limit_is_settled_by_nothing() {
    let advice = advice_for(&pressure(1), "", "49.99").unwrap();
    assert_eq!(advice, "No common gauge settles this: the value is too close to the limit.");
}

#[test]
fn two_gauges_are_advised_together_where_one_does_not_do() {
    let two = r#"step = [
        { id = "p", read = "pressure", ask = "P", gauge = "line" },
        { id = "air", read = "pressure", ask = "A", gauge = "air" },
        { check = "air < p" },
    ]"#;
    assert_eq!(
        advice_for(two, "", "40 39.4").unwrap(),
        "As the figures stand, gauges good to 0.2 psi in place of the line gauge and the tire gauge would settle it."
    );
}

/// The greater of two confidences counts, for checks and for verdict(…).
#[test]
fn checks_go_by_the_confidence_asked_for() {
    let steps = |head: &str| {
        format!("{head}\n{}\n[[step]]\nid = \"word\"\ncompute = \"verdict(p <= 50 psi)\"\n", pressure(1))
    };
    let verdict = |head: &str, system: &str| {
        let run = played(&steps(head), system, "48.5");
        (checked(&run).0, run.value("word"))
    };
    let cant_tell = (Verdict::Unsure, "unsure".to_string());
    let pass = (Verdict::Pass, "pass".to_string());
    assert_eq!(verdict("", ""), cant_tell);
    assert_eq!(verdict("", "format = 1\nconfidence = \"80 %\"\n"), pass);
    assert_eq!(verdict("confidence = 0.8", ""), pass);
    assert_eq!(verdict("confidence = 0.92", "format = 1\nconfidence = 0.8\n"), cant_tell);
    assert_eq!(verdict("confidence = 0.7", "format = 1\nconfidence = 0.95\n"), cant_tell);
}

fn line(within: f64, division: f64) -> String {
    format!(
        "format = 1\n[[gauge]]\nid = \"line\"\nwithin = \"{within} psi\"\ndivision = \"{division} psi\"\n"
    )
}

/// What is advised, done, turns the verdict; where nothing is to be had, nothing would.
/// All in tenths of a psi.
fn advice_settles(off: i32, within: u32, division: u32) -> Result<(), TestCaseError> {
    let reading = format!("{}", 50.0 + f64::from(off) / 10.0);
    let (within, division) = (f64::from(within) / 10.0, f64::from(division) / 10.0);
    let (verdict, advice) = checked(&played(&pressure(1), &line(within, division), &reading));
    let Some(advice) = advice else {
        prop_assert_ne!(verdict, Verdict::Unsure);
        return Ok(());
    };
    prop_assert_eq!(verdict, Verdict::Unsure);
    let between = |from: &str, to: &str| {
        advice
            .split_once(from)
            .and_then(|(_, rest)| rest.split_once(to))
            .map(|(word, _)| word.parse::<f64>().unwrap())
    };
    let again = if let Some(limit) = between("good to ", " psi") {
        prop_assert!(limit < within.max(division));
        checked(&played(&pressure(1), &line(within.min(limit), division.min(limit)), &reading))
    } else if let Some(n) = between("stand, ", " readings") {
        let answers = vec![reading.as_str(); n as usize].join(" ");
        checked(&played(&pressure(n as u32), &line(within, division), &answers))
    } else {
        let finest = checked(&played(&pressure(1), &line(within.min(0.1), division.min(0.1)), &reading));
        prop_assert_eq!(finest.0, Verdict::Unsure, "{}", advice);
        return Ok(());
    };
    prop_assert_ne!(again.0, Verdict::Unsure, "{}", advice);
    Ok(())
}

#[test]
fn advice_settles_a_check_of_a_gauge_finer_than_its_marks() {
    advice_settles(2, 1, 12).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn advice_that_is_followed_settles_the_check(
        off in -40i32..40, within in 1u32..40, division in 1u32..40
    ) {
        advice_settles(off, within, division)?;
    }
}
