//! Every spelling that is taken, and every one that is refused, with its reason.

use tankhand::quantity::{Family, Typed, Unreadable, read_number, read_pair};

use crate::golden;

/// What people write, by what is asked for.
const WRITTEN: &[(Family, &[&str])] = &[
    (
        Family::Pressure,
        &[
            "38",
            "38 psi",
            "38psi",
            "38 PSI",
            "38 psi.",
            "38 psig",
            "38\u{a0}psi",
            "38.5",
            "38,5",
            "−5 psi",
            "–5 psi",
            "-5",
            "+5",
            "40 lbs",
            "40 pounds",
            "2,6 bar",
            "2.6 BAR",
            "262kPa",
            "0.26 MPa",
            "2.7 kg/cm2",
            "½ psi",
            "1/2 psi",
            "33 1/2",
            "33½",
            "2.5 1/2",
            "0,125 bar",
            "38 psia",
            "3.6 bar abs",
            "362 kPa(a)",
            "30/50",
            "40-60 psi",
            "38 40",
            "38 to 40 psi",
            "1,800",
            "ten",
            "about 38",
            "--5",
            "5 gal",
            "38 psj",
            "1:05",
            "",
            "1.2.3",
            "9999999999999",
            "3/2",
            "38 psi 2",
        ],
    ),
    (
        Family::Power,
        &["1/2 hp", "3/4hp", "¾ hp", "1 1/2 hp", "1-1/2 HP", "1½ horsepower", ".5 hp", "0.75 kW", "550 W"],
    ),
    (
        Family::Time,
        &[
            "1:26",
            "1:26:30",
            "100:05",
            "1000:05",
            ":05",
            "1:65",
            "86",
            "86 s",
            "86 sec",
            "1 min 26",
            "1 min 26 s",
            "1m 26s",
            "1' 26\"",
            "1'26\"",
            "1 1/2 min",
            "1½ h",
            "1 h 30",
            "1 h 30 min",
            "1 h 90 min",
            "2 days",
            "1 min 26 h",
            "1:26 min",
        ],
    ),
    (
        Family::Length,
        &[
            "6 ft 2 in",
            "6 ft 2",
            "6'2\"",
            "6' 2 1/2\"",
            "50.5\"",
            "50 1/2 in",
            "1-1/4 in",
            "⅝″",
            "1,20 m",
            "120 cm",
            "1.200,5 mm",
            "1,200.5 mm",
            "1,234,567 mm",
            "1234,567 mm",
            "12345,678 mm",
            "1234,567,890 mm",
            "1,23,456 mm",
            "1,2,3 mm",
            "1.2,5 mm",
            "2.5 1/2 in",
            "1.234.567,8 mm",
            "12.34,5 mm",
            "1234.567,8 mm",
            "1.234,5.6 mm",
            "1\u{202f}200 mm",
            "1 200 mm",
            "6 ft 11.9 in",
            "6 ft 12 in",
            "6 ft 14 in",
            "6 ft 0.5 ft",
            "2 in 6 ft",
            "5 ft/2 in",
        ],
    ),
    (
        Family::Volume,
        &[
            "44 gal",
            "44 Gallons",
            "1,000 gal",
            "1,000.0 gal",
            "10 UK gallons",
            "10 imp gal",
            "2 cups",
            "1/2 cup",
            "12 fl oz",
            "12 oz",
            "3 qt",
            "200 L",
            "200 litres",
            "2 ft3",
            "2 ft³",
            "0.2 m³",
            "5 gal 2",
            "5 gal 2 qt",
            "5 gal/min",
        ],
    ),
    (Family::Temperature, &["68", "68°", "68 deg", "68 degrees", "68°F", "68 deg F", "20 C", "-5 °C"]),
    (Family::Flow, &["8 gpm", "8 gal/min", "30 L/min", "2 UK gal/min"]),
    (Family::Mass, &["40 lb", "2 lb 3", "2 lb 3 oz", "18,5 kg"]),
    (
        Family::Number,
        &[
            "8 %",
            "1/4",
            "3/16",
            "7/12",
            "12",
            "5.",
            "5,",
            ",5",
            "%",
            "1000000000000",
            "1000000000001",
            "-1000000000001",
            "5 m",
        ],
    ),
];

/// What people write where two numbers are asked for.
const PAIRS: &[&str] = &[
    "30/50",
    "30/50 psi",
    "30 psi/50 psi",
    "30-50",
    "30 – 50 psi",
    "30 to 50",
    "30 and 50",
    "2,1/3,4 bar",
    "-1/2 bar",
    "30",
    "30/",
    "a/b",
    "30/50 gal",
    "",
];

fn shown(read: Result<Typed, Unreadable>) -> String {
    match read {
        Ok(Typed { number, unit }) => format!("{number} {}", unit.map_or("(no unit)", |unit| unit.symbol)),
        Err(refused) => format!("refused: {refused}"),
    }
}

#[test]
fn spellings_are_taken_or_refused_with_the_reason() {
    let mut table = String::new();
    for (family, written) in WRITTEN {
        table.push_str(&format!("{family:?}\n"));
        for text in *written {
            let text_shown = text.replace('\u{a0}', "[no-break space]").replace('\u{202f}', "[narrow space]");
            table.push_str(&format!("  {text_shown:24} {}\n", shown(read_number(text, *family))));
        }
    }
    table.push_str("A pair of pressures\n");
    for text in PAIRS {
        let pair = read_pair(text, Family::Pressure);
        let pair = pair.map(|pair| pair.map(|typed| shown(Ok(typed))).join(", "));
        table.push_str(&format!(
            "  {text:24} {}\n",
            pair.unwrap_or_else(|refused| format!("refused: {refused}"))
        ));
    }
    golden::holds("tests/quantities/spellings.txt", &table);
}

mod properties {
    use proptest::prelude::*;
    use tankhand::quantity::{Family, read_number, read_pair};

    fn number(text: &str, family: Family) -> f64 {
        let typed = read_number(text, family).unwrap_or_else(|refused| panic!("`{text}`: {refused}"));
        typed.number * typed.unit.map_or(1.0, |unit| unit.size)
    }

    proptest! {
        /// However a number is written, it is the same number.
        #[test]
        fn writings_of_one_number_agree(whole in 0_u32..1000, over in 1_u32..8, minutes in 0_u32..600, seconds in 0_u32..60) {
            let value = f64::from(whole) + f64::from(over) / 8.0;
            for text in [
                format!("{value}"),
                format!("{value}").replace('.', ",") + "0000",
                format!("{whole} {over}/8"),
                format!("{whole}-{over}/8"),
                format!("{whole}\u{a0}{over}/8"),
            ] {
                prop_assert_eq!(number(&text, Family::Number), value, "{}", text);
                prop_assert_eq!(number(&format!("−{text}"), Family::Number), -value, "{}", text);
            }
            let span = f64::from(minutes * 60 + seconds);
            for text in [
                format!("{minutes}:{seconds:02}"),
                format!("{minutes} min {seconds}"),
                format!("{minutes}min {seconds}s"),
                format!("{minutes}' {seconds}\""),
                format!("{span} s"),
            ] {
                prop_assert!((number(&text, Family::Time) - span).abs() < 1e-9, "{}", text);
            }
        }

        /// A pair is its two numbers, and is never taken for one.
        #[test]
        fn a_pair_is_two_numbers(low in 10_u32..100, high in 10_u32..100, joint in "/|-| to |–") {
            let text = format!("{low}{joint}{high}");
            let pair = read_pair(&text, Family::Pressure).unwrap();
            prop_assert_eq!(pair.map(|typed| typed.number), [f64::from(low), f64::from(high)]);
            let fraction = joint == "/" && low < high && [16, 32, 64].contains(&high);
            prop_assert!(fraction || read_number(&text, Family::Pressure).is_err());
        }

        #[test]
        fn any_pair_is_read_or_refused_without_panic(text in "\\PC{0,30}") {
            let _ = read_pair(&text, Family::Pressure);
        }
    }
}
