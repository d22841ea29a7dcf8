//! How a value came about: the formulas used, the numbers put in, and where its uncertainty comes from.
//!
//! The walk follows the evaluation: a branch not taken and a stand-in not needed are not told.

use std::collections::BTreeMap;

use super::check::CheckedExpr;
use super::eval::value;
use super::part::TypedNode;
use super::{Collapse, Function, Unknown, Value, Values};
use crate::quantity::{SourceId, Uncertain};

/// What a share of the uncertainty is called when nobody knows its source.
const UNNAMED: &str = "a source without a name";
/// Shares below this, in percent, are told together.
const TINY: f64 = 1.0;

/// How one expression came to its value.
#[derive(Clone, Debug)]
pub struct Explanation {
    /// The expression, in the canonical spelling.
    pub written: String,
    /// The name whose value this is, when nothing was computed.
    pub renames: Option<String>,
    /// The names it read, in their order, each once.
    pub names: Vec<PutIn>,
    /// The functions it called, inner ones first.
    pub calls: Vec<Called>,
    /// What came out.
    pub result: Result<Value, Unknown>,
    /// The sources of uncertainty that a `+-` in it is, as written.
    pub limits: Vec<(SourceId, String)>,
    /// Other sources that came about in it, such as the scatter about a fit.
    own: Vec<(SourceId, String)>,
}

/// One number put in.
#[derive(Clone, Debug)]
pub struct PutIn {
    /// The name it was read by, or the parameter it was put in for.
    pub name: String,
    /// The name or `+-` that stood in the place of a parameter, where that tells more.
    pub written: Option<String>,
    /// Its value.
    pub value: Result<Value, Unknown>,
}

/// One call of a function.
#[derive(Clone, Debug)]
pub struct Called {
    /// The function, with its formula and where that comes from.
    pub function: &'static Function,
    /// What was put in, parameter by parameter.
    pub arguments: Vec<PutIn>,
    /// What it gave.
    pub result: Result<Value, Unknown>,
}

/// What one source contributes to the variance of a result (JCGM 100:2008, 5.1.2).
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// What the source is called.
    pub source: String,
    /// Percent of the variance.
    pub percent: f64,
}

impl CheckedExpr {
    /// Works the expression out and tells how.
    pub fn explained(&self, values: &dyn Values) -> Explanation {
        self.explained_as(value(&self.part, values), values)
    }

    /// Tells how it came to a result that is known already.
    pub fn explained_as(&self, result: Result<Value, Unknown>, values: &dyn Values) -> Explanation {
        let (written, renames) = (self.expr().to_string(), renamed(&self.part, values));
        let (names, calls, limits, own) = Default::default();
        let found = Explanation { written, renames, names, calls, result, limits, own };
        let mut walk = Explainer { values, found };
        walk.part(&self.part);
        walk.found
    }
}

impl Explanation {
    /// Where the uncertainty of a measured result comes from, the largest share first; tiny ones are
    /// told together. `called` names sources that came about elsewhere.
    pub fn shares(&self, called: &dyn Fn(SourceId) -> Option<String>) -> Vec<Share> {
        let among = |sources: &[(SourceId, String)], id: SourceId| {
            sources.iter().find(|(known, _)| *known == id).map(|(_, name)| name.clone())
        };
        let name = |id| among(&self.limits, id).or_else(|| called(id)).or_else(|| among(&self.own, id));
        match &self.result {
            Ok(Value::Amount(_, amount)) => shares(amount, &name),
            _ => Vec::new(),
        }
    }

    /// The same of an amount that goes with the expression, such as the margin of a comparison.
    pub fn shares_of(&self, amount: &Uncertain, called: &dyn Fn(SourceId) -> Option<String>) -> Vec<Share> {
        let among = |id| self.limits.iter().chain(&self.own).find(|(known, _)| *known == id);
        shares(amount, &|id| called(id).or_else(|| among(id).map(|(_, name)| name.clone())))
    }
}

struct Explainer<'a> {
    values: &'a dyn Values,
    found: Explanation,
}

impl Explainer<'_> {
    fn part(&mut self, part: &TypedNode) {
        match part {
            TypedNode::Name(name) => self.name(name, part),
            TypedNode::One(inner, how) => self.one(part, inner, *how),
            TypedNode::Otherwise(a, b) => {
                self.part(if value(a, self.values).is_ok() { a } else { b });
            }
            TypedNode::If(condition, yes, no) => {
                self.part(condition);
                if let Ok(Value::Truth(truth)) = value(condition, self.values) {
                    self.part(if truth.best { yes } else { no });
                }
            }
            TypedNode::Within(within) => {
                self.part(&within.estimate);
                self.part(&within.limit);
                self.found.limits.push((within.source, within.written.to_string()));
            }
            TypedNode::Call(function, arguments) => self.call(part, function, arguments),
            others => others.children().into_iter().for_each(|part| self.part(part)),
        }
    }

    fn name(&mut self, name: &str, part: &TypedNode) {
        if self.found.names.iter().all(|known| known.name != name) {
            let value = value(part, self.values);
            self.found.names.push(PutIn { name: name.to_string(), written: None, value });
        }
    }

    /// One value in place of a series: of readings the mean, uncertain by their spread.
    fn one(&mut self, part: &TypedNode, inner: &TypedNode, how: Collapse) {
        match inner {
            TypedNode::Name(name) => self.name(name, part),
            _ => self.part(inner),
        }
        if how == Collapse::Mean {
            let of = shown(inner).unwrap_or_else(|| "a series".to_string());
            self.new_source(part, &[inner], &format!("spread of the readings of {of}"));
        }
    }

    fn call(&mut self, part: &TypedNode, function: &'static Function, given: &[TypedNode]) {
        given.iter().for_each(|argument| self.part(argument));
        let arguments = function.parameters.iter().zip(given).map(|(parameter, argument)| PutIn {
            name: parameter.name.to_string(),
            written: shown(argument).filter(|written| written != parameter.name),
            value: value(argument, self.values),
        });
        let arguments = arguments.collect();
        self.found.calls.push(Called { function, arguments, result: value(part, self.values) });
        let given: Vec<&TypedNode> = given.iter().collect();
        self.new_source(part, &given, &format!("{} itself", function.name));
    }

    /// Names the sources of a value that what it was made from does not have.
    fn new_source(&mut self, made: &TypedNode, from: &[&TypedNode], called: &str) {
        let Ok(Value::Amount(_, made)) = value(made, self.values) else { return };
        let from: Vec<Value> = from.iter().filter_map(|part| value(part, self.values).ok()).collect();
        let had: Vec<SourceId> = from
            .iter()
            .flat_map(Value::amounts)
            .flat_map(|amount| amount.components().iter().map(|(id, _)| *id).collect::<Vec<_>>())
            .collect();
        for (id, _) in made.components() {
            if !had.contains(id) && self.found.own.iter().all(|(known, _)| known != id) {
                self.found.own.push((*id, called.to_string()));
            }
        }
    }
}

/// The name whose value a part is, when nothing is computed on the way.
fn renamed(part: &TypedNode, values: &dyn Values) -> Option<String> {
    match part {
        TypedNode::Name(name) => Some(name.to_string()),
        TypedNode::One(inner, _) => renamed(inner, values),
        TypedNode::Otherwise(a, b) => renamed(if value(a, values).is_ok() { a } else { b }, values),
        TypedNode::If(condition, yes, no) => match value(condition, values).ok()? {
            Value::Truth(truth) => renamed(if truth.best { yes } else { no }, values),
            _ => None,
        },
        _ => None,
    }
}

/// A name or `+-` as it is written; other parts tell nothing by that.
fn shown(part: &TypedNode) -> Option<String> {
    match part {
        TypedNode::Name(name) => Some(name.to_string()),
        TypedNode::Within(within) => Some(within.written.to_string()),
        TypedNode::One(inner, _) => shown(inner),
        _ => None,
    }
}

/// Each source's share of the variance; tiny ones together, unless there is only one.
fn shares(amount: &Uncertain, called: &dyn Fn(SourceId) -> Option<String>) -> Vec<Share> {
    let variance: f64 = amount.standard_uncertainty().powi(2);
    if variance == 0.0 {
        return Vec::new();
    }
    let mut by_name: BTreeMap<String, f64> = BTreeMap::new();
    for (id, part) in amount.components() {
        let name = called(*id).unwrap_or_else(|| UNNAMED.to_string());
        *by_name.entry(name).or_default() += part * part / variance * 100.0;
    }
    let all = by_name.into_iter().map(|(source, percent)| Share { source, percent });
    let (mut shares, tiny): (Vec<Share>, Vec<Share>) = all.partition(|share| share.percent >= TINY);
    shares.sort_by(|a, b| b.percent.total_cmp(&a.percent));
    match tiny.len() {
        0 | 1 => shares.extend(tiny),
        _ => shares.push(Share {
            source: "others, each under 1 %".to_string(),
            percent: tiny.iter().map(|share| share.percent).sum(),
        }),
    }
    shares
}
