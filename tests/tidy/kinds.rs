//! What is decided by the kind of an entry, of an answer or of a course stands beside that kind: who adds
//! one finds there all there is to decide.

use crate::{Source, arguments, sources};

/// The kinds, each with the file where it may be asked which one it is.
const KINDS: [(&str, &str); 4] = [
    ("EntryKind", "record/kind.rs"),
    ("EntryRole", "record/kind.rs"),
    ("Course", "procedure/step.rs"),
    ("AnswerKind", "procedure/question.rs"),
];

/// Whether a text names a variant of a kind.
fn names(text: &str, kind: &str) -> bool {
    let of_it = |(at, _): (usize, &str)| !text[..at].ends_with(|c: char| c.is_ascii_alphanumeric());
    text.match_indices(&format!("{kind}::")).any(of_it)
}

/// The arms of a match, from its brace on: its text outside of all inner braces.
fn arms(text: &str) -> String {
    let mut depth = 0;
    let with_depth = text.chars().map(|c| {
        depth += i32::from(c == '{') - i32::from(c == '}');
        (depth, c)
    });
    let body = with_depth.skip_while(|(depth, _)| *depth == 0).take_while(|(depth, _)| *depth > 0);
    body.filter(|(depth, _)| *depth == 1).map(|(_, c)| c).collect()
}

/// Where a match over a tuple that holds a kind has an arm for all the rest: the compiler's lint sees none there.
fn passes_over(source: &Source) -> Vec<String> {
    let plain = |line: &&String| !line.trim_start().starts_with("//");
    let code = source.code.iter().filter(plain).map(|line| line.trim()).collect::<Vec<_>>().join("\n");
    let over_tuple = |(at, _): (usize, &str)| {
        let arms = arms(&code[at..]);
        let wild = |line: &str| ["_ =>", "_ if ", "(_, _) =>"].iter().any(|arm| line.starts_with(arm));
        let of_kind = KINDS.iter().any(|(kind, _)| names(&arms, kind));
        let found = of_kind && arms.lines().any(wild);
        found.then(|| format!("src/{}: {}", source.name, code[at..].lines().next().unwrap_or_default()))
    };
    code.match_indices("match (").filter_map(over_tuple).collect()
}

/// Where a source picks some of a kind and passes over all the others: by `matches!`, by a pattern of `let`,
/// or by variants without their kind's name.
fn picks(source: &Source) -> Vec<String> {
    let plain = |line: &&String| !line.trim_start().starts_with("//");
    let code = source.code.iter().filter(plain).map(|line| line.trim()).collect::<Vec<_>>().join("\n");
    let mut found = Vec::new();
    for (kind, _) in KINDS.iter().filter(|(_, file)| *file != source.name) {
        for (at, lead) in ["matches!(", "let ", "use "].iter().flat_map(|lead| code.match_indices(lead)) {
            let rest = &code[at + lead.len()..];
            let pattern = match lead {
                "matches!(" => arguments(rest).get(1).cloned().unwrap_or_default(),
                _ => rest.split([' ', '(', '{']).next().unwrap_or_default().to_string(),
            };
            if names(&pattern, kind) {
                found.push(format!("src/{}: {lead}{}", source.name, rest.lines().next().unwrap_or_default()));
            }
        }
    }
    found
}

#[test]
fn kinds_are_told_apart_where_they_are_made() {
    let found: Vec<String> =
        sources().iter().flat_map(|source| picks(source).into_iter().chain(passes_over(source))).collect();
    assert!(
        found.is_empty(),
        "ask a method beside the kind, or match over all of them:\n{}",
        found.join("\n")
    );
}

#[test]
fn a_kind_that_is_picked_is_found() {
    let code = [
        "fn a(entry: &Entry) -> bool {",
        "    matches!(",
        "        entry.kind,",
        "        EntryKind::Reading | EntryKind::Fact",
        "    )",
        "}",
        "let stops = |step: &Step| matches!(step.course(), Course::Stop(_)) && step.kind == EntryKind::Done;",
        "if let Course::Repeat(repeat) = step.course() {",
        "use EntryRole::{Answer, Gap};",
        "let Some(kind) = EntryKind::named(&word) else { return };",
        "let falls = matches!(course, AirCourse::Losing);",
    ];
    let source = |name: &str| Source {
        name: name.to_string(),
        layer_folder: "engine".to_string(),
        code: code.map(str::to_string).to_vec(),
    };
    let found = picks(&source("engine/fold.rs"));
    assert_eq!(
        found,
        [
            "src/engine/fold.rs: matches!(",
            "src/engine/fold.rs: use EntryRole::{Answer, Gap};",
            "src/engine/fold.rs: matches!(step.course(), Course::Stop(_)) && step.kind == EntryKind::Done;",
            "src/engine/fold.rs: let Course::Repeat(repeat) = step.course() {",
        ]
    );
    assert_eq!(picks(&source("record/kind.rs")).len(), 2, "where the kind is made it may be asked");
}

#[test]
fn a_match_over_a_tuple_that_passes_over_a_kind_is_found() {
    let code = [
        "match (entry.kind, entry.provenance) {",
        "    (EntryKind::Fact, Some(Provenance::Assumed)) => \"assumed\",",
        "    (EntryKind::Reading, Some(Provenance::Recalled)) => {",
        "        match word { _ => \"recalled\" }",
        "    }",
        "    _ => \"\",",
        "}",
        "match (of, EntryKind::Fact) {",
        "    (Some(of), _) => match of { _ => of },",
        "    (None, kind) => kind,",
        "}",
        "match (expects, seen) {",
        "    (AnswerKind::YesNo, Sighting::Words(words)) => words,",
        "    _ if seen => &[],",
        "}",
        "match (a, b) {",
        "    (Sighting::Never, true) => AirCourse::Steady,",
        "    _ => AirCourse::Rising,",
        "}",
    ];
    let code = code.map(str::to_string).to_vec();
    let source = Source { name: "owner/a.rs".to_string(), layer_folder: "owner".to_string(), code };
    assert_eq!(
        passes_over(&source),
        ["src/owner/a.rs: match (entry.kind, entry.provenance) {", "src/owner/a.rs: match (expects, seen) {"]
    );
}
