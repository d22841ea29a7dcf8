//! The real binary, without a terminal: whole outputs, exit codes, and nothing lost.

#[path = "support/golden.rs"]
mod golden;

use std::io::{BufRead, BufReader, Read, Write};
use std::path::{MAIN_SEPARATOR, Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};

const SHORT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/support/short.toml");

/// The program in a fixed environment, its files in the folder `HOME` of `home`, named from there, so
/// that lines break alike wherever temporary files lie.
fn tankhand(home: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tankhand"));
    command
        .args(arguments)
        .current_dir(home)
        .env_clear()
        .env("TANKHAND_HOME", "HOME")
        .env("LANG", "C.UTF-8")
        .env("TZ", "UTC")
        .env("COLUMNS", "80")
        .stdin(Stdio::null());
    command
}

fn run(home: &Path, arguments: &[&str], input: &str) -> Output {
    let mut child = tankhand(home, arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

/// Standard output, standard error and exit code in one text, the parts of paths apart as on Unix.
fn shown(output: &Output) -> String {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap().replace(MAIN_SEPARATOR, "/");
    format!("{}{}exit {}", text(&output.stdout), text(&output.stderr), output.status.code().unwrap())
}

fn records(home: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> =
        std::fs::read_dir(home.join("HOME/records")).unwrap().map(|entry| entry.unwrap().path()).collect();
    found.sort();
    found
}

/// The text with what changes from run to run made the same.
fn canonical(text: &str, home: &Path) -> String {
    let id = records(home)[0].file_stem().unwrap().to_string_lossy().into_owned();
    text.replace(&id, "RUN")
}

#[test]
fn expressions_are_evaluated() {
    let home = tempfile::tempdir().unwrap();
    let table = [
        ("drawdown(85 gal, 28 psi, 30 psi, 50 psi, 0 ft)", "25.101 gal\nexit 0"),
        ("atmosphere(5000 ft)", "12.228 psi\nexit 0"),
        ("precharge_at(38 psi, 20 degC, 5 degC, 0 ft)", "35.304 psi\nexit 0"),
        ("-2 * 3", "-6\nexit 0"),
        ("38 PSI in bar", "2.62 bar\nexit 0"),
        ("5 ft + 2 in in cm", "157.48 cm\nexit 0"),
        ("38 psi +- 1 psi in bar", "2.62 ± 0.08 bar\nexit 0"),
        ("drawdown(44 gal, 38 psi ± 1 psi, 40 psi, 60 psi)", "11.35 ± 0.25 gal\nexit 0"),
        ("38 psi +- 1 psi < 39 psi", "yes\nexit 0"),
        (
            "atmosphere(90000 ft)",
            "tankhand: It has no value: the elevation, 90000 ft, is not between -1640.4 ft\nand 36089 ft (U.S. Standard Atmosphere, 1976: lowest layer of the atmosphere, to\n11 km).\nexit 2",
        ),
        ("−5 psi", "-5 psi\nexit 0"),
        (
            "drawdown(44, 38 +- 1, 40, 60)",
            "11.35 ± 0.25 gal\nUnits taken: drawdown(44 gal, 38 psi +- 1 psi, 40 psi, 60 psi)\nexit 0",
        ),
        (
            "38 psi + 5 gal",
            "error: a gauge pressure and a volume cannot be added
 --> expression:1:8
  |
1 | 38 psi + 5 gal
  | ------ ^ ----- this is a volume
  | |
  | this is a gauge pressure
  = help: use two of the same kind

1 fault in expression
exit 2",
        ),
    ];
    for (expression, expected) in table {
        assert_eq!(shown(&run(home.path(), &["calc", expression], "")), expected, "for {expression}");
    }
}

#[test]
fn a_calculation_is_explained_at_any_width_in_any_units() {
    let home = tempfile::tempdir().unwrap();
    let flow = "drawdown(44 gal, 38 psi +- 1 psi, 40 psi +- 0.5 psi, 60 psi, 0 ft) / (10 gal/min +- 5 %)";
    let expected = "\
drawdown(44 gal, 38 psi +- 1 psi, 40 psi +- 0.5 psi, 60 psi, 0 ft) / 10 gal/min
+- 5 %
===============================================================================

68 ± 5 s

The limits hold the true value at about 95 % (coverage factor 2).

drawdown
--------

The water a tank gives between the pump's stop and its start.

Formula: V × precharge (1 / cut_in - 1 / cut_out), absolute; with the precharge
above the cut-in V (1 - precharge / cut_out).
Source: Boyle's law.

Put in     Value           From
---------  --------------  -----------------
volume     44 gal
precharge  38.0 ± 1.2 psi  38 psi +- 1 psi
cut_in     40.0 ± 0.6 psi  40 psi +- 0.5 psi
cut_out    60 psi
elevation  0 ft

It gives 11.4 ± 0.5 gal.

Where the uncertainty comes from
--------------------------------

Share  Source
-----  -----------------
62 %   10 gal/min +- 5 %
29 %   40 psi +- 0.5 psi
9 %    38 psi +- 1 psi
exit 0";
    assert_eq!(shown(&run(home.path(), &["calc", "--explain", flow], "")), expected);

    let target = "precharge_target(40 psi, 45 degF, 90 degF +- 5 degF, 2 psi)";
    let mut narrow = tankhand(home.path(), &["calc", "--explain", "--units", "metric", target]);
    let expected = "\
precharge_target(40 psi, 45 °F, 90 °F +-
5 °F, 2 psi)
========================================

2.45 ± 0.04 bar

The limits hold the true value at about
95 % (coverage factor 2).

One limit makes up nearly all of the
uncertainty, and anything within it is
as likely: 95 % of 10,000 draws lie
between 2.42 bar and 2.479 bar.

precharge_target
----------------

The precharge to set: under the cut-in
by the gap, and still under it on the
warmest day, with room for what the
gauges may be off.

Formula: min(cut_in - gap, w, min(w,
cut_in) - uncertainty), w = (cut_in +
atmosphere) × set_at / warmest -
atmosphere, kelvin.
Source: gap: Water Systems Council,
Pressure Tanks (2007); law of
Gay-Lussac; guard band: JCGM 106:2012,
8.3 (clause from memory).

Put in   Value       From
-------  ----------  -------------
cut_in   2.7579 bar
set_at   7.2222 °C
warmest  32 ± 3 °C   90 °F +- 5 °F
gap      0.1379 bar

Where the uncertainty comes from
--------------------------------

Share  Source
-----  -------------
100 %  90 °F +- 5 °F
exit 0";
    assert_eq!(shown(&narrow.env("COLUMNS", "40").output().unwrap()), expected);
}

#[test]
fn without_input_a_run_says_what_it_waits_for_and_how_to_go_on() {
    let home = tempfile::tempdir().unwrap();
    let output = run(home.path(), &["run", SHORT], "");
    let expected = "Short run
  Everything a run can do, in a few steps.

What must be known first
    1 of about 6, done at about TIME
    At any question you may type:
      ?     why and how
      more  how the results came about
      list  where am I, and what was answered
      note  add a remark
      pause leave; everything is kept

  Pressure at which the pump starts
  1 pressure, psi [40 psi] >

  The input is at its end. It waits at answer 1: Pressure at which the pump
  starts
    Everything is kept in
    HOME/records/RUN.toml
    Go on with: tankhand resume RUN
exit 1";
    assert_eq!(without_times(&canonical(&shown(&output), home.path())).trim_end(), expected);
    let output = run(home.path(), &["resume"], "");
    assert_eq!(output.status.code(), Some(1), "and it waits there again");
}

/// What fits two starts nothing; what is found by words is named first; a run that waits is gone on with by
/// its procedure, and ended for good by a word.
#[test]
fn the_menu_starts_what_is_meant_and_knows_what_waits() {
    let home = tempfile::tempdir().unwrap();
    let mut told = String::new();
    for (arguments, input) in [
        (&[][..], "tank\nwinter\nafter winter\nno\n99\nflush\n\n"),
        (&["resume", "flu"], "pause\n"),
        (&[], "discard 1\nno\ndiscard 1\ndiscard\nleave\n"),
        (&["resume", "flush"], ""),
    ] {
        let output = shown(&run(home.path(), arguments, input));
        told.push_str(&format!(
            "$ tankhand {}\n{}\n\n",
            arguments.join(" "),
            canonical(&output, home.path())
        ));
    }
    golden::holds("tests/support/menu.txt", &without_times(&told));
}

/// Asked for, shown, changed: only what was changed is another, and what could not be loaded is not written.
#[test]
fn a_system_file_is_set_up_and_edited() {
    let home = tempfile::tempdir().unwrap();
    let answers = "Quillmoss Bend (invented)\nus\n20\n110 F\n\n\nno\n\n30/50\nno\nsubmersible\nswitch\n\n1/2 hp\n\n\nyes\n75\n\n\n\n\n\n\n\n\
                   green\n\nbladder\nserial 20\nplate.jpg\n9999\n44\n100\n\n\n\nline gauge\n2 psi\n\n\n\n";
    let mut told = shown(&run(home.path(), &["system", "setup"], answers));
    let file = home.path().join("HOME/system.toml");
    let commented = std::fs::read_to_string(&file).unwrap().replace("cut_in = ", "# watched\ncut_in =   ");
    std::fs::write(&file, commented.replace("\"50 psi\"", "\"50 psi\" # by its label")).unwrap();
    for arguments in [
        &["system", "set", "switch.cut_in", "32"][..],
        &["system", "set", "switch.cut_out", "20"],
        &["system", "unset", "relief.setting"],
        &["system", "set", "tank.volum", "40"],
        &["system"],
    ] {
        let output = shown(&run(home.path(), arguments, ""));
        told.push_str(&format!("\n\n$ tankhand {}\n{output}", arguments.join(" ")));
    }
    told.push_str(&format!("\n\n{}", std::fs::read_to_string(&file).unwrap()));
    golden::holds("tests/support/installation.txt", &told);
}

const ANSWERS: &str = "\nunderstood\n\n28 psi\ndirty\n\nnote the hose leaks\nback\n3\n\nM. Example\nseal\n";

/// Who goes back where a change is asked about is asked the answer before, not the changed one again.
#[test]
fn back_at_a_second_thought_goes_back() {
    let home = tempfile::tempdir().unwrap();
    let text = "format = 1\ntitle = \"Try\"\npurpose = \"To try.\"\nstep = [\n\
                { id = \"who\", write = \"text\", ask = \"Who?\" },\n\
                { id = \"line\", read = \"pressure\", ask = \"Line?\" },\n\
                { id = \"more\", read = \"pressure\", ask = \"And after {line}?\" },\n\
                { id = \"last\", do = \"Go home.\" },\n]\n";
    std::fs::write(home.path().join("try.toml"), text).unwrap();
    let answers = "me\n40 psi\n30 psi\namend 2\n50 psi\nback\nyou\npause\n";
    let output = shown(&run(home.path(), &["run", "try.toml"], answers));
    let asked = output.split("change it, sure? > back").nth(1).unwrap();
    assert!(asked.trim_start().starts_with("Who?\n  1 text [me, as before] > you\n"), "{asked}");
}

#[test]
fn answers_from_a_pipe_go_through_a_whole_run() {
    let home = tempfile::tempdir().unwrap();
    let output = run(home.path(), &["run", SHORT, "--plain"], ANSWERS);
    let found = canonical(&shown(&output), home.path());
    // The summary names the day of the run.
    let found = without_times(&found);
    golden::holds("tests/support/short.txt", &found);
    let verified = run(home.path(), &["records", "verify"], "");
    assert_eq!(verified.status.code(), Some(0));
}

/// Replaces dates and times of day by signs.
fn without_times(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        // How long a wait of two seconds took, and how much of it was left, depends on the machine.
        let line = if line.starts_with("  Waited ") { "  Waited" } else { line };
        let line = if line.starts_with("  Waiting until ") { line.split(": ").next().unwrap() } else { line };
        let chars: Vec<char> = line.chars().collect();
        let mut at = 0;
        while at < chars.len() {
            let rest: String = chars[at..].iter().take(10).collect();
            let shape: String = rest.chars().map(|c| if c.is_ascii_digit() { '9' } else { c }).collect();
            if shape == "9999-99-99" {
                out.push_str("DATE");
                at += 10;
            } else if shape.starts_with("99:99") {
                out.push_str("TIME");
                at += 5;
            } else {
                out.push(chars[at]);
                at += 1;
            }
        }
        out.push('\n');
    }
    // In the evening the work ends on another day.
    out.replace("done on DATE at about", "done at about")
}

/// A run that has been given some answers and waits for the next.
fn waiting(home: &Path, arguments: &[&str], answers: &[&str], until: &str) -> Child {
    let mut child = tankhand(home, arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let input = child.stdin.as_mut().unwrap();
    for answer in answers {
        writeln!(input, "{answer}").unwrap();
    }
    input.flush().unwrap();
    let mut output = BufReader::new(child.stdout.take().unwrap());
    let mut seen = Vec::new();
    while !String::from_utf8_lossy(&seen).contains(until) {
        let bytes = output.fill_buf().unwrap();
        assert_ne!(bytes.len(), 0, "ended before `{until}`:\n{}", String::from_utf8_lossy(&seen));
        seen.extend_from_slice(bytes);
        let count = bytes.len();
        output.consume(count);
    }
    // The pipe stays open, or the program would end for want of a reader.
    child.stdout = Some(output.into_inner());
    child
}

#[test]
fn killed_at_any_answer_a_run_goes_on_where_it_stood() {
    let given: Vec<&str> = ANSWERS.lines().collect();
    let home = tempfile::tempdir().unwrap();
    run(home.path(), &["run", SHORT], ANSWERS);
    let whole = summary(home.path());
    let marks = [
        "type understood to go on",
        "Drain the tank through",
        "What does the air gauge",
        "How does the jar",
        "Leave it alone",
    ];
    let killed_at = |count: usize, mark: &str| {
        let home = tempfile::tempdir().unwrap();
        let mut child = waiting(home.path(), &["run", SHORT], &given[..=count], mark);
        child.kill().unwrap();
        child.wait().unwrap();
        run(home.path(), &["resume"], &(given[count + 1..].join("\n") + "\n"));
        assert_eq!(summary(home.path()), whole, "killed before {mark}");
    };
    // Side by side: most of a run is a wait.
    std::thread::scope(|scope| {
        for (count, mark) in marks.iter().enumerate() {
            let killed_at = &killed_at;
            scope.spawn(move || killed_at(count, mark));
        }
    });
}

/// The tables of the only record's summary: what was found, done and left.
fn summary(home: &Path) -> Vec<String> {
    let path = records(home).remove(0);
    let id = path.file_stem().unwrap().to_str().unwrap();
    let text = shown(&run(home, &["records", "show", id], ""));
    let lines = text.lines().skip_while(|line| line.trim() != "Found");
    // The minute in which something was done depends on the machine.
    let timeless = |line: &str| without_times(line).trim_end().to_string();
    let lines: Vec<String> = lines.take_while(|line| !line.contains("Remarks")).map(timeless).collect();
    assert!(lines.len() > 3, "{text}");
    lines
}

#[test]
fn a_second_writer_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let mut first = waiting(home.path(), &["run", SHORT], &["40"], "type understood to go on");
    let second = run(home.path(), &["resume"], "");
    first.kill().unwrap();
    first.wait().unwrap();
    assert_eq!(
        joined(&canonical(&shown(&second), home.path())),
        "tankhand: HOME/records/RUN.toml: another tankhand is writing this record why: two writers would \
         spoil it what to do: end the other one first, or wait for it exit 2"
    );
    assert_eq!(run(home.path(), &["resume"], "").status.code(), Some(1), "afterwards it is free");
}

#[test]
fn a_record_cut_in_its_last_entry_is_mended_and_told() {
    let home = tempfile::tempdir().unwrap();
    run(home.path(), &["run", SHORT], "40\nunderstood\n\n");
    let path = records(home.path()).remove(0);
    let text = std::fs::read(&path).unwrap();
    std::fs::write(&path, &text[..text.len() - 40]).unwrap();
    let output = run(home.path(), &["resume"], "");
    let told = shown(&output);
    assert!(told.contains("It waits at answer 2: Drain"), "{told}");
    let verified = run(home.path(), &["records", "verify"], "");
    assert_eq!(verified.status.code(), Some(0), "{}", String::from_utf8_lossy(&verified.stdout));
}

/// A part of the owner's own is told of when the run begins, in the record and in what is shown of it.
#[test]
fn the_owners_own_part_is_told_of() {
    let home = tempfile::tempdir().unwrap();
    let parts = home.path().join("HOME/procedures/parts");
    std::fs::create_dir_all(&parts).unwrap();
    let shipped = tankhand::procedure::shipped("parts/pump-off").unwrap().text;
    std::fs::write(parts.join("pump-off.toml"), format!("# Mine.\n{shipped}")).unwrap();
    let begun = shown(&run(home.path(), &["run", "lay-up"], ""));
    let name = "procedures/parts/pump-off.toml";
    let first = "Your own parts are used, which did not come with the program: pump-off.";
    let joined = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(joined(&begun).starts_with(first), "{begun}");
    let record = tankhand::record::read(&records(home.path())[0]).unwrap();
    let own = record.header.texts.iter().filter(|text| text.role == tankhand::record::TextRole::OwnPart);
    assert_eq!(own.map(|text| text.name.as_str()).collect::<Vec<_>>(), [name]);
    let shown = shown(&run(home.path(), &["records", "show", &record.header.id], ""));
    let row = shown.lines().find(|line| line.starts_with("Own files"));
    assert_eq!(row.map(joined), Some("Own files pump-off".to_string()));
    // With a warning taken away it does not load.
    let silent = shipped.replace("hazards = [\"mains\", \"pump_starts\"]\n", "");
    std::fs::write(parts.join("pump-off.toml"), silent).unwrap();
    let refused = run(home.path(), &["run", "lay-up"], "");
    assert_eq!((refused.status.code(), records(home.path()).len()), (Some(2), 1));
}

#[test]
fn faulty_calls_and_files_end_with_2_and_say_what_to_do() {
    let home = tempfile::tempdir().unwrap();
    std::fs::create_dir_all(home.path().join("HOME/records")).unwrap();
    let table: &[(&[&str], &str)] = &[
        (&["run", "flusch"], "tankhand: There is no procedure `flusch`: did you mean `flush`?\n"),
        (&["run", "nowhere.toml"], "tankhand: nowhere.toml: there is no such file\n"),
        (&["resume"], "tankhand: No run waits to be gone on with. `tankhand run flush` begins one.\n"),
        (
            &["records", "show", "x"],
            "tankhand: There is no record `x`: `tankhand records` lists what there is.\n",
        ),
        (
            &["run", "flush", "--tank", "a"],
            "tankhand: The system file names no tanks, so --tank cannot choose one.\n",
        ),
        (
            &["run", "yearly", "--tank", "a"],
            "tankhand: \"The yearly check\" takes all tanks in turn: leave --tank out.\n",
        ),
    ];
    for (arguments, expected) in table {
        let output = run(home.path(), arguments, "");
        assert_eq!(String::from_utf8(output.stderr).unwrap(), *expected);
        assert_eq!(output.status.code(), Some(2));
    }
}

#[test]
fn whoever_stops_reading_gets_no_complaint() {
    let home = tempfile::tempdir().unwrap();
    let mut child = tankhand(home.path(), &["procedures", "show", "flush"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let mut complaint = String::new();
    child.stderr.take().unwrap().read_to_string(&mut complaint).unwrap();
    assert_eq!((complaint.as_str(), child.wait().unwrap().code()), ("", Some(0)));
}

/// The program where a file may have so many blocks of 512 bytes and no more, as under a quota.
#[cfg(unix)]
fn limited(home: &Path, blocks: u64, arguments: &[&str]) -> Command {
    let mut command = tankhand(home, &[]);
    let program = command.get_program().to_owned();
    let mut limited = Command::new("/bin/sh");
    limited.args(["-c", "ulimit -f \"$1\" && shift && exec \"$@\"", "-", &blocks.to_string()]);
    limited.arg(program).args(arguments).current_dir(home).env_clear().stdin(Stdio::piped());
    for (name, value) in command.stdin(Stdio::null()).get_envs() {
        limited.env(name, value.unwrap());
    }
    limited
}

/// A text on one line.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(unix)]
#[test]
fn a_record_that_may_not_grow_is_told_of() {
    let home = tempfile::tempdir().unwrap();
    let output = limited(home.path(), 0, &["run", SHORT]).output().unwrap();
    let error = joined(&String::from_utf8(output.stderr).unwrap());
    let (_, told) = error.split_once(".toml: ").unwrap();
    assert_eq!(
        told,
        "could not make it: File too large (os error 27) why: the machine refused what to do: check whether the disk \
         is there, full or failing"
    );
    assert_eq!((output.status.code(), records(home.path())), (Some(3), Vec::new()));
    run(home.path(), &["run", SHORT], "");
    let head = std::fs::metadata(records(home.path()).remove(0)).unwrap().len();
    let mut command = limited(home.path(), head / 512, &["resume"]);
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(ANSWERS.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let error = canonical(&String::from_utf8(output.stderr).unwrap(), home.path());
    assert_eq!(
        joined(&error),
        "tankhand: HOME/records/RUN.toml: could not write the latest entries: File too large (os error 27) why: 0 \
         entries safe in the record; what came later may be missing what to do: make room on the disk, then resume \
         the run from its record"
    );
    assert_eq!(output.status.code(), Some(3));
    let resumed = shown(&run(home.path(), &["resume"], ""));
    assert!(resumed.contains("It waits at answer 1"), "{resumed}");
}

/// What is told of the clock when a run is killed in a wait and gone on with by another one: at once, and
/// before the wait goes on.
fn after_a_wait(environment: &[(&str, &str)]) -> [String; 2] {
    let home = tempfile::tempdir().unwrap();
    let given = ["40", "understood", "", "28 psi", "clear"];
    let mut child = waiting(home.path(), &["run", SHORT], &given, "Waiting until");
    child.kill().unwrap();
    child.wait().unwrap();
    let output = tankhand(home.path(), &["resume"]).envs(environment.iter().copied()).output().unwrap();
    let text = joined(&String::from_utf8(output.stdout).unwrap());
    let between = |from: &str, to: &str| {
        let (_, rest) = text.split_once(from).unwrap_or_else(|| panic!("{text}"));
        let told = rest.split(to).next().unwrap().trim();
        // What follows depends on the machine.
        [" It has run", " has, "].iter().fold(told, |told, from| told.split(from).next().unwrap()).to_string()
    };
    [between("Going on: Short run", "The air"), between("Leave it alone.", "Waiting until")]
}

/// Where Debian's package faketime puts what sets a program's clock.
const FAKETIME: &str = "/usr/lib/x86_64-linux-gnu/faketime/libfaketime.so.1";

#[test]
fn another_clock_after_a_wait_is_told_of() {
    assert_eq!(after_a_wait(&[]), ["", ""]);
    if !cfg!(unix) {
        println!("SKIPPED: there is no variable for a program's time zone here");
        return;
    }
    let forward = "The clock on the wall went forward by 60 min since the wait began: another time zone, or summer \
                   time. The wait goes by what has passed.";
    assert_eq!(after_a_wait(&[("TZ", "XXX-1")]), ["", forward]);
    if !Path::new(FAKETIME).exists() {
        println!("SKIPPED: there is no {FAKETIME} (Debian's package faketime)");
        return;
    }
    if cfg!(target_feature = "crt-static") {
        println!("SKIPPED: a static program loads nothing before itself");
        return;
    }
    let set = |by| {
        after_a_wait(&[("LD_PRELOAD", FAKETIME), ("FAKETIME", by), ("FAKETIME_DONT_FAKE_MONOTONIC", "1")])
    };
    assert_eq!(set("+2d"), ["", "This machine's clock was set during the wait."]);
    let earlier = "NOTICE This machine's clock shows an earlier time than the last answer";
    assert_eq!(set("-2d"), [earlier, ""]);
}
