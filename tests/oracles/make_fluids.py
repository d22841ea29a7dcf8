#!/usr/bin/env python3
"""Writes fluids.json: what pipes take of the pressure, by the Python package fluids (Colebrook's equation
solved to machine precision).

    python3 -m venv venv && venv/bin/pip install fluids==1.3.1
    venv/bin/python tests/oracles/make_fluids.py

The tests read the file alone. Water at 10 degC; flows in gal/min, lengths in ft, diameters in in, losses in psi.
"""

import json
import math
import pathlib

import fluids

PSI, GPM, FOOT, INCH = 6894.757293168361, 3.785411784e-3 / 60, 0.3048, 0.0254
DENSITY, VISCOSITY, ROUGHNESS = 999.7025, 1.3059e-3, 1.5e-6


def loss(gpm, feet, inches):
    diameter, length = inches * INCH, feet * FOOT
    velocity = gpm * GPM / (math.pi / 4 * diameter**2)
    reynolds = fluids.Reynolds(V=velocity, D=diameter, rho=DENSITY, mu=VISCOSITY)
    factor = fluids.friction_factor(Re=reynolds, eD=ROUGHNESS / diameter, Method="Colebrook")
    return fluids.dP_from_K(factor * length / diameter, rho=DENSITY, V=velocity) / PSI, reynolds


def main():
    rows = []
    for inches in (0.475, 0.545, 0.681, 0.785, 1.025):
        for gpm in (0.1, 0.25, 1, 2.5, 5, 8, 12):
            psi, reynolds = loss(gpm, 100, inches)
            rows.append({"in": inches, "gpm": gpm, "ft": 100, "reynolds": reynolds, "psi": psi})
    text = '{"made_by": "make_fluids.py with fluids ' + fluids.__version__ + '",\n"friction": [\n'
    text += ",\n".join(json.dumps(row) for row in rows) + "\n]}\n"
    pathlib.Path(__file__).with_name("fluids.json").write_text(text)


main()
