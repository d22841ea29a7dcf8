//! Parts: each drafted, checked and proven alone, once, and put in place where it is used.
//!
//! Where a part is used, only its head is looked at: what it takes must be there, what it needs
//! must hold. The engine gets the steps of all parts in their places, as if they stood there.

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::Arc;

use super::binding::Binding;
use super::check_steps::check_steps;
use super::checking::Checking;
use super::contract::{Interface, Proven};
use super::draft::DraftFile;
use super::facts;
use super::gathered::{Gathered, assemble};
use super::leave_out;
use super::limits::{DEEPEST_PARTS, MOST_STEPS};
use super::own_parts::weakened;
use super::prove;
use super::shelf::{Made, Part, Shelf};
use super::shipped::{part_name, twin};
use super::step::LoopKind;
use super::surroundings::LoadContext;
use super::verb::{DraftStep, uses};
use crate::source::{Fault, Quoted, SourceText};
use crate::words::near;

/// Which part was meant; its folder may have been left out.
fn part_meant(name: &str, known: &[String]) -> String {
    let known: Vec<&str> =
        known.iter().map(String::as_str).filter(|known| known.starts_with("parts/")).collect();
    match near(part_name(name), known.iter().map(|known| part_name(known))) {
        Some(near) => format!("did you mean `parts/{near}`? `tankhand guide parts` tells of all"),
        None => "`tankhand guide parts` tells which there are".to_string(),
    }
}

/// The name by which a `use` would call this file.
fn own_name(name: &str) -> String {
    let name = name.strip_suffix(".toml").unwrap_or(name);
    name.strip_prefix("procedures/").unwrap_or(name).to_string()
}

/// Where parts come from while one procedure is loaded.
pub(super) struct Loader<'a> {
    around: &'a LoadContext<'a>,
    shelf: &'a Shelf,
    /// The files being put in place, outermost first.
    open: RefCell<Vec<String>>,
    /// How many steps there are so far, parts included.
    count: Cell<usize>,
    /// The file that is loaded.
    loaded: RefCell<Option<(SourceText, Vec<Rc<DraftStep>>)>>,
    /// The parts that it leaves out.
    left_out: RefCell<Vec<Quoted>>,
}

impl<'a> Loader<'a> {
    pub(super) fn new(around: &'a LoadContext<'a>, shelf: &'a Shelf) -> Loader<'a> {
        Loader {
            around,
            shelf,
            open: RefCell::default(),
            count: Cell::new(0),
            loaded: RefCell::default(),
            left_out: RefCell::default(),
        }
    }

    /// What a file and the parts it uses declare.
    pub(super) fn gather(&self, source: &SourceText, file: &DraftFile) -> Gathered {
        if self.open.borrow().is_empty() {
            self.loaded.replace(Some((source.clone(), file.steps.clone())));
            self.left_out.replace(file.leave_out.clone());
        }
        let mut gathered = Gathered { texts: vec![source.clone()], ..Gathered::default() };
        gathered.declare(file);
        self.open.borrow_mut().push(own_name(source.name()));
        self.gather_states(file, &mut gathered);
        uses(&file.steps).for_each(|part| self.gather_part(&part.name, &mut gathered));
        self.open.borrow_mut().pop();
        gathered
    }

    fn gather_states(&self, file: &DraftFile, gathered: &mut Gathered) {
        let Some(name) = &file.interface.states else { return };
        let Some(source) = self.find(name, DEEPEST_PARTS + 1, gathered) else { return };
        if gathered.texts.iter().any(|known| known.name() == source.name()) {
            return;
        }
        let Some(states) = self.take_in(&source, gathered) else { return };
        states.states.iter().for_each(|state| gathered.state(state));
    }

    /// A file that is used, its text and faults noted.
    fn take_in(&self, source: &SourceText, gathered: &mut Gathered) -> Option<Rc<DraftFile>> {
        if gathered.texts.iter().all(|known| known.name() != source.name()) {
            gathered.texts.push(source.clone());
        }
        let drafted = self.shelf.draft(source).map_err(|faults| gathered.faults.extend(faults));
        let (file, faults) = drafted.ok()?;
        gathered.faults.extend(faults);
        gathered.faults.extend(self.weakened(source, &file));
        Some(file)
    }

    /// What an owner's file says less than the one it stands for. A record's own texts are as they are.
    pub(super) fn weakened(&self, source: &SourceText, file: &DraftFile) -> Vec<Fault> {
        let shipped = twin(source.name()).filter(|file| file.text != source.text());
        let Some(twin) = shipped.filter(|_| !self.around.texts.are_kept()) else { return Vec::new() };
        let made = self.as_shipped(source.name());
        made.map_or_else(Vec::new, |made| weakened((twin.name, source), file, &made))
    }

    fn gather_part(&self, name: &Quoted, gathered: &mut Gathered) {
        let Some(source) = self.find(name, DEEPEST_PARTS, gathered) else { return };
        let Some(file) = self.take_in(&source, gathered) else { return };
        gathered.faults.extend(leave_out::in_a_part(&file.leave_out));
        gathered.declare(&file);
        self.open.borrow_mut().push(name.text.clone());
        self.gather_states(&file, gathered);
        uses(&file.steps).for_each(|part| self.gather_part(&part.name, gathered));
        self.open.borrow_mut().pop();
    }

    /// The text of a part, or a fault that says why there is none.
    fn find(&self, name: &Quoted, deepest: usize, gathered: &mut Gathered) -> Option<SourceText> {
        self.found(name, deepest).map_err(|fault| gathered.faults.push(*fault)).ok()
    }

    /// The text of a file that is used, at most so deep in others.
    fn found(&self, name: &Quoted, deepest: usize) -> Result<SourceText, Box<Fault>> {
        let fault =
            |code, message: String, remedy: String| Box::new(name.fault(code, message).remedy(remedy));
        let open = self.open.borrow();
        if open.contains(&name.text) {
            let chain = open.join(" → ");
            let message = format!("this part uses itself: {chain} → {}", name.text);
            return Err(fault("uses-itself", message, "take one of these `use` steps out".into()));
        }
        if open.len() > deepest {
            let message = format!("parts use parts more than {DEEPEST_PARTS} deep");
            return Err(fault("too-deep", message, "put the steps in place".into()));
        }
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '/');
        if !name.text.chars().all(plain) || name.text.starts_with('/') {
            let message = format!("`{}` cannot name a part", name.text.escape_debug());
            let remedy = "name it as in `parts/drain`, without `.toml` or a leading slash".into();
            return Err(fault("bad-path", message, remedy));
        }
        match self.around.texts.text(&name.text) {
            Some(Ok(source)) => Ok(source),
            Some(Err(problem)) => {
                Err(fault("unreadable", problem.to_string(), "see that the file can be read".into()))
            }
            None => {
                let message = format!("there is no part `{}`", name.text.escape_debug());
                Err(fault("unknown-part", message, part_meant(&name.text, &self.around.texts.names())))
            }
        }
    }

    /// Whether the file that is loaded leaves a part out.
    pub(super) fn leaves_out(&self, part: &str) -> bool {
        leave_out::leaves_out(&self.left_out.borrow(), part)
    }

    /// The file that is loaded, with its steps.
    pub(super) fn loaded(&self) -> Option<(SourceText, Vec<Rc<DraftStep>>)> {
        self.loaded.borrow().clone()
    }

    /// Every part there is, with its name; one that cannot be drafted is left out.
    pub(super) fn every_part(&self) -> Vec<(String, Rc<DraftFile>)> {
        let names = self.around.texts.names().into_iter().filter(|name| name.starts_with("parts/"));
        let drafted = names.filter_map(|name| {
            let source = self.around.texts.text(&name)?.ok()?;
            Some((name, self.shelf.draft(&source).ok()?.0))
        });
        drafted.collect()
    }

    /// The shipped file that a file of that name stands for, as it was made.
    pub(super) fn as_shipped(&self, file: &str) -> Option<Rc<DraftFile>> {
        Some(self.shelf.draft(&twin(file)?.source()).ok()?.0)
    }

    /// So many more steps; `false` when there are too many now.
    pub(super) fn counts(&self, steps: usize) -> bool {
        self.count.set(self.count.get() + steps);
        self.count.get() <= MOST_STEPS
    }

    /// The head of a part as its file writes it; what is wrong with it was told when it was
    /// gathered.
    pub(super) fn head(&self, name: &Quoted) -> Option<(SourceText, Rc<DraftFile>)> {
        let source = self.found(name, DEEPEST_PARTS).ok()?;
        let (file, _) = self.shelf.draft(&source).ok()?;
        Some((source, file))
    }

    /// Does something while a file is being put in place.
    pub(super) fn within<T>(&self, source: &SourceText, act: impl FnOnce() -> T) -> T {
        self.open.borrow_mut().push(own_name(source.name()));
        let done = act();
        self.open.borrow_mut().pop();
        done
    }

    /// A part by itself, given exactly what it takes.
    pub(super) fn alone(&self, source: &SourceText) -> Result<(Rc<DraftFile>, Rc<Part>), Vec<Fault>> {
        let (file, mut faults) = self.shelf.draft(source)?;
        faults.extend(self.weakened(source, &file));
        faults.extend(leave_out::in_a_part(&file.leave_out));
        if !faults.is_empty() {
            return Err(faults);
        }
        let part = self.part(source, Binding::alone(&file))?;
        Ok((file, part))
    }

    /// A part as it is used: checked and proven, once for each way of using it.
    pub(super) fn part(&self, source: &SourceText, binding: Binding) -> Made {
        let left_out: Vec<String> = self.left_out.borrow().iter().map(|named| named.text.clone()).collect();
        let key = format!("{} {} {}", source.name(), binding.written(), left_out.join(" "));
        if let Some((_, made)) = self.shelf.parts.borrow().get(&key).filter(|(known, _)| known == source) {
            return made.clone();
        }
        let made = self.make(source, binding).map(Rc::new);
        if made.as_ref().is_err_and(Vec::is_empty) {
            return made;
        }
        self.shelf.parts.borrow_mut().insert(key, (source.clone(), made.clone()));
        made
    }

    /// The facts that a part and those it uses declare.
    pub(super) fn facts_of(&self, source: &SourceText, file: &DraftFile) -> Vec<Arc<str>> {
        self.gather(source, file).facts.iter().map(|fact| fact.id.name.clone()).collect()
    }

    fn make(&self, source: &SourceText, binding: Binding) -> Result<Part, Vec<Fault>> {
        let (file, _) = self.shelf.draft(source)?;
        let mut gathered = self.gather(source, &file);
        if !gathered.faults.is_empty() {
            // The file that is being loaded gathers from all its parts, and tells of them.
            gathered.faults.retain(|_| self.open.borrow().is_empty());
            return Err(gathered.faults);
        }
        let mut checking = Checking::new((gathered.state_names(), &gathered.lost), self, self.around.paths);
        checking.part = Some(binding.naming.own(&part_name(source.name()).replace('-', "_")));
        checking.heading = binding.heading;
        binding.loops.iter().for_each(|each| checking.enter(*each));
        let facts = facts::check_all(&gathered.facts, &mut checking);
        checking.naming = binding.naming.clone();
        let takes = checking.takes(&file, &binding);
        let needs = checking.contracts(&file.interface.needs);
        let undoes = checking.contracts(&file.interface.undoes);
        let brings = checking.contracts(&file.interface.brings);
        let steps = self.within(source, || check_steps(&file.steps, &mut checking));
        let gives = checking.gives(&file, &binding);
        let used = checking.facts_used();
        let Checking { left_out, gauges, faults, ids: inner, .. } = checking;
        if !faults.is_empty() {
            return Err(faults);
        }
        let facts_used = used.iter().cloned().collect();
        let facts =
            facts.into_iter().filter(|fact| used.contains(&fact.id) || file.declares(&fact.id)).collect();
        let procedure = assemble(&file, gathered, facts, (steps, left_out));
        let name = own_name(source.name());
        let mut interface =
            Interface { name, takes, gives, needs, brings, undoes, proven: Proven::default() };
        let in_repeat = binding.loops.contains(&LoopKind::Repeat);
        interface.proven = prove::prove_part(&procedure, &interface, file.interface.span, in_repeat)?;
        let interface = Arc::new(interface);
        Ok(Part { procedure, interface, inner, facts_used, gauges })
    }
}
