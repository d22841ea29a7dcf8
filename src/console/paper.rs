//! Text as it goes to a plain output: blocks, questions and answers below each other, nothing
//! ever moved or repainted. The plain face writes on it, the script's transcript is written on
//! it, and the rich face shows its blocks through it.

use std::io::{self, Write};

use super::face::{Block, Command, Prompt};
use super::layout::{TextTone, hanging, lay_out, question, shown};
use super::parts::{is_full, lines_above, most};
use super::style::Style;
use crate::quantity::Verdict;
use crate::record::Grade;
use crate::words::wrap;

/// So few lines above a question are no reason for a pause.
const LINES_WITHOUT_PAUSE: usize = 2;

/// What stands last on the paper; decides whether an empty line comes next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Last {
    Nothing,
    Heading,
    Text,
    Warning,
    Lines,
    Other,
}

/// An output that text goes to, line after line.
#[derive(Debug)]
pub(crate) struct TextOutput<W> {
    output: W,
    pub(crate) style: Style,
    last: Last,
    explained: Vec<Command>,
    /// Lines since a person last typed something.
    shown: usize,
    asked: Option<(String, String)>,
}

impl<W: Write> TextOutput<W> {
    pub(crate) fn new(output: W, style: Style) -> TextOutput<W> {
        TextOutput { output, style, last: Last::Nothing, explained: Vec::new(), shown: 0, asked: None }
    }

    pub(crate) fn into_output(self) -> W {
        self.output
    }

    /// The lines of a block that is to be shown in parts on a screen of so many rows, and how many at once.
    pub(crate) fn in_parts<'b>(&self, block: &'b Block, rows: usize) -> Option<(&'b [String], usize)> {
        let Block::Lines(lines) = block else { return None };
        let most = most(rows);
        (lines.len() + lines_above(self.shown) > most).then_some((lines.as_slice(), most))
    }

    /// Writes the first part of lines that are shown as they are, and gives the rest: more at once than can
    /// be read are shown in parts.
    pub(crate) fn part<'b>(
        &mut self,
        lines: &'b [String],
        most: usize,
        first: bool,
    ) -> io::Result<&'b [String]> {
        let above = if first { lines_above(self.shown) } else { 0 };
        let (now, later) = lines.split_at(most.saturating_sub(above).min(lines.len()));
        if !first {
            self.last = Last::Heading;
        }
        self.show(&Block::Lines(now.to_vec()))?;
        Ok(later)
    }

    /// Whether a person should have read what stands there before this block, on a screen of so many rows.
    pub(crate) fn is_full(&self, block: &Block, rows: usize) -> bool {
        let new = match block {
            Block::Task { commands, .. } => self.lines_explaining(commands),
            _ => 0,
        };
        is_full(self.shown, block, lay_out(block, self.style).1.len() + 1 + new, rows)
    }

    /// How many lines it takes to say what these commands do.
    fn lines_explaining(&self, commands: &[Command]) -> usize {
        let new = commands.iter().filter(|command| !self.explained.contains(command)).count();
        if new > 0 { new + 1 } else { 0 }
    }

    /// The same of what stands above a question's cursor.
    pub(crate) fn is_full_for(&self, prompt: &Prompt, rows: usize) -> bool {
        if self.asked_again(prompt) {
            return false;
        }
        let lines = question(prompt, self.style).above.len() + self.lines_explaining(&prompt.commands);
        // A line or two find their place.
        lines > LINES_WITHOUT_PAUSE && is_full(self.shown, &Block::Lines(Vec::new()), lines + 2, rows)
    }

    /// A person has typed: all before was read.
    pub(crate) fn was_read(&mut self) {
        self.shown = 0;
    }

    /// Writes a block and flushes.
    pub(crate) fn show(&mut self, block: &Block) -> io::Result<()> {
        if let Block::Task { commands, .. } = block {
            self.explain_commands(commands)?;
        }
        let (tone, lines) = lay_out(block, self.style);
        let next = match block {
            Block::Heading(_) => Last::Heading,
            Block::Text(_) | Block::Task { .. } => Last::Text,
            Block::Warning(..) => Last::Warning,
            Block::Lines(_) => Last::Lines,
            Block::Help(_)
            | Block::Aside(_)
            | Block::Result(_)
            | Block::Verdict(..)
            | Block::Finding(..)
            | Block::Refusal(_) => Last::Other,
        };
        if self.parts(next) {
            self.output.write_all(b"\n")?;
            self.shown += 1;
        }
        self.lines(&lines, tone)?;
        self.last = next;
        self.output.flush()
    }

    /// Whether an empty line parts what stands last from what comes next.
    fn parts(&self, next: Last) -> bool {
        match (self.last, next) {
            (Last::Nothing, _) => false,
            (_, Last::Heading | Last::Warning) | (Last::Warning | Last::Lines, _) => true,
            (Last::Heading, _) => false,
            (_, Last::Text | Last::Lines) => true,
            _ => false,
        }
    }

    fn lines(&mut self, lines: &[String], tone: TextTone) -> io::Result<()> {
        for line in lines {
            let line = paint(line, tone, self.style.colour);
            self.output.write_all(format!("{line}\n").as_bytes())?;
        }
        self.shown += lines.len();
        Ok(())
    }

    /// Whether a question stands there already.
    fn asked_again(&self, prompt: &Prompt) -> bool {
        let same = |(step, which): &(String, String)| (step, which) == (&prompt.step, &prompt.which);
        self.last == Last::Other && self.asked.as_ref().is_some_and(same)
    }

    /// Writes what stands above a question, unless it was just asked, and gives the words before
    /// the cursor.
    pub(crate) fn above(&mut self, prompt: &Prompt) -> io::Result<String> {
        let asked_again = self.asked_again(prompt);
        self.asked = Some((prompt.step.clone(), prompt.which.clone()));
        let question = question(prompt, self.style);
        if !asked_again {
            self.explain_commands(&prompt.commands)?;
            if prompt.commands.contains(&Command::Skip) {
                self.show(&Block::Aside("This may be left out: type skip and the reason.".into()))?;
            }
            if self.last == Last::Warning {
                self.output.write_all(b"\n")?;
            }
            self.lines(&question.above, TextTone::Plain)?;
        }
        self.last = Last::Other;
        Ok(question.inline)
    }

    /// Says once what each command does.
    fn explain_commands(&mut self, commands: &[Command]) -> io::Result<()> {
        let new: Vec<Command> = commands.iter().copied().filter(|c| !self.explained.contains(c)).collect();
        if !new.is_empty() {
            let first = self.explained.is_empty();
            let lead = if first { "At any question you may type" } else { "You may now also type" };
            self.show(&Block::Aside(format!("{lead}:")))?;
            for command in new {
                let line = hanging(&format!("      {:<6}", command.word()), command.meaning(), self.style);
                self.lines(&line, TextTone::Aside)?;
                self.explained.push(command);
            }
        }
        Ok(())
    }

    /// Writes the words before the cursor and the marker; a space too when a person types there.
    pub(crate) fn put(&mut self, inline: &str, interactive: bool) -> io::Result<()> {
        let marker = if self.style.signs { " >" } else { ":" };
        let end = if interactive { format!("{marker} ") } else { marker.to_string() };
        self.output.write_all(format!("  {inline}{end}").as_bytes())?;
        self.output.flush()
    }

    /// Writes the answer that nobody saw being typed.
    pub(crate) fn echo(&mut self, answer: &str) -> io::Result<()> {
        let answer = shown(answer.trim(), self.style);
        let text = if answer.is_empty() { "\n".to_string() } else { format!(" {answer}\n") };
        self.output.write_all(text.as_bytes())?;
        self.output.flush()
    }

    /// Ends a line that nothing came for.
    pub(crate) fn end_line(&mut self) -> io::Result<()> {
        self.output.write_all(b"\n")?;
        self.output.flush()
    }

    /// Rings the terminal's bell.
    pub(crate) fn ring(&mut self) -> io::Result<()> {
        self.output.write_all(b"\x07")?;
        self.output.flush()
    }

    /// Writes a remark of a wait, one line if it fits.
    pub(crate) fn remark(&mut self, text: &str) -> io::Result<()> {
        let lines = wrap(&shown(text, self.style), self.style.width, 2);
        if self.last == Last::Warning {
            self.output.write_all(b"\n")?;
        }
        self.lines(&lines, TextTone::Plain)?;
        self.last = Last::Other;
        self.output.flush()
    }
}

/// A line with its tone's colour; the words alone tell the same.
fn paint(line: &str, tone: TextTone, colour: bool) -> String {
    if !colour || tone == TextTone::Plain || line.is_empty() {
        return line.to_string();
    }
    let styled = console::style(line).force_styling(true);
    match tone {
        TextTone::Plain => styled,
        TextTone::Heading => styled.bold(),
        TextTone::Warning => styled.red().bold(),
        TextTone::Aside => styled.dim(),
        TextTone::Verdict(Verdict::Pass) | TextTone::Finding(Grade::Good) => styled.green(),
        TextTone::Verdict(Verdict::Fail) | TextTone::Finding(Grade::Act | Grade::Stop) => styled.red(),
        TextTone::Verdict(Verdict::Unsure) | TextTone::Finding(Grade::Attention) | TextTone::Refusal => {
            styled.yellow()
        }
        TextTone::Finding(Grade::Note) => styled,
    }
    .to_string()
}
