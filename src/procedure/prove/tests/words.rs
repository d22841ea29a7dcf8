//! Why something may not be known or may not hold, and what to do about it, word for word.

use super::found;

/// The reasons and the remedies of every fault.
fn explained(steps: &str) -> Vec<[String; 2]> {
    let words = |text: &Option<String>| text.clone().unwrap_or_default();
    found(steps).iter().map(|fault| [words(&fault.why), words(&fault.remedy)]).collect()
}

/// Asserts why the one fault of the steps is one.
#[track_caller]
fn because(steps: &str, expected: &str) {
    let why: Vec<String> = explained(steps).into_iter().map(|[why, _]| why).collect();
    assert_eq!(why, [expected], "{steps}");
}

#[track_caller]
fn remedied(steps: &str, expected: &str) {
    let remedies: Vec<String> = explained(steps).into_iter().map(|[_, remedy]| remedy).collect();
    assert_eq!(remedies, [expected], "{steps}");
}

#[test]
fn a_name_that_may_not_be_known_is_shown_with_what_was_asked_for() {
    const SEEN: &str = "\n{ id = \"seen\", write = \"text\", ask = \"?\", skip = true },";
    let air = |when: &str, step: &str| {
        format!("\n{{ id = \"air\", when = \"{when}\", read = \"pressure\", ask = \"?\" }},\n{step}")
    };
    let only = |line: u32, asked: &str| {
        format!("`air` is only answered when {asked} (t.toml:{line}), and this place does not ask for that.")
    };
    because(&air("lever", "{ do = \"{air}\" },"), &only(5, "`lever`"));
    because(
        &air("lever and kind == 'plain'", "{ do = \"{air}\" },"),
        &only(5, "`lever` and `kind == 'plain'`"),
    );
    because(
        &air("lever and kind == 'plain'", "{ when = \"lever\", do = \"{air}\" },"),
        &only(5, "`kind == 'plain'`"),
    );
    because(&air("not lever", "{ do = \"{air}\" },"), &only(5, "`not (lever)`"));
    because(&air("kind != 'plain'", "{ do = \"{air}\" },"), &only(5, "`kind != 'plain'`"));
    because(&air("size < 9 gal", "{ when = \"size < 8 gal\", do = \"{air}\" },"), &only(5, "`size < 9 gal`"));
    because(&format!("{SEEN}{}", air("known(seen)", "{ do = \"{air}\" },")), &only(6, "`known(seen)`"));
    because(
        &format!("{SEEN}{}", air("not known(seen)", "{ do = \"{air}\" },")),
        &only(6, "`not known(seen)`"),
    );
    because(&format!("{SEEN}\n{{ do = \"{{seen}}\" }},"), "`seen` may be skipped (t.toml:5).");
    because(
        "\n{ repeat = { until = \"lever\", at_most = 2, at_least = 0 }, step = [\n\
         { id = \"air\", read = \"pressure\", ask = \"?\" } ] },\n{ do = \"{air}\" },",
        "`air` is answered in a loop that may have no round (t.toml:5).",
    );
}

#[test]
fn a_state_that_may_not_hold_is_shown_with_the_step_that_left_it_open() {
    let unsure = |steps: &str, why: &str| {
        let steps = format!("\n{steps}\n{{ do = \"x\", needs = [\"emptied\"] }},");
        because(&steps, &format!("It means: No water is left. {why}"));
    };
    unsure("", "No step before this one brings it about.");
    unsure(
        "{ do = \"x\", brings = [\"emptied\"] },\n{ do = \"y\", undoes = [\"emptied\"] },",
        "A `do` step ends it (t.toml:6).",
    );
    unsure("{ id = \"do_it\", do = \"x\", undoes = [\"emptied\"] },", "`do_it` ends it (t.toml:5).");
    unsure("{ id = \"jar_2\", do = \"x\", undoes = [\"emptied\"] },", "`jar_2` ends it (t.toml:5).");
    unsure("{ id = \"emptied\", do = \"x\", undoes = [\"emptied\"] },", "`emptied` ends it (t.toml:5).");
    unsure(
        "{ when = \"lever and kind == 'plain'\", do = \"x\", brings = [\"emptied\"] },",
        "A `do` step brings it about only when `lever` and `kind == 'plain'` (t.toml:5).",
    );
    unsure(
        "{ do = \"x\", skip = true, brings = [\"emptied\"] },",
        "A `do` step brings it about, but may be skipped (t.toml:5).",
    );
    unsure(
        "{ check = \"lever\", brings = [\"emptied\"] },",
        "A `check` step brings it about, but may fail (t.toml:5).",
    );
    unsure(
        "{ repeat = { until = \"lever\", at_most = 2 }, brings = [\"emptied\"], step = [{ do = \"x\" }] },",
        "A `repeat` step brings it about, but may run out of rounds (t.toml:5).",
    );
}

#[test]
fn every_use_has_its_remedy() {
    const AIR: &str = "\n{ id = \"air\", when = \"lever\", read = \"pressure\", ask = \"?\" },\n";
    for (step, expected) in [
        ("{ when = \"lever or air > 2 psi\", do = \"x\" },", "write `known(air) and …`"),
        ("{ do = \"{air}\" },", "add `when = \"known(air)\"` to this step, or say it without `air`"),
        (
            "{ check = \"air > 2 psi\", must = true },",
            "add `when = \"known(air)\"` to this step, or write `if known(air) then … else …`",
        ),
        (
            "{ wait = \"if air > 2 psi then 1 min else 2 min\" },",
            "add `when = \"known(air)\"` to this step, or write `if known(air) then … else …`",
        ),
        (
            "{ repeat = { until = \"air > 2 psi\", at_most = 2 }, step = [{ do = \"x\" }] },",
            "write `known(air) and …`",
        ),
    ] {
        remedied(&format!("{AIR}{step}"), expected);
    }
}

#[test]
fn what_may_have_no_value_says_what_becomes_of_it() {
    const HELD: &str = "\n{ id = \"held\", compute = \"water_held(size, 28 psi, 50 psi)\" },\n";
    for (step, expected) in [
        (
            "{ when = \"lever or held > 2 gal\", do = \"x\" },",
            "`water_held` gives no result outside its range, and `held` rests on it. A step whose condition cannot be told is left out.",
        ),
        (
            "{ wait = \"if held > 2 gal then 1 min else 2 min\" },",
            "`water_held` gives no result outside its range, and `held` rests on it. A wait whose length cannot be told is no wait.",
        ),
        (
            "{ repeat = { until = \"held > 2 gal\", at_most = 2 }, step = [{ do = \"x\" }] },",
            "`water_held` gives no result outside its range, and `held` rests on it. Rounds whose end cannot be told go on to the last.",
        ),
        (
            "{ when = \"size / size > 2\", do = \"x\" },",
            "A division by zero has no result. A step whose condition cannot be told is left out.",
        ),
    ] {
        because(&format!("{HELD}{step}"), expected);
    }
}

#[test]
fn a_step_behind_the_end_names_what_ends_the_work() {
    because(
        "\n{ stop = \"x\" },\n{ do = \"y\" },",
        "A `stop` step ends the work before it, whatever was answered (t.toml:5).",
    );
    because(
        "\n{ id = \"end\", stop = \"x\" },\n{ do = \"y\" },",
        "`end` ends the work before it, whatever was answered (t.toml:5).",
    );
}
