//! Which conditions are the same, which are opposites, and which are neither.

use super::faults;

/// What is said of a reading that is asked for under one condition and shown under another.
fn shown(asked: &str, shown: &str) -> Vec<String> {
    faults(&format!(
        r#"
{{ id = "one", read = "pressure", ask = "?" }},
{{ id = "two", read = "number", ask = "?" }},
{{ id = "air", when = "{asked}", read = "pressure", ask = "?" }},
{{ when = "{shown}", do = "{{air}}" }},
"#
    ))
}

/// What is said of a reading that is asked for under one condition and shown after a stop under another.
fn shown_after_stop(asked: &str, stopped: &str) -> Vec<String> {
    faults(&format!(
        r#"
{{ id = "one", read = "pressure", ask = "?" }},
{{ id = "two", read = "number", ask = "?" }},
{{ id = "air", when = "{asked}", read = "pressure", ask = "?" }},
{{ when = "{stopped}", stop = "x" }},
{{ do = "{{air}}" }},
"#
    ))
}

/// Comparisons, each with the one that holds where it does not.
const OPPOSITES: [(&str, &str); 3] = [("==", "!="), ("<", ">="), ("<=", ">")];

#[test]
fn each_comparison_has_one_opposite() {
    let all = OPPOSITES.iter().flat_map(|(a, b)| [*a, *b]);
    for sign in all.clone() {
        for other in all.clone() {
            let [asked, of_other] = [sign, other].map(|sign| format!("two {sign} 2"));
            let opposite = OPPOSITES.contains(&(sign, other)) || OPPOSITES.contains(&(other, sign));
            assert_eq!(shown(&asked, &of_other).is_empty(), sign == other, "{sign} and {other}");
            assert_eq!(shown_after_stop(&asked, &of_other).is_empty(), opposite, "{sign} after {other}");
        }
    }
}

/// Each row holds conditions of which no two are the same.
const APART: &[&[&str]] = &[
    &["one > 2 psi", "one > 3 psi", "one > 2 bar", "one > -2 psi", "2 psi > one"],
    &[
        "size + 2 gal > 3 gal",
        "size - 2 gal > 3 gal",
        "size * 2 > 3 gal",
        "size / 2 > 3 gal",
        "2 * size > 3 gal",
    ],
    &["kind == 'plain'", "kind == 'bladder'"],
    &["lever == yes", "lever == no", "lever"],
    &["known(one)", "lever", "known(one) == yes"],
    &["(if lever then one else 2 psi) > 3 psi", "(if lever then 2 psi else one) > 3 psi"],
    &["min(one, 2 psi) > 1 psi", "max(one, 2 psi) > 1 psi", "min(2 psi, one) > 1 psi"],
    &["(lever and kind == 'plain') == yes", "(lever or kind == 'plain') == yes", "(not lever) == yes"],
];

#[test]
fn only_what_is_written_alike_is_alike() {
    for row in APART {
        for asked in *row {
            for other in *row {
                assert_eq!(shown(asked, other).is_empty(), asked == other, "{asked} and {other}");
            }
        }
    }
}
