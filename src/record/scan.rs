//! Cuts the bytes of a record at its seals and checks each.

use super::seal::{Chain, SEAL_LINE_BYTES, is_like_seal, seal_after, seal_line, seal_on};

/// What the seals say of a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum BlockState {
    /// Its seal holds.
    Sealed,
    /// Its seal does not hold, but the next one vouches for it: the seal's own line was changed.
    SealChanged,
    /// Something in it was changed.
    Changed,
}

/// The bytes between two seals.
#[derive(Clone, Copy, Debug)]
pub(super) struct RawBlock<'a> {
    /// The bytes, without the line of the seal.
    pub body: &'a [u8],
    /// The number of its first line, from 1.
    pub line: usize,
    /// What the seals say of it.
    pub state: BlockState,
}

impl RawBlock<'_> {
    /// The number of its first line that is not empty.
    pub(super) fn first_line(&self) -> usize {
        self.line + self.body.iter().take_while(|byte| **byte == b'\n').count()
    }

    /// The number of the line its seal stands on.
    pub(super) fn seal_line(&self) -> usize {
        self.line + self.body.iter().filter(|byte| **byte == b'\n').count()
    }

    /// Whether its bytes are as they were written.
    pub(super) fn is_whole(&self) -> bool {
        self.state != BlockState::Changed
    }
}

/// What follows the last seal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rest {
    /// Nothing.
    Nothing,
    /// The beginning of a block, as a write that was cut off leaves it.
    Torn,
    /// Something that neither is nor begins like a block.
    Added,
    /// Bytes with something like a seal on them; it stands on that line.
    Edited {
        /// The line of the seal.
        seal_line: usize,
    },
}

/// A record cut into blocks.
#[derive(Clone, Debug)]
pub(super) struct Scan<'a> {
    /// The blocks, the head first.
    pub blocks: Vec<RawBlock<'a>>,
    /// The running hash after the last seal.
    pub chain: Chain,
    /// The number of the first line after it.
    pub line: usize,
    /// What stands there.
    pub rest: Rest,
}

impl Scan<'_> {
    /// How many bytes stand up to the end of the last seal.
    pub(super) fn sealed(&self) -> usize {
        usize::try_from(self.chain.length()).unwrap_or(usize::MAX)
    }

    /// The blocks whose seals do not hold, each with its place.
    pub(super) fn broken(&self) -> impl Iterator<Item = (usize, &RawBlock<'_>)> {
        self.blocks.iter().enumerate().filter(|(_, block)| block.state != BlockState::Sealed)
    }
}

/// Cuts a record at its seals. Each block is judged by itself: damage to one says nothing of the others.
pub(super) fn scan(bytes: &[u8]) -> Scan<'_> {
    let mut scan = Scan { blocks: Vec::new(), chain: Chain::default(), line: 1, rest: Rest::Nothing };
    let (mut at, mut line) = (0, 1);
    let mut ought = None;
    for text in bytes.split_inclusive(|byte| *byte == b'\n') {
        if let Some(seal) = seal_on(text) {
            let body = &bytes[scan.sealed()..at];
            ought = scan.take_block(body, seal, ought);
            scan.chain.begin_after(text);
            scan.line = line + 1;
        }
        (at, line) = (at + text.len(), line + 1);
    }
    scan.rest = rest(&bytes[scan.sealed()..], scan.line);
    scan
}

impl<'a> Scan<'a> {
    /// Takes in a block with the seal on it. `ought` is the line that the seal before ought to have,
    /// where it has another; gives the one that this seal ought to have, likewise.
    fn take_block(&mut self, body: &'a [u8], seal: &[u8], ought: Option<String>) -> Option<String> {
        let before = self.chain.clone();
        self.chain.add(body);
        let made = self.chain.seal();
        let anew = ought.map(|line| seal_after(&line, body));
        let (mut state, mut amends) = (BlockState::Sealed, None);
        if made.as_bytes() != seal {
            let vouches = anew.as_ref().is_some_and(|anew| anew.as_bytes() == seal);
            match self.blocks.last_mut().filter(|_| vouches) {
                Some(before) => before.state = BlockState::SealChanged,
                None => match joined(&before, body, seal) {
                    Some((first, second)) => return self.take_joined(body, first, second),
                    None => (state, amends) = (BlockState::Changed, Some(seal_line(&anew.unwrap_or(made)))),
                },
            }
        }
        self.blocks.push(RawBlock { body, line: self.line, state });
        amends
    }

    /// Takes in two blocks of which the first ends and the second begins at these places. The seal amends nothing.
    fn take_joined(&mut self, body: &'a [u8], first: usize, second: usize) -> Option<String> {
        let lines = body[..second].iter().filter(|byte| **byte == b'\n').count();
        let (state, line) = (BlockState::SealChanged, self.line);
        self.blocks.push(RawBlock { body: &body[..first], line, state });
        let (state, line) = (BlockState::Sealed, self.line + lines);
        self.blocks.push(RawBlock { body: &body[second..], line, state });
        None
    }
}

/// Where in the bytes before a seal one block ends and another begins, if the line of the seal between them was
/// changed into something else: with that line made anew, the seal vouches for both.
fn joined(before: &Chain, body: &[u8], seal: &[u8]) -> Option<(usize, usize)> {
    let begins = |at: &usize| BLOCKS_BEGIN.iter().any(|begin| body[*at..].starts_with(begin));
    let mut places = (SEAL_LINE_BYTES..body.len()).filter(begins).map(|at| (at - SEAL_LINE_BYTES, at));
    places.find(|(first, second)| {
        let mut chain = before.clone();
        chain.add(&body[..*first]);
        seal_after(&seal_line(&chain.seal()), &body[*second..]).as_bytes() == seal
    })
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
    BLOCKS_BEGIN.into_iter().any(begins)
}

/// How every block after the head begins.
const BLOCKS_BEGIN: [&[u8]; 2] = [b"\n[[entry]]\n", b"\n[result]\n"];

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
        assert_eq!((scan.line, scan.rest, scan.sealed()), (7, Rest::Nothing, text.len()));
    }

    /// The blocks of four, each with what the seals say of it, after a change.
    fn states(change: impl FnOnce(&mut Vec<String>)) -> Vec<BlockState> {
        let mut chain = Chain::default();
        let mut blocks =
            ["a = 1\n", ENTRY, "\n[[entry]]\nb = 3\n", "\n[[entry]]\nb = 4\n"].map(String::from).to_vec();
        blocks.iter_mut().for_each(|block| chain.close(block));
        change(&mut blocks);
        scan(blocks.concat().as_bytes()).blocks.iter().map(|block| block.state).collect()
    }

    #[test]
    fn damage_stays_where_it_is() {
        use BlockState::{Changed, SealChanged, Sealed};
        assert_eq!(states(|_| ()), [Sealed; 4]);
        let edited = |blocks: &mut Vec<String>, at: usize| blocks[at] = blocks[at].replacen(" = ", " = 1", 1);
        assert_eq!(states(|blocks| edited(blocks, 0)), [Changed, Sealed, Sealed, Sealed]);
        let two = states(|blocks| [1, 3].into_iter().for_each(|at| edited(blocks, at)));
        assert_eq!(two, [Sealed, Changed, Sealed, Changed]);
        // A digit of a seal: the next seal vouches for the block, so nothing is lost.
        let digit = |blocks: &mut Vec<String>| {
            let other = if blocks[1].ends_with("0\"\n") { "1\"\n" } else { "0\"\n" };
            let end = blocks[1].len() - 3;
            blocks[1].replace_range(end.., other);
        };
        assert_eq!(states(digit), [Sealed, SealChanged, Sealed, Sealed]);
        // A block taken out, and two that changed places.
        assert_eq!(states(|blocks| drop(blocks.remove(1))), [Sealed, Changed, Sealed]);
        assert_eq!(states(|blocks| blocks.swap(1, 2)), [Sealed, Changed, Changed, Changed]);
        // A seal's line of which any byte is another, also one that makes it none.
        for at in 1..=SEAL_LINE_BYTES {
            let spoil = |blocks: &mut Vec<String>| {
                let place = blocks[1].len() - at;
                blocks[1].replace_range(place..=place, "~");
            };
            assert_eq!(states(spoil), [Sealed, SealChanged, Sealed, Sealed], "{at} from its end");
        }
        // A seal's line of another length joins two blocks.
        assert_eq!(states(|blocks| blocks[1] = blocks[1].replace("seal", "sea")), [Sealed, Changed, Sealed]);
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
