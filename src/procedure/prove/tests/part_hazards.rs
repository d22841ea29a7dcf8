//! Hazards of parts: shown in them, met in them, forgotten in them.

use super::parts::{Parts, SOUND, USE, used};
use super::{found_beside, in_short};

const LIVE: &str = r#"{ when = "lever", do = "x", hazards = ["mains"], brings = ["live"] },"#;
const HOT: &str = r#"{ when = "kind == 'plain'", do = "x", hazards = ["heat"], brings = ["hot"] },"#;

/// Each of two hazards counts under its own condition.
#[test]
fn a_message_shown_in_a_part_counts_where_its_state_does() {
    let head = r#"brings = ["live if lever", "hot if kind == 'plain'"]"#;
    let steps = r#"{ use = "it" },
{ when = "lever", do = "x", needs = ["live"] },
{ when = "kind == 'plain'", do = "x", needs = ["hot"] },"#;
    assert_eq!(used(head, &format!("{LIVE}{HOT}"), steps), SOUND);
    let cold = HOT.replace(r#"hazards = ["heat"], "#, "");
    let dead = LIVE.replace(r#"hazards = ["mains"], "#, "");
    assert_eq!(
        used(head, &format!("{LIVE}{cold}"), steps),
        ["[hazard] t.toml:7:48: `hot` has the hazard `heat`, whose message may not have been shown before"]
    );
    assert_eq!(
        used(head, &format!("{dead}{HOT}"), steps),
        ["[hazard] t.toml:6:38: `live` has the hazard `mains`, whose message may not have been shown before"]
    );
}

/// A message that a part takes for granted must have been shown before.
#[test]
fn a_hazard_met_in_a_part_is_shown_before_it() {
    let meets = r#"{ do = "x", needs = ["live"] },"#;
    let outer = r#"{ use = "inner" },"#;
    let head = r#"needs = ["live"]"#;
    let shown = format!("{{ do = \"x\", hazards = [\"mains\"], brings = [\"live\"] }},\n{USE}");
    let unshown = shown.replace(r#"hazards = ["mains"], "#, "");
    for parts in [&[("it", head, meets)][..], &[("it", head, outer), ("inner", head, meets)]] {
        let with = |steps: &str| in_short(&found_beside(&Parts(parts), &format!("\n{steps}")));
        assert_eq!(with(&shown), SOUND);
        assert_eq!(
            with(&unshown),
            [
                "[hazard] t.toml:6:9: this part meets the hazard `mains`, whose message may not have been shown before"
            ]
        );
        let late = format!("{unshown}\n{{ do = \"x\", hazards = [\"mains\"], needs = [\"live\"] }},");
        assert_eq!(
            with(&late),
            [
                "[hazard] t.toml:6:9: this part meets the hazard `mains`, whose message may not have been shown before"
            ]
        );
    }
}

/// What was shown is forgotten with the state.
#[test]
fn a_part_that_ends_a_hazard_ends_that_its_message_was_shown() {
    let head = r#"undoes = ["live"]"#;
    let part = r#"{ do = "x", undoes = ["live"] },"#;
    let with = |head: &str, part: &str, again: &str| {
        let steps = format!(
            "{{ do = \"x\", hazards = [\"mains\"], brings = [\"live\"] }},\n{USE}\n{again}\n{{ do = \"x\", needs = [\"live\"] }},"
        );
        used(head, part, &steps)
    };
    assert_eq!(
        with(head, part, r#"{ do = "x", brings = ["live"] },"#),
        ["[hazard] t.toml:8:22: `live` has the hazard `mains`, whose message may not have been shown before"]
    );
    assert_eq!(with(head, part, r#"{ do = "x", hazards = ["mains"], brings = ["live"] },"#), SOUND);
    let both = r#"undoes = ["live"]
brings = ["live"]"#;
    let back = |hazards: &str| format!("{part}{{ do = \"x\", {hazards}brings = [\"live\"] }},");
    assert_eq!(
        with(both, &back(""), r#"{ do = "x" },"#),
        ["[hazard] t.toml:8:22: `live` has the hazard `mains`, whose message may not have been shown before"]
    );
    assert_eq!(with(both, &back("hazards = [\"mains\"], "), r#"{ do = "x" },"#), SOUND);
    assert_eq!(with("brings = [\"off\"]", "{ do = \"x\", brings = [\"off\"] },", r#"{ do = "x" },"#), SOUND);
}
