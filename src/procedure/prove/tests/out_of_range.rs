//! Formulas that give no result outside their range.

use super::faults;

#[test]
fn a_formula_out_of_its_range_must_be_asked_for_where_it_decides() {
    const HELD: &str = r#"
{ id = "held", compute = "water_held(size, 28 psi, 50 psi)", say = "{held}" },"#;
    let after = |step: &str| faults(&format!("{HELD}\n{step}"));
    let decides = [
        (r#"{ wait = "if held > 2 gal then 1 min else 2 min" },"#, 14),
        (r#"{ repeat = { until = "held > 2 gal", at_most = 2 }, step = [{ do = "x" }] },"#, 23),
        (r#"{ when = "lever or held > 2 gal", do = "x" },"#, 20),
    ];
    for (step, column) in decides {
        let expected = format!("[maybe-unknown] t.toml:6:{column}: `held` may have no value here");
        assert_eq!(after(step), [expected], "{step}");
    }
    let only_tells = [
        r#"{ do = "{held}" },"#,
        r#"{ check = "held > 2 gal" },"#,
        r#"{ when = "held > 2 gal", do = "x" },"#,
        r#"{ id = "x", compute = "held / 2" }, { when = "x > 2 gal", do = "x" },"#,
        r#"{ id = "x", compute = "held / 2" },"#,
        r#"{ id = "x", read = "volume", ask = "?", between = ["0 gal", "held"] },"#,
        r#"{ when = "known(held) and held > 2 gal", do = "x" },"#,
        r#"{ check = "known(held)", must = true }, { when = "held > 2 gal", do = "x" },"#,
        r#"{ when = "not known(held)", stop = "x" }, { when = "held > 2 gal", do = "x" },"#,
    ];
    for step in only_tells {
        assert_eq!(after(step), Vec::<String>::new(), "{step}");
    }
}
