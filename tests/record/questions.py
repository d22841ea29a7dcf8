"""Puts the questions of `tankhand records export --columns` to SQLite and, where they are there, to DuckDB,
polars and pandas, and holds all answers against each other:

    tankhand records export --format sql --to entries.sql
    tankhand records export --format csv --to entries.csv
    python3 questions.py entries.sql entries.csv questions.json
"""

import json, sqlite3, sys

sql_file, csv_file, questions_file = sys.argv[1:]
sys.stdout.reconfigure(encoding="utf-8", newline="\n")

with open(sql_file, encoding="utf-8", newline="") as file:
    script = file.read()
base = sqlite3.connect(":memory:")
base.executescript(script)
with open(questions_file, encoding="utf-8") as file:
    questions = json.load(file)
answers = [[list(row) for row in base.execute(sql)] for _, sql in questions]
for (question, _), answer in zip(questions, answers):
    print(question)
    for row in answer:
        print("", *row, sep="\t")


def from_sql(duckdb):
    other = duckdb.connect()
    other.execute(script)
    return [[list(row) for row in other.execute(sql).fetchall()] for _, sql in questions]


def from_csv(duckdb):
    other = duckdb.connect()
    other.execute(f"CREATE TABLE entries AS FROM read_csv('{csv_file}')")
    return [[list(row) for row in other.execute(sql).fetchall()] for _, sql in questions]


def from_polars(polars):
    # A column may be empty for a thousand rows: types are told from all of them.
    frame = polars.read_csv(csv_file, infer_schema_length=None)
    asked = polars.SQLContext(entries=frame)
    return [[list(row) for row in asked.execute(sql, eager=True).rows()] for _, sql in questions]


def from_pandas(pandas):
    e = pandas.read_csv(csv_file).sort_values(["record", "n"])
    assert e["counts"].isin([0, 1]).all() and e["round"].dropna().str.startswith("[").all()
    c = e[e["counts"] == 1]

    def rows(frame, *names):
        plain = frame[list(names)].astype(object)
        return plain.where(plain.notna(), None).values.tolist()

    def counted(frame, *names):
        groups = frame.groupby(list(names))
        return [[*(key if isinstance(key, tuple) else (key,)), len(group)] for key, group in groups]

    left = c[(c.observes == "precharge") & (c.phase == "left") & (c.kind == "computed")]
    amended = e[e.struck_by.notna() & (e.kind != "withdrawn")].astype({"struck_by": "Int64"})
    due = c[c.due.notna()].sort_values(["due", "record", "n"]).assign(day=lambda f: f.due.str[:10])
    gauges = c[c.gauge.notna() & c.uncertainty.notna()].groupby(["gauge", "unit"])["uncertainty"]
    return [
        [[len(c[c.kind == "reading"])]],
        [[int((e.value > 100).sum())]],
        rows(left.assign(v=left.value.round(1)), "record", "tank", "v", "unit"),
        rows(amended, "record", "n", "step", "struck_by"),
        rows(c[(c.provenance == "assumed") & (c.kind == "fact")], "record", "step", "given"),
        counted(c[c.grade.notna()], "grade"),
        rows(due, "day", "record", "finding"),
        rows(c[c.verdict.notna() & (c.verdict != "pass")], "record", "step", "verdict"),
        [[gauge, unit, len(group), round(group.mean(), 3)] for (gauge, unit), group in gauges],
        counted(c[(c.observes == "jar") & c["round"].notna()], "record"),
    ]


def plain(answer):
    """A day is a day, whether a program reads it as a text or as a time; numbers are numbers."""
    return [[str(cell)[:10] if hasattr(cell, "year") else cell for cell in row] for row in answer]


for name, asks in (("duckdb", [from_sql, from_csv]), ("polars", [from_polars]), ("pandas", [from_pandas])):
    try:
        program = __import__(name)
    except ImportError:
        print(f"SKIPPED: the same questions need {name} (python3 -m pip install {name})", file=sys.stderr)
        continue
    for ask in asks:
        for (question, _), right, found in zip(questions, answers, ask(program), strict=True):
            assert plain(found) == right, (ask.__name__, question, right, found)
