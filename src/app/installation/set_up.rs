//! The installation asked for, one thing after the other; written only at the end.

use std::ops::ControlFlow::{self, Break, Continue};
use std::path::Path;

use super::edit::InstallationEdit;
use crate::app::asking::agreed;
use crate::app::{Done, Failure, Result, Stage};
use crate::console::{Block, Command, Prompt, Reply, ReplyKind};
use crate::procedure::NOT_KNOWN;
use crate::quantity::{Family, Measure, Typed, read_pair};
use crate::system::{COMMON_GAUGES, GAUGE_KINDS, PathEntry, PathKind, paths_of};
use crate::words::{capitalized, path_shown};

/// How the questions are answered.
const HOW: &str = "Enter leaves a thing out, or keeps what is there. `back` goes to the question before, `list` shows what \
                   changed, `pause` goes to the end. Nothing is written before you say so there.";
/// The switch's two points, asked at once.
const BOTH: [&str; 2] = ["switch.cut_in", "switch.cut_out"];
/// The gauges worth describing: their uncertainty is in every result.
const GAUGES: [(&str, &str); 2] =
    [("line", "pressure gauge at the tank tee"), ("air", "tire gauge that reads the precharge")];

/// What is asked, one thing after the other.
enum SetUpQuestion {
    /// One entry of the file, with the tank or gauge it is of.
    Entry(FileQuestion, Option<String>),
    /// Cut-in and cut-out at once, as the label has them.
    Switch,
    /// The short word of one more tank.
    Tank,
}

/// What an answer leads to.
enum SetUpTurn {
    /// The next question.
    Next,
    /// The question of this place again: others stand before the rest now.
    Same,
    /// The question before.
    Back,
    /// No more questions: what was told so far may be written.
    Leave,
}

/// Asks for everything a system file may say, and writes it when that is wanted.
///
/// # Errors
/// When the file has faults, or cannot be read or written.
pub(super) fn set_up(path: &Path, stage: &mut Stage<'_>) -> Result<Done> {
    let edit = InstallationEdit::of(path)?;
    stage.show(Block::Heading, "Your installation")?;
    stage.show(Block::Text, HOW)?;
    let tanks = edit.system().tanks.iter().map(|tank| tank.id.to_string()).collect();
    let mut questions = Questions { edit, stage, tanks };
    questions.all()?;
    questions.write(path)
}

/// The questions under way.
struct Questions<'s, 'b> {
    edit: InstallationEdit,
    stage: &'s mut Stage<'b>,
    /// The tanks' short words: those of the file, and those told since.
    tanks: Vec<String>,
}

impl Questions<'_, '_> {
    /// Puts all of them, until the last is answered or the person leaves.
    fn all(&mut self) -> Result<()> {
        let mut at = 0;
        while let Some(question) = self.list().into_iter().nth(at) {
            let turn = match question {
                SetUpQuestion::Entry(question, id) => self.put(&question, id.as_deref())?,
                SetUpQuestion::Switch => self.switch()?,
                SetUpQuestion::Tank => self.tank()?,
            };
            match turn {
                SetUpTurn::Next => at += 1,
                SetUpTurn::Same => {}
                SetUpTurn::Back => at = at.saturating_sub(1),
                SetUpTurn::Leave => break,
            }
        }
        Ok(())
    }

    /// All questions, as the tanks stand.
    fn list(&self) -> Vec<SetUpQuestion> {
        let name = ask_for("What do you call the place?", "name", ReplyKind::Line);
        let units = ask_for("Which units do you read?", "units", one_of(&["us", "metric"]));
        let mut list = vec![SetUpQuestion::Entry(name, None), SetUpQuestion::Entry(units, None)];
        list.extend(self.section(""));
        list.push(SetUpQuestion::Switch);
        let rest = paths_of("switch").filter(|(entry, _)| !BOTH.contains(&entry.path));
        list.extend(rest.map(|(entry, _)| self.entry(entry, None)));
        for table in ["pump", "relief", "house", "layout"] {
            list.extend(self.section(table));
        }
        for tank in &self.tanks {
            list.extend(paths_of("tank").map(|(entry, _)| self.entry(entry, Some(tank))));
        }
        list.push(SetUpQuestion::Tank);
        list.extend(GAUGES.iter().flat_map(|(id, what)| gauge(id, what)));
        list
    }

    /// What one table may say.
    fn section(&self, table: &'static str) -> impl Iterator<Item = SetUpQuestion> {
        paths_of(table).map(|(entry, _)| self.entry(entry, None))
    }

    fn entry(&self, entry: &PathEntry, id: Option<&str>) -> SetUpQuestion {
        let (expects, unit) = match entry.kind {
            PathKind::YesNo => (one_of(&["yes", "no"]), String::new()),
            PathKind::Words(words) => (one_of(words), String::new()),
            PathKind::Text => (ReplyKind::Line, String::new()),
            PathKind::Measure(measure) => (ReplyKind::Line, self.unit(measure)),
        };
        let whose = id.map_or(String::new(), |id| format!("Tank {id}: "));
        let text = format!("{whose}{}{unit}?", capitalized(entry.means));
        let question = FileQuestion { text, path: entry.path.to_string(), expects };
        SetUpQuestion::Entry(question, id.map(ToString::to_string))
    }

    fn unit(&self, measure: Measure) -> String {
        let unit = self.edit.system().units.unwrap_or_default().unit_for(measure);
        unit.map_or(String::new(), |unit| format!(", {}", unit.symbol))
    }

    fn switch(&mut self) -> Result<SetUpTurn> {
        let written = BOTH.map(|path| self.edit.written(path, None));
        let usual =
            if let [Some(low), Some(high)] = written { Some(format!("{low} to {high}")) } else { None };
        self.tell("Cut-in and cut-out by the switch's label, such as 30/50. A run watches what they are.")?;
        loop {
            let typed =
                match self.typed("switch", ("cut-in and cut-out", ReplyKind::Line), usual.as_deref())? {
                    Continue(typed) => typed,
                    Break(turn) => return Ok(turn),
                };
            if typed.trim().is_empty() || usual.as_deref() == Some(typed.as_str()) {
                return Ok(SetUpTurn::Next);
            }
            let done =
                read_pair(&typed, Family::Pressure).map_err(|error| error.to_string()).and_then(|pair| {
                    let [low, high] = pair.map(as_typed);
                    let values = [(BOTH[0], Some(low.as_str())), (BOTH[1], Some(high.as_str()))];
                    self.edit.set_all(&values, None).map_err(|failure| in_a_sentence(&failure))
                });
            match done {
                Ok(()) => return Ok(SetUpTurn::Next),
                Err(why) => self.stage.show(Block::Refusal, why)?,
            }
        }
    }

    /// One more tank, whose questions then stand at this place.
    fn tank(&mut self) -> Result<SetUpTurn> {
        let first = self.tanks.is_empty();
        self.tell(match first {
            true => "A short word for the tank, such as main:",
            false => "Another tank? Its short word:",
        })?;
        Ok(match self.typed("tank", ("tank", ReplyKind::Line), first.then_some("main"))? {
            Continue(id) if id.trim().is_empty() => SetUpTurn::Next,
            Continue(id) => {
                self.tanks.push(id.trim().to_string());
                SetUpTurn::Same
            }
            Break(turn) => turn,
        })
    }

    /// Puts one question until its answer can stand in the file.
    fn put(&mut self, question: &FileQuestion, id: Option<&str>) -> Result<SetUpTurn> {
        let written = self.edit.written(&question.path, id);
        let usual = match question.expects {
            ReplyKind::OneOf(_) => Some(written.clone().unwrap_or_else(|| NOT_KNOWN.to_string())),
            ReplyKind::Line | ReplyKind::Enter | ReplyKind::Word(_) => written.clone(),
        };
        self.tell(&question.text)?;
        loop {
            let asked = (question.path.as_str(), question.expects.clone());
            let typed = match self.typed(&question.path, asked, usual.as_deref())? {
                Continue(typed) => typed,
                Break(turn) => return Ok(turn),
            };
            let text = Some(typed.trim()).filter(|text| !text.is_empty() && *text != NOT_KNOWN);
            if text.is_none() && written.is_none() {
                return Ok(SetUpTurn::Next);
            }
            match self.edit.set_all(&[(&question.path, text)], id) {
                Ok(()) => return Ok(SetUpTurn::Next),
                Err(failure) => self.stage.show(Block::Refusal, in_a_sentence(&failure))?,
            }
        }
    }

    /// What is typed at a question; what is no answer is carried out.
    fn typed(
        &mut self,
        step: &str,
        (label, expects): (&str, ReplyKind),
        usual: Option<&str>,
    ) -> Result<ControlFlow<SetUpTurn, String>> {
        let mut prompt = Prompt::new(step, label, expects);
        prompt.usual = usual.map(ToString::to_string);
        prompt.commands = vec![Command::Why, Command::List, Command::Back, Command::Pause];
        loop {
            match self.stage.face.ask(&prompt) {
                Ok(Reply::Text(text)) => return Ok(Continue(text)),
                Ok(Reply::Command(Command::Why, _)) => self.tell(HOW)?,
                Ok(Reply::Command(Command::List, _)) => self.show_changes()?,
                Ok(Reply::Command(Command::Back, _)) => return Ok(Break(SetUpTurn::Back)),
                Ok(Reply::Command(..)) => return Ok(Break(SetUpTurn::Leave)),
                Err(ended) => return Failure::unless_left(ended).map(|()| Break(SetUpTurn::Leave)),
            }
        }
    }

    /// What would be written by now.
    fn show_changes(&mut self) -> Result<()> {
        let changes = match self.edit.changes().join("\n") {
            none if none.is_empty() => "Nothing was changed yet.".to_string(),
            changes => changes,
        };
        self.stage.show(Block::Help, changes)
    }

    fn tell(&mut self, text: &str) -> Result<()> {
        self.stage.show(Block::Text, text)
    }

    /// Shows what would be written, and writes it when that is wanted.
    fn write(self, path: &Path) -> Result<Done> {
        let Questions { edit, stage, tanks: _ } = self;
        stage.show(Block::Heading, "What is written")?;
        if edit.changes().is_empty() {
            return edit.save(path, stage);
        }
        stage.show(Block::Help, edit.changes().join("\n"))?;
        if !agreed(stage, "write", "write it")? {
            stage.show(Block::Text, "Nothing was written.")?;
            return Ok(Done::Short);
        }
        edit.write(path)?;
        stage.show(Block::Aside, format!("Written: {}", path_shown(path)))?;
        Ok(Done::Well)
    }
}

/// One question about the file.
struct FileQuestion {
    text: String,
    path: String,
    expects: ReplyKind,
}

fn ask_for(text: &str, path: &str, expects: ReplyKind) -> FileQuestion {
    FileQuestion { text: text.to_string(), path: path.to_string(), expects }
}

/// What a gauge is, and its smallest mark.
fn gauge(id: &str, what: &str) -> [SetUpQuestion; 2] {
    let family = COMMON_GAUGES.iter().find(|gauge| gauge.id == id).map(|gauge| gauge.family);
    let kinds = GAUGE_KINDS.iter().filter(|kind| Some(kind.family) == family);
    let kinds: Vec<&str> = kinds.map(|kind| kind.id.as_ref()).collect();
    let kind = format!("What is the {what}?");
    let mark = format!("Smallest mark, or last step of the display, of the {what}?");
    [ask_for(&kind, "gauge.kind", one_of(&kinds)), ask_for(&mark, "gauge.division", ReplyKind::Line)]
        .map(|question| SetUpQuestion::Entry(question, Some(id.to_string())))
}

fn one_of(words: &[&str]) -> ReplyKind {
    let words = words.iter().chain([&NOT_KNOWN]);
    ReplyKind::OneOf(words.map(|word| (word.to_string(), word.to_string())).collect())
}

fn as_typed(typed: Typed) -> String {
    typed.unit.map_or_else(|| typed.number.to_string(), |unit| format!("{} {}", typed.number, unit.symbol))
}

/// What is wrong, and what to do about it.
fn in_a_sentence(failure: &Failure) -> String {
    match failure {
        Failure::Faults(faults) => faults.first().map_or_else(String::new, |fault| {
            format!("{}.", capitalized(fault.message.trim_end_matches('.')))
        }),
        other => other.to_string(),
    }
}
