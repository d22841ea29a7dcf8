//! What an owner's file does otherwise than the shipped one, in lines.

use super::Page;
use crate::procedure::{Comparison, Difference};
use crate::words::counted;

/// The most differences told under each heading; who changed more has read the file.
const MOST_TOLD: usize = 12;

/// What is otherwise in a file: what is less safe first, then the rest.
pub fn comparison_page(found: &Comparison) -> Page {
    let mut page = Page::default();
    let (less, others) = (&found.less_safe, &found.others);
    if less.is_empty() && others.is_empty() {
        page.text(format!("It says the same as the shipped `{}`.", found.shipped));
        return page;
    }
    if !less.is_empty() {
        page.headed_list(&format!("LESS SAFE than the shipped `{}`", found.shipped), told(less));
    }
    if !others.is_empty() {
        page.headed_list(&format!("Otherwise than in the shipped `{}`", found.shipped), told(others));
    }
    page
}

fn told(differences: &[Difference]) -> Vec<String> {
    let line = |difference: &Difference| match difference.line {
        Some(line) => format!("line {line}: {}", difference.says),
        None => difference.says.clone(),
    };
    let mut told: Vec<String> = differences.iter().take(MOST_TOLD).map(line).collect();
    if let Some(more @ 1..) = differences.len().checked_sub(MOST_TOLD) {
        told.push(format!("and {} more", counted(more, "difference")));
    }
    told
}
