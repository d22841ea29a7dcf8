//! Reading the gauges of a system file.

use std::borrow::Cow;

use super::amount::amount;
use super::{Accuracy, COMMON_GAUGES, DialGrade, GAUGE_KINDS, GRADES, Gauge, Reads};
use crate::document::{Fields, unknown_fault};
use crate::quantity::{Family, read_number};
use crate::source::Quoted;

/// What a `[[gauge]]` may say, with what it means.
pub(crate) static GAUGE_KEYS: &[(&str, &str)] = &[
    ("id", "the name procedures call it by"),
    ("name", "what it is"),
    ("kind", "what it commonly is, for one of which no figures are known"),
    ("span", "its highest mark, with its unit"),
    ("grade", "its grade by ASME B40.100, as printed on the dial (its limits are from memory); needs span"),
    ("within", "how far off it may be either way, with its unit or in per cent of the reading"),
    ("division", "its smallest mark, or the last step of its display, with its unit"),
    ("reads", "whether it has marks or figures"),
    ("serial", "what tells it from others like it, such as the number on its back"),
    ("compared", "when and with what it was compared last, and what came of it"),
];

pub(super) fn gauges(root: &Fields<'_>) -> Vec<Gauge> {
    let mut gauges: Vec<Gauge> = Vec::new();
    for fields in root.tables("gauge") {
        let Some(gauge) = gauge(&fields) else { continue };
        if gauges.iter().any(|other| other.id == gauge.id) {
            let message = format!("the gauge `{}` is described twice", gauge.id);
            let fault = fields.fault("same-id", fields.value_span("id"), message);
            fields.walk().fault(fault.remedy("keep the one that is right"));
        }
        gauges.push(gauge);
    }
    gauges
}

fn gauge(fields: &Fields<'_>) -> Option<Gauge> {
    let known: Vec<&str> = GAUGE_KEYS.iter().map(|(key, _)| *key).collect();
    fields.only(&known);
    let id = fields.needed_text("id", "the name procedures call it by, such as \"line\" or \"air\"")?;
    let Some(common) = COMMON_GAUGES.iter().find(|gauge| gauge.id == id.text) else {
        let message = format!("no procedure calls for a gauge `{}`", id.text);
        let known = COMMON_GAUGES.iter().map(|gauge| gauge.id.as_ref());
        return fields.walk().none(unknown_fault("unknown-gauge", &id, message, known));
    };
    let base = kind(fields, common).unwrap_or(common);
    let span = span(fields, common.family);
    let size = |key| amount(fields, key, common.family, |unit, number| number.abs() * unit.size);
    // Of a gauge of which nothing else is said, its marks tell.
    let base = size("division").map_or(base.clone(), |mark| base.marked(mark));
    Some(Gauge {
        id: Cow::Owned(id.text),
        name: fields.text("name").map_or(base.name.clone(), |name| Cow::Owned(name.text)),
        family: common.family,
        accuracy: accuracy(fields, common.family).unwrap_or(base.accuracy),
        span,
        division: base.division,
        reads: reads(fields).unwrap_or(base.reads),
        serial: fields.text("serial").map(|serial| Cow::Owned(serial.text)),
        compared: fields.text("compared").map(|compared| Cow::Owned(compared.text)),
    })
}

/// The kind an owner names, when it can stand for the gauge.
fn kind(fields: &Fields<'_>, common: &Gauge) -> Option<&'static Gauge> {
    let text = fields.text("kind")?;
    let word = text.text.trim().to_lowercase().replace('-', " ");
    let kind = GAUGE_KINDS.iter().find(|kind| kind.id == word);
    let kind = kind.or_else(|| {
        unknown_word(fields, &text, "no kind of gauge", GAUGE_KINDS.iter().map(|kind| &*kind.id))
    })?;
    if kind.family == common.family {
        return Some(kind);
    }
    let fit: Vec<&str> =
        GAUGE_KINDS.iter().filter(|kind| kind.family == common.family).map(|kind| kind.id.as_ref()).collect();
    let message = format!("a {word} cannot stand for the gauge `{}`", common.id);
    let why = format!("Procedures read {} from it.", common.family.usual().phrase());
    let remedy = format!("name one of these: {}", fit.join(", "));
    fields.walk().none(text.fault("at-odds", message).why(why).remedy(remedy))
}

/// The highest mark, SI; of a thermometer it is a point on the scale.
fn span(fields: &Fields<'_>, family: Family) -> Option<f64> {
    let span = amount(fields, "span", family, |unit, number| unit.to_si(family.usual(), number))?;
    if span > 0.0 {
        return Some(span);
    }
    let fault = fields.fault("not-a-value", fields.value_span("span"), "`span` must be above zero");
    fields.walk().none(fault.remedy("write the highest mark of the scale"))
}

/// How far off the gauge may be, said either way; both ways would be one too many.
fn accuracy(fields: &Fields<'_>, family: Family) -> Option<Accuracy> {
    if fields.has("within") && fields.has("grade") {
        let message = "`within` and `grade` both say how far off this gauge may be";
        let remedy = "keep the one you trust: what was found when it was last compared, or what is printed";
        let fault = fields.fault("at-odds", fields.value_span("within"), message).remedy(remedy);
        return fields.walk().none(fault.mark(fields.value_span("grade"), "the grade says it too"));
    }
    if fields.has("grade") { grade(fields, family) } else { within(fields, family) }
}

fn grade(fields: &Fields<'_>, family: Family) -> Option<Accuracy> {
    let text = fields.text("grade")?;
    if family != Family::Pressure {
        let fault = text.fault("at-odds", "only pressure gauges have a grade");
        return fields.walk().none(fault.remedy("say how far off it may be with `within`"));
    }
    if !fields.has("span") {
        fields.missing("span", "the highest mark of the dial, of which the grade allows a share");
    }
    let names = GRADES.iter().map(|grade| grade.name);
    let grade = DialGrade::named(&text.text);
    grade.or_else(|| unknown_word(fields, &text, "no grade of ASME B40.100", names)).map(Accuracy::Grade)
}

/// A limit with its unit, or in per cent of the reading.
fn within(fields: &Fields<'_>, family: Family) -> Option<Accuracy> {
    let text = fields.text("within")?;
    if family != Family::Temperature
        && let Ok(share) = read_number(&text.text, Family::Number)
        && let Some(unit) = share.unit
    {
        return Some(Accuracy::Share(share.number.abs() * unit.size));
    }
    amount(fields, "within", family, |unit, number| number.abs() * unit.size).map(Accuracy::Within)
}

fn reads(fields: &Fields<'_>) -> Option<Reads> {
    let text = fields.text("reads")?;
    Reads::named(&text.text)
        .or_else(|| unknown_word(fields, &text, "no way to read a gauge", Reads::WORDS.iter().copied()))
}

fn unknown_word<'k, T>(
    fields: &Fields<'_>,
    text: &Quoted,
    what: &str,
    words: impl IntoIterator<Item = &'k str>,
) -> Option<T> {
    let message = format!("`{}` is {what}", text.text.escape_debug());
    fields.walk().none(unknown_fault("unknown-word", text, message, words))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::PSI;
    use crate::source::SourceText;

    fn line(keys: &str) -> Gauge {
        let text = format!("format = 1\n[[gauge]]\nid = \"line\"\n{keys}\n");
        crate::system::load(&SourceText::new("s.toml", text)).unwrap().gauge("line").unwrap().clone()
    }

    #[test]
    fn a_gauge_is_known_by_what_is_printed_on_it() {
        let gauge = line("span = \"60 psi\"\ngrade = \"b\"\ndivision = \"2 psi\"\nreads = \"dial\"");
        assert!((gauge.limit(30.0 * PSI) - 1.2 * PSI).abs() < 1e-6);
        assert!((gauge.limit(50.0 * PSI) - 1.8 * PSI).abs() < 1e-6);
        assert!((gauge.division - 2.0 * PSI).abs() < 1e-9);
    }

    #[test]
    fn a_gauge_is_known_by_its_kind_and_what_is_said_beside_it() {
        let gauge = line("kind = \"digital-tire-gauge\"");
        assert_eq!((gauge.called(), gauge.reads), ("digital tire gauge", Reads::Digital));
        let gauge = line("kind = \"stick tire gauge\"\nwithin = \"0.5 psi\"\nname = \"Old one, blue\"");
        assert_eq!((gauge.called(), gauge.accuracy), ("Old one", Accuracy::Within(0.5 * PSI)));
        assert_eq!(line("within = \"3 %\"").accuracy, Accuracy::Share(0.03));
    }

    #[test]
    fn every_kind_stands_for_some_gauge() {
        for kind in GAUGE_KINDS {
            assert!(COMMON_GAUGES.iter().any(|gauge| gauge.family == kind.family), "{}", kind.id);
        }
    }
}
