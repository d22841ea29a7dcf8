//! A sheet filled in by hand, typed in a day later: whose times the record has.

#[path = "support/golden.rs"]
mod golden;
#[path = "support/stage.rs"]
mod stage;

use std::path::{MAIN_SEPARATOR, Path};

use golden::holds;
use tankhand::app::{Done, Home, Occasion, RunOrder, Stage, WorkOrder, resume, run};
use tankhand::clock::{Clock, Moment, SetClock};
use tankhand::console::{
    Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, Script, ScriptFace, Style,
};
use tankhand::quantity::Verdict;
use tankhand::record::{Contents, Entry, EntryKind, effective_entries, read};
use tankhand::source::SourceText;

/// Typed in at 20:00 the day after; two wrong days, mended, two slips with the time, a time of day for the length of
/// the hold, which took longer than planned.
const ANSWERS: &[(&str, &str)] = &[
    ("paper_day", "2032-04-04"),
    ("paper_begin", "8:30"),
    ("paper_day", "2031-04-03"),
    ("paper_begin", "8:30 pm or so"),
    ("paper_begin", "8:30"),
    ("paper_right", "no"),
    ("paper_day", "2031-04-04"),
    ("paper_begin", "8:30"),
    ("paper_right", ""),
    ("paper_time", ""),
    ("cut_in", "40 psi"),
    ("paper_time", "8:10"),
    ("paper_time", "8:40"),
    ("paper_hazards", "R. M."),
    ("drain", ""),
    ("air", "36"),
    ("jar", "clear"),
    ("hold", "8:52"),
    ("hold", "12"),
    ("remark", "the owner, by the sheet"),
    ("close", "seal"),
];

fn script(answers: &[(&str, &str)]) -> Script {
    let head = "format = 1\nstart = 2031-04-05T20:00:00-05:00\n".to_string();
    let text = answers
        .iter()
        .fold(head, |text, (step, give)| format!("{text}[[answer]]\nstep = \"{step}\"\ngive = \"{give}\"\n"));
    Script::load(&SourceText::new("answers.toml", text)).unwrap()
}

/// Types in the sheet, and again from where it was left when `left` answers were given.
fn typed_in(folder: &Path, left: Option<usize>) -> (String, Contents) {
    let home = Home::find(Some(folder)).unwrap();
    let mut transcript = Vec::new();
    let (first, rest) = ANSWERS.split_at(left.unwrap_or(ANSWERS.len()));
    let play = |answers: &[(&str, &str)], again: bool, out: &mut Vec<u8>| {
        let script = script(answers);
        let clock = SetClock::at(script.start());
        let style = Style { unicode: true, ..Style::plain(80) };
        let mut face = ScriptFace::new(script, &clock, out, style);
        let mut stage = Stage { face: &mut face, clock: &clock, width: 80, occasion: Occasion::Script };
        match again {
            false => {
                let procedure = "tests/support/short.toml".to_string();
                let work = WorkOrder { procedure, ..WorkOrder::default() };
                let order = RunOrder { work, from_paper: true, ..RunOrder::default() };
                run(&order, &home, &mut stage)
            }
            true => resume(None, &home, &mut stage),
        }
    };
    let ended = play(first, false, &mut transcript);
    if left.is_some() {
        // Going on, the part that was left has its time asked anew.
        let rest = [&[("paper_time", "")], rest].concat();
        let ended = play(&rest, true, &mut transcript);
        assert!(matches!(ended, Ok(Done::Well)), "{ended:?}");
    } else {
        assert!(matches!(ended, Ok(Done::Well)), "{ended:?}");
    }
    let record = std::fs::read_dir(home.records()).unwrap().next().unwrap().unwrap().path();
    (String::from_utf8(transcript).unwrap(), read(&record).unwrap())
}

/// The transcript with the home's path made the same; a long one may have broken the line.
fn with_home(transcript: &str, home: &Path) -> String {
    let (before, rest) = transcript.split_once("The record:\n").unwrap();
    let (path, after) = rest.split_once("\n    Summary").unwrap();
    let unbroken = |text: &str| text.split_whitespace().collect::<String>();
    let path = unbroken(path).replace(&unbroken(home.to_str().unwrap()), "HOME").replace(MAIN_SEPARATOR, "/");
    format!("{before}The record:\n    {path}\n    Summary{after}")
}

#[test]
fn the_record_has_the_times_of_the_sheet_and_says_that_it_was_typed_in() {
    let folder = tempfile::tempdir().unwrap();
    let (transcript, contents) = typed_in(folder.path(), None);
    holds("tests/terminal/from_paper.txt", &with_home(&transcript, folder.path()));
    assert_eq!(contents.header.started.to_string(), "2031-04-04T08:30:00-05:00");
    assert_eq!(contents.header.transcribed.unwrap().to_string(), "2031-04-05T20:00:00-05:00");
    let times: Vec<(&str, String)> =
        contents.entries.iter().map(|entry| (entry.step.as_str(), entry.at.time_of_day())).collect();
    let times: Vec<(&str, &str)> = times.iter().map(|(step, at)| (*step, at.as_str())).collect();
    let expected = [
        ("cut_in", "08:30"),
        // The initials, the hazards, the work.
        ("drain", "08:40"),
        ("drain", "08:40"),
        ("drain", "08:40"),
        ("air", "08:40"),
        ("jar", "08:40"),
        ("hold", "08:40"),
        ("hold", "08:52"),
        ("target", "08:52"),
        ("right", "08:52"),
        ("remark", "08:52"),
    ];
    assert_eq!(times, expected);
}

#[test]
fn typing_in_can_be_left_and_gone_on_with() {
    let whole = tempfile::tempdir().unwrap();
    let (_, whole) = typed_in(whole.path(), None);
    let folder = tempfile::tempdir().unwrap();
    // Left after `air`.
    let (_, halves) = typed_in(folder.path(), Some(16));
    let told = |contents: &Contents| -> Vec<(String, Option<f64>, String)> {
        let entries = contents.entries.iter().filter(|entry| entry.kind.word() != "resumed");
        entries.map(|entry| (entry.step.clone(), entry.value, entry.at.to_string())).collect()
    };
    assert_eq!(told(&halves), told(&whole));
}

/// A person with a sheet in hand: what was written on it are the answers of a run made live.
struct SheetInHand {
    /// The answers that count, by their steps, in their order.
    written: Vec<Entry>,
    began: Moment,
}

impl SheetInHand {
    fn of(live: &Contents) -> SheetInHand {
        let answers = effective_entries(&live.entries);
        let own = |entry: &&Entry| {
            let skipped = entry.kind == EntryKind::Skipped && !entry.is_derived();
            (entry.kind.is_answer() || skipped) && entry.asked.is_some() || entry.kind == EntryKind::Waited
        };
        SheetInHand { written: answers.filter(own).cloned().collect(), began: live.header.started }
    }

    /// What stands on the line of a step; it is not read twice.
    fn line(&mut self, step: &str) -> Option<Entry> {
        let at = self.written.iter().position(|entry| entry.step == step)?;
        Some(self.written.remove(at))
    }
}

impl Face for SheetInHand {
    fn show(&mut self, _: &Block) -> std::io::Result<()> {
        Ok(())
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        let text = match prompt.step.as_str() {
            "paper_day" => self.began.date(),
            "paper_begin" => self.began.time_of_day(),
            "paper_right" | "paper_time" => String::new(),
            "paper_hazards" => "R. M.".to_string(),
            "close" => "seal".to_string(),
            step => {
                let Some(entry) = self.line(step) else { panic!("{prompt:?} does not stand on the sheet") };
                match (entry.kind, entry.value) {
                    (EntryKind::Skipped, _) => {
                        return Ok(Reply::Command(Command::Skip, entry.reason.unwrap_or_default()));
                    }
                    (EntryKind::Waited, Some(seconds)) => (seconds / 60.0).to_string(),
                    _ => entry.given.unwrap_or_default(),
                }
            }
        };
        Ok(Reply::Text(text))
    }

    fn count_down(&mut self, _: &Countdown, _: &dyn Clock) -> Result<CountdownEnd, Ended> {
        unreachable!("nothing is counted down on paper")
    }
}

/// What counts of an entry.
type OfAnEntry = (String, &'static str, Option<f64>, Option<String>, Option<&'static str>);

/// A sheet filled in while a run was made live, typed in a year later, comes to the same record but for its
/// times: every answer, value, verdict and finding.
#[test]
fn what_is_typed_in_comes_to_the_same_as_live() {
    for demo in ["gritty-tank", "mountain-hut", "two-tanks-spring"] {
        comes_to_the_same(demo);
    }
}

/// A flush, one with a jet pump in metric units, and a yearly check of two tanks.
fn comes_to_the_same(demo: &str) {
    let demo = stage::demo(demo);
    let live = stage::played(demo).contents();
    let folder = tempfile::tempdir().unwrap();
    let home = Home::find(Some(folder.path())).unwrap();
    let mut face = SheetInHand::of(&live);
    let clock = SetClock::at(Moment::parse("2033-04-05T20:00:00-05:00").unwrap());
    let mut stage = Stage { face: &mut face, clock: &clock, width: 80, occasion: Occasion::Script };
    let system = format!("transcripts-demo/{}/system.toml", demo.name);
    let (procedure, system) = (demo.procedure.to_string(), Some(system.into()));
    let work = WorkOrder { procedure, system, tank: None };
    let order = RunOrder { work, from_paper: true, ..RunOrder::default() };
    let ended = run(&order, &home, &mut stage);
    assert!(matches!(ended, Ok(Done::Well)), "{ended:?}");
    assert_eq!(face.written, [], "it stands on the sheet and was not asked for");
    let record = std::fs::read_dir(home.records()).unwrap().next().unwrap().unwrap().path();
    let typed = read(&record).unwrap();
    let told = |contents: &Contents| -> Vec<OfAnEntry> {
        let counts = effective_entries(&contents.entries);
        let counts = counts.filter(|entry| !entry.kind.leads_in() && !entry.kind.is_aside());
        let kept =
            counts.filter(|entry| entry.kind != EntryKind::Withdrawn && entry.kind != EntryKind::Message);
        kept.map(|entry| {
            let verdict = entry.verdict.map(Verdict::word);
            (entry.step.clone(), entry.kind.word(), entry.value, entry.given.clone(), verdict)
        })
        .collect()
    };
    assert_eq!(told(&typed), told(&live));
}
