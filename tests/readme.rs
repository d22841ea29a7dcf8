//! What the README shows is true: excerpts, examples, the system file.

#[path = "support/golden.rs"]
mod golden;
#[path = "support/stage.rs"]
mod stage;

use std::fs;
use std::process::Command;

use tankhand::source::SourceText;

fn readme() -> String {
    fs::read_to_string(golden::in_project("README.md")).unwrap()
}

/// The bodies of the fenced blocks of a language.
fn blocks(text: &str, language: &str) -> Vec<String> {
    let open = format!("```{language}\n");
    text.split(&open).skip(1).map(|rest| rest.split("```").next().unwrap().to_string()).collect()
}

/// An excerpt of what is seen of a demonstration, from one line up to another.
fn excerpt(file: &str, from: &str, to: &str) -> String {
    let name = file.strip_prefix("transcripts-demo/").unwrap().strip_suffix("/transcript.txt").unwrap();
    let text = &stage::played(stage::demo(name)).transcript;
    assert!(text.lines().any(|line| line == to), "{file} has no line {to:?}");
    let lines = text.lines().skip_while(|line| *line != from).take_while(|line| *line != to);
    lines.collect::<Vec<_>>().join("\n").trim_end().to_string()
}

/// Every excerpt is led by `<!-- FILE from "LINE" to "LINE" -->`.
#[test]
fn excerpts_stand_in_the_transcripts() {
    let mut text = readme();
    let mut at = 0;
    let mut count = 0;
    while let Some(found) = text[at..].find("<!-- transcripts-demo/") {
        let start = at + found;
        let comment = text[start..].lines().next().unwrap().to_string();
        let quoted: Vec<&str> = comment.split('"').collect();
        let file = comment.split_whitespace().nth(1).unwrap();
        let body_start = start + text[start..].find("```text\n").unwrap() + "```text\n".len();
        let body_end = body_start + text[body_start..].find("```").unwrap();
        let wanted = excerpt(file, quoted[1], quoted[3]) + "\n";
        assert!(wanted.lines().count() > 5, "the excerpt of {file} is empty");
        text.replace_range(body_start..body_end, &wanted);
        at = body_start;
        count += 1;
    }
    assert_eq!(count, 1);
    golden::holds("README.md", &text);
}

#[test]
fn console_examples_give_what_is_shown() {
    let mut count = 0;
    for block in blocks(&readme(), "console") {
        for piece in block.split("$ tankhand calc '").skip(1) {
            let (expression, output) = piece.split_once("'\n").unwrap();
            let ran =
                Command::new(env!("CARGO_BIN_EXE_tankhand")).args(["calc", expression]).output().unwrap();
            assert_eq!(String::from_utf8(ran.stdout).unwrap(), output, "for {expression}");
            count += 1;
        }
    }
    assert_eq!(count, 1);
}

#[test]
fn the_system_file_loads() {
    let block = blocks(&readme(), "toml").into_iter().find(|block| block.starts_with("format = 1")).unwrap();
    let system = tankhand::system::load(&SourceText::new("README.md", block)).unwrap();
    assert_eq!((system.tanks.len(), system.name.as_deref()), (1, Some("Alder Hollow (invented)")));
}
