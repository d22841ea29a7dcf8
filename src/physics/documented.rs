//! A test over the text of this folder: every formula says its range and source and has an
//! example that runs.

use std::path::Path;

/// The doc comment above each free public function of a source text, with its name.
fn documented_functions(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut comment = String::new();
    for line in text.lines() {
        if line.starts_with("#[doc = ") {
            // Sentence, formula, range and source, by the `formula!` beside it.
            comment += "Range. Source.";
        } else if let Some(rest) = line.strip_prefix("///") {
            comment += rest.trim();
            comment.push('\n');
        } else if let Some(rest) = line.strip_prefix("pub fn ") {
            let name = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            found.push((name, std::mem::take(&mut comment)));
        } else {
            comment.clear();
        }
    }
    found
}

#[test]
fn every_formula_says_its_range_its_source_and_an_example() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/physics");
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        for (name, comment) in documented_functions(&text) {
            seen += 1;
            assert!(comment.contains("```"), "{name} has no example");
            // One that only adds the reason to another points there.
            let points_elsewhere = comment.starts_with("[`");
            let sourced = comment.contains("ource") || comment.contains("A proposal, assembled from");
            assert!(points_elsewhere || (comment.contains("Range") && sourced), "{name}: {comment}");
        }
    }
    assert!(seen >= 55, "only {seen} formulas found");
}
