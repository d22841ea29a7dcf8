#!/usr/bin/env python3
"""Writes plant.json: courses of a simulated well system, integrated by scipy instead.

    python3 -m venv venv && venv/bin/pip install scipy==1.17.1
    venv/bin/python tests/oracles/make_plant.py

The tests read the file alone. The equations are those that src/physics/plant states, written down anew: the
line is a stiff state of its own here, and every step is as small as the solver (LSODA) wants it. Units: SI.
"""

import json
import math
import pathlib

import scipy
from scipy.integrate import solve_ivp

PSI, GALLON = 6894.757293168361, 3.785411784e-3
AIR, R, GAMMA, COOLING = 101325.0, 8.31446261815324, 1.4, 35.0
WATER = 9.80665 * 999.7025
COMPLIANCE, START_UP = 1.5e-10, 0.5
AMBIENT = 288.15
SHUTOFF, FREE_FLOW = 85 * PSI, 15.5 * GALLON / 60
DRAIN = 1.2e-6


def root(k, p):
    return k * math.copysign(math.sqrt(abs(p)), p)


class Tank:
    def __init__(self, gallons=44.0, precharge=38.0, height=0.0, outlet=1e-5, column=1.0):
        self.volume, self.height = gallons * GALLON, height
        self.outlet, self.column = outlet, column
        self.air = (precharge * PSI + AIR) * self.volume / (R * AMBIENT)

    def port(self, water, temperature):
        absolute = self.air * R * temperature / (self.volume - water)
        return absolute - AIR + WATER * (self.height + self.column * water / self.volume)

    def at_rest(self, line):
        low, high = 0.0, 0.999 * self.volume
        for _ in range(100):
            middle = (low + high) / 2
            low, high = (middle, high) if self.port(middle, AMBIENT) < line else (low, middle)
        return high


def flow_in(tank, line, water, temperature):
    flow = root(tank.outlet, line - tank.port(water, temperature))
    return max(flow, 0.0) if water <= 0.0 else flow


def course(tanks, start, seconds, *, pump=False, drain=0.0, leak=0.0, until=None):
    def slopes(t, y):
        line, rest = y[0], y[1:]
        pumped = 0.0
        if pump and line < SHUTOFF:
            pumped = min(t / START_UP, 1.0) * FREE_FLOW * math.sqrt(1 - max(line, 0.0) / SHUTOFF)
        taken, out = 0.0, []
        for n, tank in enumerate(tanks):
            water, temperature = rest[2 * n], rest[2 * n + 1]
            flow = flow_in(tank, line, water, temperature)
            room = tank.volume - water
            warming = (GAMMA - 1) * temperature * flow / room + (AMBIENT - temperature) / COOLING
            taken += flow
            out += [flow, warming]
        lost = root(DRAIN * drain, line) + root(leak, max(line, 0.0))
        return [(pumped - taken - lost) / COMPLIANCE] + out

    y0 = [start] + [x for tank in tanks for x in (tank.at_rest(start), AMBIENT)]
    reached = None
    if until is not None:
        def reached(t, y):
            return y[0] - until
        reached.terminal = True
    return solve_ivp(slopes, (0, seconds), y0, method="LSODA", rtol=1e-8, atol=[1.0] + [1e-9, 1e-6] * len(tanks),
                     events=reached, dense_output=True, max_step=5.0)


def samples(solution, tanks, times):
    rows = []
    for t in times:
        y = solution.sol(t)
        rows.append({"s": t, "line": y[0], "water": [max(y[1 + 2 * n], 0.0) for n in range(len(tanks))]})
    return rows


def main():
    one = [Tank()]
    fill = course(one, 40 * PSI, 600, pump=True, until=60 * PSI)
    draw = course(one, 60 * PSI, 3600, drain=0.12, until=40 * PSI)
    leak = course(one, 60 * PSI, 900, leak=1.9e-8)
    two = [Tank(44.0, 38.0, outlet=1e-6), Tank(20.0, 30.0, height=2.0)]
    both = course(two, 55 * PSI, 150, drain=0.3)
    pathlib.Path(__file__).with_name("plant.json").write_text(json.dumps({
        "scipy": scipy.__version__,
        "fill": {"seconds": fill.t[-1], "water": fill.y[1][-1]},
        "draw": {"seconds": draw.t[-1], "water": draw.y[1][-1]},
        "leak": samples(leak, one, [60, 300, 900]),
        "two": samples(both, two, [5, 20, 60, 120]),
    }, indent=1) + "\n")


if __name__ == "__main__":
    main()
