//! The faults of `bind` in words.

use super::draft::DraftFile;
use super::drafting::DraftExpr;
use super::interface::{DraftTerm, written};
use super::limits::MOST_STEPS;
use super::verb::DraftUse;
use crate::lang::Type;
use crate::source::{Fault, Quoted, SourceText, Span};

pub(super) fn not_given(part: &DraftUse, term: &DraftTerm, name: &str, at: &Quoted) -> Fault {
    let (part, term_name) = (&part.name.text, &term.id.name);
    let message =
        format!("`{part}` takes `{term_name}`, and nothing named `{name}` stands before this place");
    at.fault("not-given", message)
        .why(format!("The part's steps speak of it. It is: {}.", written(&term.ty)))
        .remedy(format!("bind it to what is meant: `with = {{ {term_name} = \"…\" }}`"))
}

pub(super) fn passed_over(part: &DraftUse, term: &DraftTerm, (own, usual): (&str, &DraftExpr)) -> Fault {
    let (name, term_name, usual) = (&part.name, &term.id.name, &usual.expr);
    let message = format!("`{}` takes `{term_name}`, and it is not said whether yours is meant", name.text);
    name.fault("passed-over", message)
        .why(format!(
            "`{term_name}` stands at {own}. Where nothing is given the part takes what is usual, `{usual}`."
        ))
        .remedy(format!(
            "write `with = {{ {term_name} = \"{term_name}\" }}` for yours, or `with = {{ {term_name} = \"{usual}\" }}`"
        ))
}

pub(super) fn other_type(part: &DraftUse, term: &DraftTerm, (name, ty): (&str, &Type), at: &Quoted) -> Fault {
    let (part, term_name, as_type) = (&part.name.text, &term.id.name, written(&term.ty));
    let message = format!("`{part}` takes `{term_name}` as {as_type}, and `{name}` is {}", written(ty));
    at.fault("other-type", message)
        .remedy(format!("bind it to something else: `with = {{ {term_name} = \"…\" }}`"))
}

pub(super) fn gives_other(term: &DraftTerm, ty: &Type) -> Fault {
    let message = format!("`{}` is {}, not {}", term.id.name, written(ty), written(&term.ty));
    term.id
        .place
        .fault("gives-other", message)
        .why("Who uses the part relies on what its head says.")
        .remedy(format!("write `{} = \"{}\"` under `gives`", term.id.name, written(ty)))
}

pub(super) fn gives_nothing(term: &DraftTerm) -> Fault {
    let message = format!("no step of this part is named `{}`", term.id.name);
    term.id.place.fault("gives-nothing", message).remedy("give the name of a step, or take it out of `gives`")
}

/// What a file that was to be a procedure turned out to be.
pub(super) fn part_alone(file: &DraftFile, source: &SourceText) -> Option<Fault> {
    file.interface.is_stated().then(|| {
        Fault::new("part-alone", source, file.interface.span, "this is a part, which cannot be run by itself")
            .why("It says what it takes from the procedure that uses it, or what must hold before it.")
            .remedy("put it into a procedure with `use`")
    })
}

/// More steps than anyone walks through.
pub(super) fn too_many(source: &SourceText, span: Span) -> Fault {
    let message = format!("there are more than {MOST_STEPS} steps");
    Fault::new("too-long", source, span, message).remedy("cut the procedure into several")
}
