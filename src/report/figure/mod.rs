//! Figures: what is plotted, not how it looks.
//!
//! A [`Figure`] is a plain value: axes, marks, and in words what it shows. It is drawn twice from
//! that one value: as [SVG](Figure::to_svg) and as [text](Figure::to_text). Every mark is told
//! apart by its line and its label, never by colour alone.

mod frame;
mod labels;
mod panels;
mod plot;
mod scale;
mod svg;

pub use scale::{Axis, Scale, Spread};

use crate::quantity::{Measure, Unit};
use crate::record::{Entry, si_of};

/// A figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is called.
    pub title: String,
    /// What it shows, in sentences: for those who cannot see it, and below it for all.
    pub says: String,
    /// What runs along the bottom.
    pub x: Axis,
    /// What runs up the side.
    pub y: Axis,
    /// What is drawn, the first lowest.
    pub marks: Vec<PlotMark>,
}

/// What a mark tells of; decides its line and colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlotTone {
    /// What was measured.
    Measured,
    /// What is computed from it.
    Computed,
    /// How things were before, or how else they could be.
    Earlier,
    /// What would follow if it went on like this.
    Expected,
    /// A limit that is held against it.
    Limit,
}

/// Something read, with its limits either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Along the bottom.
    pub x: f64,
    /// Up the side.
    pub y: f64,
    /// The limit at about 95 %, either way; zero when none is known.
    pub limit: f64,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum PlotMark {
    /// A line.
    Line {
        /// Its name, written at its end.
        label: String,
        /// What it tells of.
        tone: PlotTone,
        /// Its places, from left to right, joined straight.
        places: Vec<(f64, f64)>,
    },
    /// Things read, each with its limits.
    Points {
        /// Their name, written beside the last.
        label: String,
        /// What they tell of.
        tone: PlotTone,
        /// The points, from left to right.
        points: Vec<Point>,
    },
    /// A line across at a height.
    Across {
        /// Its name.
        label: String,
        /// The height.
        at: f64,
        /// What it tells of.
        tone: PlotTone,
    },
    /// A line upright.
    Upright {
        /// Its name.
        label: String,
        /// Where it stands.
        at: f64,
        /// What it tells of.
        tone: PlotTone,
    },
    /// A strip between two heights.
    Band {
        /// Its name.
        label: String,
        /// Its lower edge.
        low: f64,
        /// Its upper edge.
        high: f64,
    },
    /// What lies between two lines: where something else may lie.
    Area {
        /// Its name, written at its end.
        label: String,
        /// Its lower edge, from left to right.
        low: Vec<(f64, f64)>,
        /// Its upper edge, from left to right.
        high: Vec<(f64, f64)>,
    },
    /// A strip between two places along the bottom.
    Gap {
        /// Its name.
        label: String,
        /// Its left edge.
        from: f64,
        /// Its right edge.
        to: f64,
    },
}

impl Point {
    /// A number of a record at a place along the bottom, in a unit of a measure; `None` where it is no such number.
    pub(super) fn of(x: f64, entry: &Entry, measure: Measure, unit: &Unit) -> Option<Point> {
        let y = unit.number_of(measure, si_of(entry, measure)?);
        let read_in = crate::quantity::unit(entry.unit.as_deref()?)?;
        let u = entry.uncertainty.filter(|u| u.is_finite()).unwrap_or(0.0) * read_in.size;
        Some(Point { x, y, limit: 2.0 * u / unit.size })
    }
}

impl PlotMark {
    /// Its name.
    pub fn label(&self) -> &str {
        match self {
            PlotMark::Line { label, .. }
            | PlotMark::Points { label, .. }
            | PlotMark::Across { label, .. }
            | PlotMark::Upright { label, .. }
            | PlotMark::Band { label, .. }
            | PlotMark::Area { label, .. }
            | PlotMark::Gap { label, .. } => label,
        }
    }

    /// The numbers it needs along the bottom, and up the side.
    fn reach(&self) -> (Vec<f64>, Vec<f64>) {
        match self {
            PlotMark::Line { places, .. } => places.iter().copied().unzip(),
            PlotMark::Points { points, .. } => (
                points.iter().map(|point| point.x).collect(),
                points.iter().flat_map(|p| [p.y, p.y - p.limit, p.y + p.limit]).collect(),
            ),
            PlotMark::Across { at, .. } => (Vec::new(), vec![*at]),
            PlotMark::Upright { at, .. } => (vec![*at], Vec::new()),
            PlotMark::Band { low, high, .. } => (Vec::new(), vec![*low, *high]),
            PlotMark::Gap { from, to, .. } => (vec![*from, *to], Vec::new()),
            PlotMark::Area { low, high, .. } => low.iter().chain(high).copied().unzip(),
        }
    }
}

impl Figure {
    /// Every number that must lie along the bottom.
    fn along(&self) -> Vec<f64> {
        let drawn = self.marks.iter().flat_map(|mark| mark.reach().0);
        self.x.holds.iter().copied().chain(drawn).collect()
    }

    /// The scales that hold everything drawn: along the bottom, and up the side.
    pub fn scales(&self) -> (Scale, Scale) {
        let drawn = self.marks.iter().flat_map(|mark| mark.reach().1);
        let up: Vec<f64> = self.y.holds.iter().copied().chain(drawn).collect();
        (Scale::around(&self.along(), &self.x), Scale::around(&up, &self.y))
    }

    /// Whether anything can be seen on it: a line or points with a number.
    pub fn shows_something(&self) -> bool {
        let number = |(x, y): (f64, f64)| x.is_finite() && y.is_finite();
        self.marks.iter().any(|mark| match mark {
            PlotMark::Line { places, .. } => places.iter().any(|place| number(*place)),
            PlotMark::Points { points, .. } => points.iter().any(|point| number((point.x, point.y))),
            _ => false,
        })
    }
}
