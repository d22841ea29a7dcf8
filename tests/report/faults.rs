//! Pages of faults: whole ones, and any fault at any place in any text.

use proptest::prelude::*;
use tankhand::procedure::{LoadContext, NoParts, load};
use tankhand::report::faults_text;
use tankhand::source::{Fault, SourceText, Span};
use textwrap::core::display_width;

use crate::golden;

const SPOILED: &str = r#"format = 1
title = "A spoiled file"
purpose = "Everything in it is wrong."

[[fact]]
id = "cut_in"
kind = "presure"
ask = "Where does the pump start?"

[[step]]
id = "gulp"
compute = "38 psi + 5 gal"

[[step]]
do = "Drain the tank."
read = "pressure"

[[step]]
id = "gulp"
durration = 3
do = "It is {missing_one} by now."

[[step]]
id = "loop"
repeat = { until = "look == 'clear'" }
[[step.step]]
id = "look"
choose = ["clear", "clear"]
ask = "How does it look?"
"#;

/// Sound to read, wrong to perform.
const WRONG: &str = r#"format = 1
title = "A wrong file"
purpose = "It can be read, and must not be performed."

[[state]]
id = "drained"
means = "No water is left in the tank"

[[step]]
id = "gulp"
compute = "38 psi + 5 gal"

[[step]]
id = "tell"
do = "It is {missing_one} by now."

[[step]]
id = "line"
read = "pressure"
ask = "What does the line gauge show?"

[[step]]
id = "level"
check = "line <= 2"
"#;

fn faults_of(name: &str, text: &str) -> Vec<Fault> {
    let around = LoadContext { texts: &NoParts, paths: &[] };
    load(&SourceText::new(name, text), &around).unwrap_err()
}

#[test]
fn the_faults_of_a_file_are_told_at_every_width() {
    let faults = faults_of("demo/spoiled.toml", SPOILED);
    for width in [80, 40] {
        golden::holds(
            &format!("tests/report/golden/faults-{width}.txt"),
            &faults_text(&faults, width, false),
        );
    }
    golden::holds("tests/report/golden/faults-colour.txt", &faults_text(&faults, 80, true));
    let faults = faults_of("demo/wrong.toml", WRONG);
    for width in [80, 40] {
        golden::holds(
            &format!("tests/report/golden/faults-checked-{width}.txt"),
            &faults_text(&faults, width, false),
        );
    }
}

/// Without its colours, a coloured page is the plain one.
#[test]
fn colour_adds_nothing_but_colour() {
    let faults = faults_of("demo/spoiled.toml", SPOILED);
    for width in [40, 57, 80, 120] {
        let coloured = faults_text(&faults, width, true);
        assert_ne!(coloured, faults_text(&faults, width, false));
        let stripped = console::strip_ansi_codes(&coloured).into_owned();
        assert_eq!(stripped, faults_text(&faults, width, false));
    }
}

/// The page of one fault, without the line that counts.
fn page_of(fault: &Fault, width: usize) -> String {
    let text = faults_text(std::slice::from_ref(fault), width, false);
    text.rsplit_once("\n1 fault in ").unwrap().0.to_string()
}

#[test]
fn the_closing_line_counts_faults_and_names_files() {
    let one = SourceText::new("flush.toml", "a = 1\n");
    let two = SourceText::new("parts/drain.toml", "b = 1\n");
    let fault = |source| Fault::new("x", source, Span::new(0, 1), "this is wrong");
    let last = |faults: &[Fault]| faults_text(faults, 80, false).lines().last().map(ToString::to_string);
    assert_eq!(last(&[fault(&one)]).unwrap(), "1 fault in flush.toml");
    let three = [fault(&one), fault(&one), fault(&two)];
    assert_eq!(last(&three).unwrap(), "3 faults in flush.toml and parts/drain.toml");
    assert_eq!(faults_text(&[], 80, false), "");
}

#[test]
fn marks_near_and_far_are_shown_with_their_places() {
    let mut text = "first = 1\nsecond = 2\n".to_string();
    text.push_str(&"# a line that matters little\n".repeat(100));
    text.push_str("last = \"a long line, cut where it does not matter, with the fault near its very end\"\n");
    let at = text.find("fault").unwrap();
    let source = SourceText::new("far.toml", text.as_str());
    let fault = Fault::new("x", &source, Span::new(10, 16), "these two do not go together")
        .label("this is a pressure")
        .mark(Span::new(0, 5), "this came first")
        .mark(Span::new(at, at + 5), "this is far away")
        .why("They are of different kinds.\nAnd there is a second line.")
        .remedy("take one of them out");
    let expected = "\
error: these two do not go together
   --> far.toml:2:1
    |
  1 | first = 1
    | ----- this came first
  2 | second = 2
    | ^^^^^^ this is a pressure
   ::: far.toml:103:61
    |
103 | ...s not matter, with the fault near its very end\"
    |                           ----- this is far away
    = why:  They are of different kinds.
            And there is a second line.
    = help: take one of them out
";
    assert_eq!(page_of(&fault, 60), expected);
}

#[test]
fn odd_places_are_shown_as_near_as_can_be() {
    let source = SourceText::new("odd.toml", "a = \"é\"\r\nb = 2\n");
    let page = |span| page_of(&Fault::new("x", &source, span, "wrong").label("here"), 80);
    let shown = |place: &str, excerpt: &str| format!("error: wrong\n --> odd.toml:{place}\n  |\n{excerpt}\n");
    let table = [
        (Span::new(0, 0), shown("1:1", "1 | a = \"é\"\n  | ^ here")),
        // In the middle of é: from its beginning.
        (Span::new(6, 7), shown("1:6", "1 | a = \"é\"\n  |      ^ here")),
        // Over the end of a line: its first line.
        (Span::new(4, 12), shown("1:5", "1 | a = \"é\"\n  |     ^^^ here")),
        (Span::new(16, 16), shown("3:1", "3 |\n  | ^ here")),
        (Span::new(900, 7), shown("3:1", "3 |\n  | ^ here")),
    ];
    for (span, expected) in table {
        assert_eq!(page(span), expected, "{span:?}");
    }
}

/// Numbers of lines get longer at 10 and at 100.
#[test]
fn the_margin_is_as_wide_as_the_number_of_the_line() {
    let source = SourceText::new("lines.toml", "a = 1\n".repeat(100));
    for (line, margin) in [(9, " "), (10, "  "), (99, "  "), (100, "   ")] {
        let fault = Fault::new("x", &source, Span::new(6 * (line - 1), 6 * line - 1), "wrong");
        let expected = format!(
            "error: wrong\n{margin}--> lines.toml:{line}:1\n{margin} |\n{line} | a = 1\n{margin} | ^^^^^\n"
        );
        assert_eq!(page_of(&fault, 80), expected);
    }
}

/// What cannot be shown in a line of its own length is shown around its mark.
#[test]
fn a_megabyte_in_one_line_is_shown_around_its_fault() {
    let mut text = "é".repeat(1 << 19);
    text.push_str("wrong");
    let source = SourceText::new("long.toml", text.as_str());
    let fault = Fault::new("x", &source, Span::new(1 << 20, text.len()), "this is wrong")
        .mark(Span::new(0, 4), "the first of them");
    let expected = "\
error: this is wrong
 --> long.toml:1:524289
  |
1 | ...ééééééééééééééééééééééééééééwrong
  |                                ^^^^^
  = column 1: the first of them
";
    assert_eq!(page_of(&fault, 44), expected);
}

fn any_text() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        "[a-z =\"{}\\[\\].#\t]{0,30}",
        "[ -~]{0,200}",
        "\\PC{0,20}",
        Just("\n".to_string()),
        Just("\n".repeat(14)),
        Just("\r\n".to_string()),
        Just("日本語\u{301}é".to_string()),
        Just("\u{1b}[31m\u{202e}\u{0}\r".to_string()),
    ];
    proptest::collection::vec(piece, 0..40).prop_map(|pieces| pieces.concat())
}

fn any_fault() -> impl Strategy<Value = Fault> {
    let span = || (0usize..900, 0usize..900).prop_map(|(start, end)| Span::new(start, end));
    let marks = proptest::collection::vec((span(), any_text()), 0..5);
    (any_text(), span(), any_text(), any_text(), marks, proptest::option::of(any_text())).prop_map(
        |(text, span, message, here, marks, why)| {
            let source = SourceText::new("any\u{7}.toml", text);
            let mut fault = Fault::new("any", &source, span, message).label(here);
            for (span, says) in marks {
                fault = fault.mark(span, says);
            }
            fault.remedy = why.clone();
            fault.why = why;
            fault
        },
    )
}

proptest! {
    #[test]
    fn any_fault_makes_a_harmless_page_of_its_width(fault in any_fault(), width in 40usize..=120) {
        let page = page_of(&fault, width);
        prop_assert!(tankhand::words::is_harmless(&page) && !page.contains('\t'), "{page:?}");
        for line in page.lines() {
            prop_assert!(display_width(line) <= width, "{} > {width}: {line}", display_width(line));
        }
        let place = fault.source.place(fault.span.start);
        let place = format!(":{}:{}", place.line, place.column);
        prop_assert!(page.lines().any(|line| line.ends_with(&place)), "{place} {page}");
    }
}
