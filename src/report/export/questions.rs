//! Questions that an export answers, each with its SQL: told with the columns, and put to other programs by a
//! test.

/// A question, and what `SQLite` or `DuckDB` is asked for it in a table `entries`.
pub static QUESTIONS: &[(&str, &str)] = &[
    ("How many readings count?", "SELECT count(*) FROM entries WHERE kind = 'reading' AND counts = 1"),
    (
        "How many numbers are above 100, whatever their unit?",
        "SELECT count(*) FROM entries WHERE value > 100",
    ),
    (
        "Which precharge was each tank left with?",
        "SELECT record, tank, round(value, 1), unit FROM entries WHERE observes = 'precharge' AND phase = 'left' \
         AND kind = 'computed' AND counts = 1 ORDER BY record, n",
    ),
    (
        "Which answers were amended?",
        "SELECT record, n, step, struck_by FROM entries WHERE struck_by IS NOT NULL AND kind <> 'withdrawn' \
         ORDER BY record, n",
    ),
    (
        "What was assumed, and confirmed by nobody?",
        "SELECT record, step, given FROM entries WHERE provenance = 'assumed' AND kind = 'fact' AND counts = 1 \
         ORDER BY record, n",
    ),
    (
        "How many findings are there of each grade?",
        "SELECT grade, count(*) FROM entries WHERE grade IS NOT NULL AND counts = 1 GROUP BY grade ORDER BY grade",
    ),
    (
        "What is due, and when?",
        "SELECT CAST(due AS TEXT), record, finding FROM entries WHERE due IS NOT NULL AND counts = 1 \
         ORDER BY due, record, n",
    ),
    (
        "Which checks failed or could not tell?",
        "SELECT record, step, verdict FROM entries WHERE verdict <> 'pass' AND counts = 1 ORDER BY record, n",
    ),
    (
        "How far is each gauge off, as a mean of standard uncertainties?",
        "SELECT gauge, unit, count(*), round(avg(uncertainty), 3) FROM entries WHERE gauge IS NOT NULL \
         AND uncertainty IS NOT NULL AND counts = 1 GROUP BY gauge, unit ORDER BY gauge, unit",
    ),
    (
        "How many jars did each flush take?",
        "SELECT record, count(*) FROM entries WHERE observes = 'jar' AND round IS NOT NULL AND counts = 1 \
         GROUP BY record ORDER BY record",
    ),
];
