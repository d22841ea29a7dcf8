//! A sound file beside the shipped one of its name, and what will use it from where it lies.

use std::path::Path;

use super::Home;
use crate::disk::is_there;
use crate::procedure::{compare, part_name, twin};
use crate::report::{Page, file_comparison_page};
use crate::source::SourceText;
use crate::words::path_shown;

/// What a file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Checked {
    /// A procedure.
    Procedure,
    /// A part.
    Part,
    /// A system file.
    System,
}

/// A sound file.
#[derive(Debug)]
pub(super) struct Sound {
    pub kind: Checked,
    /// What is said of it.
    pub says: String,
    /// What is worth a second look, each with its line.
    pub look: Vec<(usize, String)>,
}

/// Whether a file is the shipped one of its name, letter for letter.
pub(super) fn is_as_shipped(source: &SourceText) -> bool {
    twin(source.name()).is_some_and(|made| made.text == source.text())
}

/// What a sound file does otherwise than the shipped one, what is worth a look, and what will use it.
pub(super) fn beside_the_shipped((file, source): (&Path, &SourceText), sound: &Sound, home: &Home) -> Page {
    let mut page = compare(source).map(|found| file_comparison_page(&found)).unwrap_or_default();
    page.headed_list("Worth a look", sound.look.iter().map(|(line, says)| format!("line {line}: {says}")));
    page.text(where_used(file, source, sound.kind, home));
    page
}

/// What will use a file from where it lies.
fn where_used(file: &Path, source: &SourceText, kind: Checked, home: &Home) -> String {
    let stem = part_name(source.name());
    let part = kind == Checked::Part;
    let name = if part { format!("parts/{stem}") } else { stem.to_string() };
    let own = home.own_file(&name);
    let used = match part {
        true => "every procedure that uses the part takes this file".to_string(),
        false => format!("`tankhand run {stem}` takes this file"),
    };
    let at = file.canonicalize().ok();
    if at.is_some() && own.canonicalize().ok() == at {
        return format!("From where it lies: {used}.");
    }
    // PLACE/procedures/NAME.toml or PLACE/procedures/parts/NAME.toml, beside PLACE/system.toml.
    let folder = at.as_ref().and_then(|at| at.ancestors().nth(if part { 2 } else { 1 }));
    let folder = folder.filter(|folder| folder.ends_with("procedures"));
    let system = folder.map(|folder| folder.with_file_name("system.toml")).filter(|system| is_there(system));
    match (system, part) {
        (Some(system), _) => format!("From where it lies: with `--system {}` {used}.", path_shown(system)),
        (None, true) => {
            format!("From where it lies nothing uses it. To have it used, put it at {}.", path_shown(own))
        }
        (None, false) => format!(
            "From where it lies nothing uses it by its name. Run it from here as `tankhand run {}`, or put it at {}.",
            path_shown(file),
            path_shown(own)
        ),
    }
}
