//! A program under a pseudo-terminal, and the screen it paints, for tests.
//!
//! Rules that keep such tests steady: the size is set before the program starts; the environment
//! is fixed; wait for a text on the screen, then send; every wait has a limit, and when it is
//! reached the message shows the screen.

#![allow(dead_code, unsafe_code, clippy::unwrap_used)]

use std::ffi::OsString;
use std::fs::File;
use std::io::{Read, Write};
use std::os::fd::OwnedFd;
use std::os::unix::process::CommandExt;
use std::process::{Child, Command, ExitStatus};
use std::time::{Duration, Instant};

use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::fs::{Mode, OFlags, open};
use rustix::process::{Pid, Signal, ioctl_tiocsctty, kill_process, setsid};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use rustix::termios::{LocalModes, Winsize, tcgetattr, tcsetwinsize};

/// How long the program may take for one thing.
const LIMIT: Duration = Duration::from_secs(30);

/// A running program and its terminal.
pub struct Pty {
    terminal: File,
    /// Held open so that the terminal's state can be looked at after the program has ended.
    _own_end: OwnedFd,
    child: Child,
    parser: vt100::Parser,
}

/// Starts a program on a terminal of its own.
pub fn spawn(command: Command, rows: u16, columns: u16) -> Pty {
    spawn_with_keys(command, rows, columns, "")
}

/// Starts a program on a terminal where something was typed already.
pub fn spawn_with_keys(mut command: Command, rows: u16, columns: u16, keys: &str) -> Pty {
    let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).unwrap();
    grantpt(&master).unwrap();
    unlockpt(&master).unwrap();
    let name = ptsname(&master, Vec::new()).unwrap();
    let own_end = open(name.as_c_str(), OFlags::RDWR | OFlags::NOCTTY, Mode::empty()).unwrap();
    tcsetwinsize(&own_end, size(rows, columns)).unwrap();
    let mut terminal = File::from(master);
    type_and_see(&mut terminal, keys);
    fix_environment(&mut command);
    let end = || own_end.try_clone().unwrap();
    command.stdin(end()).stdout(end()).stderr(end());
    // Safety: both calls are async-signal-safe and touch nothing of the parent's.
    unsafe {
        command.pre_exec(|| {
            setsid()?;
            ioctl_tiocsctty(std::io::stdin())?;
            Ok(())
        });
    }
    let child = command.spawn().unwrap();
    let parser = vt100::Parser::new(rows.try_into().unwrap(), columns.try_into().unwrap(), 0);
    Pty { terminal, _own_end: own_end, child, parser }
}

/// Sets what is not set for this program on purpose.
fn fix_environment(command: &mut Command) {
    let own: Vec<OsString> = command.get_envs().map(|(name, _)| name.to_owned()).collect();
    let is_own = |name: &str| own.iter().any(|other| other == name);
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS", "LC_ALL", "LC_CTYPE", "COLORTERM"] {
        if !is_own(name) {
            command.env_remove(name);
        }
    }
    for (name, value) in [("TERM", "xterm-256color"), ("LANG", "C.UTF-8")] {
        if !is_own(name) {
            command.env(name, value);
        }
    }
}

/// Types and waits for the echo, which proves that the keys lie ready.
fn type_and_see(terminal: &mut File, keys: &str) {
    terminal.write_all(keys.as_bytes()).unwrap();
    let mut echo = vec![0; keys.len()];
    terminal.read_exact(&mut echo).unwrap();
}

fn size(rows: u16, columns: u16) -> Winsize {
    Winsize { ws_row: rows, ws_col: columns, ws_xpixel: 0, ws_ypixel: 0 }
}

impl Pty {
    /// Types text or keys; `\r` is Enter, `\x1b[B` the down arrow, `\x03` Ctrl-C.
    pub fn send(&mut self, keys: &str) {
        self.terminal.write_all(keys.as_bytes()).unwrap();
    }

    /// Sends the program a signal, once it sits and waits.
    pub fn signal(&mut self, signal: Signal) {
        self.wait_idle();
        kill_process(Pid::from_child(&self.child), signal).unwrap();
    }

    /// Waits until the program is stopped.
    pub fn wait_stopped(&mut self) {
        let began = Instant::now();
        while self.state() != Some('T') {
            self.take_in(Duration::from_millis(20));
            assert!(began.elapsed() < LIMIT, "the program is never stopped; the screen:\n{}", self.screen());
        }
        while self.take_in(Duration::ZERO) {}
    }

    /// Lets a stopped program go on.
    pub fn go_on(&mut self) {
        kill_process(Pid::from_child(&self.child), Signal::CONT).unwrap();
    }

    /// Begins with an empty screen.
    pub fn forget_screen(&mut self) {
        self.parser.process(b"\x1b[2J\x1b[H");
    }

    /// The program's state, as the system tells it.
    fn state(&self) -> Option<char> {
        let stat = std::fs::read_to_string(format!("/proc/{}/stat", self.child.id())).unwrap();
        stat.rsplit(')').next().unwrap().trim_start().chars().next()
    }

    /// Waits until a text is on the screen.
    pub fn wait_for(&mut self, text: &str) {
        self.wait_until(&format!("`{text}`"), |screen| screen.contains(text));
    }

    /// Waits until the screen is as wanted; `what` says what was wanted.
    pub fn wait_until(&mut self, what: &str, wanted: impl Fn(&str) -> bool) {
        let began = Instant::now();
        while !wanted(&self.screen()) {
            let ended = !self.take_in(Duration::from_millis(50)) && self.child.try_wait().unwrap().is_some();
            if ended && !self.take_in(Duration::ZERO) || began.elapsed() > LIMIT {
                assert!(wanted(&self.screen()), "{what} did not come; the screen:\n{}", self.screen());
            }
        }
    }

    /// Waits until the program has written all it has to write and sleeps.
    pub fn wait_idle(&mut self) {
        let began = Instant::now();
        loop {
            let wrote = self.take_in(Duration::from_millis(20));
            if !wrote && self.state() == Some('S') {
                return;
            }
            assert!(began.elapsed() < LIMIT, "the program is never idle; the screen:\n{}", self.screen());
        }
    }

    /// Takes in what the program wrote; whether there was anything.
    fn take_in(&mut self, within: Duration) -> bool {
        let mut fds = [PollFd::new(&self.terminal, PollFlags::IN)];
        let limit = Timespec::try_from(within).unwrap();
        if poll(&mut fds, Some(&limit)).unwrap_or(0) == 0 {
            return false;
        }
        let mut bytes = [0; 4096];
        match self.terminal.read(&mut bytes) {
            Ok(count) => {
                self.parser.process(&bytes[..count]);
                count > 0
            }
            Err(_) => false,
        }
    }

    /// Lets time pass in which the program goes on unwatched.
    pub fn let_pass(&self, span: Duration) {
        let mut nothing = [PollFd::new(&self.terminal, PollFlags::empty())];
        poll(&mut nothing, Some(&Timespec::try_from(span).unwrap())).unwrap();
    }

    /// The text on the screen, without spaces at line ends and empty lines at the end.
    pub fn screen(&self) -> String {
        let contents = self.parser.screen().contents();
        let lines: Vec<&str> = contents.lines().map(str::trim_end).collect();
        lines.join("\n").trim_end().to_string()
    }

    /// Whether any character on the screen has a colour or an emphasis.
    pub fn has_colour(&self) -> bool {
        let screen = self.parser.screen();
        let (rows, columns) = (screen.size().0.get(), screen.size().1.get());
        let places = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
        let coloured =
            |cell: &vt100::Cell| cell.fgcolor() != vt100::Color::Default || cell.bold() || cell.dim();
        places.filter_map(|(row, column)| screen.cell(row, column)).any(coloured)
    }

    /// Whether the cursor is hidden.
    pub fn cursor_hidden(&self) -> bool {
        self.parser.screen().hide_cursor()
    }

    /// Whether the terminal edits lines, echoes, and makes signals of Ctrl-C, as a shell wants it.
    pub fn is_sane(&self) -> bool {
        let wanted = LocalModes::ICANON | LocalModes::ECHO | LocalModes::ISIG;
        tcgetattr(&self.terminal).unwrap().local_modes.contains(wanted)
    }

    /// Makes the window another size; the program is told as usual.
    pub fn resize(&mut self, rows: u16, columns: u16) {
        tcsetwinsize(&self.terminal, size(rows, columns)).unwrap();
        self.parser.screen_mut().set_size(rows.try_into().unwrap(), columns.try_into().unwrap());
    }

    /// Waits for the program to end and takes in the last it wrote.
    pub fn wait_exit(&mut self) -> ExitStatus {
        let began = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                while self.take_in(Duration::ZERO) {}
                return status;
            }
            self.take_in(Duration::from_millis(20));
            assert!(began.elapsed() < LIMIT, "the program did not end; the screen:\n{}", self.screen());
        }
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
