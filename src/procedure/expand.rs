//! Putting parts in their places.

use std::cell::RefCell;
use std::rc::Rc;

use rustc_hash::FxHashMap;

use super::draft::{DraftFile, DraftState, draft_file};
use super::drafting::Id;
use super::facts::DraftFact;
use super::limits::{DEEPEST_PARTS, LONGEST_FILE, MOST_STEPS};
use super::surroundings::Texts;
use super::verb::{DraftAction, DraftStep, DraftUse};
use crate::document::walk_document;
use crate::source::{Fault, Quoted, SourceText};
use crate::words::did_you_mean;

/// A procedure with its parts in place.
pub(super) struct Expanded {
    pub main: DraftFile,
    pub facts: Vec<Rc<DraftFact>>,
    pub states: Vec<DraftState>,
    pub steps: Vec<Rc<DraftStep>>,
    pub texts: Vec<SourceText>,
    /// Ids that could not be drafted.
    pub lost: Vec<String>,
    /// The greatest confidence that the file or a part of it asks for.
    pub confidence: Option<f64>,
    /// Every fault so far.
    pub faults: Vec<Fault>,
}

/// Drafts a file and every part it uses, and goes on past faults.
///
/// # Errors
/// When the file itself is no TOML or far too long.
pub(super) fn expand(source: &SourceText, texts: &dyn Texts, shelf: &Shelf) -> Result<Expanded, Vec<Fault>> {
    let (mut main, faults) = draft_source(source, None)?;
    let steps = std::mem::take(&mut main.steps);
    let mut expander = Expander {
        texts,
        shelf,
        facts: Vec::new(),
        states: Vec::new(),
        sources: vec![source.clone()],
        open: vec![own_name(source.name())],
        count: 0,
        lost: std::mem::take(&mut main.lost),
        confidence: None,
        faults,
    };
    expander.declare(&main);
    let steps = expander.steps(&steps);
    let Expander { facts, states, sources: texts, lost, confidence, faults, .. } = expander;
    Ok(Expanded { main, facts, states, steps, texts, lost, confidence, faults })
}

/// The name by which a `use` would call this file.
fn own_name(name: &str) -> String {
    let name = name.strip_suffix(".toml").unwrap_or(name);
    name.strip_prefix("procedures/").unwrap_or(name).to_string()
}

fn draft_source(source: &SourceText, prefix: Option<&str>) -> Result<(DraftFile, Vec<Fault>), Vec<Fault>> {
    if source.text().len() > LONGEST_FILE {
        let message = format!("this file is larger than {} KiB", LONGEST_FILE / 1024);
        let fault = Fault::new("too-long", source, (0..0).into(), message)
            .why("No procedure a person walks through is as long as that.")
            .remedy("see whether it is the right file");
        return Err(vec![fault]);
    }
    walk_document(source, |root| draft_file(root, prefix))
}

/// Drafts of parts, kept so that a part used by several procedures is read once.
#[derive(Debug, Default)]
pub struct Shelf {
    drafts: RefCell<FxHashMap<PartName, (SourceText, Drafted)>>,
}

/// A part's name and the prefix it is used under.
type PartName = (String, Option<String>);

/// A drafted file and its faults.
type Drafted = (Rc<DraftFile>, Vec<Fault>);

impl Shelf {
    /// The draft of a part; read anew when its text is not the one that was drafted.
    fn draft(&self, source: &SourceText, prefix: Option<&str>) -> Result<Drafted, Vec<Fault>> {
        let key = (source.name().to_string(), prefix.map(ToString::to_string));
        if let Some((_, drafted)) = self.drafts.borrow().get(&key).filter(|(known, _)| known == source) {
            return Ok(drafted.clone());
        }
        let (file, faults) = draft_source(source, prefix)?;
        let drafted = (Rc::new(file), faults);
        self.drafts.borrow_mut().insert(key, (source.clone(), drafted.clone()));
        Ok(drafted)
    }
}

struct Expander<'a> {
    texts: &'a dyn Texts,
    shelf: &'a Shelf,
    facts: Vec<Rc<DraftFact>>,
    states: Vec<DraftState>,
    sources: Vec<SourceText>,
    /// The files being put in place, outermost first.
    open: Vec<String>,
    count: usize,
    lost: Vec<String>,
    confidence: Option<f64>,
    faults: Vec<Fault>,
}

impl Expander<'_> {
    /// Takes over facts and states; the same one may be declared again if it says the same. Of
    /// confidences the greatest counts.
    fn declare(&mut self, file: &DraftFile) {
        self.confidence = [self.confidence, file.confidence].into_iter().flatten().reduce(f64::max);
        for fact in &file.facts {
            match self.facts.iter().find(|known| known.id.name == fact.id.name) {
                None => self.facts.push(fact.clone()),
                Some(known) if Rc::ptr_eq(known, fact) || known.same_as(fact) => {}
                Some(_) => self.faults.push(differs(&fact.id, "fact")),
            }
        }
        for state in &file.states {
            match self.states.iter().find(|known| known.id.name == state.id.name) {
                None => self.states.push(state.clone()),
                Some(known) if (&known.means, known.hazard) == (&state.means, state.hazard) => {}
                Some(_) => self.faults.push(differs(&state.id, "state")),
            }
        }
    }

    fn steps(&mut self, drafts: &[Rc<DraftStep>]) -> Vec<Rc<DraftStep>> {
        let mut steps = Vec::with_capacity(drafts.len());
        for draft in drafts {
            self.count += 1;
            if self.count > MOST_STEPS {
                if self.count == MOST_STEPS + 1 {
                    self.faults.push(too_many(draft));
                }
                break;
            }
            match &draft.action {
                DraftAction::Part(part) => steps.extend(self.part(draft, part)),
                DraftAction::Own(_) if draft.uses() => steps.push(self.with_body(draft)),
                DraftAction::Own(_) => steps.push(draft.clone()),
            }
        }
        steps
    }

    /// A loop with parts in its body, put in place.
    fn with_body(&mut self, draft: &DraftStep) -> Rc<DraftStep> {
        Rc::new(DraftStep { body: self.steps(&draft.body), ..draft.clone() })
    }

    /// The steps of a part, in place of the step that uses it.
    fn part(&mut self, user: &DraftStep, part: &DraftUse) -> Vec<Rc<DraftStep>> {
        self.bare(user);
        let Some(source) = self.find(&part.name) else { return Vec::new() };
        let (file, faults) = match self.shelf.draft(&source, part.prefix.as_deref()) {
            Ok(drafted) => drafted,
            Err(faults) => {
                self.faults.extend(faults);
                return Vec::new();
            }
        };
        self.faults.extend(faults);
        self.lost.extend(file.lost.iter().cloned());
        if self.sources.iter().all(|known| known.name() != source.name()) {
            self.sources.push(source);
        }
        self.declare(&file);
        self.open.push(part.name.text.clone());
        let mut steps = self.steps(&file.steps);
        self.open.pop();
        if let (Some(first), Some(title)) = (steps.first_mut(), &user.title)
            && first.title.is_none()
        {
            Rc::make_mut(first).title = Some(title.clone());
        }
        steps
    }

    /// A `use` step can have a title; conditions belong on the steps themselves.
    fn bare(&mut self, user: &DraftStep) {
        let stray = user.when.is_some() || user.skip || !user.needs.is_empty() || !user.brings.is_empty();
        if stray || !user.undoes.is_empty() || user.id.is_some() {
            let fault =
                Fault::new("use", &user.source, user.span, "a `use` step takes only `as` and `title`")
                    .why("The steps of the part carry their own conditions and states.")
                    .remedy("write the condition on the part's steps");
            self.faults.push(fault);
        }
    }

    fn find(&mut self, name: &Quoted) -> Option<SourceText> {
        let fault = |code, message: String, remedy: String| {
            Fault::new(code, &name.source, name.span, message).remedy(remedy)
        };
        if self.open.contains(&name.text) {
            let chain = self.open.join(" → ");
            self.faults.push(fault(
                "uses-itself",
                format!("this part uses itself: {chain} → {}", name.text),
                "take one of these `use` steps out".into(),
            ));
            return None;
        }
        if self.open.len() > DEEPEST_PARTS {
            self.faults.push(fault(
                "too-deep",
                format!("parts use parts more than {DEEPEST_PARTS} deep"),
                "put the steps in place".into(),
            ));
            return None;
        }
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '/');
        if !name.text.chars().all(plain) || name.text.starts_with('/') {
            self.faults.push(fault(
                "bad-path",
                format!("`{}` cannot name a part", name.text.escape_debug()),
                "name it as in `parts/drain`, without dots or a leading slash".into(),
            ));
            return None;
        }
        match self.texts.text(&name.text) {
            Some(Ok(source)) => Some(source),
            Some(Err(problem)) => {
                self.faults.push(fault(
                    "unreadable",
                    problem.to_string(),
                    "see that the file can be read".into(),
                ));
                None
            }
            None => {
                let known = self.texts.names();
                let message = format!("there is no part `{}`", name.text);
                self.faults.push(fault("unknown-part", message, did_you_mean(&name.text, &known)));
                None
            }
        }
    }
}

fn differs(id: &Id, what: &str) -> Fault {
    Fault::new(
        "same-id",
        &id.source,
        id.span,
        format!("the {what} `{}` is declared elsewhere in other words", id.name),
    )
    .why(format!("One {what} can only mean one thing."))
    .remedy("make both declarations the same, or give this one another id")
}

fn too_many(draft: &DraftStep) -> Fault {
    let message = format!("there are more than {MOST_STEPS} steps");
    Fault::new("too-long", &draft.source, draft.span, message).remedy("cut the procedure into several")
}
