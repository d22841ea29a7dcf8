//! Faults for programs: JSON Lines, one object a fault.

use serde_json::{Value, json};

use crate::procedure::{Difference, FileComparison};
use crate::source::{Fault, SourceText, Span};

/// One line of JSON for each fault: `file`, `code`, `message`, `span` (bytes, lines and columns
/// from 1), `here`, `marks`, `why`, `remedy`, and `also`, the other places of the same cause.
///
/// ```
/// use tankhand::report::faults_json_lines;
/// use tankhand::source::{Fault, SourceText, Span};
/// let text = SourceText::new("x.toml", "durration = 3");
/// let fault = Fault::new("unknown-key", &text, Span::new(0, 9), "there is no key `durration`");
/// let line = faults_json_lines(&[fault]);
/// assert!(line.starts_with(r#"{"also":[],"code":"unknown-key","file":"x.toml","#));
/// assert_eq!(line.lines().count(), 1);
/// ```
pub fn faults_json_lines(faults: &[Fault]) -> String {
    faults.iter().map(|fault| object(fault).to_string() + "\n").collect()
}

/// One line of JSON for a sound file: `file`, `says`, and beside the shipped file of its name `shipped`,
/// `less_safe` and `others`, each with its `line`, where there is one.
///
/// ```
/// use tankhand::procedure::{compare, shipped};
/// use tankhand::report::sound_json_line;
/// use tankhand::source::SourceText;
/// let text = shipped("parts/read-precharge").unwrap().text.replace("times = 3 ", "times = 5 ");
/// let source = SourceText::new("parts/read-precharge.toml", text);
/// let line = sound_json_line(source.name(), "a sound part", compare(&source).as_ref());
/// assert!(line.contains(r#""says":"`air_found`: times 3 → 5""#), "{line}");
/// ```
pub fn sound_json_line(file: &str, says: &str, beside: Option<&FileComparison>) -> String {
    let line = |difference: &Difference| json!({ "line": difference.line, "says": difference.says });
    let all = |differences: &[Difference]| differences.iter().map(line).collect::<Vec<Value>>();
    let sound = match beside {
        None => json!({ "file": file, "says": says }),
        Some(found) => json!({
            "file": file,
            "says": says,
            "shipped": found.shipped,
            "less_safe": all(&found.less_safe),
            "others": all(&found.others),
        }),
    };
    format!("{sound}\n")
}

fn object(fault: &Fault) -> Value {
    let marks: Vec<Value> = fault
        .marks
        .iter()
        .map(|mark| json!({ "span": span(&fault.source, mark.span), "says": mark.says }))
        .collect();
    let also: Vec<Value> = fault
        .also
        .iter()
        .map(|(source, place)| json!({ "file": source.name(), "span": span(source, *place) }))
        .collect();
    json!({
        "file": fault.source.name(),
        "also": also,
        "code": fault.code,
        "message": fault.message,
        "span": span(&fault.source, fault.span),
        "here": fault.label,
        "marks": marks,
        "why": fault.why,
        "remedy": fault.remedy,
    })
}

fn span(source: &SourceText, span: Span) -> Value {
    let (start, end) = (source.place(span.start), source.place(span.end));
    json!({
        "start": span.start,
        "end": span.end,
        "line": start.line,
        "column": start.column,
        "end_line": end.line,
        "end_column": end.column,
    })
}
