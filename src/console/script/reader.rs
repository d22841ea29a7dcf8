//! Reading the file of answers.

use std::time::Duration;

use super::answers::{Answer, Script};
use crate::document::{Fields, walk_document};
use crate::quantity::{Family, read_number};
use crate::source::{Fault, Quoted, SourceText, Span};

/// What is missing where an answer gives nothing.
const GIVE: &str = "what is typed, or a list of it; for Enter alone write `give = \"\"`";

impl Script {
    /// Reads a file of answers.
    ///
    /// # Errors
    /// All faults of the file, in the order in which they stand in it.
    ///
    /// ```
    /// use tankhand::console::Script;
    /// use tankhand::source::SourceText;
    /// let text = "format = 1\nstart = 2031-04-05T09:00:00-05:00\n[[answer]]\nstep = \"jar\"\ngive = \"38\"\n";
    /// let script = Script::load(&SourceText::new("answers.toml", text)).unwrap();
    /// assert_eq!(script.start().to_string(), "2031-04-05T09:00:00-05:00");
    /// ```
    pub fn load(source: &SourceText) -> Result<Script, Vec<Fault>> {
        let (script, mut faults) = walk_document(source, script)?;
        Fault::sort(&mut faults);
        match script {
            Some(script) if faults.is_empty() => Ok(script),
            _ => Err(faults),
        }
    }
}

fn script(root: &Fields<'_>) -> Option<Script> {
    root.only(&["format", "start", "answer"]);
    root.check_format();
    if !root.has("start") {
        root.missing("start", "what the clock shows at the beginning, such as 2031-04-05T09:00:00-05:00");
    }
    let start = root.moment("start");
    let answers = root.tables("answer").iter().map(answer).collect::<Vec<_>>();
    Some(Script {
        source: root.source().clone(),
        answers: answers.into_iter().collect::<Option<_>>()?,
        start: start?,
    })
}

fn answer(fields: &Fields<'_>) -> Option<Answer> {
    fields.only(&["step", "give", "asks", "after"]);
    let step = fields.needed_text("step", "the id of the step that is answered");
    let give = give(fields);
    let asks = fields.text("asks");
    [&step, &asks].into_iter().flatten().for_each(|text| on_one_line(fields, text));
    let after = after(fields);
    Some(Answer { step: step?, give: give?, asks, after })
}

/// What is typed: one text, or one for each time it is asked.
fn give(fields: &Fields<'_>) -> Option<Vec<Quoted>> {
    let texts = match fields.is_list("give") {
        true => fields.texts("give"),
        false => vec![fields.needed_text("give", GIVE)?],
    };
    texts.iter().for_each(|text| on_one_line(fields, text));
    if texts.is_empty() {
        fields.missing("give", GIVE);
    }
    Some(texts)
}

/// Notes a text with a line end in it: nobody can type one.
fn on_one_line(fields: &Fields<'_>, text: &Quoted) {
    if text.text.contains('\n') {
        let fault = Fault::new("line-end", &text.source, text.span, "this text holds a line end");
        fields.walk().fault(fault.remedy("write it on one line"));
    }
}

fn after(fields: &Fields<'_>) -> Option<(Duration, Span)> {
    let read = |text: &str| {
        let typed = read_number(text, Family::Time).map_err(|error| error.to_string())?;
        let unit = typed.unit.ok_or("The time has no unit.")?;
        Duration::try_from_secs_f64(typed.number * unit.size)
            .map_err(|_| "The clock cannot move that far.".to_string())
    };
    let remedy = "write a number and a unit of time, such as `after = \"5 min\"`";
    fields.read("after", read, remedy).map(|length| (length, fields.value_span("after")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const TOP: &str = "format = 1\nstart = \"2031-04-05T09:00:00-05:00\"\n";

    fn faults(text: &str) -> Vec<String> {
        match Script::load(&SourceText::new("answers.toml", text)) {
            Ok(_) => vec!["sound".to_string()],
            Err(faults) => faults
                .iter()
                .map(|fault| {
                    format!("{} ({})", fault.heading(), fault.remedy.as_deref().unwrap_or("no remedy"))
                })
                .collect(),
        }
    }

    #[test]
    fn a_sound_file_is_read() {
        let body =
            "[[answer]]\nstep = \"air\"\ngive = [\"38\", \"38.5\"]\nasks = \"Air\"\nafter = \"1 min 30 s\"\n";
        let script = Script::load(&SourceText::new("a.toml", format!("{TOP}{body}"))).unwrap();
        let answer = &script.answers[0];
        assert_eq!(answer.give.iter().map(|g| g.text.as_str()).collect::<Vec<_>>(), ["38", "38.5"]);
        assert_eq!(answer.after.unwrap().0, Duration::from_secs(90));
        assert_eq!(script.source.slice(answer.asks.as_ref().unwrap().span), "\"Air\"");
    }

    #[test]
    fn all_faults_come_at_once_with_place_and_remedy() {
        let text = "format = 2\nstart = 2031-04-05T09:00:00\nstrat = 1\n[[answer]]\nstep = 3\ngive = []\n\
                    after = \"5\"\n[[answer]]\nsteps = \"x\"\nafter = \"5 psi\"\nasks = \"a\\nb\"\n";
        let expected = [
            "answers.toml:1:10: this format is not known (write `format = 1` at the top of the file)",
            "answers.toml:2:9: this is no date and time with an offset (write it like \
             `start = 2031-04-05T09:00:00-05:00`, with the offset from UTC)",
            "answers.toml:3:1: there is no key `strat` here (did you mean `start`?)",
            "answers.toml:5:8: `step` must be a text (put it in double quotes, as a person would type it)",
            "answers.toml:6:8: `give` is an empty list (for Enter alone write `give = \"\"`)",
            "answers.toml:7:9: the time has no unit (write a number and a unit of time, such as `after = \"5 min\"`)",
            "answers.toml:8:1: this answer does not say what is answered (add `give = \"...\"`; for Enter alone \
             write `give = \"\"`)",
            "answers.toml:8:1: this answer does not say which step it is for (add `step = \"...\"` with the \
             step's id)",
            "answers.toml:9:1: there is no key `steps` here (did you mean `step`?)",
            "answers.toml:10:9: psi measures a gauge pressure, and a duration is wanted: s, min, h or day (write a \
             number and a unit of time, such as `after = \"5 min\"`)",
            "answers.toml:11:8: `asks` holds a line end or a character that cannot be shown (write it on one \
             line, without control characters)",
        ];
        assert_eq!(faults(text), expected);
    }

    #[test]
    fn what_is_missing_or_no_toml_is_told() {
        assert_eq!(
            faults(""),
            [
                "answers.toml:1:1: the file does not say its format (write `format = 1` at the top of the file)",
                "answers.toml:1:1: the file does not say when the clock starts (write it like \
                 `start = 2031-04-05T09:00:00-05:00`, with the offset from UTC)",
            ]
        );
        assert_eq!(faults(TOP), ["sound"]);
        assert_eq!(
            faults(&format!("{TOP}answer = 3")),
            [
                "answers.toml:3:10: `answer` must be a list of tables (begin each answer with a line `[[answer]]`)"
            ]
        );
        assert_eq!(faults("format = \n").len(), 1);
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "[\\[\\]a-z=\"' \n0-9.,{}#\\\\-]{0,120}") {
            let _ = Script::load(&SourceText::new("a.toml", format!("{TOP}{text}")));
        }
    }
}
