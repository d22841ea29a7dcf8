//! What the ± and the 95 % rest on, and how far they fall where that is not so.

use super::{Page, Row};

/// One promise in a world that is not as the program takes it to be.
#[derive(Clone, Copy, Debug)]
pub struct WrongLaw {
    /// What is said with 95 %, as the table of calibration has it.
    pub promise: &'static str,
    /// What is otherwise, as the table has it.
    pub world: &'static str,
    /// How often it is kept then, of 100 simulated owners.
    pub kept: u8,
}

const fn law(promise: &'static str, world: &'static str, kept: u8) -> WrongLaw {
    WrongLaw { promise, world, kept }
}

const TWICE: &str = "gauges twice as far off as believed";
const STICKS: &str = "needle that sticks within 1 psi";
const WARMER: &str = "air 1.5 K warmer than the thermometer beside it";
const SCATTERS: &str = "switch that scatters twice as much";

const DIAL: &str = "no pass at exactly the limit, by one dial reading";
const DRAWDOWN: &str = "± of a drawdown worked out from four readings";
const WARMEST: &str = "precharge set to the target is under the cut-in on the warmest day";
const LATER: &str = "precharge set to the target is under the lowest of 30 later starts";
const HOLD: &str = "no pass of a hold test with the leak that it would show";

/// How far promises fall; a test holds the figures against the table of simulated owners.
pub const WRONG_LAWS: &[WrongLaw] = &[
    law(DIAL, TWICE, 73),
    law(DRAWDOWN, TWICE, 70),
    law(WARMEST, TWICE, 85),
    law(LATER, TWICE, 79),
    law(DIAL, STICKS, 92),
    law(HOLD, STICKS, 65),
    law(LATER, STICKS, 94),
    law(HOLD, WARMER, 90),
    law(LATER, WARMER, 96),
    law(LATER, SCATTERS, 85),
];

pub(super) fn uncertainty_page() -> Page {
    let mut page = Page::titled("What the ± and the 95 % rest on");
    page.texts([
        "A gauge may be off by as much as the system file says, anywhere within that limit alike, and by the same in all \
         its readings. What a reading is rounded to is its own. The ± is twice the standard uncertainty (JCGM 100:2008), \
         and more where few readings tell it: Student's t.",
        "Readings that are equal, or within one mark of each other, were most likely rounded alike: their mean is no \
         better than one of them. Readings that lie further apart tell by their spread how well their mean is known; two \
         of them tell it badly.",
        "A check passes where the probability that it holds is at least 95 %, by the laws of all errors together. So a \
         value that is exactly at its limit passes for 5 owners in 100 at most. A leak that a test is said to show is one \
         that passes as seldom.",
        "The target leaves room for the lowest of the next 30 starts. That switches commonly scatter by 0.4 psi is a \
         judgement; what was watched is joined with it.",
        "All this is right as far as the limits are. Of simulated owners each of these was kept at least 94 times in \
         100 in the world as it is taken to be. Where the world is otherwise, it was kept so often:",
    ]);
    let rows = WRONG_LAWS
        .iter()
        .map(|it| Row::new([it.promise.to_string(), it.world.to_string(), format!("{} %", it.kept)]));
    page.table(&["What is said with 95 %", "But in truth there is", "Kept"], rows);
    page.text(
        "So believe a gauge only as far as it was compared with another, tap its glass, and give the air an hour in the \
         shade before a thermometer counts.",
    );
    page
}
