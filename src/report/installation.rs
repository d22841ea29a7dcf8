//! The owner's installation as a page: what the system file says, and what it does not say yet.

use super::{Page, Row};
use crate::system::{PATHS, PathEntry, System};
use crate::words::capitalized;

/// What a system file says, table by table, under the name of the file.
pub fn installation_page(system: &System, file: &str) -> Page {
    let mut page = Page::titled(system.name.as_deref().unwrap_or("The installation"));
    page.text(file);
    let units = system.units.unwrap_or_default();
    let said = |entry: &PathEntry, tank: usize| {
        let value = system.value(entry.path, tank)?;
        Some(Row::new([capitalized(entry.means), value.shown(units), entry.path.to_string()]))
    };
    let (of_tank, of_all): (Vec<_>, Vec<_>) = PATHS.iter().partition(|entry| entry.path.starts_with("tank."));
    page.table(&[], of_all.iter().filter_map(|entry| said(entry, 0)));
    for (at, tank) in system.tanks.iter().enumerate() {
        let rows = of_tank.iter().filter_map(|entry| said(entry, at));
        page.headed_table(&format!("Tank {}", tank.id), &[], rows);
    }
    let gauges = system.gauges().map(|gauge| {
        let whose = if system.has_gauge(&gauge.id) { "yours" } else { "as commonly found" };
        Row::new([gauge.id.to_string(), gauge.name.to_string(), whose.to_string()])
    });
    page.headed_table("Gauges", &[], gauges);
    let missing = of_all.iter().filter(|entry| system.value(entry.path, 0).is_none());
    let missing = missing.map(|entry| format!("{} ({})", entry.means, entry.path));
    page.headed_list("Not said yet, and asked in each run that needs it", missing);
    page.note("`tankhand system setup` asks for all of it; `tankhand system set switch.cut_in '38 psi'` changes one thing.");
    page
}
