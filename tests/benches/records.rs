//! Many records: listing them beside reading the same bytes plainly and beside `grep`; the commands that read
//! records whole beside parsing and hashing the same bytes; and how much memory an export of 100, 1,000 and
//! 10,000 of them takes at most.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::cell::RefCell;
use std::fs::{self, File};
use std::hint::black_box;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::rc::Rc;
use std::time::{Duration, Instant};

use sha2::Digest;
use tankhand::clock::Moment;
use tankhand::quantity::Units;
use tankhand::record::{Entry, EntryKind, Header, KeptText, Outcome, Recorder, Storage, Summary, TextRole};

mod ratios;

use ratios::Ratios;

const COUNTS: [usize; 3] = [100, 1_000, 10_000];
const ROUNDS: usize = 5;
/// What `tankhand records` reads of each end of a record.
const END: u64 = 8 * 1024;
const PROGRAM: &str = env!("CARGO_BIN_EXE_tankhand");

fn main() {
    let folder = std::env::temp_dir().join(format!("tankhand-records-{}", std::process::id()));
    let homes: Vec<PathBuf> = COUNTS.iter().map(|count| folder.join(count.to_string())).collect();
    for (home, count) in homes.iter().zip(COUNTS) {
        write_records(home, count);
    }
    let mut ratios = Ratios::of("records");
    list_times(homes.last().unwrap(), &mut ratios);
    whole_times(&homes[1], &mut ratios);
    ratios.keep();
    println!("\nmost memory an export takes (peak resident set of the whole program)");
    for form in ["csv", "jsonl"] {
        let peaks: Vec<(u64, u64)> = homes.iter().map(|home| export_peak(home, form)).collect();
        for ((kib, bytes), count) in peaks.iter().zip(COUNTS) {
            println!("{form:>6} {count:>6} records {kib:>7} KiB   {:>8.1} MB written", *bytes as f64 / 1e6);
        }
        println!("{form:>6} 10,000 to 100   {:7.2}", peaks[2].0 as f64 / peaks[0].0 as f64);
    }
    fs::remove_dir_all(&folder).unwrap();
}

/// The list beside two ways to read the files with nothing understood.
fn list_times(home: &Path, ratios: &mut Ratios) {
    let records = home.join("records");
    let (mut list, mut ends, mut whole, mut grep) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    // In turn, so that whatever else the machine does slows all alike.
    for _ in 0..ROUNDS {
        list.push(time_of(|| run(Command::new(PROGRAM).arg("records").env("TANKHAND_HOME", home))));
        ends.push(time_of(|| read_ends(&records)));
        whole.push(time_of(|| read_whole(&records)));
        grep.push(time_of(|| run(Command::new("grep").args(["-rh", "^outcome = "]).arg(&records))));
    }
    let list = least(list);
    println!("the least of {ROUNDS} runs each, taken in turn, over {} records", COUNTS[2]);
    println!("tankhand records              {:8.1} ms", list * 1e3);
    for (what, times) in [
        ("plain reads of the same bytes", ends),
        ("plain reads of all bytes", whole),
        ("grep for one line", grep),
    ] {
        let time = least(times);
        println!("{what:<29} {:8.1} ms   ratio {:5.2}", time * 1e3, list / time);
        ratios.note(&format!("records, beside {what}"), list / time, None);
    }
}

/// The commands that read all of every record, beside parsing its TOML and hashing its bytes on one core.
fn whole_times(home: &Path, ratios: &mut Ratios) {
    let records = home.join("records");
    let one = sorted(&records).pop().unwrap();
    let id = one.file_stem().unwrap().to_str().unwrap();
    let commands: [(&str, &[&str], bool); 6] = [
        ("records verify", &["records", "verify"], true),
        ("records export --format csv", &["records", "export", "--format", "csv"], true),
        ("trend", &["trend", "tank-0"], true),
        ("logbook", &["logbook"], true),
        ("records show, of one", &["records", "show", id], false),
        ("records verify, of one", &["records", "verify", id], false),
    ];
    println!(
        "\n{} records, the least of {ROUNDS} runs each; ratios to parse and hash of the same bytes",
        COUNTS[1]
    );
    for (what, arguments, all) in commands {
        let (mut took, mut bare) = (Vec::new(), Vec::new());
        for _ in 0..ROUNDS {
            let mut command = Command::new(PROGRAM);
            command.args(arguments).env("TANKHAND_HOME", home).stderr(Stdio::null());
            took.push(time_of(|| assert!(status(&mut command).code().is_some())));
            let paths = if all { sorted(&records) } else { vec![one.clone()] };
            bare.push(time_of(|| paths.iter().for_each(|path| parse_and_hash(path))));
        }
        let (took, bare) = (least(took), least(bare));
        println!("{what:<29} {:8.1} ms   bare {:8.1} ms   ratio {:5.2}", took * 1e3, bare * 1e3, took / bare);
        // Of one record the start of the program is most.
        ratios.note(&format!("{what}, beside parse and hash"), took / bare, all.then_some(3.0));
    }
}

fn parse_and_hash(path: &Path) {
    let text = fs::read_to_string(path).unwrap();
    black_box(sha2::Sha256::digest(text.as_bytes()));
    black_box(toml::de::DeTable::parse(&text).unwrap());
}

/// Lists the folder and reads both ends of every file.
fn read_ends(folder: &Path) {
    let mut bytes = Vec::new();
    for path in sorted(folder) {
        let mut file = File::open(path).unwrap();
        let length = file.metadata().unwrap().len();
        bytes.clear();
        (&mut file).take(END).read_to_end(&mut bytes).unwrap();
        file.seek(SeekFrom::Start(length.saturating_sub(END))).unwrap();
        file.take(END).read_to_end(&mut bytes).unwrap();
        black_box(&bytes);
    }
}

/// Lists the folder and reads every file to its end.
fn read_whole(folder: &Path) {
    for path in sorted(folder) {
        black_box(fs::read(path).unwrap());
    }
}

fn sorted(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
    paths.sort();
    paths
}

fn run(command: &mut Command) {
    assert!(status(command.stderr(Stdio::inherit())).success());
}

/// How a command ended; what it says goes nowhere.
fn status(command: &mut Command) -> std::process::ExitStatus {
    command.stdin(Stdio::null()).stdout(Stdio::null()).status().unwrap()
}

fn time_of(act: impl FnOnce()) -> Duration {
    let start = Instant::now();
    act();
    start.elapsed()
}

/// The least, in seconds: what else the machine does can only add to it.
fn least(times: Vec<Duration>) -> f64 {
    times.into_iter().min().unwrap().as_secs_f64()
}

/// The most memory an export takes, in KiB, and how many bytes it writes.
fn export_peak(home: &Path, form: &str) -> (u64, u64) {
    let mut child = Command::new(PROGRAM)
        .args(["records", "export", "--format", form])
        .env("TANKHAND_HOME", home)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut out = child.stdout.take().unwrap();
    let status = PathBuf::from(format!("/proc/{}/status", child.id()));
    let (mut peak, mut bytes, mut buffer) = (0, 0, vec![0; 64 * 1024]);
    loop {
        // The system keeps the peak itself; asked for at every piece, the last answer is the
        // peak up to the last bytes written.
        peak = peak_kib(&status).unwrap_or(peak);
        match out.read(&mut buffer).unwrap() {
            0 => break,
            n => bytes += n as u64,
        }
    }
    assert!(child.wait().unwrap().success());
    (peak, bytes)
}

fn peak_kib(status: &Path) -> Option<u64> {
    let text = fs::read_to_string(status).ok()?;
    let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix(" kB")?.trim().parse().ok()
}

/// Storage in memory, whose bytes are shared.
#[derive(Clone, Default)]
struct Memory(Rc<RefCell<Vec<u8>>>);

impl Storage for Memory {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.borrow_mut().extend_from_slice(bytes);
        Ok(())
    }

    fn sync(&mut self) -> io::Result<()> {
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.0.borrow_mut().truncate(usize::try_from(length).unwrap());
        Ok(())
    }
}

/// Writes so many invented records of closed runs, each some 25 kB, with a procedure that reads
/// the air thirty times.
fn write_records(home: &Path, count: usize) {
    let folder = home.join("records");
    fs::create_dir_all(&folder).unwrap();
    let procedure = procedure();
    let first = Moment::parse("2021-04-05T09:00:00-05:00").unwrap();
    for n in 0..count {
        let started = first.plus(Duration::from_secs(6 * 3600 * n as u64));
        let header = header(started, n, &procedure);
        let memory = Memory::default();
        let mut recorder = Recorder::begin(memory.clone(), Path::new("made"), &header).unwrap();
        recorder.append(&entries(started)).unwrap();
        let words = "Invented.".to_string();
        let outcome = if n % 7 == 0 { Outcome::Failed } else { Outcome::Completed };
        recorder.finish(&Summary { outcome, at: started, words, grade: None, found: Vec::new() }).unwrap();
        fs::write(folder.join(format!("{}.toml", header.id)), &*memory.0.borrow()).unwrap();
    }
}

fn procedure() -> String {
    let mut text = "format = 1\ntitle = \"Invented\"\npurpose = \"To be timed.\"\n".to_string();
    for n in 0..30 {
        let why = "Invented words, as long as those of a real procedure are. ".repeat(5);
        text +=
            &format!("[[step]]\nid = \"air_{n}\"\nread = \"pressure\"\nask = \"Gauge?\"\nwhy = \"{why}\"\n");
    }
    text
}

fn header(started: Moment, n: usize, procedure: &str) -> Header {
    let name = "procedures/invented.toml".to_string();
    Header {
        id: format!("{}-invented", started.stamp()),
        program: "tankhand 0.1.0".to_string(),
        procedure: "invented".to_string(),
        title: "Invented".to_string(),
        started,
        units: Units::Us,
        site: Some("Invented cottage".to_string()),
        tank: Some(format!("tank-{}", n % 3)),
        tanks: Vec::new(),
        demo: true,
        practice: None,
        transcribed: None,
        without: Vec::new(),
        mended: None,
        texts: vec![KeptText { role: TextRole::Procedure, name, text: procedure.into() }],
    }
}

fn entries(started: Moment) -> Vec<Entry> {
    let reading = |n: u64| Entry {
        n,
        asked: Some("Press the air gauge straight on the valve. What does it show?".to_string()),
        given: Some("38".to_string()),
        value: Some(38.0),
        unit: Some("psi".to_string()),
        uncertainty: Some(0.65),
        gauge: Some("air".to_string()),
        ..Entry::new(EntryKind::Reading, format!("air_{}", n - 1), started.plus(Duration::from_secs(60 * n)))
    };
    (1..=30).map(reading).collect()
}
