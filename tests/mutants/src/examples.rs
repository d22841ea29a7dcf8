//! The examples of doc comments, as one test program: rustdoc would build each for itself.

use std::fmt::Write;

/// The name of the test program.
pub const NAME: &str = "examples_of_docs";

/// All examples that run, a test each; `sources` are names and texts of the source files.
pub fn program<'a>(sources: impl Iterator<Item = (&'a str, &'a str)>) -> String {
    let mut program = String::from("//! Made from the doc comments.\n");
    for (name, text) in sources {
        let module: String = name.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '_' }).collect();
        for (number, example) in examples(text).into_iter().enumerate() {
            let _ = write!(program, "\n#[test]\nfn {module}_{number}() {{\n{example}}}\n");
        }
    }
    program
}

fn examples(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut open: Option<(bool, String)> = None;
    for line in text.lines() {
        let line = line.trim_start();
        let Some(doc) = line.strip_prefix("///").or_else(|| line.strip_prefix("//!")) else {
            open = None;
            continue;
        };
        let doc = doc.strip_prefix(' ').unwrap_or(doc);
        match (&mut open, doc.strip_prefix("```")) {
            (None, Some(kind)) => open = Some((kind.is_empty(), String::new())),
            (None, None) => {}
            (Some((runs, example)), Some(_)) => {
                if *runs {
                    found.push(std::mem::take(example));
                }
                open = None;
            }
            (Some((_, example)), None) => {
                example.push_str(doc.strip_prefix("# ").unwrap_or(doc));
                example.push('\n');
            }
        }
    }
    found
}
