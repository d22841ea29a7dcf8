//! What the definitions of the command line are written as for others: completions and manual pages.

use std::io::Write;
use std::path::Path;

use clap::CommandFactory;
use clap_complete::Shell;

use super::args::Args;
use crate::app::{self, Done, Result};

/// The program's name, as it is called.
const NAME: &str = "tankhand";

/// Writes the completions of a shell.
pub(super) fn completions(shell: Shell, out: &mut dyn Write) -> Result<Done> {
    // Made whole first: whoever stops reading is no reason to panic.
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Args::command(), NAME, &mut script);
    out.write_all(&script)?;
    Ok(Done::Well)
}

/// Writes the manual page, or one of each command into a folder.
pub(super) fn manual(to: Option<&Path>, out: &mut dyn Write) -> Result<Done> {
    let mut command = Args::command().disable_help_subcommand(true);
    command.build();
    let Some(folder) = to else {
        out.write_all(&page(&command)?.1)?;
        return Ok(Done::Well);
    };
    let mut pages = Vec::new();
    each_page(&command, &mut pages)?;
    app::write_pages(folder, &pages, out)
}

/// The pages of a command and of those below it, each with the name of its file.
fn each_page(command: &clap::Command, pages: &mut Vec<(String, Vec<u8>)>) -> Result<()> {
    pages.push(page(command)?);
    command.get_subcommands().try_for_each(|below| each_page(below, pages))
}

fn page(command: &clap::Command) -> Result<(String, Vec<u8>)> {
    let (man, mut page) = (clap_mangen::Man::new(command.clone()), Vec::new());
    man.render(&mut page)?;
    // What stands below the options of a command is its examples; the page maker knows no name for that.
    let text = String::from_utf8_lossy(&page).replace("\n.SH EXTRA\n", "\n.SH EXAMPLES\n");
    Ok((man.get_filename(), text.into_bytes()))
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::process::{Command, Stdio};

    use super::*;

    /// Every command that does something, with the commands before it.
    fn commands(of: &clap::Command, path: &str, found: &mut Vec<(String, clap::Command)>) {
        for command in of.get_subcommands() {
            let path = format!("{path} {}", command.get_name());
            commands(command, &path, found);
            found.push((path, command.clone()));
        }
    }

    #[test]
    fn each_command_shows_an_example() {
        Args::command().debug_assert();
        let mut all = Vec::new();
        commands(&Args::command(), NAME, &mut all);
        for (path, command) in all {
            let help = command.get_after_help().map(ToString::to_string).unwrap_or_default();
            assert!(help.contains(&path), "{path}: no example, but `{help}`");
        }
    }

    /// Pages and completions name every command, and the programs that read them find nothing wrong.
    #[test]
    fn what_is_written_for_shells_and_man_can_be_installed() {
        let mut all = Vec::new();
        commands(&Args::command(), NAME, &mut all);
        let folder = tempfile::tempdir().unwrap();
        let mut printed = Vec::new();
        manual(Some(folder.path()), &mut printed).unwrap();
        assert_eq!(
            String::from_utf8(printed).unwrap(),
            format!("{} pages in {}\n", all.len() + 1, folder.path().display())
        );
        for shell in [Shell::Bash, Shell::Zsh, Shell::Fish, Shell::Elvish, Shell::PowerShell] {
            let mut script = Vec::new();
            completions(shell, &mut script).unwrap();
            let script = String::from_utf8(script).unwrap();
            let missing = all.iter().find(|(_, command)| !script.contains(command.get_name()));
            assert!(missing.is_none(), "{shell}: {missing:?}");
            fs::write(folder.path().join(shell.to_string()), script).unwrap();
        }
        let checks = [
            ("bash", vec!["-n", "bash"]),
            ("zsh", vec!["-n", "zsh"]),
            ("fish", vec!["--no-execute", "fish"]),
            (
                "groff",
                vec!["-man", "-Tutf8", "-ww", "-z", "tankhand.1", "tankhand-plan.1", "tankhand-system-set.1"],
            ),
        ];
        for (program, arguments) in checks {
            let run = Command::new(program)
                .args(arguments)
                .current_dir(folder.path())
                .stdin(Stdio::null())
                .output();
            let Ok(output) = run else { continue };
            assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
            assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{program}");
        }
    }
}
