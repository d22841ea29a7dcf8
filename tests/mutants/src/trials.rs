//! Runs tests: first each alone, to see which faults it comes by; then with each fault those that do.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, SystemTime};

use serde::{Deserialize, Serialize};
use wait4::Wait4;

/// How many tests run at the same time.
const WORKERS: usize = 2;
/// How many times a test may take what it takes without a fault. Times are the processor's, not the
/// clock's: a busy machine makes no test notice anything.
const TIMES: u32 = 10;
/// What it may take besides.
const AT_LEAST: Duration = Duration::from_secs(2);
/// A test that takes longer is left out.
const SLOWEST: Duration = Duration::from_secs(20);
/// How much longer a test takes at most that notes what it comes by, and one so brief that it matters not.
const NOTING: u32 = 3;
const BRIEF: Duration = Duration::from_millis(200);
/// A test that waits this long by the clock waits for something that does not come; seconds.
const STUCK: &str = "240";
/// Memory a test may have; KiB.
const MEMORY: &str = "6000000";

/// One test.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Test {
    /// Which program it is in.
    pub program: usize,
    /// Its name there.
    pub name: String,
    /// What it takes of a processor without a fault.
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
    /// How often a test has noticed a fault of a module, by module and the test's number.
    noticed: Mutex<BTreeMap<(String, usize), u32>>,
    /// Which tests have not noticed a fault, by its number.
    passed: Mutex<BTreeMap<usize, BTreeSet<usize>>>,
}

impl Trials {
    /// Lists the tests and runs each alone, but for those of programs measured before.
    pub fn measure(root: &Path, programs: Vec<(String, PathBuf)>) -> Trials {
        fs::create_dir_all(root.join("target")).expect("the copy is writable");
        let (noticed, passed) = (Mutex::default(), Mutex::default());
        let mut trials = Trials { root: root.to_path_buf(), programs, tests: Vec::new(), noticed, passed };
        let notes = root.with_file_name("measured.json");
        let text = fs::read_to_string(&notes).unwrap_or_default();
        let mut known: BTreeMap<String, Vec<Test>> = serde_json::from_str(&text).unwrap_or_default();
        let mut all = BTreeMap::new();
        for (number, (name, path)) in trials.programs.iter().enumerate() {
            let data = newest(&root.join("tests").join(name));
            let built = fs::metadata(path).and_then(|data| data.modified()).ok();
            let key = format!("{} {:?}", path.display(), built.max(data));
            let tests = known.remove(&key).unwrap_or_else(|| {
                let listed = listed(path);
                eprintln!("  {name}: {} tests, each alone", listed.len());
                let tests = parallel(&listed, |worker, test| trials.alone(worker, number, test));
                tests.into_iter().flatten().collect()
            });
            all.insert(
                key,
                tests.into_iter().map(|test| Test { program: number, ..test }).collect::<Vec<_>>(),
            );
        }
        fs::write(&notes, serde_json::to_string(&all).expect("a map is JSON")).expect("notes are written");
        trials.tests = all.into_values().flatten().collect();
        trials
    }

    fn alone(&self, worker: usize, program: usize, name: &str) -> Option<Test> {
        let reach = self.root.join(format!("target/reach-{worker}"));
        let _ = fs::remove_file(&reach);
        // Noting what it comes by takes several times what the test itself does.
        let mut noted = self.command(program, &[name], NOTING * SLOWEST);
        noted.env("MUTANT_REACH", &reach);
        let takes = passes(&mut noted).and_then(|takes| match takes > BRIEF {
            true => passes(&mut self.command(program, &[name], SLOWEST)),
            false => Some(takes),
        });
        let Some(takes) = takes else {
            eprintln!(
                "  left out, for it fails without a fault or takes too long: {} {name}",
                self.programs[program].0
            );
            return None;
        };
        if takes > Duration::from_secs(3) {
            eprintln!("  slow: {} {name}: {takes:.0?}", self.programs[program].0);
        }
        let reached = fs::read_to_string(&reach).unwrap_or_default();
        let reaches = reached.lines().filter_map(|line| line.parse().ok()).collect();
        Some(Test { program, name: name.to_string(), takes, reaches })
    }

    /// Runs some tests of one program, for no longer than `limit`.
    fn command(&self, program: usize, names: &[&str], limit: Duration) -> Command {
        let mut command = Command::new("sh");
        let seconds = limit.as_secs() + 1;
        let limits = format!("ulimit -v {MEMORY}; ulimit -t {seconds}");
        let script = format!("{limits}; exec nice -n 19 timeout -s KILL {STUCK} \"$@\"");
        command.args(["-c", &script, "sh"]);
        command.arg(&self.programs[program].1).args(["--exact", "--test-threads=1"]).args(names);
        command.current_dir(&self.root);
        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        command.env("CARGO_MANIFEST_DIR", &self.root).env("HOME", self.root.join("target"));
        // Fewer cases than usual: what these notice, more would notice too.
        command
            .env("PROPTEST_RNG_SEED", "1")
            .env("PROPTEST_CASES", "32")
            .env("PROPTEST_MAX_SHRINK_ITERS", "0");
        command.env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "1").env("RUST_BACKTRACE", "0");
        command
    }

    /// Whether a test notices a fault.
    ///
    /// Tests beside the code come first, then those that come by few faults, and so are about these,
    /// and have noticed most of this module for the time they take; no more than `limit` of tests run,
    /// and none that has not noticed it before.
    pub fn notices(&self, mutant: usize, module: &str, limit: Duration) -> bool {
        let mut left = self.in_order(mutant, module);
        let mut spent = Duration::ZERO;
        let mut allowed = Duration::from_millis(100);
        while !left.is_empty() && spent < limit {
            let program = self.tests[left[0]].program;
            let (mut batch, mut takes) = (Vec::new(), Duration::ZERO);
            left.retain(|&at| {
                let test = &self.tests[at];
                let fits = test.program == program && (batch.is_empty() || takes + test.takes <= allowed);
                if fits {
                    batch.push(at);
                    takes += test.takes;
                }
                !fits
            });
            let names: Vec<&str> = batch.iter().map(|&at| self.tests[at].name.as_str()).collect();
            let limit = AT_LEAST + takes * TIMES;
            let mut command = self.command(program, &names, limit);
            command.env("MUTANT", mutant.to_string());
            if passes(&mut command).is_none() {
                let mut noticed = self.noticed.lock().expect("no worker panics");
                batch.iter().for_each(|&at| *noticed.entry((module.to_string(), at)).or_default() += 1);
                return true;
            }
            self.passed.lock().expect("no worker panics").entry(mutant).or_default().extend(batch);
            spent += takes;
            allowed *= 2;
        }
        false
    }

    /// The tests that come by a fault, the most promising first.
    fn in_order(&self, mutant: usize, module: &str) -> Vec<usize> {
        let noticed = self.noticed.lock().expect("no worker panics");
        let passed = self.passed.lock().expect("no worker panics").get(&mutant).cloned().unwrap_or_default();
        let tests = self.tests.iter().enumerate();
        let tests = tests.filter(|(at, test)| test.reaches.contains(&mutant) && !passed.contains(at));
        let mut tests: Vec<(bool, Duration, usize)> = tests
            .map(|(at, test)| {
                let times = noticed.get(&(module.to_string(), at)).copied().unwrap_or(0);
                let about = u32::try_from(test.reaches.len()).unwrap_or(u32::MAX);
                (!test.name.starts_with(module), test.takes * about / (1 + 10 * times), at)
            })
            .collect();
        tests.sort_unstable();
        tests.into_iter().map(|(.., at)| at).collect()
    }
}

/// When the newest file below a folder was written.
fn newest(folder: &Path) -> Option<SystemTime> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let times = entries.filter_map(|entry| {
        let path = entry.path();
        if path.is_dir() { newest(&path) } else { entry.metadata().and_then(|data| data.modified()).ok() }
    });
    times.max()
}

/// The names of a program's tests.
fn listed(path: &Path) -> Vec<String> {
    let output = Command::new(path).args(["--list", "--format", "terse"]).output();
    let output = String::from_utf8_lossy(&output.expect("a test program runs").stdout).into_owned();
    output.lines().filter_map(|line| line.strip_suffix(": test")).map(str::to_string).collect()
}

/// What a command takes of a processor, if it ends well and in time.
fn passes(command: &mut Command) -> Option<Duration> {
    let mut child = command.spawn().expect("sh runs");
    let ended = child.wait4().expect("a child can be waited for");
    ended.status.success().then_some(ended.rusage.utime + ended.rusage.stime)
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
