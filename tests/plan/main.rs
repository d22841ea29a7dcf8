//! `tankhand plan` by the real binary: whole pages in both widths, as HTML and as JSON, and what is
//! said of calls that cannot be.

#![allow(clippy::unwrap_used)]

#[path = "../support/golden.rs"]
mod golden;

use std::path::Path;
use std::process::Command;

const FOLDER: &str = "tests/plan";

/// Standard output, standard error and exit code of a plan, in a home without records.
fn plan(home: &Path, width: &str, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_tankhand"))
        .arg("plan")
        .args(arguments)
        .current_dir(golden::in_project(FOLDER))
        .env_clear()
        .env("TANKHAND_HOME", home)
        .env("LANG", "C.UTF-8")
        .env("COLUMNS", width)
        .output()
        .unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    format!("{}{}exit {}\n", text(&output.stdout), text(&output.stderr), output.status.code().unwrap())
}

fn holds(name: &str, width: &str, arguments: &[&str]) {
    let home = tempfile::tempdir().unwrap();
    let call = format!("$ tankhand plan {}\n", arguments.join(" "));
    let output = plan(home.path(), width, arguments);
    golden::holds(&format!("{FOLDER}/golden/{name}.txt"), &(call + &output));
}

const ONE: [&str; 2] = ["--system", "system.toml"];
const TWO: [&str; 2] = ["--system", "two-tanks.toml"];

/// The options of a plan on one of the installations.
fn on<'a>(system: [&'a str; 2], more: &[&'a str]) -> Vec<&'a str> {
    system.into_iter().chain(more.iter().copied()).collect()
}

const MORE_PRESSURE: &[&str] = &[
    "--cut-in",
    "45",
    "--cut-out",
    "65",
    "--add-tank",
    "34gal",
    "--serve",
    "bath +14 ft",
    "--demand",
    "5 gal/min",
    "--temperature",
    "54",
];

#[test]
fn more_pressure_with_one_more_tank() {
    holds("more-pressure-80", "80", &on(ONE, MORE_PRESSURE));
    holds("more-pressure-40", "40", &on(ONE, MORE_PRESSURE));
    holds("more-pressure-html", "80", &on(ONE, &[MORE_PRESSURE, &["--html", "-"]].concat()));
    holds("more-pressure-json", "80", &on(ONE, &[MORE_PRESSURE, &["--format", "json"]].concat()));
}

/// What a relief valve, a code and a pump leave no room for fails, and so does the command.
#[test]
fn too_much_pressure_fails() {
    let curve = ["--cut-in", "70", "--shutoff", "290 ft", "--water-level", "90 ft"];
    holds("too-much", "80", &on(ONE, &curve));
}

/// Nothing is asked for: what there is, and what it would do with its precharge set.
#[test]
fn nothing_planned_tells_what_there_is() {
    holds("as-it-is", "80", &on(ONE, &["--temperature", "54", "--outage", "--demand", "3 gal/min"]));
}

/// Two tanks at two heights, the lower one charged over its cut-in: nothing known of temperatures,
/// relief valve, motor and one plate.
#[test]
fn tanks_at_heights_of_which_little_is_known() {
    holds("two-heights", "80", &on(TWO, &["--cut-in", "2.8 bar", "--gap", "0.2"]));
    holds("without-the-attic", "80", &on(TWO, &["--remove", "attic", "--add-tank", "100 L @ -1 m"]));
}

/// How far the pump reaches, by its curve and by two timed fills, and friction in a pipe.
#[test]
fn what_the_pump_can_do() {
    let bath = "bath +14 ft by 60 ft of 0.75 in at 5 gal/min >= 30 psi";
    let curve = ["--cut-in", "45", "--shutoff", "260 ft", "--water-level", "90 ft +- 5 ft", "--serve", bath];
    holds("by-the-curve", "80", &on(ONE, &curve));
    let fills = ["--fill", "40 to 45 psi in 28 s", "--fill", "52 psi to 57 psi in 26 s"];
    holds("by-timed-fills", "80", &on(ONE, &[&["--cut-in", "40", "--cut-out", "60"], &fills[..]].concat()));
}

/// Friction by pipe sizes as they are sold and as they are measured, with the flow told or the demand's, in
/// whatever order; the loss itself is held against `fluids` in tests/oracles/.
#[test]
fn pressures_at_fixtures_with_their_pipes() {
    let serve =
        ["--serve", "shower +14 ft >= 40 psi", "--serve", "shower +14 ft by 50 ft of 3/4 in >= 30 psi"];
    let others =
        ["--serve", "bath, upstairs +14 ft, 1/2 in, 50 ft, 3 gal/min", "--serve", "tap -3 m, 20 m, 0.681 in"];
    let asked = [&serve[..], &others[..], &["--demand", "4 gal/min", "--cut-in", "45"]].concat();
    holds("fixtures", "80", &on(ONE, &asked));
}

/// What reaches a goal: by the common sizes, by an owner's with prices, and where nothing does.
#[test]
fn goals_are_searched_for() {
    let asked = ["--serve", "bath +14 ft", "--want", "lowest 40 psi at bath", "--want", "run time 2 min"];
    let asked = on(ONE, &[&asked[..], &["--temperature", "54"]].concat());
    holds("search", "80", &asked);
    holds("search-40", "40", &asked);
    let priced = [&asked[..], &["--sizes", "supplier.toml"]].concat();
    holds("search-prices", "80", &priced);
    holds("search-json", "80", &[&priced[..], &["--format", "json"]].concat());
    let much = ["--serve", "tower +40 ft", "--want", "lowest 60 psi at tower"];
    holds("search-in-vain", "80", &on(ONE, &much));
    let few =
        ["--cut-in", "40", "--want", "starts 4", "--want", "drawdown 20 gal", "--want", "reserve 2 gal"];
    holds("search-few-starts", "80", &on(ONE, &few));
}

/// The table of sizes is written as it stands, and read as it is written.
#[test]
fn the_sizes_can_be_copied() {
    let home = tempfile::tempdir().unwrap();
    let listed = plan(home.path(), "80", &["--list-sizes"]);
    assert_eq!(listed, format!("{}exit 0\n", tankhand::system::TANK_SIZES));
    std::fs::write(home.path().join("tank-sizes.toml"), tankhand::system::TANK_SIZES).unwrap();
    std::fs::copy(golden::in_project("tests/plan/system.toml"), home.path().join("system.toml")).unwrap();
    let goal = ["--temperature", "54", "--want", "run time 2 min"];
    assert_eq!(plan(home.path(), "80", &goal), plan(home.path(), "80", &on(ONE, &goal)));
}

/// Without a system file a plan tells what it can of what is typed.
#[test]
fn without_a_system_file() {
    holds("no-system", "80", &["--cut-in", "40", "--cut-out", "60", "--add-tank", "44 gal +- 2 gal"]);
    holds("no-switch", "80", &["--add-tank", "44 gal"]);
    holds("no-tank", "80", &["--cut-in", "40", "--cut-out", "60"]);
}

/// Calls that cannot be, each with where, what, why and what to do.
const WRONG: &[&[&str]] = &[
    &["--cut-in", "45x"],
    &["--cut-in", "4500"],
    &["--cut-in", "45", "--cut-out", "40"],
    &["--add-tank", "34 psi"],
    &["--add-tank", "34 gal @ high"],
    &["--remove", "grean"],
    &["--remove", "green"],
    &["--demand", "-3 gal/min"],
    &["--serve", "bath"],
    &["--serve", "bath +14 ft by 60 ft"],
    &["--serve", "bath +14 ft by 50 ft of 3/4 in >= 40 psi"],
    &["--serve", "bath +14 ft, 3/4 in, 1/2 in, 50 ft"],
    &["--serve", "bath +14 ft by 50 of 3/4 in at 3 gal/min"],
    &["--serve", "bath +14 ft >= 40 gal"],
    &["--want", "lowest 45 psi at bath"],
    &["--serve", "bath +14 ft", "--want", "lowest 45 psi at path"],
    &["--want", "longer runs"],
    &["--want", "run time"],
    &["--shutoff", "260 ft"],
    &["--water-level", "90 ft"],
    &["--shutoff", "80 ft", "--water-level", "90 ft"],
    &["--fill", "40 to 45 psi in 21 s"],
    &["--fill", "45 to 40 psi in 21 s", "--fill", "3 s"],
    &["--fill", "40 to 45 psi in 21 s", "--fill", "50 to 55 psi in 15 s"],
    &["--temperature", "300", "--gap", "0", "--run-time", "1 ft"],
    &["--sizes", "nowhere.toml"],
];

#[test]
fn wrong_calls_say_where_what_why_and_what_to_do() {
    let home = tempfile::tempdir().unwrap();
    let said: Vec<String> = WRONG
        .iter()
        .map(|more| {
            format!("$ tankhand plan {}\n{}", more.join(" "), plan(home.path(), "80", &on(ONE, more)))
        })
        .collect();
    assert!(said.iter().all(|said| said.ends_with("exit 2\n")), "{said:?}");
    golden::holds(&format!("{FOLDER}/golden/wrong-calls.txt"), &said.join("\n"));
}

/// Installations that nothing can be planned for.
#[test]
fn what_has_no_cycle_is_not_planned() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("system.toml");
    let system = |text: &str| {
        std::fs::write(&file, format!("format = 1\n{text}")).unwrap();
        plan(home.path(), "80", &["--cut-in", "40", "--cut-out", "60"])
    };
    let tank = "[[tank]]\nid = \"a\"\nvolume = \"44 gal\"\n";
    let said = [
        system(&format!("[pump]\ncontrol = \"drive\"\n{tank}")),
        system(&format!("{tank}kind = \"plain\"\n")),
        system("[[tank]]\nid = \"a\"\n"),
        system(&format!("[relief]\npresent = false\n{tank}")),
    ];
    golden::holds(&format!("{FOLDER}/golden/not-planned.txt"), &said.join("\n"));
}

/// Plays the flush of an invented tank, with some answers changed; gives its system file and what was shown.
fn flushed(home: &Path, changes: &[(&str, &str)]) -> (std::path::PathBuf, String) {
    let demo = golden::in_project("transcripts-demo/gritty-tank");
    let system = demo.join("system.toml");
    let written = std::fs::read_to_string(demo.join("answers.toml")).unwrap();
    let answers = home.join("answers.toml");
    let changed = changes.iter().fold(written, |text, (from, to)| text.replace(from, to));
    std::fs::write(&answers, changed).unwrap();
    let played = Command::new(env!("CARGO_BIN_EXE_tankhand"))
        .args(["run", "flush", "--system"])
        .arg(&system)
        .arg("--answers")
        .arg(&answers)
        .env_clear()
        .env("TANKHAND_HOME", home)
        .output()
        .unwrap();
    assert!(played.status.success());
    (system, String::from_utf8(played.stdout).unwrap())
}

/// What a record measured goes before the label: the flush of an invented tank, played first.
#[test]
fn measured_goes_before_the_label() {
    let home = tempfile::tempdir().unwrap();
    let (system, _) = flushed(home.path(), &[]);
    let arguments = ["--system", system.to_str().unwrap(), "--add-tank", "20 gal", "--cut-in", "45"];
    golden::holds(&format!("{FOLDER}/golden/measured.txt"), &plan(home.path(), "80", &arguments));
}

/// For the same facts, readings that are alike among them, a plan's target precharge is that of the run.
#[test]
fn a_plan_has_the_target_of_a_run() {
    let home = tempfile::tempdir().unwrap();
    let alike =
        [(r#""38", "37", "37""#, r#""37", "37", "37""#), (r#""27", "27.5", "27.5""#, r#""27", "27", "27""#)];
    let (system, shown) = flushed(home.path(), &alike);
    let of_run = shown.lines().find_map(|line| Some(line.split_once(" psi target precharge, read at")?.0));
    let of_run = of_run.map(|run| run.trim_start_matches(['=', ' ']));
    let planned = plan(home.path(), "80", &["--system", system.to_str().unwrap()]);
    let of_plan = planned.lines().find_map(|line| line.strip_prefix("target precharge"));
    let of_plan = of_plan.and_then(|cell| cell.trim().split(' ').next().map(ToString::to_string));
    assert!(of_run.is_some(), "{shown}");
    assert_eq!(of_run, of_plan.as_deref(), "{planned}");
}
