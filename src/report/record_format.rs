//! The format of records on a page: enough for a stranger with a text editor, or with any
//! programming language, to read and to verify one.

use super::{Page, Row};
use crate::record::{ENTRY_KEYS, EntryKind, FormatKey, HEAD_KEYS, RESULT_KEYS, TEXT_KEYS};

/// A program that reads and verifies a record, run by a test.
const PROGRAM: &str = include_str!("../../tests/record/read_record.py");

/// How every seal is checked with what any shell has, run by a test.
pub const SHELL: &str = r#"from=0
grep -ab '^seal = ' record.toml | while IFS=: read before line; do
    sum=$(tail -c +$((from + 1)) record.toml | head -c $((before - from)) | sha256sum)
    from=$before
    [ "$line" = "seal = \"${sum%% *}\"" ] && echo holds || echo broken
done"#;

/// How a record is signed with OpenSSH, run by a test.
pub const SIGN: &str = "ssh-keygen -Y sign -f ~/.ssh/id_ed25519 -n tankhand-record record.toml";

/// How its signature is verified, run by a test.
pub const VERIFY_SIGNATURE: &str = "ssh-keygen -Y verify -f allowed_signers -I owner -n tankhand-record \\
    -s record.toml.sig < record.toml";

/// Everything there is to know about format 1.
///
/// ```
/// use tankhand::report::{record_format_page, to_text};
/// assert_eq!(to_text(&record_format_page(), 80)[0], "The format of records");
/// ```
pub fn record_format_page() -> Page {
    let mut page = Page::titled("The format of records");
    page.text(
        "A record is one file, UTF-8 text in TOML 1.0, named after its run. It is written as the run goes: the \
         head, then an entry for each thing that happened, each safe on the disk before the next question is put, \
         then the result. Nothing in it is ever changed. It is valid TOML at every moment, except where a write \
         was cut off at its end.",
    );
    page.headed_table("The head", HEAD, rows(HEAD_KEYS));
    page.headed_table("[[text]]: a file the run was made with", HEAD, rows(TEXT_KEYS));
    page.headed_table("[[entry]]: a thing that happened", HEAD, rows(ENTRY_KEYS));
    let kinds = EntryKind::all().map(|kind| [kind.word(), kind.means()]);
    page.headed_table("Kinds of entries", &["Kind", "Tells that"], kinds);
    page.headed_table("[result]: the end", HEAD, rows(RESULT_KEYS));
    counting(&mut page);
    seals(&mut page);
    page
}

const HEAD: &[&str] = &["Key", "Holds", "Tells"];

fn rows(keys: &[FormatKey]) -> Vec<Row> {
    keys.iter().map(|key| Row::new([key.name, key.takes, key.means])).collect()
}

fn counting(page: &mut Page) {
    page.heading("What counts");
    page.texts([
        "An answer is amended by an entry that names the earlier one in replaces; it is taken back by an entry of \
         kind withdrawn that does. The earlier one then no longer counts, nor do the entries of kind computed, \
         checked and stopped, and the facts and skips without a question, that stand between the two: they follow \
         from it. To take back an amendment does not bring the earlier answer back.",
        "A later version may write keys that are not told of here, and kinds: pass over them. A format with \
         another number may mean something else.",
        "A pressure is one above the air around (as gauges show it) or a difference of two; which one, says the \
         step in the kept procedure. An uncertainty is one standard deviation.",
    ]);
}

fn seals(page: &mut Page) {
    page.heading("Seals");
    page.texts([
        "A seal is the SHA-256, in hexadecimal digits, of the bytes from the beginning of the line of the seal before \
         (for the head's, from the beginning of the file) up to the line it stands on. The head has one below \
         [sealed], each entry and the result have theirs as the last key. Only seals stand on lines that begin with \
         seal = (where a kept text has such a line, its first letter is written \\u0073). A seal vouches for its own \
         block and for the seal before it: damage stays in its block, and every block that was changed is named. Bytes \
         after the last seal are the beginning of an entry whose write was cut off, or were added by other hands.",
        "tankhand records verify names each line where a seal fails. tankhand records mend FILE makes a new record of all \
         blocks whose seals hold; it says which entries are missing, in lost, and it is not gone on with.",
    ]);
    page.headed_list("What seals show, and what they cannot", vec![
        "A slip, a fault of the disk, a careless edit, a block taken out or put in: they show, with the place.".to_string(),
        "Whole blocks cut off the end do not show: a run that was not ended may have had more entries. A closed record \
         ends with its result."
            .to_string(),
        "Whoever means to deceive can compute every later seal anew. Against that helps the last seal, kept elsewhere (a \
         printed report has it), or a signature."
            .to_string(),
    ]);
    page.heading("Signing a record");
    page.text(
        "An SSH key signs a closed record so that every later change shows, by whatever means it was made. The signature \
         is a file of its own beside the record, its name that of the record with .sig:",
    );
    page.listing(SIGN);
    page.text(
        "Whoever has the public key verifies it. The file allowed_signers has a line for each signer, a name and the \
         public key, such as: owner ssh-ed25519 AAAA...",
    );
    page.listing(VERIFY_SIGNATURE);
    page.text(
        "A signature tells who signed, not when; it says nothing of whether a reading was true. tankhand neither makes nor \
         reads signatures.",
    );
    page.heading("Reading and verifying with other tools");
    page.text("To check every seal in a shell:");
    page.listing(SHELL);
    page.text("To read and verify a record in Python, with nothing but its standard library:");
    page.listing(PROGRAM.trim_end());
}
