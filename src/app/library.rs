//! Where procedures come from: the owner's own first, then those that come with the program.

use std::cell::OnceCell;
use std::fs;
use std::io::{self, Read};
use std::path::{Path as FilePath, PathBuf};
use std::rc::Rc;

use super::own_files::OwnFiles;
use super::{Failure, Result};
use crate::procedure::{
    self, LoadContext, PartAlone, Path, Procedure, SHIPPED, Shelf, Texts, UnreadableText, shipped,
};
use crate::record::{KeptText, TextRole};
use crate::source::{Fault, SourceText};
use crate::system::{self, PATHS, System};
use crate::words::near;

/// The most bytes that are read of a file that a person names.
const LONGEST_NAMED_FILE: u64 = 2 << 20;

/// The procedures and parts within reach.
#[derive(Clone, Debug, Default)]
pub struct Library {
    /// The owner's own procedures, when there is a folder of them.
    own: Option<OwnFiles>,
    /// Texts kept in a record, which then are the only ones.
    kept: Option<Vec<KeptText>>,
    /// A part that stands in for the one of its name.
    stand_in: Option<(String, SourceText)>,
    /// What a system file may hold, as procedures know it.
    paths: OnceCell<Vec<Path>>,
    shelf: Rc<Shelf>,
}

impl Library {
    /// The library of an owner whose system file is at `system_file`.
    pub fn beside(system_file: &FilePath) -> Library {
        let own = system_file.parent().map(|folder| OwnFiles::find(folder.join("procedures")));
        Library { own, ..Library::default() }
    }

    /// What is to be said of the owner's own files: which are not taken, and why.
    pub(super) fn remarks(&self) -> Vec<String> {
        self.own.iter().flat_map(OwnFiles::remarks).collect()
    }

    /// Makes sure that it is known what the owner's own files are.
    ///
    /// # Errors
    /// When their folder cannot be read.
    pub(super) fn check_readable(&self) -> Result<()> {
        match self.own.as_ref().and_then(OwnFiles::unreadable) {
            Some(why) => Err(Failure::Machine(why.to_string())),
            None => Ok(()),
        }
    }

    /// The texts a record keeps, and nothing else.
    pub fn of_record(texts: &[KeptText]) -> Library {
        Library { kept: Some(texts.to_vec()), ..Library::default() }
    }

    /// The same library with another text for a part; `None` when there is no such part.
    pub fn with_part(&self, name: &str, source: &SourceText) -> Option<Library> {
        // Where it is the same text, nothing needs to be read again.
        if self.text(name)?.ok()? == *source {
            return Some(self.clone());
        }
        let stand_in = Some((name.to_string(), source.clone()));
        Some(Library { own: self.own.clone(), stand_in, ..Library::default() })
    }

    /// The names of procedures (not parts), sorted.
    pub fn procedures(&self) -> Vec<String> {
        let mut names: Vec<String> =
            self.names().into_iter().filter(|name| !name.starts_with("parts/")).collect();
        names.sort();
        names.dedup();
        names
    }

    /// Whether the owner has a file of this name, which then goes before a shipped one.
    pub fn is_own(&self, name: &str) -> bool {
        self.own_path(name).is_some()
    }

    /// The title of a shipped procedure that stands as it was made: neither it nor any part is
    /// replaced by a file of the owner.
    pub fn shipped_as_made(&self, name: &str) -> Option<&'static str> {
        let parts = |own: &OwnFiles| own.names().iter().any(|name| name.starts_with("parts/"));
        if self.is_own(name) || self.own.as_ref().is_some_and(parts) || self.kept.is_some() {
            return None;
        }
        Some(shipped(name)?.title())
    }

    /// Where the owner's own file of that name lies.
    pub fn own_path(&self, name: &str) -> Option<PathBuf> {
        self.own.as_ref()?.path(name)
    }

    /// Loads a procedure by its name, or from a file when the name is a path that ends in
    /// `.toml`.
    ///
    /// # Errors
    /// When there is none, it cannot be read, or it has faults.
    pub fn load(&self, name: &str) -> Result<Procedure> {
        let is_path = name.ends_with(".toml");
        let source = if is_path { read_source(FilePath::new(name))? } else { self.source(name)? };
        Ok(self.load_source(&source)?)
    }

    /// Loads a procedure from its text.
    ///
    /// # Errors
    /// Its faults.
    pub fn load_source(&self, source: &SourceText) -> Result<Procedure, Vec<Fault>> {
        procedure::load_beside(source, &self.surroundings(), &self.shelf)
    }

    /// Loads a part by itself from its text.
    ///
    /// # Errors
    /// Its faults.
    pub fn load_part_source(&self, source: &SourceText) -> Result<PartAlone, Vec<Fault>> {
        procedure::load_part(source, &self.surroundings(), &self.shelf)
    }

    /// Loads a part by itself, by its name or from a file.
    ///
    /// # Errors
    /// As [`Library::load`].
    pub fn load_part(&self, name: &str) -> Result<PartAlone> {
        Ok(self.load_part_source(&self.source(name)?)?)
    }

    /// What there is to load from.
    fn surroundings(&self) -> LoadContext<'_> {
        let paths = self.paths.get_or_init(|| {
            PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect()
        });
        LoadContext { texts: self, paths }
    }

    /// The text of a procedure or part.
    fn source(&self, name: &str) -> Result<SourceText> {
        if let Some(text) = self.text(name) {
            return text.map_err(|why| Failure::Machine(why.to_string()));
        }
        if let Some(why) = self.own.as_ref().and_then(|own| own.refusal(name)) {
            return Err(Failure::Call(why));
        }
        let known = self.procedures();
        let hint = match near(name, known.iter().map(String::as_str)) {
            Some(known) => format!("did you mean `{known}`?"),
            None => format!("there is: {}", known.join(", ")),
        };
        Err(Failure::Call(format!("There is no procedure `{}`: {hint}", name.escape_debug())))
    }
}

impl Texts for Library {
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>> {
        if let Some((_, source)) = self.stand_in.as_ref().filter(|(stands_for, _)| stands_for == name) {
            return Some(Ok(source.clone()));
        }
        if let Some(kept) = &self.kept {
            let file = format!("procedures/{name}.toml");
            let text = kept.iter().find(|text| text.role != TextRole::System && text.name == file)?;
            return Some(Ok(SourceText::new(text.name.as_str(), text.text.clone())));
        }
        if let Some(why) = self.own.as_ref().and_then(OwnFiles::unreadable) {
            return Some(Err(UnreadableText { why: why.to_string() }));
        }
        if let Some(path) = self.own_path(name) {
            // The name under which a record keeps it must lead back to it.
            let named =
                |source: SourceText| SourceText::new(format!("procedures/{name}.toml"), source.text());
            let why = |failure: Failure| UnreadableText { why: failure.to_string() };
            return Some(read_source(&path).map(named).map_err(why));
        }
        shipped(name).map(|file| Ok(file.source()))
    }

    fn are_kept(&self) -> bool {
        self.kept.is_some()
    }

    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = SHIPPED.iter().map(|file| file.name.to_string()).collect();
        names.extend(self.own.iter().flat_map(|own| own.names().iter().cloned()));
        names
    }
}

/// Reads a file that a person named.
///
/// # Errors
/// When it cannot be read as text, or is far too large.
pub(crate) fn read_source(path: &FilePath) -> Result<SourceText> {
    let wrong = |why: String| Failure::about(path, why);
    match path.metadata() {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            return Err(wrong("there is no such file".into()));
        }
        Err(error) => return Err(wrong(error.to_string())),
        Ok(found) if !found.is_file() => return Err(wrong("this is no file".into())),
        Ok(_) => {}
    }
    let file = fs::File::open(path).map_err(|error| wrong(error.to_string()))?;
    let mut bytes = Vec::new();
    file.take(LONGEST_NAMED_FILE + 1).read_to_end(&mut bytes).map_err(|error| wrong(error.to_string()))?;
    if bytes.len() as u64 > LONGEST_NAMED_FILE {
        return Err(wrong(format!(
            "it is larger than {} MiB; is it the right file?",
            LONGEST_NAMED_FILE >> 20
        )));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(SourceText::new(path.display().to_string(), text)),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            Err(wrong(format!("it is not UTF-8 text (at byte {at}); save it as UTF-8")))
        }
    }
}

/// Reads the system file: the named one, which must be there, else the owner's, which may not.
///
/// # Errors
/// When it cannot be read or has faults.
pub(super) fn read_system(named: Option<&FilePath>, usual: &FilePath) -> Result<System> {
    match named {
        Some(path) => Ok(system::load(&read_source(path)?)?),
        // What cannot be looked at is not taken for absent: reading it says why.
        None => match usual.symlink_metadata() {
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(System::default()),
            _ => Ok(system::load(&read_source(usual)?)?),
        },
    }
}
