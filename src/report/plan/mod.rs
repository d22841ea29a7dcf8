//! What would be if: now beside planned, whether it can be done, what it costs, and what to do.
//!
//! A [`PlanView`] is what is planned and all that is known of it; page, figure and JSON are made
//! from it.

mod basis;
mod checks;
mod choices;
mod costs;
mod figure;
mod json;
mod page;
mod rows;
mod view;
mod work;

pub use basis::{BasisKind, BasisOf, PlanBasis};
pub use json::plan_json;
pub use page::plan_page;
pub use view::PlanView;
