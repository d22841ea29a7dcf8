//! Anything that could be recorded, with a liking for what makes trouble.

use proptest::prelude::*;
use tankhand::clock::{BootTime, Moment};
use tankhand::quantity::{Truth, Units, Verdict};
use tankhand::record::{Entry, EntryKind, Header, KeptText, TextRole};

use crate::samples::moment;

/// Texts made of what makes trouble in TOML, in a terminal, or in a search for seals.
pub fn hostile() -> impl Strategy<Value = String> {
    let pieces = [
        "'''",
        "\"\"\"",
        "\"",
        "'",
        "\\",
        "\\u0073",
        "\r\n",
        "\n",
        "\r",
        "\t",
        "\nseal = \"",
        "seal = ",
        "\n[[entry]]\n",
        "\n[result]\n",
        "\u{0}",
        "\u{1b}[2J",
        "\u{7f}",
        "\u{85}",
        "\u{202e}",
        "\u{feff}",
        "\u{2028}",
        "\u{10ffff}",
        "°F ± ½",
        "#",
        "=",
    ];
    let piece = prop_oneof![
        3 => proptest::sample::select(pieces.to_vec()).prop_map(str::to_string),
        1 => any::<char>().prop_map(String::from),
        1 => "[ -~]{0,8}",
    ];
    proptest::collection::vec(piece, 0..10).prop_map(|pieces| pieces.concat())
}

fn maybe_text() -> impl Strategy<Value = Option<String>> {
    proptest::option::of(hostile())
}

fn number() -> impl Strategy<Value = f64> {
    any::<f64>().prop_filter("a number", |number| number.is_finite())
}

/// Any moment between the years 1 and 9998, with any offset of whole minutes below a day.
pub fn any_moment() -> impl Strategy<Value = Moment> {
    let date = (1..9998_i32, 1..=12_u32, 1..=28_u32);
    let time = (0..24_u32, 0..60_u32, 0..60_u32);
    (date, time, any::<bool>(), 0..24_u32, 0..60_u32).prop_map(|((y, mo, d), (h, mi, s), east, oh, om)| {
        let sign = if east { '+' } else { '-' };
        moment(&format!("{y:04}-{mo:02}-{d:02}T{h:02}:{mi:02}:{s:02}{sign}{oh:02}:{om:02}"))
    })
}

/// Any value a later version might write.
fn any_value() -> impl Strategy<Value = toml::Value> {
    let leaf = prop_oneof![
        hostile().prop_map(toml::Value::String),
        any::<i64>().prop_map(toml::Value::Integer),
        number().prop_map(toml::Value::Float),
        any::<bool>().prop_map(toml::Value::Boolean),
        any_moment().prop_map(|at| toml::Value::Datetime(at.to_string().parse().unwrap())),
    ];
    leaf.prop_recursive(3, 12, 4, |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..4).prop_map(toml::Value::Array),
            proptest::collection::vec((hostile(), inner), 0..4)
                .prop_map(|pairs| toml::Value::Table(pairs.into_iter().collect())),
        ]
    })
}

/// Fields no version knows.
fn more() -> impl Strategy<Value = toml::Table> {
    proptest::collection::vec((hostile(), any_value()), 0..3)
        .prop_map(|pairs| pairs.into_iter().map(|(key, value)| (format!("later {key}"), value)).collect())
}

/// An entry with anything in its fields; its number is yet to be set.
pub fn any_entry() -> impl Strategy<Value = Entry> {
    let kind = proptest::sample::select(EntryKind::all().collect::<Vec<_>>());
    let verdict = proptest::sample::select(vec![Verdict::Pass, Verdict::Fail, Verdict::Unsure]);
    let truth =
        (any::<bool>(), number(), number()).prop_map(|(best, least, most)| Truth { best, least, most });
    let first = (kind, hostile(), any_moment(), proptest::collection::vec(any::<u32>(), 0..3));
    let texts =
        (maybe_text(), maybe_text(), maybe_text(), maybe_text(), maybe_text(), (maybe_text(), maybe_text()));
    let numbers = (proptest::option::of(number()), proptest::option::of(number()));
    let counts = (proptest::option::of(any::<u32>()), proptest::option::of(0..=i64::MAX as u64));
    let judged = (proptest::option::of(verdict), proptest::option::of(truth));
    (first, texts, numbers, counts, judged, more()).prop_map(
        |((kind, step, at, round), texts, numbers, counts, judged, more)| {
            let (asked, given, unit, gauge, reason, (said, advice)) = texts;
            let (value, uncertainty) = numbers;
            let (take, replaces) = counts;
            let (verdict, truth) = judged;
            Entry {
                round,
                take,
                tank: said.clone(),
                boot: unit.clone().zip(value).map(|(boot, seconds)| BootTime { boot, seconds }),
                asked,
                given,
                value,
                unit,
                uncertainty,
                gauge,
                verdict,
                truth,
                advice,
                reason,
                replaces,
                said,
                more,
                ..Entry::new(kind, step, at)
            }
        },
    )
}

/// A few entries, numbered from 1.
pub fn any_entries() -> impl Strategy<Value = Vec<Entry>> {
    proptest::collection::vec(any_entry(), 0..5).prop_map(|mut entries| {
        for (entry, n) in entries.iter_mut().zip(1..) {
            entry.n = n;
        }
        entries
    })
}

/// A header with anything in its texts.
pub fn any_header() -> impl Strategy<Value = Header> {
    let role = proptest::sample::select(vec![TextRole::Procedure, TextRole::Part, TextRole::System]);
    let kept = (role, hostile(), hostile()).prop_map(|(role, name, text)| KeptText {
        role,
        name,
        text: text.into(),
    });
    let texts = proptest::collection::vec(kept, 0..4);
    let names = proptest::collection::vec(hostile(), 0..3);
    let without = proptest::collection::vec(hostile(), 0..2);
    let words = (hostile(), hostile(), hostile(), maybe_text(), maybe_text(), (names, without));
    (words, any_moment(), any::<bool>(), any::<bool>(), texts).prop_map(
        |((program, procedure, title, site, tank, (names, without)), started, metric, demo, texts)| Header {
            id: "20310405-0901-any".to_string(),
            units: if metric { Units::Metric } else { Units::Us },
            program,
            procedure,
            title,
            started,
            site,
            tanks: if tank.is_none() { names } else { Vec::new() },
            tank,
            demo,
            practice: None,
            transcribed: demo.then_some(started),
            without,
            mended: None,
            texts,
        },
    )
}
