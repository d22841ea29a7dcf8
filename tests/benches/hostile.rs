//! What hostile files cost: each is refused with a clear fault; time, and the most memory that the whole process
//! held meanwhile, beside the bounds of 100 ms and 64 MiB, and beside an honest file of as many bytes parsed by the TOML crate alone.

#![allow(clippy::print_stdout)]

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use tankhand::app::Library;
use tankhand::report::faults_text;
use tankhand::source::SourceText;

const HEAD: &str = "format = 1\ntitle = \"t\"\npurpose = \"p\"\n";

fn samples() -> Vec<(&'static str, String)> {
    let step = "[[step]]\ndo = \"x\"\n";
    vec![
        ("10,000 nested brackets", format!("{HEAD}x = {}{}", "[".repeat(10_000), "]".repeat(10_000))),
        (
            "10,000 brackets in an expression",
            format!("{HEAD}[[step]]\ncompute = \"{}\"\n", "(".repeat(10_000)),
        ),
        ("700 kB of brackets", "[".repeat(700_000)),
        ("700 kB of one key", format!("{HEAD}{} = 1\n", "k".repeat(700_000))),
        ("700 kB of steps", format!("{HEAD}{}", step.repeat(700_000 / step.len()))),
        ("2 MB of text", format!("{HEAD}bring = [\"{}\"]\n", "x".repeat(2_000_000))),
        (
            "20,000 unknown keys",
            format!(
                "{HEAD}{}",
                (0..20_000).fold(String::new(), |mut text, n| {
                    let _ = writeln!(text, "k{n} = 1");
                    text
                })
            ),
        ),
        ("a part that uses itself", format!("{HEAD}[[step]]\nuse = \"hostile\"\n")),
        ("a path that climbs out", format!("{HEAD}[[step]]\nuse = \"../../etc/passwd\"\n")),
        ("escapes and turned text", format!("{HEAD}[[step]]\ndo = \"\\u001b[2J\\u202e\"\n")),
        ("a loop without a bound", format!("{HEAD}[[step]]\nrepeat = {{ until = \"no\" }}\n")),
        (
            "a name in look-alike letters",
            format!("{HEAD}[[step]]\nid = \"\u{430}ir\"\nread = \"pressure\"\nask = \"q\"\n"),
        ),
    ]
}

/// The most memory held since it was last asked, in KiB; zero where the system does not tell.
fn high_water() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:")).unwrap_or("");
    line.split_whitespace().nth(1).and_then(|kib| kib.parse().ok()).unwrap_or(0)
}

/// How long the bare parsing of an honest file of as many bytes takes.
fn honest_parse(length: usize) -> Duration {
    let honest = format!("{HEAD}{}", "[[step]]\ndo = \"x\"\n".repeat(length / 18));
    let begun = Instant::now();
    let _ = std::hint::black_box(toml::de::DeTable::parse_recoverable(&honest));
    begun.elapsed()
}

fn main() {
    println!(
        "{:<34} {:>10} {:>10} {:>14} {:>8}",
        "hostile file", "ms", "MiB peak", "x honest TOML", "faults"
    );
    for (name, text) in samples() {
        let yardstick = honest_parse(text.len());
        // Writing 5 there sets the high-water mark back to what is held now.
        let _ = std::fs::write("/proc/self/clear_refs", "5");
        let begun = Instant::now();
        let source = SourceText::new("procedures/hostile.toml", text.as_str());
        let faults = Library::default().load_source(&source).err().unwrap_or_default();
        let page = faults_text(&faults, 80, false);
        let took = begun.elapsed();
        let held = high_water() as f64 / 1024.0;
        assert!(!page.chars().any(|c| c.is_control() && c != '\n'));
        println!(
            "{name:<34} {:>10.2} {held:>10.1} {:>14.2} {:>8}",
            took.as_secs_f64() * 1e3,
            took.as_secs_f64() / yardstick.as_secs_f64(),
            faults.len()
        );
    }
    println!("bounds: 100 ms, 64 MiB");
}
