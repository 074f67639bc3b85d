"""
Budgets by the package uncertainties, which carries doubts through a formula by itself, correlations too: what this folder's
files say of GUM H.1 and H.2 and of a spherometer.

    /usr/bin/python3 tests/references/secondRoute.py

Each line is a key and its values; tests/secondRoutes.test.ts looks for them in the tests whose comment names the key.
"""

import numpy as np
from scipy import stats
from uncertainties import correlated_values, correlation_matrix, ufloat, umath

# GUM H.1: end gauge, nm and degrees
standard, difference = ufloat(50000623, 25), ufloat(215, (5.8**2 + 3.9**2 + 6.7**2) ** 0.5)
alpha, unlike = ufloat(11.5e-6, 2e-6 / 3**0.5), ufloat(0, 1e-6 / 3**0.5)
theta, apart = ufloat(-0.1, (0.2**2 + 0.125) ** 0.5), ufloat(0, 0.05 / 3**0.5)
gauge = standard + difference - standard * (unlike * theta + alpha * apart)
u_d = difference.std_dev
dof_d = u_d**4 / (5.8**4 / 24 + 3.9**4 / 5 + 6.7**4 / 8)
parts = {var: share for var, share in gauge.error_components().items()}
dof = gauge.std_dev**4 / (25**4 / 18 + u_d**4 / dof_d + parts[unlike] ** 4 / 50 + parts[apart] ** 4 / 2)
print(f"end gauge: {gauge.std_dev:.12g} {u_d:.12g} {dof_d:.12g} {dof:.12g} {stats.t.ppf(0.995, 16):.12g}")

# GUM H.2: resistance and reactance of one element
V = [5.007, 4.994, 5.005, 4.99, 4.999]
I = [0.019663, 0.019639, 0.01964, 0.019685, 0.019678]
phi = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
seen = np.array([V, I, phi])
v, i, p = correlated_values(seen.mean(1), np.cov(seen) / 5)
three = [v / i * umath.cos(p), v / i * umath.sin(p), v / i]
r = correlation_matrix(three)
print("resistance and reactance:", *(f"{x:.12g}" for one in three for x in (one.nominal_value, one.std_dev)),
      *(f"{x:.12g}" for x in (r[0, 1], r[0, 2], r[1, 2])))

# a spherometer of three balls
flat, glass = [5.001, 5.0, 5.002, 5.0, 5.001], [5.522, 5.523, 5.521, 5.522, 5.522]
u_h = (np.var(flat, ddof=1) / 5 + np.var(glass, ddof=1) / 5 + 2 * 0.001**2 / 12) ** 0.5
a, h, ball = ufloat(50, 0.05), ufloat(np.mean(glass) - np.mean(flat), u_h), ufloat(3, 0.01)
radius = (a**2 + h**2) / (2 * h) + ball
print(f"spherometer: {radius.nominal_value:.12g} {radius.std_dev:.12g} {abs(radius.error_components()[a]):.12g} "
      f"{abs(radius.error_components()[h]):.12g}")
