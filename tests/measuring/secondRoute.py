"""
Means, weights and budgets by another route: Python's statistics, scipy's distributions, and the package uncertainties, which
carries doubts through a formula by itself.

    /usr/bin/python3 tests/measuring/secondRoute.py

Each line is a key and its values; tests/secondRoutes.test.ts looks for them in the tests whose comment names the key.
"""

import statistics

import numpy as np
from scipy import stats

sun = [1203, 1196, 1209, 1200, 1198, 1206]
print(f"the Sun's image: {statistics.stdev(sun):.12g} {statistics.stdev(sun) / 6**0.5:.12g}")
step = [5.001, 5, 5.002, 5, 5.001]
print(f"five readings of a spherometer: {statistics.stdev(step) / 5**0.5:.12g}")
makers = [1198.3, 1191, 1206, 1183, 1202, 1229, 1195, 1208, 1187, 1199, 1211, 1193]
sd = statistics.stdev(makers)
print(f"twelve makers: {statistics.mean(makers):.12g} {sd:.12g} {sd / 12**0.5:.12g} {(1229 - statistics.mean(makers)) / sd:.12g}")
mended = [v * (148 / 150) ** 2 if v == 1229 else v for v in makers]
print(f"mended makers: {statistics.stdev(mended):.12g}~0.05 {(statistics.stdev(mended) ** 2 - 9) ** 0.5:.12g}~0.05")
print(f"twelve of the class: {sd:.12g}~0.05 {statistics.stdev(mended):.12g}~0.05")


def welch(means, variances, dof):
    w = 1 / np.array(variances)
    mean = np.sum(w * means) / w.sum()
    k = len(w)
    spread = np.sum((1 - w / w.sum()) ** 2 / np.array(dof))
    f = np.sum(w * (means - mean) ** 2) / (k - 1) / (1 + 2 * (k - 2) / (k * k - 1) * spread)
    second = (k * k - 1) / 3 / spread
    return f, second, stats.f.sf(f, k - 1, second)


f, second, p = welch(np.array([10.1, 10.9, 12]), [0.09, 0.16, 0.25], [4, 5, 6])
print(f"Welch: {f:.12g} {second:.12g} {p:.15g}")

# a day's zone test judged by its conic alone: a line through the means of the zones
EDGES = np.array([0, 30, 45, 57, 67, 74.0])
JUNE = [[12.34, 12.34, 12.09, 12.17, 12.29], [12.35, 12.29, 12.29, 12.19, 12.27], [12.29, 12.2, 12.18, 12.2, 12.22]]
LATER = [[11.96, 12.01, 11.82, 11.96, 12.11], [11.98, 11.96, 12.02, 11.98, 12.09], [11.92, 11.87, 11.9, 11.98, 12.03]]


def alone(runs, R=2396.612):
    runs = np.array(runs)
    q = (EDGES[:-1] ** 2 + EDGES[1:] ** 2) / 2
    zone, run = runs.mean(0), runs.mean(1)
    rest = runs - zone - run[:, None] + runs.mean()
    dof = (len(run) - 1) * (len(zone) - 1)
    s = np.sqrt(np.sum(rest**2) / dof)
    slope = np.polyfit(q, zone, 1)[0]
    size = 148**4 / (2048 * (R / 2) ** 3 * 550e-6)
    K = -2 * R * slope
    u = 2 * R * s / np.sqrt(len(run)) / np.sqrt(np.sum((q - q.mean()) ** 2)) * size
    return abs(1 + K) * size, u, stats.t.cdf((0.25 - abs(1 + K) * size) / u, dof)


print("conic alone:", *(f"{v:.12g}~{w:g}" for day in (JUNE, LATER) for v, w in zip(alone(day), (6e-6, 6e-7, 6e-6))))
