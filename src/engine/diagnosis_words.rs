//! The sentences of a diagnosis.

use crate::lang::Value;
use crate::physics::diagnosis::{
    AirCourse, CauseId, Claims, Diagnosis, Evidence, Group, HoldLoss, NamedCause, Odd, Ranked, Weight, Who,
    Working,
};
use crate::quantity::{GALLON, Measure, PSI, Units};
use crate::record::{Entry, ForNow, Grade};
use crate::words::list;

/// What a finding says.
pub(super) struct FindingWords {
    pub name: String,
    pub grade: Grade,
    pub said: String,
    pub next: Option<String>,
    /// After how many days to look again.
    pub again: Option<u16>,
    pub cause: Option<CauseId>,
}

/// What a finding on nothing sure is called.
const OPEN: &str = "cause not decided";
/// And where nothing speaks for a fault, though not all was tested.
const NONE_SO_FAR: &str = "no fault found so far";

/// How likely, in percent; never 100.
fn percent(p: f64) -> String {
    match (p * 100.0).round() {
        high if high >= 100.0 => "more than 99 %".to_string(),
        whole => format!("{whole} %"),
    }
}

/// How sure, as a sentence.
fn sure(p: f64) -> String {
    let percent = percent(p);
    let (first, rest) = percent.split_at(1);
    format!("{}{rest} sure.", first.to_uppercase())
}

fn grade_of(weight: Weight) -> Grade {
    match weight {
        Weight::Fine => Grade::Good,
        Weight::Note => Grade::Note,
        Weight::Attention => Grade::Attention,
        Weight::Act => Grade::Act,
    }
}

fn sentences<const N: usize>(all: [Option<String>; N]) -> String {
    all.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// What was read that a finding about a group goes by, in the household's units.
pub(super) fn read(group: Group, evidence: &Evidence, units: Units) -> Option<String> {
    let shown = |measure: Measure, si: f64| Value::exact(measure, si).shown(units);
    let pressure = |psi: f64| shown(Measure::Pressure, psi * PSI);
    let fell = |hold: HoldLoss, house: &str| {
        let loss = shown(Measure::PressureChange, hold.loss * PSI);
        format!("{loss} lost in {} min with the house {house}", hold.minutes.round())
    };
    let mean = |all: &[f64]| (!all.is_empty()).then(|| all.iter().sum::<f64>() / all.len() as f64);
    let lowest = evidence.starts.iter().copied().reduce(f64::min);
    let cut_in = lowest.map(|psi| format!("cut-in {}", pressure(psi)));
    let group_words = match group {
        Group::Tank | Group::Measuring => [
            mean(&evidence.precharge).map(|psi| format!("precharge {}", pressure(psi))),
            cut_in,
            evidence
                .drawdown
                .map(|gal| format!("drawdown of a whole cycle {}", shown(Measure::Volume, gal * GALLON))),
        ],
        Group::Switch => [cut_in, evidence.cut_out.map(|psi| format!("cut-out {}", pressure(psi))), None],
        Group::Pump => {
            [evidence.run_time.map(|s| format!("run time {}", shown(Measure::Duration, s))), None, None]
        }
        Group::Leaks => [
            evidence.hold_shut.map(|hold| fell(hold, "shut")),
            evidence.hold_open.map(|hold| fell(hold, "open")),
            None,
        ],
    };
    let group_words: Vec<String> = group_words.into_iter().flatten().collect();
    let lead = if evidence.tanks > 1 { "Read, all tanks together" } else { "Read" };
    (!group_words.is_empty()).then(|| format!("{lead}: {}.", group_words.join(", ")))
}

/// A cause that is sure.
pub(super) fn found(found: &NamedCause, diagnosis: &Diagnosis, read: Option<String>) -> FindingWords {
    let cause = found.cause.cause();
    let mut next = vec![cause.remedy.to_string()];
    next.extend(who(cause.who).map(ToString::to_string));
    if !found.or.is_empty() {
        let of = |cause: CauseId| diagnosis.probabilities[cause as usize];
        let others: Vec<String> = found.or.iter().map(likely).collect();
        let others = list(others.iter().map(String::as_str), "or");
        next.push(format!(
            "There may be no more to it ({}), or it may be: {others}.",
            percent(of(found.cause))
        ));
        next.extend(test(NEXT_TEST, diagnosis.tests.iter().find(|it| it.test.group == cause.group)));
    }
    // A precharge that went by the label is off once the switch is.
    let by_label = matches!(found.cause, CauseId::Low | CauseId::High);
    let drifted = diagnosis.found.iter().any(|it| it.cause == CauseId::Drifted);
    let label = (by_label && drifted).then(|| CauseId::Drifted.cause().says.to_string());
    FindingWords {
        name: cause.name.to_string(),
        grade: grade_of(cause.weight),
        said: sentences([label, Some(cause.says.to_string()), read, Some(sure(found.probability))]),
        next: Some(next.join(" ")),
        again: cause.again,
        cause: Some(found.cause),
    }
}

fn who(who: Who) -> Option<&'static str> {
    match who {
        Who::Owner => None,
        Who::Installer => Some("Work for a pump installer or plumber."),
        Who::Electrician => {
            Some("The switch carries the voltage of the mains: work for an electrician or pump installer.")
        }
    }
}

fn likely((cause, p): &(CauseId, f64)) -> String {
    format!("{} ({})", cause.cause().name, percent(*p))
}

fn test(lead: &str, next: Option<&Ranked>) -> Option<String> {
    next.map(|next| format!("{lead}{} ({} min).", next.test.says, next.minutes))
}

/// How the next test is told where something may have to be put right, and where nothing speaks for a fault.
pub(crate) const NEXT_TEST: &str = "Next test, once this work is done: ";
const TO_LEARN_MORE: &str = "To learn more, once this work is done: ";

/// Where the precharge went over the years, where that is a finding of its own.
pub(super) fn course(course: AirCourse) -> Option<FindingWords> {
    let [name, said, next] = course.message()?;
    Some(FindingWords {
        name: name.to_string(),
        grade: Grade::Attention,
        said: said.to_string(),
        next: Some(next.to_string()),
        again: Some(30),
        cause: None,
    })
}

/// Groups, in words.
fn listed(groups: &[Group]) -> String {
    let name = |group: &Group| match group {
        Group::Tank => "tank",
        Group::Switch => "switch",
        Group::Pump => "pump",
        Group::Measuring => "gauges",
        Group::Leaks => "pipes",
    };
    list(groups.iter().map(name), "and")
}

/// The groups that a procedure tests.
fn tested(claims: &Claims) -> Vec<Group> {
    let is = |group: &Group| claims.causes().any(|cause| cause.group == *group && cause.harms());
    Group::ALL.into_iter().filter(is).collect()
}

/// What was not tested, the commonest first.
fn not_tested(causes: &[CauseId]) -> Option<String> {
    let names: Vec<&str> = causes.iter().take(3).map(|cause| cause.cause().name).collect();
    (!names.is_empty()).then(|| format!("Not tested: {}.", list(&names, "and")))
}

/// Nothing was found.
pub(super) fn good(diagnosis: &Diagnosis, claims: &Claims, worst: Grade) -> FindingWords {
    let good = worst <= Grade::Note;
    let what = if good { "No fault found" } else { "No other fault found" };
    let mut open = tested(claims);
    open.retain(|group| !diagnosis.vouched.contains(group));
    FindingWords {
        name: what.to_lowercase(),
        grade: if good { Grade::Good } else { Grade::Note },
        said: sentences([
            Some(format!("{what} in {}: all readings agree.", listed(&diagnosis.vouched))),
            Some(sure(diagnosis.good)),
            not_tested(&diagnosis.left_open),
            (!open.is_empty()).then(|| format!("Too little was tested to speak for {}.", listed(&open))),
        ]),
        next: Some("Look again in a year, with the same gauges.".to_string()),
        again: Some(365),
        cause: None,
    }
}

/// What is not sure; nothing where something else is and the rest is unlikely.
pub(super) fn open(diagnosis: &Diagnosis, evidence: &Evidence, claims: &Claims) -> Option<FindingWords> {
    if let Some(odd) = diagnosis.odd {
        return Some(unexplained(odd, diagnosis));
    }
    let nothing_likely = diagnosis.likeliest.is_empty();
    if nothing_likely && diagnosis.found.iter().any(|found| found.cause.cause().weight > Weight::Note) {
        return None;
    }
    let (name, said) = if evidence.items().is_empty() {
        (OPEN, "Nothing was read that a diagnosis could go by.".to_string())
    } else if nothing_likely {
        (NONE_SO_FAR, nothing_against(diagnosis, claims))
    } else {
        (OPEN, what_is_likely(diagnosis))
    };
    // Where nothing is likely, the test by which most can be ruled out that was not tested; of these, and
    // else, the one that tells most.
    let rules_out = |next: &Ranked| {
        let by = |cause: &&CauseId| cause.cause().tested_by.iter().any(|all| all.contains(&next.test.item));
        if nothing_likely { diagnosis.untested.iter().filter(by).count() } else { 0 }
    };
    let next_test = diagnosis.tests.iter().min_by_key(|next| std::cmp::Reverse(rules_out(next)));
    let grade = match diagnosis.working {
        Working::Accept | Working::LookAgain => Grade::Note,
        Working::SetAgain | Working::Act => Grade::Attention,
    };
    let tank_known = settles_the_tank(diagnosis);
    Some(FindingWords {
        name: name.to_string(),
        grade: if tank_known { Grade::Note } else { grade },
        said,
        next: test(if nothing_likely { TO_LEARN_MORE } else { NEXT_TEST }, next_test),
        again: Some(if tank_known { 30 } else { diagnosis.working.days() }),
        cause: None,
    })
}

/// That nothing speaks for a cause, where not all was tested or it is not enough.
fn nothing_against(diagnosis: &Diagnosis, claims: &Claims) -> String {
    let untested: Vec<&str> = diagnosis.untested.iter().take(3).map(|it| it.cause().name).collect();
    match untested.as_slice() {
        [] => format!(
            "Nothing speaks against {}, but these readings are not enough to be sure.",
            listed(&tested(claims))
        ),
        some => format!("Nothing speaks against it so far. Not tested: {}.", list(some, "and")),
    }
}

/// The likeliest causes: those that must be put right, how likely it is that nothing must be, and what is only
/// worth knowing, which may be so beside either.
fn what_is_likely(diagnosis: &Diagnosis) -> String {
    let named = |harms: bool| {
        let of = diagnosis.likeliest.iter().filter(|(cause, _)| cause.cause().harms() == harms);
        let words: Vec<String> = of.map(likely).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        (!words.is_empty()).then(|| list(&words, if harms { "or" } else { "and" }))
    };
    let alone = diagnosis.found.is_empty();
    let lead = if alone { "Can't tell yet." } else { "Can't tell whether there is more." };
    let fine = alone && diagnosis.good >= 0.3;
    let fine = fine.then(|| format!("Nothing to put right: {}.", percent(diagnosis.good)));
    let likeliest = |lead: &str| named(true).map(|names| format!("{lead}: {names}."));
    // What is likelier than not stands first.
    let [first, second] = match fine {
        Some(fine) if diagnosis.good > 0.5 => [Some(fine), likeliest("Else")],
        fine => [likeliest("Likeliest"), fine],
    };
    sentences([
        Some(lead.to_string()),
        first,
        second,
        named(false).map(|names| format!("Beside that: {names}.")),
    ])
}

/// A reading that goes with nothing else.
fn unexplained(odd: Odd, diagnosis: &Diagnosis) -> FindingWords {
    let (name, said, next) = match odd {
        Odd::Reading(item) => (
            "a reading does not fit",
            format!("No cause fits all readings. What fits least: {item}."),
            format!("Take it again: {item}."),
        ),
        Odd::NothingFits => (
            "nothing fits",
            "No cause fits these readings, and no one misreading explains them.".to_string(),
            "Take all readings again, one by one, or ask a pump installer.".to_string(),
        ),
    };
    FindingWords {
        name: name.to_string(),
        grade: Grade::Attention,
        said,
        next: Some(next),
        again: Some(diagnosis.working.days().min(30)),
        cause: None,
    }
}

/// What to do for now about the tank, where that stays open: apart from the verdict, and no pass. By when to
/// look again stands beside it.
pub(super) fn for_now(diagnosis: &Diagnosis, claims: &Claims) -> Option<ForNow> {
    let looked_at =
        claims.causes().map(|cause| cause.group).chain(diagnosis.beyond.iter().map(|it| it.cause().group));
    if settles_the_tank(diagnosis) || !looked_at.into_iter().any(|group| group == Group::Tank) {
        return None;
    }
    match diagnosis.working {
        Working::Accept if !diagnosis.vouched.contains(&Group::Tank) => None,
        Working::Accept => Some(ForNow::Accept),
        Working::LookAgain => Some(ForNow::Leave),
        Working::SetAgain => Some(ForNow::Set),
        Working::Act => Some(ForNow::SeeTo),
    }
}

/// What an entry of a diagnosis says to do for now, with the day by which to look again.
pub(super) fn for_now_by(entry: &Entry) -> Option<String> {
    let answer = entry.for_now?.says();
    let by = entry.due.map(|due| format!(" Look again by {}.", due.date()));
    Some(format!("{answer}{}", by.unwrap_or_default()))
}

/// Whether a diagnosis leaves nothing open about the tank.
fn settles_the_tank(diagnosis: &Diagnosis) -> bool {
    diagnosis.is_good || diagnosis.found.iter().any(|found| found.cause.cause().group == Group::Tank)
}
