#!/usr/bin/env python3
"""Writes tanks.json: what several tanks at heights give, by another way than the program's.

    python3 -m venv venv && venv/bin/pip install scipy==1.17.1
    venv/bin/python tests/oracles/make_tanks.py

Each tank is a cylinder with a piston under a spring of air. The volume of its air is found by bisection as the
root of the balance of forces, and the water that comes is the integral of its change over the pressure at the
switch, by adaptive quadrature. The tests read the file alone. Volumes in gal, gauge pressures in psi, heights in
ft, elevations in m.
"""

import json
import pathlib

import scipy
from scipy.integrate import quad
from scipy.optimize import bisect

PSI, FOOT = 6894.757293168361, 0.3048
DENSITY, GRAVITY = 999.7025, 9.80665


def outside(elevation):
    """U.S. Standard Atmosphere, 1976; Pa."""
    height = 6356766.0 * elevation / (6356766.0 + elevation)
    return 101325.0 * (1 - 0.0065 * height / 288.15) ** 5.255876


def air(tank, line, elevation):
    """The share of a tank that is air, with so much pressure at the switch (psi)."""
    volume, precharge, above = tank
    amount = precharge * PSI + outside(elevation)
    pressure = line * PSI + outside(elevation) - DENSITY * GRAVITY * above * FOOT
    balance = lambda share: amount / share - pressure
    return 1.0 if balance(1.0) >= 0 else bisect(balance, 1e-6, 1.0, xtol=1e-15)


def share(tank, cut_in, cut_out, elevation):
    """The water that a tank gives; gal."""
    change = lambda line: (air(tank, line - 1e-3, elevation) - air(tank, line + 1e-3, elevation)) / 2e-3
    bends = [tank[1] + DENSITY * GRAVITY * tank[2] * FOOT / PSI]
    inside = [bend for bend in bends if cut_in < bend < cut_out]
    return tank[0] * quad(change, cut_in, cut_out, points=inside or None, epsabs=1e-10, limit=200)[0]


def main():
    cases = [
        ([(44, 34.3, 0), (34, 34.3, 0)], 38, 58, 0),
        ([(44, 38, 0), (20, 33.7, 10), (32, 40.6, -6)], 40, 60, 0),
        ([(86, 30, 14), (86, 30, -14)], 40, 60, 1609.344),
        ([(44, 45, 0), (20, 52, 3), (20, 28, -3)], 40, 60, 300),
        ([(119, 20, 25)], 50, 70, 2400),
    ]
    rows = []
    for tanks, cut_in, cut_out, elevation in cases:
        shares = [share(tank, cut_in, cut_out, elevation) for tank in tanks]
        rows.append({"tanks": tanks, "cut_in": cut_in, "cut_out": cut_out, "elevation": elevation, "shares": shares})
    text = '{"made_by": "make_tanks.py with scipy ' + scipy.__version__ + '",\n"tanks": [\n'
    text += ",\n".join(json.dumps(row) for row in rows) + "\n]}\n"
    pathlib.Path(__file__).with_name("tanks.json").write_text(text)


main()
