//! Figures that are read together.

use super::Figure;
use super::frame::room;

impl Figure {
    /// Figures as panels, one below the other: with one span along the bottom, and room alike beside them, so
    /// that what stands below another was at the same time.
    pub fn panels<const N: usize>(mut figures: [Figure; N]) -> [Figure; N] {
        let holds: Vec<f64> = figures.iter().flat_map(Figure::along).collect();
        for figure in &mut figures {
            figure.x.holds.clone_from(&holds);
        }
        let rooms = figures.each_ref().map(room);
        for figure in &mut figures {
            figure.y.room = rooms.iter().map(|room| room.0).max().unwrap_or(0);
            figure.x.room = rooms.iter().map(|room| room.1).max().unwrap_or(0);
        }
        figures
    }
}
