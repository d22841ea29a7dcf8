//! What comes with the program for files to use: its parts and its states.

use super::{Page, Row};
use crate::procedure::{bringers, means, shipped_parts, shipped_states, shown_by};

/// Every shipped part.
pub(super) fn parts_page() -> Page {
    let mut page = Page::titled("Parts");
    page.text(
        "`use = \"parts/drain\"` puts one in its place; `tankhand procedures show parts/drain` reads it out.",
    );
    let rows = shipped_parts().into_iter().map(|part| {
        Row::new([part.name.to_string(), part.purpose, part.needs.join(", "), part.brings.join(", ")])
    });
    page.table(&["Part", "What it is for", "Needs", "Brings about"], rows);
    page
}

/// Every shipped state.
pub(super) fn states_page() -> Page {
    let mut page = Page::titled("States");
    page.text(
        "`states = \"parts/states\"` at the top makes them known to a file. A step needs them, brings them about and undoes \
         them; a state that something must show counts only where a step shows it.",
    );
    let rows = shipped_states().into_iter().map(|state| {
        let parts = bringers(state).join(", ");
        Row::new([state.to_string(), means(state), parts, shown_by(state).unwrap_or_default()])
    });
    page.table(&["State", "What it means", "Brought about by", "Shown by"], rows);
    page
}
