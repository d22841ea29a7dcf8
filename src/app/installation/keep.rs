//! What a run was told and what it measured, kept in the system file so that it is not asked again.

use std::path::{Path, PathBuf};

use super::edit::InstallationEdit;
use crate::app::asking::agreed;
use crate::app::kept_setting::setting;
use crate::app::past::typed;
use crate::app::{Home, Result, Stage};
use crate::console::Block;
use crate::procedure::{NOT_KNOWN, Observable, observable};
use crate::quantity::{Measure, PSI};
use crate::record::{
    Contents, Entry, EntryKind, Phase, Provenance, TextRole, effective_entries, glance, observed, read,
    recalled, si_of,
};
use crate::words::path_shown;

/// When a measured value goes into a system file.
#[derive(Clone, Copy, PartialEq)]
enum KeptWhen {
    /// Whenever it was measured.
    Measured,
    /// When the work changed it by more than this, in pascals: until then the file has what the label says.
    Changed(f64),
}

/// What is measured, where a system file has it, and when it goes there.
const MEASURED: [(&str, &str, KeptWhen); 3] = [
    ("precharge", "tank.precharge", KeptWhen::Measured),
    ("cut_in", "switch.cut_in", KeptWhen::Changed(TURNED)),
    ("cut_out", "switch.cut_out", KeptWhen::Changed(TURNED)),
];
/// A switch that starts so much higher or lower was set, in pascals: 2 psi, more than its starts scatter.
const TURNED: f64 = 2.0 * PSI;

/// A value for the system file: where it belongs, and the tank or the gauge it is of.
struct Kept {
    path: String,
    value: String,
    of: Option<String>,
}

/// Offers to keep what a closed run was told and measured, where the system file says nothing or something else.
pub(in crate::app) fn offer_to_keep(record: &Path, home: &Home, stage: &mut Stage<'_>) -> Result<()> {
    if glance(record)?.outcome.is_none() {
        return Ok(());
    }
    let contents = read(record)?;
    let file = file_of(&contents, home);
    let Ok(mut edit) = InstallationEdit::of(&file) else { return Ok(()) };
    for Kept { path, value, of } in facts_chosen(&contents).into_iter().chain(measured(&contents)) {
        // What the file cannot hold, or holds for another tank, stays out of it.
        let _ = edit.set_all(&[(&path, Some(&value))], of.as_deref());
    }
    if edit.changes().is_empty() {
        return Ok(());
    }
    stage.show(Block::Text, "Your system file can keep this, and the next run asks less:")?;
    stage.show(Block::Help, edit.changes().join("\n"))?;
    if agreed(stage, "keep", "keep it")? {
        edit.write(&file)?;
        stage.show(Block::Aside, format!("Written: {}", path_shown(file)))?;
    }
    Ok(())
}

/// The system file the run was made with, else the owner's.
fn file_of(contents: &Contents, home: &Home) -> PathBuf {
    let kept = contents.header.texts.iter().find(|text| text.role == TextRole::System);
    kept.map(|text| PathBuf::from(&text.name))
        .filter(|path| path.is_file())
        .unwrap_or_else(|| home.system_file())
}

/// Facts that the person told.
fn facts_chosen(contents: &Contents) -> Vec<Kept> {
    let Ok(setting) = setting(contents) else { return Vec::new() };
    let from = |id: &str| setting.procedure.facts.iter().find(|fact| *fact.id == *id)?.from.clone();
    let chosen =
        |entry: &&Entry| entry.kind == EntryKind::Fact && entry.provenance == Some(Provenance::Chosen);
    let kept = effective_entries(&contents.entries).filter(chosen).filter_map(|entry| {
        let value = typed(entry).or_else(|| entry.given.clone()).filter(|given| given != NOT_KNOWN)?;
        let mark = entry.observes.as_deref().and_then(observable).and_then(Observable::marks);
        Some(match mark {
            Some(gauge) => Kept { path: "gauge.division".to_string(), value, of: Some(gauge.to_string()) },
            None => Kept { path: from(&entry.step)?.to_string(), value, of: tank_of(entry, contents) },
        })
    });
    kept.collect()
}

/// What was measured, as it was left.
fn measured(contents: &Contents) -> Vec<Kept> {
    let entries: Vec<&Entry> = effective_entries(&contents.entries).collect();
    let kept = MEASURED.iter().filter_map(|(observable, path, when)| {
        let entry = recalled(&entries, observable)?;
        if let KeptWhen::Changed(least) = when {
            let reading = |phase| si_of(observed(&entries, observable, Some(phase))?, Measure::Pressure);
            let (found, left) = (reading(Phase::Found)?, reading(Phase::Left)?);
            Some(()).filter(|()| (left - found).abs() > *least)?;
        }
        let tank = tank_of(entry, contents).filter(|_| path.starts_with("tank."));
        Some(Kept { path: (*path).to_string(), value: typed(entry)?, of: tank })
    });
    kept.collect()
}

fn tank_of(entry: &Entry, contents: &Contents) -> Option<String> {
    entry.tank.clone().or_else(|| contents.header.tank.clone())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::system::PATHS;

    #[test]
    fn what_is_measured_can_be_kept() {
        for (name, path, _) in MEASURED {
            let observed = observable(name).unwrap_or_else(|| panic!("{name}"));
            let entry = PATHS.iter().find(|entry| entry.path == path).unwrap();
            assert!(observed.observed.fits(&entry.kind.kind()), "{name}");
        }
    }
}
