//! The installation asked for, one thing after the other; written only at the end.

use std::path::Path;

use super::edit::{InstallationEdit, entries_of};
use crate::app::asking::ask_usual;
use crate::app::conversation::Stage;
use crate::app::failure::{Done, Failure};
use crate::console::{Block, ReplyKind};
use crate::quantity::{Family, Measure, Typed, read_pair};
use crate::system::{COMMON_GAUGES, GAUGE_KINDS, PathEntry, PathKind};
use crate::words::capitalized;

/// What leaves a thing out where words are chosen from.
const NOT_KNOWN: &str = "not known";
/// The gauges worth describing: their doubt is in every result.
const GAUGES: [(&str, &str); 2] =
    [("line", "pressure gauge at the tank tee"), ("air", "tire gauge that reads the precharge")];

/// Asks for everything a system file may say, and writes it when that is wanted.
///
/// # Errors
/// When the file has faults, or cannot be read or written.
pub(super) fn set_up(path: &Path, stage: &mut Stage<'_>) -> Result<Done, Failure> {
    let edit = InstallationEdit::of(path)?;
    stage.face.show(&Block::Heading("Your installation".to_string()))?;
    let text =
        "Enter leaves a thing out, or keeps what is there. Nothing is written before you say so at the end.";
    stage.face.show(&Block::Text(text.to_string()))?;
    let mut questions = Questions { edit, stage };
    if !questions.all()? {
        questions.stage.face.show(&Block::Text("Left. Nothing was written.".to_string()))?;
        return Ok(Done::Short);
    }
    questions.write(path)
}

/// The questions under way.
struct Questions<'s, 'b> {
    edit: InstallationEdit,
    stage: &'s mut Stage<'b>,
}

impl Questions<'_, '_> {
    /// Puts all of them; `false` when the person left.
    fn all(&mut self) -> Result<bool, Failure> {
        let name = ask_for("What do you call the place?", "name", ReplyKind::Line);
        let units = ask_for("Which units do you read?", "units", one_of(&["us", "metric"]));
        Ok(self.put(&name, None)?
            && self.put(&units, None)?
            && self.section("")?
            && self.switch()?
            && self.section("pump")?
            && self.section("relief")?
            && self.section("house")?
            && self.section("layout")?
            && self.tanks()?
            && self.gauges()?)
    }

    /// What one table may say, one entry after the other.
    fn section(&mut self, table: &str) -> Result<bool, Failure> {
        for entry in entries_of(table) {
            if !self.entry(entry, None)? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// Cut-in and cut-out at once, as the label has them, and the rest of the switch.
    fn switch(&mut self) -> Result<bool, Failure> {
        let both = [("switch.cut_in", 0), ("switch.cut_out", 1)];
        let written = both.map(|(path, _)| self.edit.written(path, None));
        let usual =
            if let [Some(low), Some(high)] = written { Some(format!("{low} to {high}")) } else { None };
        self.tell("Cut-in and cut-out of the switch: what you watched, else its label, such as 30/50.")?;
        loop {
            let asked = ("cut-in and cut-out", ReplyKind::Line);
            let Some(typed) = ask_usual(self.stage, "switch", asked, usual.as_deref())? else {
                return Ok(false);
            };
            if typed.trim().is_empty() || usual.as_deref() == Some(typed.as_str()) {
                break;
            }
            let done =
                read_pair(&typed, Family::Pressure).map_err(|error| error.to_string()).and_then(|pair| {
                    let texts = pair.map(as_typed);
                    let values = both.map(|(path, at)| (path, Some(texts[at].as_str())));
                    self.edit.set_all(&values, None).map_err(|failure| in_a_sentence(&failure))
                });
            let Err(why) = done else { break };
            self.stage.face.show(&Block::Refusal(why))?;
        }
        let rest = entries_of("switch").filter(|entry| both.iter().all(|(path, _)| *path != entry.path));
        for entry in rest {
            if !self.entry(entry, None)? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    fn tanks(&mut self) -> Result<bool, Failure> {
        let mut ids: Vec<String> = self.edit.system().tanks.iter().map(|tank| tank.id.to_string()).collect();
        let mut at = 0;
        loop {
            if at == ids.len() {
                let lead = if at == 0 {
                    "A short word for the tank, such as main:"
                } else {
                    "Another tank? Its short word:"
                };
                self.tell(lead)?;
                let usual = (at == 0).then_some("main");
                let Some(id) = ask_usual(self.stage, "tank", ("tank", ReplyKind::Line), usual)? else {
                    return Ok(false);
                };
                if id.trim().is_empty() {
                    return Ok(true);
                }
                ids.push(id.trim().to_string());
            }
            for entry in entries_of("tank") {
                if !self.entry(entry, Some(&ids[at]))? {
                    return Ok(false);
                }
            }
            at += 1;
        }
    }

    fn gauges(&mut self) -> Result<bool, Failure> {
        for (id, what) in GAUGES {
            let family = COMMON_GAUGES.iter().find(|gauge| gauge.id == id).map(|gauge| gauge.family);
            let kinds: Vec<&str> = GAUGE_KINDS
                .iter()
                .filter(|kind| Some(kind.family) == family)
                .map(|kind| kind.id.as_ref())
                .collect();
            let kind = format!("What is the {what}?");
            let mark = format!("Smallest mark, or last step of the display, of the {what}?");
            let asked = [
                ask_for(&kind, "gauge.kind", one_of(&kinds)),
                ask_for(&mark, "gauge.division", ReplyKind::Line),
            ];
            for question in &asked {
                if !self.put(question, Some(id))? {
                    return Ok(false);
                }
            }
        }
        Ok(true)
    }

    fn entry(&mut self, entry: &PathEntry, id: Option<&str>) -> Result<bool, Failure> {
        let expects = match entry.kind {
            PathKind::YesNo => one_of(&["yes", "no"]),
            PathKind::Words(words) => one_of(words),
            PathKind::Measure(_) | PathKind::Text => ReplyKind::Line,
        };
        let unit = match entry.kind {
            PathKind::Measure(measure) => self.unit(measure),
            PathKind::YesNo | PathKind::Text | PathKind::Words(_) => String::new(),
        };
        let whose = id.map_or(String::new(), |id| format!("Tank {id}: "));
        let text = format!("{whose}{}{unit}?", capitalized(entry.means));
        self.put(&FileQuestion { text, path: entry.path, expects }, id)
    }

    fn unit(&self, measure: Measure) -> String {
        let unit = self.edit.system().units.unwrap_or_default().unit_for(measure);
        unit.map_or(String::new(), |unit| format!(", {}", unit.symbol))
    }

    /// Puts one question until its answer can stand in the file; `false` when the person left.
    fn put(&mut self, question: &FileQuestion<'_>, id: Option<&str>) -> Result<bool, Failure> {
        let written = self.edit.written(question.path, id);
        let usual = match question.expects {
            ReplyKind::OneOf(_) => Some(written.clone().unwrap_or_else(|| NOT_KNOWN.to_string())),
            ReplyKind::Line | ReplyKind::Enter | ReplyKind::Word(_) => written.clone(),
        };
        self.tell(&question.text)?;
        loop {
            let asked = (question.path, question.expects.clone());
            let Some(typed) = ask_usual(self.stage, question.path, asked, usual.as_deref())? else {
                return Ok(false);
            };
            let text = Some(typed.trim()).filter(|text| !text.is_empty() && *text != NOT_KNOWN);
            if text.is_none() && written.is_none() {
                return Ok(true);
            }
            match self.edit.set_all(&[(question.path, text)], id) {
                Ok(()) => return Ok(true),
                Err(failure) => self.stage.face.show(&Block::Refusal(in_a_sentence(&failure)))?,
            }
        }
    }

    fn tell(&mut self, text: &str) -> Result<(), Failure> {
        Ok(self.stage.face.show(&Block::Text(text.to_string()))?)
    }

    /// Shows what would be written, and writes it when that is wanted.
    fn write(self, path: &Path) -> Result<Done, Failure> {
        let Questions { edit, stage } = self;
        stage.face.show(&Block::Heading("What is written".to_string()))?;
        if edit.changes().is_empty() {
            return edit.save(path, stage);
        }
        stage.face.show(&Block::Help(edit.changes().join("\n")))?;
        let choices = ["yes", "no"].map(|word| (word.to_string(), word.to_string()));
        let asked = ("write it", ReplyKind::OneOf(choices.into()));
        if ask_usual(stage, "write", asked, Some("yes"))?.as_deref() != Some("yes") {
            stage.face.show(&Block::Text("Nothing was written.".to_string()))?;
            return Ok(Done::Short);
        }
        edit.write(path)?;
        stage.face.show(&Block::Aside(format!("Written: {}", path.display())))?;
        Ok(Done::Well)
    }
}

/// One question about the file.
struct FileQuestion<'q> {
    text: String,
    path: &'q str,
    expects: ReplyKind,
}

fn ask_for<'q>(text: &str, path: &'q str, expects: ReplyKind) -> FileQuestion<'q> {
    FileQuestion { text: text.to_string(), path, expects }
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
