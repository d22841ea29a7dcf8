//! The language told by topic, made from the tables the program itself works with.

use super::editing::editing_page;
use super::installation_keys::installation_page;
use super::shipped_pages::{parts_page, states_page};
use super::uncertainty_page::uncertainty_page;
use super::{Page, Row, columns_page, record_format_page};
use crate::lang::Function;
use crate::procedure::{
    CALC_QUESTIONS, FACT_KEYS, FILE_KEYS, HAZARDS, Key, OBSERVABLES, Observable, PART_KEYS, Range,
    STATE_KEYS, STEP_KEYS, Signal, Takes, VERBS, function, functions, gauges, own_keys,
};
use crate::quantity::{Family, Measure, UNITS, Unit};
use crate::words::{GLOSSARY, list};

/// A topic of the guide: its name, what it tells, and its page.
pub type GuideTopic = (&'static str, &'static str, fn() -> Page);

/// The topics of the guide.
pub const TOPICS: &[GuideTopic] = &[
    ("files", "the keys of a procedure file, its facts and states", files),
    ("steps", "the verbs and their keys", steps),
    (
        "observables",
        "what answers are of: pairs, trends, tags and the questions about odd readings go by it",
        observables,
    ),
    ("expressions", "how expressions are written and what they mean", expressions),
    ("functions", "every function; a function's own name tells all about it", all_functions),
    ("hazards", "what can hurt, and what is said before it", hazards),
    ("kinds", "the kinds of values, and what may be combined", kinds),
    ("units", "every unit and how it may be typed", units),
    ("words", "the terms of the trade, and what they mean", words),
    ("editing", "how to find and change a thing, with the edits that owners make most", editing_page),
];

/// What the guide tells beside the language.
pub(crate) const OTHER_TOPICS: &[GuideTopic] = &[
    ("calc", "questions that `tankhand calc` answers, with an expression for each", calc_questions),
    ("installation", "every key of the system file", installation_page),
    ("parts", "every shipped part: what it is for, what must hold before it and after it", parts_page),
    ("states", "every shipped state: what it means, which part brings it about, what shows it", states_page),
    (
        "uncertainty",
        "what the ± and the 95 % rest on, and how far they fall where that is not so",
        uncertainty_page,
    ),
    ("record", "the format of records, and how to verify one without this program", record_format_page),
    ("export", "the columns of an export", columns_page),
];

/// The page of a topic, or of a function, by its name.
///
/// ```
/// use tankhand::report::{guide_page, to_text};
/// let lines = to_text(&guide_page("run_time").unwrap(), 80);
/// assert_eq!(lines[0], "run_time(drawdown: volume, flow: flow) -> duration");
/// assert!(guide_page("weather").is_none());
/// ```
pub fn guide_page(topic: &str) -> Option<Page> {
    match TOPICS.iter().chain(OTHER_TOPICS).find(|(name, ..)| *name == topic) {
        Some((.., page)) => Some(page()),
        None => crate::procedure::function(topic).map(one_function),
    }
}

/// What the guide has, on a page.
pub(crate) fn guide_contents() -> Page {
    let mut page = Page::titled("The procedure language, by topic");
    let rows = |topics: &'static [GuideTopic]| topics.iter().map(|(name, tells, _)| [*name, *tells]);
    page.table(&["Topic", "What it tells"], rows(TOPICS));
    page.headed_table("Beside it", &["Topic", "What it tells"], rows(OTHER_TOPICS));
    page.note("tankhand guide TOPIC shows one; tankhand guide NAME tells about a function.");
    page
}

fn key_rows(keys: &[Key]) -> Vec<Row> {
    keys.iter()
        .map(|key| Row::new([key.name.to_string(), kind_phrase(key.takes), key.means.to_string()]))
        .collect()
}

/// What a key takes, in words.
fn kind_phrase(takes: Takes) -> String {
    match takes {
        Takes::Text | Takes::Part => "text".to_string(),
        Takes::Template => "text with {…}".to_string(),
        Takes::Expression => "expression".to_string(),
        Takes::Flag => "true or false".to_string(),
        Takes::Whole(low, high) if low == high => format!("{low}"),
        Takes::Whole(low, high) => format!("{low} to {high}"),
        Takes::Confidence => "60 % to 99.9 %".to_string(),
        Takes::Limits => "[lowest, highest]".to_string(),
        Takes::Measure => "measure".to_string(),
        Takes::Word => "word".to_string(),
        Takes::Kind | Takes::PassedKind => "kind".to_string(),
        Takes::OneOf(words) => list(words, "or"),
        Takes::Gauge => list(gauges().into_iter().map(|(name, _)| name), "or"),
        Takes::Observable => "an observable".to_string(),
        Takes::Hazard => "hazard".to_string(),
        Takes::Steps => "steps".to_string(),
        Takes::List(Takes::Either(each), _) => format!("list of {}", list(each.iter().map(several), "or")),
        Takes::List(each, _) => format!("list of {}", several(each)),
        Takes::Names(Takes::Either([each, ..]) | each) => format!("{{ name = {}, … }}", kind_phrase(*each)),
        Takes::Table(keys) => {
            let each: Vec<String> = keys.iter().map(|key| format!("{} = …", key.name)).collect();
            format!("{{ {} }}", each.join(", "))
        }
        Takes::Either(each) => each.iter().map(|one| kind_phrase(*one)).collect::<Vec<_>>().join(", or "),
    }
}

/// Several of what a key takes, in words.
fn several(takes: &Takes) -> String {
    if let Takes::Table(_) = takes { "tables".to_string() } else { format!("{}s", kind_phrase(*takes)) }
}

const HEAD: &[&str] = &["Key", "Takes", "Meaning"];

fn files() -> Page {
    let mut page = Page::titled("Procedure files");
    page.text(
        "A procedure is a TOML file: a few keys at the top, then facts, states and steps in their order.",
    );
    page.headed_table("At the top", HEAD, key_rows(FILE_KEYS));
    page.headed_table("At the top of a part", HEAD, key_rows(PART_KEYS));
    page.text(
        "A part is checked and proven by itself, once. Its steps speak of what it takes, of its own names and of its \
         facts. Where it is used, a name it takes is the user's name of that spelling, unless `with` gives another. \
         A kind may have `maybe` before it, where there may be no value, and `of each tank`, `of each reading` or \
         `of each round` after it. In a table `{ kind = …, usual = …, when = … }` stands beside it what is taken when \
         nothing is given, and with which words, yes or no given to the part it is taken, or given, at all.",
    );
    page.headed_table("[[fact]]: something true before the run starts", HEAD, key_rows(FACT_KEYS));
    page.headed_table("[[state]]: a condition that steps bring about", HEAD, key_rows(STATE_KEYS));
    page
}

fn steps() -> Page {
    let mut page = Page::titled("Steps");
    page.text("Exactly one verb makes a step.");
    let rows = VERBS.iter().map(|verb| {
        let own: Vec<&str> = verb.keys.iter().map(|key| key.name).collect();
        let takes = kind_phrase(verb.key.takes);
        Row::new([verb.word().to_string(), takes, verb.sentence.to_string(), own.join(", ")])
    });
    page.headed_table("Verbs", &["Verb", "Takes", "The step is", "Own keys"], rows);
    page.headed_table("Keys any step may have", HEAD, key_rows(STEP_KEYS));
    page.texts([
        "A tell, compute or check needs no `when` for what it uses, nor a finding that is good or a note: where some \
         of that was not answered, the step is left out. What was answered may still give no value. Then the check \
         can't tell, and the tell is left out.",
        "With a hazard, with must, brings or undoes, and in a worse finding, the file has to ask. Nothing that can hurt \
         is lost for want of a number. A step that waits for a name in vain is a fault.",
    ]);
    page.headed_table("Keys of some verbs", HEAD, key_rows(&own_keys()));
    page
}

fn observables() -> Page {
    let mut page = Page::titled("Observables");
    page.text(
        "What a reading, a choice or a computed value is of: `observes = \"precharge\"`. As found and as left are held \
         against one another by it, and so are years; an answer outside what can be is refused, one outside what is \
         usual is questioned, unless the step says otherwise. A term marked with * is a property that the \
         work may change: what was found stands beside what was left.",
    );
    let row = |known: &Observable| {
        let mark = if known.lasting { " *" } else { "" };
        let range = |range: &Option<Range>| range.map_or(String::new(), |range| range.to_string());
        Row::new([
            known.name.to_string(),
            format!("{}{mark}", known.term),
            known.observed.to_string(),
            known.gauge.unwrap_or_default().to_string(),
            range(&known.possible),
            range(&known.usual),
            known.means.to_string(),
        ])
    };
    let head = ["Name", "Term", "An answer is", "Gauge", "Can be", "Usually", "Meaning"];
    page.table(&head, OBSERVABLES.iter().map(row));
    page
}

fn expressions() -> Page {
    let mut page = Page::titled("Expressions");
    page.text(
        "Numbers with units (2 psi, 15 min, 68 degF), names of facts and steps, words in single quotes \
         ('clear'), yes and no. A number takes the kind of its place: beside a gauge pressure 2 psi is a \
         change; where nothing decides it is a gauge pressure.",
    );
    let rows = [
        [
            "A +- B",
            "A, which may be off by as much as B either way; B is a difference or a percentage (5 gal +- 3 %)",
        ],
        ["+ - * /", "arithmetic; two gauge pressures can be subtracted, not added"],
        ["< <= > >= == !=", "comparisons, which cannot be chained; words and yes or no only with == and !="],
        ["and or not", "of yes and no"],
        ["if A then B else C", "B when A holds by best estimate, else C; both of one kind"],
        ["A otherwise B", "A when it is known, else B; both of one kind"],
        ["known(name)", "whether the step was answered, or could be worked out"],
        ["f(x, y)", "a function call"],
        ["series(a, b, c)", "a series written out, each of one kind"],
        ["{…} in a text", "the value, in the household's unit; {… in bar} in the unit named"],
    ];
    page.headed_table("Signs and words", &["Written", "Meaning"], rows);
    page.texts([
        "A step answered several times is a series: the readings of `times`, the rounds of `repeat`, the tanks \
         of `each`. Where one value is wanted, readings stand for their mean and rounds for the last; of tanks a \
         function must choose.",
        "38 psi +- 1 psi (or 38 psi ± 1 psi) stands for any value within the limits, all equally likely (JCGM \
         100:2008, 4.3.7: standard uncertainty 1 psi / √3). +- binds tighter than * and /, looser than a minus \
         sign before a number. Each +- is a source of uncertainty of its own, the same one however often it is worked \
         out; what B itself rests on is not made less certain.",
        "Values carry the uncertainty of their gauges; tankhand guide uncertainty tells what that rests on. when, until and if go by the best estimate; \
         a when that asks of what nobody answered does not hold; check and \
         verdict(…) say pass or fail only when the probability is at least 95 % (or what `confidence` asks for), else can't \
         tell.",
        "Uncertainty is carried to first order, which is blind at a kink: min, max, abs, spread, an if between \
         numbers, a drawdown with the precharge near the cut-in. A check there is judged by 10,000 draws of what the \
         gauges may be off, the same draws every time, and its record says so. Of a value there `?` and calc --explain tell the interval of 95 % of such draws.",
        "The limits shown with a value are twice its standard uncertainty (JCGM 100:2008, 6.2), and more where few \
         readings tell it: about 95 % where several sources share the uncertainty. Where one +- makes up nearly all of it they reach 1.15 times as far as \
         that +-, which is wider than need be: 95 % lie within 0.95 times it. `?` and calc --explain say so.",
    ]);
    page
}

fn all_functions() -> Page {
    let mut page = Page::titled("Functions");
    let rows = functions().map(|f| [f.signature(), f.explanation.sentence.to_string()]);
    page.table(&["Function", "What it gives"], rows);
    page
}

fn calc_questions() -> Page {
    let mut page = Page::titled("Questions for tankhand calc");
    let rows = CALC_QUESTIONS.iter().filter_map(|(question, name)| {
        let (expression, gives) = function(name)?.example;
        Some([question.to_string(), expression.to_string(), gives.to_string()])
    });
    page.table(&["Question", "Expression", "What it gives"], rows);
    page.note("tankhand guide NAME tells about a function.");
    page
}

fn one_function(function: &Function) -> Page {
    let mut page = Page::titled(function.signature());
    let explanation = function.explanation;
    page.text(explanation.sentence);
    if !function.help.is_empty() {
        page.text(function.help);
    }
    let about =
        [("Formula", explanation.formula), ("Range", explanation.range), ("Source", explanation.source)];
    let about = about.iter().filter(|(_, text)| !text.is_empty());
    page.text(about.map(|(word, text)| format!("{word}: {text}.")).collect::<Vec<_>>().join("\n"));
    if !function.example.0.is_empty() {
        page.text(format!("{} is {}", function.example.0, function.example.1));
    }
    page
}

fn hazards() -> Page {
    let mut page = Page::titled("Hazards");
    page.text(
        "A step says what can hurt there: hazards = [\"mains\"]. The message stands whole before the first such \
         step, and the word that it was read is typed; until a state with that hazard is undone, and where the \
         step comes round again, the short line stands. What can hurt in work that needs a state stands at the \
         state, and on every path the message must come before that work. The table comes with the program; no \
         file changes it.",
    );
    let signals = Signal::all().map(|signal| [signal.word(), signal.means()]);
    page.headed_table("Signal words (ANSI Z535.6)", &[], signals);
    for hazard in HAZARDS {
        let figures =
            hazard.figures.iter().map(|figure| figure.line.replace("{}", &format!("{{{}}}", figure.of)));
        let message = [hazard.does, hazard.avoid].map(str::to_string).into_iter().chain(figures);
        let message: Vec<String> = message.chain([hazard.stop.to_string()]).collect();
        let rows = [
            ["Signal", hazard.signal.word()].map(str::to_string),
            ["Message".to_string(), format!("{}: {} {}", hazard.name, hazard.is, message.join(" "))],
            ["In later rounds".to_string(), hazard.line()],
        ];
        page.headed_table(hazard.id, &[], rows);
    }
    page
}

fn words() -> Page {
    let mut page = Page::titled("Terms of the trade");
    page.text("A run tells what a term means the first time it uses it.");
    page.table(&["Term", "What it means"], GLOSSARY.iter().map(|term| [term.term, term.meaning]));
    page
}

fn kinds() -> Page {
    let mut page = Page::titled("Kinds");
    page.text("Points on a scale and differences between them are different kinds.");
    let rows = Measure::all().map(|measure| {
        let change = measure.change().map_or("-", Measure::name);
        Row::new([measure.name().to_string(), change.to_string(), units_of(measure.family()).join(", ")])
    });
    page.headed_table("Measures", &["Kind", "Difference of two", "Units"], rows);
    page.text("Beside these: yes/no, text, and one of a list of words.");
    page
}

fn units_of(family: Family) -> Vec<&'static str> {
    UNITS.iter().filter(|unit| unit.family == family).map(|unit| unit.symbol).collect()
}

fn units() -> Page {
    let mut page = Page::titled("Units");
    page.text("With or without a space before them, in capitals or not.");
    let row = |unit: &Unit| {
        let spellings = unit.spellings.join(", ");
        let measures = unit.family.usual().name();
        Row::new([unit.symbol.to_string(), unit.name.to_string(), measures.to_string(), spellings])
    };
    page.table(&["Unit", "Name", "Measures", "Also typed"], UNITS.iter().map(row));
    page
}
