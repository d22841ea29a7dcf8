//! The catalogue of faults: every fault is a file that can be run, beside what is said of it.
//!
//! `tests/errors/STAGE/NAME.toml` is loaded (as a system file in the stage `system`, as a file of
//! answers in `answers`, else as a procedure; in `slips`, slips of the pen, as either by what it has), and what is said, in 80 columns without colour, is
//! compared with `NAME.golden`. A new sort of fault needs a new file here.

#[path = "support/golden.rs"]
mod golden;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path as FilePath, PathBuf};

use tankhand::console::Script;
use tankhand::procedure::{LoadContext, Path, SHIPPED, Texts, UnreadableText, load, shipped};
use tankhand::report::faults_text;
use tankhand::source::{Fault, SourceText};
use tankhand::system::PATHS;

const STAGES: &[&str] =
    &["toml", "slips", "keys", "language", "parts", "paths", "edits", "system", "answers"];

/// Codes that no file shows by itself: they are told while answers are played against a run, and
/// the tests beside that player show them.
const WHILE_PLAYING: &[&str] =
    &["unused-answer", "no-answer", "wrong-step", "other-question", "not-early", "after-end"];

/// The shipped parts, and those in `tests/errors/parts/used`; one in `tests/errors/parts/parts` stands
/// in place of the shipped one.
struct Parts;

impl Texts for Parts {
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>> {
        if name == "used/unreadable" {
            return Some(Err(UnreadableText {
                why: "`used/unreadable` cannot be read: permission denied".to_string(),
            }));
        }
        let own = fs::read_to_string(folder().join("parts").join(format!("{name}.toml"))).ok();
        match (own, shipped(name)) {
            (Some(own), Some(file)) => Some(Ok(SourceText::new(file.file, own))),
            (None, Some(file)) => Some(Ok(SourceText::new(file.file, file.text))),
            (own, None) => Some(Ok(SourceText::new(format!("parts/{name}.toml"), own?))),
        }
    }

    fn names(&self) -> Vec<String> {
        SHIPPED.iter().map(|file| file.name.to_string()).collect()
    }
}

fn folder() -> PathBuf {
    FilePath::new(env!("CARGO_MANIFEST_DIR")).join("tests/errors")
}

fn samples(stage: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder().join(stage)).unwrap();
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|extension| extension == "toml"));
    files.sort();
    assert!(!files.is_empty(), "the stage `{stage}` has no samples");
    files
}

/// The faults of one sample.
fn faults(stage: &str, sample: &FilePath) -> Vec<Fault> {
    let name = format!("{stage}/{}", sample.file_name().unwrap().to_string_lossy());
    let source = SourceText::new(name, fs::read_to_string(sample).unwrap());
    match stage {
        "system" => return tankhand::system::load(&source).err().unwrap_or_default(),
        "slips" if !source.text().contains("purpose") && !source.text().trim().is_empty() => {
            return tankhand::system::load(&source).err().unwrap_or_default();
        }
        "answers" => return Script::load(&source).err().unwrap_or_default(),
        _ => {}
    }
    let paths: Vec<Path> =
        PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect();
    load(&source, &LoadContext { texts: &Parts, paths: &paths }).err().unwrap_or_default()
}

/// The codes of the faults, and the page a person sees.
fn page(faults: &[Fault]) -> String {
    let codes: Vec<&str> = faults.iter().map(|fault| fault.code).collect();
    format!("{}\n\n{}", codes.join(" "), faults_text(faults, 80, false))
}

#[test]
fn every_sample_is_told_as_its_golden_says() {
    for stage in STAGES {
        for sample in samples(stage) {
            let name = sample.file_stem().unwrap().to_string_lossy();
            let found = page(&faults(stage, &sample));
            golden::holds(&format!("tests/errors/{stage}/{name}.golden"), &found);
        }
    }
}

#[test]
fn every_sample_is_faulty_and_every_golden_has_its_sample() {
    for stage in STAGES {
        for sample in samples(stage) {
            assert!(!faults(stage, &sample).is_empty(), "{} has no fault", sample.display());
        }
        for entry in fs::read_dir(folder().join(stage)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|extension| extension == "golden") {
                assert!(path.with_extension("toml").exists(), "{} has no sample", path.display());
            }
        }
    }
}

#[test]
fn every_code_in_the_source_has_a_sample() {
    let mut shown = BTreeSet::new();
    for stage in STAGES {
        for sample in samples(stage) {
            shown.extend(faults(stage, &sample).iter().map(|fault| fault.code.to_string()));
        }
    }
    let written = codes_in_source();
    assert!(written.len() > 40, "the search for codes finds too few: {written:?}");
    let without: Vec<&String> = written
        .iter()
        .filter(|code| !shown.contains(*code) && !WHILE_PLAYING.contains(&code.as_str()))
        .collect();
    assert!(without.is_empty(), "no sample in tests/errors shows {without:?}");
    let unfound: Vec<&String> = shown.iter().filter(|code| !written.contains(*code)).collect();
    assert!(unfound.is_empty(), "the search for codes misses {unfound:?}");
}

/// Every literal that stands as the code of a fault or problem, tests apart.
fn codes_in_source() -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    visit(&FilePath::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut |text| {
        let text = text.split("#[cfg(test)]").next().unwrap_or("");
        for opening in ["Fault::new(", "Problem::new(", "fault(", "Token::End => (", "Token::Word(word) => ("]
        {
            for after in text.split(opening).skip(1) {
                codes.extend(code_at_start(after));
            }
        }
    });
    codes
}

/// The code in `"code", …`, when that is what stands there.
fn code_at_start(text: &str) -> Option<String> {
    let (code, after) = text.trim_start().strip_prefix('"')?.split_once('"')?;
    let fits = code.chars().all(|c| c.is_ascii_lowercase() || c == '-') && after.starts_with(',');
    fits.then(|| code.to_string())
}

fn visit(folder: &FilePath, look: &mut dyn FnMut(&str)) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            if path.file_name().is_some_and(|name| name != "tests") {
                visit(&path, look);
            }
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            look(&fs::read_to_string(&path).unwrap());
        }
    }
}
