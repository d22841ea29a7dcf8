//! What a check would say if its sources of uncertainty were other than they are, all estimates kept.

use std::collections::{BTreeMap, HashSet};

use super::names::NameValues;
use super::run::Run;
use super::uncertainty_source::UncertaintySource;
use crate::lang::{Ancestry, CheckedExpr, Expr, Node, Unknown, Value, Values};
use crate::procedure::{Check, function};
use crate::quantity::{SourceId, Truth, Verdict};
use crate::record::Entry;

/// One check, and what may be asked of it.
pub(super) struct Sensitivity<'r> {
    run: &'r Run,
    check: &'r Check,
    /// Every source of uncertainty that the check's names carry, with how much.
    pub sources: BTreeMap<SourceId, f64>,
}

/// The values of a run, their uncertainties rescaled.
struct Rescaled<'a> {
    names: &'a NameValues,
    factor: &'a dyn Fn(SourceId) -> f64,
}

impl Values for Rescaled<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.names.value(name).map(|value| value.rescaled(self.factor))
    }

    fn confidence(&self) -> f64 {
        self.names.confidence()
    }
}

impl Ancestry for Rescaled<'_> {
    fn formula(&self, name: &str) -> Option<&CheckedExpr> {
        self.names.formula(name)
    }
}

impl<'r> Sensitivity<'r> {
    pub fn new(run: &'r Run, check: &'r Check) -> Sensitivity<'r> {
        let mut sources = BTreeMap::new();
        check.expr.expr().names(&mut |name, _| {
            let Ok(value) = run.state.names.value(name) else { return };
            for amount in value.amounts() {
                for (source, part) in amount.components() {
                    let most: &mut f64 = sources.entry(*source).or_default();
                    *most = most.max(part.abs());
                }
            }
            // The spread of readings comes in only with their mean.
            sources.extend(value.spread_source().map(|source| (source, 0.0)));
        });
        Sensitivity { run, check, sources }
    }

    /// Whether the check would say pass or fail with every source multiplied by its factor.
    pub fn decides(&self, factor: &dyn Fn(SourceId) -> f64) -> bool {
        let values = Rescaled { names: &self.run.state.names, factor };
        let confidence = self.run.setting.confidence();
        // Its yes may be that of a kink, so draws must say so too; its no is taken as it is.
        let decides = |truth: Truth| truth.verdict(confidence) != Verdict::Unsure;
        self.check.expr.truth(&values).is_ok_and(decides)
            && self.check.expr.judged(&values).is_ok_and(|judged| decides(judged.truth))
    }

    /// The readings of a gauge whose divisions are among the sources.
    pub fn readings(&self) -> impl Iterator<Item = &'r Entry> {
        let run = self.run;
        self.sources.keys().filter_map(move |source| match run.uncertainty_source(*source) {
            Some(UncertaintySource::Division(_)) => run.reading(*source),
            Some(
                UncertaintySource::Accuracy(_)
                | UncertaintySource::Stated(_)
                | UncertaintySource::Spread(_)
                | UncertaintySource::Other,
            )
            | None => None,
        })
    }

    /// Whether a function that takes whole series (the spread of readings, the highest of them)
    /// stands between the check and a step: more readings then do not make it surer.
    pub fn uses_series_of(&self, step: &str) -> bool {
        let procedure = &self.run.setting.procedure;
        let mut seen: HashSet<&str> = HashSet::new();
        let mut open = vec![self.check.expr.expr()];
        while let Some(expr) = open.pop() {
            if takes_series(expr, step) {
                return true;
            }
            open.extend(parts_of(expr));
            if let Node::Name(name) = &expr.node
                && seen.insert(name)
                && let Some(compute) = procedure.step(name).and_then(|step| step.course().computes())
            {
                open.push(compute.expr.expr());
            }
        }
        false
    }
}

/// Whether an expression is a call that takes all answers of a step at once.
fn takes_series(expr: &Expr, step: &str) -> bool {
    let Node::Call(name, _, given) = &expr.node else { return false };
    let whole = function(name).is_none_or(|f| f.parameters.iter().any(|p| p.sort.is_series()));
    whole && given.iter().any(|x| matches!(&x.node, Node::Name(name) if name == step))
}

fn parts_of(expr: &Expr) -> Vec<&Expr> {
    match &expr.node {
        Node::Minus(x) | Node::Not(x) => vec![x],
        Node::Binary(_, _, a, b) => vec![a, b],
        Node::If(a, b, c) => vec![a, b, c],
        Node::Call(_, _, given) => given.iter().collect(),
        Node::Number(..) | Node::Word(_) | Node::YesNo(_) | Node::Known(..) | Node::Name(_) => Vec::new(),
    }
}
