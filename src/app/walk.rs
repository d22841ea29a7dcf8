//! The conversation: a run on one side, a face on the other, the record between.
//!
//! What the run yields is written and synced before anything more is asked.

use std::time::Duration;

use super::failure::{Done, Failure};
use crate::clock::Clock;
use crate::console::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, Want};
use crate::engine::{Ask, Event, Input, Refusal, Run, Wanted};
use crate::quantity::{Kind, Verdict};
use crate::record::{Entry, EntryKind, FileStorage, Outcome, Recorder, Summary};
use crate::words::ordinal;

/// The face and the clock of a conversation.
pub struct Stage<'a> {
    /// Who is talked to.
    pub face: &'a mut dyn Face,
    /// The time.
    pub clock: &'a dyn Clock,
    /// Columns for pages laid out beforehand.
    pub width: usize,
    /// A demonstration, whose record is not kept.
    pub demo: bool,
}

/// A conversation under way.
pub(super) struct Walk<'a, 'b> {
    pub stage: &'a mut Stage<'b>,
    pub run: Run,
    pub recorder: Recorder<FileStorage>,
    pub id: String,
    section: Option<String>,
}

/// What comes after one question.
enum Next {
    GoOn,
    Leave(&'static str),
}

/// The commands a person may type at the last question.
const CLOSING: &[Command] = &[Command::Back, Command::Note, Command::Pause];

impl<'a, 'b> Walk<'a, 'b> {
    pub fn new(
        stage: &'a mut Stage<'b>,
        run: Run,
        recorder: Recorder<FileStorage>,
        id: String,
    ) -> Walk<'a, 'b> {
        Walk { stage, run, recorder, id, section: None }
    }

    /// Walks the procedure to its end or until the person leaves.
    pub fn go(mut self, first: Vec<Event>) -> Result<Done, Failure> {
        self.keep(first)?;
        loop {
            let answered = match self.run.ask() {
                Some(ask) => self.question(&ask),
                None => self.close(),
            };
            match answered {
                Ok(Some(Next::GoOn)) => {}
                Ok(Some(Next::Leave(why))) => return self.leave(why),
                Ok(None) => return self.finished(),
                Err(Trouble::Ended(ended)) => return self.broken_off(ended),
                Err(Trouble::Failure(failure)) => return Err(failure),
            }
        }
    }

    /// Writes what came about, then shows it.
    fn keep(&mut self, events: Vec<Event>) -> Result<(), Failure> {
        let entries: Vec<Entry> = events.iter().map(|event| event.entry.clone()).collect();
        if !entries.is_empty() {
            self.recorder.append(&entries)?;
        }
        let known: Vec<String> = entries.iter().filter_map(known_fact).collect();
        if !known.is_empty() {
            let lead = "Taken from the system file: ";
            self.stage.face.show(&Block::Aside(format!("{lead}{}.", known.join("; "))))?;
        }
        for event in &events {
            self.show_event(event)?;
        }
        Ok(())
    }

    fn heading(&mut self, section: &Option<String>) -> Result<(), Failure> {
        if let Some(title) = section.as_ref().filter(|_| *section != self.section) {
            self.stage.face.show(&Block::Heading(title.clone()))?;
        }
        if section.is_some() {
            self.section = section.clone();
        }
        Ok(())
    }

    fn show_event(&mut self, event: &Event) -> Result<(), Failure> {
        let entry = &event.entry;
        let said = entry.said.clone();
        let block = match (entry.kind, said) {
            (EntryKind::Computed, Some(said)) => Block::Text(said),
            (EntryKind::Checked, Some(said)) => {
                Block::Verdict(entry.verdict.unwrap_or(Verdict::CantTell), said)
            }
            (EntryKind::Stopped, Some(said)) => {
                self.heading(&event.section)?;
                self.stage.face.show(&Block::Heading("The work stops here".to_string()))?;
                Block::Text(said)
            }
            _ => return Ok(()),
        };
        self.heading(&event.section)?;
        self.stage.face.show(&block)?;
        Ok(())
    }

    /// Puts one question until it is answered or the person goes elsewhere.
    fn question(&mut self, ask: &Ask) -> Result<Option<Next>, Trouble> {
        self.heading(&ask.section)?;
        match &ask.wanted {
            Wanted::WaitBegins(_) => {
                let now = self.stage.clock.now();
                self.take(Input::WaitBegins, now)?;
                return Ok(Some(Next::GoOn));
            }
            Wanted::WaitOver(whole, begun, early) => {
                self.show_ask(ask)?;
                return self.wait(ask, *whole, (*begun, *early));
            }
            _ => {}
        }
        self.show_ask(ask)?;
        let prompt = prompt(ask);
        loop {
            match self.stage.face.ask(&prompt).map_err(Trouble::Ended)? {
                Reply::Text(text) => {
                    if self.answer(&prompt, &text)? {
                        return Ok(Some(Next::GoOn));
                    }
                }
                Reply::Command(Command::Pause, _) => return Ok(Some(Next::Leave("Left at your word."))),
                Reply::Command(Command::Why, _) => self.explain(ask)?,
                Reply::Command(command, words) => {
                    if self.command(command, &words)? {
                        return Ok(Some(Next::GoOn));
                    }
                }
            }
        }
    }

    /// Gives the run an answer; `false` when it must be asked again.
    fn answer(&mut self, prompt: &Prompt, text: &str) -> Result<bool, Trouble> {
        let now = self.stage.clock.now();
        match self.run.take(Input::Answer(text, false), now) {
            Ok(events) => self.keep(events)?,
            Err(Refusal::Again(why)) => {
                self.stage.face.show(&Block::Refusal(why)).map_err(Failure::from)?;
                return Ok(false);
            }
            Err(Refusal::Doubt(why)) => {
                self.stage.face.show(&Block::Refusal(why)).map_err(Failure::from)?;
                if !self.meant(prompt)? {
                    return Ok(false);
                }
                let now = self.stage.clock.now();
                match self.run.take(Input::Answer(text, true), now) {
                    Ok(events) => self.keep(events)?,
                    Err(_) => return Ok(false),
                }
            }
        }
        Ok(true)
    }

    /// Asks whether an unlikely answer is meant.
    fn meant(&mut self, prompt: &Prompt) -> Result<bool, Trouble> {
        let choices = [("yes", "yes, that is what it shows"), ("no", "no, ask again")];
        let sure = Prompt {
            step: prompt.step.clone(),
            which: "sure?".to_string(),
            label: "keep it".to_string(),
            want: Want::OneOf(choices.map(|(value, label)| (value.to_string(), label.to_string())).into()),
            usual: None,
            earlier: None,
            commands: Vec::new(),
        };
        Ok(self.stage.face.ask(&sure).map_err(Trouble::Ended)? == Reply::Text("yes".to_string()))
    }

    /// Carries out a command; `true` when the run moved.
    fn command(&mut self, command: Command, words: &str) -> Result<bool, Trouble> {
        let words = match (command, words.trim()) {
            (Command::Note, "") => self.line("note", "your remark")?,
            (Command::Skip, "") => self.line("skip", "why is it skipped?")?,
            (_, words) => words.to_string(),
        };
        let input = match command {
            Command::Back => Input::Back,
            Command::Skip => Input::Skip(&words),
            _ => Input::Note(&words),
        };
        let now = self.stage.clock.now();
        match self.run.take(input, now) {
            Ok(events) => {
                self.keep(events)?;
                if command == Command::Note {
                    self.stage.face.show(&Block::Aside("Noted.".to_string())).map_err(Failure::from)?;
                }
                Ok(command != Command::Note)
            }
            Err(Refusal::Again(why) | Refusal::Doubt(why)) => {
                self.stage.face.show(&Block::Refusal(why)).map_err(Failure::from)?;
                Ok(false)
            }
        }
    }

    fn line(&mut self, step: &str, label: &str) -> Result<String, Trouble> {
        let prompt = Prompt {
            step: step.to_string(),
            which: String::new(),
            label: label.to_string(),
            want: Want::Line,
            usual: None,
            earlier: None,
            commands: Vec::new(),
        };
        match self.stage.face.ask(&prompt).map_err(Trouble::Ended)? {
            Reply::Text(text) => Ok(text),
            Reply::Command(..) => Ok(String::new()),
        }
    }

    fn take(&mut self, input: Input<'_>, now: crate::clock::Moment) -> Result<(), Trouble> {
        match self.run.take(input, now) {
            Ok(events) => Ok(self.keep(events)?),
            Err(Refusal::Again(why) | Refusal::Doubt(why)) => Err(Trouble::Failure(Failure::Machine(why))),
        }
    }

    fn wait(
        &mut self,
        ask: &Ask,
        whole: Duration,
        (begun, early): (crate::clock::Moment, bool),
    ) -> Result<Option<Next>, Trouble> {
        let passed = self.stage.clock.now().since(begun);
        let countdown = Countdown {
            step: ask.place.step.to_string(),
            label: "to wait".to_string(),
            whole,
            passed,
            early,
        };
        let end = self.stage.face.count_down(&countdown, self.stage.clock).map_err(Trouble::Ended)?;
        match end {
            CountdownEnd::Over(length) => {
                let now = self.stage.clock.now();
                self.take(Input::WaitOver(length), now)?;
                Ok(Some(Next::GoOn))
            }
            CountdownEnd::Pause => Ok(Some(Next::Leave("Left during the wait, which goes on by the clock."))),
        }
    }

    fn show_ask(&mut self, ask: &Ask) -> Result<(), Failure> {
        let face = &mut self.stage.face;
        if let Some(danger) = &ask.danger {
            face.show(&Block::Danger(danger.clone()))?;
        }
        face.show(&Block::Text(ask.text.clone()))?;
        if let Some(see) = &ask.see {
            face.show(&Block::Aside(see.clone()))?;
        }
        Ok(())
    }

    /// Why a step is done, how, and what may be typed.
    fn explain(&mut self, ask: &Ask) -> Result<(), Failure> {
        let face = &mut self.stage.face;
        if ask.why.is_none() && ask.how.is_none() {
            face.show(&Block::Aside("There is no more to say about this step.".to_string()))?;
        }
        if let Some(why) = &ask.why {
            face.show(&Block::Text(format!("Why: {why}")))?;
        }
        if let Some(how) = &ask.how {
            face.show(&Block::Text(format!("How: {how}")))?;
        }
        if let Wanted::OneOf(choices) = &ask.wanted {
            for choice in choices {
                if let Some(help) = &choice.help {
                    face.show(&Block::Aside(format!("{}: {help}", choice.value)))?;
                }
            }
        }
        let commands: Vec<String> =
            commands(ask).iter().map(|c| format!("{} ({})", c.word(), c.meaning())).collect();
        face.show(&Block::Aside(format!("You can type: {}.", commands.join(", "))))?;
        Ok(())
    }

    /// The run has ended; the person may still amend before the record is closed for good.
    fn close(&mut self) -> Result<Option<Next>, Trouble> {
        let prompt = Prompt {
            step: "close".to_string(),
            which: String::new(),
            label: "close the record".to_string(),
            want: Want::Enter,
            usual: None,
            earlier: None,
            commands: CLOSING.to_vec(),
        };
        let text = "Press Enter to close the record. After that it cannot be changed.";
        self.stage.face.show(&Block::Aside(text.to_string())).map_err(Failure::from)?;
        loop {
            match self.stage.face.ask(&prompt) {
                // Nobody is there to amend anything: what was answered stands.
                Ok(Reply::Text(_)) | Err(Ended::NoMoreInput) => return Ok(None),
                Err(ended) => return Err(Trouble::Ended(ended)),
                Ok(Reply::Command(Command::Pause, _)) => {
                    return Ok(Some(Next::Leave("Left before the record was closed.")));
                }
                Ok(Reply::Command(command, words)) => {
                    if self.command(command, &words)? {
                        return Ok(Some(Next::GoOn));
                    }
                }
            }
        }
    }

    /// Closes the record and shows the summary.
    fn finished(mut self) -> Result<Done, Failure> {
        let at = self.stage.clock.now();
        let (outcome, words) =
            self.run.ended().cloned().unwrap_or((Outcome::Unfinished, "It was not ended.".to_string()));
        self.recorder.finish(&Summary { outcome, at, words })?;
        let path = self.recorder.path().to_path_buf();
        let contents = crate::record::read(&path)?;
        let page = crate::report::summary_page(&contents, Some(&self.run.setting().procedure));
        let lines = crate::report::to_text(&page, self.stage.width);
        self.stage.face.show(&Block::Lines(lines))?;
        if self.stage.demo {
            let text = "This was a demonstration on an invented installation; its record is not kept.";
            self.stage.face.show(&Block::Aside(text.to_string()))?;
        } else {
            self.stage.face.show(&Block::Aside(format!("Record: {}", path.display())))?;
            let again = format!("Read it again with: tankhand records show {}", self.id);
            self.stage.face.show(&Block::Aside(again))?;
        }
        Ok(if outcome == Outcome::Completed { Done::Well } else { Done::Short })
    }

    /// The person leaves; the run can be gone on with.
    fn leave(mut self, why: &str) -> Result<Done, Failure> {
        let now = self.stage.clock.now();
        if let Ok(events) = self.run.take(Input::Pause, now) {
            self.keep(events)?;
        }
        self.told_how_to_go_on(why)?;
        Ok(Done::Short)
    }

    fn told_how_to_go_on(&mut self, why: &str) -> Result<(), Failure> {
        let waiting = match self.run.ask() {
            Some(ask) => format!("{why} It waits at `{}`: {}", ask.place.step, ask.text),
            None => why.to_string(),
        };
        let face = &mut self.stage.face;
        face.show(&Block::Text(waiting))?;
        face.show(&Block::Aside(format!("Everything is kept in {}", self.recorder.path().display())))?;
        face.show(&Block::Aside(format!("Go on with: tankhand resume {}", self.id)))?;
        Ok(())
    }

    fn broken_off(mut self, ended: Ended) -> Result<Done, Failure> {
        match ended {
            Ended::NoMoreInput => self.told_how_to_go_on("The input is at its end.")?,
            Ended::Interrupted => self.told_how_to_go_on("Broken off.")?,
            Ended::Script(fault) => return Err(Failure::Faults(vec![*fault])),
            Ended::Io(error) => return Err(Failure::from(error)),
        }
        Ok(Done::Short)
    }
}

/// What breaks off a question.
enum Trouble {
    Ended(Ended),
    Failure(Failure),
}

impl From<Failure> for Trouble {
    fn from(failure: Failure) -> Trouble {
        Trouble::Failure(failure)
    }
}

/// A fact taken from the system file, in a few words.
fn known_fact(entry: &Entry) -> Option<String> {
    let known = entry.kind == EntryKind::Fact && entry.asked.is_none();
    known.then(|| format!("{} {}", entry.step.replace('_', " "), entry.given.as_deref().unwrap_or("?")))
}

fn commands(ask: &Ask) -> Vec<Command> {
    let mut commands = vec![Command::Why];
    if ask.can_back {
        commands.push(Command::Back);
    }
    commands.push(Command::Note);
    if ask.can_skip {
        commands.push(Command::Skip);
    }
    commands.push(Command::Pause);
    commands
}

/// A question of the engine as a prompt of the console.
fn prompt(ask: &Ask) -> Prompt {
    let mut which = Vec::new();
    which.extend(ask.place.round.iter().map(|round| format!("round {round}")));
    which.extend(ask.place.take.map(|take| format!("{} of {}", ordinal(take as usize), ask.takes)));
    let (label, want) = match &ask.wanted {
        Wanted::Done(None) => ("done".to_string(), Want::Enter),
        Wanted::Done(Some(word)) => ("done".to_string(), Want::Word((*word).to_string())),
        Wanted::Number(measure, unit) => {
            let name = Kind::Measure(*measure).to_string();
            let name = name.trim_start_matches("a gauge ").trim_start_matches("an ").trim_start_matches("a ");
            let unit = unit.map_or(String::new(), |unit| format!(", {}", unit.symbol));
            (format!("{name}{unit}"), Want::Line)
        }
        Wanted::YesNo => {
            let both = ["yes", "no"].map(|word| (word.to_string(), word.to_string()));
            ("yes or no".to_string(), Want::OneOf(both.into()))
        }
        Wanted::OneOf(choices) => {
            let choices = choices.iter().map(|choice| (choice.value.clone(), choice.label.clone()));
            ("which".to_string(), Want::OneOf(choices.collect()))
        }
        Wanted::Text(_) => ("text".to_string(), Want::Line),
        Wanted::WaitBegins(_) | Wanted::WaitOver(..) => ("wait".to_string(), Want::Enter),
    };
    Prompt {
        step: ask.place.step.to_string(),
        which: which.join(", "),
        label,
        want,
        usual: ask.usual.clone(),
        earlier: ask.earlier.clone(),
        commands: commands(ask),
    }
}
