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
pub struct PlotMark {
    /// Its name, written beside it: that of a line at its end, that of points beside the last.
    pub label: String,
    /// What it tells of.
    pub tone: PlotTone,
    /// What is drawn.
    pub shape: PlotShape,
}

/// What a mark is drawn as.
#[derive(Clone, Debug, PartialEq)]
pub enum PlotShape {
    /// A line: its places, from left to right, joined straight.
    Line(Vec<(f64, f64)>),
    /// Things read, each with its limits, from left to right.
    Points(Vec<Point>),
    /// A line across at a height.
    Across(f64),
    /// A line upright at a place along the bottom.
    Upright(f64),
    /// A strip between two heights, the lower first.
    Band(f64, f64),
    /// What lies between two lines, the lower first, each from left to right: where something else may lie.
    Area(Vec<(f64, f64)>, Vec<(f64, f64)>),
    /// A strip between two places along the bottom, the left first.
    Gap(f64, f64),
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
    /// A mark with its name and what it tells of.
    pub fn new(label: impl Into<String>, tone: PlotTone, shape: PlotShape) -> PlotMark {
        PlotMark { label: label.into(), tone, shape }
    }

    /// The numbers it needs along the bottom, and up the side.
    fn reach(&self) -> (Vec<f64>, Vec<f64>) {
        match &self.shape {
            PlotShape::Line(places) => places.iter().copied().unzip(),
            PlotShape::Points(points) => (
                points.iter().map(|point| point.x).collect(),
                points.iter().flat_map(|p| [p.y, p.y - p.limit, p.y + p.limit]).collect(),
            ),
            PlotShape::Across(at) => (Vec::new(), vec![*at]),
            PlotShape::Upright(at) => (vec![*at], Vec::new()),
            PlotShape::Band(low, high) => (Vec::new(), vec![*low, *high]),
            PlotShape::Gap(from, to) => (vec![*from, *to], Vec::new()),
            PlotShape::Area(low, high) => low.iter().chain(high).copied().unzip(),
        }
    }
}

impl Figure {
    /// Every number that must lie along the bottom.
    fn along(&self) -> Vec<f64> {
        let reaches = self.marks.iter().flat_map(|mark| mark.reach().0);
        self.x.holds.iter().copied().chain(reaches).collect()
    }

    /// The scales that hold everything drawn: along the bottom, and up the side.
    pub fn scales(&self) -> (Scale, Scale) {
        let reaches = self.marks.iter().flat_map(|mark| mark.reach().1);
        let up: Vec<f64> = self.y.holds.iter().copied().chain(reaches).collect();
        (Scale::around(&self.along(), &self.x), Scale::around(&up, &self.y))
    }

    /// Whether anything can be seen on it: a line or points with a number.
    pub fn shows_something(&self) -> bool {
        let number = |(x, y): (f64, f64)| x.is_finite() && y.is_finite();
        self.marks.iter().any(|mark| match &mark.shape {
            PlotShape::Line(places) => places.iter().any(|place| number(*place)),
            PlotShape::Points(points) => points.iter().any(|point| number((point.x, point.y))),
            _ => false,
        })
    }
}
