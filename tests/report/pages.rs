//! Lists of records, entries in force, and pages of whatever a record may hold.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use proptest::prelude::*;
use tankhand::clock::Moment;
use tankhand::engine::{ACKNOWLEDGE, AnswerKind, Ask, Run, RunInput};
use tankhand::procedure::{
    LoadContext, Path, Procedure, SHIPPED, Signal, Texts, UnreadableText, load, shipped,
};
use tankhand::quantity::{Truth, Verdict};
use tankhand::record::{
    Contents, Entry, EntryKind, FolderAccount, ForeignEntry, Glance, Grade, Outcome, Trouble, are_effective,
};
use tankhand::report::{
    Page, Places, RunView, procedure_page, put_account, record_page, records_page, summary_page, to_text,
};
use tankhand::source::SourceText;
use tankhand::system::{PATHS, System};
use tankhand::words::is_harmless;
use textwrap::core::display_width;

use crate::golden;
use crate::samples::{SMALL, eventful, loaded, moment};
use crate::support::setting_of;

pub fn holds_its_width(page: &Page) -> Result<(), TestCaseError> {
    for width in [40, 80] {
        for line in to_text(page, width) {
            prop_assert!(display_width(&line) <= width, "{line:?}");
            prop_assert!(is_harmless(&line) && !line.contains(['\n', '\t']), "{line:?}");
        }
    }
    Ok(())
}

#[test]
fn records_are_listed_and_broken_ones_told() {
    let glance = |id: &str, outcome: Option<Outcome>| Glance {
        path: PathBuf::from(format!("{id}.toml")),
        id: id.to_string(),
        procedure: "flush".to_string(),
        title: "Flush the pressure tank".to_string(),
        started: moment("2031-04-05T09:01:00-05:00"),
        site: Some("Heron Cove".to_string()),
        tanks: vec!["main".to_string()],
        demo: false,
        practice: false,
        transcribed: false,
        mended: None,
        unsealed_end: false,
        outcome,
        grade: outcome.map(|_| Grade::Good),
        found: Vec::new(),
        ended: None,
    };
    let list = [
        glance("20310405-0901-flush", Some(Outcome::Completed)),
        Glance {
            grade: Some(Grade::Attention),
            found: vec!["precharge low".to_string(), "relief valve not seen".to_string()],
            ..glance("20310404-0901-flush", Some(Outcome::Completed))
        },
        Glance {
            demo: true,
            practice: false,
            transcribed: true,
            mended: Some("it".to_string()),
            unsealed_end: false,
            site: None,
            ..glance("20310404-0900-flush", Some(Outcome::Failed))
        },
        Glance { demo: true, site: None, tanks: Vec::new(), ..glance("20310403-0900-flush", None) },
    ];
    let account = FolderAccount {
        files: 7,
        understood: 4,
        not_understood: 1,
        twice: 1,
        others: 1,
        faults: vec![
            Trouble::Empty.at("20300101-0800-flush.toml".as_ref()),
            Trouble::Twice {
                id: "20310405-0901-flush".to_string(),
                other: PathBuf::from("20310405-0901-flush.toml"),
            }
            .at("a copy.toml".as_ref()),
        ],
        named: vec!["notes.txt".to_string()],
        ..FolderAccount::default()
    };
    for width in [100, 80, 40] {
        let mut page = records_page(&list);
        put_account(&account, &mut page);
        let text = to_text(&page, width).join("\n") + "\n";
        golden::holds(&format!("tests/report/golden/records-{width}.txt"), &text);
    }
}

struct OnlyShipped;

impl Texts for OnlyShipped {
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>> {
        shipped(name).map(|file| Ok(SourceText::new(file.file, file.text)))
    }

    fn names(&self) -> Vec<String> {
        SHIPPED.iter().map(|file| file.name.to_string()).collect()
    }
}

#[test]
fn every_shipped_procedure_is_read_out_whole() {
    let paths: Vec<Path> =
        PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect();
    for file in SHIPPED.iter().filter(|file| !file.name.starts_with("parts/")) {
        let around = LoadContext { texts: &OnlyShipped, paths: &paths };
        let procedure = load(&SourceText::new(file.file, file.text), &around).unwrap();
        let page = procedure_page(file.name, &procedure, Places::Left);
        holds_its_width(&page).unwrap();
        let is_signal =
            |line: &&String| Signal::all().iter().any(|s| line.contains(&format!("{}: ", s.word())));
        let shown = to_text(&page, 120).iter().filter(is_signal).count();
        assert_eq!(shown, hazards(&procedure.steps), "{}", file.name);
    }
}

fn hazards(steps: &[tankhand::procedure::Step]) -> usize {
    steps.iter().map(|step| step.hazards.len() + hazards(step.body())).sum()
}

/// An entry without its number and time.
fn same_but_for_numbers(entry: &Entry) -> Entry {
    let at = moment("2031-04-05T09:00:00-05:00");
    Entry { n: 0, at, due: entry.due.map(|_| at), replaces: None, ..entry.clone() }
}

/// What a person does next.
#[derive(Clone, Debug)]
enum Move {
    Back,
    Skip,
    Answer(String),
    WaitBegins,
    WaitOver,
}

fn next(ask: &Ask, dice: u8) -> Move {
    if ask.can_back && dice.is_multiple_of(3) {
        return Move::Back;
    }
    if ask.can_skip && dice.is_multiple_of(2) {
        return Move::Skip;
    }
    match &ask.expects {
        AnswerKind::Done(word) => Move::Answer(word.clone().unwrap_or_default()),
        AnswerKind::Understood => Move::Answer(ACKNOWLEDGE.to_string()),
        AnswerKind::Number(..) => Move::Answer((20 + dice % 50).to_string()),
        AnswerKind::OneOf(choices) => Move::Answer(choices[usize::from(dice) % choices.len()].value.clone()),
        AnswerKind::YesNo => Move::Answer("yes".to_string()),
        AnswerKind::Text(_) => Move::Answer(format!("text {dice}")),
        AnswerKind::WaitBegins(_) => Move::WaitBegins,
        AnswerKind::WaitOver { .. } => Move::WaitOver,
    }
}

fn make(run: &mut Run, now: Moment, step: &Move) -> Vec<Entry> {
    let input = match step {
        Move::Back => RunInput::Back,
        Move::Skip => RunInput::Skip("no time"),
        Move::Answer(text) => RunInput::Confirmed(text),
        Move::WaitBegins => RunInput::WaitBegins,
        Move::WaitOver => RunInput::WaitOver(Duration::from_secs(300)),
    };
    run.take(input, now).unwrap().into_iter().map(|event| event.entry).collect()
}

fn begun(procedure: &Arc<Procedure>, now: Moment) -> (Run, Vec<Entry>) {
    let (run, events) = Run::begin(setting_of(procedure.clone(), System::default()), now);
    (run, events.into_iter().map(|event| event.entry).collect())
}

/// Whether a move only leads to a question: a wait, a warning that was read.
fn leads_in(step: &Move) -> bool {
    match step {
        Move::WaitBegins | Move::WaitOver => true,
        Move::Answer(text) => text == ACKNOWLEDGE,
        Move::Back | Move::Skip => false,
    }
}

/// Plays at random; gives every entry, and the moves that were not taken back.
fn play(procedure: &Arc<Procedure>, dice: &[u8]) -> (Vec<Entry>, Vec<Move>) {
    let mut now = moment("2031-04-05T09:00:00-05:00");
    let (mut run, mut entries) = begun(procedure, now);
    let mut kept: Vec<Move> = Vec::new();
    for dice in dice {
        now = now.plus(Duration::from_secs(20));
        let Some(ask) = run.ask() else { break };
        let step = next(&ask, *dice);
        entries.extend(make(&mut run, now, &step));
        match step {
            Move::Back => while kept.pop().is_some_and(|step| leads_in(&step)) {},
            step => kept.push(step),
        }
    }
    (entries, kept)
}

fn any_word() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z ]{0,30}",
        "\\PC{0,20}",
        Just("\u{1b}[2J\u{202e}\n\ta".to_string()),
        Just("understood".to_string()),
        Just("a word that goes on and on ".repeat(20)),
    ]
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![any::<f64>(), -100.0..100.0, Just(f64::NAN), Just(f64::MAX), Just(5e-324)]
}

fn any_entry() -> impl Strategy<Value = Entry> {
    use proptest::option::of;
    let steps =
        ["air_found", "found", "below", "look", "flush", "soak", "breaker", "who", "cut_in", "air_left"];
    let step =
        prop_oneof![proptest::sample::select(steps.to_vec()).prop_map(ToString::to_string), any_word()];
    let kind = proptest::sample::select(EntryKind::all().collect::<Vec<_>>());
    let verdict = proptest::sample::select(vec![Verdict::Pass, Verdict::Fail, Verdict::Unsure]);
    let unit = proptest::sample::select(vec!["psi", "min", "s", "°F", "rods", "\u{7}"]);
    let place = (kind, step, proptest::collection::vec(0u32..4, 0..3), of(0u32..4), 0u64..3_000_000_000);
    let words = (of(any_word()), of(any_word()), of(any_word()), of(any_word()), of(any_word()));
    let numbers = (of(any_number()), of(any_number()), of(unit), of(verdict), of(0u64..20), any::<bool>());
    (place, words, numbers).prop_map(|(place, words, numbers)| {
        let at = moment("2031-04-05T09:00:00-05:00").plus(Duration::from_secs(place.4));
        Entry {
            round: place.2,
            take: place.3,
            asked: words.0,
            given: words.1,
            gauge: words.2,
            reason: words.3,
            said: words.4,
            advice: None,
            value: numbers.0,
            uncertainty: numbers.1,
            unit: numbers.2.map(ToString::to_string),
            verdict: numbers.3,
            replaces: numbers.4,
            truth: numbers.5.then_some(Truth { best: true, least: 0.3, most: 0.7 }),
            ..Entry::new(place.0, place.1, at)
        }
    })
}

pub fn any_contents() -> impl Strategy<Value = Contents> {
    (proptest::collection::vec(any_entry(), 0..20), any_word(), any_word()).prop_map(|(entries, a, b)| {
        let (mut contents, _) = eventful();
        contents.entries = entries;
        contents.entries.iter_mut().zip(1..).for_each(|(entry, n)| entry.n = n);
        let foreign = ForeignEntry { n: 99, kind: b.clone(), fields: toml::Table::new() };
        contents.foreign = vec![foreign; a.len() % 3];
        contents.header.title = a.clone();
        contents.header.site = Some(b.clone());
        if let Some(summary) = &mut contents.summary {
            summary.words = b;
        }
        contents
    })
}

proptest! {
    #[test]
    fn what_is_in_force_is_what_a_run_without_mistakes_writes(
        dice in proptest::collection::vec(any::<u8>(), 0..60)
    ) {
        let procedure = Arc::new(loaded(SMALL));
        let (entries, kept) = play(&procedure, &dice);
        let counts = are_effective(&entries);
        prop_assert_eq!(counts.len(), entries.len());
        let force: Vec<Entry> =
            entries.iter().zip(counts).filter(|(_, counts)| *counts).map(|(entry, _)| same_but_for_numbers(entry)).collect();
        let now = moment("2031-04-05T09:00:00-05:00");
        let (mut run, mut clean) = begun(&procedure, now);
        for step in &kept {
            clean.extend(make(&mut run, now, step));
        }
        let clean: Vec<Entry> = clean.iter().map(same_but_for_numbers).collect();
        prop_assert_eq!(force, clean);
    }

    #[test]
    fn any_record_makes_harmless_pages(contents in any_contents()) {
        let procedure = loaded(SMALL);
        for procedure in [Some(&procedure), None] {
            holds_its_width(&summary_page(&RunView::new(&contents, procedure)))?;
            holds_its_width(&record_page(&RunView::new(&contents, procedure), Some("\u{1b}[31mfine")))?;
        }
    }
}
