//! The arguments of `practice`.

use std::path::PathBuf;

use super::shared_args::UnitsArg;
use crate::app::PracticeOrder;

/// What is to be practiced.
#[derive(Debug, clap::Args)]
pub(super) struct PracticeArgs {
    /// A procedure's name, or the path of its file (ending in .toml).
    pub procedure: String,
    /// What is wrong at the installation; `none` for nothing. Without it chance decides.
    #[arg(long, value_name = "NAME")]
    pub fault: Option<String>,
    /// The number of the installation: the same number gives the same one.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(..=9_999_999_999))]
    pub seed: Option<u64>,
    /// Play the answers of a script: every question must be foreseen.
    #[arg(long, value_name = "FILE")]
    pub answers: Option<PathBuf>,
    /// Units to show and to take bare numbers in.
    #[arg(long, value_enum)]
    pub units: Option<UnitsArg>,
}

impl PracticeArgs {
    /// The same, as the use case takes it.
    pub fn order(&self) -> PracticeOrder<'_> {
        PracticeOrder {
            procedure: &self.procedure,
            fault: self.fault.as_deref(),
            seed: self.seed,
            units: self.units.map(Into::into),
        }
    }
}
