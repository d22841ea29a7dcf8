//! Invented records, storage in memory, and texts that make trouble.

use std::cell::RefCell;
use std::io;
use std::path::Path;
use std::rc::Rc;

use sha2::{Digest, Sha256};
use tankhand::clock::Moment;
use tankhand::quantity::{Truth, Units, Verdict};
use tankhand::record::{
    Entry, EntryKind, ForNow, Grade, Header, KeptText, Outcome, Phase, Provenance, Recorder, Storage,
    Summary, TextRole,
};

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
        tanks: Vec::new(),
        demo: true,
        practice: None,
        transcribed: None,
        without: Vec::new(),
        mended: None,
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
    reading.observes = Some("precharge".to_string());
    reading.phase = Some(Phase::Found);
    reading.provenance = Some(Provenance::Measured);
    reading.warned = vec!["WARNING Water under pressure: open only the drain valve.".to_string()];
    let finding = &mut entries[16];
    finding.given = Some("precharge low".to_string());
    finding.grade = Some(Grade::Attention);
    finding.next = Some("Set it, and look again.".to_string());
    finding.for_now = Some(ForNow::Set);
    finding.due = Some(moment("2031-05-05T09:01:00-05:00"));
    finding.rests_on = vec!["step-3".to_string()];
    let understood = &mut entries[18];
    understood.given = Some("understood".to_string());
    understood.warned = vec!["WARNING  WEIGHT: a tank can be full.\nTwo people.".to_string()];
    entries[5].value = Some(-0.1);
    entries[6].verdict = Some(Verdict::Unsure);
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
        grade: Some(Grade::Stop),
        found: vec!["bladder leaks".to_string()],
    }
}

/// The bytes of a record with these entries, written in one batch.
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
    let (mut bytes, mut begin) = (Vec::new(), 0);
    for block in blocks {
        bytes.extend_from_slice(block);
        let digest: String =
            Sha256::digest(&bytes[begin..]).iter().map(|byte| format!("{byte:02x}")).collect();
        begin = bytes.len();
        bytes.extend_from_slice(format!("seal = \"{digest}\"\n").as_bytes());
    }
    bytes
}
