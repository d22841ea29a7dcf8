"""Figures for trend.rs and doubt.rs, worked with numpy and scipy (run with numpy 2.4.6, scipy 1.17.1)."""

import numpy as np
from scipy import optimize, stats

# Invented charges, psi, corrected to one temperature; months; own standard uncertainties.
months = np.array([0.0, 2.0, 5.0, 9.0, 14.0, 20.0])
charge = np.array([38.1, 37.6, 37.7, 36.4, 36.2, 34.7])
u = np.array([0.3, 0.3, 0.6, 0.3, 0.3, 0.6])
shared = 0.4

for name, scale in (("as given", False), ("scattering", True)):
    y = charge + (np.array([1, -1, 2, -1.5, 1.5, -2]) * 0.6 if scale else 0.0)
    (a, b), cov = optimize.curve_fit(lambda t, a, b: a + b * t, months, y, sigma=u, absolute_sigma=True)
    birge = max(1.0, np.sum(((y - a - b * months) / u) ** 2) / (len(u) - 2))
    cov = cov * birge
    k = stats.t.ppf(0.975, len(u) - 2) if birge > 1 else stats.norm.ppf(0.975)
    print(name, "birge", birge, "loss", -b, "u", cov[1, 1] ** 0.5, "k", k)
    print("  interval", -b - k * cov[1, 1] ** 0.5, -b + k * cov[1, 1] ** 0.5)
    off = lambda t, sign: a + b * t + sign * k * np.sqrt(
        cov[0, 0] + 2 * t * cov[0, 1] + t * t * cov[1, 1] + shared**2) - 30.0
    print("  leaves 30 psi", (30.0 - a) / b)
    for sign in (-1, 1):
        try:
            print("  bound", sign, optimize.brentq(off, 20.0, 400.0, args=(sign,)))
        except ValueError:
            print("  bound", sign, "never")

for p in (0.95, 0.975, 0.99):
    print(p, "normal", stats.norm.ppf(p), "t", {n: round(float(stats.t.ppf(p, n)), 6) for n in (1, 2, 3, 4, 7, 10, 30, 200)})
