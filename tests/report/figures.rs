//! Figures of anything at all: sound as SVG, and within their width as text.

use proptest::prelude::*;
use tankhand::report::{Axis, Figure, HtmlForm, Page, PlotMark, PlotShape, PlotTone, Point, Spread, to_html};
use tankhand::words::is_harmless;
use textwrap::core::display_width;

use crate::{golden, markup};

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![-100.0..100.0f64, any::<f64>(), Just(f64::NAN), Just(f64::INFINITY), Just(0.0)]
}

fn any_label() -> impl Strategy<Value = String> {
    prop_oneof!["[a-z ]{0,30}", "\\PC{0,20}", Just("<b>&\"'\u{1b}\n\t".to_string())]
}

fn any_mark() -> impl Strategy<Value = PlotMark> {
    let tone = proptest::sample::select(vec![
        PlotTone::Measured,
        PlotTone::Computed,
        PlotTone::Earlier,
        PlotTone::Limit,
    ]);
    let places = proptest::collection::vec((any_number(), any_number(), any_number()), 0..8);
    (0..6u8, any_label(), tone, places, any_number(), any_number()).prop_map(
        |(kind, label, tone, numbers, a, b)| {
            let places = numbers.iter().map(|(x, y, _)| (*x, *y)).collect();
            let points = numbers.iter().map(|(x, y, limit)| Point { x: *x, y: *y, limit: *limit }).collect();
            let shape = match kind {
                0 => PlotShape::Line(places),
                1 => PlotShape::Points(points),
                2 => PlotShape::Across(a),
                3 => PlotShape::Upright(a),
                4 => PlotShape::Band(a, b),
                _ => PlotShape::Gap(a, b),
            };
            PlotMark::new(label, tone, shape)
        },
    )
}

fn any_axis() -> impl Strategy<Value = Axis> {
    let spread = proptest::sample::select(vec![Spread::Even, Spread::Factors]);
    (any_label(), spread, any::<bool>()).prop_map(|(label, spread, whole)| Axis {
        spread,
        whole,
        room: 0,
        ..Axis::even(label)
    })
}

fn any_figure() -> impl Strategy<Value = Figure> {
    let marks = proptest::collection::vec(any_mark(), 0..6);
    (any_axis(), any_axis(), marks).prop_map(|(x, y, marks)| Figure {
        title: "A <figure>".to_string(),
        says: "What it & its \"marks\" show.".to_string(),
        x,
        y,
        marks,
    })
}

proptest! {
    #[test]
    fn any_figure_is_sound(figure in any_figure(), width in 40usize..=80) {
        let mut page = Page::titled("Figures");
        page.blocks.push(tankhand::report::PageBlock::Figure(Box::new(figure.clone())));
        prop_assert_eq!(markup::holds(&to_html(&page, HtmlForm::Report, "Figures")), Ok(()));
        for line in figure.to_text(width) {
            prop_assert!(display_width(&line) <= width && is_harmless(&line), "{:?}", line);
        }
    }
}

/// One of everything.
fn sample() -> Figure {
    let places = vec![(0.0, 0.0), (20.0, 0.0), (40.0, 8.0), (60.0, 12.0)];
    let points = vec![Point { x: 25.0, y: 2.0, limit: 1.0 }, Point { x: 55.0, y: 11.0, limit: 2.0 }];
    let label = |text: &str| text.to_string();
    Figure {
        title: label("One of everything"),
        says: label("Lines, points, strips and limits."),
        x: Axis::even("pressure, psi").holding(&[0.0]),
        y: Axis::even("water, gal"),
        marks: vec![
            PlotMark::new("drawdown", PlotTone::Limit, PlotShape::Band(4.0, 11.0)),
            PlotMark::new("dead gap", PlotTone::Limit, PlotShape::Gap(35.0, 45.0)),
            PlotMark::new("a limit", PlotTone::Limit, PlotShape::Across(13.0)),
            PlotMark::new("cut-in", PlotTone::Limit, PlotShape::Upright(30.0)),
            PlotMark::new("cut-out", PlotTone::Limit, PlotShape::Upright(50.0)),
            PlotMark::new("as left", PlotTone::Computed, PlotShape::Line(places.clone())),
            PlotMark::new("as it was", PlotTone::Earlier, PlotShape::Line(places)),
            PlotMark::new("measured", PlotTone::Measured, PlotShape::Points(points)),
        ],
    }
}

#[test]
fn one_of_everything() {
    let figure = sample();
    golden::holds(
        "tests/report/golden/figure.svg",
        &(figure.to_svg("one").into_string().replace("><", ">\n<") + "\n"),
    );
    let mut texts = String::new();
    for width in [80, 40, 60] {
        texts.push_str(&(figure.to_text(width).join("\n") + "\n\n"));
    }
    golden::holds("tests/report/golden/figure.txt", &texts);
}

#[test]
fn an_empty_figure_shows_nothing() {
    let mut figure = sample();
    assert!(figure.shows_something());
    figure.marks.truncate(5);
    assert!(!figure.shows_something());
}
