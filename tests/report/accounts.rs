//! Reports and tags of the demonstrations, whole; and of records that mean no good.

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use tankhand::app::{DEMOS, Done, Failure, Home, ReportTo, report, tag, verify_records};
use tankhand::engine::RunInput;
use tankhand::record::{Contents, Entry, Outcome, Phase, Trouble, read};
use tankhand::report::{
    HtmlForm, Page, RecordSeals, RunView, all_to_html, report_pages, tag_pages, to_html, to_text,
};
use tankhand::system::System;

use crate::golden;
use crate::markup;
use crate::pages::{any_contents, holds_its_width};
use crate::samples::{SMALL, begun, eventful, loaded, record};
use crate::stage::{demo, played};

/// The record of a demonstration, in a folder of its own.
pub fn performed(name: &str) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let record = played(demo(name)).put(folder.path());
    (folder, record)
}

pub type Writes = fn(&str, &ReportTo, &Home, &mut dyn std::io::Write) -> Result<Done, Failure>;

/// A tag of 5 by 3 inches.
pub fn card(id: &str, to: &ReportTo, home: &Home, out: &mut dyn std::io::Write) -> Result<Done, Failure> {
    tag(id, to, HtmlForm::Tag, home, out)
}

pub fn written(write: Writes, record: &Path, to: &ReportTo) -> String {
    let home = Home::find(Some(record.parent().unwrap())).unwrap();
    let mut out = Vec::new();
    assert_eq!(write(record.to_str().unwrap(), to, &home, &mut out).unwrap(), Done::Well);
    String::from_utf8(out).unwrap()
}

/// Without the style sheet and the seal, an element a line.
fn reviewable(html: &str) -> String {
    let style = html.find("<style>").unwrap()..html.find("</style>").unwrap();
    let html = html.replacen(&html[style], "<style>", 1).replace("><", ">\n<");
    let kept = html.split_once(";base64,").and_then(|(_, rest)| rest.split_once('"')).map(|(kept, _)| kept);
    unsealed(&kept.map_or(html.clone(), |kept| html.replacen(kept, "(the record)", 1)))
}

fn in_text(pages: &[Page]) -> String {
    pages.iter().map(|page| to_text(page, 80).join("\n") + "\n").collect::<Vec<_>>().join("\n\n")
}

/// The last seal changes with every word of a procedure.
fn unsealed(text: &str) -> String {
    let is_seal = |line: &str| line.len() >= 64 && line.chars().take(64).all(|c| c.is_ascii_hexdigit());
    let lines = text.lines().map(|line| match is_seal(line) {
        true => format!("(a seal){}\n", &line[64..]),
        false => format!("{line}\n"),
    });
    lines.collect()
}

#[test]
fn the_demonstrations_are_reported() {
    for demo in ["gritty-tank", "mountain-hut", "waterlogged-tank"] {
        let (_folder, record) = performed(demo);
        let html = written(report, &record, &ReportTo::Html("-".into()));
        assert_eq!(markup::holds(&html), Ok(()), "{demo}");
        golden::holds(&format!("tests/report/golden/report-{demo}.html"), &reviewable(&html));
        let text = written(report, &record, &ReportTo::Text);
        golden::holds(&format!("tests/report/golden/report-{demo}.txt"), &unsealed(&text));
        let brief = written(report, &record, &ReportTo::Brief);
        golden::holds(&format!("tests/report/golden/brief-{demo}.txt"), &brief);
    }
}

#[test]
fn the_tags_of_the_demonstrations() {
    for demo in ["gritty-tank", "mountain-hut"] {
        let (_folder, record) = performed(demo);
        let html = written(card, &record, &ReportTo::Html("-".into()));
        assert_eq!(markup::holds(&html), Ok(()), "{demo}");
        golden::holds(&format!("tests/report/golden/tag-{demo}.html"), &reviewable(&html));
        golden::holds(
            &format!("tests/report/golden/tag-{demo}.txt"),
            &written(card, &record, &ReportTo::Text),
        );
    }
    let (folder, record) = performed("waterlogged-tank");
    let home = Home::find(Some(folder.path())).unwrap();
    let failure = card(record.to_str().unwrap(), &ReportTo::Text, &home, &mut Vec::new()).unwrap_err();
    assert_eq!(
        failure.to_string(),
        "There is no tag to be made of the record 20310914-1430-flush: the tank or the installation failed."
    );
}

/// Every procedure's record makes a report that fits its 80 columns and is sound HTML; a tag is
/// made where the air of a tank was left in service, one for each tank, and refused elsewhere.
#[test]
fn every_demonstration_has_its_report_and_its_tag_or_a_reason() {
    for demo in DEMOS {
        let (folder, record) = performed(demo.name);
        let home = Home::find(Some(folder.path())).unwrap();
        let id = record.to_str().unwrap();
        let html = written(report, &record, &ReportTo::Html("-".into()));
        assert_eq!(markup::holds(&html), Ok(()), "{}", demo.name);
        let text = written(report, &record, &ReportTo::Text);
        let widest = text.lines().map(textwrap::core::display_width).max();
        assert!(widest <= Some(80), "{}: {widest:?}", demo.name);
        let brief = written(report, &record, &ReportTo::Brief);
        let widest = brief.lines().map(textwrap::core::display_width).max();
        assert!(brief.lines().count() <= 20 && widest <= Some(80), "{}:\n{brief}", demo.name);
        let nameless = text.lines().find(|line| line.contains("tank 1"));
        assert_eq!(nameless, None, "{}: a tank without its name", demo.name);
        let contents = read(&record).unwrap();
        let completed = contents.summary.as_ref().is_some_and(|end| end.outcome == Outcome::Completed);
        let charged = |tank: Option<&str>| {
            let left = |e: &Entry| e.observes.as_deref() == Some("precharge") && e.phase == Some(Phase::Left);
            let told = |e: &&Entry| left(e) && e.value.is_some() && e.tank.as_deref() == tank;
            contents.entries.iter().any(|entry| told(&entry))
        };
        let tanks = &contents.header.tanks;
        let cards = match tanks.as_slice() {
            [] => usize::from(charged(None)),
            several => several.iter().filter(|tank| charged(Some(tank))).count(),
        };
        let mut out = Vec::new();
        match card(id, &ReportTo::Html("-".into()), &home, &mut out) {
            Ok(_) => {
                let html = String::from_utf8(out).unwrap();
                let made = markup::tags(&html).unwrap().iter().filter(|tag| tag.name == "h1").count();
                assert_eq!((made, completed), (cards, true), "{}", demo.name);
            }
            Err(refused) => {
                assert_eq!(refused.code(), 2, "{}", demo.name);
                assert!(!completed || cards == 0, "{}: {refused}", demo.name);
            }
        }
    }
}

#[test]
fn a_report_replaces_a_report_and_nothing_else() {
    let (folder, record) = performed("waterlogged-tank");
    let file = folder.path().join("report.html");
    let to = ReportTo::Html(file.clone());
    for _ in 0..2 {
        assert_eq!(written(report, &record, &to), format!("{} written.\n", file.display()));
        assert_eq!(markup::holds(&std::fs::read_to_string(&file).unwrap()), Ok(()));
    }
    std::fs::write(&file, "my own page").unwrap();
    let home = Home::find(Some(folder.path())).unwrap();
    let refused = report(record.to_str().unwrap(), &to, &home, &mut Vec::new()).unwrap_err();
    assert_eq!(refused.code(), 2);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "my own page");
}

#[test]
fn a_broken_seal_is_told_first() {
    let (folder, record) = performed("gritty-tank");
    let text = std::fs::read_to_string(&record).unwrap();
    let changed = text.replacen("given = \"38\"", "given = \"28\"", 1);
    assert_ne!(text, changed);
    std::fs::write(&record, changed).unwrap();
    let home = Home::find(Some(folder.path())).unwrap();
    let mut out = Vec::new();
    let to = ReportTo::Html("-".into());
    assert_eq!(report(record.to_str().unwrap(), &to, &home, &mut out).unwrap(), Done::Short);
    let html = String::from_utf8(out).unwrap();
    assert_eq!(markup::holds(&html), Ok(()));
    let note = markup::tags(&html).unwrap().into_iter().find(|tag| tag.name == "p").unwrap();
    let trouble = read(&record).unwrap_err().trouble;
    assert!(matches!(trouble, Trouble::Edited(_)));
    let told = "Below stands only what is whole.";
    assert_eq!(note.text, format!("Note: BROKEN SEAL: {}. {told}", trouble.what()));
}

/// Who has only the page can hold the record in it against its seals, and the page against the record.
#[test]
fn a_page_is_verified_with_the_record_it_holds() {
    let (folder, record) = performed("gritty-tank");
    let home = Home::find(Some(folder.path())).unwrap();
    let page = written(report, &record, &ReportTo::Html("-".into()));
    let path = folder.path().join("page.html");
    let verified = |page: &str| {
        std::fs::write(&path, page).unwrap();
        let mut out = Vec::new();
        let done = verify_records(path.to_str(), &home, &mut out).map_err(|failure| failure.to_string());
        (done, String::from_utf8(out).unwrap().replace(&format!("{}: ", path.display()), ""))
    };
    let entries = read(&record).unwrap().entries.len();
    let seals = format!("the record 20310405-0900-flush: every seal holds: {entries} entries, completed\n");
    let says = "the page says what the record says\n";
    assert_eq!(verified(&page), (Ok(Done::Well), format!("{seals}{says}")));
    let other = "the page is not the one this version makes of the record: another version made it, or somebody \
                 changed it. Go by the record\n";
    assert_eq!(verified(&page.replacen("32.5", "34.5", 1)), (Ok(Done::Short), format!("{seals}{other}")));
    let none = Err(format!("{}: this page holds no record", path.display()));
    assert_eq!(verified(&page.replacen(";base64,", ";base64,!", 1)), (none, String::new()));
}

/// Whatever people wrote, a card holds it: measured in a browser, where there is one.
#[test]
fn no_card_is_cut() {
    let (folder, record) = performed("gritty-tank");
    let contents = read(&record).unwrap();
    let long = ["Wide words ".repeat(40), "W".repeat(400), "MANY CAPITALS OF A TANK, ".repeat(20)];
    let cards = long.map(|long| card_of(&long, &contents));
    let Some(heights) = heights_of_cards(&cards, folder.path()) else {
        eprintln!("SKIPPED: there is no chromium to measure a card in");
        return;
    };
    // Three inches are 288 CSS pixels, of which the frame takes two.
    assert!(heights.len() == cards.len() && heights.iter().all(|high| *high <= 286), "{heights:?} pixels");
}

/// A card on which every text that a person wrote is this one.
fn card_of(long: &str, contents: &Contents) -> Page {
    let mut contents = contents.clone();
    let long = long.to_string();
    contents.header.site = Some(long.clone());
    contents.header.tank = Some(long.clone());
    for entry in &mut contents.entries {
        let is_name = entry.observes.as_deref() == Some("marking");
        entry.given = entry.given.take().map(|given| if is_name { long.clone() } else { given });
        entry.next = entry.next.take().map(|_| long.clone());
    }
    let [card] = &tag_pages(&RunView::new(&contents, None)).unwrap()[..] else { panic!("one card") };
    card.clone()
}

/// How high each card is, in CSS pixels; nothing where there is no browser.
fn heights_of_cards(cards: &[Page], folder: &std::path::Path) -> Option<Vec<u32>> {
    let html = all_to_html(cards, HtmlForm::Tag, "Tag");
    let measure = "<script>document.title = Array.from(document.querySelectorAll('article'), \
                   card => card.scrollHeight).join(' ')</script>";
    let path = folder.join("card.html");
    std::fs::write(&path, html.replace("</body>", &format!("{measure}</body>"))).unwrap();
    let dumped = std::process::Command::new("chromium")
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--window-size=900,700", "--dump-dom"])
        .arg(&path)
        .output()
        .ok()?;
    let dumped = String::from_utf8(dumped.stdout).unwrap();
    let heights = dumped.split_once("<title>")?.1.split_once("</title>")?.0;
    heights.split(' ').map(|high| high.parse().ok()).collect()
}

fn sound() -> RecordSeals {
    RecordSeals { found: "every seal holds".to_string(), ..RecordSeals::default() }
}

#[test]
fn amendments_skips_and_gaps_are_told() {
    let (contents, procedure) = eventful();
    let pages = report_pages(&RunView::new(&contents, Some(&procedure)), &sound());
    golden::holds("tests/report/golden/report-eventful.txt", &in_text(&pages));
    let html = all_to_html(&pages, HtmlForm::Report, "Record 1");
    assert_eq!(markup::holds(&html), Ok(()));
    golden::holds("tests/report/golden/report-eventful.html", &reviewable(&html));
}

#[test]
fn without_its_procedure_a_record_is_still_reported() {
    let (contents, procedure) = eventful();
    let pages = report_pages(&RunView::new(&contents, None), &sound());
    golden::holds("tests/report/golden/report-bare.txt", &in_text(&pages));
    // A tag goes by what was observed.
    let tags = |procedure: Option<&_>| tag_pages(&RunView::new(&contents, procedure)).unwrap();
    assert_eq!(tags(None), tags(Some(&procedure)));
}

#[test]
fn what_looks_like_markup_stays_text() {
    let mut run = begun(loaded(SMALL), System::default());
    run.answers(["30", "jet", "understood", "", "28", "28.5"]);
    run.then(RunInput::Note("</style><script>alert(1)</script>"));
    let (mut contents, procedure) = record(&run);
    let hostile = "<script>alert(\"x\")</script> & 'y' <!-- ]]> \u{202e}\u{1b}[2J";
    contents.header.site = Some(hostile.to_string());
    contents.header.tank = Some("\" onload=\"x".to_string());
    contents.header.title = hostile.to_string();
    let pages = report_pages(&RunView::new(&contents, Some(&procedure)), &sound());
    let html = all_to_html(&pages, HtmlForm::Report, hostile);
    assert_eq!(markup::holds(&html), Ok(()));
    let heading = markup::tags(&html).unwrap().into_iter().find(|tag| tag.name == "h1").unwrap();
    let escaped =
        "&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; 'y' &lt;!-- ]]&gt; \u{FFFD}\u{FFFD}[2J";
    assert_eq!(heading.text, escaped);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_record_makes_a_sound_report(contents in any_contents()) {
        let procedure = loaded(SMALL);
        for procedure in [Some(&procedure), None] {
            let run = RunView::new(&contents, procedure);
            let tags = tag_pages(&run).unwrap_or_default();
            for page in tags.into_iter().chain(report_pages(&run, &sound())) {
                holds_its_width(&page)?;
                for form in [HtmlForm::Report, HtmlForm::Tag] {
                    prop_assert_eq!(markup::holds(&to_html(&page, form, "Record 1")), Ok(()));
                }
            }
        }
    }
}
