//! What an answer costs: one append and one sync, however long the record is already; beside a
//! plain file to which as many bytes are appended and synced.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::cell::Cell;
use std::fmt::Write as _;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::Path;
use std::rc::Rc;
use std::sync::Arc;
use std::time::{Duration, Instant};

use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::{Event, Run, RunInput, Setting};
use tankhand::quantity::Units;
use tankhand::record::{Entry, Recorder, Storage};
use tankhand::source::SourceText;
use tankhand::system::System;

mod ratios;

use ratios::Ratios;

/// What was done to the storage.
#[derive(Clone, Copy, Debug, Default)]
struct Calls {
    appends: usize,
    syncs: usize,
    cuts: usize,
    bytes: usize,
}

/// A file that counts.
struct Counting {
    file: File,
    calls: Rc<Cell<Calls>>,
}

impl Counting {
    fn count(&self, change: impl FnOnce(&mut Calls)) {
        let mut calls = self.calls.get();
        change(&mut calls);
        self.calls.set(calls);
    }
}

impl Storage for Counting {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.count(|calls| {
            calls.appends += 1;
            calls.bytes += bytes.len();
        });
        self.file.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.count(|calls| calls.syncs += 1);
        self.file.sync_data()
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.count(|calls| calls.cuts += 1);
        self.file.set_len(length)
    }
}

/// One answer: what it did to the storage, how long it took, and the plain file's time.
struct Answer {
    calls: Calls,
    time: Duration,
    plain: Duration,
}

fn main() {
    let folder = std::env::temp_dir().join(format!("tankhand-answer-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    println!(
        "{:>8} {:>17} {:>15} {:>14} {:>13}",
        "answers", "appends an answer", "syncs an answer", "other writes", "bytes each"
    );
    let mut longest = Vec::new();
    for answers in [10, 100, 1_000] {
        longest = played(answers, &folder);
        let sum = |of: fn(&Calls) -> usize| longest.iter().map(|answer| of(&answer.calls)).sum::<usize>();
        let range = |of: fn(&Calls) -> usize| {
            let all = longest.iter().map(|answer| of(&answer.calls));
            format!("{} to {}", all.clone().min().unwrap(), all.max().unwrap())
        };
        let (appends, syncs, bytes) = (range(|c| c.appends), range(|c| c.syncs), range(|c| c.bytes));
        println!("{answers:>8} {appends:>17} {syncs:>15} {:>14} {bytes:>13}", sum(|c| c.cuts));
    }
    let tenth = longest.len() / 10;
    let (first, last) = (&longest[..tenth], &longest[longest.len() - tenth..]);
    let time = |answers: &[Answer]| median(answers.iter().map(|answer| answer.time));
    let plain = |answers: &[Answer]| median(answers.iter().map(|answer| answer.plain));
    println!("\nmedian of the first and of the last {tenth} of {} answers", longest.len());
    println!("an answer, engine and record   {:7.0} µs {:7.0} µs", time(first), time(last));
    println!("plain append and sync          {:7.0} µs {:7.0} µs", plain(first), plain(last));
    println!(
        "ratio                          {:7.2}    {:7.2}",
        time(first) / plain(first),
        time(last) / plain(last)
    );
    println!("last to first                  {:7.2}", time(last) / time(first));
    let mut ratios = Ratios::of("answer");
    ratios.note("the last of 1,000 answers, beside plain append and sync", time(last) / plain(last), None);
    ratios.note("the last of 1,000 answers, beside the first", time(last) / time(first), None);
    ratios.keep();
    fs::remove_dir_all(&folder).unwrap();
}

/// Plays a run of so many answers, each followed by the same bytes' append to a plain file.
fn played(answers: usize, folder: &Path) -> Vec<Answer> {
    let start = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
    let setting = setting(answers);
    let calls = Rc::new(Cell::new(Calls::default()));
    let file = new_file(&folder.join(format!("{answers}.record")));
    let mut plain = new_file(&folder.join(format!("{answers}.plain")));
    let header = setting.header("20310405-0900-long".to_string(), start);
    let storage = Counting { file, calls: calls.clone() };
    let mut recorder = Recorder::begin(storage, Path::new("long"), &header).unwrap();
    let (mut run, _) = Run::begin(setting, start);
    (0..answers)
        .map(|_| {
            calls.set(Calls::default());
            let begin = Instant::now();
            let events = run.take(RunInput::Answer("38 psi"), start).unwrap();
            recorder.append(&entries(events)).unwrap();
            let time = begin.elapsed();
            let bytes = vec![b'.'; calls.get().bytes];
            let begin = Instant::now();
            plain.write_all(&bytes).unwrap();
            plain.sync_data().unwrap();
            Answer { calls: calls.get(), time, plain: begin.elapsed() }
        })
        .collect()
}

fn entries(events: Vec<Event>) -> Vec<Entry> {
    events.into_iter().map(|event| event.entry).collect()
}

/// A procedure that asks for so many readings.
fn setting(readings: usize) -> Setting {
    let mut text = "format = 1\ntitle = \"Long\"\npurpose = \"To be timed.\"\n".to_string();
    for n in 0..readings {
        write!(text, "[[step]]\nid = \"r{n:04}\"\nread = \"pressure\"\nask = \"Gauge?\"\n").unwrap();
    }
    let procedure = Library::default().load_source(&SourceText::new("procedures/long.toml", text)).unwrap();
    Setting {
        procedure: Arc::new(procedure),
        name: "long".to_string(),
        system: Arc::new(System::default()),
        tank: 0,
        units: Units::Us,
        past: tankhand::engine::EarlierAnswers::default(),
    }
}

fn new_file(path: &Path) -> File {
    OpenOptions::new().append(true).create_new(true).open(path).unwrap()
}

/// The median, in microseconds.
fn median(times: impl Iterator<Item = Duration>) -> f64 {
    let mut times: Vec<Duration> = times.collect();
    times.sort();
    times[times.len() / 2].as_secs_f64() * 1e6
}
