//! A figure as text: for a terminal, an e-mail, a printer without pictures.

use std::ops::RangeInclusive;

use textwrap::core::display_width;

use super::{Figure, PlotMark, PlotShape, PlotTone, Point, Scale};
use crate::report::text::hung;
use crate::words::{harmless, wrap};

// The signs for each thing drawn; every machine has them.
const POINT: char = 'o';
const EARLIER_POINT: char = 'x';
const LIMIT: char = '|';
const COMPUTED: char = '*';
const EARLIER: char = '+';
const EXPECTED: char = '.';
const ACROSS: char = '-';
const UPRIGHT: char = ':';
const BAND: char = '/';
const GAP: char = '\\';
const SIDE: char = '|';
const FOOT: char = '-';
const TICK: char = '+';
const CORNER: char = '+';

/// The sign of a line.
fn sign_of(tone: PlotTone) -> char {
    match tone {
        PlotTone::Measured | PlotTone::Computed => COMPUTED,
        PlotTone::Earlier => EARLIER,
        PlotTone::Expected => EXPECTED,
        PlotTone::Limit => ACROSS,
    }
}

/// The sign of a point.
fn point_of(tone: PlotTone) -> char {
    match tone {
        PlotTone::Earlier => EARLIER_POINT,
        PlotTone::Measured | PlotTone::Computed | PlotTone::Expected | PlotTone::Limit => POINT,
    }
}

impl Figure {
    /// The figure in lines of at most `width` columns (taken as 40 to 80): what it is called, the
    /// plot, a key to its signs, and what it says.
    pub fn to_text(&self, width: usize) -> Vec<String> {
        let width = width.clamp(40, 80);
        let mut lines = wrap(&clean(&format!("Figure: {}", self.title)), width, 0);
        lines.extend(wrap(&clean(&self.y.label), width, 0));
        let mut canvas = Canvas::new(self, width);
        canvas.draw(&self.marks);
        lines.extend(canvas.lines());
        let middle = (width + canvas.gutter).saturating_sub(display_width(&clean(&self.x.label))) / 2;
        lines.extend(wrap(&clean(&self.x.label), width, middle.min(width / 2)));
        let key = self.key().into_iter();
        lines.extend(key.flat_map(|(sign, label)| hung(&format!("  {sign}  "), &label, width)));
        lines.extend(wrap(&clean(&self.says), width, 0));
        lines
    }

    /// What each sign stands for.
    fn key(&self) -> Vec<(char, String)> {
        let mut letters = ('a'..='z').cycle();
        let sign = |mark: &PlotMark, letter: Option<char>| match mark.shape {
            PlotShape::Line(_) | PlotShape::Across(_) => sign_of(mark.tone),
            PlotShape::Points(_) => point_of(mark.tone),
            PlotShape::Upright(_) => letter.unwrap_or(UPRIGHT),
            PlotShape::Band(..) => BAND,
            PlotShape::Area(..) => EARLIER,
            PlotShape::Gap(..) => GAP,
        };
        let mut key = Vec::new();
        for mark in self.marks.iter().filter(|mark| !mark.label.is_empty()) {
            let letter = matches!(mark.shape, PlotShape::Upright(_)).then(|| letters.next()).flatten();
            key.push((sign(mark, letter), clean(&mark.label)));
        }
        key
    }
}

fn clean(text: &str) -> String {
    harmless(&text.replace(['\n', '\t'], " "))
}

/// The cells of the plot, the top row first.
struct Canvas {
    cells: Vec<Vec<char>>,
    gutter: usize,
    x: Scale,
    y: Scale,
}

impl Canvas {
    fn new(figure: &Figure, width: usize) -> Canvas {
        let (x, y) = figure.scales();
        let ticks = y.written().iter().map(|(_, text)| text.len()).max().unwrap_or(0);
        let gutter = ticks.max(figure.y.room) + 2;
        let columns = width.saturating_sub(gutter + 1).max(10);
        let rows = if width < 60 { 11 } else { 15 };
        Canvas { cells: vec![vec![' '; columns]; rows], gutter, x, y }
    }

    fn column(&self, x: f64) -> usize {
        (self.x.share(x) * (self.cells[0].len() - 1) as f64).round() as usize
    }

    fn row(&self, y: f64) -> usize {
        ((1.0 - self.y.share(y)) * (self.cells.len() - 1) as f64).round() as usize
    }

    fn draw(&mut self, marks: &[PlotMark]) {
        for mark in marks {
            match &mark.shape {
                PlotShape::Band(low, high) => {
                    let (top, bottom) = (self.row(*high), self.row(*low));
                    self.fill(BAND, top..=bottom, 0..=self.cells[0].len() - 1);
                }
                PlotShape::Gap(from, to) => {
                    let (left, right) = (self.column(*from), self.column(*to));
                    self.fill(GAP, 0..=self.cells.len() - 1, left..=right);
                }
                _ => {}
            }
        }
        let mut letters = ('a'..='z').cycle();
        for mark in marks {
            match &mark.shape {
                PlotShape::Across(at) => {
                    let (row, sign) = (self.row(*at), sign_of(mark.tone));
                    self.cells[row].fill(sign);
                }
                PlotShape::Upright(at) => {
                    let letter = (!mark.label.is_empty()).then(|| letters.next()).flatten();
                    self.upright(*at, letter);
                }
                _ => {}
            }
        }
        for mark in marks {
            match &mark.shape {
                PlotShape::Area(low, high) => {
                    [low, high].into_iter().for_each(|edge| self.line(edge, EARLIER));
                }
                PlotShape::Line(places) => self.line(places, sign_of(mark.tone)),
                PlotShape::Points(points) => {
                    for point in points.iter().filter(|p| p.x.is_finite() && p.y.is_finite()) {
                        self.point(point, point_of(mark.tone));
                    }
                }
                _ => {}
            }
        }
    }

    fn fill(&mut self, sign: char, rows: RangeInclusive<usize>, columns: RangeInclusive<usize>) {
        for row in rows {
            // Sparse, so that lines over it are seen.
            for column in columns.clone().filter(|column| (column + row) % 3 == 0) {
                self.cells[row][column] = sign;
            }
        }
    }

    fn upright(&mut self, at: f64, letter: Option<char>) {
        let column = self.column(at);
        for row in &mut self.cells {
            row[column] = UPRIGHT;
        }
        let Some(letter) = letter else { return };
        // Beside another letter, one row lower, so that both are seen.
        let free = self
            .cells
            .iter()
            .position(|row| !row[column.saturating_sub(1)..].iter().take(3).any(char::is_ascii_lowercase));
        self.cells[free.unwrap_or(0)][column] = letter;
    }

    fn line(&mut self, places: &[(f64, f64)], sign: char) {
        let seen = |(x, y): &&(f64, f64)| x.is_finite() && y.is_finite();
        let places: Vec<(f64, f64)> =
            places.iter().filter(seen).map(|(x, y)| (self.x.share(*x), self.y.share(*y))).collect();
        let (columns, rows) = ((self.cells[0].len() - 1) as f64, (self.cells.len() - 1) as f64);
        for pair in places.windows(2) {
            let [(x0, y0), (x1, y1)] = pair else { continue };
            let (first, last) = ((x0 * columns).round() as usize, (x1 * columns).round() as usize);
            for column in first.min(last)..=first.max(last) {
                let along = if first == last { 1.0 } else { (column as f64 / columns - x0) / (x1 - x0) };
                let y = y0 + (y1 - y0) * along.clamp(0.0, 1.0);
                self.cells[((1.0 - y) * rows).round() as usize][column] = sign;
            }
        }
    }

    fn point(&mut self, point: &Point, sign: char) {
        let Point { x, y, limit } = *point;
        let column = self.column(x);
        if limit.is_finite() && limit > 0.0 {
            for row in self.row(y + limit)..=self.row(y - limit) {
                self.cells[row][column] = LIMIT;
            }
        }
        let row = self.row(y);
        self.cells[row][column] = sign;
    }

    /// The rows with the axes around them.
    fn lines(&self) -> Vec<String> {
        let mut ticks = vec![String::new(); self.cells.len()];
        for (tick, text) in self.y.written() {
            ticks[self.row(tick)] = text;
        }
        let row = |(cells, tick): (&Vec<char>, &String)| {
            let cells: String = cells.iter().collect();
            format!("{tick:>width$} {}{cells}", SIDE, width = self.gutter - 2).trim_end().to_string()
        };
        let mut lines: Vec<String> = self.cells.iter().zip(&ticks).map(row).collect();
        lines.extend(self.foot());
        lines
    }

    /// The axis along the bottom, and its numbers.
    fn foot(&self) -> [String; 2] {
        let columns = self.cells[0].len();
        let mut axis = vec![FOOT; columns];
        let mut numbers = vec![' '; self.gutter + columns + 1];
        let mut free = 0;
        for (tick, text) in self.x.written() {
            let column = self.column(tick);
            axis[column] = TICK;
            let start = (self.gutter + column).saturating_sub(text.len() / 2);
            let start = start.min(numbers.len().saturating_sub(text.len()));
            if start < free {
                continue;
            }
            free = start + text.len() + 1;
            for (at, c) in text.chars().enumerate() {
                if let Some(cell) = numbers.get_mut(start + at) {
                    *cell = c;
                }
            }
        }
        let axis: String = axis.into_iter().collect();
        let numbers: String = numbers.into_iter().collect();
        [format!("{}{}{axis}", " ".repeat(self.gutter - 1), CORNER), numbers.trim_end().to_string()]
    }
}
