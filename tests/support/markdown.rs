//! A page as Markdown, for reference chapters.

use tankhand::report::{Page, PageBlock, Row};

/// The page as Markdown, its title a heading of the given level.
pub fn to_markdown(page: &Page, level: usize) -> String {
    let mut pieces = Vec::new();
    pieces.extend(page.title.as_ref().map(|title| format!("{} {}", "#".repeat(level), escaped(title))));
    for block in &page.blocks {
        pieces.push(match block {
            PageBlock::Heading(text) => format!("{} {}", "#".repeat(level + 1), escaped(text)),
            PageBlock::Lead(text) | PageBlock::Text(text) | PageBlock::Note(text) => escaped(text),
            PageBlock::Listing(text) | PageBlock::Code(text) => format!("```\n{text}\n```"),
            PageBlock::Figure(figure) => format!("*{}.* {}", escaped(&figure.title), escaped(&figure.says)),
            PageBlock::List(items) | PageBlock::Signatures(items) => {
                items.iter().map(|item| format!("- {}", escaped(item))).collect::<Vec<_>>().join("\n")
            }
            PageBlock::File { name, .. } => escaped(name),
            PageBlock::Table { head, rows } => table(head, rows),
        });
    }
    pieces.join("\n\n") + "\n"
}

fn table(head: &[String], rows: &[Row]) -> String {
    let line = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|cell| escaped(cell).replace('|', "\\|")).collect();
        format!("| {} |", cells.join(" | "))
    };
    let width = rows.first().map_or(head.len(), |row| row.cells.len());
    let blank = vec![String::new(); width];
    let mut lines = vec![line(if head.is_empty() { &blank } else { head })];
    lines.push(format!("|{}", "---|".repeat(width)));
    lines.extend(rows.iter().map(|row| line(&row.cells)));
    lines.join("\n")
}

/// Text whose signs Markdown leaves alone; what stands in a pair of backticks is code.
fn escaped(text: &str) -> String {
    let pieces: Vec<&str> = text.split('`').collect();
    let paired = pieces.len() % 2 == 1;
    let piece = |(at, piece): (usize, &&str)| match at % 2 {
        1 if paired => format!("`{}`", piece.replace('\n', " ")),
        1 => format!("\\`{}", plain(piece)),
        _ if !paired && at > 0 => format!("\\`{}", plain(piece)),
        _ => plain(piece),
    };
    pieces.iter().enumerate().map(piece).collect()
}

fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if matches!(c, '*' | '_' | '<' | '>' | '[' | ']' | '\\' | '#') {
            out.push('\\');
        }
        out.push(if c == '\n' { ' ' } else { c });
    }
    out
}
