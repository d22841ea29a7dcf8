//! How blocks and questions look: lines of text with a tone, before any device is involved.
//!
//! A heading stands at the margin, everything else is indented under it; what can hurt has a
//! bar at the margin. Words carry every meaning; a tone may only add colour.

use super::face::{Block, Prompt, ReplyKind};
use super::style::Style;
use crate::procedure::Signal;
use crate::quantity::Verdict;
use crate::record::Grade;
use crate::words::{capitalized, choice_signs, harmless, is_yes_or_no, wrap};

/// What a line is, for a device that can show more than text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum TextTone {
    Plain,
    Heading,
    Warning,
    Aside,
    Verdict(Verdict),
    Finding(Grade),
    Refusal,
}

/// The lines of a block, and their tone.
pub(crate) fn lay_out(block: &Block, style: Style) -> (TextTone, Vec<String>) {
    match block {
        Block::Heading(text) => (TextTone::Heading, led("", text, style)),
        Block::Text(text) | Block::Help(text) => (TextTone::Plain, led("  ", text, style)),
        Block::Task { lines, .. } => {
            let lead = |at: usize| if at == 0 { "  " } else { "    " };
            let lines = lines.iter().enumerate().flat_map(|(at, line)| led(lead(at), line, style));
            (TextTone::Plain, lines.collect())
        }
        Block::Result(text) => {
            (TextTone::Plain, hanging(if style.signs { "  = " } else { "  Result: " }, text, style))
        }
        Block::Warning(signal, text) => (TextTone::Warning, warning(*signal, text, style)),
        Block::Aside(text) => (TextTone::Aside, led("    ", text, style)),
        Block::Verdict(verdict, text) => (TextTone::Verdict(*verdict), weighed(verdict.word(), text, style)),
        Block::Finding(grade, text) => (TextTone::Finding(*grade), weighed(grade.word(), text, style)),
        Block::Refusal(text) => (TextTone::Refusal, hanging("  Not taken: ", text, style)),
        Block::Lines(lines) => {
            (TextTone::Plain, lines.iter().map(|line| shown(line, style).trim_end().to_string()).collect())
        }
    }
}

/// A text behind the word that weighs it.
fn weighed(word: &str, text: &str, style: Style) -> Vec<String> {
    hanging(&word_before(word, style), text, style)
}

/// A word that says what comes after it: in capitals to be seen, with a colon to be heard.
fn word_before(word: &str, style: Style) -> String {
    if style.signs { format!("  {}  ", word.to_uppercase()) } else { format!("  {}: ", capitalized(word)) }
}

/// The signal word and what it is about, a line for each thing that is said. The triangle stands for
/// harm to people, so a notice has none.
fn warning(signal: Signal, text: &str, style: Style) -> Vec<String> {
    let (first, rest) = match signal {
        Signal::Danger | Signal::Warning | Signal::Caution if style.signs => ("/!\\ ", " |  "),
        Signal::Danger | Signal::Warning | Signal::Caution | Signal::Notice => ("", "  "),
    };
    let narrower = Style { width: style.width.saturating_sub(rest.len()), ..style };
    let text = format!("{}{text}", word_before(&signal.word().to_lowercase(), style).trim_start());
    let lines = text.lines().flat_map(|line| led("", line, narrower));
    lines.enumerate().map(|(at, line)| format!("{}{line}", if at == 0 { first } else { rest })).collect()
}

/// Text fit to be shown: harmless, without tabs, in characters the output has.
pub(crate) fn shown(text: &str, style: Style) -> String {
    let text = harmless(text).replace('\t', "    ");
    let text = if style.signs { text } else { text.replace(" · ", ", ") };
    style.safe(&text)
}

/// Wrapped text, each line after `lead`.
fn led(lead: &str, text: &str, style: Style) -> Vec<String> {
    wrap(&shown(text, style), style.width, lead.len())
}

/// Wrapped text whose first line begins with `lead`; the others stand under the text after it,
/// or under the lead where the screen is too narrow for that.
pub(crate) fn hanging(lead: &str, text: &str, style: Style) -> Vec<String> {
    let (lead, body) = (shown(lead, style), shown(text, style));
    let lead_width = console::measure_text_width(&lead);
    let own_indent = lead.len() - lead.trim_start().len();
    let (indent, start, body) = if lead_width * 4 > style.width {
        (own_indent + 2, " ".repeat(own_indent), format!("{} {body}", lead.trim()))
    } else {
        (lead_width, lead, body)
    };
    let mut lines = wrap(&body, style.width.saturating_sub(indent), 0);
    for (at, line) in lines.iter_mut().enumerate() {
        let before = if at == 0 { start.clone() } else { " ".repeat(indent) };
        *line = format!("{before}{line}").trim_end().to_string();
    }
    lines
}

/// The most columns a prompt may take; longer ones break in some terminals' line editing.
pub(crate) const LONGEST_PROMPT: usize = 30;

/// A question as it is put: lines above, and the words before the cursor.
pub(crate) struct LaidOutQuestion {
    /// Choices and what else must be known, shown once.
    pub above: Vec<String>,
    /// The words before the cursor, without marker.
    pub inline: String,
}

/// Lays out a question.
pub(crate) fn question(prompt: &Prompt, style: Style) -> LaidOutQuestion {
    let mut above = Vec::new();
    if let ReplyKind::OneOf(options) = &prompt.expects
        && !is_yes_or_no(options)
    {
        above.extend(choices(options, style));
    }
    let label = match (prompt.number, &prompt.expects) {
        (None, ReplyKind::Word(word)) if prompt.label.is_empty() => format!("type {word} to go on"),
        (Some(number), _) => format!("{number} {}", label(prompt)),
        (None, _) => label(prompt).to_string(),
    };
    if let ReplyKind::Word(word) = &prompt.expects
        && !label.contains(word.as_str())
    {
        above.extend(led("  ", &format!("To go on type: {word}"), style));
    }
    let details = details(prompt);
    let brief = shown(&format!("{label}{}", details.0), style);
    if details.1.is_empty() || console::measure_text_width(&brief) <= LONGEST_PROMPT {
        return LaidOutQuestion { above, inline: cut(&brief, LONGEST_PROMPT, style) };
    }
    above.extend(led("  ", &details.1, style));
    LaidOutQuestion { above, inline: cut(&shown(&label, style), LONGEST_PROMPT, style) }
}

fn label(prompt: &Prompt) -> &str {
    match &prompt.expects {
        ReplyKind::OneOf(options) if is_yes_or_no(options) => "yes or no",
        _ => &prompt.label,
    }
}

/// Which answer it is, the usual and the earlier one: briefly after the label, and in full.
fn details(prompt: &Prompt) -> (String, String) {
    let usual = prompt.usual.as_deref().filter(|_| !matches!(prompt.expects, ReplyKind::Word(_)));
    let mut brief = String::new();
    let mut full = Vec::new();
    if !prompt.which.is_empty() {
        brief.push_str(&format!(", {}", prompt.which));
        full.push(prompt.which.clone());
    }
    let kept = usual.is_some() && usual == prompt.earlier.as_deref();
    if let Some(earlier) = prompt.earlier.as_ref().filter(|_| !kept) {
        brief.push_str(&format!(" (was {earlier})"));
        full.push(format!("the earlier answer was {earlier}"));
    }
    if let Some(usual) = usual {
        let (gives, as_before) = if kept { ("keeps", ", as before") } else { ("gives", "") };
        brief.push_str(&format!(" [{usual}{as_before}]"));
        full.push(format!("Enter {gives} {usual}"));
    }
    (brief, full.join("; "))
}

/// The numbered list of choices; on one line where they need no words beside them.
fn choices(options: &[(String, String)], style: Style) -> Vec<String> {
    let signs = choice_signs(options);
    if options.iter().all(|(value, words)| choice_text(value, words) == *value) {
        let all = options.iter().zip(&signs).map(|((value, _), sign)| format!("{sign}  {value}"));
        // A number stays with its word.
        let mut lines: Vec<String> = Vec::new();
        for one in all {
            match lines.last_mut() {
                Some(line) if line.chars().count() + 4 + one.chars().count() <= style.width => {
                    line.push_str("    ");
                    line.push_str(&one);
                }
                _ => lines.push(format!("  {one}")),
            }
        }
        return lines;
    }
    let widest = signs.iter().map(String::len).max().unwrap_or(0);
    let mut lines = Vec::new();
    for ((value, words), sign) in options.iter().zip(&signs) {
        let text = choice_text(value, words);
        lines.extend(hanging(&format!("  {sign:>widest$}  "), &text, style));
    }
    lines
}

/// A choice and its explanation on one line.
pub(crate) fn choice_text(value: &str, words: &str) -> String {
    if words.is_empty() || words == value { value.to_string() } else { format!("{value}: {words}") }
}

/// The text cut to a number of columns, on one line.
pub(crate) fn cut(text: &str, columns: usize, style: Style) -> String {
    let line = shown(text, style).replace('\n', " ");
    console::truncate_str(&line, columns, if style.unicode { "…" } else { "..." }).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn text(block: Block, width: usize) -> String {
        lay_out(&block, Style::plain(width)).1.join("\n")
    }

    #[test]
    fn each_block_has_its_look() {
        let danger = "ELECTRIC SHOCK: the switch holds 120/240 V.\nHands off.";
        assert_eq!(
            text(Block::Warning(Signal::Danger, danger.into()), 40),
            "/!\\ DANGER  ELECTRIC SHOCK: the switch\n |  holds 120/240 V.\n |  Hands off."
        );
        assert_eq!(
            text(Block::Verdict(Verdict::Unsure, "The gauge is too coarse for this.".into()), 60),
            "  CAN'T TELL  The gauge is too coarse for this."
        );
        assert_eq!(
            text(Block::Verdict(Verdict::Unsure, "The gauge is too coarse for this.".into()), 40),
            "  CAN'T TELL The gauge is too coarse\n    for this."
        );
        assert_eq!(
            text(
                Block::Verdict(
                    Verdict::Pass,
                    "The precharge sits 2 psi below the cut-in, as it should.".into()
                ),
                40
            ),
            "  PASS  The precharge sits 2 psi below\n        the cut-in, as it should."
        );
        assert_eq!(
            text(Block::Result("37 psi cut-in, the lowest.".into()), 20),
            "  = 37 psi cut-in,\n    the lowest."
        );
        assert_eq!(
            text(Block::Heading("Step 3 of 14: Read the air".into()), 40),
            "Step 3 of 14: Read the air"
        );
        assert_eq!(
            text(Block::Aside("Right when the needle rests at 0.".into()), 40),
            "    Right when the needle rests at 0."
        );
        assert_eq!(text(Block::Lines(vec!["a   b".into(), "\u{1b}[2J".into()]), 40), "a   b\n?[2J");
    }

    #[test]
    fn what_is_heard_has_no_signs() {
        let heard = Style { signs: false, ..Style::plain(60) };
        let danger = "ELECTRIC SHOCK: the switch holds 120/240 V.\nHands off.";
        let blocks = [
            Block::Warning(Signal::Danger, danger.into()),
            Block::Result("37 psi cut-in.".into()),
            Block::Verdict(Verdict::Unsure, "The gauge is too coarse.".into()),
            Block::Finding(Grade::Act, "The tank holds no air.".into()),
            Block::Aside("house OFF · breaker ON".into()),
        ];
        let lines: Vec<String> = blocks.iter().flat_map(|block| lay_out(block, heard).1).collect();
        assert_eq!(
            lines,
            [
                "Danger: ELECTRIC SHOCK: the switch holds 120/240 V.",
                "  Hands off.",
                "  Result: 37 psi cut-in.",
                "  Can't tell: The gauge is too coarse.",
                "  Act: The tank holds no air.",
                "    house OFF, breaker ON",
            ]
        );
    }

    fn reading() -> Prompt {
        Prompt { which: "2nd of 3".into(), ..Prompt::new("air", "pressure, psi", ReplyKind::Line) }
    }

    #[test]
    fn details_stand_beside_the_label_while_they_are_short() {
        let mut prompt = reading();
        let asked = question(&prompt, Style::plain(80));
        assert_eq!((asked.above, asked.inline.as_str()), (vec![], "pressure, psi, 2nd of 3"));
        prompt.usual = Some("38.0 psi".into());
        prompt.earlier = Some("37.5 psi".into());
        let asked = question(&prompt, Style::plain(80));
        let above = "  2nd of 3; the earlier answer was 37.5 psi; Enter gives 38.0 psi";
        assert_eq!((asked.above, asked.inline.as_str()), (vec![above.to_string()], "pressure, psi"));
    }

    #[test]
    fn choices_are_listed_with_their_words() {
        let mut prompt = reading();
        prompt.which = String::new();
        prompt.label = "water".into();
        prompt.expects = ReplyKind::OneOf(vec![
            ("clear".into(), "nothing settles in the jar within the minute".into()),
            ("dirty".into(), "dirty".into()),
        ]);
        let asked = question(&prompt, Style::plain(40));
        assert_eq!(
            asked.above.join("\n"),
            "  1  clear: nothing settles in the jar\n     within the minute\n  2  dirty"
        );
        prompt.expects =
            ReplyKind::OneOf(["clear", "cloudy", "dirty"].map(|it| (it.into(), it.into())).into());
        assert_eq!(question(&prompt, Style::plain(40)).above, ["  1  clear    2  cloudy    3  dirty"]);
    }

    #[test]
    fn a_bare_yes_or_no_is_one_line() {
        let mut prompt = reading();
        prompt.which = String::new();
        prompt.label = "which".into();
        prompt.usual = Some("no".into());
        prompt.expects = ReplyKind::OneOf(["yes", "no"].map(|word| (word.into(), word.into())).to_vec());
        let asked = question(&prompt, Style::plain(40));
        assert_eq!((asked.above, asked.inline.as_str()), (vec![], "yes or no [no]"));
    }

    proptest! {
        #[test]
        fn no_line_is_wider_than_asked_or_harmful(body in "\\PC{0,200}", width in 20usize..100) {
            let style = Style { unicode: true, ..Style::plain(width) };
            for block in [
                Block::Heading(body.clone()), Block::Text(body.clone()), Block::Warning(Signal::Danger, body.clone()),
                Block::Aside(body.clone()), Block::Verdict(Verdict::Unsure, body.clone()),
                Block::Refusal(body.clone()),
            ] {
                for line in lay_out(&block, style).1 {
                    prop_assert!(console::measure_text_width(&line) <= width, "{line:?}");
                    prop_assert!(crate::words::is_harmless(&line));
                }
            }
        }
    }
}
