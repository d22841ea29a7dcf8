"""Puts the questions of `tankhand records export --columns` to SQLite and, where it is there, to pandas, and
holds both answers against each other:

    tankhand records export --format sql --to entries.sql
    tankhand records export --format csv --to entries.csv
    python3 questions.py entries.sql entries.csv questions.json
"""

import json, sqlite3, sys

sql_file, csv_file, questions_file = sys.argv[1:]
sys.stdout.reconfigure(encoding="utf-8", newline="\n")

base = sqlite3.connect(":memory:")
with open(sql_file, encoding="utf-8", newline="") as file:
    base.executescript(file.read())
with open(questions_file, encoding="utf-8") as file:
    questions = json.load(file)
answers = [[list(row) for row in base.execute(sql)] for _, sql in questions]
for (question, _), answer in zip(questions, answers):
    print(question)
    for row in answer:
        print("", *row, sep="\t")

try:
    import pandas
except ImportError:
    print("SKIPPED: the same questions need pandas (python3 -m pip install pandas)", file=sys.stderr)
    sys.exit()

e = pandas.read_csv(csv_file).sort_values(["record", "n"])
assert e["counts"].isin([0, 1]).all() and e["round"].dropna().str.startswith("[").all()
c = e[e["counts"] == 1]


def rows(frame, *names):
    plain = frame[list(names)].astype(object)
    return plain.where(plain.notna(), None).values.tolist()


def counted(frame, *names):
    return [[*(key if isinstance(key, tuple) else (key,)), len(group)] for key, group in frame.groupby(list(names))]


left = c[(c.observes == "precharge") & (c.phase == "left") & (c.kind == "computed")].assign(v=lambda f: f.value.round(1))
amended = e[e.struck_by.notna() & (e.kind != "withdrawn")].astype({"struck_by": "Int64"})
due = c[c.due.notna()].sort_values(["due", "record", "n"]).assign(day=lambda f: f.due.str[:10])
gauges = c[c.gauge.notna() & c.uncertainty.notna()].groupby(["gauge", "unit"])["uncertainty"]
found = [
    [[len(c[c.kind == "reading"])]],
    [[int((e.value > 100).sum())]],
    rows(left, "record", "tank", "v", "unit"),
    rows(amended, "record", "n", "step", "struck_by"),
    rows(c[(c.provenance == "assumed") & (c.kind == "fact")], "record", "step", "given"),
    counted(c[c.grade.notna()], "grade"),
    rows(due, "day", "record", "finding"),
    rows(c[c.verdict.notna() & (c.verdict != "pass")], "record", "step", "verdict"),
    [[gauge, unit, len(group), round(group.mean(), 3)] for (gauge, unit), group in gauges],
    counted(c[(c.observes == "jar") & c["round"].notna()], "record"),
]
for (question, _), by_sql, by_pandas in zip(questions, answers, found, strict=True):
    assert by_sql == by_pandas, (question, by_sql, by_pandas)
