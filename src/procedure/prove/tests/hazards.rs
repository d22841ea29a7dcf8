//! Messages that come before the act, and some that may not.

use super::{faults, sound, unsound};

const ACT: &str = r#"{ do = "act", needs = ["power"] },"#;

/// The faults of steps that bring `power` about and are followed, on the next line, by one that needs it.
fn before_act(steps: &str) -> Vec<String> {
    faults(&format!("\n{steps}\n{ACT}\n"))
}

#[track_caller]
fn shown(steps: &str) {
    assert_eq!(before_act(steps), Vec::<String>::new(), "{steps}");
}

#[track_caller]
fn not_shown(steps: &str) {
    let line = 5 + steps.lines().count();
    let expected = format!(
        "[hazard] t.toml:{line}:24: `power` has the hazard `mains`, whose message may not have been shown before"
    );
    assert_eq!(before_act(steps), [expected], "{steps}");
}

const ON: &str = r#"{ do = "on", brings = ["power"] },"#;

#[test]
fn the_message_comes_before_the_act_on_every_path() {
    not_shown(ON);
    shown(r#"{ do = "on", brings = ["power"], hazards = ["mains"] },"#);
    not_shown(r#"{ do = "on", brings = ["power"], hazards = ["cords"] },"#);
    for warned in [
        r#"{ id = "p", read = "pressure", ask = "?", hazards = ["mains"] },"#,
        r#"{ id = "c", choose = ["a", "b"], ask = "?", hazards = ["cords", "mains"] },"#,
        r#"{ id = "n", compute = "1", hazards = ["mains"] },"#,
        r#"{ id = "k", check = "lever", hazards = ["mains"] },"#,
        r#"{ repeat = { until = "lever", at_most = 2 }, hazards = ["mains"], step = [{ do = "x" }] },"#,
    ] {
        shown(&format!("{warned}\n{ON}"));
    }
    not_shown(&format!(r#"{{ when = "lever", do = "x", hazards = ["mains"] }},{}{ON}"#, '\n'));
    shown(&format!(
        r#"{{ when = "lever", do = "x", hazards = ["mains"] }},{}{{ when = "not lever", do = "y", hazards = ["mains"] }},{}{ON}"#,
        '\n', '\n'
    ));
}

#[test]
fn the_message_comes_anew_when_the_state_was_undone() {
    let on = r#"{ do = "on", brings = ["power"], hazards = ["mains"] },"#;
    not_shown(&format!("{on}\n{}\n{ON}", r#"{ do = "off", undoes = ["power"] },"#));
    not_shown(&format!("{on}\n{}\n{ON}", r#"{ do = "off", undoes = ["open"] },"#));
    not_shown(&format!("{on}\n{}\n{ON}", r#"{ when = "lever", do = "off", undoes = ["open"] },"#));
    shown(&format!("{on}\n{}", r#"{ do = "off", undoes = ["emptied"] },"#));
}

#[test]
fn each_round_has_its_message() {
    let round = |hazards: &str| {
        format!(
            r#"
{{ repeat = {{ until = "lever", at_most = 3 }}, step = [
{{ do = "on", brings = ["power"]{hazards} }},
{{ do = "act", needs = ["power"] }},
{{ do = "off", undoes = ["power"] }},
] }},
"#
        )
    };
    sound(&round(r#", hazards = ["mains"]"#));
    let missed =
        "[hazard] t.toml:7:24: `power` has the hazard `mains`, whose message may not have been shown before";
    unsound(&round(""), &[missed]);
}

#[test]
fn every_hazard_of_a_state_is_named() {
    unsound(
        r#"
{ do = "open it", brings = ["open"], hazards = ["mains"] },
{ do = "act", needs = ["open"] },
"#,
        &[
            "[hazard] t.toml:6:24: `open` has the hazard `cords`, whose message may not have been shown before",
        ],
    );
}
