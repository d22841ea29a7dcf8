//! Steps as they are written into a file, and mended there.

use std::fmt::Write;

/// A step as it will be written; what is `None` or empty is left out.
#[derive(Clone, Debug, Default)]
pub struct Step {
    pub id: String,
    /// The verb with its value and its own keys.
    pub verb: String,
    /// An expression of the verb, put where `verb` holds `EXPR`.
    pub expr: Option<String>,
    /// What the expression becomes when it is objected to.
    pub plain: &'static str,
    pub hole: Option<String>,
    pub when: Option<String>,
    pub needs: Vec<&'static str>,
    pub brings: Vec<&'static str>,
    pub undoes: Vec<&'static str>,
    pub skip: bool,
    pub body: Vec<Step>,
}

const FACTS: &str = r#"
[[fact]]
id = "lever"
kind = "yes/no"
ask = "Lever?"
[[fact]]
id = "sort"
kind = ["a", "b", "c"]
ask = "Sort?"
[[fact]]
id = "size"
kind = "volume"
from = "tank.volume"
ask = "Size?"
[[state]]
id = "off"
means = "The pump is off"
[[state]]
id = "emptied"
means = "No water is left"
[[state]]
id = "shut"
means = "The house is shut"
"#;

/// The text of a procedure, and the place among all steps of the one on each line.
pub fn text(steps: &[Step]) -> String {
    let mut text = "format = 1\ntitle = \"t\"\npurpose = \"p\"\nstep = [\n".to_string();
    block(&mut text, steps);
    text + "]\n" + FACTS
}

/// The first line of steps.
const FIRST_LINE: usize = 5;

/// One line for the head of each step; the end of a body stands at the end of its last line.
fn block(text: &mut String, steps: &[Step]) {
    for step in steps {
        let hole = step.hole.as_ref().map_or(String::new(), |hole| format!("{{{hole}}}"));
        let expr = step.expr.as_deref().unwrap_or("");
        let verb = step.verb.replace("EXPR", expr).replace("HOLE", &hole);
        write!(text, "{{ id = \"{}\", {verb}", step.id).unwrap();
        if let Some(when) = &step.when {
            write!(text, ", when = \"{when}\"").unwrap();
        }
        for (key, states) in [("needs", &step.needs), ("brings", &step.brings), ("undoes", &step.undoes)] {
            if !states.is_empty() {
                write!(text, ", {key} = {states:?}").unwrap();
            }
        }
        if step.skip {
            text.push_str(", skip = true");
        }
        if !step.body.is_empty() {
            text.push_str(", step = [\n");
            block(text, &step.body);
            text.truncate(text.trim_end().len());
            text.push(']');
        }
        text.push_str(" },\n");
    }
}

/// Takes out of the step on `line` what a fault objects to.
pub fn mend(steps: &mut Vec<Step>, line: usize, code: &str) {
    let mut left = line - FIRST_LINE;
    mend_at(steps, &mut left, code);
}

fn mend_at(steps: &mut Vec<Step>, left: &mut usize, code: &str) -> bool {
    for at in 0..steps.len() {
        if *left == 0 {
            if code == "unreachable" {
                steps.remove(at);
            } else {
                mend_step(&mut steps[at], code);
            }
            return true;
        }
        *left -= 1;
        if mend_at(&mut steps[at].body, left, code) {
            return true;
        }
    }
    false
}

fn mend_step(step: &mut Step, code: &str) {
    let plain = Some(step.plain.to_string());
    if code == "needs-state" {
        step.needs.clear();
    } else if step.hole.is_some() {
        step.hole = None;
    } else if step.expr.is_some() && step.expr != plain {
        step.expr = plain;
    } else if step.verb.starts_with("stop") {
        step.when = Some("lever".to_string());
    } else {
        step.when = None;
    }
}
