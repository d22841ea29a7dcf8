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
        let named = std::env::var("MUTANT").ok().and_then(|text| text.parse().ok());
        let reach = std::env::var_os("MUTANT_REACH").map(|_| REACH);
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
        let path = std::env::var_os("MUTANT_REACH").unwrap();
        let mut file = std::fs::OpenOptions::new().append(true).create(true).open(path).unwrap();
        file.write_all(format!("{n}\n").as_bytes()).unwrap();
    }
}
