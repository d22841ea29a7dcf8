#!/usr/bin/env python3
"""Writes coolprop.json: what real air does in a tank, by CoolProp (its reference equation for air).

    python3 -m venv venv && venv/bin/pip install CoolProp==8.0.0
    venv/bin/python tests/oracles/make_coolprop.py

The tests read the file alone. Pressures are gauge pressures in psi at sea level, temperatures in degC.
"""

import json
import pathlib

import CoolProp
from CoolProp.CoolProp import PropsSI

PSI = 6894.757293168361
SEA_LEVEL = 101325.0


def kelvin(t):
    return t + 273.15


def density(psi, t):
    return PropsSI("D", "P", psi * PSI + SEA_LEVEL, "T", kelvin(t), "Air")


def main():
    compressibility = [
        {"bar": bar, "degC": t, "z": PropsSI("Z", "P", bar * 1e5, "T", kelvin(t), "Air")}
        for bar in (1.01325, 2, 3, 4, 5, 6, 8) for t in (0, 10, 20, 30, 40)
    ]
    drawdown = [
        # The air keeps its mass and its temperature; volumes as shares of the tank's.
        {"degC": t, "charge": on - 2, "cut_in": on, "cut_out": off,
         "share": density(on - 2, t) * (1 / density(on, t) - 1 / density(off, t))}
        for t in (5, 10, 20, 30) for on, off in ((20, 40), (30, 50), (40, 60), (50, 70))
    ]
    charge = [
        # The air keeps its mass and its volume.
        {"set": psi, "at_degC": 20, "degC": t,
         "charge": (PropsSI("P", "D", density(psi, 20), "T", kelvin(t), "Air") - SEA_LEVEL) / PSI}
        for psi in (18, 28, 38, 48) for t in (-10, 0, 5, 10, 30, 40)
    ]
    tables = {"compressibility": compressibility, "drawdown": drawdown, "charge": charge}
    text = '{"made_by": "make_coolprop.py with CoolProp ' + CoolProp.__version__ + '"'
    for name, rows in tables.items():
        text += f',\n"{name}": [\n' + ",\n".join(json.dumps(row) for row in rows) + "\n]"
    pathlib.Path(__file__).with_name("coolprop.json").write_text(text + "}\n")


main()
