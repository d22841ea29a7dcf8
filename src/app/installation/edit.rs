//! A system file while it is edited: comments and order stay as they are, and nothing is taken that the
//! file could not be loaded with.

use std::path::Path;

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, Value, value};

use crate::app::files::replace;
use crate::app::library::read_source;
use crate::app::{Done, Failure, Result, Stage};
use crate::console::Block;
use crate::disk::is_there;
use crate::source::SourceText;
use crate::system::{self, GAUGE_KEYS, PATHS, PathKind, System};
use crate::words::{path_shown, yes_or_no};

/// A system file being edited.
pub(super) struct InstallationEdit {
    document: DocumentMut,
    system: System,
    name: String,
    changes: Vec<FileChange>,
}

/// A value of the file that is otherwise than it was.
#[derive(Clone, Debug, PartialEq, Eq)]
struct FileChange {
    /// Which, with the tank or gauge it is of.
    what: String,
    was: Option<String>,
    now: Option<String>,
}

impl FileChange {
    fn shown(&self) -> String {
        let was = self.was.as_ref().map_or(String::new(), |was| format!("; was {was}"));
        format!("{}: {}{was}", self.what, self.now.as_deref().unwrap_or("left out"))
    }
}

impl InstallationEdit {
    /// The file at `path`, or a new one.
    pub(super) fn of(path: &Path) -> Result<InstallationEdit> {
        let name = path_shown(path);
        let source =
            if is_there(path) { read_source(path)? } else { SourceText::new(name.as_str(), "format = 1\n") };
        let system = system::load(&source)?;
        let document = source.text().parse().map_err(|error| Failure::Call(format!("{name}: {error}")))?;
        Ok(InstallationEdit { document, system, name, changes: Vec::new() })
    }

    /// The installation as edited so far.
    pub(super) fn system(&self) -> &System {
        &self.system
    }

    /// What was changed, a line each.
    pub(super) fn changes(&self) -> Vec<String> {
        self.changes.iter().map(FileChange::shown).collect()
    }

    /// Notes a change; one that was made before and is changed again stays one.
    fn note(&mut self, change: FileChange) {
        match self.changes.iter_mut().find(|before| before.what == change.what) {
            Some(before) => before.now = change.now,
            None => self.changes.push(change),
        }
        self.changes.retain(|change| change.was != change.now);
    }

    /// What stands at a path, as it is written.
    pub(super) fn written(&self, path: &str, tank: Option<&str>) -> Option<String> {
        let (table, key) = path.split_once('.').unwrap_or(("", path));
        let item = match (table, tank) {
            ("", _) => self.document.get(key),
            ("tank" | "gauge", Some(id)) => self
                .document
                .get(table)?
                .as_array_of_tables()?
                .iter()
                .find(|one| is_called(one, id))?
                .get(key),
            _ => self.document.get(table)?.get(key),
        }?;
        Some(match item.as_value()? {
            Value::String(text) => text.value().clone(),
            Value::Boolean(yes) => in_a_word(*yes.value()),
            other => other.to_string().trim().to_string(),
        })
    }

    /// Sets values at their paths, or takes them out; `id` names the tank or the gauge they are of.
    ///
    /// # Errors
    /// A path or value that a system file cannot have; then nothing is changed.
    pub(super) fn set_all(&mut self, values: &[(&str, Option<&str>)], id: Option<&str>) -> Result<()> {
        let (mut document, mut reported) = (self.document.clone(), Vec::new());
        for (path, text) in values {
            let kind = kind_of(path)?;
            let (table, key) = path.split_once('.').unwrap_or(("", path));
            let id = self.one_of(table, id)?;
            let before = self.written(path, id.as_deref());
            let text = text.map(|text| self.in_full(kind, text));
            if before == text {
                continue;
            }
            let Some(into) = table_of(&mut document, table, id.as_deref()) else {
                let form = if id.is_some() { format!("[[{table}]]") } else { format!("[{table}]") };
                let text =
                    format!("{}: `{table}` can be edited here once it is written as {form}", self.name);
                return Err(Failure::Call(text));
            };
            match &text {
                Some(text) => put(into, key, as_value(kind, text)),
                None => drop(into.remove(key)),
            }
            let whose = id.map_or(String::new(), |id| format!(" ({id})"));
            reported.push(FileChange { what: format!("{path}{whose}"), was: before, now: text });
        }
        self.system = system::load(&SourceText::new(self.name.as_str(), document.to_string()))?;
        self.document = document;
        reported.into_iter().for_each(|change| self.note(change));
        Ok(())
    }

    /// Writes what was edited, and says what changed.
    pub(super) fn save(&self, path: &Path, stage: &mut Stage<'_>) -> Result<Done> {
        if self.changes.is_empty() {
            stage.show(Block::Text, "Nothing changes.")?;
            return Ok(Done::Well);
        }
        for change in self.changes() {
            stage.show(Block::Aside, change)?;
        }
        self.write(path)?;
        stage.show(Block::Text, format!("Written: {}", path_shown(path)))?;
        Ok(Done::Well)
    }

    /// Writes the file as edited.
    pub(super) fn write(&self, path: &Path) -> Result<()> {
        replace(path, &self.document.to_string())
    }

    /// The tank or gauge that is meant: the one named, or the only one there is.
    fn one_of(&self, table: &str, id: Option<&str>) -> Result<Option<String>> {
        let ids: Vec<&str> = self.system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
        match (table, id, ids.as_slice()) {
            ("tank" | "gauge", Some(id), _) => Ok(Some(id.to_string())),
            ("tank", None, []) => Ok(Some("main".to_string())),
            ("tank", None, [one]) => Ok(Some((*one).to_string())),
            ("tank", None, several) => Err(Failure::Call(format!(
                "Several tanks are in the file: name one with --tank ({}).",
                several.join(", ")
            ))),
            ("gauge", None, _) => {
                Err(Failure::Call("Name the gauge, such as gauge.line.division.".to_string()))
            }
            _ => Ok(None),
        }
    }

    /// A bare number with the household's unit behind it, a yes or no as the word.
    fn in_full(&self, kind: PathKind, text: &str) -> String {
        let measure = match kind {
            PathKind::Measure(measure) => measure,
            PathKind::YesNo => {
                // What the file itself has is taken too.
                let yes = yes_or_no(text).or_else(|| text.parse().ok());
                return yes.map_or_else(|| text.to_string(), in_a_word);
            }
            PathKind::Text | PathKind::Words(_) => return text.to_string(),
        };
        let bare = crate::quantity::read_with_limit(text, measure.family())
            .is_ok_and(|(typed, _)| typed.unit.is_none());
        match self.system.units.unwrap_or_default().unit_for(measure) {
            Some(unit) if bare => format!("{} {}", text.trim(), unit.symbol),
            _ => text.trim().to_string(),
        }
    }
}

/// What a system file holds at a path.
fn kind_of(path: &str) -> Result<PathKind> {
    match path {
        "name" | "units" | "confidence" => return Ok(PathKind::Text),
        "invented" => return Ok(PathKind::YesNo),
        _ => {}
    }
    if path.strip_prefix("gauge.").is_some_and(|key| GAUGE_KEYS.iter().any(|row| row.0 == key)) {
        return Ok(PathKind::Text);
    }
    PATHS.iter().find(|entry| entry.path == path).map(|entry| entry.kind).ok_or_else(|| {
        let of_gauges = GAUGE_KEYS.iter().map(|row| format!("gauge.ID.{}", row.0));
        let known: Vec<String> = match path.starts_with("gauge.") {
            true => of_gauges.collect(),
            false => PATHS.iter().map(|entry| entry.path.to_string()).collect(),
        };
        Failure::unknown("A system file has no", path, known)
    })
}

fn in_a_word(yes: bool) -> String {
    if yes { "yes" } else { "no" }.to_string()
}

fn as_value(kind: PathKind, text: &str) -> Value {
    match (kind, text) {
        (PathKind::YesNo, "yes") => true.into(),
        (PathKind::YesNo, "no") => false.into(),
        _ => text.into(),
    }
}

/// Puts a value in place of another; what stands beside that, such as a comment, stays.
fn put(table: &mut dyn TableLike, key: &str, new: Value) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(old) => {
            let beside = old.decor().clone();
            *old = new;
            *old.decor_mut() = beside;
        }
        None => {
            table.insert(key, value(new));
        }
    }
}

/// The table of that name, or the tank's or gauge's of that id; made where there is none, `None` where it is
/// written in another form than `[table]` and `[[tank]]`.
fn table_of<'d>(
    document: &'d mut DocumentMut,
    table: &str,
    id: Option<&str>,
) -> Option<&'d mut dyn TableLike> {
    let Some(id) = id else {
        return match table {
            "" => Some(document.as_table_mut()),
            _ => document.entry(table).or_insert(Item::Table(Table::new())).as_table_like_mut(),
        };
    };
    let all = document
        .entry(table)
        .or_insert(Item::ArrayOfTables(ArrayOfTables::new()))
        .as_array_of_tables_mut()?;
    let found = all.iter().position(|one| is_called(one, id));
    let at = found.unwrap_or_else(|| {
        let mut new = Table::new();
        new.insert("id", value(id));
        all.push(new);
        all.len() - 1
    });
    Some(all.get_mut(at)?)
}

fn is_called(table: &Table, id: &str) -> bool {
    table.get("id").and_then(Item::as_str) == Some(id)
}
