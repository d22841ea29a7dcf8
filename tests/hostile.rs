//! Hostile input: whatever is fed in, a fault or a value comes out, never a panic, and nothing
//! that could command a terminal.

mod support;

use proptest::prelude::*;
use tankhand::app::Library;
use tankhand::procedure::SHIPPED;
use tankhand::report::faults_text;
use tankhand::source::SourceText;

/// Loads a text as a procedure and, when it has faults, renders them.
fn load(text: &str) {
    let source = SourceText::new("hostile.toml", text);
    if let Err(faults) = Library::default().load_source(&source) {
        assert!(!faults.is_empty());
        let page = faults_text(&faults, 80, false);
        assert!(!page.chars().any(|c| c.is_control() && c != '\n'), "{page:?}");
    }
    let _ = tankhand::system::load(&source);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn any_text_is_loaded_or_refused(text in "(?s).{0,200}") {
        load(&text);
    }

    #[test]
    fn any_values_under_known_keys_are_loaded_or_refused(
        parts in proptest::collection::vec(
            ("(id|do|read|choose|check|when|repeat|step|between|use|compute|say|needs|brings|title|times)",
             "(1|true|\"[a-z {}()+<=']{0,12}\"|\\[\"a\",\"b\"\\]|\\{ until = \"x\", at_most = 3 \\}|1979-05-27)"),
            0..12,
        )
    ) {
        let mut text = String::from("format = 1\ntitle = \"t\"\npurpose = \"p\"\n[[step]]\n");
        for (at, (key, value)) in parts.iter().enumerate() {
            if at % 3 == 2 { text.push_str("[[step]]\n"); }
            text.push_str(&format!("{key} = {value}\n"));
        }
        load(&text);
    }

    #[test]
    fn shipped_files_with_pieces_cut_out_or_put_in_are_loaded_or_refused(
        which in 0..SHIPPED.len(), at in 0.0f64..1.0, length in 0usize..60, piece in "[\\PC\n]{0,20}"
    ) {
        let text = SHIPPED[which].text;
        let mut start = (text.len() as f64 * at) as usize;
        while !text.is_char_boundary(start) { start += 1; }
        let mut end = (start + length).min(text.len());
        while !text.is_char_boundary(end) { end += 1; }
        load(&format!("{}{piece}{}", &text[..start], &text[end..]));
    }
}

#[test]
fn nesting_and_size_have_bounds() {
    let head = "format = 1\ntitle = \"t\"\npurpose = \"p\"\n";
    load(&format!("{head}x = {}{}", "[".repeat(10_000), "]".repeat(10_000)));
    load(&format!("{head}[[step]]\nwhen = \"{}\"\ndo = \"x\"\n", "(".repeat(10_000)));
    load(&format!("{head}[[step]]\ncompute = \"{}1\"\n", "-".repeat(1_900)));
    load(&format!("{head}{}", "[[step]]\ndo = \"x\"\n".repeat(60_000)));
    load(&"[".repeat(1_000_000));
    load(&format!("{head}bring = [{}]", "\"\\u202e\\u001b[2J\",".repeat(1_000)));
}
