#!/usr/bin/python3
"""The wear of two discs in numpy, for the bench: square grids, stroke by stroke, or once a set ("lump").

Two equal discs of radius a, an elastic layer of grains between them (pressure = stiffness x squeeze), the upper one
rigid and free to settle and tilt, both worn by Preston's law. Lengths in mm, force in N.

    peer_wear.py CELLS SETS [lump] [rule]   by the kit's rule of turning, else by thirds and eighths; prints one line of JSON: CPU seconds, strokes, sagittas in um
"""
import json
import math
import os
import sys
import time

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")  # the matrices are tiny: threads would only slow numpy down
import numpy as np

RADIUS, FORCE, WEAR, STIFFNESS = 75.0, 60.0, 4e-4, 0.34
OFFSET, HALF_STROKE, PLACES, STROKES = 37.5, 25.0, 8, 20
UPPER_TURN, LOWER_TURN, SETS_A_TURN = 2 * math.pi / 3, math.pi / 4, 3


class Disc:
    def __init__(self, cells):
        self.cell = 2 * RADIUS / cells
        self.side = cells + 4
        axis = (np.arange(self.side) - (self.side - 1) / 2) * self.cell
        self.first = axis[0]
        x, y = np.meshgrid(axis, axis)
        r = np.hypot(x, y)
        self.nodes = np.flatnonzero((r < RADIUS + 1.6 * self.cell).ravel())
        self.x, self.y, self.r = (v.ravel()[self.nodes] for v in (x, y, r))
        self.own = np.clip((RADIUS - self.r) / self.cell + 0.5, 0, 1)
        self.height = np.zeros(self.side ** 2)
        self.turned = 0.0

    def room(self):
        c, s = math.cos(self.turned), math.sin(self.turned)
        return c * self.x - s * self.y, s * self.x + c * self.y

    def stencil(self, x, y):
        c, s = math.cos(self.turned), math.sin(self.turned)
        column = (c * x + s * y - self.first) / self.cell
        row = (c * y - s * x - self.first) / self.cell
        i, j = np.floor(column).astype(np.int64), np.floor(row).astype(np.int64)
        t, u, k = column - i, row - j, j * self.side + i
        corners = np.stack([k, k + 1, k + self.side, k + self.side + 1])
        return corners, np.stack([(1 - t) * (1 - u), t * (1 - u), (1 - t) * u, t * u])


def overlap(own, other, dx, dy, upper):
    """Cells of `own` over `other`, whose centre is at (dx, dy); places from the upper disc's centre."""
    x, y = own.room()
    away = np.hypot(x - dx, y - dy)
    k = np.flatnonzero(away < RADIUS + 0.5 * own.cell)
    cover = np.clip((RADIUS - away[k]) / own.cell + 0.5, 0, 1)
    corners, weights = other.stencil(x[k] - dx, y[k] - dy)
    px, py = (x[k], y[k]) if upper else (x[k] - dx, y[k] - dy)
    basis = np.stack([np.ones_like(px), px, py])
    return own.nodes[k], corners, weights, basis, cover, cover * own.own[k] * own.cell ** 2


def settle(gap, basis, area, plane):
    target = np.array([FORCE / STIFFNESS, 0, 0])
    for _ in range(50):
        squeeze = gap - plane @ basis
        touching = squeeze > 0
        weighted = basis * np.where(touching, area, 0.0)
        off = weighted @ squeeze - target
        if abs(off[0]) < 1e-9 * target[0] and max(abs(off[1:])) < 1e-9 * target[0] * RADIUS:
            break
        if touching.sum() < 4:
            plane = plane.copy()
            plane[0] = (gap - plane[1:] @ basis[1:])[area > 0].max() - target[0] / area.sum()
            continue
        plane = plane + np.linalg.solve(weighted @ basis.T, off)
    return plane


def gap_of(own, other, nodes, corners, weights):
    return own.height[nodes] + (other.height[corners] * weights).sum(0)


def grind(cells, sets, lump):
    upper, lower = Disc(cells), Disc(cells)
    plane = np.array([-FORCE / STIFFNESS / (math.pi * RADIUS ** 2), 0, 0])
    places = (2 * np.arange(PLACES) + 1) / PLACES - 1
    steps, each = (1, STROKES) if lump else (STROKES, 1)
    rate = WEAR * STIFFNESS * 4 * HALF_STROKE / PLACES * each
    for n in range(sets):
        pairs = [(overlap(lower, upper, HALF_STROKE * p, OFFSET, False),
                  overlap(upper, lower, -HALF_STROKE * p, -OFFSET, True)) for p in places]
        for _ in range(steps):
            for below, above in pairs:
                gap = gap_of(lower, upper, *below[:3])
                plane = settle(gap, below[3], below[5], plane)
                down = rate * np.maximum(gap - plane @ below[3], 0) * below[4]
                up = rate * np.maximum(gap_of(upper, lower, *above[:3]) - plane @ above[3], 0) * above[4]
                lower.height[below[0]] -= down
                upper.height[above[0]] -= up
        upper.turned += UPPER_TURN
        if (n + 1) % SETS_A_TURN == 0:
            lower.turned += LOWER_TURN
    return upper, lower


def sagitta(disc):
    weight = np.sqrt(disc.own)
    rho = np.minimum(1, disc.r / RADIUS)
    basis = np.stack([np.ones_like(rho), disc.x, disc.y, rho ** 2], 1)
    fit, *_ = np.linalg.lstsq(basis * weight[:, None], disc.height[disc.nodes] * weight, rcond=None)
    return round(float(fit[3]) * 1000, 3)


if __name__ == "__main__":
    cells, sets = int(sys.argv[1]), int(sys.argv[2])
    if "rule" in sys.argv:
        STROKES, UPPER_TURN, LOWER_TURN, SETS_A_TURN = 8, math.radians(150), math.radians(50), 1
    start = time.process_time()
    upper, lower = grind(cells, sets, "lump" in sys.argv)
    seconds = time.process_time() - start
    print(json.dumps({
        "seconds": seconds, "strokes": sets * STROKES, "upper": sagitta(upper), "lower": sagitta(lower),
        "numpy": np.__version__,
    }))
