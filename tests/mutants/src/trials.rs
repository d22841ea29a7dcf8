//! Runs tests: first each alone, to see which faults it comes by; then with each fault those that do.

use std::collections::BTreeSet;
use std::fs;
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// How many tests run at the same time.
const WORKERS: usize = 2;
/// What a test may take beyond what it takes without a fault.
const TIMES: u32 = 20;
/// Memory a test may have; KiB.
const MEMORY: &str = "6000000";

/// One test.
#[derive(Clone, Debug)]
pub struct Test {
    /// Which program it is in.
    pub program: usize,
    /// Its name there.
    pub name: String,
    /// How long it takes without a fault.
    pub takes: Duration,
    /// The faults it comes by.
    pub reaches: BTreeSet<usize>,
}

/// All tests, and where they run.
pub struct Trials {
    /// The copied tree.
    pub root: PathBuf,
    /// Names and paths of the test programs.
    pub programs: Vec<(String, PathBuf)>,
    /// Those that pass without a fault.
    pub tests: Vec<Test>,
}

impl Trials {
    /// Lists the tests and runs each alone.
    pub fn measure(root: &Path, programs: Vec<(String, PathBuf)>) -> Trials {
        let mut trials = Trials { root: root.to_path_buf(), programs, tests: Vec::new() };
        let mut listed = Vec::new();
        for (number, (_, path)) in trials.programs.iter().enumerate() {
            let output = Command::new(path).args(["--list", "--format", "terse"]).output();
            let output = String::from_utf8_lossy(&output.expect("a test program runs").stdout).into_owned();
            let names = output.lines().filter_map(|line| line.strip_suffix(": test"));
            listed.extend(names.map(|name| (number, name.to_string())));
        }
        eprintln!("  {} tests, each alone", listed.len());
        fs::create_dir_all(root.join("target")).expect("the copy is writable");
        let tests = parallel(&listed, |worker, (program, name)| trials.alone(worker, *program, name));
        trials.tests = tests.into_iter().flatten().collect();
        trials
    }

    fn alone(&self, worker: usize, program: usize, name: &str) -> Option<Test> {
        let reach = self.root.join(format!("target/reach-{worker}"));
        let _ = fs::remove_file(&reach);
        let mut command = self.command(program, &[name]);
        command.env("MUTANT_REACH", &reach);
        let begun = Instant::now();
        if !passes(&mut command, Duration::from_secs(600)) {
            eprintln!("  left out, for it fails without a fault: {} {name}", self.programs[program].0);
            return None;
        }
        let takes = begun.elapsed();
        let reached = fs::read_to_string(&reach).unwrap_or_default();
        let reaches = reached.lines().filter_map(|line| line.parse().ok()).collect();
        Some(Test { program, name: name.to_string(), takes, reaches })
    }

    /// Runs some tests of one program.
    fn command(&self, program: usize, names: &[&str]) -> Command {
        let mut command = Command::new("sh");
        command.args(["-c", &format!("ulimit -v {MEMORY}; exec nice -n 19 \"$@\""), "sh"]);
        command.arg(&self.programs[program].1).args(["--exact", "--test-threads=1"]).args(names);
        command.current_dir(&self.root).process_group(0);
        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        command.env("CARGO_MANIFEST_DIR", &self.root).env("HOME", self.root.join("target"));
        command.env("PROPTEST_RNG_SEED", "1").env("PROPTEST_MAX_SHRINK_ITERS", "0");
        command.env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1").env("RUST_BACKTRACE", "0");
        command
    }

    /// The name of the program and test that notices a fault, if any does.
    ///
    /// Tests beside the code come first, then the quickest; no more than `limit` of tests run.
    pub fn noticed(&self, mutant: usize, module: &str, limit: Duration) -> Option<String> {
        let mut tests: Vec<&Test> = self.tests.iter().filter(|test| test.reaches.contains(&mutant)).collect();
        tests.sort_by_key(|test| (!test.name.starts_with(module), test.takes));
        let mut spent = Duration::ZERO;
        let mut allowed = Duration::from_millis(100);
        while !tests.is_empty() && spent < limit {
            let program = tests[0].program;
            let mut batch: Vec<&Test> = Vec::new();
            let mut takes = Duration::ZERO;
            tests.retain(|test| {
                let fits = test.program == program && (batch.is_empty() || takes + test.takes <= allowed);
                if fits {
                    batch.push(test);
                    takes += test.takes;
                }
                !fits
            });
            let names: Vec<&str> = batch.iter().map(|test| test.name.as_str()).collect();
            let mut command = self.command(program, &names);
            command.env("MUTANT", mutant.to_string());
            if !passes(&mut command, Duration::from_secs(5) + takes * TIMES) {
                return Some(format!("{} {}", self.programs[program].0, names.join(" ")));
            }
            spent += takes;
            allowed *= 2;
        }
        None
    }
}

/// Whether a command ends well and in time.
fn passes(command: &mut Command, limit: Duration) -> bool {
    let mut child = command.spawn().expect("sh runs");
    let end = Instant::now() + limit;
    let mut pause = Duration::from_millis(1);
    loop {
        if let Some(status) = child.try_wait().expect("a child can be waited for") {
            return status.success();
        }
        if Instant::now() > end {
            stop(&mut child);
            return false;
        }
        std::thread::sleep(pause);
        pause = (pause * 2).min(Duration::from_millis(20));
    }
}

/// Ends a child and all it started, which share its process group.
fn stop(child: &mut Child) {
    let _ = Command::new("kill").args(["-9", "--", &format!("-{}", child.id())]).status();
    let _ = child.kill();
    let _ = child.wait();
}

/// Works through a list with all workers; results stay in order.
pub fn parallel<I: Sync, O: Send>(items: &[I], work: impl Fn(usize, &I) -> O + Sync) -> Vec<O> {
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        for worker in 0..WORKERS {
            let (next, done, work) = (&next, &done, &work);
            scope.spawn(move || {
                while let Some(at) = Some(next.fetch_add(1, Ordering::Relaxed)).filter(|at| *at < items.len())
                {
                    let result = work(worker, &items[at]);
                    done.lock().expect("no worker panics").push((at, result));
                }
            });
        }
    });
    let mut done = done.into_inner().expect("no worker panics");
    done.sort_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, result)| result).collect()
}
