#!/usr/bin/env python3
"""Writes uncertainties.json: random expressions with what the Python package `uncertainties` makes of them.

    python3 -m venv venv && venv/bin/pip install uncertainties==3.2.3
    venv/bin/python tests/oracles/make_uncertainties.py

The tests read the file alone; Python is not needed to run them. Every input is a best estimate and what each
independent source moves it; inputs share sources, so they are correlated. The formulas are written here anew.
"""

import json
import math
import pathlib
import random

import uncertainties
from uncertainties import ufloat, umath

SEED = 20310405
OPERATORS = 200
FORMULAS = 120
PSI = 6894.757293168361
GALLON = 3.785411784e-3


def nominal(x):
    return x.nominal_value if hasattr(x, "nominal_value") else x


def air(z):
    height = 6356766.0 * z / (6356766.0 + z)
    return 101325.0 * (1.0 - height * 0.0065 / 288.15) ** (9.80665 * 0.0289644 / (8.31432 * 0.0065))


def water_held(v, charge, pressure, z):
    if nominal(pressure) <= nominal(charge):
        return 0.0 * v
    return v - v * (charge + air(z)) / (pressure + air(z))


def drawdown(v, charge, cut_in, cut_out, z):
    return water_held(v, charge, cut_out, z) - water_held(v, charge, cut_in, z)


def precharge_at(charge, before, after, z):
    return (charge + air(z)) / before * after - air(z)


def free_air(v, before, after, z):
    return v * (after - before) / air(z)


def precharge_from_drawdown(v, given, cut_in, cut_out, z):
    a = air(z)
    return given / v / (1.0 / (cut_in + a) - 1.0 / (cut_out + a)) - a


def run_time(given, flow):
    return given / flow


def starts_per_hour(given, flow):
    return 3600.0 * flow / (4.0 * given)


def absolute(pressure, z):
    return pressure + air(z)


def volume_needed(given, charge, cut_in, cut_out, z):
    a = air(z)
    return given / (charge + a) / (1.0 / (cut_in + a) - 1.0 / (cut_out + a))


FUNCTIONS = {f.__name__: f for f in (
    water_held, drawdown, precharge_at, free_air, precharge_from_drawdown, run_time, starts_per_hour, absolute,
    volume_needed)}


class Refused(Exception):
    """The expression is no good as a test: outside a domain, or nearly cancelled."""


def evaluate(tree, inputs, seen):
    kind, *rest = tree
    if kind == "x":
        result = inputs[rest[0]]
    elif kind == "c":
        result = rest[0]
    elif kind == "pow":
        base = evaluate(rest[0], inputs, seen)
        if nominal(base) <= 0.01:
            raise Refused
        result = base ** rest[1]
    else:
        args = [evaluate(part, inputs, seen) for part in rest]
        first = nominal(args[0])
        if kind in ("sqrt", "ln") and first <= 0.01 or kind == "exp" and abs(first) > 8.0:
            raise Refused
        if kind == "div" and abs(nominal(args[1])) < 0.01:
            raise Refused
        result = {
            "add": lambda a, b: a + b, "sub": lambda a, b: a - b, "mul": lambda a, b: a * b,
            "div": lambda a, b: a / b, "neg": lambda a: -a, "abs": lambda a: -a if nominal(a) < 0.0 else a,
            "min": lambda a, b: b if nominal(b) < nominal(a) else a,
            "max": lambda a, b: b if nominal(b) > nominal(a) else a,
            "sqrt": umath.sqrt, "exp": umath.exp, "ln": umath.log, **FUNCTIONS,
        }[kind](*args)
    seen.append(abs(nominal(result)))
    return result


def random_tree(r, depth, inputs):
    if depth == 0 or r.random() < 0.1:
        return ["x", r.randrange(inputs)] if r.random() < 0.8 else ["c", round(r.uniform(0.2, 5.0), 3)]
    kind = r.choice(["add", "sub", "mul", "div"] * 2 + ["neg", "abs", "min", "max", "sqrt", "exp", "ln", "pow"])
    part = lambda: random_tree(r, depth - 1, inputs)
    if kind in ("neg", "abs", "sqrt", "exp", "ln"):
        return [kind, part()]
    if kind == "pow":
        return [kind, part(), r.choice([-2.0, -0.5, 0.5, 1.5, 2.0, 3.0, 5.25588])]
    return [kind, part(), part()]


def doubted(r, value, share):
    """A value with one to three of four sources, of about that share of it."""
    sources = sorted(r.sample([1, 2, 3, 4], r.randint(1, 3)))
    return {"value": value, "parts": [[s, r.uniform(-share, share) * abs(value)] for s in sources]}


def operators(r):
    inputs = [doubted(r, round(r.uniform(-3.0, 6.0), 4), 0.05) for _ in range(4)]
    return inputs, random_tree(r, r.randint(2, 5), 4)


def formula(r):
    name = r.choice(sorted(FUNCTIONS))
    x = lambda value, share=0.03: doubted(r, value, share)
    v, given, flow = x(r.uniform(60, 120) * GALLON), x(r.uniform(2, 10) * GALLON), x(r.uniform(2, 20) * GALLON / 60)
    charge, cut_in = x(r.uniform(15, 34) * PSI), x(r.uniform(36, 45) * PSI)
    cut_out, z = x(r.uniform(50, 75) * PSI), x(r.uniform(0, 3000))
    before, after = x(r.uniform(275, 300), 0.005), x(r.uniform(275, 300), 0.005)
    inputs = {
        "water_held": [v, charge, cut_out, z], "drawdown": [v, charge, cut_in, cut_out, z],
        "precharge_at": [charge, before, after, z], "free_air": [v, charge, cut_out, z],
        "precharge_from_drawdown": [v, given, cut_in, cut_out, z], "run_time": [given, flow],
        "starts_per_hour": [given, flow], "absolute": [charge, z],
        "volume_needed": [given, charge, cut_in, cut_out, z],
    }[name]
    tree = [name] + [["x", i] for i in range(len(inputs))]
    if r.random() < 0.5:  # something around it that shares its sources
        tree = [r.choice(["add", "sub", "mul", "div"]), tree, ["mul", ["c", 0.5], ["x", 0]]]
    return inputs, tree


def case(inputs, tree):
    sources = {s: ufloat(0.0, 1.0) for s in (1, 2, 3, 4)}
    values = [x["value"] + sum(part * sources[s] for s, part in x["parts"]) for x in inputs]
    seen = []
    try:
        result = evaluate(tree, values, seen)
    except (Refused, OverflowError, ZeroDivisionError):
        return None
    if not hasattr(result, "std_dev"):
        return None
    value, doubt = result.nominal_value, result.std_dev
    parts = [result.derivatives[s] if s in result.derivatives else 0.0 for s in sources.values()]
    good = math.isfinite(value) and math.isfinite(doubt) and 1e-6 < abs(value) < 1e9
    # What nearly cancels keeps the rounding of what went before, and tests only that.
    if not good or abs(value) < 1e-3 * max(seen) and tree[0] not in FUNCTIONS or doubt < 1e-4 * abs(value):
        return None
    return {"inputs": inputs, "tree": tree, "value": value, "std_dev": doubt, "by_source": parts}


def main():
    r = random.Random(SEED)
    cases = []
    for count, make in ((OPERATORS, operators), (FORMULAS, formula)):
        wanted = len(cases) + count
        while len(cases) < wanted:
            made = case(*make(r))
            if made:
                cases.append(made)
    head = {"made_by": f"make_uncertainties.py with uncertainties {uncertainties.__version__}", "seed": SEED}
    lines = ",\n".join(json.dumps(one) for one in cases)
    text = json.dumps(head)[:-1] + ',\n"cases": [\n' + lines + "\n]}\n"
    pathlib.Path(__file__).with_name("uncertainties.json").write_text(text)


main()
