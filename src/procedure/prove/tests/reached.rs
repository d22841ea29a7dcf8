//! Steps that are never come to, hazards that can be skipped.

use super::{faults, sound, unsound};

#[test]
fn nothing_comes_after_a_certain_stop() {
    unsound(
        r#"
{ stop = "x" },
{ do = "{2 psi}" },
{ do = "y" },
"#,
        &["[unreachable] t.toml:6:1: this step can never be reached"],
    );
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 2 }, step = [{ do = "x" }, { stop = "x" }] },
{ do = "y" },
"#,
        &["[unreachable] t.toml:6:1: this step can never be reached"],
    );
    sound(
        r#"
{ when = "lever", stop = "x" },
{ repeat = { until = "lever", at_most = 2, at_least = 0 }, step = [{ stop = "x" }] },
{ when = "lever", each = "tank", step = [{ stop = "x" }] },
{ do = "y" },
{ stop = "z" },
"#,
    );
}

/// A loop that ends a state is walked twice, and told of once.
#[test]
fn a_step_that_is_never_reached_in_a_loop_is_shown_once() {
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 2 }, step = [
  { do = "x", undoes = ["emptied"] },
  { stop = "x" },
  { do = "y" },
] },
"#,
        &["[unreachable] t.toml:8:3: this step can never be reached"],
    );
}

#[test]
fn a_stop_in_a_loop_counts_for_what_comes_after() {
    sound(
        r#"
{ id = "air", when = "lever", read = "pressure", ask = "?" },
{ when = "not lever", repeat = { until = "lever", at_most = 2 }, step = [{ stop = "x" }] },
{ do = "{air}" },
"#,
    );
}

#[test]
fn a_hazard_cannot_be_skipped() {
    unsound(
        r#"
{ do = "x", hazards = ["mains"], skip = true },
{ do = "x", hazards = ["mains"] },
{ do = "x", skip = true },
"#,
        &["[hazard-skippable] t.toml:5:13: a step with a hazard can be skipped"],
    );
}

#[test]
fn names_made_by_the_program_are_not_those_of_the_file() {
    unsound(
        r#"
{ id = "do_2", write = "text", ask = "?" },
{ do = "x" },
{ id = "air_at", read = "temperature", ask = "?" },
{ id = "air", read = "pressure", ask = "?", at_from_clock = true },
"#,
        &[
            "[same-id] t.toml:6:1: the name `do_2` stands for two things",
            "[same-id] t.toml:8:1: the name `air_at` stands for two things",
        ],
    );
}

/// The faults of steps about a hazard, each with its message where a `!` stands.
fn hazards(steps: &str) -> Vec<String> {
    faults(&steps.replace('!', "hazards = [\"mains\"], "))
}

#[test]
fn a_message_is_shown_before_its_hazard_is_met() {
    const BEFORE: &str = "whose message may not have been shown before";
    let at = |places: &[(u32, u32)]| -> Vec<String> {
        let place = |(line, column): &(u32, u32)| {
            format!("[hazard] t.toml:{line}:{column}: `live` has the hazard `mains`, {BEFORE}")
        };
        places.iter().map(place).collect()
    };
    let brought = "\n{ do = \"x\", brings = [\"live\"] },";
    let with = |steps: &str| hazards(&format!("{brought}\n{steps}"));
    let needs = r#"{ do = "x", needs = ["live"] },"#;
    assert_eq!(with(needs), at(&[(6, 22)]));
    assert_eq!(with(&needs.replacen("needs", "!needs", 1)), at(&[]));
    // Shown once it is known, until the state goes.
    assert_eq!(with(&format!("{}\n{needs}", needs.replacen("needs", "!needs", 1))), at(&[]));
    assert_eq!(with(&format!("{needs}\n{}", needs.replacen("needs", "!needs", 1))), at(&[(6, 22)]));
    assert_eq!(
        with(&format!("{{ when = \"lever\", do = \"x\", !needs = [\"live\"] }},\n{needs}")),
        at(&[(7, 22)])
    );
    let again = r#"{ do = "x", undoes = ["live"] },
{ do = "x", brings = ["live"] },"#;
    let first = r#"{ do = "x", !brings = ["live"] },"#;
    assert_eq!(hazards(&format!("\n{first}\n{needs}")), at(&[]));
    assert_eq!(hazards(&format!("\n{first}\n{again}\n{needs}")), at(&[(8, 22)]));
    // One that ends the state does not show what it can do.
    assert_eq!(with(&format!("{{ do = \"x\", !undoes = [\"live\"] }},{brought}\n{needs}")), at(&[(8, 22)]));
}

/// In a round the message may have been forgotten with the state of the round before.
#[test]
fn a_message_shown_before_the_rounds_may_be_forgotten_in_one() {
    let with = |last: &str| {
        hazards(&format!(
            r#"
{{ do = "x", !brings = ["live"] }},
{{ repeat = {{ until = "lever", at_most = 2 }}, step = [
  {{ do = "x", needs = ["live"] }},
  {{ do = "x", undoes = ["live"] }},
  {{ do = "x", {last}brings = ["live"] }},
] }},
"#
        ))
    };
    assert_eq!(with("!"), Vec::<String>::new());
    assert_eq!(
        with(""),
        ["[hazard] t.toml:7:24: `live` has the hazard `mains`, whose message may not have been shown before"]
    );
}

/// Where rounds that certainly end the work may be none, all is as it was before them.
#[test]
fn behind_rounds_that_end_the_work_all_is_as_it_was() {
    let with = |before: &str, body: &str| {
        faults(&format!(
            r#"
{before}
{{ repeat = {{ until = "lever", at_most = 2, at_least = 0 }}, step = [{body}, {{ stop = "x" }}] }},
{{ do = "y", needs = ["emptied"] }},
"#
        ))
    };
    let (brings, undoes) = (r#"{ do = "x", brings = ["emptied"] }"#, r#"{ do = "x", undoes = ["emptied"] }"#);
    assert_eq!(with(&format!("{brings},"), undoes), Vec::<String>::new());
    assert_eq!(with("", brings), ["[needs-state] t.toml:7:22: `emptied` may not hold here"]);
}
