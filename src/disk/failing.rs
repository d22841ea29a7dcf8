//! A disk that refuses, or loses power, at every call: under the name stands the old or the new, never half.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::rc::Rc;

use super::{Disk, Instead, put_whole};

/// What goes wrong.
#[derive(Clone, Copy, PartialEq, Eq)]
enum DiskTrouble {
    Nothing,
    /// The disk is full for one call.
    FullAt(usize),
    /// This call and all later ones are never made.
    PowerOffAt(usize),
}

/// Which file has which name.
type NameTable = BTreeMap<PathBuf, usize>;

/// A name set or taken away.
type NameChange = (PathBuf, Option<usize>);

struct FileContent {
    bytes: Vec<u8>,
    safe: usize,
}

struct Platters {
    trouble: DiskTrouble,
    has_links: bool,
    calls: Vec<&'static str>,
    contents: Vec<FileContent>,
    names: NameTable,
    /// The names that outlive a power cut, and the changes of which any may.
    safe: NameTable,
    loose: Vec<Vec<NameChange>>,
}

/// Clones share the platters.
#[derive(Clone)]
struct FailingDisk(Rc<RefCell<Platters>>);

struct FailingFile(FailingDisk, usize);

const OLD: &[u8] = b"old";
const NEW: &[u8] = b"the new one";

fn target() -> &'static Path {
    Path::new("it.toml")
}

fn changed(names: &mut NameTable, changes: &[NameChange]) {
    for (name, file) in changes {
        match file {
            Some(file) => drop(names.insert(name.clone(), *file)),
            None => drop(names.remove(name)),
        }
    }
}

impl FailingDisk {
    /// A disk with the old file on it, or with nothing.
    fn new(has_old: bool, has_links: bool, trouble: DiskTrouble) -> FailingDisk {
        let names: NameTable = has_old.then(|| (target().to_path_buf(), 0)).into_iter().collect();
        let contents = vec![FileContent { bytes: OLD.to_vec(), safe: OLD.len() }];
        let (calls, loose) = (Vec::new(), Vec::new());
        let safe = names.clone();
        FailingDisk(Rc::new(RefCell::new(Platters {
            trouble,
            has_links,
            calls,
            contents,
            names,
            safe,
            loose,
        })))
    }

    /// Notes a call; fails when it is to.
    fn call(&self, name: &'static str) -> io::Result<()> {
        let mut platters = self.0.borrow_mut();
        platters.calls.push(name);
        let n = platters.calls.len() - 1;
        match platters.trouble {
            DiskTrouble::FullAt(at) if at == n => Err(io::ErrorKind::StorageFull.into()),
            DiskTrouble::PowerOffAt(at) if at <= n => Err(io::ErrorKind::Other.into()),
            _ => Ok(()),
        }
    }

    fn change(&self, changes: Vec<NameChange>) {
        let mut platters = self.0.borrow_mut();
        changed(&mut platters.names, &changes);
        platters.loose.push(changes);
    }

    fn file(&self, path: &Path) -> io::Result<usize> {
        self.0.borrow().names.get(path).copied().ok_or(io::ErrorKind::NotFound.into())
    }

    fn is_free(&self, path: &Path) -> io::Result<()> {
        match self.0.borrow().names.contains_key(path) {
            true => Err(io::ErrorKind::AlreadyExists.into()),
            false => Ok(()),
        }
    }

    /// What stands under the name now, and how many other names there are.
    fn stands(&self) -> (&'static str, usize) {
        let platters = self.0.borrow();
        let own = platters.names.get(target());
        let bytes = own.map(|file| &platters.contents[*file].bytes[..]);
        (called(bytes), platters.names.len() - usize::from(own.is_some()))
    }

    /// All that may stand under the name when power comes back.
    fn remains(&self) -> Vec<&'static str> {
        let platters = self.0.borrow();
        let mut found = BTreeSet::new();
        for kept in 0..1_u32 << platters.loose.len() {
            let mut names = platters.safe.clone();
            let changes = platters.loose.iter().enumerate().filter(|(n, _)| kept >> n & 1 == 1);
            changes.for_each(|(_, changes)| changed(&mut names, changes));
            match names.get(target()).map(|file| &platters.contents[*file]) {
                None => drop(found.insert(called(None))),
                Some(content) => found.extend(
                    (content.safe..=content.bytes.len()).map(|length| called(Some(&content.bytes[..length]))),
                ),
            }
        }
        found.into_iter().collect()
    }
}

fn called(bytes: Option<&[u8]>) -> &'static str {
    match bytes {
        None => "nothing",
        Some(OLD) => "old",
        Some(NEW) => "new",
        Some([]) => "empty",
        Some(_) => "HALF",
    }
}

impl Write for FailingFile {
    /// A disk that is full takes half of it.
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let called = self.0.call("write");
        let mut platters = self.0.0.borrow_mut();
        let written = if called.is_ok() { bytes.len() } else { bytes.len() / 2 };
        platters.contents[self.1].bytes.extend_from_slice(&bytes[..written]);
        called.map(|()| written)
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Disk for FailingDisk {
    type Writing = FailingFile;

    fn create(&self, path: &Path) -> io::Result<FailingFile> {
        self.call("create").and_then(|()| self.is_free(path))?;
        let file = self.0.borrow().contents.len();
        self.0.borrow_mut().contents.push(FileContent { bytes: Vec::new(), safe: 0 });
        self.change(vec![(path.to_path_buf(), Some(file))]);
        Ok(FailingFile(self.clone(), file))
    }
    fn sync(&self, file: &mut FailingFile) -> io::Result<()> {
        self.call("sync")?;
        let content = &mut self.0.borrow_mut().contents[file.1];
        content.safe = content.bytes.len();
        Ok(())
    }
    fn link(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call("link")?;
        if !self.0.borrow().has_links {
            return Err(io::ErrorKind::Unsupported.into());
        }
        self.is_free(to)?;
        self.change(vec![(to.to_path_buf(), Some(self.file(from)?))]);
        Ok(())
    }
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call("rename")?;
        self.change(vec![(to.to_path_buf(), Some(self.file(from)?)), (from.to_path_buf(), None)]);
        Ok(())
    }
    fn remove(&self, path: &Path) -> io::Result<()> {
        self.call("remove")?;
        self.file(path)?;
        self.change(vec![(path.to_path_buf(), None)]);
        Ok(())
    }
    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        self.call("sync folder")?;
        let mut platters = self.0.borrow_mut();
        platters.safe = platters.names.clone();
        platters.loose.clear();
        Ok(())
    }
}

/// A way to put a file in place: whether there was an old one, whether the disk knows links.
type PutWay = (Instead, bool, bool);

fn put((instead, has_old, has_links): PutWay, trouble: DiskTrouble) -> (FailingDisk, bool) {
    let disk = FailingDisk::new(has_old, has_links, trouble);
    let done = put_whole(&disk, target(), instead, |file| file.write_all(NEW));
    (disk, done.is_ok())
}

/// A line for each call: what is told, stands there and is left over when the disk is full for it; what may
/// stand there when power fails before it is made.
fn table(way: PutWay) -> String {
    let (whole, is_done) = put(way, DiskTrouble::Nothing);
    let calls = whole.0.borrow().calls.clone();
    let mut lines = String::new();
    for (n, call) in calls.iter().enumerate() {
        let (full, is_said_done) = put(way, DiskTrouble::FullAt(n));
        let outcome = if is_said_done { "done" } else { "refused" };
        let (stands, left) = full.stands();
        let remains = put(way, DiskTrouble::PowerOffAt(n)).0.remains().join(" ");
        lines += &format!("{call:<12}{outcome:<9}{stands:<9}{left}  {remains}\n");
    }
    let outcome = if is_done { "done" } else { "refused" };
    let (stands, left) = whole.stands();
    lines + &format!("{:<12}{outcome:<9}{stands:<9}{left}  {}\n", "end", whole.remains().join(" "))
}

/// The lines up to the one that gives the name, which are the same however it is given.
fn before_it_has_its_name(stands: &str) -> String {
    ["create", "write", "sync"].map(|call| format!("{call:<12}refused  {stands:<9}0  {stands}\n")).concat()
}

#[test]
fn in_place_of_another_stands_the_old_one_or_the_new() {
    let rest = "\
rename      refused  old      0  old
sync folder refused  new      0  new old
end         done     new      0  new
";
    assert_eq!(table((Instead::OfAnother, true, true)), before_it_has_its_name("old") + rest);
}

#[test]
fn the_first_of_its_name_stands_whole_or_not_at_all() {
    let rest = "\
rename      refused  nothing  0  nothing
sync folder refused  new      0  new nothing
end         done     new      0  new
";
    assert_eq!(table((Instead::OfAnother, false, true)), before_it_has_its_name("nothing") + rest);
    let rest = "\
link        done     new      0  nothing
remove      done     new      1  new nothing
sync folder refused  new      0  new nothing
end         done     new      0  new
";
    assert_eq!(table((Instead::OfNothing, false, true)), before_it_has_its_name("nothing") + rest);
}

#[test]
fn where_a_file_has_one_name_only_an_empty_one_may_hold_the_place() {
    let rest = "\
link        done     new      0  nothing
create      refused  nothing  0  nothing
rename      refused  nothing  0  empty nothing
sync folder refused  new      0  empty new nothing
end         done     new      0  new
";
    assert_eq!(table((Instead::OfNothing, false, false)), before_it_has_its_name("nothing") + rest);
}

#[test]
fn what_stands_there_already_is_left_as_it_is() {
    let rest = "\
link        refused  old      0  old
create      refused  old      0  old
remove      refused  old      1  old
end         refused  old      0  old
";
    for has_links in [true, false] {
        assert_eq!(table((Instead::OfNothing, true, has_links)), before_it_has_its_name("old") + rest);
    }
}
