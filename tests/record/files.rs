//! Records as files: made without harm to others, locked, and whatever else stands there refused.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use tankhand::record::{LARGEST_RECORD_BYTES, Recorder, Trouble, read, verify};

use crate::samples::{entries, header, record, sealed};

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|file| file.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_record_is_made_written_and_gone_on_with() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("data/records");
    let mut recorder = Recorder::create(&folder, &header()).unwrap();
    let path = recorder.path().to_path_buf();
    assert_eq!(fs::read(&path).unwrap(), record(&header(), &[], None));
    recorder.append(&entries()[..2]).unwrap();
    assert_eq!(fs::read(&path).unwrap(), record(&header(), &entries()[..2], None));
    drop(recorder);
    assert_eq!(names(&folder), ["20310405-0901-flush.toml"]);
    let whole = record(&header(), &entries(), None);
    fs::write(&path, &whole[..whole.len() - 9]).unwrap();
    let (mut recorder, contents, torn) = Recorder::reopen(&path).unwrap();
    assert_eq!((contents.entries.len(), torn.is_some(), recorder.warning()), (18, true, None));
    recorder.append(&entries()[18..]).unwrap();
    assert_eq!(fs::read(&path).unwrap(), whole);
    assert_eq!(names(&folder), ["20310405-0901-flush.toml"]);
}

#[test]
fn a_second_writer_is_refused_until_the_first_is_gone() {
    let folder = tempfile::tempdir().unwrap();
    let recorder = Recorder::create(folder.path(), &header()).unwrap();
    let path = recorder.path().to_path_buf();
    let fault = Recorder::reopen(&path).unwrap_err();
    assert_eq!(
        fault.to_string(),
        format!(
            "{}: another tankhand is writing this record\n  why: two writers would spoil it\n  \
             what to do: end the other one first, or wait for it",
            path.display()
        )
    );
    assert_eq!(read(&path).unwrap().header, header(), "reading needs no lock");
    drop(recorder);
    let (again, _, _) = Recorder::reopen(&path).unwrap();
    assert_eq!(Recorder::reopen(&path).unwrap_err().trouble, Trouble::Busy);
    drop(again);
}

#[test]
fn a_record_is_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("20310405-0901-flush.toml");
    fs::write(&path, "precious").unwrap();
    let fault = Recorder::create(folder.path(), &header()).unwrap_err();
    assert_eq!(fault.trouble, Trouble::Exists);
    assert_eq!(fs::read_to_string(&path).unwrap(), "precious");
    assert_eq!(names(folder.path()), ["20310405-0901-flush.toml"]);
}

#[test]
fn a_file_where_the_folder_should_be_is_told() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("records");
    fs::write(&folder, "x").unwrap();
    let fault = Recorder::create(&folder, &header()).unwrap_err();
    assert_eq!(fault.path, folder);
    assert!(matches!(fault.trouble, Trouble::Io { doing: "make", .. }), "{fault}");
}

#[test]
fn leftovers_of_a_crash_are_no_hindrance() {
    let folder = tempfile::tempdir().unwrap();
    let leftover = format!(".20310405-0901-flush.{}-0.part", std::process::id());
    fs::write(folder.path().join(&leftover), "half a head").unwrap();
    Recorder::create(folder.path(), &header()).unwrap();
    assert_eq!(names(folder.path()), [leftover.as_str(), "20310405-0901-flush.toml"]);
}

#[test]
fn of_many_who_begin_the_same_record_one_gets_it() {
    let folder = tempfile::tempdir().unwrap();
    let results: Vec<bool> = std::thread::scope(|scope| {
        let threads: Vec<_> =
            (0..8).map(|_| scope.spawn(|| Recorder::create(folder.path(), &header()).is_ok())).collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).collect()
    });
    assert_eq!(results.iter().filter(|made| **made).count(), 1);
    let path = folder.path().join("20310405-0901-flush.toml");
    assert_eq!(fs::read(path).unwrap(), record(&header(), &[], None));
}

#[test]
fn a_name_that_leads_elsewhere_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut header = header();
    header.id = "../escape".to_string();
    let fault = Recorder::create(folder.path(), &header).unwrap_err();
    assert_eq!(fault.trouble, Trouble::BadName("../escape".to_string()));
    assert!(names(folder.path()).is_empty());
}

/// What reading, checking and going on say of a file; they must agree, and change nothing.
fn trouble(path: &Path) -> Trouble {
    let trouble = read(path).unwrap_err().trouble;
    assert_eq!(Recorder::reopen(path).unwrap_err().trouble, trouble);
    if let Ok(found) = verify(path) {
        assert!(found.iter().all(|finding| !finding.is_sound()), "{found:?}");
    }
    trouble
}

fn holding(folder: &Path, bytes: &[u8]) -> PathBuf {
    let path = folder.join("it.toml");
    fs::write(&path, bytes).unwrap();
    path
}

#[test]
fn what_is_no_record_is_told_apart() {
    let folder = tempfile::tempdir().unwrap();
    let path = |bytes: &[u8]| holding(folder.path(), bytes);
    let head = record(&header(), &[], None);
    assert_eq!(trouble(&folder.path().join("none.toml")), Trouble::Missing);
    assert_eq!(trouble(folder.path()), Trouble::NotAFile("a folder"));
    assert_eq!(trouble(&path(b"")), Trouble::Empty);
    assert_eq!(trouble(&path(b"format = 1\ntitle = \"Flush\"\n")), Trouble::NotARecord);
    assert_eq!(trouble(&path(&[0xff; 300])), Trouble::NotARecord);
    assert_eq!(trouble(&path(b"format = 2\nprogram = \"later\"\n")), Trouble::Newer { format: 2 });
    assert_eq!(trouble(&path(&head[..head.len() - 1])), Trouble::HeadTorn);
    // The line that every record begins with is known by its first thirty letters.
    assert_eq!(trouble(&path(&head[..29])), Trouble::NotARecord);
    assert_eq!(trouble(&path(&head[..30])), Trouble::HeadTorn);
    let text = String::from_utf8(head.clone()).unwrap();
    let third = text.find("format = 1\n").unwrap();
    let cut = |lines: &str| text[..third].to_string() + lines;
    assert_eq!(trouble(&path(cut("format = 1\nprog").as_bytes())), Trouble::HeadTorn);
    assert_eq!(trouble(&path(cut("fxrmat = 1\nprogram = \"p\"\nid").as_bytes())), Trouble::StartDamaged);
    assert_eq!(trouble(&path(text.replacen("format", "fxrmat", 1).as_bytes())), Trouble::StartDamaged);
    fs::File::create(folder.path().join("big.toml")).unwrap().set_len(LARGEST_RECORD_BYTES + 1).unwrap();
    let big = Trouble::TooLarge { bytes: LARGEST_RECORD_BYTES + 1 };
    assert_eq!(trouble(&folder.path().join("big.toml")), big);
}

#[cfg(unix)]
#[test]
fn a_link_is_no_record_and_keeps_its_name() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("20310405-0901-flush.toml");
    symlink(folder.path().join("elsewhere"), &path).unwrap();
    assert_eq!(Recorder::create(folder.path(), &header()).unwrap_err().trouble, Trouble::Exists);
    assert_eq!(names(folder.path()), ["20310405-0901-flush.toml"]);
    fs::write(folder.path().join("elsewhere"), record(&header(), &[], None)).unwrap();
    assert_eq!(trouble(&path), Trouble::NotAFile("a link"));
}

#[cfg(target_os = "linux")]
#[test]
fn a_pipe_is_not_waited_for() {
    use rustix::fs::{CWD, FileType, Mode, mknodat};
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe.toml");
    mknodat(CWD, &pipe, FileType::Fifo, Mode::RUSR | Mode::WUSR, 0).unwrap();
    assert_eq!(trouble(&pipe), Trouble::NotAFile("a device or a pipe"));
}

#[test]
fn sealed_nonsense_is_told_with_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let told = |block: &[u8]| {
        let head = b"format = 1\nprogram = \"p\"\nid = \"i\"\nprocedure = \"f\"\ntitle = \"t\"\n\
            started = 2031-04-05T09:01:00Z\nunits = \"us\"\n[sealed]\n";
        match trouble(&holding(folder.path(), &sealed(&[head, block]))) {
            Trouble::Unclear { line, message } => format!("{line}: {message}"),
            other => panic!("{other:?}"),
        }
    };
    let entry = |fields: &str| format!("\n[[entry]]\n{fields}\n").into_bytes();
    let rest = "kind = \"note\"\nstep = \"s\"\nat = 2031-04-05T09:01:00Z";
    assert_eq!(told(b"\n[[entry]]\nn = 1\nkind = \"\xff\"\n"), "13: the bytes are not UTF-8 text");
    assert_eq!(told(&entry("n = 1")), "11: `kind` is missing");
    assert_eq!(told(&entry(&format!("n = 2\n{rest}"))), "11: entry 1 should stand here");
    assert_eq!(
        told(&entry(&format!("n = 1\n{rest}\nvalue = nan"))),
        "11: `value` should be a number; a float stands there"
    );
    assert_eq!(
        told(&entry(&format!("n = \"1\"\n{rest}"))),
        "11: `n` should be a whole number from 1; a string stands there"
    );
    assert_eq!(told(b"x = 1\n"), "10: one `[[entry]]` or `[result]` should stand here");
}

/// What happens to a file.
type Befalls<'t> = &'t dyn Fn(&Path) -> io::Result<()>;

/// Writes into a file where it lies, at a later moment than it was left.
fn written_into(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = fs::OpenOptions::new().write(true).open(path)?;
    file.write_all(bytes)?;
    file.set_modified(SystemTime::now() + Duration::from_secs(60))
}

/// Whatever becomes of the file while a run goes on, what was answered is saved whole.
#[test]
fn a_file_that_is_no_longer_there_is_noticed_and_all_is_saved() {
    let taken_away = |path: &Path| fs::remove_dir_all(path.parent().unwrap());
    let replaced = |path: &Path| fs::remove_file(path).and_then(|()| fs::write(path, "another"));
    let added_to = |path: &Path| written_into(path, &[&fs::read(path)?[..], b"x"].concat());
    let changed = |path: &Path| written_into(path, b"x");
    let cases: [(Befalls<'_>, &str); 4] = [
        (&taken_away, "was moved or deleted"),
        (&replaced, "was replaced by another file"),
        (&added_to, "was changed by something else"),
        (&changed, "was changed by something else"),
    ];
    for (befalls, told) in cases {
        let folder = tempfile::tempdir().unwrap();
        let records = folder.path().join("records");
        let mut recorder = Recorder::create(&records, &header()).unwrap();
        let all = entries();
        recorder.append(&all[..2]).unwrap();
        if let Err(error) = befalls(recorder.path()) {
            if !cfg!(windows) {
                panic!("only on Windows nobody else may write to it: {error}");
            }
            continue;
        }
        let fault = recorder.append(&all[2..]).unwrap_err();
        let Trouble::Displaced { how, saved: Some(saved) } = fault.trouble else { panic!("{fault}") };
        assert_eq!(how, told);
        assert_eq!(tankhand::record::read(&saved).unwrap().entries, all);
    }
}

#[cfg(unix)]
#[test]
fn a_file_in_which_the_same_was_written_again_is_not_taken_for_changed() {
    let folder = tempfile::tempdir().unwrap();
    let mut recorder = Recorder::create(folder.path(), &header()).unwrap();
    for pair in entries().chunks(2) {
        written_into(recorder.path(), &fs::read(recorder.path()).unwrap()).unwrap();
        recorder.append(pair).unwrap();
    }
    assert_eq!(fs::read(recorder.path()).unwrap(), record(&header(), &entries(), None));
}
