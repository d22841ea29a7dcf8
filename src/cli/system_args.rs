//! The arguments of `system`.

use std::path::PathBuf;

use clap::Subcommand;

use crate::app::InstallationOrder;

pub(super) const SYSTEM_EXAMPLES: &str = "Examples:
  tankhand system setup
  tankhand system set switch.cut_in '38 psi'
  tankhand system set tank.precharge '34 psi' --tank green
  tankhand system set gauge.line.division '1 psi'
  tankhand system unset relief.setting";

/// What is to be done with the installation.
#[derive(Debug, clap::Args)]
pub(super) struct SystemArgs {
    /// The system file, when another than your own is meant.
    #[arg(long, value_name = "FILE", global = true)]
    pub system: Option<PathBuf>,
    #[command(subcommand)]
    what: Option<SystemCommand>,
}

impl SystemArgs {
    /// The order as the use case takes it.
    pub fn order(&self) -> InstallationOrder<'_> {
        match &self.what {
            None => InstallationOrder::Show,
            Some(SystemCommand::Setup) => InstallationOrder::SetUp,
            Some(SystemCommand::Set { key, value, tank }) => {
                InstallationOrder::Set(key, Some(value), tank.as_deref())
            }
            Some(SystemCommand::Unset { key, tank }) => InstallationOrder::Set(key, None, tank.as_deref()),
        }
    }
}

#[derive(Debug, Subcommand)]
pub(super) enum SystemCommand {
    /// Asks for everything the file may say; Enter leaves a thing out or as it is.
    #[command(after_help = "Example: tankhand system setup")]
    Setup,
    /// Changes one thing; comments and order stay.
    #[command(after_help = "Example: tankhand system set pump.power '1/2 hp'")]
    Set {
        /// What, such as `switch.cut_in` or `tank.precharge`.
        key: String,
        /// The value with its unit; a bare number counts in the household's.
        #[arg(allow_hyphen_values = true)]
        value: String,
        /// The tank, by its id.
        #[arg(long, value_name = "ID")]
        tank: Option<String>,
    },
    /// Takes one thing out.
    #[command(after_help = "Example: tankhand system unset tank.precharge --tank green")]
    Unset {
        /// What, such as `switch.cut_in` or `tank.precharge`.
        key: String,
        /// The tank, by its id.
        #[arg(long, value_name = "ID")]
        tank: Option<String>,
    },
}
