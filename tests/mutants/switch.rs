//! Which fault is in force: put into the copied tree by `tests/mutants`.

use std::cell::RefCell;
use std::io::Write;
use std::sync::atomic::{AtomicU32, Ordering};

const UNREAD: u32 = u32::MAX;
const REACH: u32 = u32::MAX - 1;
static ACTIVE: AtomicU32 = AtomicU32::new(UNREAD);

thread_local! {
    static REACHED: RefCell<Vec<bool>> = const { RefCell::new(Vec::new()) };
}

/// Whether fault `n` is in force.
#[inline]
pub fn is(n: u32) -> bool {
    let active = ACTIVE.load(Ordering::Relaxed);
    if active >= REACH { slow(n) } else { active == n }
}

#[cold]
fn slow(n: u32) -> bool {
    if ACTIVE.load(Ordering::Relaxed) == UNREAD {
        let named = from_environment("MUTANT").and_then(|text| text.parse().ok());
        let reach = from_environment("MUTANT_REACH").map(|_| REACH);
        ACTIVE.store(reach.or(named).unwrap_or(0), Ordering::Relaxed);
    }
    let active = ACTIVE.load(Ordering::Relaxed);
    if active == REACH {
        reached(n);
    }
    active == n
}

/// Notes once a thread that `n` was come by.
fn reached(n: u32) {
    let n = n as usize;
    let new = REACHED.try_with(|reached| {
        let mut reached = reached.borrow_mut();
        if reached.len() <= n {
            reached.resize(n + 1, false);
        }
        !std::mem::replace(&mut reached[n], true)
    });
    if new.unwrap_or(true) {
        let path = from_environment("MUTANT_REACH").unwrap();
        let mut file = std::fs::OpenOptions::new().append(true).create(true).open(path).unwrap();
        file.write_all(format!("{n}\n").as_bytes()).unwrap();
    }
}

/// What the environment says; tests start the program with an empty one, so that of who started it
/// is looked at too.
fn from_environment(name: &str) -> Option<String> {
    let of_parent = || {
        let path = format!("/proc/{}/environ", std::os::unix::process::parent_id());
        let text = String::from_utf8(std::fs::read(path).ok()?).ok()?;
        let found = text.split('\0').find_map(|line| line.strip_prefix(name)?.strip_prefix('='));
        found.map(str::to_string)
    };
    std::env::var(name).ok().or_else(of_parent)
}
