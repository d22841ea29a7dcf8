//! Playing a script in this process, on a clock that the script moves.

#![allow(dead_code, clippy::unwrap_used)]

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{LazyLock, OnceLock};

use tankhand::app::{DEMOS, Demo, Done, Failure, Home, Occasion, RunOrder, Stage, WorkOrder, resume, run};
use tankhand::clock::{Clock, SetClock};
use tankhand::console::{
    Block, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, Script, ScriptFace, Style,
};
use tankhand::record::{Contents, read};
use tankhand::source::SourceText;

/// What transcripts are written with.
const STYLE: Style = Style { unicode: true, ..Style::plain(80) };

/// What is performed.
#[derive(Clone, Copy)]
pub enum Work<'a> {
    /// A demonstration.
    Demo(&'a Demo),
    /// A procedure, at the installation of a system file.
    At(&'a str, &'a Path),
}

/// A play that came to its end.
pub struct Played {
    /// What a person saw.
    pub transcript: String,
    /// How it ended.
    pub ended: Result<Done, Failure>,
    /// The record's file.
    pub record: PathBuf,
}

impl Played {
    /// The record, every seal checked.
    pub fn contents(&self) -> Contents {
        read(&self.record).unwrap()
    }
}

/// A demonstration that came to its end, kept in memory.
pub struct Kept {
    /// What a person saw.
    pub transcript: String,
    /// How it ended.
    pub done: Done,
    /// The name of the record's file.
    pub file: String,
    /// The record, byte for byte.
    pub record: String,
}

impl Kept {
    /// The record, every seal checked.
    pub fn contents(&self) -> Contents {
        Contents::from_bytes(self.record.as_bytes()).unwrap()
    }

    /// Puts the record among those of a home, and says where it is.
    pub fn put(&self, home: &Path) -> PathBuf {
        let records = home.join("records");
        fs::create_dir_all(&records).unwrap();
        let path = records.join(&self.file);
        fs::write(&path, &self.record).unwrap();
        path
    }
}

/// The demonstration of that name.
pub fn demo(name: &str) -> &'static Demo {
    DEMOS.iter().find(|demo| demo.name == name).unwrap()
}

/// A demonstration, played once for all tests of a program.
pub fn played(demo: &Demo) -> &'static Kept {
    static PLAYS: LazyLock<Vec<OnceLock<Kept>>> =
        LazyLock::new(|| DEMOS.iter().map(|_| OnceLock::new()).collect());
    let at = DEMOS.iter().position(|known| known.name == demo.name).unwrap();
    PLAYS[at].get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let played = play(Work::Demo(demo), demo.script().unwrap(), folder.path());
        Kept {
            transcript: played.transcript,
            done: played.ended.unwrap_or_else(|failure| panic!("{}: {failure}", demo.name)),
            file: played.record.file_name().unwrap().to_str().unwrap().to_string(),
            record: fs::read_to_string(&played.record).unwrap(),
        }
    })
}

/// A face that has nobody behind it after so many answers.
struct BreaksOff<'f, F> {
    face: &'f mut F,
    answers: usize,
}

impl<F: Face> Face for BreaksOff<'_, F> {
    fn show(&mut self, block: &Block) -> io::Result<()> {
        self.face.show(block)
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        self.answers = self.answers.checked_sub(1).ok_or(Ended::NoMoreInput)?;
        self.face.ask(prompt)
    }

    fn count_down(&mut self, countdown: &Countdown, clock: &dyn Clock) -> Result<CountdownEnd, Ended> {
        self.face.count_down(countdown, clock)
    }
}

fn perform(work: Work<'_>, home: &Home, stage: &mut Stage<'_>) -> Result<Done, Failure> {
    match work {
        Work::Demo(demo) => demo.perform(home, stage),
        Work::At(procedure, system) => {
            let (procedure, system) = (procedure.to_string(), Some(system.to_path_buf()));
            let work = WorkOrder { procedure, system, tank: None };
            run(&RunOrder { work, ..RunOrder::default() }, home, stage)
        }
    }
}

/// The only record in a folder; beside it a hidden part may stand as long as a run goes on.
fn record_in(folder: &Path) -> PathBuf {
    let mut paths = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path());
    paths.find(|path| path.extension() == Some("toml".as_ref())).unwrap()
}

/// Plays a script from its first answer to its last; the record goes to `folder`.
pub fn play(work: Work<'_>, script: Script, folder: &Path) -> Played {
    play_in_parts(work, script, folder, usize::MAX)
}

/// Plays a script, but after so many answers nobody is there any more; then the run is gone on
/// with, and the rest is played. The waits between belong to what follows the answer before.
pub fn play_in_parts(work: Work<'_>, script: Script, folder: &Path, answers: usize) -> Played {
    let home = Home::find(Some(folder)).unwrap();
    let clock = SetClock::at(script.start());
    let mut transcript = Vec::new();
    let mut face = ScriptFace::new(script, &clock, &mut transcript, STYLE);
    let mut exit = BreaksOff { face: &mut face, answers };
    let mut stage = Stage { face: &mut exit, clock: &clock, width: STYLE.width, occasion: Occasion::Demo };
    let mut ended = perform(work, &home, &mut stage);
    let record = record_in(&home.records());
    if ended.is_ok() && read(&record).unwrap().summary.is_none() && answers < usize::MAX {
        let mut stage =
            Stage { face: &mut face, clock: &clock, width: STYLE.width, occasion: Occasion::Demo };
        ended = resume(None, &home, &mut stage);
    }
    if let (Ok(_), Err(Ended::Script(fault))) = (&ended, face.finish()) {
        ended = Err(Failure::Faults(vec![*fault]));
    }
    Played { transcript: String::from_utf8(transcript).unwrap(), ended, record }
}

/// What a face was asked to do.
enum Moved {
    Show(Block),
    Ask(Prompt),
    CountDown(Countdown),
}

/// A play of which is kept what was asked for, and how the record stood before each question.
pub struct Taped<'a> {
    work: Work<'a>,
    script: Script,
    moves: Vec<Moved>,
    /// The file of the record, and before each question its bytes and how many moves came first.
    file: PathBuf,
    before: Vec<(Vec<u8>, usize)>,
}

/// A face that tapes what it is asked for.
struct Taping<'f, F> {
    face: &'f mut F,
    records: PathBuf,
    moves: Vec<Moved>,
    file: PathBuf,
    before: Vec<(Vec<u8>, usize)>,
}

impl<F: Face> Face for Taping<'_, F> {
    fn show(&mut self, block: &Block) -> io::Result<()> {
        self.moves.push(Moved::Show(block.clone()));
        self.face.show(block)
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        self.file = record_in(&self.records);
        self.before.push((fs::read(&self.file).unwrap(), self.moves.len()));
        self.moves.push(Moved::Ask(prompt.clone()));
        self.face.ask(prompt)
    }

    fn count_down(&mut self, countdown: &Countdown, clock: &dyn Clock) -> Result<CountdownEnd, Ended> {
        self.moves.push(Moved::CountDown(countdown.clone()));
        self.face.count_down(countdown, clock)
    }
}

impl<'a> Taped<'a> {
    /// Plays a script once.
    pub fn of(work: Work<'a>, script: Script) -> Taped<'a> {
        let folder = tempfile::tempdir().unwrap();
        let home = Home::find(Some(folder.path())).unwrap();
        let clock = SetClock::at(script.start());
        let mut face = ScriptFace::new(script.clone(), &clock, Vec::new(), STYLE);
        let (moves, before, file) = (Vec::new(), Vec::new(), PathBuf::new());
        let mut taping = Taping { face: &mut face, records: home.records(), moves, before, file };
        let mut stage =
            Stage { face: &mut taping, clock: &clock, width: STYLE.width, occasion: Occasion::Demo };
        perform(work, &home, &mut stage).unwrap();
        let Taping { moves, file, before, .. } = taping;
        Taped { work, script, moves, file, before }
    }

    /// How many questions were asked.
    pub fn questions(&self) -> usize {
        self.before.len()
    }

    /// The work, begun anew with the record as it stood before a question, as after a power cut;
    /// so many more answers of the script are given.
    pub fn gone_on_with(&self, question: usize, answers: usize) -> Kept {
        let folder = tempfile::tempdir().unwrap();
        let home = Home::find(Some(folder.path())).unwrap();
        let (bytes, moves) = &self.before[question];
        fs::create_dir_all(home.records()).unwrap();
        let record = home.records().join(self.file.file_name().unwrap());
        fs::write(&record, bytes).unwrap();
        let clock = SetClock::at(self.script.start());
        let mut transcript = Vec::new();
        let mut face = ScriptFace::new(self.script.clone(), &clock, &mut transcript, STYLE);
        for moved in &self.moves[..*moves] {
            match moved {
                Moved::Show(block) => face.show(block).unwrap(),
                Moved::Ask(prompt) => drop(face.ask(prompt).unwrap()),
                Moved::CountDown(countdown) => drop(face.count_down(countdown, &clock).unwrap()),
            }
        }
        let mut exit = BreaksOff { face: &mut face, answers };
        let mut stage =
            Stage { face: &mut exit, clock: &clock, width: STYLE.width, occasion: Occasion::Demo };
        let ended = resume(None, &home, &mut stage);
        if answers == usize::MAX {
            face.finish().unwrap();
        }
        Kept {
            transcript: String::from_utf8(transcript).unwrap(),
            done: ended.unwrap(),
            file: self.file.file_name().unwrap().to_str().unwrap().to_string(),
            record: fs::read_to_string(&record).unwrap(),
        }
    }
}

/// A script of the given text.
pub fn script(name: &str, text: &str) -> Script {
    Script::load(&SourceText::new(name, text)).unwrap()
}
