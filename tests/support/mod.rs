//! Shared by tests: procedures from a text, runs of them, and one place for time.
#![allow(dead_code)]

use std::ops::Deref;
use std::sync::Arc;
use std::time::Duration;

use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::{EarlierAnswers, Event, Refusal, Run, RunInput, Setting};
use tankhand::procedure::Procedure;
use tankhand::quantity::Units;
use tankhand::record::{Entry, EntryKind, effective_entries};
use tankhand::source::SourceText;
use tankhand::system::{self, System};

/// The moment at which tests begin.
pub fn start() -> Moment {
    Moment::parse("2031-04-05T09:00:00-05:00").unwrap()
}

/// A procedure from its steps; `head` keys are added.
pub fn procedure(steps: &str) -> Procedure {
    let text = format!("format = 1\ntitle = \"Test\"\npurpose = \"To test.\"\n{steps}");
    match Library::default().load_source(&SourceText::new("procedures/test.toml", text)) {
        Ok(procedure) => procedure,
        Err(faults) => panic!("{}", faults.iter().map(|f| f.heading() + "\n").collect::<String>()),
    }
}

/// A setting with an installation described by a system file's text.
pub fn setting(steps: &str, system_text: &str) -> Setting {
    let system = match system_text {
        "" => System::default(),
        text => system::load(&SourceText::new("system.toml", text)).unwrap(),
    };
    setting_of(Arc::new(procedure(steps)), system)
}

/// A setting with the first tank of an installation, and no earlier records.
pub fn setting_of(procedure: Arc<Procedure>, system: System) -> Setting {
    Setting {
        procedure,
        name: "test".to_string(),
        system: Arc::new(system),
        tank: 0,
        units: Units::Us,
        past: EarlierAnswers::default(),
    }
}

/// A run and everything it has recorded. Whatever is done, the run rebuilt from its record stands
/// where it stands.
pub struct Played {
    pub run: Run,
    pub entries: Vec<Entry>,
    /// The time by the clock: a minute goes by before anything is done.
    pub now: Moment,
}

/// A run played through with these answers, a space between them; `-` skips.
pub fn played(steps: &str, system: &str, answers: &str) -> Played {
    let mut played = Played::of(steps, system);
    played.answers(answers.split_whitespace());
    played
}

impl Deref for Played {
    type Target = Run;

    fn deref(&self) -> &Run {
        &self.run
    }
}

impl Played {
    /// Begins a run of these steps on an installation.
    pub fn of(steps: &str, system: &str) -> Played {
        Played::begin(setting(steps, system))
    }

    pub fn begin(setting: Setting) -> Played {
        let (run, events) = Run::begin(setting, start());
        let mut played = Played { run, entries: Vec::new(), now: start() };
        played.keep(events);
        played
    }

    fn keep(&mut self, events: Vec<Event>) {
        for event in events {
            assert_eq!(event.entry.n, self.entries.len() as u64 + 1, "numbers go on without gaps");
            self.entries.push(event.entry);
        }
        let setting = self.run.setting().clone();
        let (again, missing) = Run::replay(setting, &self.entries, self.now).unwrap();
        assert_eq!(missing, Vec::new(), "nothing is missing from the record");
        assert_eq!(again.ask(), self.run.ask());
        assert_eq!(again.ended(), self.run.ended());
        assert_eq!(again.states(), self.run.states());
        assert_eq!(again.left_to_carry(), self.run.left_to_carry());
        assert_eq!(again.facts_from_file(), self.run.facts_from_file());
        let numbers = |run: &Run| run.answered_so_far().map(|answer| answer.entry.n).collect::<Vec<_>>();
        let answers = effective_entries(&self.entries).filter(|entry| {
            let skipped = entry.kind == EntryKind::Skipped;
            (skipped || entry.kind.is_answer()) && !entry.is_derived() && !entry.kind.leads_in()
        });
        assert_eq!(numbers(&self.run), answers.map(|entry| entry.n).collect::<Vec<_>>());
        assert_eq!(numbers(&again), numbers(&self.run));
    }

    /// Does something; gives what is recorded of it.
    pub fn take(&mut self, input: RunInput<'_>) -> Result<&[Entry], Refusal> {
        let before = self.entries.len();
        let now = self.now.plus(Duration::from_secs(60));
        let events = self.run.take(input, now)?;
        self.now = now;
        self.keep(events);
        Ok(&self.entries[before..])
    }

    /// Does something that is not refused.
    #[track_caller]
    pub fn then(&mut self, input: RunInput<'_>) -> &mut Played {
        if let Err(refusal) = self.take(input.clone()) {
            panic!("{input:?}: {refusal:?} at {:?}", self.run.ask());
        }
        self
    }

    /// Gives an answer that is not questioned.
    #[track_caller]
    pub fn answer(&mut self, text: &str) -> &mut Played {
        self.then(RunInput::Answer(text))
    }

    /// Why an answer is not taken.
    pub fn refused(&mut self, text: &str) -> Refusal {
        self.take(RunInput::Answer(text)).unwrap_err()
    }

    /// Gives answers, unusual ones too; `-` skips.
    #[track_caller]
    pub fn answers<'t>(&mut self, texts: impl IntoIterator<Item = &'t str>) -> &mut Played {
        for text in texts {
            self.then(if text == "-" { RunInput::Skip("no time") } else { RunInput::Confirmed(text) });
        }
        self
    }

    /// A value in the household's units; `-` when it is not known.
    pub fn value(&self, name: &str) -> String {
        self.run.value(name).map_or("-".to_string(), |value| value.shown(Units::Us))
    }

    /// What the program said, one after the other.
    pub fn said(&self) -> Vec<&str> {
        self.entries.iter().filter_map(|entry| entry.said.as_deref()).collect()
    }

    /// The last check.
    pub fn checked(&self) -> &Entry {
        self.entries.iter().rfind(|entry| entry.kind == EntryKind::Checked).unwrap()
    }
}
