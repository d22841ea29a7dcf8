//! A figure drawn as SVG: its own text alternative, no script, nothing from elsewhere.

use std::fmt::Write;

use maud::{Markup, html};

use super::frame::{LINE_HEIGHT, PlacedLabel, PlotFrame, WIDTH};
use super::{Figure, PlotMark, PlotShape, PlotTone, Point};
use crate::words::harmless;

/// Ink for words and axes, and for the thin lines behind.
const INK: &str = "#1a1a1a";
const FAINT: &str = "#d9d9d9";
const STRIP: &str = "#ececec";

/// How a line of a tone looks: its colour and its dashes. In grey the dashes tell them apart.
fn look(tone: PlotTone) -> (&'static str, &'static str) {
    match tone {
        PlotTone::Measured => ("#003a63", "none"),
        PlotTone::Computed => ("#0068a8", "none"),
        PlotTone::Earlier => ("#a34700", "8 4"),
        PlotTone::Expected => ("#0068a8", "8 3 2 3"),
        PlotTone::Limit => ("#4a4a4a", "2 3"),
    }
}

impl Figure {
    /// The figure as an `svg` element; `id` must be its own on the page.
    ///
    /// ```
    /// use tankhand::report::{Axis, Figure, PlotMark, PlotShape, PlotTone};
    /// let line = PlotMark::new("limit", PlotTone::Limit, PlotShape::Across(3.0));
    /// let figure = Figure {
    ///     title: "A <limit>".into(), says: "It is 3.".into(),
    ///     x: Axis::even("time, min"), y: Axis::even("pressure, psi"), marks: vec![line],
    /// };
    /// assert!(figure.to_svg("one").into_string().contains("<title id=\"one-title\">A &lt;limit&gt;</title>"));
    /// ```
    pub fn to_svg(&self, id: &str) -> Markup {
        let frame = PlotFrame::of(self);
        let named = format!("{id}-title {id}-desc");
        html! {
            svg xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {WIDTH} {}", px(frame.height)))
                role="img" aria-labelledby=(named) font-size="13" fill=(INK) {
                title id=(format!("{id}-title")) { (harmless(&self.title)) }
                desc id=(format!("{id}-desc")) { (harmless(&self.says)) }
                (hatching(id))
                (strips(self, &frame, id))
                (axes(self, &frame))
                @for mark in &self.marks { (mark_shapes(mark, &frame)) }
                (inside(self, &frame))
                @for label in frame.beside.iter() { (beside(label)) }
                @for label in frame.above.iter() { (above(label)) }
            }
        }
    }
}

/// A length as it is written: a tenth of a unit is fine enough.
fn px(length: f64) -> String {
    let text = format!("{length:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_string)
}

/// What fills a strip that stands upright, so that it is told from one that lies.
fn hatching(id: &str) -> Markup {
    html! {
        defs {
            pattern id=(format!("{id}-hatch")) width="6" height="6" patternUnits="userSpaceOnUse" {
                path d="M-1 7L7 -1M-1 1L1 -1M5 7L7 5" stroke="#9a9a9a" fill="none" {}
            }
        }
    }
}

fn strips(figure: &Figure, frame: &PlotFrame, id: &str) -> Markup {
    let strip = |(left, right): (f64, f64), (top, bottom): (f64, f64), fill: &str| {
        html! {
            rect x=(px(left)) y=(px(top)) width=(px((right - left).max(0.0))) height=(px((bottom - top).max(0.0)))
                fill=(fill) {}
        }
    };
    html! {
        @for mark in &figure.marks {
            @if let PlotShape::Area(low, high) = &mark.shape {
                path d=(format!("{}Z", path(low.iter().chain(high.iter().rev()), frame))) fill=(STRIP) {}
            }
        }
        @for mark in &figure.marks {
            @match &mark.shape {
                PlotShape::Band(low, high) => {
                    (strip((frame.left, frame.right), (frame.up(*high), frame.up(*low)), STRIP))
                }
                PlotShape::Gap(from, to) => {
                    (strip((frame.across(*from), frame.across(*to)), (frame.top, frame.bottom), &format!("url(#{id}-hatch)")))
                }
                _ => {}
            }
        }
    }
}

/// Names of upright strips, at their upper ends, one below the other.
fn inside(figure: &Figure, frame: &PlotFrame) -> Markup {
    let gaps = figure.marks.iter().filter_map(|mark| match mark.shape {
        PlotShape::Gap(from, to) => Some((&mark.label, (frame.across(from) + frame.across(to)) / 2.0)),
        _ => None,
    });
    html! {
        @for ((label, middle), row) in gaps.zip(1u8..) {
            text x=(px(middle)) y=(px(frame.top + f64::from(row) * LINE_HEIGHT)) text-anchor="middle"
                stroke="#fff" stroke-width="4" stroke-linejoin="round" paint-order="stroke" {
                (harmless(label))
            }
        }
    }
}

/// Faint lines and numbers at the ticks, and what is told along each axis.
fn axes(figure: &Figure, frame: &PlotFrame) -> Markup {
    let middle = (frame.left + frame.right) / 2.0;
    html! {
        g stroke=(FAINT) fill="none" {
            @for tick in &frame.y.ticks { (line((frame.left, frame.up(*tick)), (frame.right, frame.up(*tick)))) }
        }
        g stroke=(INK) fill="none" {
            (line((frame.left, frame.bottom), (frame.right, frame.bottom)))
            @for tick in &frame.x.ticks {
                (line((frame.across(*tick), frame.bottom), (frame.across(*tick), frame.bottom + 4.0)))
            }
        }
        g text-anchor="end" {
            @for (tick, text) in frame.y.written() {
                text x=(px(frame.left - 5.0)) y=(px(frame.up(tick) + 4.5)) { (text) }
            }
        }
        g text-anchor="middle" {
            @for (tick, text) in frame.x.written() {
                text x=(px(frame.across(tick))) y=(px(frame.bottom + 4.0 + LINE_HEIGHT)) { (text) }
            }
            text x=(px(middle)) y=(px(frame.bottom + 6.0 + 2.0 * LINE_HEIGHT)) { (harmless(&figure.x.label)) }
        }
        text x="0" y="12" { (harmless(&figure.y.label)) }
    }
}

fn line(from: (f64, f64), to: (f64, f64)) -> Markup {
    html! { line x1=(px(from.0)) y1=(px(from.1)) x2=(px(to.0)) y2=(px(to.1)) {} }
}

fn mark_shapes(mark: &PlotMark, frame: &PlotFrame) -> Markup {
    let stroked = |inside: Markup| {
        let (colour, dashes) = look(mark.tone);
        html! { g stroke=(colour) stroke-width="2" stroke-dasharray=(dashes) fill="none" { (inside) } }
    };
    match &mark.shape {
        PlotShape::Line(places) => stroked(html! { path d=(path(places, frame)) {} }),
        PlotShape::Points(points) => html! {
            @for point in points.iter().filter(|p| p.x.is_finite() && p.y.is_finite()) {
                (dot(point, mark.tone, frame))
            }
        },
        PlotShape::Across(at) => stroked(line((frame.left, frame.up(*at)), (frame.right, frame.up(*at)))),
        PlotShape::Upright(at) => {
            stroked(line((frame.across(*at), frame.top), (frame.across(*at), frame.bottom)))
        }
        PlotShape::Band(..) | PlotShape::Gap(..) | PlotShape::Area(..) => html! {},
    }
}

fn path<'p>(places: impl IntoIterator<Item = &'p (f64, f64)>, frame: &PlotFrame) -> String {
    let mut path = String::new();
    for (x, y) in places.into_iter().filter(|(x, y)| x.is_finite() && y.is_finite()) {
        let (x, y) = (px(frame.across(*x)), px(frame.up(*y)));
        // Writing to a string does not fail.
        let _ = write!(path, "{}{x} {y}", if path.is_empty() { 'M' } else { 'L' });
    }
    path
}

/// A point with its limits: a dot, or an open square for how things were before; the limits are drawn over it, so that
/// narrow ones are seen too.
fn dot(point: &Point, tone: PlotTone, frame: &PlotFrame) -> Markup {
    let (colour, _) = look(tone);
    let (x, y) = (frame.across(point.x), frame.up(point.y));
    let limit = Some(point.limit).filter(|limit| limit.is_finite() && *limit > 0.0);
    html! {
        @if tone == PlotTone::Earlier {
            rect x=(px(x - 3.5)) y=(px(y - 3.5)) width="7" height="7" fill="#fff" stroke=(colour) stroke-width="1.5" {}
        } @else {
            circle cx=(px(x)) cy=(px(y)) r="3" fill=(colour) {}
        }
        @if let Some(limit) = limit {
            @let (top, bottom) = (frame.up(point.y + limit), frame.up(point.y - limit));
            g stroke=(colour) stroke-width="1.5" fill="none" {
                (line((x, top), (x, bottom)))
                (line((x - 6.0, top), (x + 6.0, top)))
                (line((x - 6.0, bottom), (x + 6.0, bottom)))
            }
        }
    }
}

fn beside(label: &PlacedLabel) -> Markup {
    html! {
        @if (label.y + (label.lines.len() as f64 - 1.0) * LINE_HEIGHT / 2.0 - label.of.1).abs() > LINE_HEIGHT / 2.0 {
            // Thin and gray, so that nobody takes it for data.
            g stroke="#8a8a8a" stroke-width="0.7" stroke-dasharray="1 2" fill="none" { (line(label.of, (label.x - 2.0, label.y))) }
        }
        text fill=(look(label.tone).0) x=(px(label.x)) y=(px(label.y + 4.5)) {
            @for (at, words) in label.lines.iter().enumerate() {
                tspan x=(px(label.x)) dy=(px(if at == 0 { 0.0 } else { LINE_HEIGHT })) { (words) }
            }
        }
    }
}

fn above(label: &PlacedLabel) -> Markup {
    let words = label.lines.join(" ");
    html! {
        g stroke=(look(label.tone).0) fill="none" {
            (line((label.x, label.y + 6.0), label.of))
        }
        text fill=(look(label.tone).0) text-anchor="middle" x=(px(label.x)) y=(px(label.y + 3.0)) { (words) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The relative luminance of a colour, WCAG 2.1.
    fn luminance(colour: &str) -> f64 {
        let part = |at: usize| {
            let c = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    }

    /// WCAG 2.1, 1.4.3: words stand out from what is behind them by 4.5 to 1 at least.
    #[test]
    fn every_colour_of_words_stands_out() {
        let tones =
            [PlotTone::Measured, PlotTone::Computed, PlotTone::Earlier, PlotTone::Expected, PlotTone::Limit];
        for colour in tones.map(|tone| look(tone).0).into_iter().chain([INK]) {
            for behind in ["#ffffff", STRIP] {
                let contrast = (luminance(behind) + 0.05) / (luminance(colour) + 0.05);
                assert!(contrast >= 4.5, "{colour} on {behind}: {contrast:.2}");
            }
        }
    }

    #[test]
    fn lines_that_may_meet_differ_without_colour() {
        let dashes: std::collections::HashSet<&str> =
            [PlotTone::Computed, PlotTone::Earlier, PlotTone::Expected, PlotTone::Limit]
                .map(|tone| look(tone).1)
                .into();
        assert_eq!(dashes.len(), 4);
    }
}
