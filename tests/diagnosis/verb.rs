//! `diagnose` in a procedure of the owner's: what is read counts by what it is of, not by a step's name.

use tankhand::clock::Moment;
use tankhand::engine::{EarlierVisit, RunInput};
use tankhand::quantity::Verdict;
use tankhand::record::{Entry, EntryKind, Outcome};

use crate::support::{Played, setting};

const STEPS: &str = r#"
[[fact]]
id = "size"
observes = "plate_volume"
kind = "volume"
ask = "Size?"

[[step]]
id = "a"
observes = "cut_in"
tells = "found"
read = "pressure"
gauge = "line"
times = 3
ask = "Starts at?"

[[step]]
id = "b"
observes = "cut_out"
tells = "found"
read = "pressure"
gauge = "line"
ask = "Stops at?"

[[step]]
id = "c"
observes = "drawdown"
tells = "found"
read = "volume"
gauge = "bucket"
skip = true
ask = "Water?"

[[step]]
id = "d"
observes = "pin_test"
tells = "found"
choose = ["air", "nothing", "water"]
ask = "Pin?"

[[step]]
id = "e"
observes = "precharge"
tells = "found"
read = "pressure"
gauge = "air"
times = 2
ask = "Air?"
without = { need = "drained", because = "This sample has no drain." }

[[step]]
id = "set"
observes = "precharge"
tells = "left"
read = "pressure"
gauge = "air"
ask = "Set to?"
without = { need = "drained", because = "This sample has no drain." }

[[step]]
id = "what"
diagnose = "found"

[[step]]
id = "again"
observes = "drawdown"
tells = "left"
read = "volume"
gauge = "bucket"
ask = "Water now?"
"#;

/// An entry in a line: what it is, its words, what to do next, by when, what it rests on.
fn line(entry: &Entry) -> String {
    let grade = entry.grade.map_or("told", |grade| grade.word());
    let mut line = format!("{grade}: {}", entry.said.clone().unwrap_or_default());
    line.extend(entry.to_do().iter().map(|next| format!(" | {next}")));
    line.extend(entry.due.map(|due| format!(" | {}", due.date())));
    if !entry.rests_on.is_empty() {
        line += &format!(" | {}", entry.rests_on.join(" "));
    }
    line
}

fn diagnosed(played: &Played) -> Vec<String> {
    let is = |entry: &&Entry| entry.step == "what" && entry.kind != EntryKind::Skipped;
    played.entries.iter().filter(is).map(line).collect()
}

fn said(answers: &str) -> Vec<String> {
    let mut played = Played::of(STEPS, "");
    played.answers(answers.split(", "));
    diagnosed(&played)
}

#[test]
fn a_low_tank_is_called_low() {
    assert_eq!(
        said("44 gal, 40 psi, 40 psi, 41 psi, 60 psi, 7.1 gal, air, 18 psi, 18 psi, 38 psi"),
        [
            "attention: The precharge is well below cut-in, so the tank gives less water per cycle and the pump \
             starts more often. Read: precharge 18 psi, cut-in 40 psi, drawdown of a whole cycle 7.1 gal. 99 % sure. | \
             Set the precharge. There may be no more to it (77 %), or it may be: air leaks (22 %). Next test, once this work is done: look up last \
             year's precharge, read with the same gauge (1 min). | 2031-07-04 | a c e",
        ]
    );
}

#[test]
fn a_tank_in_order_is_called_good_only_when_every_test_was_made() {
    let whole = "44 gal, 40 psi, 40 psi, 40 psi, 60 psi, 11.2 gal, air, 38 psi, 38 psi, 38 psi";
    assert_eq!(
        said(whole),
        ["good: No fault found in tank and switch: all readings agree. 99 % sure. Not tested: air leaks, a \
             part between tank and switch and a failed tank beside this one. | Look again in a year, with \
             the same gauges. | 2032-04-04 | a b c d e",]
    );
    let mut played = Played::of(STEPS, "");
    played.answers("44 gal, 40 psi, 40 psi, 40 psi, 60 psi".split(", "));
    played.then(RunInput::Skip("no bucket"));
    played.answers("air, 38 psi, 38 psi, 38 psi".split(", "));
    assert_eq!(
        diagnosed(&played),
        [
            "note: Nothing speaks against it so far. Not tested: bladder stuck, outlet part-blocked and tank volume \
             not as given. | To learn more, once this work is done: catch the drawdown in a bucket, from cut-out to cut-in with the breaker \
             off (15 min). For now accept the tank as it is; that does not prove it in order. | 2032-04-04 | a b d e",
        ]
    );
}

/// A question that is passed over takes nothing away from what was read before it.
#[test]
fn what_was_read_counts_where_it_is_left_out_the_second_time() {
    let again = "[[step]]\nid = \"c2\"\nobserves = \"drawdown\"\ntells = \"found\"\nread = \"volume\"\n\
                 gauge = \"bucket\"\nskip = true\nask = \"Once more?\"\n\n[[step]]\nid = \"what\"\n";
    let steps = STEPS.replace("[[step]]\nid = \"what\"\n", again);
    let answers = "44 gal, 40 psi, 40 psi, 41 psi, 60 psi, 7.1 gal, air, 18 psi, 18 psi, 38 psi";
    let mut played = Played::of(&steps, "");
    played.answers(answers.split(", ")).then(RunInput::Skip("no time"));
    assert_eq!(diagnosed(&played), said(answers));
}

/// Who was asked for last year's precharge and did not know it is not told to look it up.
#[test]
fn what_was_asked_for_and_not_known_is_no_next_test() {
    let before = "[[step]]\nid = \"a\"\nobserves = \"cut_in\"";
    let asked = "[[step]]\nid = \"p\"\nobserves = \"precharge\"\ntells = \"before\"\nread = \"pressure\"\n\
                 skip = true\nask = \"What was it last year?\"\n\n";
    let mut played = Played::of(&STEPS.replacen(before, &format!("{asked}{before}"), 1), "");
    played.answers(["44 gal"]).then(RunInput::Skip("not noted"));
    let answers = "40 psi, 40 psi, 41 psi, 60 psi, 7.1 gal, air, 18 psi, 18 psi, 38 psi";
    played.answers(answers.split(", "));
    assert_eq!(
        diagnosed(&played),
        [
            "attention: The precharge is well below cut-in, so the tank gives less water per cycle and the pump \
             starts more often. Read: precharge 18 psi, cut-in 40 psi, drawdown of a whole cycle 7.1 gal. 99 % sure. | \
             Set the precharge. There may be no more to it (77 %), or it may be: air leaks (22 %). Next test, once this \
             work is done: put soapy water on the air valve and the seams (5 min). | 2031-07-04 | a c e",
        ]
    );
}

const REPLACED: &str = r#"
[[step]]
id = "found"
observes = "pin_test"
tells = "found"
choose = ["air", "nothing", "water"]
ask = "Pin?"

[[step]]
id = "new"
observes = "tank_replaced"
tells = "done"
do = "Put the new tank in."

[[step]]
id = "left"
observes = "pin_test"
tells = "left"
choose = ["air", "nothing", "water"]
ask = "Pin now?"

[[step]]
id = "what"
diagnose = "left"
"#;

/// Water at the pin is of the tank that was taken out.
#[test]
fn what_was_seen_at_a_tank_is_not_held_against_the_next_one() {
    let told = |steps: &str, answers: &str| {
        let mut played = Played::of(steps, "");
        played.answers(answers.split(", "));
        diagnosed(&played)
    };
    assert_eq!(
        told(REPLACED, "water, done, air"),
        [
            "good: No fault found in tank: all readings agree. 98 % sure. Not tested: bladder torn, air leaks and water \
             behind the bladder. | Look again in a year, with the same gauges. | 2032-04-04 | found left"
        ]
    );
    let kept = REPLACED.replace("observes = \"tank_replaced\"\ntells = \"done\"\n", "");
    assert_eq!(
        told(&kept, "water, done, air"),
        [
            "attention: Can't tell yet. Likeliest: bladder torn (68 %) or water behind the bladder (8 %). | Next test, \
             once this work is done: knock on the drained tank from top to bottom (1 min). For now see to the tank: the \
             next test first. | 2031-05-05 | found"
        ]
    );
}

/// Set to 38 psi each time, found 3, 5, 6 and 8 psi lower, ever sooner.
#[test]
fn a_tank_that_loses_air_ever_faster_is_told_by_its_records() {
    const PSI: f64 = 6_894.757_293_168_361;
    let visit = |at: &str, found: f64| EarlierVisit {
        at: Moment::parse(at).unwrap(),
        found: Some(found * PSI),
        left: Some(38.0 * PSI),
        temperature: None,
        new_tank: false,
    };
    let mut setting = setting(STEPS, "");
    for (at, found) in [
        ("2028-03-01T09:00:00-05:00", 38.0),
        ("2029-03-01T09:00:00-05:00", 35.0),
        ("2030-01-05T09:00:00-05:00", 33.0),
        ("2030-09-12T09:00:00-05:00", 32.0),
    ] {
        setting.past.note_visit(None, visit(at, found));
    }
    let mut played = Played::begin(setting);
    played
        .answers("44 gal, 40 psi, 40 psi, 40 psi, 60 psi, 9.7 gal, air, 30 psi, 30 psi, 38 psi".split(", "));
    let faster = diagnosed(&played).into_iter().find(|line| line.contains("faster"));
    assert_eq!(
        faster.as_deref(),
        Some(
            "attention: The tank loses air faster from visit to visit. | Soap the air valve. If it is tight, the \
             bladder or a seam is failing: plan for another tank. | 2031-05-05 | a b c d e"
        )
    );
}

/// What one reading could not tell alone is told by all of them: the last word does not name it as not decided.
#[test]
fn a_check_behind_a_good_diagnosis_need_not_tell_by_itself() {
    let close = "[[step]]\nid = \"close\"\nlabel = \"air beside cut-in\"\ncheck = \"e <= b - 22 psi\"\n\n[[step]]\nid = \"what\"\n";
    let steps = STEPS.replace("[[step]]\nid = \"what\"\n", close);
    let mut played = Played::of(&steps, "");
    assert!(!played.has_reasons(), "nothing was told yet");
    let answers = "44 gal, 40 psi, 40 psi, 40 psi, 60 psi, 11.2 gal, air, 38 psi, 38 psi, 38 psi, 11.2 gal";
    played.answers(answers.split(", "));
    assert_eq!(played.checked().verdict, Some(Verdict::Unsure));
    let last = "No fault found in tank and switch: all readings agree. 99 % sure. Not tested: air leaks, a part between \
                tank and switch and a failed tank beside this one.";
    assert_eq!(played.ended(), Some(&(Outcome::Completed, last.to_string())));
}

/// After a finding worth a note nothing else was found, and that is good; after one that weighs more it is a note.
#[test]
fn no_fault_is_no_other_fault_where_one_was_found() {
    let answers = "44 gal, 40 psi, 40 psi, 40 psi, 60 psi, 11.2 gal, air, 38 psi, 38 psi, 38 psi";
    for (grade, expected) in
        [("note", "good: No fault found in"), ("attention", "note: No other fault found in")]
    {
        let found = format!(
            "[[step]]\nconclude = \"label worn\"\ngrade = \"{grade}\"\nsays = \"The label is worn.\"\nrests_on = [\"a\"]\n\n\
             [[step]]\nid = \"what\"\n"
        );
        let mut played = Played::of(&STEPS.replace("[[step]]\nid = \"what\"\n", &found), "");
        played.answers(answers.split(", "));
        let told = diagnosed(&played);
        let rest = " tank and switch: all readings agree. 99 % sure. Not tested: air leaks, a part between tank and \
                    switch and a failed tank beside this one. | Look again in a year, with the same gauges. | \
                    2032-04-04 | a b c d e";
        assert_eq!(told, [format!("{expected}{rest}")], "{grade}");
    }
}

/// What is told on the way is told again after an answer was taken back, as it was.
#[test]
fn a_diagnosis_is_made_once() {
    let mut played = Played::of(STEPS, "");
    played
        .answers("44 gal, 40 psi, 40 psi, 40 psi, 60 psi, 11.2 gal, air, 38 psi, 38 psi, 38 psi".split(", "));
    let first = diagnosed(&played);
    played.then(RunInput::Back);
    played.answer("37 psi");
    let both = [first.clone(), first].concat();
    assert_eq!(diagnosed(&played), both);
    assert!(played.has_reasons());
    // Nothing was named, so nothing speaks for it.
    assert!(played.reasons().is_empty());
    let mut low = Played::of(STEPS, "");
    low.answers("44 gal, 40 psi, 40 psi, 41 psi, 60 psi, 7.1 gal, air, 18 psi, 18 psi, 38 psi".split(", "));
    let named: Vec<&str> = low.reasons().iter().map(|reasons| reasons.name).collect();
    assert_eq!(named, ["precharge low"]);
}
