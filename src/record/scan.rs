//! Cuts the bytes of a record at its seals and checks each.

use super::seal::{Chain, is_like_seal, seal_on};

/// The bytes between two seals.
#[derive(Clone, Copy, Debug)]
pub(super) struct RawBlock<'a> {
    /// The bytes, without the line of the seal.
    pub body: &'a [u8],
    /// The number of its first line, from 1.
    pub line: usize,
}

impl RawBlock<'_> {
    /// The number of its first line that is not empty.
    pub(super) fn first_line(&self) -> usize {
        self.line + self.body.iter().take_while(|byte| **byte == b'\n').count()
    }
}

/// What follows the last seal that holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rest {
    /// Nothing.
    Nothing,
    /// The beginning of a block, as a write that was cut off leaves it.
    Torn,
    /// Something that neither is nor begins like a block.
    Added,
    /// Bytes with a seal on them that does not hold; the seal stands on that line.
    Edited {
        /// The line of the seal.
        seal_line: usize,
    },
}

/// A record cut into blocks.
#[derive(Clone, Debug)]
pub(super) struct Scan<'a> {
    /// The blocks whose seals hold, the head first.
    pub blocks: Vec<RawBlock<'a>>,
    /// The running hash up to the last seal that holds.
    pub chain: Chain,
    /// The number of the first line after it.
    pub line: usize,
    /// What stands there.
    pub rest: Rest,
}

impl Scan<'_> {
    /// How many bytes the seals hold for.
    pub(super) fn sound(&self) -> usize {
        usize::try_from(self.chain.length()).unwrap_or(usize::MAX)
    }
}

/// Cuts a record at its seals, up to the first that does not hold.
pub(super) fn scan(bytes: &[u8]) -> Scan<'_> {
    let mut scan = Scan { blocks: Vec::new(), chain: Chain::default(), line: 1, rest: Rest::Nothing };
    let (mut at, mut line) = (0, 1);
    for text in bytes.split_inclusive(|byte| *byte == b'\n') {
        let end = at + text.len();
        if let Some(seal) = seal_on(text) {
            let body = &bytes[scan.sound()..at];
            let mut chain = scan.chain.clone();
            chain.add(body);
            if chain.seal().as_bytes() != seal {
                scan.rest = Rest::Edited { seal_line: line };
                return scan;
            }
            chain.add(text);
            scan.blocks.push(RawBlock { body, line: scan.line });
            (scan.chain, scan.line) = (chain, line + 1);
        }
        (at, line) = (end, line + 1);
    }
    scan.rest = rest(&bytes[scan.sound()..], scan.line);
    scan
}

/// Judges bytes on which no seal stands.
fn rest(tail: &[u8], first_line: usize) -> Rest {
    let lines = tail.split_inclusive(|byte| *byte == b'\n');
    match lines.zip(first_line..).find(|(text, _)| is_like_seal(text)) {
        Some((_, seal_line)) => Rest::Edited { seal_line },
        None if tail.is_empty() => Rest::Nothing,
        None if begins_a_block(tail) => Rest::Torn,
        None => Rest::Added,
    }
}

/// Whether a cut-off write may have left these bytes. Where the power failed, a disk may give
/// back zeros for what it did not get to write.
fn begins_a_block(tail: &[u8]) -> bool {
    let zeros = tail.iter().rev().take_while(|byte| **byte == 0).count();
    let written = &tail[..tail.len() - zeros];
    let begins = |block: &[u8]| written.starts_with(block) || block.starts_with(written);
    begins(b"\n[[entry]]\n") || begins(b"\n[result]\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    const ENTRY: &str = "\n[[entry]]\nb = 2\n";

    fn two_blocks() -> String {
        let (mut chain, mut head, mut entry) = (Chain::default(), "a = 1\n".to_string(), ENTRY.to_string());
        chain.close(&mut head);
        chain.close(&mut entry);
        head + &entry
    }

    #[test]
    fn blocks_stand_between_seals() {
        let text = two_blocks();
        let scan = scan(text.as_bytes());
        let blocks: Vec<_> = scan.blocks.iter().map(|block| (block.body, block.line)).collect();
        assert_eq!(blocks, [(&b"a = 1\n"[..], 1), (ENTRY.as_bytes(), 3)]);
        assert_eq!((scan.line, scan.rest, scan.sound()), (7, Rest::Nothing, text.len()));
    }

    #[test]
    fn a_changed_byte_before_a_seal_is_an_edit() {
        let text = two_blocks().replace("b = 2", "b = 3");
        let scan = scan(text.as_bytes());
        assert_eq!((scan.blocks.len(), scan.line, scan.rest), (1, 3, Rest::Edited { seal_line: 6 }));
    }

    #[test]
    fn a_spoiled_last_seal_is_an_edit_and_a_cut_one_is_torn() {
        let text = two_blocks();
        let spoiled = text.replacen("seal =", "seal  =", 2);
        assert_eq!(scan(spoiled.as_bytes()).rest, Rest::Edited { seal_line: 2 });
        let head = text.find("\n[[entry]]").unwrap();
        for cut in head + 1..text.len() {
            assert_eq!(scan(&text.as_bytes()[..cut]).rest, Rest::Torn, "cut at {cut}");
        }
    }

    #[test]
    fn what_does_not_begin_like_a_block_was_added() {
        let after = |tail: &str| scan((two_blocks() + tail).as_bytes()).rest;
        for tail in ["\n", "\n[", "\n[[entry]]\nx", "\n[res", "\0\0\0", "\n[[\0\0", "\n[[entry]]\nb = \0\0"] {
            assert_eq!(after(tail), Rest::Torn, "{tail:?}");
        }
        for tail in [" ", "# a remark\n", "\n\n", "\n[[note]]\n", "[[entry]]\n", "\0x"] {
            assert_eq!(after(tail), Rest::Added, "{tail:?}");
        }
    }
}
