#!/usr/bin/python3
"""numpy's versions for optics.bench.ts; see peer.py. Same inputs and formulas, so that nothing is handed over."""
import math

import numpy as np
from numpy.polynomial import chebyshev

# --- zone throws: 6 zones x 4 runs, three parameters, 32 places
def zone_matrices():
    u = np.repeat(np.array([20, 40, 55, 70, 82, 95]) / 100, 4)
    v = np.arange(32) / 31
    fit = np.linalg.pinv(np.stack([u**0, u**2, u**4], 1))
    return fit, np.stack([v**2 / 2, v**4 / 4, v**6 / 6], 1)


def zone_noise():
    k = np.arange(240_000)
    return (0.05 * np.sin(k * 12.9898 + 0.001 * k * k % 7)).reshape(10_000, 24)


def throws_operator(_):
    fit, shapes = zone_matrices()
    operator, noise = (shapes @ fit).T, zone_noise()

    def run():
        profile = noise @ operator
        rms = profile.std(1)
        return [(profile.max(1) - profile.min(1))[7] + 0 * rms[0]]

    return run


# --- rays
def rays_whole(_):
    n = 1_000_000
    i = np.arange(n)
    r, t = 100 * np.sqrt((i + 0.5) / n), i * 2.399963229728653
    ax, ay = r * np.cos(t), r * np.sin(t)

    def run():
        c, conic, a4, a6, sx, sy, sz, plane = 1 / 2400, -1, 1e-13, 1e-19, 0.5, 0.2, 2400, 2401
        kk = (1 + conic) * c * c
        dx, dy = ax - sx, ay - sy
        s = 1 / np.sqrt(dx * dx + dy * dy + sz * sz)
        dx, dy, dz = dx * s, dy * s, -sz * s
        t = 1 / s
        for _ in range(3):
            x, y, z = sx + t * dx, sy + t * dy, sz + t * dz
            r2 = x * x + y * y
            root = np.sqrt(1 - kk * r2)
            height = c * r2 / (1 + root) + r2 * r2 * (a4 + a6 * r2)
            slope = c / root + r2 * (4 * a4 + 6 * a6 * r2)
            t = t - (z - height) / (dz - slope * (x * dx + y * dy))
        x, y, z = sx + t * dx, sy + t * dy, sz + t * dz
        r2 = x * x + y * y
        slope = c / np.sqrt(1 - kk * r2) + r2 * (4 * a4 + 6 * a6 * r2)
        nx, ny = -slope * x, -slope * y
        twice = 2 * (dx * nx + dy * ny + dz) / (nx * nx + ny * ny + 1)
        dx, dy, dz = dx - twice * nx, dy - twice * ny, dz - twice
        u = (plane - z) / dz
        ox, oy = x + u * dx, y + u * dy
        return [ox[12345] + 0 * oy[0]]

    return run


# --- Zernike fit, 36 terms on 512 x 512
SIZE, DEGREE = 512, 7


def zernike(n, m, r, t):
    k = abs(m)
    radial = sum(
        (-1) ** s
        * math.factorial(n - s)
        / (math.factorial(s) * math.factorial((n + k) // 2 - s) * math.factorial((n - k) // 2 - s))
        * r ** (n - 2 * s)
        for s in range((n - k) // 2 + 1)
    )
    norm = math.sqrt(n + 1) if m == 0 else math.sqrt(2 * (n + 1))
    return norm * radial * (np.sin(k * t) if m < 0 else np.cos(k * t))


def noll(j):
    n = math.ceil((math.sqrt(8 * j + 1) - 3) / 2)
    place = j - n * (n + 1) // 2
    m = 2 * (place // 2) if n % 2 == 0 else 2 * ((place - 1) // 2) + 1
    return n, -m if m > 0 and j % 2 == 1 else m


def zernike_map():
    u = (2 * np.arange(SIZE) + 1) / SIZE - 1
    x, y = np.meshgrid(u, u)
    q = x * x + y * y
    w = 0.3 * x + 0.2 * q - 0.5 * q * q + 0.1 * x * y * q + 0.01 * np.sin(40 * x + 13 * y * y)
    return u, x, y, q <= 1, w


def zernike_lstsq(_):
    _, x, y, inside, w = zernike_map()
    r, t, b = np.hypot(x, y)[inside], np.arctan2(y, x)[inside], w[inside]
    basis = np.stack([zernike(*noll(j), r, t) for j in range(1, 37)], 1)
    return lambda: [np.linalg.lstsq(basis, b, rcond=None)[0][3]]


def zernike_moments(_):
    u, _, _, inside, w = zernike_map()
    table = chebyshev.chebvander(u, 2 * DEGREE)
    pairs = np.array([(d - i, i) for d in range(DEGREE + 1) for i in range(d + 1)])
    rng = np.random.default_rng(0)
    r, t = np.sqrt(rng.random(300)), rng.random(300) * 2 * np.pi
    both = chebyshev.chebvander2d(r * np.cos(t), r * np.sin(t), [DEGREE, DEGREE])
    products = np.stack([both[:, i * (DEGREE + 1) + j] for i, j in pairs], 1)
    basis = np.stack([zernike(*noll(j), r, t) for j in range(1, 37)], 1)
    turn = np.linalg.lstsq(basis, products, rcond=None)[0]
    i1, i2 = pairs[:, None, 0] + pairs[None, :, 0], abs(pairs[:, None, 0] - pairs[None, :, 0])
    j1, j2 = pairs[:, None, 1] + pairs[None, :, 1], abs(pairs[:, None, 1] - pairs[None, :, 1])

    def run():
        m = table.T @ inside.astype(float).T @ table
        gram = (m[i1, j1] + m[i1, j2] + m[i2, j1] + m[i2, j2]) / 4
        g = table[:, : DEGREE + 1].T @ np.where(inside, w, 0).T @ table[:, : DEGREE + 1]
        return [(turn @ np.linalg.solve(gram, g[pairs[:, 0], pairs[:, 1]]))[3]]

    return run
