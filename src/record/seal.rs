//! Seals: SHA-256 of the line of the seal before, and of every byte between the two lines.
//!
//! Each block is sealed by itself, so damage stays where it is, and each seal holds the one before it,
//! so no block can be taken out or put in unseen. A seal shows a slip, a fault of the disk or a
//! careless edit. It is no signature: who changes a record and computes every later seal anew
//! leaves no trace.

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

use super::literal::RESERVED;

/// The running hash over a block and the seal before it.
#[derive(Clone, Debug, Default)]
pub(super) struct Chain {
    hash: Sha256,
    length: u64,
}

impl Chain {
    /// Takes in more bytes of the block.
    pub(super) fn add(&mut self, bytes: &[u8]) {
        self.hash.update(bytes);
        self.length += bytes.len() as u64;
    }

    /// How many bytes of the file were taken in.
    pub(super) fn length(&self) -> u64 {
        self.length
    }

    /// The seal over the block so far and the seal before it.
    pub(super) fn seal(&self) -> String {
        hex(self.hash.clone())
    }

    /// Takes in the line of a seal, with which the next block begins.
    pub(super) fn begin_after(&mut self, line: &[u8]) {
        self.hash = Sha256::new().chain_update(line);
        self.length += line.len() as u64;
    }

    /// Takes in a block, puts its seal's line after it, and takes that in too.
    pub(super) fn close(&mut self, block: &mut String) {
        self.add(block.as_bytes());
        let line = seal_line(&self.seal());
        self.begin_after(line.as_bytes());
        block.push_str(&line);
    }
}

/// How long the line of a seal is.
pub(super) const SEAL_LINE_BYTES: usize = RESERVED.len() + 67;

/// The line that a seal stands on.
pub(super) fn seal_line(seal: &str) -> String {
    format!("{RESERVED}\"{seal}\"\n")
}

/// The seal of a block after the line of another seal.
pub(super) fn seal_after(line: &str, block: &[u8]) -> String {
    hex(Sha256::new().chain_update(line).chain_update(block))
}

/// SHA-256 of a text, in lower-case hexadecimal digits.
pub(super) fn sha256(text: &str) -> String {
    hex(Sha256::new().chain_update(text))
}

fn hex(hash: Sha256) -> String {
    HEXLOWER.encode(&hash.finalize())
}

/// The seal on a line (its line end included), when the line is exactly a seal's line.
pub(super) fn seal_on(line: &[u8]) -> Option<&[u8]> {
    let digits = line.strip_prefix(RESERVED.as_bytes())?.strip_prefix(b"\"")?.strip_suffix(b"\"\n")?;
    let good = digits.len() == 64 && digits.iter().all(|d| matches!(d, b'0'..=b'9' | b'a'..=b'f'));
    good.then_some(digits)
}

/// Whether a whole line looks like a seal's; a torn write leaves none that is not one.
pub(super) fn is_like_seal(line: &[u8]) -> bool {
    let after = line.trim_ascii_start().strip_prefix(b"seal").map(<[u8]>::trim_ascii_start);
    after.is_some_and(|after| after.starts_with(b"=")) && line.ends_with(b"\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    // NIST FIPS 180-4, the published example "abc" for SHA-256 (digest from memory).
    const ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    #[test]
    fn a_seal_is_the_hash_of_the_seal_before_it_and_its_block() {
        assert_eq!(sha256("abc"), ABC);
        let mut chain = Chain::default();
        let mut block = "abc".to_string();
        chain.close(&mut block);
        let line = format!("seal = \"{ABC}\"\n");
        assert_eq!(block, format!("abc{line}"));
        assert_eq!(chain.length(), block.len() as u64);
        assert_eq!(chain.seal(), sha256(&line));
    }

    #[test]
    fn only_the_exact_line_is_a_seal() {
        let line = format!("seal = \"{ABC}\"\n");
        assert_eq!(seal_on(line.as_bytes()), Some(ABC.as_bytes()));
        for other in
            [line.trim_end(), &line.to_uppercase(), &line.replace(" =", "="), &line.replace('b', "B")]
        {
            assert_eq!(seal_on(other.as_bytes()), None, "{other}");
        }
    }
}
