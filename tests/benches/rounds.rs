//! Long runs: whether a round late in a loop costs as much as an early one, what it costs to take an answer
//! back, and what to go on with a record costs beside the bare parsing of its TOML, the program's start and the
//! writes it cannot do without; in this process and through the program.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::fmt::Write as _;
use std::fs;
use std::hint::black_box;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::{Duration, Instant};

use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::{EarlierAnswers, Event, Run, RunInput, Setting};
use tankhand::owner::{Household, Mistakes, Owner};
use tankhand::procedure::Procedure;
use tankhand::quantity::Units;
use tankhand::record::{Contents, Entry, EntryKind, Recorder, Storage, TextRole};
use tankhand::source::SourceText;
use tankhand::system::System;

#[path = "../support/performance.rs"]
mod performance;
mod ratios;

use performance::perform;
use ratios::Ratios;

const ROUNDS: usize = 200;
const AMENDMENTS: usize = 49;
const PROGRAM: &str = env!("CARGO_BIN_EXE_tankhand");

/// A file whose writes are left to the system.
struct Unsynced(fs::File);

impl Storage for Unsynced {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.0.set_len(length)
    }
}

/// A run with its record.
struct Play {
    run: Run,
    recorder: Recorder<Unsynced>,
    at: Moment,
}

impl Play {
    fn of(setting: Setting, folder: &Path) -> Play {
        let at = start();
        let id = format!("{}-{}", at.stamp(), setting.name);
        fs::create_dir_all(folder).unwrap();
        let path = folder.join(format!("{id}.toml"));
        let storage = Unsynced(fs::File::create_new(&path).unwrap());
        let mut recorder = Recorder::begin(storage, &path, &setting.header(id, at)).unwrap();
        let (run, first) = Run::begin(setting, at);
        recorder.append(&entries(first)).unwrap();
        Play { run, recorder, at }
    }

    /// Does one thing; how long the engine took.
    fn take(&mut self, input: RunInput<'_>) -> Duration {
        self.at = self.at.plus(Duration::from_secs(20));
        let begin = Instant::now();
        let events = self.run.take(input, self.at).unwrap();
        let time = begin.elapsed();
        self.recorder.append(&entries(events)).unwrap();
        time
    }
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    let mut ratios = Ratios::of("rounds");
    loop_of_checks(folder.path(), &mut ratios);
    going_on("10,000 entries", &many_entries(folder.path()), &mut ratios);
    going_on("yearly, 49 amendments", &amended_yearly(folder.path()), &mut ratios);
    amended_early(folder.path(), &mut ratios);
    ratios.keep();
    backs();
    through_the_program(folder.path());
}

fn start() -> Moment {
    Moment::parse("2031-04-05T09:00:00-05:00").unwrap()
}

fn entries(events: Vec<Event>) -> Vec<Entry> {
    events.into_iter().map(|event| event.entry).collect()
}

fn setting(name: &str, procedure: Procedure, system: System) -> Setting {
    Setting {
        procedure: Arc::new(procedure),
        name: name.to_string(),
        system: Arc::new(system),
        tank: 0,
        units: Units::Us,
        past: EarlierAnswers::default(),
    }
}

/// A loop of so many rounds, each with a reading, what it comes to and a check at a kink, and a reading at its end.
fn looping(rounds: usize) -> String {
    format!(
        "format = 1\ntitle = \"Rounds\"\npurpose = \"To be timed.\"\n\
         [[step]]\nid = \"on\"\nread = \"pressure\"\ngauge = \"line\"\nask = \"Start?\"\n\
         [[step]]\nid = \"rounds\"\nrepeat = {{ until = \"air > 90 psi\", at_most = {rounds} }}\n\
         [[step.step]]\nid = \"air\"\nread = \"pressure\"\ngauge = \"air\"\nask = \"Air?\"\n\
         [[step.step]]\nid = \"gap\"\ncompute = \"dead_gap(air, on)\"\n\
         [[step.step]]\nid = \"near\"\ncheck = \"gap <= 0.2 psi\"\npass = \"Near.\"\nfail = \"Far.\"\nunsure = \"?\"\n\
         [[step]]\nid = \"last\"\nread = \"pressure\"\ngauge = \"air\"\nask = \"At the end?\"\n"
    )
}

fn loaded(text: String) -> Procedure {
    Library::default().load_source(&SourceText::new("procedures/rounds.toml", text)).unwrap()
}

fn loop_of_checks(folder: &Path, ratios: &mut Ratios) {
    let mut play =
        Play::of(setting("rounds", loaded(looping(ROUNDS)), System::default()), &folder.join("loop"));
    play.take(RunInput::Answer("38 psi"));
    let given = |round: usize| format!("38.{} psi", round % 5);
    let times: Vec<Duration> =
        (0..ROUNDS).map(|round| play.take(RunInput::Confirmed(&given(round)))).collect();
    let (early, late) = (median(&times[5..25]), median(&times[ROUNDS - 25..ROUNDS - 5]));
    println!("a loop of {ROUNDS} rounds with a check at a kink, engine alone, medians of 20");
    println!("a round, early and late       {early:8.3} ms {late:8.3} ms   ratio {:5.2}", late / early);
    let back = play.take(RunInput::Back).as_secs_f64() * 1e3;
    println!("an answer taken back at the end {back:6.3} ms");
    ratios.note("a round of a loop, late beside early", late / early, None);
    going_on("that loop", play.recorder.path(), ratios);
}

/// What to go on with a record costs: its parts in this process, and the program from start to end.
fn going_on(name: &str, path: &Path, ratios: &mut Ratios) {
    let bytes = fs::read(path).unwrap();
    let text = String::from_utf8(bytes.clone()).unwrap();
    let contents = Contents::from_bytes(&bytes).unwrap();
    let bare = seconds(|| drop(black_box(toml::de::DeTable::parse(&text).unwrap())));
    let read = seconds(|| drop(black_box(Contents::from_bytes(&bytes).unwrap())));
    let setting = setting_of(&contents);
    let last = contents.entries.last().unwrap().at;
    let fold = seconds(|| {
        drop(black_box(Run::replay(setting.clone(), &contents.entries, last).unwrap()));
    });
    let home = path.with_extension("home");
    let least = |time: &dyn Fn() -> f64| (0..9).map(|_| time()).fold(f64::INFINITY, f64::min);
    let program = least(&|| resumed(path, &home));
    let (start, synced) = (least(&started), least(&|| two_synced(path)));
    println!(
        "\ngoing on with {name}: {} entries, {:.0} kB",
        contents.entries.len(),
        bytes.len() as f64 / 1e3
    );
    for (what, time) in [
        ("bare TOML parse", bare),
        ("read, seals checked", read),
        ("entries folded to a run", fold),
        ("tankhand --version", start),
        ("two synced appends", synced),
        ("tankhand resume, start to end", program),
    ] {
        println!("{what:<30} {:8.2} ms   ratio {:6.2}", time * 1e3, time / bare);
    }
    let beside = format!("resume of {name}, beside a bare parse, a start and two synced appends");
    ratios.note(&beside, program / (bare + start + synced), Some(3.0));
}

/// How long the program takes to start and to end.
fn started() -> f64 {
    let begin = Instant::now();
    let status = child_of(Command::new(PROGRAM).arg("--version"), "").wait().unwrap();
    let time = begin.elapsed().as_secs_f64();
    assert!(status.success(), "{status}");
    time
}

/// What the disk asks for the two entries with which a run is gone on with and left.
fn two_synced(record: &Path) -> f64 {
    let path = record.with_extension("appended");
    let mut file = fs::File::create(&path).unwrap();
    let begin = Instant::now();
    for _ in 0..2 {
        file.write_all(&[b'x'; 155]).unwrap();
        file.sync_data().unwrap();
    }
    let time = begin.elapsed().as_secs_f64();
    fs::remove_file(path).unwrap();
    time
}

fn setting_of(contents: &Contents) -> Setting {
    let texts = &contents.header.texts;
    let text = |system: bool| texts.iter().find(|text| (text.role == TextRole::System) == system);
    let main = text(false).unwrap();
    let library = Library::of_record(texts);
    let source = SourceText::new(main.name.as_str(), main.text.clone());
    let system = text(true).map_or(System::default(), |text| {
        tankhand::system::load(&SourceText::new(text.name.as_str(), text.text.clone())).unwrap()
    });
    setting(&contents.header.procedure, library.load_source(&source).unwrap(), system)
}

/// How long it takes to go on with a copy of a record, and to leave it at once.
fn resumed(path: &Path, home: &Path) -> f64 {
    let records = home.join("records");
    fs::create_dir_all(&records).unwrap();
    let copy = records.join(path.file_name().unwrap());
    fs::copy(path, &copy).unwrap();
    let id = path.file_stem().unwrap();
    let begin = Instant::now();
    let mut command = Command::new(PROGRAM);
    let mut child = child_of(command.arg("--home").arg(home).arg("resume").arg(id), "pause\n");
    let status = child.wait().unwrap();
    let time = begin.elapsed().as_secs_f64();
    assert!(status.code().is_some_and(|code| code < 2), "{status}");
    fs::remove_dir_all(home).unwrap();
    time
}

fn child_of(command: &mut Command, input: &str) -> std::process::Child {
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::null()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    child
}

/// A record of 10,000 entries: some 3,300 readings in loops inside of loops, each with a value and a check.
fn many_entries(folder: &Path) -> PathBuf {
    many_readings(&folder.join("many"), 3_333).recorder.path().to_path_buf()
}

/// The second answer of a long run changed to itself: all after it are taken back and carried over. Beside the same in
/// a run of a quarter of the length, which is 4 where each answer costs the same.
fn amended_early(folder: &Path, ratios: &mut Ratios) {
    let time = |readings: usize| {
        let mut play = many_readings(&folder.join(readings.to_string()), readings);
        (0..5)
            .map(|_| {
                let taken_back = play.take(RunInput::Amend(2));
                taken_back + play.take(RunInput::Confirmed("38.2 psi"))
            })
            .min()
            .unwrap()
            .as_secs_f64()
    };
    let (quarter, whole) = (time(800), time(3_200));
    println!("\nthe second answer of 800 changed {:8.1} ms, of 3,200 {:8.1} ms", quarter * 1e3, whole * 1e3);
    ratios.note("an early answer of 3,200 changed, beside one of 800", whole / quarter, Some(5.0));
}

/// So many readings in loops inside of loops, each with a value and a check.
fn many_readings(folder: &Path, readings: usize) -> Play {
    let loops = |n: usize| {
        format!(
            "[[step]]\nid = \"outer{n}\"\nrepeat = {{ until = \"air{n} > 90 psi\", at_most = 9 }}\n\
             [[step.step]]\nid = \"inner{n}\"\nrepeat = {{ until = \"air{n} > 90 psi\", at_most = 190 }}\n\
             [[step.step.step]]\nid = \"air{n}\"\nread = \"pressure\"\ngauge = \"air\"\nask = \"Air?\"\n\
             [[step.step.step]]\nid = \"gap{n}\"\ncompute = \"dead_gap(air{n}, 38 psi)\"\n\
             [[step.step.step]]\nid = \"near{n}\"\ncheck = \"gap{n} <= 5 psi\"\npass = \"Near.\"\n"
        )
    };
    let head = "format = 1\ntitle = \"Rounds\"\npurpose = \"To be timed.\"\n";
    let end = "[[step]]\nid = \"last\"\nread = \"pressure\"\ngauge = \"air\"\nask = \"At the end?\"\n";
    let procedure = loaded(format!("{head}{}{}{end}", loops(1), loops(2)));
    let mut play = Play::of(setting("many", procedure, System::default()), folder);
    (0..readings).for_each(|_| {
        play.take(RunInput::Confirmed("38.2 psi"));
    });
    play
}

/// A simulated owner's yearly check, left before its end, one answer after the other changed to itself.
fn amended_yearly(folder: &Path) -> PathBuf {
    let procedure = Library::default().load("yearly").unwrap();
    let mut home = Household::at_random(3);
    home.suit(&procedure);
    let setting = setting("yearly", procedure, home.system().unwrap());
    let done = perform(&mut Owner::new(home, Mistakes::default(), 3), setting.clone(), start()).unwrap();
    let mut play = Play::of(setting, &folder.join("yearly"));
    play.run = play.run.without_advice();
    let effective: Vec<&Entry> =
        done.entries.iter().filter(|entry| !entry.is_derived() && !entry.kind.is_aside()).collect();
    for entry in &effective[..effective.len() - 1] {
        // What a simulated owner took back and gave again is not played.
        if play.run.ask().is_none_or(|ask| ask.place.step.as_ref() != entry.step) {
            break;
        }
        give(&mut play, entry);
    }
    let answers = play.run.answered_so_far().count();
    for at in 0..AMENDMENTS {
        let number = answers - 1 - at % (answers / 2);
        let given = play.run.answered_so_far().nth(number - 1).unwrap().entry.clone();
        play.take(RunInput::Amend(number));
        give(&mut play, &given);
    }
    play.recorder.path().to_path_buf()
}

fn give(play: &mut Play, entry: &Entry) {
    let given = entry.given.clone().unwrap_or_default();
    match entry.kind {
        EntryKind::WaitBegun => play.take(RunInput::WaitBegins),
        EntryKind::Waited => {
            play.take(RunInput::WaitOver(Duration::from_secs_f64(entry.value.unwrap_or_default())))
        }
        EntryKind::Skipped => play.take(RunInput::Skip(entry.reason.as_deref().unwrap_or("x"))),
        _ => play.take(RunInput::Confirmed(&given)),
    };
}

/// What it costs to take an answer back at the end of each shipped procedure.
fn backs() {
    let library = Library::default();
    println!("\nan answer taken back at the end of a run, engine alone");
    let mut rows: Vec<(f64, String, usize)> = Vec::new();
    for name in library.procedures() {
        let procedure = library.load(&name).unwrap();
        let mut home = Household::at_random(3);
        home.suit(&procedure);
        let setting = setting(&name, procedure, home.system().unwrap());
        let Ok(done) = perform(&mut Owner::new(home, Mistakes::default(), 3), setting, start()) else {
            continue;
        };
        let last = done.entries.last().unwrap().at;
        let answers = done.run.answered_so_far().count();
        let times = (0..15).map(|_| {
            let mut run = done.run.clone();
            let begin = Instant::now();
            black_box(run.take(RunInput::Back, last).unwrap());
            begin.elapsed().as_secs_f64()
        });
        rows.push((times.fold(f64::INFINITY, f64::min), name, answers));
    }
    rows.sort_by(|a, b| b.0.total_cmp(&a.0));
    for (time, name, answers) in rows.iter().take(5) {
        println!("{name:<18} {answers:>4} answers {:8.3} ms", time * 1e3);
    }
    println!("of {} procedures the slowest; bound: 5 ms", rows.len());
}

/// The loop typed in to the program, with and without answers taken back.
fn through_the_program(folder: &Path) {
    let home = folder.join("program");
    fs::create_dir_all(&home).unwrap();
    let file = home.join("rounds.toml");
    fs::write(&file, looping(ROUNDS)).unwrap();
    let typed = |rounds: usize, backs: usize| {
        let mut text = "38 psi\n".to_string();
        (0..rounds).for_each(|round| writeln!(text, "38.{} psi", round % 5).unwrap());
        (0..backs).for_each(|_| text.push_str("back\n38.1 psi\n"));
        text + "pause\n"
    };
    let time = |rounds: usize, backs: usize| {
        let _ = fs::remove_dir_all(home.join("home"));
        let begin = Instant::now();
        let mut command = Command::new(PROGRAM);
        let command = command.arg("--home").arg(home.join("home")).arg("run").arg(&file);
        let status = child_of(command, &typed(rounds, backs)).wait().unwrap();
        assert!(status.code().is_some_and(|code| code < 2), "{status}");
        begin.elapsed().as_secs_f64()
    };
    let (half, whole, back) = (time(ROUNDS / 2, 0), time(ROUNDS - 1, 0), time(ROUNDS - 1, 50));
    println!("\nthrough the program, a synced record");
    println!("{} rounds {:8.1} ms, {} rounds {:8.1} ms", ROUNDS / 2, half * 1e3, ROUNDS - 1, whole * 1e3);
    println!("50 answers taken back and given again, each {:6.2} ms", (back - whole) * 1e3 / 50.0);
}

/// The median, in milliseconds.
fn median(times: &[Duration]) -> f64 {
    median_seconds(times.iter().map(Duration::as_secs_f64)) * 1e3
}

fn median_seconds(times: impl Iterator<Item = f64>) -> f64 {
    let mut times: Vec<f64> = times.collect();
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// The least of repeated runs, for a third of a second or seven times, whichever is longer: what else the
/// machine does can only add to it.
fn seconds(mut run: impl FnMut()) -> f64 {
    let begin = Instant::now();
    let (mut least, mut runs) = (f64::INFINITY, 0);
    while runs < 7 || begin.elapsed().as_millis() < 333 {
        let start = Instant::now();
        run();
        least = least.min(start.elapsed().as_secs_f64());
        runs += 1;
    }
    least
}
