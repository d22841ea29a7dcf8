//! Records of versions yet to come: what is unknown is kept, and does no harm.

use std::path::Path;

use tankhand::record::{Contents, EntryKind, ForeignEntry, Recorder, Trouble};

use crate::samples::{Memory, sealed};

const HEAD: &[u8] =
    b"# Another program wrote this.\n\nformat = 1\nprogram = \"tankhand 9.0.0\"\nid = \"i\"\n\
    procedure = \"f\"\ntitle = \"t\"\nstarted = 2031-04-05T09:01:00Z\nunits = \"metric\"\nmoon = \"full\"\n\
    weather = {sky = \"blue\"}\n[sealed]\n";
const PLAIN: &[u8] = b"\n[[entry]]\nn = 1\nkind = \"reading\"\nstep = \"s\"\nat = 2031-04-05T09:02:00Z\n\
    value = 38\nhue = [1, {a = 2}]\n";
const FOREIGN: &[u8] = b"\n[[entry]]\nn = 2\nkind = \"photographed\"\nframe = 7\n";

#[test]
fn unknown_fields_are_kept_and_whole_numbers_are_numbers() {
    let bytes = sealed(&[HEAD, PLAIN]);
    let memory = Memory::holding(&bytes);
    let (_, contents, torn) = Recorder::resume(memory, Path::new("later.toml"), &bytes).unwrap();
    let entry = &contents.entries[0];
    let more: toml::Table = "hue = [1, {a = 2}]".parse().unwrap();
    assert_eq!((entry.kind, entry.value, &entry.more, torn), (EntryKind::Reading, Some(38.0), &more, None));
}

#[test]
fn an_unknown_kind_can_be_read_but_not_gone_on_with() {
    let bytes = sealed(&[HEAD, PLAIN, FOREIGN]);
    let contents = Contents::from_bytes(&bytes).unwrap();
    let foreign =
        ForeignEntry { n: 2, kind: "photographed".to_string(), fields: "frame = 7".parse().unwrap() };
    assert_eq!((contents.entries.len(), contents.last_number(), contents.foreign), (1, 2, vec![foreign]));
    let fault = Recorder::resume(Memory::holding(&bytes), Path::new("later.toml"), &bytes).unwrap_err();
    assert_eq!(fault.trouble, Trouble::Foreign { n: 2, kind: "photographed".to_string() });
    assert_eq!(
        fault.to_string(),
        "later.toml: entry 2 is of a kind unknown here, `photographed`\n  \
         why: a later tankhand wrote it, and going on here might contradict it\n  \
         what to do: use the tankhand that wrote it, or a later one; the file can be read with any text editor"
    );
}
