//! Everything that comes with the program loads.

use tankhand::procedure::{Path, SHIPPED, Surroundings, Texts, load, shipped};
use tankhand::source::SourceText;
use tankhand::system::PATHS;

struct OnlyShipped;

impl Texts for OnlyShipped {
    fn text(&self, name: &str) -> Option<Result<SourceText, String>> {
        shipped(name).map(|file| Ok(SourceText::new(file.file, file.text)))
    }

    fn names(&self) -> Vec<String> {
        SHIPPED.iter().map(|file| file.name.to_string()).collect()
    }
}

#[test]
fn every_shipped_procedure_loads() {
    let paths: Vec<Path> =
        PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect();
    let around = Surroundings { texts: &OnlyShipped, paths: &paths };
    for file in SHIPPED.iter().filter(|file| !file.name.starts_with("parts/")) {
        let source = SourceText::new(file.file, file.text);
        if let Err(faults) = load(&source, &around) {
            let faults: Vec<String> = faults
                .iter()
                .map(|f| {
                    format!(
                        "{} [{}]\n   {:?}\n   {:?}",
                        f.heading(),
                        f.code,
                        f.source.slice(f.span),
                        f.remedy
                    )
                })
                .collect();
            panic!("{} does not load:\n{}", file.name, faults.join("\n"));
        }
    }
}
