//! How a command ends: the one place that knows exit codes.

use std::fmt::Display;
use std::io;
use std::path::Path;

use thiserror::Error;

use crate::console::Ended;
use crate::record::{RecordFault, Trouble};
use crate::source::Fault;
use crate::words::{did_you_mean, path_shown};

/// A command that did its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Done {
    /// All is well: exit 0.
    Well,
    /// A check failed, or the work stopped short: exit 1.
    Short,
}

/// A command that could not do its work.
#[derive(Debug, Error)]
pub enum Failure {
    /// Faults of a file: exit 2.
    #[error("{}", headings(.0))]
    Faults(Vec<Fault>),
    /// The call is wrong: exit 2.
    #[error("{0}")]
    Call(String),
    /// The program or the machine failed: exit 3.
    #[error("{0}")]
    Machine(String),
    /// Faults that were told already: exit 2.
    #[error("")]
    Reported,
    /// Whoever reads the output has gone: exit 0, in silence.
    #[error("")]
    NobodyReads,
}

/// What a use case gives, or why it came to nothing.
pub type Result<T, E = Failure> = std::result::Result<T, E>;

impl Failure {
    /// The exit code.
    pub fn code(&self) -> u8 {
        match self {
            Failure::Faults(_) | Failure::Call(_) | Failure::Reported => 2,
            Failure::Machine(_) => 3,
            Failure::NobodyReads => 0,
        }
    }
}

impl Failure {
    /// That there is nothing of that name, and what might have been meant.
    pub(super) fn unknown<S: AsRef<str>>(
        there_is_none: &str,
        name: &str,
        known: impl IntoIterator<Item = S>,
    ) -> Failure {
        let remedy = did_you_mean(name, known);
        Failure::Call(format!("{there_is_none} `{}`: {remedy}", name.escape_debug()))
    }

    /// What is wrong about a file.
    pub(super) fn about(path: &Path, why: impl Display) -> Failure {
        Failure::Call(format!("{}: {why}", path_shown(path)))
    }

    /// That no answer came is no failure where the person left.
    ///
    /// # Errors
    /// When a script did not fit, or the terminal or pipe failed.
    pub(crate) fn unless_left(ended: Ended) -> Result<()> {
        match ended {
            Ended::Interrupted | Ended::NoMoreInput => Ok(()),
            Ended::Script(fault) => Err(Failure::Faults(vec![*fault])),
            Ended::Io(error) => Err(error.into()),
        }
    }
}

/// One line a fault.
fn headings(faults: &[Fault]) -> String {
    faults.iter().map(|fault| fault.heading() + "\n").collect()
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Failure {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Failure::NobodyReads,
            _ => Failure::Machine(format!("writing or reading failed: {error}")),
        }
    }
}

impl From<Vec<Fault>> for Failure {
    fn from(faults: Vec<Fault>) -> Failure {
        Failure::Faults(faults)
    }
}

impl From<RecordFault> for Failure {
    fn from(fault: RecordFault) -> Failure {
        match fault.trouble {
            Trouble::Io { .. } | Trouble::Lost { .. } | Trouble::Displaced { .. } => {
                Failure::Machine(fault.to_string())
            }
            _ => Failure::Call(fault.to_string()),
        }
    }
}
