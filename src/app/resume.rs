//! `resume`: go on with an unfinished run.

use std::path::{Path, PathBuf};

use super::conversation::Conversation;
use super::from_paper;
use super::installation::offer_to_keep;
use super::kept_setting::{replayed, setting};
use super::practice::go_on_practicing;
use super::unfinished::{meant, open_runs};
use super::unseen::with_unseen;
use super::{Done, Failure, Home, Occasion, Result, Stage};
use crate::console::Block;
use crate::procedure::Signal;
use crate::record::{Contents, FileStorage, Glance, RecordList, Recorder, list};
use crate::words::{list as listed, near, non_empty};

/// Goes on with the run of that id, or, without one, with the only unfinished run.
///
/// # Errors
/// When there is no such run, it is being performed elsewhere, or its record cannot be used.
pub fn resume(id: Option<&str>, home: &Home, stage: &mut Stage<'_>) -> Result<Done> {
    let path = find(id, home)?;
    let (recorder, contents, torn) = Recorder::reopen(&path)?;
    if let Some(warning) = recorder.warning() {
        stage.show(Block::Aside, warning)?;
    }
    stage.show(Block::Heading, format!("Going on: {}", contents.header.title))?;
    let notice = |text| Block::Warning(Signal::Notice, text);
    if let Some(torn) = torn {
        stage.show(notice, torn.message())?;
    }
    let last = contents.entries.last().map_or(contents.header.started, |entry| entry.at);
    if stage.clock.now() < last && contents.header.transcribed.is_none() {
        let text = format!(
            "This machine's clock shows an earlier time than the last answer has, {} {}: set it right before you go on.",
            last.date(),
            last.time_of_day()
        );
        stage.show(notice, text)?;
    }
    if let Some(practiced) = &contents.header.practice {
        return go_on_practicing(practiced, (recorder, &contents), stage);
    }
    match contents.header.transcribed {
        Some(_) => {
            let lines = from_paper::sheet_lines(&setting(&contents)?);
            from_paper::go_on(last, lines, stage, |stage| go_on(recorder, contents, stage))
        }
        None => {
            let done = go_on(recorder, contents, stage)?;
            if stage.occasion == Occasion::Work {
                offer_to_keep(&path, home, stage)?;
            }
            Ok(done)
        }
    }
}

fn go_on(recorder: Recorder<FileStorage>, contents: Contents, stage: &mut Stage<'_>) -> Result<Done> {
    let (run, events) = replayed(&contents, recorder.path(), stage.clock.now())?;
    Conversation::new(stage, run, recorder, contents.header.id).having_shown(&contents.entries).go(events)
}

/// The path of the unfinished run's record that is meant.
fn find(word: Option<&str>, home: &Home) -> Result<PathBuf> {
    if let Some(practice) = word.and_then(|word| file_of(&home.practice(), word)) {
        return Ok(practice);
    }
    let open = open_runs(home)?;
    let fitting = match word {
        Some(word) if word.ends_with(".toml") => return find_record(word, home),
        Some(word) => meant(word, &open),
        None => open.iter().collect(),
    };
    match (fitting.as_slice(), word) {
        ([], Some(word)) => find_record(word, home),
        ([], None) => {
            let none = "No run waits to be gone on with. `tankhand run flush` begins one.";
            Err(Failure::Call(with_unseen(none, &list(&home.records())?.account)))
        }
        ([one], _) => Ok(one.path.clone()),
        (several, _) => {
            let line = |glance: &&Glance| {
                let tanks = non_empty(listed(&glance.tanks, "and")).map(|tanks| format!(" (tank {tanks})"));
                format!("tankhand resume {}{}", glance.id, tanks.unwrap_or_default())
            };
            let lines: Vec<String> = several.iter().map(line).collect();
            Err(Failure::Call(format!("Several runs wait. Name one: {}", lines.join(", "))))
        }
    }
}

/// The file of a record of that id in a folder, where there is one.
fn file_of(folder: &Path, id: &str) -> Option<PathBuf> {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
    let path = folder.join(format!("{id}.toml"));
    (id.chars().all(plain) && path.is_file()).then_some(path)
}

/// The path of the record of that id; a path to a file is taken as it is.
pub(super) fn find_record(id: &str, home: &Home) -> Result<PathBuf> {
    if id.ends_with(".toml") {
        return Ok(PathBuf::from(id));
    }
    if let Some(path) = file_of(&home.records(), id) {
        return Ok(path);
    }
    let RecordList { records: glances, account } = list(&home.records())?;
    if let Some(glance) = glances.iter().find(|glance| glance.id == id) {
        return Ok(glance.path.clone());
    }
    let ids: Vec<&str> = glances.iter().map(|glance| glance.id.as_str()).collect();
    let hint = match near(id, ids.iter().copied()) {
        Some(known) => format!("did you mean `{known}`?"),
        None => "`tankhand records` lists what there is.".to_string(),
    };
    let none = format!("There is no record `{}`: {hint}", id.escape_debug());
    Err(Failure::Call(with_unseen(&none, &account)))
}
