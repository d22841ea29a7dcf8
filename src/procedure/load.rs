//! Loading: from a text to a checked procedure.

use std::sync::Arc;

use super::asked_words::unasked_words;
use super::bind_words::{part_alone, too_many};
use super::check_steps::check_steps;
use super::checking::Checking;
use super::drafting::fault_of;
use super::fact::Fact;
use super::facts;
use super::gathered::assemble;
use super::interface::{DraftContract, DraftTerm};
use super::leave_out::used_nowhere;
use super::limits::{MOST_ROUNDS_IN_ALL, MOST_STEPS};
use super::model::{Procedure, flat};
use super::observables::Observable;
use super::parts::Loader;
use super::prove;
use super::shelf::{Shelf, draft_source};
use super::step::Step;
use super::surroundings::LoadContext;
use crate::lang::{CheckedExpr, Function, Scope, Type, check, give_usual_units, parse};
use crate::quantity::Units;
use crate::source::{Fault, Quoted, SourceText};

/// Loads a procedure: parsed, parts in place, every expression typed, every path walked.
///
/// # Errors
/// Every fault found, in the order of files and lines.
pub fn load(source: &SourceText, around: &LoadContext<'_>) -> Result<Procedure, Vec<Fault>> {
    load_beside(source, around, &Shelf::default())
}

/// As [`load`], with a shelf for parts that several procedures use.
///
/// # Errors
/// As [`load`].
pub(crate) fn load_beside(
    source: &SourceText,
    around: &LoadContext<'_>,
    shelf: &Shelf,
) -> Result<Procedure, Vec<Fault>> {
    let loader = Loader::new(around, shelf);
    let (file, faults) = draft_source(source).map_err(sorted)?;
    let mut gathered = loader.gather(source, &file);
    gathered.faults.extend(faults);
    gathered.faults.extend(loader.weakened(source, &file));
    gathered.faults.extend(part_alone(&file, source));
    gathered.faults.extend(used_nowhere(&file.leave_out, &gathered.texts));
    let mut checking = Checking::new((gathered.state_names(), &gathered.lost), &loader, around.paths);
    let facts = facts::check_all(&gathered.facts, &mut checking);
    let steps = loader.within(source, || check_steps(&file.steps, &mut checking));
    let used = checking.facts_used();
    let Checking { left_out, gauges, mut faults, part_missing, .. } = checking;
    if part_missing && !gathered.faults.is_empty() {
        // What rests on a part that does not load cannot be judged: only why it does not is told.
        faults.clear();
    }
    faults.append(&mut gathered.faults);
    if let Some(step) = flat(&steps).nth(MOST_STEPS) {
        faults.push(too_many(&step.source, step.span));
    }
    too_many_rounds(&steps, 1, &mut faults);
    if file.steps.is_empty() && faults.is_empty() {
        let fault = Fault::new("no-steps", source, (0..0).into(), "there is no step in this file");
        let why = "A procedure without steps would be done at once, and nothing would have been looked at.";
        let remedy = "write a [[step]] with a verb below; `tankhand guide steps` tells which there are";
        faults.push(fault.why(why).remedy(remedy));
    }
    if !faults.is_empty() {
        return Err(sorted(faults));
    }
    // The smallest mark of a gauge is looked at by each reading of it.
    let marks = |fact: &Fact| {
        fact.observes.and_then(Observable::marks).is_some_and(|it| gauges.iter().any(|gauge| gauge == it))
    };
    let facts =
        facts.into_iter().filter(|fact| used.contains(&fact.id) || file.declares(&fact.id) || marks(fact));
    let procedure = assemble(&file, gathered, facts.collect(), (steps, left_out));
    let mut faults = prove::prove(&procedure);
    if !around.texts.are_kept() {
        faults.extend(unasked_words(&procedure));
    }
    if faults.is_empty() { Ok(procedure) } else { Err(sorted(faults)) }
}

/// Notes loops whose rounds, with those of the loops around them, are more than anyone goes through.
fn too_many_rounds(steps: &[Step], around: u32, faults: &mut Vec<Fault>) {
    for step in steps {
        let own = step.course().repeats().map_or(1, |repeat| repeat.at_most);
        let rounds = around.saturating_mul(own);
        if rounds > MOST_ROUNDS_IN_ALL && own > 1 {
            let message = format!("with the loops around it this one may come round {rounds} times");
            let why = format!("Nobody goes through more than {MOST_ROUNDS_IN_ALL} rounds.");
            let fault = step.place().fault("too-many-rounds", message).why(why);
            faults.push(fault.remedy("lower `at_most` here or around it"));
        } else {
            too_many_rounds(step.body(), rounds, faults);
        }
    }
}

fn sorted(mut faults: Vec<Fault>) -> Vec<Fault> {
    Fault::sort(&mut faults);
    faults
}

/// A part by itself: checked and proven from what it says in its head.
#[derive(Debug)]
pub struct PartAlone {
    /// Its title, facts, states and steps.
    pub procedure: Procedure,
    /// What its head says, each with what it is: `Takes`, and `cut_in (pressure)`.
    pub head: Vec<(&'static str, Vec<String>)>,
}

/// Loads a part by itself.
///
/// # Errors
/// Every fault found in it and in the parts it uses.
pub(crate) fn load_part(
    source: &SourceText,
    around: &LoadContext<'_>,
    shelf: &Shelf,
) -> Result<PartAlone, Vec<Fault>> {
    let loader = Loader::new(around, shelf);
    let (file, part) = loader.alone(source).map_err(sorted)?;
    let contracts = |contracts: &[DraftContract]| contracts.iter().map(DraftContract::written).collect();
    let terms = |terms: &[DraftTerm]| terms.iter().map(DraftTerm::written).collect();
    let head = &file.interface;
    let head = vec![
        ("Takes", terms(&head.takes)),
        ("Gives", terms(&head.gives)),
        ("Needs", contracts(&head.needs)),
        ("Brings", contracts(&head.brings)),
        ("Undoes", contracts(&head.undoes)),
    ];
    Ok(PartAlone { procedure: part.procedure.clone(), head })
}

/// Checks one expression by itself, with no names known.
///
/// # Errors
/// Every fault, placed in the text.
///
/// ```
/// let checked = tankhand::procedure::check_expression("2 psi + 3 psi").unwrap_err();
/// assert_eq!(checked[0].code, "kinds-differ");
/// ```
pub fn check_expression(text: &str) -> Result<CheckedExpr, Vec<Fault>> {
    let source = SourceText::new("expression", text);
    let quoted = Quoted { text: text.to_string(), span: (0..text.len()).into(), source };
    let expr = parse(text).map_err(|problem| vec![fault_of(problem, &quoted)])?;
    check(&Arc::new(expr), &NoNames, None, None)
        .map_err(|problems| problems.into_iter().map(|p| fault_of(p, &quoted)).collect())
}

/// An expression in which bare numbers stand where a function takes a measured value, with the household's units
/// behind them, checked; `None` when there is no such number or it is wrong even so.
///
/// ```
/// use tankhand::{procedure::with_usual_units, quantity::Units};
/// let checked = with_usual_units("drawdown(44, 38, 40, 60)", Units::Us).unwrap();
/// assert_eq!(checked.expr().to_string(), "drawdown(44 gal, 38 psi, 40 psi, 60 psi)");
/// ```
pub fn with_usual_units(text: &str, units: Units) -> Option<CheckedExpr> {
    let mut expr = parse(text).ok()?;
    let given = give_usual_units(&mut expr, &NoNames, units);
    given.then(|| check(&Arc::new(expr), &NoNames, None, None).ok()).flatten()
}

/// A scope with the functions and nothing else.
struct NoNames;

impl Scope for NoNames {
    fn find(&self, _: &str) -> Option<(Arc<str>, Type)> {
        None
    }

    fn names(&self) -> Vec<String> {
        Vec::new()
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        super::functions::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        super::functions::functions().map(|f| f.name).collect()
    }
}
