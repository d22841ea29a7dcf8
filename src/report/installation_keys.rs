//! The keys of a system file: what each means, its unit, what stands without it, who uses it.

use super::layouts::put_layouts;
use super::{Page, Row};
use crate::procedure::{AskedFact, SHIPPED, asked_facts};
use crate::quantity::Units;
use crate::system::{COMMON_GAUGES, GAUGE_KEYS, GAUGE_KINDS, GRADES, Gauge, PathEntry, PathKind, paths_of};
use crate::words::list;

/// Keys at the top of the file that are no values: what each takes, means and is used for.
const TOP: &[[&str; 5]] = &[
    ["format", "1", "the format of the file", "must be there", "every file"],
    ["name", "text", "what you call the place", "no name", "records, reports, tags"],
    ["units", "us or metric", "the units you read", "us", "prompts, reports"],
    ["invented", "true or false", "made up, for a demonstration", "false", "records, reports"],
    ["confidence", "60 % to 99.9 %", "how sure a check must be to say pass or fail", "95 %", "every check"],
];

/// The tables, each with its heading.
const TABLES: &[(&str, &str)] = &[
    ("switch", "[switch]: the pressure switch"),
    ("pump", "[pump]"),
    ("relief", "[relief]: the relief valve near the tank"),
    ("house", "[house]"),
    ("layout", "[layout]: where things sit"),
    ("tank", "[[tank]]: one for each tank"),
];

/// What uses a value that no procedure asks for.
const BESIDE: &[(&str, &str)] = &[
    ("switch.cut_out", "plan"),
    ("pump.flow", "plan"),
    ("layout.check_valve", "records"),
    ("tank.plate_photo", "records"),
    ("tank.precharge", "plan"),
];

const HEAD: &[&str] = &["Key", "Takes", "What it is", "Without it", "Used by"];

/// The page of the system file.
pub(super) fn installation_page() -> Page {
    let mut page = Page::titled("Your installation: the system file");
    page.text(
        "What stands in the system file is not asked again. Every key may be left out but `format` and the id of a \
         tank or gauge. Values with a unit stand in quotes, in any unit of the kind, with +- where you know it: \
         `volume = \"44 gal +- 5 %\"`. Leave out what you do not know, and do not guess: what is missing is asked, \
         and `not known` is an answer where the table says so.",
    );
    let top = TOP.iter().map(|row| Row::new(*row)).chain(rows(""));
    page.headed_table("At the top of the system file", HEAD, top);
    for (table, heading) in TABLES {
        let id = ["id", "text", "a short name, for --tank", "must be there", "records"];
        let id = (*table == "tank").then(|| Row::new(id));
        page.headed_table(heading, HEAD, id.into_iter().chain(rows(table)));
    }
    let gauge = |(key, means): &(&'static str, &'static str)| [*key, *means];
    let heading = "[[gauge]]: one for each gauge you know something of";
    page.headed_table(heading, &["Key", "What it is"], GAUGE_KEYS.iter().map(gauge));
    let names = |gauges: &[Gauge]| list(gauges.iter().map(|gauge| &gauge.id), "and");
    page.text(format!(
        "Ids of gauges: {}. Kinds: {}. Grades: {}. A gauge that is not described counts as a common one of its id.",
        names(COMMON_GAUGES),
        names(GAUGE_KINDS),
        list(GRADES.iter().map(|grade| grade.name), "and")
    ));
    page.note("`tankhand check system.toml` looks a file over.");
    put_layouts(&mut page);
    page
}

/// The rows of one table; `""` is the top of the file.
fn rows(table: &str) -> impl Iterator<Item = Row> {
    paths_of(table).map(|(entry, key)| {
        Row::new([key.to_string(), takes(entry), entry.means.to_string(), without(entry), users(entry)])
    })
}

fn takes(entry: &PathEntry) -> String {
    match entry.kind {
        PathKind::YesNo => "true or false".to_string(),
        PathKind::Text => "text".to_string(),
        PathKind::Words(words) => list(words, "or"),
        PathKind::Measure(measure) => {
            let unit = |units: Units| units.unit_for(measure).map_or("", |unit| unit.symbol);
            match (unit(Units::Us), unit(Units::Metric)) {
                (us, metric) if us == metric => format!("{}, in {us}", measure.name()),
                (us, metric) => format!("{}, in {us} or {metric}", measure.name()),
            }
        }
    }
}

/// What stands where the file does not say it.
fn without(entry: &PathEntry) -> String {
    match asked_facts(entry.path).first() {
        Some(AskedFact { usual: Some(usual), .. }) => format!("asked; Enter: {usual}"),
        Some(AskedFact { unknown: true, .. }) => "asked; may be `not known`".to_string(),
        Some(AskedFact { .. }) => "asked".to_string(),
        None => "not used".to_string(),
    }
}

/// Who uses a value: procedures, by the file that asks for it, or commands.
fn users(entry: &PathEntry) -> String {
    let asked = asked_facts(entry.path);
    let files = asked.iter().map(|fact| match SHIPPED.iter().any(|file| file.name == fact.file) {
        true => fact.file.to_string(),
        false => format!("parts/{}", fact.file),
    });
    let beside = BESIDE.iter().filter(|(path, _)| *path == entry.path).map(|(_, user)| user.to_string());
    list(files.chain(beside), "and")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::system::PATHS;

    #[test]
    fn every_value_is_used_by_something() {
        for entry in PATHS {
            assert!(!users(entry).is_empty(), "{}", entry.path);
        }
    }
}
