//! Words of a choice that nothing asks for: they fall into an `else`, and the run says one thing and
//! records another.

use rustc_hash::FxHashMap;

use super::compare::{has_choice, new_words};
use super::mentions::Mentions;
use super::model::Procedure;
use super::shipped::{is_shipped, twin};
use super::step::Step;
use crate::lang::{Binary, CheckedExpr, Comparison, Expr, Node, Template};
use crate::quantity::Kind;
use crate::source::{Fault, SourceText, Span};
use crate::words::list;

/// What expressions ask of choices.
#[derive(Default)]
struct AskedWords<'p> {
    /// Each name with the words it is compared with.
    compared: FxHashMap<&'p str, Vec<&'p str>>,
    /// Where an `if` goes by a name.
    decides: Vec<(&'p str, &'p SourceText, Span)>,
}

/// Faults of choices: an `else` that stands for several words, and words that an owner added to a shipped
/// choice and that nothing asks for.
pub(super) fn unasked_words(procedure: &Procedure) -> Vec<Fault> {
    let asked = AskedWords::of(procedure);
    let mut faults: Vec<Fault> = Vec::new();
    for &(name, source, span) in &asked.decides {
        let rest = asked.never(name, &words_of(procedure, name));
        if rest.len() > 1 {
            faults.push(else_for_several(name, &rest, source, span));
        }
    }
    for text in &procedure.texts {
        for (id, words) in new_words(text) {
            let theirs = |step: &&Step| step.source == *text && step.id.contains(id.as_str());
            let Some(step) = procedure.all_steps().find(theirs) else { continue };
            // What nothing asks for at all is only kept in the record, whatever its words.
            let never = asked.compared.get(&*step.id).map(|_| asked.never(&step.id, &words));
            faults.extend(never.iter().flatten().map(|word| nothing_follows(step, word)));
        }
    }
    faults
}

/// What is worth a second look in the owner's own steps: words of a choice that nothing asks for though
/// something asks for others of it, each in a sentence with its line.
pub fn unasked_in_own_steps(procedure: &Procedure) -> Vec<(usize, String)> {
    let asked = AskedWords::of(procedure);
    let shipped_too = |step: &Step| has_choice(twin(step.source.name()), &step.id);
    let own = procedure.all_steps().filter(|step| !is_shipped(&step.source));
    let unasked = own.filter_map(|step| {
        let words = words_of(procedure, &step.id);
        let never = asked.never(&step.id, &words);
        let some = !never.is_empty() && asked.compared.contains_key(&*step.id);
        let quoted: Vec<String> = never.iter().map(|word| format!("'{word}'")).collect();
        let line = step.source.place(step.span.start).line;
        let says = || format!("nothing asks whether `{}` is {}", step.id, list(&quoted, "or"));
        (some && words.len() > 2 && !shipped_too(step)).then(|| (line, says()))
    });
    unasked.collect()
}

/// The words that a step or a fact may be answered with.
fn words_of(procedure: &Procedure, name: &str) -> Vec<String> {
    let fact = procedure.facts.iter().find(|fact| *fact.id == *name).map(|fact| fact.kind.clone());
    let step = || procedure.step(name).and_then(|step| step.course().gives()).map(|gives| gives.kind);
    match fact.or_else(step) {
        Some(Kind::OneOf(words)) => words.iter().map(ToString::to_string).collect(),
        Some(Kind::Measure(_) | Kind::YesNo | Kind::Text) | None => Vec::new(),
    }
}

impl<'p> AskedWords<'p> {
    fn of(procedure: &'p Procedure) -> AskedWords<'p> {
        let mut asked = AskedWords::default();
        for step in procedure.all_steps() {
            each_expression(step, &mut |checked| asked.look(checked.expr(), checked));
        }
        asked
    }

    /// The words that a name is never compared with.
    fn never(&self, name: &str, words: &[String]) -> Vec<String> {
        let compared = self.compared.get(name);
        let is = |word: &String| compared.is_some_and(|compared| compared.contains(&word.as_str()));
        words.iter().filter(|word| !is(word)).cloned().collect()
    }

    fn look(&mut self, expr: &'p Expr, within: &'p CheckedExpr) {
        if let Node::Binary(Binary::Compare(_), _, a, b) = &expr.node
            && let Some((name, word)) = name_and_word(a, b)
        {
            self.compared.entry(name).or_default().push(word);
        }
        if let Node::If(condition, ..) = &expr.node
            && let (Some(name), Some((source, span))) = (chosen(condition), within.place(expr.span))
        {
            self.decides.push((name, source, span));
        }
        expr.each_operand(&mut |operand| self.look(operand, within));
    }
}

/// A name and the word that it is compared with.
fn name_and_word<'e>(a: &'e Expr, b: &'e Expr) -> Option<(&'e str, &'e str)> {
    match (&a.node, &b.node) {
        (Node::Name(name), Node::Word(word)) | (Node::Word(word), Node::Name(name)) => Some((name, word)),
        _ => None,
    }
}

/// The name whose word a condition asks for; one that asks for any word but one names all the others.
fn chosen(condition: &Expr) -> Option<&str> {
    match &condition.node {
        Node::Binary(Binary::Compare(Comparison::Equal), _, a, b) => Some(name_and_word(a, b)?.0),
        Node::Binary(Binary::And | Binary::Or, _, a, b) => chosen(a).or_else(|| chosen(b)),
        Node::Not(inner) => chosen(inner),
        Node::Number(..) | Node::Word(_) | Node::YesNo(_) | Node::Name(_) | Node::Known(..) => None,
        Node::Minus(_) | Node::Binary(..) | Node::If(..) | Node::Call(..) => None,
    }
}

/// Every expression that a step looks at, those in its texts too.
fn each_expression<'s>(step: &'s Step, look: &mut dyn FnMut(&'s CheckedExpr)) {
    let Mentions { texts, looks_at } = step.course().mentions();
    looks_at.into_iter().for_each(&mut *look);
    step.when.iter().for_each(&mut *look);
    let of_step = step.title.iter().chain(&step.why).chain(&step.how).chain(&step.repeated);
    texts.into_iter().chain(of_step).flat_map(Template::holes).for_each(look);
}

fn else_for_several(name: &str, rest: &[String], source: &SourceText, span: Span) -> Fault {
    let quoted: Vec<String> = rest.iter().map(|word| format!("'{word}'")).collect();
    let last = rest.last().map_or("", String::as_str);
    let message = format!("the `else` stands for {} of `{name}`", list(&quoted, "and"));
    Fault::new("else-for-several", source, span, message)
        .why("Nothing asks for these words: what is answered with one is taken for the other.")
        .remedy(format!("name them: `else if {name} == '{last}' then … else …`"))
        .cause(format!("else {name}"))
}

fn nothing_follows(step: &Step, word: &str) -> Fault {
    let id = &step.id;
    let message = format!("nothing follows when `{id}` is answered '{word}'");
    step.place()
        .fault("nothing-follows", message)
        .why("The shipped choice has no such word. The run would go on as if another one had been chosen.")
        .remedy(format!("add a step with `when = \"{id} == '{word}'\"`, which says or does what follows"))
}
