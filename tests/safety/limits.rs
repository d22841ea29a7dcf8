//! Limits that can fail: each check is run alone with figures on either side.

use tankhand::procedure::shipped;
use tankhand::record::EntryKind;
use toml::{Table, Value};

use crate::support::Played;

/// A check of a shipped file, what it looks at, and what it must come to.
struct Case {
    file: &'static str,
    check: &'static str,
    given: &'static [(&'static str, &'static str)],
    comes_to: &'static str,
}

const fn case(
    file: &'static str,
    check: &'static str,
    given: &'static [(&'static str, &'static str)],
    comes_to: &'static str,
) -> Case {
    Case { file, check, given, comes_to }
}

/// What nobody knows.
const UNKNOWN: &str = "not known";
/// A word is answered; the others are there so that another could be.
const WORDS: &str = "\"strong\", \"weak\"";

static CASES: &[Case] = &[
    case("disinfect", "stood_short_of_harm", &[("dose_choice", "'strong'"), ("standing", "5 h")], "pass"),
    case("disinfect", "stood_short_of_harm", &[("dose_choice", "'strong'"), ("standing", "7 h")], "fail"),
    case("disinfect", "stood_short_of_harm", &[("dose_choice", "'weak'"), ("standing", "24 h")], "pass"),
    case("disinfect", "stood_short_of_harm", &[("dose_choice", "'weak'"), ("standing", "27 h")], "fail"),
    case("disinfect", "stood_enough", &[("stand_time", "3 h"), ("standing", "2 h")], "fail"),
    case(
        "disinfect",
        "dose_allowed",
        &[("maker_dose", "50 mg/L"), ("dose", "100 mg/L"), ("dose_choice", "'weak'")],
        "fail",
    ),
    case(
        "disinfect",
        "dose_allowed",
        &[("maker_dose", "100 mg/L"), ("dose", "100 mg/L"), ("dose_choice", "'weak'")],
        "pass",
    ),
    case("disinfect", "time_allowed", &[("maker_time", "2 h"), ("stand_time", "3 h")], "fail"),
    case("disinfect", "housing_fits", &[("bleach_needed", "1.5 gal"), ("housing_holds", "0.5 gal")], "fail"),
    case("disinfect", "housing_fits", &[("bleach_needed", "0.3 gal"), ("housing_holds", "0.5 gal")], "pass"),
    case("disinfect", "strip_low", &[("strip", "10 mg/L")], "fail"),
    case(
        "parts/first-look",
        "relief_fits",
        &[("relief_setting", "100 psi"), ("tank_limit", "75 psi")],
        "fail",
    ),
    case(
        "parts/first-look",
        "relief_fits",
        &[("relief_setting", UNKNOWN), ("tank_limit", "100 psi")],
        "can't tell",
    ),
    case(
        "parts/first-look",
        "relief_fits",
        &[("relief_setting", "75 psi"), ("tank_limit", UNKNOWN)],
        "can't tell",
    ),
    case(
        "parts/watch-cycle",
        "below_pressure_limit",
        &[("cut_out", "60 psi"), ("pressure_limit", UNKNOWN)],
        "can't tell",
    ),
    case("parts/watch-cycle", "below_code", &[("cut_out", "85 psi")], "fail"),
    case("parts/add-air", "air_allowed", &[("air_now", "80 psi"), ("tank_limit", "75 psi")], "fail"),
    case(
        "parts/read-precharge",
        "found_allowed",
        &[("found", "30 psi"), ("tank_limit", UNKNOWN)],
        "can't tell",
    ),
    case("parts/since-last", "loss_usual", &[("lost_a_year", "4 psi - 0 psi")], "fail"),
    case("parts/since-last", "loss_usual", &[("lost_a_year", "2 psi - 0 psi")], "pass"),
    case("re-open", "air_kept", &[("autumn_now", "30 psi"), ("found", "26 psi")], "fail"),
    case("parts/hold-test", "nothing_feeds", &[("hold_loss", "0 psi - 4 psi")], "fail"),
    case("parts/hold-test", "nothing_feeds", &[("hold_loss", "1 psi - 0 psi")], "pass"),
    case("set-switch", "want_code", &[("want_out", "85 psi")], "fail"),
    case("set-switch", "want_allowed", &[("want_out", "72 psi"), ("old_pressure_limit", "75 psi")], "fail"),
];

/// The check of that name in a file, those in loops too.
fn check_of(table: &Table, id: &str) -> Option<String> {
    let steps = table.get("step").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_table);
    steps.into_iter().find_map(|step| {
        let is_it = step.get("id").and_then(Value::as_str) == Some(id);
        let check = step.get("check").and_then(Value::as_str).filter(|_| is_it);
        check.map(str::to_string).or_else(|| check_of(step, id))
    })
}

fn verdict(case: &Case) -> String {
    let file: Table = shipped(case.file).unwrap().text.parse().unwrap();
    let check = check_of(&file, case.check).unwrap();
    let (mut facts, mut steps, mut answers) = (String::new(), String::new(), Vec::new());
    for (name, value) in case.given {
        if *value == UNKNOWN {
            facts +=
                &format!("[[fact]]\nid = \"{name}\"\nkind = \"pressure\"\nask = \"It\"\nunknown = true\n");
            answers.push(UNKNOWN);
        } else if let Some(word) = value.strip_prefix('\'') {
            steps += &format!("[[step]]\nid = \"{name}\"\nchoose = [{WORDS}]\nask = \"Which?\"\n");
            answers.push(word.trim_end_matches('\''));
        } else {
            steps += &format!("[[step]]\nid = \"{name}\"\ncompute = \"{value}\"\n");
        }
    }
    let said = "pass = \"pass\"\nfail = \"fail\"\nunsure = \"can't tell\"";
    let text = format!("{facts}{steps}[[step]]\nid = \"looked_at\"\ncheck = \"\"\"{check}\"\"\"\n{said}\n");
    let mut played = Played::of(&text, "");
    played.answers(answers);
    let checked = played.entries.iter().find(|entry| entry.kind == EntryKind::Checked).unwrap();
    let told = checked.message();
    if told.as_deref().is_some_and(|told| told.starts_with("This cannot be told")) {
        return "can't tell".to_string();
    }
    told.unwrap()
}

#[test]
fn every_limit_can_fail_and_nothing_unknown_passes() {
    let came_to: Vec<String> = CASES.iter().map(verdict).collect();
    let wrong = CASES.iter().zip(&came_to).filter(|(case, it)| case.comes_to != it.as_str());
    let wrong: Vec<String> =
        wrong.map(|(case, it)| format!("{} {:?}: {it}", case.check, case.given)).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A tank of which nobody knows what it held is left, whatever else is true of it.
#[test]
fn a_used_tank_of_unknown_past_is_a_stop() {
    for past in ["other", "unsure"] {
        let mut played = Played::begin(crate::support::setting_of(
            std::sync::Arc::new(tankhand::app::Library::default().load("used-tank").ok().unwrap()),
            tankhand::system::System::default(),
        ));
        played.answers(["", "", "", "", ""]).answer("loose");
        if played.run.ask().is_some_and(|ask| ask.text.contains("understood")) {
            played.answer("understood");
        }
        played.answer(past);
        let said = played.run.ended().map(|(_, said)| said.clone());
        assert!(said.is_some_and(|said| said.contains("must never feed a house")), "{past}");
    }
}
