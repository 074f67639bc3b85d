"""
Depths of a log, laps and wear by another route: numpy's least squares, Fieller's quadratic, a raster, and the brute-force
wear of tests/bench/peer_wear.py. No line is shared with the library.

    /usr/bin/python3 tests/shaping/secondRoute.py

Each line is a key and its values; tests/secondRoutes.test.ts looks for them in the tests whose comment names the key.
"""

import os
import sys

import numpy as np
from scipy import stats

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "bench"))
import peer_wear


def flat(values):
    for v in values:
        yield from flat(v) if np.ndim(v) > 0 else (v,)


def show(key, *values, within=0):
    """`within` says how far a test's number may be, as a share of it where below 0."""
    near = lambda v: f"~{within if within > 0 else -within * abs(v):.3g}" if within else ""
    print(f"{key}:", *(f"{v:.12g}" + near(v) for v in flat(values)))


def line(columns, depths):
    """Least squares: coefficients, covariance for s = 1, scatter."""
    a = np.stack(columns, 1)
    c, *_ = np.linalg.lstsq(a, depths, rcond=None)
    return c, np.linalg.inv(a.T @ a), np.sqrt(np.sum((depths - a @ c) ** 2) / (len(depths) - a.shape[1]))


def fieller(c, cov, target, t):
    """Where a + b x reaches the target, and where the band of t deviations does."""
    a, b = c[0] - target, c[1]
    p = [b * b - t * t * cov[1, 1], 2 * (a * b - t * t * cov[0, 1]), a * a - t * t * cov[0, 0]]
    return -a / b, np.sort(np.roots(p).real)


t_min, depth = np.arange(0, 101, 20.0), np.array([2, 190, 382, 565, 760, 948.0])
c, cov, s = line([np.ones(6), t_min], depth)
c, cov = c, cov * s * s
x, ends = fieller(c, cov, 1172.161, stats.t.ppf(0.975, 4))
u = np.sqrt(cov[0, 0] + 2 * x * cov[0, 1] + x * x * cov[1, 1]) / c[1]
show("six depths", c, s, np.sqrt(np.diag(cov)), x, u, u * 2.776445, ends, within=-1e-6)

# the invented logs of Kestrel Lane: middles of brackets, what a leaf's width hides, and the sphere to the full aperture
ASHA = [(20, .19, .20), (40, .37, .38), (60, .54, .55), (80, .71, .73), (100, .89, .90), (120, 1.06, 1.08), (130, 1.16, 1.18),
        (134, 1.11, 1.13), (134, 1.13, 1.15)]
BRAM = [(60, .56, .58), (100, .93, .94), (140, 1.30, 1.31), (180, 1.65, 1.68), (210, 1.93, 1.95), (230, 2.11, 2.13),
        (235, 2.06, 2.08), (235, 2.08, 2.10)]


def depths(brackets, aperture):
    minute, go, nogo = np.array(brackets).T
    half, middle = aperture / 2 - 1, (go + nogo) / 2
    d = middle.copy()
    for _ in range(60):
        radius = (half**2 + d**2) / 2 / d
        d = middle + 12.7**2 / 8 / radius
    radius = (half**2 + d**2) / 2 / d
    return minute, 1000 * (radius - np.sqrt(radius**2 - aperture**2 / 4)), 1000 * (nogo - go) / np.sqrt(12)


def wider(c, unit, s, own, dof):
    """Scatter with Student's t, or the brackets' own with the normal quantile, whichever is wider: s and its factor."""
    by_scatter, by_own = s * stats.t.ppf(0.975, dof), np.sqrt(np.mean(own**2)) * stats.norm.ppf(0.975)
    return (s, stats.t.ppf(0.975, dof)) if by_scatter > by_own else (by_own / stats.norm.ppf(0.975), stats.norm.ppf(0.975))


minute, deep, own = depths(ASHA[:6], 150)
c, unit, s = line([np.ones(6), minute], deep)
size, k = wider(c, unit, s, own, 4)
x, ends = fieller(c, unit * size**2, 1168.0, k)
_, ends_t = fieller(c, unit * s**2, 1168.0, stats.t.ppf(0.975, 4))
own_mean = np.sqrt(np.mean(own**2))
print("Asha's six depths:", *(f"{v:.12g}~{w:g}" for v, w in (
    (c[1], 6e-5), (c[0], 0.006), (x, 6e-4), (s, 0.006), (own_mean, 0.006),
    (np.sqrt(unit[1, 1]) * size, 6e-5), (np.ptp(ends) / 2, 6e-4), (np.ptp(ends_t) / 2, 1e-3))))


def swapped(brackets, aperture, swap):
    """Start, rates by place, and the depth now, with their deviations."""
    minute, deep, own = depths(brackets, aperture)
    top, bottom = np.minimum(minute, swap), np.maximum(minute - swap, 0)
    c, unit, s = line([np.ones(len(deep)), top, bottom], deep)
    size, _ = wider(c, unit, s, own, len(deep) - 3)
    now = np.array([1, top[-1], bottom[-1]])
    return [abs(c[1]), np.sqrt(unit[1, 1]) * size, abs(c[2]), np.sqrt(unit[2, 2]) * size, now @ c / 1000,
            np.sqrt(now @ unit @ now) * size / 1000]


print("Asha after the swap:", *(f"{v:.12g}~{w:g}" for v, w in zip(swapped(ASHA, 150, 130)[:5], (6e-5, 6e-5, 6e-5, 6e-5, 6e-5))))
print("Bram after the swap:", *(f"{v:.12g}~{w:g}" for v, w in zip(swapped(BRAM, 200, 230), (6e-5, 6e-5, 6e-5, 6e-5, 6e-5, 6e-5))))
minute, deep, own = depths(BRAM[:5], 200)
c, unit, s = line([np.ones(5), minute], deep)
size, k = wider(c, unit, s, own, 3)
x, ends = fieller(c, unit * size**2, 2084.2, k)
show("Bram half-way", s, np.sqrt(np.mean(own**2)), within=0.006)
show("Bram's target", ends, within=6e-4)
show("Bram's forecast", np.mean(ends), within=0.06)


def contact(diameter, spacing, channel, offset):
    """Share of a round lap that its squares cover, on a raster of 4000 x 4000."""
    axis = (np.arange(4000) + 0.5) / 4000 * diameter - diameter / 2
    inside = lambda o: np.abs((axis - o + spacing / 2) % spacing - spacing / 2) > channel / 2
    disc = axis[:, None] ** 2 + axis[None, :] ** 2 <= diameter**2 / 4
    return np.sum(disc & inside(offset[1])[:, None] & inside(offset[0])[None, :]) / np.sum(disc)


show("contact of a lap", [contact(150, 25, 5, o) for o in ((6, 9), (0, 0), (12.5, 12.5))],
     [contact(200, 30, 6, o) for o in ((15, 15), (0, 0))], within=2e-4)


def fitted(disc):
    """Sagitta, spherical, RMS beside the sphere, um, of a worn disc."""
    weight = np.sqrt(disc.own)
    rho = np.minimum(1, disc.r / peer_wear.RADIUS)
    height = disc.height[disc.nodes]
    basis = np.stack([np.ones_like(rho), disc.x, disc.y, rho**2], 1)
    fit, *_ = np.linalg.lstsq(basis * weight[:, None], height * weight, rcond=None)
    rest = height - basis @ fit
    return 1000 * fit[3], 1000 * np.sqrt(np.sum(disc.own * rest**2) / np.sum(disc.own))


def grid(sets):
    upper, lower = peer_wear.grind(64, sets, False)
    removed = -1000 * np.sum(upper.own * upper.height[upper.nodes]) / np.sum(upper.own)
    (a, b), (c, d) = fitted(upper), fitted(lower)
    return a, c, removed, b, d


def push(pressure, turn=2 * np.pi / 3, sets=240, swap_at=None, offset=None, travel=None):
    """The plain grid once a set, with other laws of pressure: "even" by area alone, "flat" by a plane on flat discs."""
    w = peer_wear
    offset, half = w.OFFSET if offset is None else offset, (w.HALF_STROKE if travel is None else travel / 2)
    upper, lower = w.Disc(48), w.Disc(48)
    plane = np.array([-w.FORCE / w.STIFFNESS / (np.pi * w.RADIUS**2), 0, 0])
    path = 4 * half / w.PLACES * w.STROKES
    depths_after = []
    for n in range(sets):
        if n == swap_at:
            upper, lower = lower, upper
            before = fitted(lower)[0]
        for p in (2 * np.arange(w.PLACES) + 1) / w.PLACES - 1:
            below = w.overlap(lower, upper, half * p, offset, False)
            above = w.overlap(upper, lower, -half * p, -offset, True)
            if pressure == "even":
                down, up = (np.full(len(side[4]), w.FORCE / np.sum(side[5])) for side in (below, above))
            else:
                gap = [0 * below[4], 0 * above[4]] if pressure == "flat" else [
                    w.gap_of(own, other, *side[:3]) for own, other, side in ((lower, upper, below), (upper, lower, above))]
                plane = w.settle(gap[0], below[3], below[5], plane)
                down, up = (w.STIFFNESS * np.maximum(g - plane @ side[3], 0) for g, side in zip(gap, (below, above)))
            lower.height[below[0]] -= w.WEAR * path * down * below[4]
            upper.height[above[0]] -= w.WEAR * path * up * above[4]
        upper.turned += turn
        if (n + 1) % 3 == 0:
            lower.turned += np.pi / 4
        if swap_at is not None and n >= swap_at:
            depths_after.append(fitted(lower)[0] - before)
    return upper, lower, depths_after


even, flat_discs = push("even"), push("flat")
show("even load", fitted(even[0])[0], fitted(even[1])[0], within=7)
show("plane of flat discs", fitted(flat_discs[0])[0], fitted(flat_discs[1])[0], within=-0.02)
after = push("layer", sets=360, swap_at=240)[2]
print("after a swap:", f"{after[1]:.6g}~1.5 {after[23]:.6g}~2.2 {after[119]:.6g}~6")
rims = [fitted(push("layer", offset=o, travel=t)[0])[1] for o, t in ((37.5, 50), (45, 50), (45, 100))]
print("beside a sphere:", *(f"{v:.6g}~{0.15 * v:.2g}" for v in rims))
show("six sets on a plain grid", grid(6), within=-2e-4)
a, c, _, b, d = grid(24)
show("24 sets on a plain grid", a, c, b, d, within=-2e-4)
