//! Loading: from a text to a checked procedure.

use std::sync::Arc;

use super::check_steps::check_steps;
use super::checking::Checking;
use super::drafting::fault_of;
use super::expand::{Shelf, expand};
use super::facts;
use super::model::{Procedure, State};
use super::prove;
use super::surroundings::Surroundings;
use crate::document::walk_document;
use crate::lang::{Checked, Function, Scope, Type, check, parse};
use crate::source::{Fault, Quoted, SourceText};

/// Loads a procedure: parsed, parts in place, every expression typed, every path walked.
///
/// # Errors
/// Every fault found, in the order of files and lines.
pub fn load(source: &SourceText, around: &Surroundings<'_>) -> Result<Procedure, Vec<Fault>> {
    load_beside(source, around, &Shelf::default())
}

/// As [`load`], with a shelf for parts that several procedures use.
///
/// # Errors
/// As [`load`].
pub fn load_beside(
    source: &SourceText,
    around: &Surroundings<'_>,
    shelf: &Shelf,
) -> Result<Procedure, Vec<Fault>> {
    let sorted = |mut faults: Vec<Fault>| {
        Fault::sort(&mut faults);
        faults
    };
    let expanded = expand(source, around.texts, shelf).map_err(sorted)?;
    let states = expanded.states.iter().map(|state| state.id.name.clone()).collect();
    let names = expanded.facts.len() + expanded.steps.len();
    let mut checking = Checking::new((states, &expanded.lost), around.paths, names);
    let facts: Vec<_> = expanded
        .facts
        .iter()
        .filter(|fact| checking.unique(&fact.id))
        .collect::<Vec<_>>()
        .into_iter()
        .filter_map(|fact| facts::check(fact, &mut checking))
        .collect();
    let steps = check_steps(&expanded.steps, &mut checking);
    let mut faults = expanded.faults;
    faults.extend(checking.into_faults());
    if !faults.is_empty() {
        return Err(sorted(faults));
    }
    let text = |quoted: &Option<Quoted>| quoted.as_ref().map(|q| q.text.clone());
    let states = expanded.states.iter();
    let procedure = Procedure {
        title: text(&expanded.main.title).unwrap_or_default(),
        purpose: text(&expanded.main.purpose).unwrap_or_default(),
        time: text(&expanded.main.time),
        bring: expanded.main.bring.iter().map(|q| q.text.clone()).collect(),
        confidence: expanded.confidence,
        facts,
        states: states
            .map(|s| State { id: s.id.name.clone(), means: s.means.clone(), hazard: s.hazard })
            .collect(),
        steps,
        texts: expanded.texts,
    };
    let faults = prove::prove(&procedure);
    if faults.is_empty() { Ok(procedure) } else { Err(sorted(faults)) }
}

/// The title of a procedure file, without a look at its steps.
///
/// ```
/// use tankhand::procedure::title;
/// use tankhand::source::SourceText;
/// let text = SourceText::new("short.toml", "format = 1\ntitle = \"Look\"\n");
/// assert_eq!(title(&text).as_deref(), Some("Look"));
/// ```
pub fn title(source: &SourceText) -> Option<String> {
    let (title, _) = walk_document(source, |root| root.text("title")).ok()?;
    title.map(|title| title.text)
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
pub fn check_expression(text: &str) -> Result<Checked, Vec<Fault>> {
    let source = SourceText::new("expression", text);
    let quoted = Quoted { text: text.to_string(), span: (0..text.len()).into(), source };
    let expr = parse(text).map_err(|problem| vec![fault_of(problem, &quoted)])?;
    check(&Arc::new(expr), &NoNames, None)
        .map_err(|problems| problems.into_iter().map(|p| fault_of(p, &quoted)).collect())
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
