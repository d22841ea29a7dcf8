//! Parts, drafted and made, kept so that one used by several procedures is read, checked and proven once.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::contract::Interface;
use super::draft::{DraftFile, draft_file};
use super::drafting::Id;
use super::limits::{LONGEST_PROCEDURE_FILE, MOST_TABLES};
use super::model::Procedure;
use crate::document::read_document;
use crate::source::{Fault, SourceText};

/// A part, checked and proven.
#[derive(Debug)]
pub(super) struct Part {
    /// Its own facts, states and steps, those of the parts it uses among them.
    pub procedure: Procedure,
    pub interface: Arc<Interface>,
    /// The names of its steps and of those of its parts, whether it gives them or not.
    pub inner: Vec<Id>,
    /// The facts that its steps look at.
    pub facts_used: Vec<Arc<str>>,
    /// The gauges that its steps read from.
    pub gauges: Vec<String>,
}

/// A drafted file and its faults.
pub(super) type Drafted = (Rc<DraftFile>, Vec<Fault>);

/// Parts, kept so that one used by several procedures is read, checked and proven once.
#[derive(Debug, Default)]
pub(crate) struct Shelf {
    drafts: RefCell<FxHashMap<String, (SourceText, Drafted)>>,
    pub(super) parts: RefCell<FxHashMap<String, (SourceText, Made)>>,
}

/// A part, or its faults.
pub(super) type Made = Result<Rc<Part>, Vec<Fault>>;

impl Shelf {
    /// The draft of a file; read anew when its text is not the one that was drafted.
    pub(super) fn draft(&self, source: &SourceText) -> Result<Drafted, Vec<Fault>> {
        let known = self.drafts.borrow().get(source.name()).filter(|(known, _)| known == source).cloned();
        if let Some((_, drafted)) = known {
            return Ok(drafted);
        }
        let (file, faults) = draft_source(source)?;
        let drafted = (Rc::new(file), faults);
        self.drafts.borrow_mut().insert(source.name().to_string(), (source.clone(), drafted.clone()));
        Ok(drafted)
    }
}

/// Drafts a file.
///
/// # Errors
/// When it is no TOML or far too long.
pub(super) fn draft_source(source: &SourceText) -> Result<(DraftFile, Vec<Fault>), Vec<Fault>> {
    let tables = || source.text().lines().filter(|line| line.starts_with('[')).count();
    let too_long = match source.text().len() {
        length if length > LONGEST_PROCEDURE_FILE => {
            Some(format!("this file is larger than {} KiB", LONGEST_PROCEDURE_FILE / 1024))
        }
        _ if tables() > MOST_TABLES => Some(format!("this file has more than {MOST_TABLES} tables")),
        _ => None,
    };
    if let Some(message) = too_long {
        let fault = Fault::new("too-long", source, (0..0).into(), message)
            .why("No procedure a person walks through is as long as that.")
            .remedy("see whether it is the right file");
        return Err(vec![fault]);
    }
    if source.text().trim().is_empty() {
        let fault = Fault::new("empty", source, (0..0).into(), "there is nothing in this file");
        return Err(vec![fault.remedy("`tankhand procedures copy NAME` makes one to begin with")]);
    }
    read_document(source, draft_file)
}
