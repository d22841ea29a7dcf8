"""Loads an export into a data base and checks it; needs nothing but Python 3.11 or later:

    tankhand records export --format csv --to readings.csv
    tankhand records export --format jsonl --to readings.jsonl
    python3 load_export.py readings.csv readings.jsonl

With --others it does the same with pandas and DuckDB (python3 -m pip install pandas duckdb).
"""

import csv, json, sqlite3, sys

csv_file, jsonl_file = [name for name in sys.argv[1:] if not name.startswith("--")]
sys.stdout.reconfigure(encoding="utf-8", newline="\n")
csv.field_size_limit(1 << 30)


def cell(text, value):
    """A cell of CSV as the value that stands for it in JSON Lines."""
    if value is None:
        return None if text == "" else text
    if isinstance(value, bool):
        return {"1": True, "0": False}[text]
    if isinstance(value, list):
        return json.loads(text) if isinstance(value[0], int) else text.split(" ")
    if isinstance(value, (int, float)):
        return type(value)(text)
    return text.removeprefix("'") if text[:1] in "='+-@\t＝＋－＠" and text else text


def same(csv_value, json_value):
    """Whether both tell the same; in CSV a sign stands for what could command a terminal."""
    if not isinstance(json_value, str):
        return csv_value == json_value
    json_value = json_value.replace("\r\n", "\n")
    pairs = zip(csv_value or "", json_value)
    return len(csv_value or "") == len(json_value) and all(c in (j, "\ufffd") for c, j in pairs)


with open(csv_file, encoding="utf-8", newline="") as file:
    table = list(csv.reader(file, strict=True))
with open(jsonl_file, encoding="utf-8", newline="\n") as file:
    objects = [json.loads(line) for line in file.read().removesuffix("\n").split("\n") if line]

names = table[0]
assert len(table) - 1 == len(objects), (len(table), len(objects))
for row, entry in zip(table[1:], objects):
    assert list(entry) == names and len(row) == len(names)
    for name, text in zip(names, row):
        assert same(cell(text, entry[name]), entry[name]), (name, text, entry[name])

QUERY = """
    SELECT step, unit, count(*) AS readings, round(avg(value), 3) AS mean, round(avg(si_value), 3) AS si_mean, si_unit
    FROM export WHERE kind = 'reading' AND counts AND value IS NOT NULL
    GROUP BY step, unit, si_unit ORDER BY step, unit
"""
base = sqlite3.connect(":memory:")
base.execute(f"CREATE TABLE export ({', '.join(names)})")
plain = lambda value: json.dumps(value) if isinstance(value, list) else value
base.executemany(
    f"INSERT INTO export VALUES ({', '.join('?' * len(names))})",
    ([plain(entry[name]) for name in names] for entry in objects),
)
answer = base.execute(QUERY).fetchall()
print(f"{len(objects)} lines, {len(names)} columns, the same in both files")
for row in answer:
    print(*row, sep="\t")

if "--others" in sys.argv:
    import duckdb, pandas

    for file, read in ((csv_file, "read_csv"), (jsonl_file, "read_json")):
        found = duckdb.sql(QUERY.replace("FROM export", f"FROM {read}('{file}')")).fetchall()
        assert found == answer, (file, found)
        [(kind,)] = duckdb.sql(f"SELECT DISTINCT typeof(\"at\") FROM {read}('{file}')").fetchall()
        print(f"DuckDB {duckdb.__version__} {read}: the same; at is {kind}")
    for what, frame in (
        ("read_csv", pandas.read_csv(csv_file)),
        ("read_json", pandas.read_json(jsonl_file, lines=True)),
    ):
        assert list(frame.columns) == names and len(frame) == len(objects)
        kept = frame[(frame["kind"] == "reading") & (frame["counts"] == 1) & frame["value"].notna()]
        groups = kept.groupby(["step", "unit", "si_unit"])
        found = [
            (step, unit, len(rows), round(rows["value"].mean(), 3), round(rows["si_value"].mean(), 3), si)
            for (step, unit, si), rows in groups
        ]
        assert found == sorted(answer), found
        # Offsets differ over a year; in UTC all are of one type.
        at = pandas.to_datetime(frame["at"], utc=True)
        print(f"pandas {pandas.__version__} {what}: the same; at is {at.dtype}")
