//! What would settle a check that can't tell: every sort of advice, by tables of whole runs.

mod support;

use std::time::Duration;

use support::Played;
use tankhand::engine::{AnswerKind, RunInput};

/// What would settle the last check of a run that waits so long where it must.
fn advised(steps: &str, system: &str, answers: &str, wait: u64) -> String {
    let mut run = Played::of(steps, system);
    for answer in answers.split_whitespace() {
        run.answers([answer]);
        while matches!(run.ask().map(|ask| ask.expects), Some(AnswerKind::WaitBegins(_))) {
            run.then(RunInput::WaitBegins).then(RunInput::WaitOver(Duration::from_secs(wait)));
        }
    }
    let checked = run.checked();
    checked.advice.clone().unwrap_or_else(|| format!("{} without advice", checked.verdict.unwrap().word()))
}

/// Holds the advice after each answers of a table against what it should be, the frame that most
/// sentences share left off.
#[track_caller]
fn all_advised(steps: &str, system: &str, table: &[(&str, &str)]) {
    for (answers, expected) in table {
        assert_eq!(short(&advised(steps, system, answers, 0)), *expected, "after {answers}");
    }
}

fn short(advice: &str) -> &str {
    let inner =
        advice.strip_prefix("As the figures stand, ").and_then(|rest| rest.strip_suffix(" would settle it."));
    inner.unwrap_or(advice)
}

/// A system file with gauges, each its id, how far off it may be, and its division.
fn gauges(all: &[[&str; 3]]) -> String {
    let one = |[id, within, division]: &[&str; 3]| {
        format!("[[gauge]]\nid = \"{id}\"\nwithin = \"{within}\"\ndivision = \"{division}\"\n")
    };
    std::iter::once("format = 1\n".to_string()).chain(all.iter().map(one)).collect()
}

fn read(id: &str, measure: &str, gauge: &str, times: u32) -> String {
    format!(
        "[[step]]\nid = \"{id}\"\nread = \"{measure}\"\nask = \"?\"\ngauge = \"{gauge}\"\ntimes = {times}\n"
    )
}

fn check(expr: &str) -> String {
    format!("[[step]]\ncheck = \"{expr}\"\n")
}

const TOO_CLOSE: &str = "No common gauge settles this: the value is too close to the limit.";
const TOO_FAR_APART: &str = "The readings lie too far apart for a finer gauge to settle this.";
const ALL_FINER: &str = "It would take finer gauges throughout to settle this.";

/// A line gauge that its marks alone put in doubt.
const COARSE: [&str; 3] = ["line", "0.1 psi", "5 psi"];

#[test]
fn of_one_reading_nobody_knows_whether_more_would_do() {
    let steps = read("p", "pressure", "line", 1) + &check("p <= 50 psi");
    let system = gauges(&[COARSE]);
    all_advised(
        &steps,
        &system,
        &[
            ("47", "pass without advice"),
            ("48", "a gauge good to 2 psi in place of the line gauge"),
            ("48.4", "a gauge good to 2 psi in place of the line gauge"),
            ("48.9", "a gauge good to 2 psi in place of the line gauge"),
            ("49.1", "a gauge good to 1 psi in place of the line gauge"),
            ("49.19", "a gauge good to 1 psi in place of the line gauge"),
            ("49.22", "a gauge good to 1 psi in place of the line gauge"),
            ("50.9", "a gauge good to 1 psi in place of the line gauge"),
            ("50.7", "a gauge good to 1 psi in place of the line gauge"),
        ],
    );
}

#[test]
fn readings_rounded_alike_are_not_made_surer_by_more() {
    let steps = read("p", "pressure", "line", 2) + &check("p <= 50 psi");
    let system = gauges(&[COARSE]);
    all_advised(
        &steps,
        &system,
        &[
            ("48.9 48.9", "a gauge good to 2 psi in place of the line gauge"),
            ("48.9 49", "a gauge good to 2 psi in place of the line gauge"),
            ("49.1 49.1", "a gauge good to 1 psi in place of the line gauge"),
            ("49 49.4", TOO_FAR_APART),
        ],
    );
}

#[test]
fn of_two_steps_the_gauge_that_leaves_most_doubt_is_advised() {
    let steps = read("p", "pressure", "line", 1) + &read("q", "pressure", "air", 1) + &check("q < p");
    let system = gauges(&[COARSE, ["air", "0.1 psi", "4 psi"]]);
    all_advised(
        &steps,
        &system,
        &[
            ("40 37.5", "a gauge good to 2 psi in place of the line gauge"),
            ("40 36.5", "pass without advice"),
            ("40 37", "a gauge good to 2 psi in place of the line gauge"),
            ("40 38", "a gauge good to 1 psi in place of the line gauge"),
        ],
    );
}

#[test]
fn of_two_steps_with_one_gauge_the_first_is_advised() {
    let steps =
        read("p", "pressure", "line", 1) + &read("q", "pressure", "line", 1) + &check("p - q <= 2 psi");
    let system = gauges(&[COARSE]);
    all_advised(
        &steps,
        &system,
        &[
            ("50 51", "a gauge good to 2 psi in place of the line gauge"),
            ("50 50.5", "a gauge good to 2 psi in place of the line gauge"),
            ("50 50", "a gauge good to 2 psi in place of the line gauge"),
            ("50 46", "a gauge good to 2 psi in place of the line gauge"),
        ],
    );
}

#[test]
fn rounds_of_a_loop_are_no_repeated_readings() {
    let steps = "[[step]]\nrepeat = { until = \"count(p) == 2\", at_most = 2 }\n[[step.step]]\nid = \"p\"\nread = \"pressure\"\n\
         ask = \"?\"\ngauge = \"line\"\n"
        .to_string() + &check("p <= 50 psi");
    let system = gauges(&[COARSE]);
    all_advised(
        &steps,
        &system,
        &[
            ("48 49", "a gauge good to 2 psi in place of the line gauge"),
            ("48.9 48.9", "a gauge good to 2 psi in place of the line gauge"),
            ("49.5 49.5", "a gauge good to 1 psi in place of the line gauge"),
        ],
    );
}

#[test]
fn the_shortest_longer_test_is_advised_and_none_beyond_a_day() {
    let steps = read("a", "pressure", "line", 1)
        + "[[step]]\nid = \"holding\"\nwait = \"1 min\"\nearly = true\n"
        + &read("b", "pressure", "line", 1)
        + "[[step]]\ncheck = \"a - b <= 1 psi\"\nover = \"holding\"\n";
    // The second reading comes a minute after the wait is over; that minute counts.
    let table = [
        (0, "50 49.5", "a test of 5 min instead of 60 s"),
        (30, "50 49.5", "a test of 10 min instead of 90 s"),
        (60, "50 49.5", "a test of 10 min instead of 2 min"),
        (60, "50 49.01", "a test of 5 min instead of 2 min"),
        (300, "50 49.5", "a test of 30 min instead of 6 min"),
        (300, "50 49.2", "a test of 15 min instead of 6 min"),
        (300, "50 49.01", "a test of 15 min instead of 6 min"),
        (900, "50 48.5", "a test of 20 min instead of 16 min"),
        (900, "50 49.2", "a test of 45 min instead of 16 min"),
        (900, "50 49.01", "a test of 30 min instead of 16 min"),
        (3600, "50 49.5", "a test of 4 h instead of 61 min"),
        (3600, "50 49.2", "a test of 3 h instead of 61 min"),
        (3600, "50 49.01", "a test of 2 h instead of 61 min"),
        (36000, "50 49.5", "a gauge good to 0.5 psi in place of the line gauge"),
        (36000, "50 49.2", "a test of 24 h instead of 10 h"),
        (86400, "50 49.5", "a gauge good to 0.5 psi in place of the line gauge"),
    ];
    for (wait, answers, expected) in table {
        assert_eq!(short(&advised(&steps, "", answers, wait)), expected, "after {answers} and {wait} s");
    }
}

/// A rate is known the better the longer it was measured: 0.05 gal below the limit is sure at 95 % where ±0.1 gal, even
/// within its limits, counts for 0.056 gal, after 11 · 0.1/0.056 min.
#[test]
fn a_longer_test_of_a_rate_makes_its_readings_count_for_less() {
    let steps = "[[step]]\nid = \"running\"\nwait = \"10 min\"\n".to_string()
        + &read("v", "volume", "bucket", 1)
        + "[[step]]\ncheck = \"v / running <= 0.1 gal/min\"\nover = \"running\"\n";
    let mut run = Played::of(&steps, &gauges(&[["bucket", "0.1 gal", "0 gal"]]));
    run.then(RunInput::WaitBegins).then(RunInput::WaitOver(Duration::from_secs(600))).answers(["1.05 gal"]);
    let checked = run.checked();
    assert_eq!(short(checked.advice.as_deref().unwrap()), "a test of 20 min instead of 11 min");
}

/// A function of one value takes the mean of the readings. By Boyle's law 44 gal set to 38 psi hold 8.161 gal at 50 psi.
#[test]
fn more_readings_help_where_their_mean_goes_into_a_function() {
    let steps = read("p", "pressure", "line", 3) + &check("water_held(44 gal, 38 psi, p) <= 8.161 gal");
    let fine = gauges(&[["line", "0.1 psi", "0.1 psi"]]);
    all_advised(&steps, &fine, &[("48.2 49 49.9", "5 readings of p instead of 3")]);
}

/// What stands beside as a word goes by the confidence of the run: that 40 ± 2 psi lies above 38.1 psi is likely by
/// 97 %, above 39 psi by 75 %.
#[test]
fn a_word_beside_keeps_what_it_says_by_the_confidence() {
    let read = read("q", "pressure", "air", 1) + &read("p", "pressure", "line", 1);
    let system = gauges(&[COARSE, ["air", "2 psi", "0 psi"]]);
    for word in ["verdict(q > 38.1 psi) == 'pass'", "verdict(q > 39 psi) == 'unsure'"] {
        let steps = read.clone() + &check(&format!("{word} and p <= 50 psi"));
        all_advised(&steps, &system, &[("40 49.1", "a gauge good to 1 psi in place of the line gauge")]);
    }
}

/// What a sort of gauge is called, what figures are round in its unit, and where its ladder ends.
#[test]
fn every_sort_of_gauge_has_its_name_and_its_finest() {
    let all = |gauge: &str, measure: &str, limit: &str, table: &[(&str, &str)]| {
        all_advised(&(read("x", measure, gauge, 1) + &check(&format!("x <= {limit}"))), "", table);
    };
    all(
        "thermometer",
        "temperature",
        "60 °F",
        &[
            ("58.6", "a thermometer good to 1 °F in place of the household thermometer"),
            ("59", "a thermometer good to 0.5 °F in place of the household thermometer"),
            ("59.5", "a thermometer good to 0.2 °F in place of the household thermometer"),
            ("59.8", TOO_CLOSE),
        ],
    );
    all(
        "watch",
        "duration",
        "60 s",
        &[
            ("59.5s", "a watch good to 0.3 s in place of the watch"),
            ("59.8s", "a watch good to 0.12 s in place of the watch"),
            ("59.9s", TOO_CLOSE),
        ],
    );
    all(
        "scale",
        "mass",
        "60 kg",
        &[
            ("59.5kg", "a scale good to 1 lb in place of the bathroom scale"),
            ("59.8kg", "a scale good to 0.2 lb in place of the bathroom scale"),
            ("59.9kg", "a scale good to 0.2 lb in place of the bathroom scale"),
            ("59.98kg", TOO_CLOSE),
        ],
    );
    all(
        "bucket",
        "volume",
        "3 gal",
        &[("2.9gal", "a measure good to 2 % in place of the bucket with marks"), ("2.95gal", TOO_CLOSE)],
    );
    all(
        "cone",
        "concentration",
        "3 mL/L",
        &[
            ("2.9mL/L", "a measure good to 2 % in place of the settling cone or marked jar"),
            ("2.95mL/L", "a measure good to 0.5 % in place of the settling cone or marked jar"),
            ("2.97mL/L", TOO_CLOSE),
        ],
    );
}

#[test]
fn a_measure_without_a_finest_is_bettered_twentyfold_at_most() {
    let steps = read("v", "volume", "bucket", 1) + &check("v <= 3 gal");
    let system = gauges(&[["bucket", "0.2 gal", "0.1 gal"]]);
    all_advised(
        &steps,
        &system,
        &[
            ("2.85gal", "a measure good to 0.8 pt in place of the bucket with marks"),
            ("2.9gal", "a measure good to 0.4 pt in place of the bucket with marks"),
            ("2.95gal", "a measure good to 0.16 pt in place of the bucket with marks"),
            ("2.98gal", "a measure good to 0.08 pt in place of the bucket with marks"),
            ("2.99gal", TOO_CLOSE),
        ],
    );
}

#[test]
fn a_graded_gauge_is_as_good_as_in_the_middle_of_its_dial() {
    let steps = read("p", "pressure", "line", 1) + &check("p <= 50 psi");
    for (grade, table) in [
        (
            "A",
            [
                ("49.5", "a gauge good to 0.2 psi in place of the line gauge"),
                ("49.8", "a gauge good to 0.1 psi in place of the line gauge"),
            ],
        ),
        (
            "B",
            [
                ("49", "a gauge good to 1 psi in place of the line gauge"),
                ("49.5", "a gauge good to 0.2 psi in place of the line gauge"),
            ],
        ),
        (
            "D",
            [
                ("47", "a gauge good to 2 psi in place of the line gauge"),
                ("49", "a gauge good to 1 psi in place of the line gauge"),
            ],
        ),
    ] {
        let system = format!(
            "format = 1\n[[gauge]]\nid = \"line\"\ngrade = \"{grade}\"\nspan = \"100 psi\"\ndivision = \"0.5 psi\"\n"
        );
        all_advised(&steps, &system, &table);
    }
}

#[test]
fn a_gauge_finer_than_the_finest_is_not_advised_to_be_finer_still() {
    let steps = read("p", "pressure", "line", 1) + &check("p <= 50 psi");
    let system = gauges(&[["line", "0.05 psi", "1 psi"]]);
    all_advised(
        &steps,
        &system,
        &[
            ("49.5", "pass without advice"),
            ("49.9", "a gauge good to 0.1 psi in place of the line gauge"),
            ("50.05", TOO_CLOSE),
            ("50.06", TOO_CLOSE),
            ("50.07", "a gauge good to 0.1 psi in place of the line gauge"),
        ],
    );
}

#[test]
fn gauges_of_two_sorts_are_not_advised_together() {
    let steps =
        read("m", "mass", "scale", 1) + &read("v", "volume", "bucket", 1) + &check("m / 60 kg <= v / 3 gal");
    let system = gauges(&[["scale", "2 kg", "0.1 kg"], ["bucket", "0.1 gal", "0.01 gal"]]);
    all_advised(
        &steps,
        &system,
        &[
            ("60kg 3.15gal", "pass without advice"),
            ("60kg 3.1gal", "a scale good to 1 lb in place of the bathroom scale"),
            ("60kg 3.08gal", ALL_FINER),
            ("60kg 3.05gal", ALL_FINER),
            ("60kg 3.02gal", ALL_FINER),
            ("60kg 3.001gal", TOO_CLOSE),
        ],
    );
}

#[test]
fn a_share_and_a_limit_are_not_advised_together() {
    let steps = read("p", "pressure", "line", 1) + &read("q", "pressure", "air", 1) + &check("q < p");
    let system = gauges(&[["line", "3 %", "0.1 psi"], ["air", "1 psi", "0.1 psi"]]);
    all_advised(
        &steps,
        &system,
        &[
            ("40 39", "a gauge good to 0.5 % in place of the line gauge"),
            ("40 39.5", ALL_FINER),
            ("40 39.8", TOO_CLOSE),
        ],
    );
}

#[test]
fn two_shares_are_advised_together() {
    let steps = read("p", "pressure", "line", 1) + &read("q", "pressure", "air", 1) + &check("q < p");
    let system = gauges(&[["line", "3 %", "0.1 psi"], ["air", "2 %", "0.1 psi"]]);
    all_advised(
        &steps,
        &system,
        &[
            ("40 39", "a gauge good to 1 % in place of the line gauge"),
            ("40 39.5", "gauges good to 0.5 % in place of the line gauge and the tire gauge"),
            ("40 39.8", TOO_CLOSE),
        ],
    );
}

/// The gauge that leaves most doubt comes first, be it by what it is off or by its marks.
#[test]
fn the_gauge_that_leaves_most_doubt_is_advised_first() {
    let steps = read("p", "pressure", "line", 1) + &read("q", "pressure", "air", 1) + &check("q < p");
    let by_marks = |id| [id, "0.1 psi", "3 psi"];
    let by_accuracy = |id| [id, "0.5 psi", "0.1 psi"];
    let table = [
        ("40 39.2", "a gauge good to 1 psi in place of the tire gauge"),
        ("40 39.5", "a gauge good to 0.2 psi in place of the tire gauge"),
        ("40 39.7", "gauges good to 0.2 psi in place of the tire gauge and the line gauge"),
    ];
    all_advised(&steps, &gauges(&[by_accuracy("line"), by_marks("air")]), &table);
    let table = [
        ("40 39.2", "a gauge good to 1 psi in place of the line gauge"),
        ("40 39.5", "a gauge good to 0.2 psi in place of the line gauge"),
        ("40 39.7", "gauges good to 0.2 psi in place of the line gauge and the tire gauge"),
    ];
    all_advised(&steps, &gauges(&[by_marks("line"), by_accuracy("air")]), &table);
    let table = [
        ("40 39", "a gauge good to 0.2 psi in place of the tire gauge"),
        ("40 39.5", "gauges good to 0.2 psi in place of the tire gauge and the line gauge"),
        ("40 39.8", "gauges good to 0.1 psi in place of the tire gauge and the line gauge"),
    ];
    all_advised(&steps, &gauges(&[["line", "1 psi", "0.1 psi"], ["air", "2 psi", "0.1 psi"]]), &table);
}

#[test]
fn where_only_the_spread_leaves_doubt_no_gauge_is_advised() {
    let steps = read("p", "pressure", "line", 3)
        + "[[step]]\nid = \"m\"\ncompute = \"mean(p)\"\n"
        + &check("m <= 50 psi");
    let system = gauges(&[["line", "0 psi", "0 psi"]]);
    all_advised(
        &steps,
        &system,
        &[("48 49 52", TOO_FAR_APART), ("49.9 50 50.05", TOO_FAR_APART), ("46 46 46", "pass without advice")],
    );
}

#[test]
fn more_readings_lessen_the_spread_of_a_mean() {
    let steps = read("p", "pressure", "line", 3)
        + "[[step]]\nid = \"m\"\ncompute = \"mean(p)\"\n"
        + &check("m <= 50 psi");
    let system = gauges(&[COARSE]);
    all_advised(
        &steps,
        &system,
        &[("48 49 51", TOO_FAR_APART), ("49 49 50.2", TOO_FAR_APART), ("48 49 49.5", TOO_FAR_APART)],
    );
    let fine = gauges(&[["line", "0.1 psi", "0.1 psi"]]);
    all_advised(
        &steps,
        &fine,
        &[
            ("48.2 49 49.9", "5 readings of p instead of 3"),
            ("48.2 49.2 50.2", "7 readings of p instead of 3"),
            ("48.9 49.9 50.9", TOO_FAR_APART),
        ],
    );
}

#[test]
fn the_highest_of_several_readings_is_not_made_surer_by_more() {
    let steps = read("p", "pressure", "line", 3)
        + "[[step]]\nid = \"m\"\ncompute = \"max(p)\"\n"
        + &check("m <= 50 psi");
    let system = gauges(&[COARSE]);
    all_advised(&steps, &system, &[("48 49 49", TOO_CLOSE), ("47 48.5 48.9", TOO_CLOSE)]);
}

/// What is taken all at once is another step's.
#[test]
fn more_readings_help_beside_the_highest_of_others() {
    let steps = read("q", "pressure", "air", 2)
        + &read("p", "pressure", "line", 1)
        + &check("p <= 50 psi and max(q) <= 70 psi");
    let system = gauges(&[COARSE, ["air", "0 psi", "0 psi"]]);
    all_advised(&steps, &system, &[("40 41 48", "a gauge good to 2 psi in place of the line gauge")]);
}

#[test]
fn a_check_without_a_doubt_needs_no_advice() {
    let steps =
        "[[step]]\nid = \"n\"\nread = \"pressure\"\nask = \"?\"\n".to_string() + &check("n <= 50 psi");
    let system = String::new();
    all_advised(&steps, &system, &[("49.99", "pass without advice"), ("50.1", "fail without advice")]);
}

/// The greater of two readings near each other is likelier over a limit than either: advice goes
/// by draws there, as the check does.
#[test]
fn where_a_result_has_a_kink_the_advice_goes_by_draws() {
    let steps = read("p", "pressure", "line", 1)
        + &read("q", "pressure", "air", 1)
        + "[[step]]\nid = \"m\"\ncompute = \"if p > q then p else q\"\n"
        + &check("m <= 50 psi and q <= 70 psi");
    let system = gauges(&[["line", "2 psi", "0.1 psi"], ["air", "2 psi", "0.1 psi"]]);
    all_advised(
        &steps,
        &system,
        &[
            ("49.2 49", "gauges good to 0.5 psi in place of the line gauge and the tire gauge"),
            ("49.2 40", "a gauge good to 0.5 psi in place of the line gauge"),
            ("49 48.9", "gauges good to 1 psi in place of the line gauge and the tire gauge"),
            ("49.6 49.5", "gauges good to 0.2 psi in place of the line gauge and the tire gauge"),
        ],
    );
}
