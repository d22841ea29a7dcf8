//! What a run keeps and what it forgets over rounds and tanks, and what it tells of its results.

mod support;

use support::{Played, played};
use tankhand::engine::{Refusal, RunInput};
use tankhand::quantity::Verdict;
use tankhand::record::EntryKind;

/// Where a run waits, with the round of each loop around.
fn at(played: &Played) -> String {
    played.ask().map_or("ended".to_string(), |ask| format!("{} {:?}", ask.place.step, ask.place.round))
}

#[test]
fn rounds_end_when_it_holds_but_not_before_the_least_nor_after_the_most() {
    let table = [
        (0, 3, "a", "after []"),
        (0, 3, "b", "jar [1]"),
        (0, 3, "b a", "jar [2]"),
        (0, 2, "b a a", "after []"),
        (1, 3, "a", "jar [1]"),
        (1, 3, "a a", "after []"),
        (1, 3, "a b b", "jar [3]"),
        (1, 3, "a b b b", "after []"),
        (2, 3, "a a", "jar [2]"),
        (2, 3, "a a a", "after []"),
        (2, 3, "a a b", "jar [3]"),
        (3, 3, "a a a", "jar [3]"),
        (3, 3, "a a a a", "after []"),
        (1, 1, "a b", "after []"),
    ];
    for (least, most, answers, expected) in table {
        let steps = format!(
            "step = [{{ id = \"first\", choose = [\"a\", \"b\"], ask = \"?\" }},\n\
             {{ repeat = {{ until = \"{}\", at_least = {least}, at_most = {most} }}, step = [\n\
             {{ id = \"jar\", choose = [\"a\", \"b\"], ask = \"?\" }}] }},\n\
             {{ id = \"after\", do = \"x\" }}]",
            if least == 0 { "first == 'a'" } else { "jar == 'a'" }
        );
        assert_eq!(at(&played(&steps, "", answers)), expected, "{least} to {most}, {answers}");
    }
}

#[test]
fn inner_rounds_begin_anew_in_every_outer_one() {
    let steps = r#"
[[step]]
repeat = { until = "lever == 'up'", at_most = 3 }
[[step.step]]
id = "inner"
repeat = { until = "count(jar) == 2", at_most = 5 }
say = "{count(jar)}: {jar}."
[[step.step.step]]
id = "jar"
choose = ["a", "b"]
ask = "?"
[[step.step]]
id = "lever"
choose = ["up", "down"]
ask = "?"
[[step]]
id = "after"
do = "x"
"#;
    for (answers, expected) in [
        ("a", "jar [1, 2]"),
        ("a b", "lever [1]"),
        ("a b down", "jar [2, 1]"),
        ("a b down b", "jar [2, 2]"),
        ("a b down b a", "lever [2]"),
        ("a b down b a up", "after []"),
    ] {
        assert_eq!(at(&played(steps, "", answers)), expected, "{answers}");
    }
    let run = played(steps, "", "a b down b a up");
    assert_eq!(run.said(), ["1: a.", "2: b.", "1: b.", "2: a."]);
    assert_eq!(run.value("lever"), "down, up");
    let rounds: Vec<&[u32]> = run
        .entries
        .iter()
        .filter(|entry| entry.kind == EntryKind::Computed)
        .map(|entry| &*entry.round)
        .collect();
    assert_eq!(rounds, [&[1, 1][..], &[1, 2], &[2, 1], &[2, 2]]);
}

const TANKS: &str = "format = 1\n[[tank]]\nid = \"a\"\n[[tank]]\nid = \"b\"\n[[tank]]\nid = \"c\"\n";

/// A tank gives its mean, its last round, or nothing.
#[test]
fn behind_an_each_every_tank_stands_with_one_value() {
    let steps = r#"
[[step]]
each = "tank"
[[step.step]]
id = "air"
read = "pressure"
ask = "?"
times = 2
[[step.step]]
id = "line"
read = "pressure"
ask = "?"
skip = true
[[step.step]]
repeat = { until = "jar == 'clear'", at_most = 3 }
[[step.step.step]]
id = "jar"
choose = ["clear", "dirty"]
ask = "?"
[[step]]
id = "highest"
compute = "max(air)"
say = "{count(air)} with {max(air)}, {last(jar)}."
[[step]]
id = "seen"
when = "known(line)"
compute = "max(line)"
say = "{count(line)} with {seen}."
"#;
    let run = played(steps, TANKS, "30 32 50 dirty clear 28 28 - clear 36 35 48 dirty dirty dirty");
    assert_eq!(run.said(), ["3 with 36 psi, dirty.", "2 with 50 psi."]);
    assert_eq!(run.value("air"), "31 psi, 28 psi, 36 psi");
    assert_eq!(run.value("line"), "50 psi, 48 psi");
    assert_eq!(run.value("jar"), "clear, clear, dirty");
    let run = played(steps, TANKS, "30 32 - clear 28 28 - clear 36 35 - clear");
    assert_eq!(run.said(), ["3 with 36 psi, clear."]);
    assert_eq!(run.value("line"), "-");
    let tanks: Vec<_> =
        run.entries.iter().filter(|entry| entry.step == "line").map(|e| e.tank.as_deref()).collect();
    assert_eq!(tanks, [Some("a"), Some("b"), Some("c")]);
}

/// What could not be worked out in one round is known again after the next that could.
#[test]
fn a_round_without_a_result_leaves_none_until_the_next() {
    let steps = r#"
[[step]]
repeat = { until = "go == 'no'", at_most = 5 }
[[step.step]]
id = "size"
read = "volume"
ask = "?"
[[step.step]]
id = "share"
compute = "1 / (size / 1 gal)"
[[step.step]]
id = "used"
compute = "share otherwise 9"
say = "{used}"
[[step.step]]
id = "go"
choose = ["yes", "no"]
ask = "?"
"#;
    let run = played(steps, "", "2 yes 0 yes 4 no");
    assert_eq!(run.said(), ["0.5", "9", "0.25"]);
    assert_eq!(run.value("share"), "0.5, 0.25");
    let run = played(steps, "", "2 yes 0 no");
    assert_eq!(run.said(), ["0.5", "9"]);
    assert_eq!(run.value("share"), "-");
}

#[test]
fn the_record_has_an_uncertainty_only_where_there_is_one() {
    let steps = r#"
step = [
  { id = "line", read = "pressure", ask = "?", gauge = "line" },
  { id = "plain", read = "pressure", ask = "?" },
  { id = "above", compute = "line - 2 psi" },
  { id = "exact", compute = "plain - 2 psi" },
  { id = "count", compute = "2 + 3" },
]
"#;
    let run = played(steps, "", "40 40");
    let recorded: Vec<_> = run
        .entries
        .iter()
        .map(|entry| (entry.value, entry.unit.as_deref(), entry.uncertainty.map(|u| format!("{u:.4}"))))
        .collect();
    // ±2 psi as a rectangle and marks 1 psi apart: √(4/3 + 1/12) psi.
    let u = Some("1.1902".to_string());
    assert_eq!(recorded[0], (Some(40.0), Some("psi"), u.clone()));
    assert_eq!(recorded[1], (Some(40.0), Some("psi"), None));
    assert_eq!((recorded[2].1, &recorded[2].2), (Some("psi"), &u));
    assert_eq!((recorded[3].1, &recorded[3].2), (Some("psi"), &None));
    assert_eq!(recorded[4], (Some(5.0), None, None));
}

/// A check that was told can be asked about until the next answer.
#[test]
fn a_check_that_was_told_stays_weighed_until_the_next_one() {
    let steps = r#"
step = [
  { id = "line", read = "pressure", ask = "?", gauge = "line" },
  { id = "low", check = "line <= 45 psi", pass = "Low.", fail = "High.", unsure = "Near." },
  { id = "silent", check = "line <= 80 psi" },
  { id = "on", do = "Go on." },
  { id = "off", do = "Go off." },
]
"#;
    for (answer, verdict, sign) in
        [("30", Verdict::Pass, 1.0), ("60", Verdict::Fail, -1.0), ("44.5", Verdict::Unsure, 1.0)]
    {
        let mut run = played(steps, "", answer);
        let [weighed] = run.check_derivation() else { panic!("one check was told") };
        assert_eq!((&*weighed.step, weighed.judgement.verdict, weighed.confidence), ("low", verdict, 0.95));
        let (_, margin) = weighed.margin.as_ref().unwrap();
        assert_eq!(margin.value().signum(), sign, "{answer}");
        let sources: Vec<String> =
            run.shares_of_margin(weighed).into_iter().map(|share| share.source).collect();
        assert_eq!(sources, ["accuracy of the line gauge", "division of the line gauge, line"]);
        run.answer("");
        assert_eq!(run.check_derivation().len(), 1, "it stays until something is told anew");
        run.then(RunInput::Back);
    }
}

#[test]
fn what_an_ended_run_is_given_is_refused() {
    let mut run = played("step = [{ id = \"a\", do = \"x\" }]", "", "done");
    let ended = Err(Refusal::Again("The run has ended.".to_string()));
    assert_eq!(run.take(RunInput::Answer("x")), ended);
    assert_eq!(run.take(RunInput::WaitBegins), ended);
    let refused = Err(Refusal::Again("This cannot be skipped.".to_string()));
    assert_eq!(run.take(RunInput::Skip("x")), refused);
}

/// A section goes on until another step has a title of its own.
#[test]
fn a_title_stands_over_what_follows_it() {
    let steps = r#"
fact = [{ id = "size", kind = "volume", ask = "Size" }]
step = [
  { id = "a", do = "x" },
  { id = "b", title = "The {size} tank", do = "x" },
  { id = "c", do = "x" },
  { id = "d", title = "After", when = "size > 50 gal", do = "x" },
  { id = "e", do = "x" },
]
"#;
    let mut sections = Vec::new();
    let mut run = played(steps, "", "");
    for answer in ["20", "", "", "", ""] {
        sections.push(run.ask().unwrap().section.unwrap_or_default());
        run.answer(answer);
    }
    let first = "What must be known first";
    assert_eq!(sections, [first, first, "The 20 gal tank", "The 20 gal tank", "The 20 gal tank"]);
}
