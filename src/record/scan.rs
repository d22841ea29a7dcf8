//! Cuts the bytes of a record at its seals and checks each.

use super::seal::{Chain, is_like_seal, seal_on};

/// The bytes between two seals.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block<'a> {
    /// The bytes, without the line of the seal.
    pub body: &'a [u8],
    /// The number of its first line, from 1.
    pub line: usize,
}

/// What follows the last seal that holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rest {
    /// Nothing.
    Nothing,
    /// The beginning of a block, as a write that was cut off leaves it.
    Torn,
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
    pub blocks: Vec<Block<'a>>,
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
            scan.blocks.push(Block { body, line: scan.line });
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
        None => Rest::Torn,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_blocks() -> String {
        let (mut chain, mut head, mut entry) =
            (Chain::default(), "a = 1\n".to_string(), "b = 2\n".to_string());
        chain.close(&mut head);
        chain.close(&mut entry);
        head + &entry
    }

    #[test]
    fn blocks_stand_between_seals() {
        let text = two_blocks();
        let scan = scan(text.as_bytes());
        let blocks: Vec<_> = scan.blocks.iter().map(|block| (block.body, block.line)).collect();
        assert_eq!(blocks, [(&b"a = 1\n"[..], 1), (&b"b = 2\n"[..], 3)]);
        assert_eq!((scan.line, scan.rest, scan.sound()), (5, Rest::Nothing, text.len()));
    }

    #[test]
    fn a_changed_byte_before_a_seal_is_an_edit() {
        let text = two_blocks().replace("b = 2", "b = 3");
        let scan = scan(text.as_bytes());
        assert_eq!((scan.blocks.len(), scan.line, scan.rest), (1, 3, Rest::Edited { seal_line: 4 }));
    }

    #[test]
    fn a_spoiled_last_seal_is_an_edit_and_a_cut_one_is_torn() {
        let text = two_blocks();
        let spoiled = text.replacen("seal =", "seal  =", 2);
        assert_eq!(scan(spoiled.as_bytes()).rest, Rest::Edited { seal_line: 2 });
        for cut in 1..text.len() {
            let whole = cut == text.len() / 2;
            let rest = if whole { Rest::Nothing } else { Rest::Torn };
            assert_eq!(scan(&text.as_bytes()[..cut]).rest, rest, "cut at {cut}");
        }
    }
}
