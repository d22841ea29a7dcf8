//! The owner's installation as a page: what the system file says, and what it does not say yet.

use super::{Page, Row};
use crate::lang::Value;
use crate::system::{PATHS, System};
use crate::words::capitalized;

/// What a system file says, table by table, under the name of the file.
pub fn installation_page(system: &System, file: &str) -> Page {
    let mut page = Page::titled(system.name.as_deref().unwrap_or("The installation"));
    page.text(file);
    let units = system.units.unwrap_or_default();
    let shown = |value: &Value| value.shown(units);
    let mut missing = Vec::new();
    let mut rows = Vec::new();
    for entry in PATHS.iter().filter(|entry| !entry.path.starts_with("tank.")) {
        match system.value(entry.path, 0) {
            Some(value) => {
                rows.push(Row::new([capitalized(entry.means), shown(value), entry.path.to_string()]));
            }
            None => missing.push(format!("{} ({})", entry.means, entry.path)),
        }
    }
    page.table(&[], rows);
    for (at, tank) in system.tanks.iter().enumerate() {
        let said = |entry: &crate::system::PathEntry| {
            let value = system.value(entry.path, at)?;
            Some(Row::new([capitalized(entry.means), shown(value), entry.path.to_string()]))
        };
        let of_tank = PATHS.iter().filter(|entry| entry.path.starts_with("tank."));
        page.headed_table(&format!("Tank {}", tank.id), &[], of_tank.filter_map(said).collect());
    }
    let gauges = system.gauges().map(|gauge| {
        let whose = if system.has_gauge(&gauge.id) { "yours" } else { "as commonly found" };
        Row::new([gauge.id.to_string(), gauge.name.to_string(), whose.to_string()])
    });
    page.headed_table("Gauges", &[], gauges.collect());
    page.headed_list("Not said yet, and asked in each run that needs it", missing);
    page.note("`tankhand system setup` asks for all of it; `tankhand system set switch.cut_in '38 psi'` changes one thing.");
    page
}
