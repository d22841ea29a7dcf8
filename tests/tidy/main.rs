//! Rules that matter are tests: layers, lengths, printing, clocks, forgotten files.

mod circles;
mod ids;
mod kinds;
mod names;
mod observed;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The longest file and function that pass; code is counted, unit tests at a file's end are not.
const LONGEST_FILE: usize = 350;
const LONGEST_FUNCTION: usize = 60;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files_below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files_below(&path, ending));
        } else if path.to_string_lossy().ends_with(ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

struct Source {
    /// The path below `src`.
    name: String,
    /// The folder, or the file's stem when it stands at the top.
    layer_folder: String,
    /// Its lines, unit tests at the end left out.
    code: Vec<String>,
}

fn sources() -> Vec<Source> {
    let src = root().join("src");
    files_below(&src, ".rs")
        .into_iter()
        .filter(|path| !is_only_for_tests(path))
        .map(|path| {
            let name = path.strip_prefix(&src).unwrap().to_string_lossy().into_owned();
            let first = name.split('/').next().unwrap();
            let layer_folder = first.trim_end_matches(".rs").to_string();
            let text = fs::read_to_string(&path).unwrap();
            let lines: Vec<String> = text.lines().map(str::to_string).collect();
            let tests =
                lines.windows(2).position(|w| w[0] == "#[cfg(test)]" && w[1].starts_with("mod tests {"));
            let code = lines[..tests.unwrap_or(lines.len())].to_vec();
            Source { name, layer_folder, code }
        })
        .collect()
}

/// Whether the file is a module that its parent declares for tests only.
fn is_only_for_tests(path: &Path) -> bool {
    let parent = fs::read_to_string(path.with_file_name("mod.rs")).unwrap_or_default();
    let declared = format!("mod {};", path.file_stem().unwrap().to_string_lossy());
    let lines: Vec<&str> = parent.lines().collect();
    lines.windows(2).any(|w| w[0] == "#[cfg(test)]" && w[1] == declared)
}

/// Folder to layer, as the table in DEVELOPERS.md says: lines such as `| L2 | physics lang |`.
fn layers() -> BTreeMap<String, usize> {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let mut layers = BTreeMap::new();
    for line in text.lines() {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let ["", layer, folders, ..] = cells.as_slice() else { continue };
        let Some(layer) = layer.strip_prefix('L').and_then(|n| n.parse::<usize>().ok()) else { continue };
        for folder in folders.split_whitespace() {
            layers.insert(folder.trim_matches('`').to_string(), layer);
        }
    }
    assert!(layers.len() > 10, "the layer table of DEVELOPERS.md was not found");
    layers
}

#[test]
fn imports_only_go_down() {
    let layers = layers();
    let mut faults = Vec::new();
    for source in sources().iter().filter(|s| s.name != "lib.rs") {
        let own = *layers
            .get(&source.layer_folder)
            .unwrap_or_else(|| panic!("`{}` has no layer in DEVELOPERS.md", source.layer_folder));
        for (number, line) in source.code.iter().enumerate() {
            if line.trim_start().starts_with("//") {
                continue;
            }
            for piece in line.split("crate::").skip(1).chain(line.split("tankhand::").skip(1)) {
                let folder: String =
                    piece.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
                let Some(other) = layers.get(&folder) else { continue };
                if folder != source.layer_folder && *other >= own {
                    faults.push(format!("src/{}:{}: {folder} is no layer below", source.name, number + 1));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn files_and_functions_stay_short() {
    let mut faults = Vec::new();
    for source in sources() {
        if source.code.len() > LONGEST_FILE {
            faults.push(format!("src/{} has {} lines of code", source.name, source.code.len()));
        }
        for (start, line) in source.code.iter().enumerate() {
            let trimmed = line.trim_start();
            let begins = ["fn ", "pub fn ", "pub(super) fn ", "pub(crate) fn ", "const fn ", "pub const fn "];
            if !begins.iter().any(|begin| trimmed.starts_with(begin)) || trimmed.ends_with(';') {
                continue;
            }
            let indent = line.len() - trimmed.len();
            let close = format!("{}}}", " ".repeat(indent));
            let end = source.code[start..].iter().position(|line| *line == close).unwrap_or(0);
            if end > LONGEST_FUNCTION {
                faults.push(format!("src/{}:{}: a function of {end} lines", source.name, start + 1));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// What only some folders or files may do: the words that show it, and the places.
const KEPT_TO: &[(&[&str], &[&str])] = &[
    (&["println!", "print!(", "dbg!"], &[]),
    // All text goes to a terminal through one writer; the others ask for its size and move its cursor.
    (
        &["io::stdout()", "io::stderr()", "Term::stdout", "Term::stderr"],
        &["console/outlet.rs", "console/surroundings.rs", "console/rich/face.rs", "machine"],
    ),
    (
        &["SystemTime::now", "Instant::now", "Local::now", "Utc::now", "clock_gettime", "thread::sleep"],
        &["clock", "machine"],
    ),
    (&["std::fs", "File::open", "OpenOptions"], &["record", "app", "disk", "machine"]),
    // What only one kind of machine has.
    (
        &["rustix::", "std::os::", "signal_hook::consts", "same_file::", "cfg(unix", "cfg(windows"],
        &["machine"],
    ),
    (&[".unwrap()", ".expect(", "panic!(", "unreachable!(", "todo!", "unimplemented!"], &[]),
    // The sizes of units: psi, atmosphere, gallon, foot, inch, pound, day, year, the zero of the Celsius scale.
    (
        &["6_894.7", "101_325", "3.785_4", "0.3048", "0.0254", "0.453_592", "86_400", "365.2", "273.15"],
        &["quantity"],
    ),
];

#[test]
fn what_belongs_to_one_folder_stays_there() {
    let mut faults = Vec::new();
    for source in sources() {
        for (number, line) in source.code.iter().enumerate() {
            if line.trim_start().starts_with("//") {
                continue;
            }
            for (words, folders) in KEPT_TO {
                if [&source.layer_folder, &source.name].iter().any(|place| folders.contains(&place.as_str()))
                {
                    continue;
                }
                for word in words.iter().filter(|word| line.contains(**word)) {
                    faults.push(format!("src/{}:{}: `{word}` does not belong here", source.name, number + 1));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn no_file_is_forgotten() {
    let mut faults = Vec::new();
    for source in sources().iter().filter(|s| !["lib.rs", "main.rs"].contains(&s.name.as_str())) {
        let path = Path::new(&source.name);
        let (module, folder) = match path.file_name().unwrap().to_str().unwrap() {
            "mod.rs" => {
                (path.parent().unwrap().file_name().unwrap(), path.parent().unwrap().parent().unwrap())
            }
            _ => (path.file_stem().unwrap(), path.parent().unwrap()),
        };
        let module = module.to_str().unwrap();
        let parents = match folder.to_str().unwrap() {
            "" => vec!["lib.rs".to_string()],
            folder => vec![format!("{folder}/mod.rs"), format!("{folder}.rs")],
        };
        let declared = parents.iter().any(|parent| {
            let text = fs::read_to_string(root().join("src").join(parent)).unwrap_or_default();
            text.lines().any(|line| {
                let line = line.trim();
                line.ends_with(&format!("mod {module};"))
            })
        });
        if !declared {
            faults.push(format!("src/{} is declared nowhere", source.name));
        }
        if !fs::read_to_string(root().join("src").join(path)).unwrap().starts_with("//!") {
            faults.push(format!("src/{} does not begin by saying what it is for", source.name));
        }
    }
    let procedures = root().join("procedures");
    for path in files_below(&procedures, ".toml") {
        let name = path.strip_prefix(&procedures).unwrap().with_extension("");
        if tankhand::procedure::shipped(name.to_str().unwrap()).is_none() {
            faults.push(format!("procedures/{} is not compiled in", name.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Nothing else stands at the top of the project.
#[test]
fn the_top_level_is_what_it_is_said_to_be() {
    let usual = [
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE",
        "README.md",
        "procedures",
        "src",
        "target",
        "tests",
        "transcripts-demo",
    ];
    let names = std::fs::read_dir(env!("CARGO_MANIFEST_DIR")).unwrap();
    let names = names.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let odd: Vec<String> =
        names.filter(|name| !name.starts_with('.') && !usual.contains(&name.as_str())).collect();
    assert_eq!(odd, Vec::<String>::new());
}

/// The text between the brackets that open at the start of `text` (just behind the first), cut at
/// its outermost commas.
fn arguments(text: &str) -> Vec<String> {
    let (mut depth, mut parts) = (0, vec![String::new()]);
    for (at, c) in text.char_indices() {
        let arrow = c == '>' && text[..at].ends_with('-');
        match c {
            '<' | '(' | '[' => depth += 1,
            '>' | ')' | ']' if depth == 0 && !arrow => break,
            '>' | ')' | ']' if !arrow => depth -= 1,
            ',' if depth == 0 => {
                parts.push(String::new());
                continue;
            }
            _ => {}
        }
        parts.last_mut().unwrap().push(c);
    }
    parts.iter().map(|part| part.trim().to_string()).collect()
}

/// The error type of every `Result<_, E>` of a source, in `Vec<…>` or not, with its line.
fn error_types(source: &Source) -> Vec<(usize, String)> {
    let code = source.code.join("\n");
    let results = code.match_indices("Result<").filter_map(|(at, word)| {
        let parts = arguments(&code[at + word.len()..]);
        let error = parts.get(1).filter(|part| !part.is_empty())?;
        let error = error.strip_prefix("Vec<").and_then(|rest| rest.strip_suffix('>')).unwrap_or(error);
        Some((code[..at].lines().count(), error.to_string()))
    });
    results.collect()
}

/// What a name of a type ends in when the type says that something failed.
const FAILING: &[&str] = &["Error", "Fault", "Refusal", "Trouble", "Failure"];

/// The types a source declares, and whether each is an error.
fn declared_types(source: &Source) -> Vec<(String, bool)> {
    let code = source.code.join("\n");
    let declarations = ["struct ", "enum "].into_iter().flat_map(|word| code.match_indices(word));
    let types = declarations.filter(|(at, _)| code[..*at].ends_with([' ', '\n'])).map(|(at, word)| {
        let name = &code[at + word.len()..];
        let name: String = name.chars().take_while(char::is_ascii_alphanumeric).collect();
        let mut above = code[..at].rsplit("\n\n").next().unwrap().lines();
        let derived = above.any(|line| {
            line.starts_with("#[derive(") && line.split(['(', ')', ',', ' ', ':']).any(|word| word == "Error")
        });
        let is_error = derived || code.contains(&format!("std::error::Error for {name} {{"));
        (name, is_error)
    });
    types.collect()
}

#[test]
fn what_failed_has_a_type_that_is_an_error() {
    let sources = sources();
    let declared: Vec<(String, bool)> = sources.iter().flat_map(declared_types).collect();
    let known = |name: &str| declared.iter().any(|(declared, _)| declared == name);
    let is_error = |name: &str| declared.iter().any(|(declared, is)| declared == name && *is);
    assert!(is_error("Fault") && is_error("Failure") && known("Run") && !is_error("Run"));
    let mut faults = Vec::new();
    for source in &sources {
        for (line, error) in error_types(source) {
            if error == "String" || (known(&error) && !is_error(&error)) {
                faults.push(format!("src/{}:{line}: `{error}` is no error type", source.name));
            }
        }
    }
    let fails = |name: &str| FAILING.iter().any(|ending| name.ends_with(ending));
    faults.extend(
        declared
            .iter()
            .filter(|(name, is)| fails(name) && !*is)
            .map(|(name, _)| format!("`{name}` does not implement Error")),
    );
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn error_types_are_found_in_nested_results() {
    let code = [
        "fn a() -> Result<Result<Vec<u8>, A>, Vec<B>> {",
        "x: impl Fn(",
        "  &str) -> Option<Result<(u8, u8), String>>",
    ];
    let source =
        Source { name: String::new(), layer_folder: String::new(), code: code.map(str::to_string).to_vec() };
    let found: Vec<(usize, String)> = error_types(&source);
    let found: Vec<(usize, &str)> = found.iter().map(|(line, error)| (*line, error.as_str())).collect();
    assert_eq!(found, [(1, "B"), (1, "A"), (3, "String")]);
}

/// The gate gives the same verdict every time: `.cargo/config.toml` pins the seed of the properties.
#[test]
fn properties_run_from_a_pinned_seed() {
    for name in ["PROPTEST_RNG_SEED", "PROPTEST_DISABLE_FAILURE_PERSISTENCE"] {
        assert!(
            std::env::var_os(name).is_some(),
            "{name} is not set: run the tests by cargo, within the project"
        );
    }
}
