//! Where things live on the machine.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;

use super::own_files::place_in;
use super::{Failure, Result};

/// The folder of the program's own files: records, the owner's system file and procedures.
#[derive(Clone, Debug)]
pub struct Home {
    folder: PathBuf,
}

impl Home {
    /// The folder named, else the one of this kind of system (`$XDG_DATA_HOME/tankhand`, mostly
    /// `~/.local/share/tankhand`).
    ///
    /// # Errors
    /// When no folder is named and the account has none.
    pub fn find(named: Option<&Path>) -> Result<Home> {
        if let Some(folder) = named {
            return Ok(Home { folder: folder.to_path_buf() });
        }
        match etcetera::choose_base_strategy() {
            Ok(strategy) => Ok(Home { folder: strategy.data_dir().join("tankhand") }),
            Err(_) => Err(Failure::Call(
                "There is no home folder to keep records in: name one with --home or TANKHAND_HOME.".into(),
            )),
        }
    }

    /// Where records of practice are kept, apart from those of real work.
    pub fn practice(&self) -> PathBuf {
        self.folder.join("practice")
    }

    /// Where records are kept.
    pub fn records(&self) -> PathBuf {
        self.folder.join("records")
    }

    /// Where the owner's own procedure or part of that name belongs.
    pub(super) fn own_file(&self, name: &str) -> PathBuf {
        place_in(&self.folder.join("procedures"), name)
    }

    /// The owner's system file, when no other is named.
    pub fn system_file(&self) -> PathBuf {
        self.folder.join("system.toml")
    }
}
