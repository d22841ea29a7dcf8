//! Invented records, storage in memory, and texts that make trouble.

use std::cell::RefCell;
use std::io;
use std::path::Path;
use std::rc::Rc;

use proptest::prelude::*;
use sha2::{Digest, Sha256};
use tankhand::clock::Moment;
use tankhand::quantity::{Truth, Units, Verdict};
use tankhand::record::{Entry, EntryKind, Header, KeptText, Outcome, Recorder, Storage, Summary, TextRole};

/// Storage in memory; clones share the bytes.
#[derive(Clone, Debug, Default)]
pub struct Memory(Rc<RefCell<Inside>>);

#[derive(Debug, Default)]
pub struct Inside {
    pub bytes: Vec<u8>,
    pub writes: usize,
    pub syncs: usize,
}

impl Memory {
    pub fn holding(bytes: &[u8]) -> Memory {
        Memory(Rc::new(RefCell::new(Inside { bytes: bytes.to_vec(), ..Inside::default() })))
    }

    pub fn bytes(&self) -> Vec<u8> {
        self.0.borrow().bytes.clone()
    }

    /// How often it was written to and synced.
    pub fn calls(&self) -> (usize, usize) {
        (self.0.borrow().writes, self.0.borrow().syncs)
    }
}

impl Storage for Memory {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        let mut inside = self.0.borrow_mut();
        inside.writes += 1;
        inside.bytes.extend_from_slice(bytes);
        Ok(())
    }

    fn sync(&mut self) -> io::Result<()> {
        self.0.borrow_mut().syncs += 1;
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.0.borrow_mut().bytes.truncate(usize::try_from(length).unwrap());
        Ok(())
    }
}

pub fn moment(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

pub fn header() -> Header {
    let text = |role, name: &str, text: &str| KeptText { role, name: name.to_string(), text: text.into() };
    Header {
        id: "20310405-0901-flush".to_string(),
        program: "tankhand 0.1.0".to_string(),
        procedure: "flush".to_string(),
        title: "Flush the tank (an invented example)".to_string(),
        started: moment("2031-04-05T09:01:00-05:00"),
        units: Units::Us,
        site: Some("Invented \"Cottage\"".to_string()),
        tank: Some("main".to_string()),
        demo: true,
        texts: vec![
            text(TextRole::Procedure, "procedures/flush.toml", "format = 1\ntitle = \"Flush\"\n# °F ± 1\n"),
            text(
                TextRole::Part,
                "parts/power-off.toml",
                "title = '''Power\r\noff'''\r\npath = \"C:\\\\\"\r\n",
            ),
            text(
                TextRole::System,
                "system.toml",
                "# an old record:\nseal = \"00\"\n[[entry]]\nx = \"\"\"\"\"\"",
            ),
        ],
    }
}

/// One entry of each kind, and between them every field.
pub fn entries() -> Vec<Entry> {
    let started = moment("2031-04-05T09:01:00-05:00");
    let mut entries: Vec<Entry> = EntryKind::all()
        .zip(1_u64..)
        .map(|(kind, n)| {
            let at = started.plus(std::time::Duration::from_secs(40 * n));
            Entry { n, ..Entry::new(kind, format!("step-{n}"), at) }
        })
        .collect();
    entries[0].said = Some("The tank holds 20 gal.".to_string());
    let reading = &mut entries[2];
    reading.round = vec![2, 1];
    reading.take = Some(3);
    reading.asked = Some("What does the gauge read?".to_string());
    reading.given = Some("38 psi\n(after a tap on the glass)".to_string());
    reading.value = Some(38.0);
    reading.unit = Some("psi".to_string());
    reading.uncertainty = Some(1.25e-7);
    reading.gauge = Some("tyre gauge".to_string());
    entries[5].value = Some(-0.1);
    entries[6].verdict = Some(Verdict::CantTell);
    entries[6].truth = Some(Truth { best: true, least: 0.25, most: 1.0 });
    entries[9].reason = Some("the valve is stuck".to_string());
    entries[10].replaces = Some(3);
    entries[11].more.insert("moon".to_string(), toml::Value::String("full".to_string()));
    entries
}

pub fn summary() -> Summary {
    Summary {
        outcome: Outcome::Failed,
        at: moment("2031-04-05T10:12:40-05:00"),
        words: "The bladder leaks: do not use the tank.".to_string(),
    }
}

/// The bytes of a record with these entries, in one batch for each length in `batches`.
pub fn record(header: &Header, entries: &[Entry], summary: Option<&Summary>) -> Vec<u8> {
    let memory = Memory::default();
    let mut recorder = Recorder::begin(memory.clone(), Path::new("sample.toml"), header).unwrap();
    recorder.append(entries).unwrap();
    if let Some(summary) = summary {
        recorder.finish(summary).unwrap();
    }
    memory.bytes()
}

/// Blocks with true seals after them, as any other program might write them.
pub fn sealed(blocks: &[&[u8]]) -> Vec<u8> {
    let mut bytes = Vec::new();
    for block in blocks {
        bytes.extend_from_slice(block);
        let digest: String = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        bytes.extend_from_slice(format!("seal = \"{digest}\"\n").as_bytes());
    }
    bytes
}

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
    let verdict = proptest::sample::select(vec![Verdict::Pass, Verdict::Fail, Verdict::CantTell]);
    let truth =
        (any::<bool>(), number(), number()).prop_map(|(best, least, most)| Truth { best, least, most });
    let first = (kind, hostile(), any_moment(), proptest::collection::vec(any::<u32>(), 0..3));
    let texts = (maybe_text(), maybe_text(), maybe_text(), maybe_text(), maybe_text(), maybe_text());
    let numbers = (proptest::option::of(number()), proptest::option::of(number()));
    let counts = (proptest::option::of(any::<u32>()), proptest::option::of(0..=i64::MAX as u64));
    let judged = (proptest::option::of(verdict), proptest::option::of(truth));
    (first, texts, numbers, counts, judged, more()).prop_map(
        |((kind, step, at, round), texts, numbers, counts, judged, more)| {
            let (asked, given, unit, gauge, reason, said) = texts;
            let (value, uncertainty) = numbers;
            let (take, replaces) = counts;
            let (verdict, truth) = judged;
            Entry {
                round,
                take,
                asked,
                given,
                value,
                unit,
                uncertainty,
                gauge,
                verdict,
                truth,
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
    let words = (hostile(), hostile(), hostile(), maybe_text(), maybe_text());
    (words, any_moment(), any::<bool>(), any::<bool>(), texts).prop_map(
        |((program, procedure, title, site, tank), started, metric, demo, texts)| Header {
            id: "20310405-0901-any".to_string(),
            units: if metric { Units::Metric } else { Units::Us },
            program,
            procedure,
            title,
            started,
            site,
            tank,
            demo,
            texts,
        },
    )
}
