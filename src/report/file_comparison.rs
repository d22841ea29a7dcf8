//! What an owner's file does otherwise than the shipped one, in lines.

use super::Page;
use crate::procedure::{Difference, FileComparison};
use crate::words::counted;

/// The most differences shown under each heading; who changed more has read the file.
const MOST_SHOWN: usize = 12;

/// What is otherwise in a file: what is less safe first, then the rest.
pub fn file_comparison_page(found: &FileComparison) -> Page {
    let mut page = Page::default();
    let (less, others) = (&found.less_safe, &found.others);
    if less.is_empty() && others.is_empty() {
        page.text(format!("It says the same as the shipped `{}`.", found.shipped));
        return page;
    }
    page.headed_list(&format!("LESS SAFE than the shipped `{}`", found.shipped), lines(less));
    page.headed_list(&format!("Otherwise than in the shipped `{}`", found.shipped), lines(others));
    page
}

fn lines(differences: &[Difference]) -> Vec<String> {
    let line = |difference: &Difference| match difference.line {
        Some(line) => format!("line {line}: {}", difference.says),
        None => difference.says.clone(),
    };
    let mut lines: Vec<String> = differences.iter().take(MOST_SHOWN).map(line).collect();
    if let Some(more @ 1..) = differences.len().checked_sub(MOST_SHOWN) {
        lines.push(format!("and {} more", counted(more, "difference")));
    }
    lines
}
