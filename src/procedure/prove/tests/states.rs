//! States that hold, and states that may not.

use super::{faults, sound, unsound};

const NEEDS: &str = r#"{ id = "air", read = "pressure", ask = "?", needs = ["emptied"] },"#;

/// The faults of steps followed, on the next line, by one that needs `emptied`.
fn before_need(steps: &str) -> Vec<String> {
    faults(&format!("\n{steps}\n{NEEDS}\n"))
}

#[track_caller]
pub(super) fn held(steps: &str) {
    assert_eq!(before_need(steps), Vec::<String>::new(), "{steps}");
}

#[track_caller]
pub(super) fn not_held(steps: &str) {
    let line = 5 + steps.lines().count();
    let expected = format!("[needs-state] t.toml:{line}:54: `emptied` may not hold here");
    assert_eq!(before_need(steps), [expected], "{steps}");
}

#[test]
fn a_state_must_be_brought_about_and_not_ended() {
    not_held(r#"{ do = "x" },"#);
    held(r#"{ do = "x", brings = ["emptied"] },"#);
    not_held(
        r#"{ do = "x", brings = ["emptied"] },
{ do = "y", undoes = ["emptied"] },"#,
    );
    held(
        r#"{ do = "x", brings = ["emptied"] },
{ do = "y", undoes = ["emptied"], brings = ["emptied"] },"#,
    );
}

#[test]
fn a_step_that_may_not_be_done_brings_nothing_and_may_end() {
    not_held(r#"{ when = "lever", do = "x", brings = ["emptied"] },"#);
    not_held(r#"{ do = "x", brings = ["emptied"], skip = true },"#);
    not_held(
        r#"{ do = "x", brings = ["emptied"] },
{ when = "lever", do = "x", undoes = ["emptied"] },"#,
    );
    not_held(
        r#"{ do = "x", brings = ["emptied"] },
{ do = "x", undoes = ["emptied"], skip = true },"#,
    );
}

#[test]
fn both_ways_make_it_certain() {
    held(
        r#"{ when = "lever", do = "x", brings = ["emptied"] },
{ when = "not lever", do = "x", brings = ["emptied"] },"#,
    );
    held(
        r#"{ when = "kind == 'plain' and lever", do = "x", brings = ["emptied"] },
{ when = "not lever", do = "x", brings = ["emptied"] },
{ when = "kind != 'plain'", do = "x", brings = ["emptied"] },"#,
    );
    not_held(
        r#"{ when = "kind == 'plain' and lever", do = "x", brings = ["emptied"] },
{ when = "not lever", do = "x", brings = ["emptied"] },"#,
    );
}

#[test]
fn the_same_condition_will_do() {
    sound(
        r#"
{ when = "lever", do = "x", brings = ["emptied"] },
{ when = "lever and kind == 'plain'", do = "x", needs = ["emptied"] },
"#,
    );
    sound(
        r#"
{ do = "x", brings = ["emptied"] },
{ when = "lever", do = "x", undoes = ["emptied"] },
{ when = "not lever", do = "x", needs = ["emptied"] },
"#,
    );
    unsound(
        r#"
{ when = "lever", do = "x", brings = ["emptied"] },
{ when = "kind == 'plain'", do = "x", needs = ["emptied"] },
{ when = "lever", do = "x", undoes = ["emptied"] },
{ when = "lever", do = "x", needs = ["emptied"] },
"#,
        &[
            "[needs-state] t.toml:6:48: `emptied` may not hold here",
            "[needs-state] t.toml:8:38: `emptied` may not hold here",
        ],
    );
}

#[test]
fn only_a_check_that_must_hold_brings_for_certain() {
    held(r#"{ id = "dry", check = "lever", must = true, brings = ["emptied"] },"#);
    not_held(r#"{ id = "dry", check = "lever", brings = ["emptied"] },"#);
    held(
        r#"{ id = "dry", check = "lever", brings = ["emptied"] },
{ when = "not dry", stop = "x" },"#,
    );
    held(
        r#"{ id = "dry", check = "lever", brings = ["emptied"] },
{ when = "not lever", stop = "x" },"#,
    );
    sound(
        r#"
{ id = "dry", check = "lever", brings = ["emptied"] },
{ when = "dry", do = "x", needs = ["emptied"] },
"#,
    );
}

#[test]
fn an_answer_that_may_be_skipped_brings_where_it_is_known() {
    sound(
        r#"
{ id = "seen", write = "text", ask = "?", skip = true, brings = ["emptied"] },
{ when = "known(seen)", do = "{seen}", needs = ["emptied"] },
"#,
    );
}

#[test]
fn what_a_round_ends_is_missing_in_the_next() {
    unsound(
        r#"
{ do = "x", brings = ["emptied", "off"] },
{ repeat = { until = "now > 2 psi", at_most = 3 }, step = [
  { id = "now", read = "pressure", ask = "?", needs = ["emptied", "off"] },
  { do = "x", undoes = ["emptied"] },
] },
{ do = "x", needs = ["off"] },
"#,
        &["[needs-state] t.toml:7:56: `emptied` may not hold here"],
    );
    sound(
        r#"
{ do = "x", brings = ["emptied"] },
{ repeat = { until = "now > 2 psi", at_most = 3 }, step = [
  { id = "now", read = "pressure", ask = "?", needs = ["emptied"] },
  { do = "x", undoes = ["emptied"] },
  { do = "x", brings = ["emptied"] },
] },
{ do = "x", needs = ["emptied"] },
"#,
    );
}

#[test]
fn rounds_in_rounds() {
    unsound(
        r#"
{ do = "x", brings = ["emptied", "off"] },
{ repeat = { until = "lever", at_most = 3 }, step = [
  { do = "x", needs = ["off"] },
  { repeat = { until = "lever", at_most = 3 }, step = [
    { do = "x", needs = ["emptied"] },
    { do = "x", needs = ["off"] },
    { do = "x", undoes = ["off"] },
  ] },
  { do = "x", undoes = ["emptied"], brings = ["off"] },
] },
"#,
        &[
            "[needs-state] t.toml:9:26: `emptied` may not hold here",
            "[needs-state] t.toml:10:26: `off` may not hold here",
        ],
    );
}

#[test]
fn a_loop_brings_what_its_end_proves() {
    let with = |after: &str| {
        before_need(&format!(
            r#"{{ repeat = {{ until = "now > 2 psi", at_most = 3 }}, brings = ["emptied"], step = [
  {{ id = "now", read = "pressure", ask = "?" }} ] }},
{after}"#
        ))
    };
    let expected = ["[needs-state] t.toml:8:54: `emptied` may not hold here"];
    assert_eq!(with(r#"{ do = "x" },"#), expected);
    assert_eq!(with(r#"{ when = "now <= 2 psi", stop = "x" },"#), Vec::<String>::new());
    assert_eq!(with(r#"{ when = "not (now > 2 psi)", stop = "x" },"#), Vec::<String>::new());
    assert_eq!(with(r#"{ when = "now <= 3 psi", stop = "x" },"#), expected);
}

#[test]
fn what_is_brought_in_a_loop_holds_after_it_when_there_was_a_round() {
    let with = |least: u32| {
        before_need(&format!(
            r#"{{ repeat = {{ until = "lever", at_most = 3, at_least = {least} }}, step = [{{ do = "x", brings = ["emptied"] }}] }},"#
        ))
    };
    assert_eq!(with(1), Vec::<String>::new());
    assert_eq!(with(0), ["[needs-state] t.toml:6:54: `emptied` may not hold here"]);
}

#[test]
fn every_tank_begins_with_what_the_one_before_left() {
    unsound(
        r#"
{ do = "x", brings = ["off"] },
{ each = "tank", step = [
  { do = "x", needs = ["off"] },
  { do = "x", brings = ["emptied"] },
  { do = "x", needs = ["emptied"], undoes = ["off"] },
] },
"#,
        &["[needs-state] t.toml:7:24: `off` may not hold here"],
    );
}

#[test]
fn a_condition_on_an_older_answer_proves_nothing() {
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 3 }, step = [
  { id = "now", choose = ["a", "b"], ask = "?" },
  { repeat = { until = "lever", at_most = 3, at_least = 0 }, step = [
    { when = "now == 'a'", do = "x", brings = ["emptied"] },
  ] },
  { when = "now == 'a'", do = "x", needs = ["emptied"] },
] },
"#,
        &["[needs-state] t.toml:10:45: `emptied` may not hold here"],
    );
}

#[test]
fn every_word_makes_it_certain() {
    const CHOICE: &str = r#"{ id = "now", choose = ["a", "b", "c"], ask = "?" },
{ when = "now == 'a'", do = "x", brings = ["emptied"] },
{ when = "now == 'b'", do = "x", brings = ["emptied"] },"#;
    held(&format!("{CHOICE}\n{{ when = \"now == 'c'\", do = \"x\", brings = [\"emptied\"] }},"));
    held(&format!("{CHOICE}\n{{ when = \"now == 'c'\", stop = \"x\" }},"));
    not_held(CHOICE);
}

#[test]
fn one_word_leaves_what_another_ends() {
    sound(
        r#"
{ id = "now", choose = ["a", "b", "c"], ask = "?" },
{ when = "now == 'a'", do = "x", brings = ["emptied"] },
{ when = "now == 'b'", do = "x", undoes = ["emptied"] },
{ when = "now == 'a'", do = "x", needs = ["emptied"] },
"#,
    );
}

#[test]
fn an_answer_of_an_earlier_round_proves_nothing_of_this_one() {
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 3 }, step = [
  { id = "seen", write = "text", ask = "?", skip = true, brings = ["emptied"] },
  { when = "known(seen)", do = "x", needs = ["emptied"] },
  { do = "x", undoes = ["emptied"] },
] },
"#,
        &["[needs-state] t.toml:7:46: `emptied` may not hold here"],
    );
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 3 }, step = [
  { id = "now", choose = ["a", "b"], ask = "?" },
  { id = "seen", when = "now == 'a'", write = "text", ask = "?", skip = true },
  { when = "now == 'a'", do = "x", brings = ["emptied"] },
  { when = "known(seen)", do = "x", needs = ["emptied"] },
  { do = "x", undoes = ["emptied"] },
] },
"#,
        &["[needs-state] t.toml:9:46: `emptied` may not hold here"],
    );
}

#[test]
fn every_word_of_a_fact_makes_it_certain() {
    const PLAIN: &str = r#"{ when = "kind == 'plain'", do = "x", brings = ["emptied"] },"#;
    held(&format!("{PLAIN}\n{{ when = \"kind == 'bladder'\", do = \"x\", brings = [\"emptied\"] }},"));
    held(&format!("{PLAIN}\n{{ when = \"kind == 'bladder'\", stop = \"x\" }},"));
    not_held(PLAIN);
    not_held(&format!("{PLAIN}\n{{ when = \"kind == 'plain'\", do = \"x\", brings = [\"off\"] }},"));
}

/// In rounds an answer may be that of an earlier one; behind them it is the one just given.
#[test]
fn an_answer_behind_the_rounds_is_that_of_no_round() {
    for least in [0, 1, 2] {
        sound(&format!(
            r#"
{{ repeat = {{ until = "lever", at_most = 3, at_least = {least} }}, step = [
  {{ repeat = {{ until = "lever", at_most = 2 }}, step = [{{ do = "x" }}] }},
] }},
{{ id = "seen", write = "text", ask = "?", skip = true, brings = ["emptied"] }},
{{ when = "known(seen)", do = "x", needs = ["emptied"] }},
"#
        ));
    }
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 3 }, step = [
  { repeat = { until = "lever", at_most = 2 }, step = [{ do = "x" }] },
  { id = "seen", write = "text", ask = "?", skip = true, brings = ["emptied"] },
  { when = "known(seen)", do = "x", needs = ["emptied"] },
] },
"#,
        &["[needs-state] t.toml:8:46: `emptied` may not hold here"],
    );
}

/// Nobody is in doubt whether something was answered.
#[test]
fn a_check_that_nothing_was_answered_proves_it() {
    held(
        r#"{ id = "seen", write = "text", ask = "?", skip = true },
{ when = "not known(seen)", do = "x", brings = ["emptied"] },
{ check = "not known(seen)", must = true },"#,
    );
}

/// An `each` has a round for every tank, and so brings about what it says.
#[test]
fn what_is_done_at_every_tank_is_brought_about() {
    held(r#"{ each = "tank", brings = ["emptied"], step = [{ do = "x" }] },"#);
    held(r#"{ each = "tank", step = [{ do = "x", brings = ["emptied"] }] },"#);
    not_held(r#"{ when = "lever", each = "tank", brings = ["emptied"], step = [{ do = "x" }] },"#);
    not_held(
        r#"{ do = "x", brings = ["emptied"] },
{ each = "tank", undoes = ["emptied"], step = [{ do = "x" }] },"#,
    );
}
