//! Pages as lines: every block at every width, and whatever stands in it.

use proptest::prelude::*;
use tankhand::report::{Page, PageBlock, Row, to_text};
use tankhand::words::is_harmless;
use textwrap::core::display_width;

fn struck<const N: usize>(cells: [&str; N]) -> Row {
    Row { struck: true, ..Row::new(cells) }
}

fn every_block() -> Page {
    let mut page = Page::titled("A page with a title that is longer than the narrowest line");
    page.text("A paragraph that is broken where it must be, and only there.\nA line end stays.");
    page.heading("Heading");
    page.table(
        &["No.", "Step", "Answer"],
        vec![
            Row::new(["1", "Air found", "36 ± 3 psi"]),
            struck(["2", "Air found once more, with another gauge", "39 psi\nwithdrawn, see 3"]),
            Row::new(["3", "Air left", ""]),
        ],
    );
    page.blocks.push(PageBlock::List(vec!["one".into(), "another that does not fit on one line".into()]));
    page.note("It certifies nothing.\n\nNothing at all.");
    page
}

#[test]
fn every_block_is_laid_out_wide() {
    let expected = "\
A page with a title that is longer than the narrowest line
==========================================================

A paragraph that is broken where it must be, and only there.
A line end stays.

Heading
-------

  No.  Step                                     Answer
  ---  ---------------------------------------  ----------------
  1    Air found                                36 ± 3 psi
x 2    Air found once more, with another gauge  39 psi
                                                withdrawn, see 3
  3    Air left
x: withdrawn, no longer counts

- one
- another that does not fit on one line

Note: It certifies nothing.

      Nothing at all.";
    assert_eq!(to_text(&every_block(), 80).join("\n"), expected);
}

#[test]
fn every_block_is_laid_out_narrow() {
    let expected = "\
A page with a title that is longer than
the narrowest line
=======================================

A paragraph that is broken where it must
be, and only there.
A line end stays.

Heading
-------

  No.  Step              Answer
  ---  ----------------  ---------------
  1    Air found         36 ± 3 psi
x 2    Air found once    39 psi
       more, with        withdrawn, see
       another gauge     3
  3    Air left
x: withdrawn, no longer counts

- one
- another that does not fit on one line

Note: It certifies nothing.

      Nothing at all.";
    assert_eq!(to_text(&every_block(), 40).join("\n"), expected);
    // A narrower page is not made, nor a wider one.
    assert_eq!(to_text(&every_block(), 3), to_text(&every_block(), 40));
    assert_eq!(to_text(&every_block(), usize::MAX), to_text(&every_block(), 120));
}

/// No column is cut into its words for the sake of another.
#[test]
fn a_name_is_not_broken_to_make_room() {
    let mut page = Page::default();
    page.table(&[], vec![Row::new(["20310405-0901-flush", "a text that can be broken anywhere"])]);
    let expected = "\
20310405-0901-flush  a text that can be
                     broken anywhere";
    assert_eq!(to_text(&page, 40).join("\n"), expected);
}

#[test]
fn columns_that_do_not_fit_become_blocks() {
    let mut page = Page::default();
    let rows = vec![
        Row::new(["1", "Air found", "Pressure at the valve", "36.5", "a reading"]),
        struck(["2", "", "What does the gauge at the tank show now?", "", "a long remark on this reading"]),
    ];
    page.table(&["No.", "Step", "Question", "Given", ""], rows);
    let expected = "\
1  Air found
  Question: Pressure at the valve
  Given: 36.5
  a reading

x 2
  Question: What does the gauge at the
    tank show now?
  a long remark on this reading
x: withdrawn, no longer counts";
    assert_eq!(to_text(&page, 40).join("\n"), expected);
}

#[test]
fn nothing_makes_no_lines() {
    assert_eq!(to_text(&Page::default(), 80), [""; 0]);
    let mut page = Page::default();
    page.table(&["a"], Vec::<Row>::new());
    page.headed_list("a", Vec::<String>::new());
    page.headed_table("a", &[], Vec::<Row>::new());
    assert_eq!(page, Page::default());
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z ]{0,60}",
        "\\PC{0,40}",
        "[a-zA-Z0-9]{0,200}",
        Just("日本語 \u{1b}[31m\t\r\n x\u{301}\u{202e}\n\n  ".to_string()),
        Just(" ".repeat(150)),
        Just(String::new()),
    ]
}

fn any_page() -> impl Strategy<Value = Page> {
    let texts = |most| proptest::collection::vec(any_text(), 0..most);
    let row = (texts(7), any::<bool>()).prop_map(|(cells, struck)| Row::new(cells).struck_if(struck));
    let block = prop_oneof![
        any_text().prop_map(PageBlock::Heading),
        any_text().prop_map(PageBlock::Text),
        any_text().prop_map(PageBlock::Note),
        texts(4).prop_map(PageBlock::List),
        (texts(7), proptest::collection::vec(row, 0..5))
            .prop_map(|(head, rows)| PageBlock::Table { head, rows }),
    ];
    (proptest::option::of(any_text()), proptest::collection::vec(block, 0..6))
        .prop_map(|(title, blocks)| Page { title, blocks })
}

/// The letters and digits of a text, in no order.
fn letters<'a>(texts: impl Iterator<Item = &'a str>) -> Vec<char> {
    let mut letters: Vec<char> = texts.flat_map(str::chars).filter(char::is_ascii_alphanumeric).collect();
    letters.sort_unstable();
    letters
}

proptest! {
    #[test]
    fn no_line_is_wider_than_asked_for_or_harmful(page in any_page(), width in 0usize..140) {
        for line in to_text(&page, width) {
            prop_assert!(display_width(&line) <= width.clamp(40, 120), "{line:?}");
            prop_assert!(is_harmless(&line) && !line.contains(['\n', '\t']), "{line:?}");
            prop_assert_eq!(line.trim_end(), line.as_str());
        }
    }

    /// Whatever the layout, everything in a row is shown.
    #[test]
    fn no_cell_is_lost(cells in proptest::collection::vec(any_text(), 0..7), width in 40usize..120) {
        let page = Page { title: None, blocks: vec![PageBlock::Table { head: Vec::new(), rows: vec![Row::new(cells.clone())] }] };
        let lines = to_text(&page, width);
        prop_assert_eq!(letters(lines.iter().map(String::as_str)), letters(cells.iter().map(String::as_str)));
    }
}
