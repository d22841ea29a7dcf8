//! Where first-order uncertainty does not tell the truth, and what does.
//!
//! A first-order figure takes every formula as straight over the width of its uncertainty. At a kink
//! it knows only the side on which the best estimate lies: `min`, `max`, `abs`, `spread`, an `if`
//! between numbers; a drawdown with the precharge near the cut-in or the cut-out; water held with the
//! pressure near the precharge; a dead gap near zero; a target where gap and warmth ask for the same.
//! A check there can be told with a false certainty.
//!
//! So a comparison is first tried with a few Monte Carlo draws (JCGM 101:2008). When each of them falls
//! on the side that first order foretells, the first-order probability stands (JCGM 106:2012, 7.2).
//! When one does not, the comparison is judged by the share of many draws in which it holds, which
//! needs no straightness at all (JCGM 101:2008, clause 8, compares the two so). The draws are the
//! same every time, so a run replayed comes to the same verdict.
//!
//! What tells of uncertainties themselves, such as `uncertainty_of`, no draw can work out; first order stands.
//! The condition of a `verdict(…)` is judged in the same way, and what it says is the same in every draw: it
//! was decided by the readings as they are. A yes/no `if` is left as it is: there the procedure itself asks
//! for the side of the best estimate.

use super::check::CheckedExpr;
use super::compile::Compiler;
use super::draw_plan::{DrawPlan, rests_on_uncertainties};
use super::eval::{GivenCondition, compare, is_certain, truth, truth_by, value};
use super::monte_carlo::Draws;
use super::part::TypedNode;
use super::program::Machine;
use super::{Ancestry, Comparison, Unknown, Value};
use crate::quantity::{Truth, Uncertain, Verdict};

/// Draws that must all agree with first order for it to stand.
const DRAWS_THAT_AGREE: usize = 200;
/// Draws that judge where it does not: a probability of 95 % is then sure to 0.2 %.
pub(super) const DRAWS_THAT_JUDGE: usize = 10_000;
/// Probabilities that differ by less are not worth a word.
const TOLERANCE: f64 = 0.01;

/// A yes or no, and whether first order would have told it otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckProbability {
    /// The yes or no, to be relied on.
    pub truth: Truth,
    /// Set where the uncertainty is not linear.
    pub asymmetry: Option<Asymmetry>,
}

/// An uncertainty that is not linear: what first order says, and what the Monte Carlo draws say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asymmetry {
    /// Least and most probability to first order.
    pub first_order: (f64, f64),
    /// Least and most probability by Monte Carlo draws.
    pub monte_carlo: (f64, f64),
}

impl Asymmetry {
    /// What a person is told.
    ///
    /// ```
    /// use tankhand::lang::Asymmetry;
    /// let asymmetry = Asymmetry { first_order: (0.98, 0.98), monte_carlo: (0.91, 0.92) };
    /// assert_eq!(
    ///     asymmetry.said(),
    ///     "The uncertainty is not symmetric here: of 10,000 draws of what the gauges may be off, this holds in 91 to 92 %; \
    ///      the usual shortcut would say 98 %."
    /// );
    /// ```
    pub fn said(&self) -> String {
        let percent = |(least, most): (f64, f64)| {
            let (least, most) = (format!("{:.0}", 100.0 * least), format!("{:.0}", 100.0 * most));
            if least == most { format!("{least} %") } else { format!("{least} to {most} %") }
        };
        let (monte_carlo, shortcut) = (percent(self.monte_carlo), percent(self.first_order));
        format!(
            "The uncertainty is not symmetric here: of 10,000 draws of what the gauges may be off, this holds in {monte_carlo}; \
             the usual shortcut would say {shortcut}."
        )
    }
}

impl CheckedExpr {
    /// The value of a yes/no expression, right also where the uncertainty is not linear.
    ///
    /// # Errors
    /// As [`CheckedExpr::value`].
    pub fn judged(&self, values: &dyn Ancestry) -> Result<CheckProbability, Unknown> {
        judged_until(&self.part, values, None)
    }

    /// Whether a check would say pass or fail at a confidence, to first order and by draws: no more of them than
    /// show that it would not.
    pub fn tells(&self, values: &dyn Ancestry, confidence: f64) -> bool {
        let tells = |truth: Truth| truth.verdict(confidence) != Verdict::Unsure;
        let alone = matches!(*self.part, TypedNode::Compare(..));
        // The yes of first order may be that of a kink; its no is taken as it is.
        self.truth(values).is_ok_and(tells)
            && judged_until(&self.part, values, alone.then_some(confidence))
                .is_ok_and(|judged| tells(judged.truth))
    }
}

impl GivenCondition<'_> {
    /// As [`CheckedExpr::judged`].
    ///
    /// # Errors
    /// As [`CheckedExpr::value`].
    pub fn judged(self, values: &dyn Ancestry) -> Result<CheckProbability, Unknown> {
        judged_until(self.0, values, None)
    }
}

/// A yes or no judged; with a confidence no further than until it cannot be reached any more.
fn judged_until(
    part: &TypedNode,
    values: &dyn Ancestry,
    confidence: Option<f64>,
) -> Result<CheckProbability, Unknown> {
    let first_order = truth(part, values)?;
    let plan = DrawPlan::new(part, values);
    let truth = truth_by(part, values, &mut |comparison, a, b| {
        let (left, right) = (value(a, values)?, value(b, values)?);
        let is_uncertain =
            |side, value: &Value| value.amount().is_some_and(|it| rests_on_uncertainties(side, values, it));
        let as_it_is = !comparison.orders() || is_uncertain(a, &left) || is_uncertain(b, &right);
        let margin = margin(&left, &right).filter(|_| !as_it_is);
        let plain = compare(comparison, left, right)?;
        let mut plan = plan.clone();
        [a, b].into_iter().for_each(|side| plan.meet(side));
        match margin {
            Some(margin) if !plan.is_linear(a, b) => {
                Ok(Leaf { comparison, a, b, margin, confidence }.judged(&plan, plain))
            }
            _ => Ok(plain),
        }
    })?;
    let apart = (truth.least - first_order.least).abs().max((truth.most - first_order.most).abs());
    let asymmetry = (apart >= TOLERANCE).then_some(Asymmetry {
        first_order: (first_order.least, first_order.most),
        monte_carlo: (truth.least, truth.most),
    });
    Ok(CheckProbability { truth, asymmetry })
}

/// The right side less the left, when both are numbers.
fn margin(left: &Value, right: &Value) -> Option<Uncertain> {
    Some(right.amount()?.clone() - left.amount()?.clone())
}

/// One comparison of numbers.
struct Leaf<'a> {
    comparison: Comparison,
    a: &'a TypedNode,
    b: &'a TypedNode,
    /// To first order.
    margin: Uncertain,
    /// What is asked for; draws may end where neither a yes nor a no can be as likely as that.
    confidence: Option<f64>,
}

impl Leaf<'_> {
    fn judged(&self, plan: &DrawPlan<'_>, plain: Truth) -> Truth {
        let mut compiler = Compiler::new(plan);
        let sides = [self.a, self.b].map(|side| compiler.number(side));
        let margin = compiler.first_order(&self.margin);
        let program = compiler.finish();
        let mut machine = Machine::new(&program, plan);
        // Whether it holds in a draw; `None` where a formula is out of its range.
        let holds = |machine: &mut Machine<'_>, draw: &[f64]| {
            machine.draw(draw);
            let [a, b] = sides.map(|side| machine.number(side));
            (!a.is_nan() && !b.is_nan()).then(|| is_certain(self.comparison, a, b))
        };
        let few = Draws::of(plan.shapes(), DRAWS_THAT_AGREE);
        let mut as_foretold = |draw| {
            let found = holds(&mut machine, draw);
            found == Some(self.comparison.holds(machine.number(margin)))
        };
        if few.rows(DRAWS_THAT_AGREE).all(&mut as_foretold) {
            return plain;
        }
        drop(few);
        let (mut least, mut most) = (0, DRAWS_THAT_JUDGE);
        for draw in Draws::of(plan.shapes(), DRAWS_THAT_JUDGE).rows(DRAWS_THAT_JUDGE) {
            match holds(&mut machine, draw) {
                Some(true) => least += 1,
                Some(false) => most -= 1,
                None => {}
            }
            // What is still to come could only bring the two nearer.
            if self
                .confidence
                .is_some_and(|confidence| share(most) < confidence && share(least) > 1.0 - confidence)
            {
                break;
            }
        }
        Truth { best: plain.best, least: share(least), most: share(most) }
    }
}

fn share(count: usize) -> f64 {
    count as f64 / DRAWS_THAT_JUDGE as f64
}
