"""Reads and checks a record; needs nothing but Python 3.11 or later: read_record.py FILE"""

import hashlib, re, sys, tomllib

data = open(sys.argv[1], "rb").read()
sys.stdout.reconfigure(encoding="utf-8", newline="")
begin = end = 0
for seal in re.finditer(rb'^seal = "([0-9a-f]{64})"\n', data, re.MULTILINE):
    if hashlib.sha256(data[begin : seal.start()]).hexdigest() != seal[1].decode():
        sys.exit(f"changed between byte {end} and byte {seal.start()}")
    begin, end = seal.start(), seal.end()

record = tomllib.loads(data[:end].decode())
for text in record.get("text", []):
    if hashlib.sha256(text["text"].encode()).hexdigest() != text["sha256"]:
        sys.exit(f"the text {text['name']} does not fit its digest")
print(record["id"], record["title"], record["started"].isoformat(), sep="\t")
for e in record.get("entry", []):
    print(e["n"], e["kind"], e["step"], e["at"].isoformat(), e.get("given"), e.get("value"), sep="\t")
print(record.get("result", {}).get("outcome", "not ended"), len(data) - end, sep="\t")
