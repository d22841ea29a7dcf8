//! The frame of a drawn figure: how much room the labels take, and where numbers fall.

use super::labels::{Wish, apart, broken, rows};
use super::{Figure, PlotMark, PlotShape, PlotTone, Scale};

/// The width of a drawing, in its own units; about a CSS pixel each at its usual size.
pub(super) const WIDTH: f64 = 400.0;
/// The height of the part that is plotted.
const PLOT_HEIGHT: f64 = 200.0;
/// The height of a line of text.
pub(super) const LINE_HEIGHT: f64 = 15.0;
/// The width of a character, on the wide side.
pub(super) const CHARACTER: f64 = 6.9;
/// The most characters on a line of a label beside the plot.
const LABEL_CHARACTERS: usize = 14;

/// A label beside or above the plot: its lines, and where its first line's middle stands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PlacedLabel {
    pub lines: Vec<String>,
    pub x: f64,
    pub y: f64,
    /// What it belongs to, to draw a lead to it.
    pub of: (f64, f64),
    pub tone: PlotTone,
}

/// The plotted rectangle and its labels.
pub(super) struct PlotFrame {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
    pub height: f64,
    pub x: Scale,
    pub y: Scale,
    /// Beside the plot.
    pub beside: Vec<PlacedLabel>,
    /// Above the plot.
    pub above: Vec<PlacedLabel>,
}

impl PlotFrame {
    pub(super) fn of(figure: &Figure) -> PlotFrame {
        let (x, y) = figure.scales();
        let (widest, room) = room(figure);
        let mut frame = PlotFrame {
            left: 10.0 + CHARACTER * widest as f64,
            right: WIDTH - 10.0 - CHARACTER * room as f64,
            top: LINE_HEIGHT + 8.0,
            bottom: 0.0,
            height: 0.0,
            x,
            y,
            beside: Vec::new(),
            above: Vec::new(),
        };
        frame.put_above(figure);
        frame.bottom = frame.top + PLOT_HEIGHT;
        frame.height = frame.bottom + 2.0 * LINE_HEIGHT + 12.0;
        frame.put_beside(figure);
        frame
    }

    /// Where a number stands along the bottom.
    pub(super) fn across(&self, x: f64) -> f64 {
        self.left + (self.right - self.left) * self.x.share(x)
    }

    /// Where a number stands up the side.
    pub(super) fn up(&self, y: f64) -> f64 {
        self.bottom - (self.bottom - self.top) * self.y.share(y)
    }

    /// Labels of what stands upright: above the plot, in as many rows as they need.
    fn put_above(&mut self, figure: &Figure) {
        let marks: Vec<(&str, f64, PlotTone)> = figure.marks.iter().filter_map(above).collect();
        let half = |label: &str| CHARACTER * label.chars().count() as f64 / 2.0 + 4.0;
        let wishes: Vec<Wish> = marks
            .iter()
            .map(|(label, at, _)| {
                let half = half(label).min(WIDTH / 2.0);
                Wish { at: self.across(*at).clamp(half, WIDTH - half), half }
            })
            .collect();
        // One row when all find room in it, pushed aside where they must; else several.
        let room = wishes.iter().map(|wish| 2.0 * wish.half).sum::<f64>();
        let (rows, middles) = match room <= WIDTH {
            true => (vec![0; wishes.len()], apart(&wishes, (0.0, WIDTH))),
            false => (rows(&wishes), wishes.iter().map(|wish| wish.at).collect()),
        };
        let count = rows.iter().max().map_or(0, |last| last + 1) as f64;
        self.top += count * LINE_HEIGHT + 5.0 * f64::from(u8::from(count > 0.0));
        for ((label, at, tone), (middle, row)) in marks.iter().zip(middles.into_iter().zip(rows)) {
            // The first row stands lowest, next to the plot.
            let y = self.top - 14.0 - row as f64 * LINE_HEIGHT;
            let lines = vec![broken(label, 60).join(" ")];
            self.above.push(PlacedLabel {
                lines,
                x: middle,
                y,
                of: (self.across(*at), self.top),
                tone: *tone,
            });
        }
    }

    fn put_beside(&mut self, figure: &Figure) {
        let marks: Vec<(Vec<String>, (f64, f64), PlotTone)> = figure
            .marks
            .iter()
            .filter(|mark| !mark.label.is_empty())
            .filter_map(|mark| {
                let (x, y) = beside(mark)?;
                let x = if x.is_nan() { self.right } else { self.across(x) };
                Some((broken(&mark.label, LABEL_CHARACTERS), (x, self.up(y)), mark.tone))
            })
            .collect();
        let wishes: Vec<Wish> = marks
            .iter()
            .map(|(lines, of, _)| Wish { at: of.1, half: lines.len() as f64 * LINE_HEIGHT / 2.0 + 1.0 })
            .collect();
        let middles = apart(&wishes, (self.top, self.bottom));
        for ((lines, of, tone), middle) in marks.into_iter().zip(middles) {
            let y = middle - (lines.len() as f64 - 1.0) * LINE_HEIGHT / 2.0;
            self.beside.push(PlacedLabel { lines, x: self.right + 9.0, y, of, tone });
        }
    }
}

/// How many characters stand left of the plot, and right of it.
pub(super) fn room(figure: &Figure) -> (usize, usize) {
    let ticks = figure.scales().1.written().iter().map(|(_, text)| text.len()).max().unwrap_or(1);
    let labels = figure.marks.iter().filter(|mark| beside(mark).is_some());
    let lines = labels.flat_map(|mark| broken(&mark.label, LABEL_CHARACTERS));
    let widest = lines.map(|line| line.chars().count()).max().unwrap_or(0);
    (ticks.max(figure.y.room), widest.max(figure.x.room))
}

/// A mark whose label stands above the plot, with its place.
fn above(mark: &PlotMark) -> Option<(&str, f64, PlotTone)> {
    match mark.shape {
        PlotShape::Upright(at) if !mark.label.is_empty() => Some((&mark.label, at, mark.tone)),
        _ => None,
    }
}

/// Where a mark ends whose label stands beside the plot; without a place along the bottom when it
/// reaches the plot's edge.
fn beside(mark: &PlotMark) -> Option<(f64, f64)> {
    match &mark.shape {
        PlotShape::Line(places) => places.last().copied(),
        PlotShape::Points(points) => points.last().map(|point| (point.x, point.y)),
        PlotShape::Across(at) => Some((f64::NAN, *at)),
        PlotShape::Band(low, high) => Some((f64::NAN, (low + high) / 2.0)),
        PlotShape::Area(_, high) => high.last().copied(),
        PlotShape::Upright(_) | PlotShape::Gap(..) => None,
    }
}
