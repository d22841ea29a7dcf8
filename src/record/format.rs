//! The keys and words of the format, told one by one; tests hold that a record has these and no
//! others.

/// One key of a record's file.
#[derive(Clone, Copy, Debug)]
pub struct FormatKey {
    /// The key.
    pub name: &'static str,
    /// What stands there, in the words of TOML.
    pub takes: &'static str,
    /// What it tells.
    pub means: &'static str,
}

const fn key(name: &'static str, takes: &'static str, means: &'static str) -> FormatKey {
    FormatKey { name, takes, means }
}

/// The keys at the top of a record, in their order.
pub const HEAD_KEYS: &[FormatKey] = &[
    key("format", "integer", "the number of the format: 1; always the first key"),
    key("program", "string", "the program that wrote it, with its version; always the second key"),
    key("id", "string", "the run's name, and the file's without .toml"),
    key("procedure", "string", "the procedure's name"),
    key("title", "string", "the procedure's title"),
    key("started", "date-time", "when the run began, with the offset from UTC"),
    key("units", "string", "the units the household reads: us or metric"),
    key("site", "string", "the installation's name, when there was a system file that has one"),
    key("tank", "string", "the tank worked on, when one was named"),
    key("tanks", "array of strings", "the tanks that are taken one by one, when there are; instead of tank"),
    key("demo", "boolean", "true when installation and readings are invented; else left out"),
    key(
        "practice",
        "string",
        "of a practice at a simulated installation: the name of what is wrong there; else left out",
    ),
    key("seed", "integer", "of a practice: the number that the installation was drawn from"),
    key("transcribed", "date-time", "when it was typed in from a sheet filled in by hand; else left out"),
    key(
        "without",
        "array of strings",
        "needs of shipped steps that the owner's files leave out, each with its reason; else left out",
    ),
    key(
        "mended",
        "string",
        "the name of the damaged record of whose whole parts this one was made; else left out",
    ),
    key("lost", "array of integers", "of a mended record: the numbers of the entries that were not whole"),
    key(
        "head_lost",
        "boolean",
        "of a mended record: whether the head is what could be read of a damaged one",
    ),
    key("text", "array of tables", "the files the run was made with, each word for word"),
    key("sealed", "table", "holds nothing but the seal of the head"),
];

/// The keys of a `[[text]]`.
pub const TEXT_KEYS: &[FormatKey] = &[
    key(
        "role",
        "string",
        "what it was for: procedure, part, own-procedure and own-part (the owner's own) or system",
    ),
    key("name", "string", "the name the file had"),
    key("sha256", "string", "the SHA-256 of the text's bytes, in hexadecimal digits"),
    key("text", "string", "the whole text"),
];

/// The keys of an `[[entry]]`, in their order; one that has nothing to tell is left out.
pub const ENTRY_KEYS: &[FormatKey] = &[
    key("n", "integer", "its number: 1, 2, 3 ..."),
    key("kind", "string", "what it tells of; the words stand below"),
    key("step", "string", "the id of the step or fact in the procedure"),
    key("round", "array of integers", "in which round of each loop around the step, outermost first, from 1"),
    key("take", "integer", "which of several readings at one step, from 1"),
    key("tank", "string", "which tank it is about, where tanks are taken one by one"),
    key("at", "date-time", "when"),
    key("boot", "string", "of a wait's beginning: names the machine's start that boot_clock counts from"),
    key(
        "boot_clock",
        "float",
        "of a wait's beginning: seconds since that start, whatever its clock was set to",
    ),
    key("observes", "string", "what it is of, as the table of observables calls it"),
    key("phase", "string", "of which phase it tells: before (an earlier visit), found, done or left"),
    key(
        "provenance",
        "string",
        "where the value comes from: measured, chosen, told, recalled or assumed; of a value that was worked out, the least trusted of what went in",
    ),
    key("warned", "array of strings", "what the person was warned of before it, word for word"),
    key("asked", "string", "the question as it was put; of a check what was checked"),
    key("given", "string", "the answer as it was typed"),
    key("value", "float", "the number, in the unit"),
    key("unit", "string", "the unit's symbol; left out for plain numbers"),
    key(
        "uncertainty",
        "float",
        "standard uncertainty of the value, in the same unit; wider where few readings tell it, so that twice it holds 95 %",
    ),
    key("gauge", "string", "the gauge it was read from"),
    key("verdict", "string", "of a check: pass, fail or can't tell"),
    key(
        "truth",
        "table",
        "of a check: best, whether it holds by best estimate; least and most, the bounds of its probability",
    ),
    key("reason", "string", "why a step was skipped or a value is not known; the words of a remark"),
    key(
        "replaces",
        "integer",
        "the number of the entry this one replaces or takes back, which no longer counts",
    ),
    key("said", "string", "what the program told the person"),
    key("grade", "string", "of a finding: good, note, attention, act or stop"),
    key("next", "string", "of a finding: what to do next"),
    key("for_now", "string", "of a finding: what to do for now about the tank: accept, leave, set or see-to"),
    key("due", "date-time", "of a finding: by when"),
    key("rests_on", "array of strings", "of a finding: the steps it rests on"),
    key("seal", "string", "the SHA-256 of the bytes from the line of the seal before up to this line"),
];

/// The keys of the `[result]`, which stands at the end when the run is closed.
pub const RESULT_KEYS: &[FormatKey] = &[
    key(
        "outcome",
        "string",
        "completed; failed: a verdict against the tank; unfinished: the work stopped early",
    ),
    key("at", "date-time", "when"),
    key("words", "string", "the verdict in words"),
    key("grade", "string", "the worst grade of what was found; left out where nothing was concluded"),
    key(
        "found",
        "array of strings",
        "what weighs worst, by its names; left out where nothing is worse than good",
    ),
    key("seal", "string", "as of an entry"),
];
