//! Names that are known, and names that may not be.

use super::{faults, sound, unsound};

const READ: &str = r#"
{ id = "air", when = "kind == 'bladder'", read = "pressure", ask = "?" },"#;

/// The faults of a step after a reading that only a bladder tank asks for.
fn after_read(step: &str) -> Vec<String> {
    faults(&format!("{READ}\n{step}"))
}

/// Asserts that `air` is not known where `|` stands before it.
#[track_caller]
fn unknown_at_the_mark(step: &str) {
    let column = step.find('|').map_or(0, |at| at + 1);
    let expected = format!("[maybe-unknown] t.toml:6:{column}: `air` may not be known here");
    assert_eq!(after_read(&step.replacen('|', "", 1)), [expected], "{step}");
}

#[test]
fn a_reading_that_may_not_be_asked_for_is_not_known() {
    let places = [
        r#"{ do = "Set {|air}." },"#,
        r#"{ do = "x", why = "{|air}" },"#,
        r#"{ check = "|air > 2 psi", must = true },"#,
        r#"{ id = "x", read = "pressure", ask = "?", between = ["0 psi", "|air"] },"#,
        r#"{ choose = ["a", "b"], ask = "{|air}" },"#,
        r#"{ stop = "{|air}" },"#,
    ];
    places.into_iter().for_each(unknown_at_the_mark);
}

#[test]
fn asking_first_makes_it_known() {
    let sound = [
        r#"{ when = "known(air)", do = "Set {air}." },"#,
        r#"{ when = "lever and known(air)", do = "Set {air}." },"#,
        r#"{ when = "not (not known(air) or lever)", do = "Set {air}." },"#,
        r#"{ when = "known(air) and air > 2 psi", do = "Set {air}." },"#,
        r#"{ check = "known(air) and air > 2 psi" },"#,
        r#"{ check = "not known(air) or air > 2 psi" },"#,
        r#"{ id = "x", compute = "if known(air) then air else 0 psi" },"#,
        r#"{ id = "x", compute = "if not known(air) then 0 psi else air" },"#,
        r#"{ id = "x", compute = "if lever and known(air) then air else 0 psi" },"#,
        r#"{ do = "{if known(air) then air else 0 psi}" },"#,
    ];
    for step in sound {
        assert_eq!(after_read(step), Vec::<String>::new(), "{step}");
    }
}

#[test]
fn what_both_ways_prove_is_known() {
    let sound = [
        r#"{ when = "(known(air) and lever) or (known(air) and size > 9 gal)", do = "{air}" },"#,
        r#"{ when = "not ((not known(air) or lever) and (not known(air) or size > 9 gal))", do = "{air}" },"#,
        r#"{ when = "if lever then known(air) else known(air)", do = "{air}" },"#,
        r#"{ when = "if known(air) then lever else no", do = "{2 psi}" },"#,
        r#"{ when = "known(air) == yes and known(air)", do = "{air}" },"#,
    ];
    for step in sound {
        assert_eq!(after_read(step), Vec::<String>::new(), "{step}");
    }
    let unsound = [
        r#"{ when = "(known(air) and lever) or size > 9 gal", do = "{|air}" },"#,
        r#"{ when = "lever or (known(air) and size > 9 gal)", do = "{|air}" },"#,
        r#"{ when = "if lever then known(air) else size > 9 gal", do = "{|air}" },"#,
        r#"{ when = "if known(air) then lever else size > 9 gal", do = "{|air}" },"#,
        r#"{ when = "not (known(air) and lever)", do = "{|air}" },"#,
    ];
    unsound.into_iter().for_each(unknown_at_the_mark);
}

/// What a condition certainly looks at was answered where it holds; nothing follows where it does not.
#[test]
fn a_condition_on_what_nobody_answered_does_not_hold() {
    let sound = [
        r#"{ when = "air > 2 psi", do = "{air}" },"#,
        r#"{ when = "lever and not (air > 2 psi)", do = "{air}" },"#,
        r#"{ when = "air > 2 psi or air < 1 psi", do = "{air}" },"#,
    ];
    for step in sound {
        assert_eq!(after_read(step), Vec::<String>::new(), "{step}");
    }
    let unsound = [
        r#"{ when = "lever or |air > 2 psi", do = "x" },"#,
        r#"{ when = "air > 2 psi", stop = "x" }, { do = "{|air}" },"#,
        r#"{ when = "not (air > 2 psi)", stop = "x" }, { do = "{|air}" },"#,
    ];
    unsound.into_iter().for_each(unknown_at_the_mark);
}

#[test]
fn asking_in_a_way_that_proves_nothing_does_not() {
    let unsound = [
        r#"{ when = "known(air) or lever", do = "{|air}" },"#,
        r#"{ when = "not known(air)", do = "{|air}" },"#,
        r#"{ check = "lever or |air > 2 psi" },"#,
        r#"{ check = "|air > 2 psi and known(air)" },"#,
        r#"{ do = "{if known(air) then 0 psi else |air}" },"#,
        r#"{ id = "x", compute = "if known(air) or lever then |air else 0 psi" },"#,
    ];
    unsound.into_iter().for_each(unknown_at_the_mark);
}

#[test]
fn the_same_condition_makes_it_known() {
    let sound = [
        r#"{ when = "kind == 'bladder'", do = "{air}" },"#,
        r#"{ when = "kind   ==  'bladder'", do = "{air}" },"#,
        r#"{ when = "lever and kind == 'bladder'", do = "{air}" },"#,
        r#"{ when = "not (kind != 'bladder')", do = "{air}" },"#,
        r#"{ when = "not (lever or kind != 'bladder')", do = "{air}" },"#,
    ];
    for step in sound {
        assert_eq!(after_read(step), Vec::<String>::new(), "{step}");
    }
    let unsound = [
        r#"{ when = "kind == 'plain'", do = "{|air}" },"#,
        r#"{ when = "kind == 'bladder' or lever", do = "{|air}" },"#,
        r#"{ when = "kind != 'bladder'", do = "{|air}" },"#,
    ];
    unsound.into_iter().for_each(unknown_at_the_mark);
}

#[test]
fn every_condition_of_the_reading_must_be_asked_for() {
    let read = r#"
{ id = "air", when = "lever and kind == 'bladder'", read = "pressure", ask = "?" },
{ when = "kind == 'bladder' and lever", do = "{air}" },
"#;
    sound(read);
    unsound(
        r#"
{ id = "air", when = "lever and kind == 'bladder'", read = "pressure", ask = "?" },
{ when = "kind == 'bladder'", do = "{air}" },
"#,
        &["[maybe-unknown] t.toml:6:38: `air` may not be known here"],
    );
}

#[test]
fn a_known_answer_proves_what_was_asked_for_with_it() {
    sound(
        r#"
{ id = "air", when = "kind == 'bladder'", read = "pressure", ask = "?", skip = true },
{ id = "warmth", when = "kind == 'bladder'", read = "temperature", ask = "?" },
{ when = "known(air)", do = "{warmth}" },
"#,
    );
}

#[test]
fn what_may_be_skipped_is_not_known() {
    unsound(
        r#"
{ id = "air", read = "pressure", ask = "?", skip = true },
{ do = "{air}" },
{ when = "known(air)", do = "{air}" },
"#,
        &["[maybe-unknown] t.toml:6:10: `air` may not be known here"],
    );
}

#[test]
fn the_time_of_a_reading_is_known_with_it() {
    unsound(
        r#"
{ id = "air", when = "lever", read = "pressure", ask = "?", at_from_clock = true },
{ when = "lever", do = "{air_at}" },
{ do = "{air_at}" },
"#,
        &["[maybe-unknown] t.toml:7:10: `air_at` may not be known here"],
    );
}

#[test]
fn a_stop_leaves_only_what_it_did_not_ask_for() {
    let with =
        |when: &str| after_read(&format!("{{ when = \"{when}\", stop = \"x\" }},\n{{ do = \"{{air}}\" }},"));
    let unknown = ["[maybe-unknown] t.toml:7:10: `air` may not be known here"];
    assert_eq!(with("not known(air)"), Vec::<String>::new());
    assert_eq!(with("kind != 'bladder'"), Vec::<String>::new());
    assert_eq!(with("lever or not known(air)"), Vec::<String>::new());
    assert_eq!(with("lever and not known(air)"), unknown);
    assert_eq!(with("known(air)"), unknown);
    assert_eq!(with("kind == 'bladder'"), unknown);
}

#[test]
fn a_check_that_must_hold_proves_what_is_certain() {
    let with = |check: &str| {
        after_read(&format!("{{ check = \"{check}\", must = true }},\n{{ do = \"{{air}}\" }},"))
    };
    let unknown = ["[maybe-unknown] t.toml:7:10: `air` may not be known here"];
    assert_eq!(with("known(air)"), Vec::<String>::new());
    assert_eq!(with("kind == 'bladder'"), Vec::<String>::new());
    assert_eq!(with("known(air) or lever"), unknown);
    assert_eq!(with("not known(air)"), unknown);
    // Without a result it can't tell, and the run goes on.
    assert_eq!(with("1 / (size / size) > 0 and known(air)"), unknown);
}

#[test]
fn a_formula_or_a_division_in_a_condition_itself_has_no_name_to_ask_for() {
    unsound(
        r#"
{ when = "water_held(size, 28 psi, 50 psi) > 2 gal", do = "x" },
{ when = "size / size > 2", do = "x" },
{ when = "size / 2 > 3 gal", do = "x" },
"#,
        &[
            "[maybe-unknown] t.toml:5:11: this may have no value",
            "[maybe-unknown] t.toml:6:16: this may have no value",
        ],
    );
}

#[test]
fn a_loop_with_a_round_answers_and_one_without_does_not() {
    let with = |least: u32| {
        faults(&format!(
            r#"
{{ repeat = {{ until = "lever", at_most = 3, at_least = {least} }}, step = [
  {{ id = "air", read = "pressure", ask = "?" }},
] }},
{{ do = "{{air}}" }},
"#
        ))
    };
    assert_eq!(with(1), Vec::<String>::new());
    assert_eq!(with(0), ["[maybe-unknown] t.toml:8:10: `air` may not be known here"]);
}

#[test]
fn what_a_loop_asks_for_holds_inside_it() {
    sound(
        r#"
{ id = "air", when = "lever", read = "pressure", ask = "?" },
{ when = "lever", repeat = { until = "now > air", at_most = 3 }, step = [
  { id = "now", read = "pressure", ask = "{air}" },
] },
{ when = "lever", do = "{now}" },
"#,
    );
    unsound(
        r#"
{ when = "lever", repeat = { until = "now > 2 psi", at_most = 3 }, step = [
  { id = "now", read = "pressure", ask = "?" },
] },
{ do = "{now}" },
"#,
        &["[maybe-unknown] t.toml:8:10: `now` may not be known here"],
    );
}

#[test]
fn what_one_tank_asked_for_says_nothing_of_the_others() {
    unsound(
        r#"
{ each = "tank", step = [
  { id = "big", choose = ["yes", "no"], ask = "?" },
  { id = "air", when = "big == 'yes'", read = "pressure", ask = "?" },
  { when = "big == 'yes'", do = "{air}" },
  { id = "warmth", read = "temperature", ask = "?" },
] },
{ when = "last(big) == 'yes'", do = "{min(air)}" },
{ when = "known(air)", do = "{min(air)} {min(warmth)}" },
"#,
        &["[maybe-unknown] t.toml:11:43: `air` may not be known here"],
    );
}

#[test]
fn a_fact_about_the_tank_is_another_for_each_tank() {
    unsound(
        r#"
{ id = "air", when = "size > 9 gal", read = "pressure", ask = "?" },
{ when = "size > 9 gal", do = "{air}" },
{ each = "tank", step = [{ when = "size > 9 gal", do = "{air}" }] },
"#,
        &["[maybe-unknown] t.toml:7:58: `air` may not be known here"],
    );
}

#[test]
fn a_value_may_be_shown_by_its_own_name() {
    sound(
        r#"
{ id = "air", read = "pressure", ask = "?" },
{ id = "good", check = "air > 2 psi", pass = "{air}" },
{ id = "twice", compute = "air - 1 psi", say = "{twice}" },
{ when = "good", do = "x" },
"#,
    );
}

#[test]
fn two_tanks_together_do_not_make_what_neither_had() {
    unsound(
        r#"
{ each = "tank", step = [
  { id = "left", write = "text", ask = "?", skip = true },
  { id = "right", write = "text", ask = "?", skip = true },
  { id = "air", when = "known(left) and known(right)", read = "pressure", ask = "?" },
] },
{ when = "known(left) and known(right)", do = "{min(air)}" },
"#,
        &["[maybe-unknown] t.toml:10:53: `air` may not be known here"],
    );
}

#[test]
fn a_loop_may_end_by_a_check_inside_it() {
    sound(
        r#"
{ repeat = { until = "good", at_most = 3 }, step = [
  { id = "air", read = "pressure", ask = "?" },
  { id = "good", check = "air > 2 psi" },
  { id = "more", when = "not good", read = "pressure", ask = "?", between = ["0 psi", "air"] },
] },
{ when = "good", do = "x" },
"#,
    );
}
