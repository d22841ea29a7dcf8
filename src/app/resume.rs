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
use crate::record::{
    Contents, FileLook, FileStorage, Glance, RecordFault, RecordList, Recorder, Trouble, diverging, list,
    typed_path,
};
use crate::words::{list as listed, near, non_empty, path_shown};

/// Goes on with the run of that id, or, without one, with the only unfinished run.
///
/// # Errors
/// When there is no such run, it is being performed elsewhere, or its record cannot be used.
pub fn resume(id: Option<&str>, home: &Home, stage: &mut Stage<'_>) -> Result<Done> {
    let path = find(id, home)?;
    let (recorder, contents, torn) = Recorder::reopen(&path)?;
    if let Some(note) = of_another_name(&path, &contents) {
        stage.show(Block::Aside, note)?;
    }
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

/// That a run goes on in another file than the one of its name.
fn of_another_name(path: &Path, contents: &Contents) -> Option<String> {
    let own = path.with_file_name(format!("{}.toml", contents.header.id));
    (own != path && own.is_file()).then(|| {
        format!(
            "This run goes on in {}. Nothing more is written to {}: keep that one elsewhere.",
            path_shown(path),
            path_shown(own)
        )
    })
}

/// The record to go on with, unless a file that was saved of its run goes on otherwise.
fn undisputed(glance: &Glance) -> Result<PathBuf> {
    let others = diverging(glance);
    if others.is_empty() {
        return Ok(glance.path.clone());
    }
    let call = |path: &PathBuf| format!("tankhand resume {}", typed_path(path));
    let calls: Vec<String> = std::iter::once(&glance.path).chain(&others).map(call).collect();
    let why = "More than one file holds this run, and each goes on otherwise: compare them, then name one";
    Err(Failure::Call(format!("{why}: {}", listed(&calls, "or"))))
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
            Err(Failure::Call(with_unseen(none, &list(&home.records())?.account, home)))
        }
        ([one], _) => undisputed(one),
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

/// The path of the record of that id; a path to a file is taken as it is, whatever its ending.
pub(super) fn find_record(id: &str, home: &Home) -> Result<PathBuf> {
    if id.ends_with(".toml") {
        return Ok(PathBuf::from(id));
    }
    let own = file_of(&home.records(), id);
    if let Some(path) = &own {
        match FileLook::at(path) {
            FileLook::Record(..) => return Ok(path.clone()),
            FileLook::Fault(RecordFault { trouble: Trouble::Twice { other, .. }, .. }) => return Ok(other),
            FileLook::Fault(_) | FileLook::Other(_) => {}
        }
    } else if Path::new(id).is_file() {
        return Ok(PathBuf::from(id));
    }
    let RecordList { records: glances, account } = list(&home.records())?;
    let other = glances.iter().find(|glance| glance.id == id).map(|glance| glance.path.clone());
    if let Some(path) = other.or(own) {
        return Ok(path);
    }
    let ids: Vec<&str> = glances.iter().map(|glance| glance.id.as_str()).collect();
    let hint = match near(id, ids.iter().copied()) {
        Some(known) => format!("did you mean `{known}`?"),
        None => "`tankhand records` lists what there is.".to_string(),
    };
    let none = format!("There is no record `{}`: {hint}", id.escape_debug());
    Err(Failure::Call(with_unseen(&none, &account, home)))
}
