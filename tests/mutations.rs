//! A million mutated inputs: each is understood, or refused in words that harm no terminal; none ends in a panic.
//!
//! A small sample of each kind runs with the tests. The whole table, `tests/fuzz/mutations.toml`, is made by
//!
//!     cargo test --release --locked --test mutations -- --ignored

#![allow(clippy::unwrap_used)]

#[path = "support/golden.rs"]
mod golden;

use std::fmt::Write as _;
use std::fs;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;
use sha2::{Digest, Sha256};
use tankhand::app::{Calculation, Failure, Library, calc};
use tankhand::console::Script;
use tankhand::quantity::{Family, Units, read_number};
use tankhand::record::{Contents, Verification, verify_bytes};
use tankhand::report::faults_text;
use tankhand::source::{Fault, SourceText};
use tankhand::words::is_harmless;

/// A kind of input: how it is read, and its share of a thousand inputs.
struct Kind {
    name: &'static str,
    share: u64,
    /// Whether it was understood; refused, it says why in harmless words.
    read: fn(&[u8]) -> bool,
}

const KINDS: [Kind; 6] = [
    Kind { name: "procedure", share: 20, read: procedure },
    Kind { name: "system", share: 60, read: system },
    Kind { name: "answers", share: 60, read: answers },
    Kind { name: "record", share: 60, read: record },
    Kind { name: "expression", share: 300, read: expression },
    Kind { name: "number", share: 500, read: number },
];

fn source(bytes: &[u8]) -> SourceText {
    SourceText::new("mutated.toml", String::from_utf8_lossy(bytes))
}

fn refused(faults: &[Fault]) -> bool {
    says(&faults_text(faults, 80, false));
    false
}

fn says(text: &str) {
    assert!(!text.is_empty() && text.lines().all(is_harmless), "{text:?}");
}

fn procedure(bytes: &[u8]) -> bool {
    Library::default().load_source(&source(bytes)).map_or_else(|faults| refused(&faults), |_| true)
}

fn system(bytes: &[u8]) -> bool {
    tankhand::system::load(&source(bytes)).map_or_else(|faults| refused(&faults), |_| true)
}

fn answers(bytes: &[u8]) -> bool {
    Script::load(&source(bytes)).map_or_else(|faults| refused(&faults), |_| true)
}

/// As it is, then with every line of a seal made to hold: no chance would find a SHA-256.
fn record(bytes: &[u8]) -> bool {
    let (mut made, mut begin) = (Vec::new(), 0);
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        if line.starts_with(b"seal = ") {
            let digits = Sha256::digest(&made[begin..]).iter().fold(String::new(), |mut digits, byte| {
                let _ = write!(digits, "{byte:02x}");
                digits
            });
            begin = made.len();
            made.extend(format!("seal = \"{digits}\"\n").bytes());
        } else {
            made.extend(line);
        }
    }
    is_record(bytes) | is_record(&made)
}

fn is_record(bytes: &[u8]) -> bool {
    let found = verify_bytes(bytes);
    found.iter().for_each(|finding| says(&finding.to_string()));
    match Contents::from_bytes(bytes) {
        Ok(_) => true,
        Err(trouble) => {
            says(&trouble.at("mutated.toml".as_ref()).to_string());
            assert!(!found.iter().any(Verification::is_sound));
            false
        }
    }
}

fn expression(bytes: &[u8]) -> bool {
    let (expression, mut shown) = (String::from_utf8_lossy(bytes).into_owned(), Vec::new());
    match calc(&Calculation { expression, explain: true, units: Units::Us }, 80, &mut shown) {
        Err(Failure::Faults(faults)) => return refused(&faults),
        Err(failure) => says(&failure.to_string()),
        Ok(_) => says(&String::from_utf8(shown).unwrap()),
    }
    true
}

fn number(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    let read = |family| match read_number(&text, family) {
        Ok(read) => read.number.is_finite(),
        Err(why) => {
            assert!(!is_harmless(&text) || is_harmless(&why.to_string()));
            false
        }
    };
    [Family::Pressure, Family::Volume, Family::Temperature, Family::Time].into_iter().any(read)
}

/// What stands for trouble in one or another of the languages read.
#[rustfmt::skip]
const PIECES: [&str; 24] = [
    "\n", "\r\n", "\0", "\u{feff}", "\u{202e}", "\u{1b}[2J", "\"", "'''", "\"\"\"", "[", "]]", "{", "}", " = ",
    "+-", "9e999", "-0", "1,000", "nan", "½", " psi", "[[step]]\n", "seal = \"00\"\n", "when = \"true\"\n",
];

/// The samples of a kind.
fn samples(kind: &str) -> Vec<Vec<u8>> {
    let folder = golden::in_project(&format!("tests/fuzz/corpus/{kind}"));
    let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
    files.retain(|file| file.file_name().is_some_and(|name| name.len() < 40));
    files.sort();
    files.into_iter().map(|file| fs::read(file).unwrap()).collect()
}

/// Changes a sample at one to eight places: a bit, a piece put in, some bytes taken out, said twice or brought
/// from another sample.
fn mutated(samples: &[Vec<u8>], random: &mut Pcg64Mcg) -> Vec<u8> {
    let mut below = |most: usize| usize::try_from(random.next_u64() % most.max(1) as u64).unwrap();
    let mut bytes = samples[below(samples.len())].clone();
    for _ in 0..=below(8) {
        let from = below(bytes.len());
        let to = (from + below(60)).min(bytes.len());
        match below(5) {
            0 if !bytes.is_empty() => bytes[from] ^= 1 << below(8),
            1 => drop(bytes.splice(from..from, PIECES[below(PIECES.len())].bytes())),
            2 => drop(bytes.drain(from..to)),
            3 => drop(bytes.splice(from..from, bytes[from..to].to_vec())),
            _ => {
                let other = &samples[below(samples.len())];
                let there = below(other.len());
                let piece = &other[there..(there + below(60)).min(other.len())];
                bytes.splice(from..to, piece.iter().copied());
            }
        }
    }
    bytes
}

/// How many of so many inputs of a kind were understood.
fn understood(kind: &Kind, inputs: u64) -> u64 {
    let samples = samples(kind.name);
    let mut random = Pcg64Mcg::seed_from_u64(20_311_128);
    (0..inputs).filter(|_| (kind.read)(&mutated(&samples, &mut random))).count() as u64
}

/// A corpus of nothing but faults would try nothing but the first refusal.
#[test]
fn every_kind_has_a_sample_that_is_understood() {
    for kind in &KINDS {
        assert!(samples(kind.name).iter().any(|sample| (kind.read)(sample)), "{}", kind.name);
    }
}

#[test]
fn a_sample_of_mutated_inputs_is_understood_or_refused() {
    for kind in &KINDS {
        let inputs = kind.share * 4;
        let understood = understood(kind, inputs);
        assert!(understood < inputs, "{}: {understood} of {inputs}", kind.name);
    }
}

/// The table of a million: a panic would end it.
#[test]
#[ignore = "a million inputs take minutes"]
fn a_million_mutated_inputs_are_understood_or_refused() {
    let mut table = String::from(
        "# Mutated inputs, each understood or refused in words that harm no terminal; none ended in a panic.\n\
         # Made anew by: cargo test --release --locked --test mutations -- --ignored\n",
    );
    for kind in &KINDS {
        let inputs = kind.share * 1_000;
        let understood = understood(kind, inputs);
        let (name, refused) = (kind.name, inputs - understood);
        let _ =
            write!(table, "\n[{name}]\ninputs = {inputs}\nunderstood = {understood}\nrefused = {refused}\n");
    }
    fs::write(golden::in_project("tests/fuzz/mutations.toml"), table).unwrap();
}
