//! What may be typed on the command line.

use std::path::PathBuf;

use clap::{Parser, Subcommand};

use crate::app::arguments::{ArgumentWords, FORMATS, one_of};
use crate::app::{
    Calculation, ExportOrder, InstallationOrder, LogbookTo, OutputForm, PlanCall, PracticeOrder,
    RecordFilter, RunOrder, SCHEMAS, SheetOrder, TrendCall,
};
use crate::console::ColourWish;

const EXIT_CODES: &str = "Exit codes: 0 all is well; 1 a check failed or the work stopped short; \
2 the call or a file is wrong; 3 the program or the machine failed.";

const CALC_EXAMPLES: &str = "Examples:
  tankhand calc 'drawdown(44 gal, 38 psi, 40 psi, 60 psi)'
  tankhand calc --explain 'drawdown(44 gal, 38 psi +- 1 psi, 40 psi, 60 psi)'";

const PLAN_EXAMPLES: &str = "Examples:
  tankhand plan --cut-in 45 --cut-out 65 --add-tank '34 gal' --serve 'bath +14 ft'
  tankhand plan --serve 'bath +14 ft' --want 'lowest 40 psi at bath' --want 'run time 60 s'
  tankhand plan --cut-in 50 --fill '40 to 45 psi in 21 s' --fill '50 to 55 psi in 30 s'";

const SYSTEM_EXAMPLES: &str = "Examples:
  tankhand system setup
  tankhand system set switch.cut_in '38 psi'
  tankhand system set tank.precharge '34 psi' --tank green
  tankhand system set gauge.line.division '1 psi'
  tankhand system unset relief.setting";

/// A hand at the pressure tank: guides checking, flushing, charging and recommissioning, does
/// the arithmetic, keeps the record.
#[derive(Debug, Parser)]
#[command(name = "tankhand", version, about, after_help = EXIT_CODES)]
pub(super) struct Args {
    /// Folder for records, the system file and your own procedures.
    #[arg(long, global = true, value_name = "FOLDER", env = "TANKHAND_HOME")]
    pub home: Option<PathBuf>,
    /// One line at a time, nothing moved or repainted, signs in words: for screen readers and simple terminals.
    #[arg(long, global = true)]
    pub plain: bool,
    /// Colour: on a terminal, always, or never.
    #[arg(long, global = true, value_name = "WHEN", value_parser = one_of(COLOURS), default_value = "auto")]
    pub color: ColourWish,
    #[command(subcommand)]
    pub command: Option<CliCommand>,
}

/// When to use colour.
const COLOURS: ArgumentWords<ColourWish> = &[
    ("auto", None, ColourWish::Auto),
    ("always", None, ColourWish::Always),
    ("never", None, ColourWish::Never),
];

#[derive(Debug, Subcommand)]
pub(super) enum CliCommand {
    /// Perform a procedure and keep its record.
    #[command(after_help = "Example: tankhand run flush --system well.toml --tank cellar")]
    Run(RunOrder),
    /// Practice a procedure at a simulated installation; nothing real is touched.
    #[command(after_help = "Example: tankhand practice flush --fault waterlogged")]
    Practice(PracticeOrder),
    /// Go on with an unfinished run.
    #[command(after_help = "Examples:\n  tankhand resume\n  tankhand resume flush")]
    Resume {
        /// The run's name, its procedure or its tank; not needed when only one waits.
        id: Option<String>,
        /// Play the answers of a script.
        #[arg(long, value_name = "FILE")]
        answers: Option<PathBuf>,
    },
    /// List the procedures; read one out; copy one to edit.
    #[command(after_help = "Example: tankhand procedures show flush")]
    Procedures {
        #[command(subcommand)]
        what: Option<ProceduresCommand>,
    },
    /// Write a procedure as a worksheet to fill in by hand, with tables made for your system.
    #[command(after_help = "Example: tankhand sheet flush --html flush.html\n\
Type it in afterwards: tankhand run flush --from-paper")]
    Sheet(SheetOrder),
    /// Prove procedure and system files sound before anyone stands at the tank.
    #[command(after_help = "Example: tankhand check my-flush.toml system.toml")]
    Check {
        /// The files.
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Pages for people, or JSON Lines for programs.
        #[arg(long, value_parser = one_of(FORMATS), default_value = "text")]
        format: OutputForm,
    },
    /// Tell about the procedure language, by topic or function.
    #[command(after_help = "Example: tankhand guide expressions")]
    Guide {
        /// A topic or the name of a function; left out, the topics are listed.
        topic: Option<String>,
    },
    /// Write the JSON Schema of procedure files, system files or records.
    #[command(after_help = "Example: tankhand schema procedure > procedure.schema.json")]
    Schema {
        /// What the schema is for.
        #[arg(value_parser = one_of(SCHEMAS))]
        of: fn() -> serde_json::Value,
    },
    /// Evaluate one expression of the procedure language.
    ///
    /// A value may have limits: 38 psi +- 1 psi. --explain tells how the result came about: the
    /// formulas, the numbers put in, and where the uncertainty comes from.
    #[command(after_help = CALC_EXAMPLES)]
    Calc(Calculation),
    /// Tell what would be with another switch setting or other tanks; search for what reaches a goal.
    #[command(after_help = PLAN_EXAMPLES)]
    Plan(Box<PlanCall>),
    /// Tell how a tank's air has gone over the years, and when to look again.
    #[command(after_help = "Example: tankhand trend cellar --band '3 psi' --html cellar.html")]
    Trend(TrendCall),
    /// Show your installation; set it up by questions; change one thing in its file.
    #[command(after_help = SYSTEM_EXAMPLES)]
    System {
        /// The system file, when another than your own is meant.
        #[arg(long, value_name = "FILE", global = true)]
        system: Option<PathBuf>,
        #[command(subcommand)]
        what: Option<InstallationOrder>,
    },
    /// Write the completions of a shell, to be put where it looks for them.
    #[command(after_help = "Examples:
  tankhand completions bash > ~/.local/share/bash-completion/completions/tankhand
  tankhand completions fish > ~/.config/fish/completions/tankhand.fish")]
    Completions {
        /// The shell.
        #[arg(value_enum)]
        shell: clap_complete::Shell,
    },
    /// Write the manual page, or those of all commands into a folder.
    #[command(after_help = "Examples:
  tankhand man | man -l -
  tankhand man --to ~/.local/share/man/man1")]
    Man {
        /// The folder to write a page of each command to; else the first page goes to the output.
        #[arg(long, value_name = "FOLDER")]
        to: Option<PathBuf>,
    },
    /// Show every tank there is a record of: how it was left, and what is due.
    #[command(after_help = "Example: tankhand logbook --html logbook.html --ics due.ics")]
    Logbook(LogbookTo),
    /// List the records; read one out; verify their seals; export them.
    #[command(after_help = "Example: tankhand records show 20310405-0901-flush")]
    #[command(args_conflicts_with_subcommands = true)]
    Records {
        #[command(flatten)]
        filter: RecordFilter,
        #[command(subcommand)]
        what: Option<RecordsCommand>,
    },
}

#[derive(Debug, Subcommand)]
pub(super) enum ProceduresCommand {
    /// Read a procedure out.
    #[command(after_help = "Example: tankhand procedures show flush")]
    Show {
        /// Its name, or the path of its file.
        name: String,
        /// Name the file and the line of each sentence, to find what to edit.
        #[arg(long = "where")]
        places: bool,
    },
    /// Copy a procedure or part to a new file, to edit it.
    #[command(after_help = "Example: tankhand procedures copy flush my-flush.toml")]
    Copy {
        /// Its name, such as flush or parts/drain.
        name: String,
        /// The new file; else NAME.toml here.
        to: Option<PathBuf>,
    },
}

#[derive(Debug, Subcommand)]
pub(super) enum RecordsCommand {
    /// Read a record out; what was withdrawn is struck through.
    #[command(after_help = "Example: tankhand records show 20310405-0901-flush")]
    Show {
        /// The run's name, or the path of its file.
        id: String,
    },
    /// Write a record's report, for a buyer, an inspector or the next owner.
    #[command(after_help = "Example: tankhand records report 20310405-0901-flush --html well.html")]
    Report {
        /// The run's name, or the path of its file.
        id: String,
        /// The HTML file to write, `-` for the output; else ID.html here.
        #[arg(long, value_name = "FILE")]
        html: Option<PathBuf>,
        /// As text, to the output: 80 columns, for a terminal or an e-mail.
        #[arg(long, conflicts_with = "html")]
        text: bool,
        /// What it comes to, in twenty lines of text.
        #[arg(long, conflicts_with_all = ["html", "text"])]
        brief: bool,
        /// Leave out place, names, marks and what people wrote; the page then holds no record.
        #[arg(long)]
        without_identity: bool,
    },
    /// Save what is whole of a damaged record in a new one; the damaged file stays as it is.
    #[command(after_help = "Example: tankhand records mend 20310405-0901-flush")]
    Mend {
        /// The run's name, or the path of its file.
        id: String,
    },
    /// Write a card to hang on the tank, 5 by 3 inches.
    #[command(after_help = "Example: tankhand records tag 20310405-0901-flush --html tag.html")]
    Tag {
        /// The run's name, or the path of its file.
        id: String,
        /// The HTML file to write, `-` for the output; without it the card is shown as text.
        #[arg(long, value_name = "FILE")]
        html: Option<PathBuf>,
        /// For a sheet of A6 (148 by 105 mm) in place of 5 by 3 inches.
        #[arg(long, requires = "html")]
        a6: bool,
    },
    /// Show two records side by side: what was found and left, and what was concluded.
    #[command(after_help = "Example: tankhand records compare 20310405-0901-flush 20320410-0900-yearly")]
    Compare {
        /// The earlier run's name, or the path of its file.
        first: String,
        /// The later run's.
        second: String,
        /// An HTML file to write the same to.
        #[arg(long, value_name = "FILE")]
        html: Option<PathBuf>,
    },
    /// Verify the seals of one record, or of all; of a report that holds its record, the page too.
    #[command(after_help = "Example: tankhand records verify")]
    Verify {
        /// The run's name, or the path of its file or of its report as HTML.
        id: Option<String>,
    },
    /// Write records for other programs: CSV, JSON Lines, or SQL.
    #[command(
        after_help = "Example: tankhand records export --format csv --since 2031-01-01 --to readings.csv"
    )]
    Export(ExportOrder),
}
