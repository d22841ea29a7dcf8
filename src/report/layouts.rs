//! Common layouts of a well's pipes, drawn in letters, and how a system file tells which it is.

use super::Page;

/// A layout: what it is called, its drawing, what can be done there, its lines in a system file.
struct Layout {
    name: &'static str,
    drawing: &'static str,
    means: &'static str,
    lines: &'static str,
}

/// The layouts that are common, by common practice; the most common first.
const LAYOUTS: &[Layout] = &[
    Layout {
        name: "Drain on the tank tee",
        drawing: "\
from the well --(check valve)--+-----+------+------+---(shutoff)--- house
                               |     |      |      |
                             drain switch gauge  relief
                               |
                          (isolation)
                               |
                              tank",
        means: "The usual one. The drain empties tank and line together. Partial fills are let in by the breaker: \
                the isolation valve may be missing, and would shut the drain off from the tank.",
        lines: "[layout]\ndrain = \"tee\"",
    },
    Layout {
        name: "Drain between isolation valve and tank",
        drawing: "\
from the well --(check valve)--+------+------+-------+---(shutoff)--- house
                               |      |      |       |
                             switch gauge  relief  spigot
                               |
                          (isolation)
                               |
                               +--- drain
                               |
                              tank",
        means: "With the isolation valve shut the tank drains alone, and the line stays under pressure. So partial \
                fills can be let in by that valve, opened a crack, while the spigot runs.",
        lines: "[layout]\ndrain = \"tank\"\ncontrols = \"line\"\nspigot = \"line\"",
    },
    Layout {
        name: "Several tanks, each with its own valve and drain",
        drawing: "\
from the well --(check valve)--+------+------+------+---------+---(shutoff)--- house
                               |      |      |      |         |
                             switch gauge  relief (isolation) (isolation)
                                                    |         |
                                                    +- drain  +- drain
                                                    |         |
                                                  tank 1    tank 2",
        means: "One tank keeps the pressure while another is flushed or replaced, with the breaker off.",
        lines: "[layout]\ndrain = \"tank\"\ncontrols = \"line\"\nspigot = \"none\"",
    },
];

/// Adds the layouts to a page, each with the lines that tell of it.
///
/// ```
/// use tankhand::report::{guide_page, to_text};
/// let lines = to_text(&guide_page("installation").unwrap(), 80);
/// assert!(lines.contains(&"Drain on the tank tee".to_string()));
/// ```
pub(super) fn put_layouts(page: &mut Page) {
    page.heading("How an installation is laid out");
    page.text(
        "Follow the pipe from the well. Find isolation valve, drain valve, switch, gauge, relief valve and spigot, \
         and choose the drawing that fits. The lines below it go into your system file.",
    );
    for layout in LAYOUTS {
        page.heading(layout.name);
        page.listing(layout.drawing);
        page.text(layout.means);
        page.listing(layout.lines);
    }
    page.note(
        "A check valve between the tank and its switch, or a filter there, belongs to none of these: have a pump \
         installer move it.",
    );
}
