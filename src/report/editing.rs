//! How to find and change a thing in a procedure, with the edits that owners make most.

use super::Page;

/// One edit, as a person makes it: it is shown by the guide and made by a test.
#[derive(Debug)]
pub struct OwnerEdit {
    /// What is wanted.
    pub wish: &'static str,
    /// The file that is copied, as `tankhand procedures copy` calls it; of a new file, its name.
    pub file: &'static str,
    /// What stands there; nothing where the whole file is new.
    pub find: &'static str,
    /// What stands there afterwards.
    pub write: &'static str,
    /// What follows, in a sentence.
    pub then: &'static str,
}

/// The edits that owners make most.
pub static EDITS: &[OwnerEdit] = &[
    OwnerEdit {
        wish: "A wider gap below cut-in",
        file: "parts/facts",
        find: "usual = \"2 psi\"\n",
        write: "usual = \"3 psi\"\n",
        then: "Every procedure that sets the precharge offers it; the target follows.",
    },
    OwnerEdit {
        wish: "Five readings of the precharge",
        file: "parts/read-precharge",
        find: "times = 3 ",
        write: "times = 5 ",
        then: "The mean, its uncertainty and the check that they agree follow by themselves.",
    },
    OwnerEdit {
        wish: "A reading more",
        file: "flush",
        find: "[[step]]\nuse = \"parts/close-record\"\n",
        write: r#"[[step]]
id = "behind_filter"
observes = "second_gauge"
label = "pressure behind the filter"
tells = "left"
read = "pressure"
gauge = "line"
ask = "What does the gauge behind the filter show?"
skip = true

[[step]]
use = "parts/close-record"
"#,
        then: "It stands in summary, report and export.",
    },
    OwnerEdit {
        wish: "A photo",
        file: "flush",
        find: "[[step]]\nuse = \"parts/first-look\"\n",
        write: r#"[[step]]
use = "parts/first-look"

[[step]]
id = "plate_photo"
observes = "marking"
label = "photo of the plate"
tells = "found"
write = "file"
ask = "Take a photo of the tank's plate. Which file is it?"
skip = true
"#,
        then: "The record keeps the file's name.",
    },
    OwnerEdit {
        wish: "A test left out",
        file: "flush",
        find: "format  = 1\n",
        write: "format  = 1\nleave_out = [\"drawdown-test\"]\n",
        then: "What rests on it is not known, and says so. What others need cannot be left out: `check` says who does.",
    },
    OwnerEdit {
        wish: "A limit of your own",
        file: "parts/watch-cycle",
        find: "# 80 psi: UPC",
        write: r#"[[step]]
id = "below_my_limit"
label = "cut-out below what the old pipes take"
check = "cut_out <= 65 psi"
fail = "{cut_out} cut-out is above {65 psi}, the most for the old pipes in the barn."

# 80 psi: UPC"#,
        then: "The report counts it among the checks.",
    },
    OwnerEdit {
        wish: "A warning in your own words",
        file: "parts/pump-off",
        find: "do = \"Wait until the needle is still",
        write: "do = \"The floor at our panel is often wet: rubber boots on. Wait until the needle is still",
        then: "The message of a hazard comes with the program, and no file changes it; yours stands beside it.",
    },
    OwnerEdit {
        wish: "Another way in a choice",
        file: "commission",
        find: "  { value = \"other\", label = \"other work\" },\n",
        write: "  { value = \"pipe\", label = \"a pipe or valve was changed\" },\n  { value = \"other\", label = \"other work\" },\n",
        then: "Where steps ask for the words of a choice, `check` wants one that asks for the new word, too.",
    },
    OwnerEdit {
        wish: "A short procedure from nothing",
        file: "look.toml",
        find: "",
        write: r#"format = 1
title = "Look at the tank"
purpose = "A quick look at pressure and joints, without opening anything."

[[step]]
id = "pressure_now"
observes = "line_pressure"
tells = "found"
read = "pressure"
gauge = "line"
ask = "What does the pressure gauge show?"

[[step]]
id = "joints_now"
observes = "joints"
tells = "found"
choose = ["dry", "wet"]
ask = "Feel the joints at the tank. Are they dry?"

[[step]]
conclude = "a joint is wet"
when = "joints_now == 'wet'"
grade = "attention"
says = "A joint at the tank is wet, at {pressure_now}."
next = "Have it tightened, and look again in a week."
again = "7 day"
rests_on = ["joints_now"]
"#,
        then: "Run it as `tankhand run look.toml`.",
    },
    OwnerEdit {
        wish: "Two tanks of unequal height, in metric",
        file: "system.toml",
        find: "",
        write: r#"format = 1
name = "Larch Farm (invented)"
units = "metric"
elevation = "350 m"

[switch]
cut_in = "2.8 bar"
cut_out = "4.1 bar"
lever = false

[[tank]]
id = "cellar"
kind = "diaphragm"
volume = "200 L"
limit = "10 bar"

[[tank]]
id = "loft"
kind = "diaphragm"
volume = "80 L"
limit = "10 bar"
height = "4.5 m"
"#,
        then: "Put it into the program's folder, or name it with `--system`.",
    },
];

/// What is done, one thing after the other.
const STEPS: &[&str] = &[
    "Find it: `tankhand procedures show flush --where` names the file and the line of each sentence.",
    "Copy that file: `tankhand procedures copy flush`, or `copy parts/drain`. The shipped file stays as it is.",
    "Change the copy with an editor that writes plain text.",
    "`tankhand check flush.toml` says what is wrong and what to write; then what is less safe than in the shipped \
     file, what else is otherwise, and what will use the file from where it lies.",
    "Put it where `check` says: beside your system file, in the folder `procedures`, a part in `procedures/parts`. \
     There it goes before the shipped one of its name, and every run says so.",
];

/// How to find and change a thing.
pub(super) fn editing_page() -> Page {
    let mut page = Page::titled("Editing");
    page.headed_list("Step by step", STEPS.iter().copied());
    page.texts([
        "A shipped step that you keep needs what it needs there. If you know better, write why: \
         `without = { need = \"drained\", because = \"…\" }`. The run, the record and the report say so. A hazard that a \
         shipped file warns of stays. A state such as `pump_off` counts only where a step shows it.",
        "An editor that knows TOML schemas completes keys and marks wrong ones: `tankhand schema procedure > \
         procedure.schema.json`, and as the first line of your file `#:schema ./procedure.schema.json`. For a system \
         file it is `schema system`.",
    ]);
    EDITS.iter().for_each(|edit| put_edit(edit, &mut page));
    let rows = [
        ["every key and verb", "tankhand guide files, tankhand guide steps"],
        ["every key of the system file", "tankhand guide installation"],
        ["what answers are of, and gauges", "tankhand guide observables"],
        ["what can hurt", "tankhand guide hazards"],
    ];
    page.headed_table("More", &["To see", "Type"], rows);
    page
}

fn put_edit(edit: &OwnerEdit, page: &mut Page) {
    page.heading(edit.wish);
    if edit.find.is_empty() {
        page.text(format!("A new file, {}:", edit.file));
    } else {
        page.text(format!("In a copy of {}, change", edit.file));
        page.listing(edit.find.trim_end());
        page.text("to");
    }
    page.listing(edit.write.trim_end());
    page.text(edit.then);
}
