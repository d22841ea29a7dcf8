//! Large procedures: nothing is listed twice, nothing grows faster than the file.

use super::{faults, found, sound};

#[test]
fn ten_thousand_steps_with_conditions() {
    let step = |n: usize| {
        format!(
            "{{ id = \"a{n}\", when = \"lever\", read = \"pressure\", ask = \"?\", needs = [\"off\"] }},\n\
             {{ when = \"lever\", do = \"{{a{n}}}\", undoes = [\"emptied\"] }},\n"
        )
    };
    let steps: String = (0..5_000).map(step).collect();
    sound(&format!("{{ do = \"x\", brings = [\"off\"] }},\n{steps}"));
}

#[test]
fn many_conditions_on_one_state() {
    let step = |n: usize| {
        format!(
            "{{ id = \"c{n}\", choose = [\"a\", \"b\"], ask = \"?\" }},\n\
             {{ when = \"c{n} == 'a'\", do = \"x\", brings = [\"off\"] }},\n\
             {{ when = \"c{n} == 'b'\", do = \"x\", undoes = [\"off\"] }},\n"
        )
    };
    let steps: String = (0..3_000).map(step).collect();
    let found = faults(&format!("\n{steps}{{ do = \"x\", needs = [\"off\"] }},"));
    assert_eq!(found, ["[needs-state] t.toml:9005:22: `off` may not hold here"]);
}

#[test]
fn loops_as_deep_as_they_go() {
    let inner = "{ do = \"x\", undoes = [\"emptied\"], brings = [\"emptied\"] },".repeat(500);
    let steps = (0..4).fold(inner, |inner, _| {
        format!("{{ repeat = {{ until = \"lever\", at_most = 2 }}, step = [{inner}] }},")
    });
    sound(&format!("{steps} {{ do = \"x\", needs = [\"emptied\"] }},"));
}

#[test]
fn a_file_of_faults_is_shown_in_part() {
    let steps = "{ do = \"x\", needs = [\"off\"] },".repeat(10_000);
    let found = found(&steps);
    assert_eq!((found.len(), found[0].also.len()), (1, 99));
}
