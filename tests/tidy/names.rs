//! Names are terms of the field, and one name means one thing.

use std::collections::BTreeMap;

use syn::visit::{self, Visit};

use crate::{Source, files_below, root, sources};

/// Words that are no terms of the field, each with what a name says instead.
const NO_TERMS: &[(&str, &str)] = &[
    ("bent", "nonlinear"),
    ("ceiling", "limit"),
    ("charge", "precharge"),
    ("charges", "precharges"),
    ("doubt", "uncertainty"),
    ("doubted", "uncertain"),
    ("doubtful", "uncertain"),
    ("doubts", "uncertainties"),
    ("drawn", "coverage interval, draws"),
    ("dump", "flush"),
    ("dumps", "flushes"),
    ("force", "effective"),
    ("here", "label"),
    ("leaving", "exit"),
    ("lopsided", "asymmetric"),
    ("overcharge", "high precharge"),
    ("pooled", "common slope"),
    ("reckon", "compute"),
    ("reckoned", "computed"),
    ("settle", "advice"),
    ("settled", "stabilized, canonical"),
    ("settling", "stabilization"),
    ("straight", "linear, first order"),
    ("taken", "reserved, snapshot"),
    ("told", "message, shown"),
    ("trial", "draw"),
    ("untold", "undefined"),
    ("want", "expects"),
    ("wanted", "expected, target, filter"),
    ("whatif", "sensitivity"),
    ("worked", "computed, derivation"),
];

/// The identifier that a text begins with, behind its visibility.
fn identifier(line: &str) -> &str {
    let rest = match line.strip_prefix("pub(") {
        Some(rest) => rest.split_once(") ").map_or("", |(_, rest)| rest),
        None => line.strip_prefix("pub ").unwrap_or(line),
    };
    let end = rest.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(rest.len());
    &rest[..end]
}

/// The names that a source declares: each with its line, and whether it is that of a type.
/// Names of fields and variants are those at the margin of a type's body.
fn declared(source: &Source) -> Vec<(usize, &str, bool)> {
    const KEYWORDS: [&str; 9] = ["struct", "enum", "trait", "union", "type", "fn", "mod", "const", "static"];
    let mut names = Vec::new();
    let mut body = false;
    for (number, line) in (1..).zip(&source.code) {
        let inner = line.trim_start();
        let first = identifier(inner);
        let behind = inner.split_once(&format!("{first} ")).map_or("", |(_, rest)| rest);
        let at_margin = inner.len() == line.len();
        if first == "const" && behind.starts_with("fn ") {
            names.push((number, identifier(&behind[3..]), false));
        } else if KEYWORDS.contains(&first) {
            let is_type = at_margin && KEYWORDS[..5].contains(&first);
            names.push((number, identifier(behind.trim_start_matches("mut ")), is_type));
        } else if body && line.len() == inner.len() + 4 && !first.is_empty() {
            names.push((number, first, false));
        }
        if at_margin {
            body = ["struct", "enum", "union"].contains(&first) && line.ends_with('{')
                || body && (inner.starts_with("where") || inner == "{");
        }
    }
    names.retain(|(_, name, _)| !name.is_empty());
    names
}

/// The words of a name, in lower case: `SourceId` and `source_id` are `source` and `id`.
fn words(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut before = 'A';
    for c in name.chars() {
        if c == '_' || c.is_ascii_uppercase() && before.is_ascii_lowercase() {
            words.push(String::new());
        }
        if c != '_' {
            words.last_mut().unwrap().push(c.to_ascii_lowercase());
        }
        before = c;
    }
    words
}

#[test]
fn one_type_name_means_one_thing() {
    let sources = sources();
    let mut places: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    // What a machine has stands once for each kind of machine.
    for source in sources.iter().filter(|source| !source.name.starts_with("machine/windows/")) {
        for (number, name, _) in declared(source).into_iter().filter(|(_, _, is_type)| *is_type) {
            places.entry(name).or_default().push(format!("src/{}:{number}", source.name));
        }
    }
    assert!(places.len() > 200, "the types were not found");
    places.retain(|_, places| places.len() > 1);
    assert!(places.is_empty(), "{places:#?}");
}

/// The name of the number that a line declares as a constant: one, a few, a range, a time.
fn number_constant(line: &str) -> Option<&str> {
    const NUMBERS: [&str; 8] = ["f64", "usize", "u16", "u32", "u64", "i32", "i64", "Duration"];
    let line = line.trim_start();
    let rest = if line.starts_with("pub") { line.split_once(' ')?.1 } else { line };
    let (name, rest) = rest.strip_prefix("const ").or(rest.strip_prefix("static "))?.split_once(": ")?;
    let words: Vec<&str> = rest.split(" =").next()?.split(|c: char| !c.is_ascii_alphanumeric()).collect();
    (words.iter().any(|word| NUMBERS.contains(word)) && !words.contains(&"str")).then_some(name)
}

/// A name that two files give to two numbers tells neither. Tables and texts may be called alike.
#[test]
fn one_name_of_a_number_means_one_thing() {
    let sources = sources();
    let mut places: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for source in sources.iter().filter(|source| !source.name.starts_with("machine/windows/")) {
        for (number, line) in (1..).zip(&source.code) {
            if let Some(name) = number_constant(line) {
                places.entry(name).or_default().push(format!("src/{}:{number}", source.name));
            }
        }
    }
    assert!(places.len() > 200, "the constants were not found");
    places.retain(|_, places| places.len() > 1);
    assert!(places.is_empty(), "{places:#?}");
}

/// The tests, without their own names: these are sentences.
fn helpers_of_tests() -> impl Iterator<Item = Source> {
    files_below(&root().join("tests"), ".rs").into_iter().map(|path| {
        let name = path.strip_prefix(root()).unwrap().display().to_string();
        let mut is_test = false;
        let mut code = Vec::new();
        for line in std::fs::read_to_string(&path).unwrap().lines() {
            is_test |= line.trim() == "#[test]";
            let is_its_name = is_test && line.contains("fn ");
            is_test &= !is_its_name;
            code.push(if is_its_name { String::new() } else { line.to_string() });
        }
        Source { name, layer_folder: "tests".to_string(), code }
    })
}

#[test]
fn names_are_terms_of_the_field() {
    let mut faults = Vec::new();
    let src = sources().into_iter().map(|source| Source { name: format!("src/{}", source.name), ..source });
    for source in src.chain(helpers_of_tests()) {
        for (number, name, _) in declared(&source) {
            faults.extend(no_term(name).map(|fault| format!("{}:{number}: {fault}", source.name)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The names of parameters and locals.
struct Bindings(Vec<String>);

impl<'ast> Visit<'ast> for Bindings {
    fn visit_pat_ident(&mut self, pattern: &'ast syn::PatIdent) {
        self.0.push(pattern.ident.to_string());
        visit::visit_pat_ident(self, pattern);
    }
}

fn bindings(code: &str) -> Vec<String> {
    let mut bindings = Bindings(Vec::new());
    bindings.visit_file(&syn::parse_file(code).unwrap());
    bindings.0
}

/// What a name says that is no term of the field, and what it would say instead.
fn no_term(name: &str) -> Option<String> {
    let known = |word: String| NO_TERMS.binary_search_by_key(&word.as_str(), |(word, _)| word).ok();
    let (word, term) = NO_TERMS[words(name).into_iter().find_map(known)?];
    Some(format!("`{name}`: not {word}, but {term}"))
}

/// Those of the tests are their own affair, as long as the items there have such names.
#[test]
fn parameters_and_locals_are_terms_of_the_field() {
    let mut faults = Vec::new();
    for source in sources() {
        let code = source.code.join("\n");
        let found = bindings(&code).into_iter().filter_map(|name| no_term(&name));
        faults.extend(found.map(|fault| format!("src/{}: {fault}", source.name)));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn parameters_and_locals_are_found() {
    let code =
        "fn a(taken: u8) { let (b, is_told) = c; if let Some(mut wanted) = d { e.map(|drawn| drawn) } }";
    let found: Vec<String> = bindings(code).iter().filter_map(|name| no_term(name)).collect();
    let terms = ["`taken`: not taken", "`is_told`: not told", "`wanted`: not wanted", "`drawn`: not drawn"];
    assert_eq!(found.len(), terms.len(), "{found:?}");
    assert!(found.iter().zip(terms).all(|(found, term)| found.starts_with(term)), "{found:?}");
}

/// A module with files below it is the `mod.rs` of its folder.
#[test]
fn modules_have_one_style() {
    let beside = |source: &Source| root().join("src").join(source.name.trim_end_matches(".rs")).is_dir();
    let odd: Vec<String> = sources().into_iter().filter(beside).map(|source| source.name).collect();
    assert_eq!(odd, Vec::<String>::new());
}
