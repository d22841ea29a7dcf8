//! The expression language: typed, total, bounded, without side effects.
//!
//! A text becomes tokens, tokens a [tree](Expr), the tree a [checked](CheckedExpr) one in
//! which every part has its kind; a checked tree [evaluates](CheckedExpr::value) to a value or to
//! [`Unknown`] with a reason, and never fails in any other way.

mod ancestry;
mod check;
mod check_probability;
mod compile;
mod compile_branches;
mod coverage_interval;
mod draw_plan;
mod eval;
mod explain;
mod function;
mod linearity;
mod monte_carlo;
mod parse;
mod part;
mod pieces;
mod print;
mod problem;
mod program;
mod template;
mod token;
mod tree;
mod types;
mod usual_units;
mod value;

pub use ancestry::Ancestry;
pub use check::{CheckedExpr, Scope, check};
pub use check_probability::{Asymmetry, CheckProbability};
pub use coverage_interval::{CoverageInterval, IntervalReason};
pub use eval::{GivenCondition, Values};
pub(crate) use explain::{Called, PutIn};
pub use explain::{Explanation, Share};
pub(crate) use function::Parameter;
pub use function::{Function, Sort, Work};
pub use parse::{LONGEST_EXPRESSION, parse};
pub use problem::{Note, Problem};
pub(crate) use template::{RawTemplate, Template};
pub use token::KEYWORDS;
pub use tree::{Binary, Expr};
pub(crate) use tree::{Comparison, Node};
pub use types::{Collapse, Type};
pub use usual_units::give_usual_units;
pub(crate) use value::MEAN;
pub use value::{Unknown, Value};
