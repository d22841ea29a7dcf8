//! Editing as a homeowner does it: what the guide says of it is done here, with the real
//! binary, and what a slip or a bypass leads to is held as a whole page.

#[path = "support/golden.rs"]
mod golden;

use std::fs;
use std::path::{MAIN_SEPARATOR, PathBuf};
use std::process::{Command, Output};

use tankhand::procedure::shipped;
use tankhand::report::{EDITS, OwnerEdit};

/// A folder with a home in it, gone at the end.
struct Desk(tempfile::TempDir);

impl Desk {
    fn new() -> Desk {
        Desk(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn tankhand(&self, args: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_tankhand"))
            .args(args)
            .current_dir(self.0.path())
            .env("TANKHAND_HOME", "home")
            .output()
            .unwrap()
    }

    /// What is said, and the exit code.
    fn said(&self, args: &[&str]) -> String {
        let output = self.tankhand(args);
        let text = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap()).concat();
        let text = text.replace(MAIN_SEPARATOR, "/");
        let code = output.status.code().unwrap();
        format!("$ tankhand {}\n{text}[{code}]\n\n", args.join(" "))
    }

    /// A copy of a shipped file with one change in it.
    fn edited(&self, name: &str, (find, write): (&str, &str)) -> String {
        let text = shipped(name).unwrap().text;
        assert_eq!(text.matches(find).count(), 1, "{name} has {find:?} not once");
        let file = format!("{}.toml", name.rsplit('/').next().unwrap());
        self.write(&file, &text.replace(find, write));
        file
    }
}

fn file_of(edit: &OwnerEdit, desk: &Desk) -> String {
    if edit.find.is_empty() {
        desk.write(edit.file, edit.write);
        return edit.file.to_string();
    }
    desk.edited(edit.file, (edit.find, edit.write))
}

#[test]
fn every_edit_of_the_guide_is_one_change_and_loads() {
    let mut all = String::new();
    for edit in EDITS {
        let desk = Desk::new();
        let file = file_of(edit, &desk);
        let said = desk.said(&["check", &file]);
        assert!(said.trim_end().ends_with("[0]"), "{}: {said}", edit.wish);
        assert!(!said.contains("LESS SAFE"), "{}: {said}", edit.wish);
        all.push_str(&format!("# {}\n{said}", edit.wish));
    }
    golden::holds("tests/editing/edits.txt", &all);
}

/// What makes an edit unsafe is refused, or told before all else.
#[test]
fn bypasses_are_refused_or_told_first() {
    let needs = "needs = [\"pump_proven_off\", \"drained\", \"drain_open\", \"line_at_zero\", \"gauges_proven\"]\nwhy = \"With water";
    let fewer = "needs = [\"pump_proven_off\", \"drain_open\", \"line_at_zero\", \"gauges_proven\"]\nwhy = \"With water";
    let reasoned =
        &format!("without = {{ need = \"drained\", because = \"The tank is new and dry.\" }}\n{fewer}");
    let bypasses: &[(&str, &str, (&str, &str))] = &[
        ("A gauge misspelt", "parts/read-precharge", ("gauge = \"thermometer\"", "gauge = \"termometer\"")),
        ("A need dropped", "parts/read-precharge", (needs, fewer)),
        ("A need dropped for a reason", "parts/read-precharge", (needs, reasoned)),
        (
            "A state claimed",
            "flush",
            (
                "use = \"parts/pump-off\"\n",
                "do = \"Look at the tank.\"\nbrings = [\"pump_off\"]\nundoes = [\"pump_waits\"]\n",
            ),
        ),
        (
            "A state claimed where a look is",
            "parts/watch-cycle",
            ("why = \"A shorter run time", "brings = [\"pump_proven_off\"]\nwhy = \"A shorter run time"),
        ),
        ("A part taken out", "flush", ("[[step]]\nuse = \"parts/pump-off\"\n", "")),
        (
            "A test taken out",
            "flush",
            (
                "[[step]]\nuse = \"parts/drawdown-test\"\nas = \"_found\"\ntells = \"found\"\nwith = { alone = \"apart or not more_tanks\" }\n",
                "",
            ),
        ),
        (
            "A part left out that others need",
            "flush",
            ("format  = 1\n", "format  = 1\nleave_out = [\"hold-test\"]\n"),
        ),
        (
            "A hazard taken away",
            "parts/pump-off",
            ("hazards = [\"mains\", \"pump_starts\"]", "hazards = [\"mains\"]"),
        ),
        (
            "A look taken away",
            "parts/pump-off",
            ("see = \"The handle is fully at OFF, the tag is on, and the house knows.\"\n", ""),
        ),
        (
            "A stop taken away",
            "parts/watch-cycle",
            (
                "check = \"cut_out > cut_in\"\npaper = \"\"\nmust = true\n",
                "check = \"cut_out > cut_in\"\npaper = \"\"\n",
            ),
        ),
    ];
    let mut all = String::new();
    for (what, name, change) in bypasses {
        let desk = Desk::new();
        let file = desk.edited(name, *change);
        all.push_str(&format!("# {what}\n{}", desk.said(&["check", &file])));
    }
    golden::holds("tests/editing/bypasses.txt", &all);
}

#[test]
fn one_broken_file_hides_no_other() {
    let desk = Desk::new();
    desk.write(
        "home/procedures/look.toml",
        EDITS.iter().find(|edit| edit.file == "look.toml").unwrap().write,
    );
    desk.write("home/procedures/flush.toml", "format = 1\ntitle = Flush\n");
    golden::holds("tests/editing/listed.txt", &desk.said(&["procedures"]));
}

#[test]
fn a_copy_makes_the_folders_it_needs_and_is_used_from_there() {
    let desk = Desk::new();
    let copied = desk.said(&["procedures", "copy", "parts/drain", "home/procedures/parts/drain.toml"]);
    let text = fs::read_to_string(desk.path("home/procedures/parts/drain.toml")).unwrap();
    assert_eq!(text, shipped("parts/drain").unwrap().text);
    desk.write(
        "home/procedures/parts/drain.toml",
        &text.replace("Close the highest faucet", "Shut the highest faucet"),
    );
    let checked = desk.said(&["check", "home/procedures/parts/drain.toml"]);
    golden::holds("tests/editing/copied.txt", &format!("{copied}{checked}"));
}

/// What a file leaves out is said where the run begins, in the record and in what is made of it.
#[test]
fn what_is_left_out_is_said_in_run_record_and_report() {
    let desk = Desk::new();
    desk.write("home/procedures/parts/measure.toml", MEASURE);
    desk.write("home/procedures/yearly.toml", YEARLY);
    desk.write("answers.toml", ANSWERS);
    let run = desk.said(&["run", "yearly", "--answers", "answers.toml"]);
    let records = fs::read_dir(desk.path("home/records")).unwrap();
    let record = records.map(|entry| entry.unwrap().path()).find(|path| path.extension().is_some()).unwrap();
    let kept = fs::read_to_string(&record).unwrap();
    let without = kept.lines().find(|line| line.starts_with("without")).unwrap();
    let id = record.file_stem().unwrap().to_str().unwrap();
    let shown = desk.said(&["records", "show", id]);
    let lines = shown.lines().skip_while(|line| !line.starts_with("Own files"));
    let shown: Vec<&str> = lines.take_while(|line| !line.starts_with("Outcome")).collect();
    // The day and the hour are those of the test.
    let run: Vec<&str> = run.lines().filter(|line| !line.contains(id)).collect();
    let whole = format!("{}\n\n{without}\n\n{}\n", run.join("\n"), shown.join("\n"));
    golden::holds("tests/editing/left-out.txt", &whole);
}

/// A part that is left out below.
const MEASURE: &str = r#"format = 1
title = "Measure"
purpose = "Measure the water."
gives = { water = "volume" }

[[step]]
id = "water"
observes = "water_poured"
read = "volume"
gauge = "bucket"
ask = "How much water?"
"#;

/// Named like a shipped procedure, with one step of it that needs less for a reason.
const YEARLY: &str = r#"format = 1
title = "A short look"
purpose = "Look at the tank."
leave_out = ["measure"]

[[state]]
id = "house_shut"
means = "The water to the house is shut off"

[[step]]
use = "parts/measure"

[[step]]
tell = "Of water: {water}."

[[step]]
id = "enough"
check = "water > 3 gal"
pass = "Enough."
unsure = "Whether it is enough was not measured."

[[step]]
id = "look"
do = "Look at the tank."
without = { need = "house_shut", because = "Nobody lives here in winter." }
"#;

const ANSWERS: &str = r#"format = 1
start = 2031-04-05T09:00:00-05:00

[[answer]]
step = "look"
give = ""

[[answer]]
step = "close"
give = "seal"
"#;

/// An editor that speaks to a language server marks a slip at its key, and tells what keys mean.
#[test]
fn a_language_server_goes_by_the_schema() {
    let server = Command::new("tombi").arg("--version").output();
    let python = Command::new("python3").arg("--version").output();
    if server.is_err() || python.is_err() {
        println!("SKIPPED: this needs Python 3.11 and the language server `tombi` (PyPI: tombi)");
        return;
    }
    let desk = Desk::new();
    let schema = desk.tankhand(&["schema", "procedure"]);
    fs::write(desk.path("procedure.schema.json"), schema.stdout).unwrap();
    desk.write("slips.toml", SLIPS);
    let script = golden::in_project("tests/editing/language_server.py");
    let output = Command::new("python3")
        .arg(script)
        .args(["tombi", "lsp", "--offline"])
        .arg(desk.path("slips.toml"))
        .output()
        .unwrap();
    golden::holds("tests/editing/language-server.txt", &String::from_utf8(output.stdout).unwrap());
}

/// A gauge misspelt, and a key.
const SLIPS: &str = r#"#:schema ./procedure.schema.json
format = 1
title = "Look"
purpose = "Look at the tank."

[[step]]
read = "pressure"
id = "p"
gauge = "ari"
ask = "What does the gauge show?"

[[step]]
do = "Look."
durration = 3

[[step]]
do = "Look again."
"#;

/// A sentence is found by the file and the line that `--where` names.
#[test]
fn each_sentence_is_found_where_it_is_said_to_stand() {
    let desk = Desk::new();
    let output = desk.tankhand(&["procedures", "show", "flush", "--where"]);
    let text = String::from_utf8(output.stdout).unwrap();
    let mut found = 0;
    for piece in text.split('[').skip(1) {
        let place: String = piece.split(']').next().unwrap().split_whitespace().collect();
        let Some((file, line)) = place.split_once(".toml:") else { continue };
        let text = shipped(file).unwrap_or_else(|| panic!("{file}")).text;
        let line = text.lines().nth(line.parse::<usize>().unwrap() - 1).unwrap();
        assert!(line.contains(" = "), "{place}: {line}");
        found += 1;
    }
    assert!(found > 300, "{found}");
}
