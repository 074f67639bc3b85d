"""
Cell, flat, alignment, cooling and balance by another route: plates by the exact solution of each harmonic (thin) and by
finite elements in the radius (with shear), light by vectors off a paraboloid found in numpy. No line is shared with the
library.

    /usr/bin/python3 tests/telescope/secondRoute.py

Each line is a key and its values; tests/secondRoutes.test.ts looks for them in the tests whose comment names the key.
"""

from functools import lru_cache

import numpy as np
from scipy import integrate, optimize

GREEN = 550e-6  # mm
ARCMIN = 180 * 60 / np.pi


def flat(values):
    for v in values:
        yield from flat(v) if np.ndim(v) > 0 else (v,)


def show(key, *values, within=0):
    """`within` says how far a test's number may be, as a share of it where below 0."""
    near = lambda v: f"~{within if within > 0 else -within * abs(v):.3g}" if within else ""
    print(f"{key}:", *(f"{v:.12g}" + near(v) for v in flat(values)))


np.seterr(over="ignore", invalid="ignore")  # high powers on the side of a ring where they are not used

# a thin plate of radius 1 under load 1 with D = 1, free at its rim, on points that carry alike: for each harmonic n the
# load of a ring of points is a line load at radius b, and D del^4 w = 0 on both sides of it
X, WX = np.polynomial.legendre.leggauss(60)


def places(low, high):
    return low + (high - low) * (X + 1) / 2, WX * (high - low) / 2


def powers(n):
    """The solutions r^p (log r)^q of a harmonic, as (p, q): the first two are finite in the middle."""
    if n == 0:
        return [(0, 0), (2, 0), (0, 1), (2, 1)]
    return [(n, 0), (n + 2, 0), (-n, 0), (2 - n, 0)]


def term(p, q, r, d):
    """The d-th derivative of r^p (log r)^q, q 0 or 1."""
    if d == 0:
        return r**p * np.log(r) ** q
    if q == 0:
        return p * term(p - 1, 0, r, d - 1)
    return p * term(p - 1, 1, r, d - 1) + term(p - 1, 0, r, d - 1)


def moment(n, nu, p, q, r):
    w = [term(p, q, r, d) for d in range(3)]
    return -(w[2] + nu * (w[1] / r - n * n * w[0] / r**2))


def shear(n, nu, p, q, r):
    """Kirchhoff's shear of a harmonic at a rim."""
    w = [term(p, q, r, d) for d in range(4)]
    laplace = w[3] + w[2] / r - w[1] / r**2 - n * n * (w[1] / r**2 - 2 * w[0] / r**3)
    twist = (1 - nu) * n * n * (w[1] / r**2 - w[0] / r**3)
    return -(laplace - twist)


def ring_harmonic(n, b, nu):
    """w(r) of a harmonic for a line load cos(n t) of 1 at b, free at the rim; n of 2 and more."""
    inner, all_ = powers(n)[:2], powers(n)
    rows, right = [], []
    for d, jump in ((0, 0), (1, 0), (2, 0), (3, 1)):
        at = 1.0 if b >= 1 else b
        rows.append([term(p, q, at, d) for p, q in all_] + [-term(p, q, at, d) for p, q in inner])
        right.append(jump)
    rows.append([moment(n, nu, p, q, 1.0) for p, q in all_] + [0, 0])
    rows.append([shear(n, nu, p, q, 1.0) for p, q in all_] + [0, 0])
    if b >= 1:  # at the rim itself: no outer side
        m = np.array([[moment(n, nu, p, q, 1.0) for p, q in inner], [shear(n, nu, p, q, 1.0) for p, q in inner]])
        c = np.linalg.solve(m, [0, 1])
        return lambda r: sum(k * term(p, q, r, 0) for k, (p, q) in zip(c, inner))
    c = np.linalg.solve(np.array(rows), np.append(right, [0, 0]))
    out = lambda r: sum(k * term(p, q, r, 0) for k, (p, q) in zip(c[:4], all_))
    into = lambda r: sum(k * term(p, q, r, 0) for k, (p, q) in zip(c[4:], inner))
    return lambda r: np.where(r > b, out(r), into(r))


def round_part(rings, total, nu):
    """w(r) of the part that is alike all round: load 1 downward, rings of points upward. From r^4 / 64 and, outside each
    ring, the solution that begins there without a kink; then r^2 until the rim's moment is nothing."""
    pieces = [(1 / 64, 4, 0, 0.0)]
    for k, b, _ in rings:
        size = -k / total / 8
        for c, p, q in ((1, 2, 1), (b * b, 0, 1), (-np.log(b) - 1, 2, 0), (b * b * (1 - np.log(b)), 0, 0)):
            pieces.append((size * c, p, q, b))
    rim = sum(c * moment(0, nu, p, q, 1.0) for c, p, q, b in pieces if b < 1)
    pieces.append((-rim / moment(0, nu, 2, 0, 1.0), 2, 0, 0.0))
    return lambda r: sum(c * np.where(r > b, term(p, q, np.maximum(r, b), 0), 0) for c, p, q, b in pieces)


def thin(rings, nu, most=240, at=None):
    """RMS and RMS without focus of a thin plate on rings (points, radius, turn); or its heights at places (r, angle)."""
    total = sum(k for k, _, _ in rings)
    edges = [0, *sorted({b for _, b, _ in rings if b < 1}), 1]
    r, weight = (np.concatenate(part) for part in zip(*(places(a, b) for a, b in zip(edges, edges[1:]))))
    if at is not None:
        r = at[0]
    area = weight * 2 * r if at is None else None
    mean = round_part(rings, total, nu)(r)
    heights = mean
    if at is None:
        mean = mean - np.sum(area * mean)
        focus = np.sum(area * mean * np.sqrt(3) * (2 * r * r - 1))
        square = np.sum(area * mean**2)
    for n in range(2, most + 1):
        cos_part = sin_part = np.zeros_like(r)
        for k, b, turn in rings:
            if n % k == 0:
                # a ring of k points that bear pi / total each is, in the n-th harmonic, twice their mean around it
                w = -k / total / b * ring_harmonic(n, b, nu)(r)
                cos_part, sin_part = cos_part + np.cos(n * turn) * w, sin_part + np.sin(n * turn) * w
        if at is None:
            square += np.sum(area * (cos_part**2 + sin_part**2)) / 2
        else:
            heights = heights + cos_part * np.cos(n * at[1]) + sin_part * np.sin(n * at[1])
    return heights if at is not None else (np.sqrt(square), np.sqrt(square - focus**2))


# a plate with shear (Mindlin), by finite elements of degree 5 along the radius, one harmonic after the other; each point is
# a round pad of even pressure
KNOTS, DEGREE = 24, 5


def elements(breaks):
    """Shape functions on Gauss's places of every element: values, slopes, radii, weights, and the unknowns' numbers."""
    x, w = np.polynomial.legendre.leggauss(DEGREE + 2)
    nodes = -np.cos(np.pi * np.arange(DEGREE + 1) / DEGREE)
    polys = [np.poly1d(np.poly(np.delete(nodes, i))) / np.prod(nodes[i] - np.delete(nodes, i)) for i in range(DEGREE + 1)]
    value = np.array([p(x) for p in polys]).T
    slope = np.array([p.deriv()(x) for p in polys]).T
    for e, (low, high) in enumerate(zip(breaks, breaks[1:])):
        half = (high - low) / 2
        yield value, slope / half, (low + high) / 2 + half * x, w * half, e * DEGREE + np.arange(DEGREE + 1)


@lru_cache
def with_shear(points, radius, nu, t, pad=0.05, most=60):
    """RMS and RMS without focus over q a^4 / D, of a plate of thickness t on `points` pads round one circle."""
    stiff = 5 / 6 * 6 * (1 - nu) / t**2
    breaks = np.unique(np.concatenate([np.linspace(0, radius - pad, KNOTS // 2), np.linspace(radius - pad, radius + pad, 9),
                                       np.linspace(radius + pad, 1, KNOTS // 2)]))
    count = (len(breaks) - 1) * DEGREE + 1
    pressure = 1 / points / pad**2
    square, focus, sums = 0.0, 0.0, np.zeros(3)
    for n in range(0, most + 1, points):
        matrix, load = np.zeros((3 * count, 3 * count)), np.zeros(3 * count)
        for N, dN, r, w, who in elements(breaks):
            at = np.concatenate([who, count + who, 2 * count + who])
            zero = np.zeros_like(N)
            over = N / r[:, None]
            # unknowns: height W cos, rotation along the radius B cos, around S sin
            bend = [np.hstack(b) for b in ([zero, dN, zero], [zero, over, n * over], [zero, -n * over, dN - over])]
            slide = [np.hstack(b) for b in ([dN, N, zero], [-n * over, zero, N])]
            g = r * w
            part = sum(np.einsum("g,gi,gj->ij", g, a, b) * c for a, b, c in (
                (bend[0], bend[0], 1), (bend[1], bend[1], 1), (bend[0], bend[1], nu), (bend[1], bend[0], nu),
                (bend[2], bend[2], (1 - nu) / 2), (slide[0], slide[0], stiff), (slide[1], slide[1], stiff)))
            matrix[np.ix_(at, at)] += part
            angle = np.where(abs(r - radius) < pad,
                             np.arccos(np.clip((r * r + radius**2 - pad**2) / (2 * r * radius), -1, 1)), 0)
            under = points * angle / np.pi if n == 0 else points / np.pi * 2 * np.sin(n * angle) / n
            load[who] += N.T @ (g * ((1.0 if n == 0 else 0.0) - pressure * under))
        # in the middle nothing has a direction; alike all round, the height is free and nothing turns around
        fixed = [0] if n == 0 else [0, count, 2 * count]
        fixed += [count, *range(2 * count, 3 * count)] if n == 0 else []
        free = np.setdiff1d(np.arange(3 * count), fixed)
        w_all = np.zeros(3 * count)
        w_all[free] = np.linalg.solve(matrix[np.ix_(free, free)], load[free])
        for N, _, r, w, who in elements(breaks):
            h = N @ w_all[who]
            g = 2 * r * w
            if n == 0:
                sums = sums + [np.sum(g * h), np.sum(g * h * h), np.sum(g * h * np.sqrt(3) * (2 * r * r - 1))]
            else:
                square += np.sum(g * h * h) / 2
        if n == 0:
            square, focus = sums[1] - sums[0] ** 2, sums[2]
    return np.sqrt(square), np.sqrt(square - focus**2)


def at_edge(nu, best):
    return thin([(3, 1.0, 0.0)], nu)[0] / thin([(3, best, 0.0)], nu)[0]


def deg(*rings):
    return [(k, b, np.radians(turn)) for k, b, turn in rings]


SUPPORTS = {
    3: deg((3, 0.645, 0)),
    6: deg((6, 0.681, 0)),
    9: deg((3, 0.377, 0), (3, 0.817, 31.4), (3, 0.817, -31.4)),
    18: deg((6, 0.361, 0), (6, 0.823, 15.1), (6, 0.823, -15.1)),
}


def unit(aperture, thickness, young, nu, density):
    """Load per area, Pa; stiffness, N m; q a^4 / D, nm."""
    q, a, t = density * 9.80665 * thickness / 1e3, aperture / 2e3, thickness / 1e3
    D = young * 1e9 * t**3 / 12 / (1 - nu**2)
    return q, D, q * a**4 / D * 1e9


SODA, BORO = (72, 0.22, 2500), (63, 0.2, 2230)
small = unit(150, 25, *SODA)[2]
show("three and six points", [thin(deg((3, b, 0)), 0.2)[0] for b in (0.645, 0.6489, 0.4, 0.7071)],
     [thin(deg((3, b, 0)), 0.2)[1] for b in (0.645, 0.4)], thin(deg((6, 0.6816, 0)), 0.2)[0], within=-2e-4)
show("points at the edge", at_edge(0.2, 0.6489), at_edge(0.25, 0.6444), within=-2e-4)
# places are printed to three digits
show("nine and eighteen points", thin(SUPPORTS[9], 0.2)[0], thin(SUPPORTS[18], 0.2)[0], within=-8e-3)
show("sag on a cell", [small * thin(SUPPORTS[n], 0.22)[0] for n in (3, 6, 9, 18)],
     [small * thin(deg((3, b, 0)), 0.22)[0] for b in (0.4, 0.7071)], within=-1e-2)
show("without focus", [small * thin(deg((3, b, 0)), 0.22)[1] for b in (0.645, 0.4014)], within=-3e-3)
boro, wide, thinner = unit(250, 40, *BORO)[2], unit(250, 25, *SODA)[2], unit(300, 25, *SODA)[2]
show("larger discs", [boro * thin(SUPPORTS[n], 0.2)[0] for n in (3, 6, 9, 18)], wide * thin(SUPPORTS[3], 0.22)[0],
     [thinner * thin(SUPPORTS[n], 0.22)[0] for n in (3, 9)], within=-6e-3)
r, angle = (part.ravel() for part in np.meshgrid(np.arange(1, 161) / 160, np.radians(np.arange(0, 61, 5))))
spread = lambda nu: np.ptp(np.append(thin(SUPPORTS[3], nu, at=(r, angle)), thin(SUPPORTS[3], nu, at=(np.array([1e-6]), 0))))
show("peak to valley", spread(0.2), small * spread(0.22), wide * spread(0.22), within=-4e-3)
show("gamma", [thin(deg((n, b, 0)), 0.25)[0] * n**2 / np.pi**2 for n, b in ((3, 0.645), (6, 0.681))], within=-0.012)
show("unit of sag", unit(150, 25, *SODA))
show("with shear", [with_shear(3, 0.645, 0.22, t)[0] for t in (0.02, 0.16, 0.2, 1 / 3, 0.5)],
     with_shear(6, 0.681, 0.22, 1 / 3)[0], with_shear(3, 0.4, 0.22, 1 / 3), within=-4e-3)
show("times a thousand", [1000 * with_shear(3, 0.645, 0.22, t)[0] for t in (0.02, 0.16, 0.2, 1 / 3, 0.5)],
     1000 * thin(SUPPORTS[3], 0.22)[0], within=-4e-3)
show("six with shear", with_shear(6, 0.681, 0.22, 1 / 3)[0], within=-4e-3)
show("thin with shear", with_shear(3, 0.645, 0.22, 0.02)[0], within=-4e-4)


def in_the_middle(nu, order):
    """The middle below the edge of a plate carried there, by polynomials up to an order: the work is least."""
    k = order // 2
    x, w = np.polynomial.legendre.leggauss(3 * k)
    r, w = (x + 1) / 2, w / 2
    basis = [np.polynomial.Legendre.basis(i) for i in range(1, k + 1)]
    u = 2 * r * r - 1
    first = np.array([4 * p.deriv()(u) for p in basis])  # the slope over r
    second = first + np.array([16 * r * r * p.deriv(2)(u) for p in basis])
    g = w * r
    work = (second * g) @ second.T + (first * g) @ first.T + nu * ((second * g) @ first.T + (first * g) @ second.T)
    load = -np.array([p(-1.0) for p in basis]) / 2  # the even load does no work on them, the point in the middle does
    c = np.linalg.solve(work, load)
    return sum(a * (p(1.0) - p(-1.0)) for a, p in zip(c, basis))


show("in the middle", abs(in_the_middle(0.2, 80)), within=2e-6)


# cooling: the first root of x tan x = h t / 2k of a slab that loses heat on both faces
def slab(mm, density, heat, conductivity, h):
    half = mm / 2e3
    x = optimize.brentq(lambda x: x * np.tan(x) - h * half / conductivity, 1e-9, np.pi / 2 - 1e-9)
    return density * heat * half / h / 60, half**2 * density * heat / conductivity / x**2 / 60


LOSS = 10  # W / m^2 K
show("cooling", *[slab(mm, *glass, LOSS) for glass in ((2500, 840, 1.0), (2230, 830, 1.1)) for mm in (25, 40)], within=-2e-4)


# light off a paraboloid of vertex curvature 2f, as vectors
def off(f, x, y, hx, hy):
    """Place and direction of rays from the star whose light by the vertex lands at (hx, hy)."""
    x, y = np.broadcast_arrays(np.asarray(x, float), y)
    p = np.stack([x, y, (x * x + y * y) / 4 / f], -1)
    came = np.array([hx, hy, -f]) / np.sqrt(hx * hx + hy * hy + f * f)
    n = np.stack([-x / 2 / f, -y / 2 / f, np.ones_like(x)], -1)
    n /= np.linalg.norm(n, axis=-1, keepdims=True)
    return p, came - 2 * np.sum(came * n, -1, keepdims=True) * n


def land(f, x, y, hx, hy):
    p, d = off(f, x, y, hx, hy)
    return p[..., :2] + d[..., :2] * ((f - p[..., 2]) / d[..., 2])[..., None]


def longer(f, x, y, h):
    """Path of a ray to the star's place over that by the vertex, mm."""
    place = np.array([h, 0, f])
    p, _ = off(f, x, y, h, 0)
    came = np.array([h, 0, -f]) / np.linalg.norm(place)
    return p @ came + np.linalg.norm(place - p, axis=-1) - np.linalg.norm(place)


def coma(aperture, f, h):
    """Peak W131 by the rim's and the half zone's odd part, and the tangential length, mm."""
    odd = lambda rho: (longer(f, rho * aperture / 2, 0.0, h) - longer(f, -rho * aperture / 2, 0.0, h)) / 2
    a, b, c = (land(f, x, 0.0, h, 0)[0] for x in (aperture / 2, -aperture / 2, 0.0))
    return abs(odd(1) - 2 * odd(0.5)) / 0.75, abs((a + b) / 2 - c)


def coma_rms(aperture, f, h):
    q, w = (X + 1) / 2, WX / 2
    t = np.arange(48) * np.pi / 24
    rho, theta = np.meshgrid(aperture / 2 * np.sqrt(q), t, indexing="ij")
    x, y, w = rho * np.cos(theta), rho * np.sin(theta), np.repeat(w[:, None], 48, 1) / 48
    odd = (longer(f, x, y, h) - longer(f, -x, y, h)) / 2
    return np.sqrt(np.sum(w * (odd - x * np.sum(w * x * odd) / np.sum(w * x * x)) ** 2))


show("coma", *[coma(*case) for case in ((200, 1000, 1), (150, 1200, 5), (250, 1000, 2))], within=-2e-4)
free = lambda n: 32 * np.sqrt(72) * n**3 * GREEN / 14
show("field free of coma", [free(n) for n in (4, 5, 6, 8, 10)])
allowed = lambda D, f: optimize.brentq(lambda h: coma_rms(D, f, h) - GREEN / 14, 0.01, 30)
show("coma's RMS", coma_rms(200, 1000, 1), [allowed(D, f) for D, f in ((250, 1000), (200, 1000), (150, 1200))], within=-1.5e-3)
show("as tilt", [allowed(D, f) / f * ARCMIN for D, f in ((150, 1200), (150, 750), (250, 1000))], within=0.006)
ten = np.radians(10 / 60)
show("tilted by ten minutes", 1200 * ten, 2400 * ten, 1200 * ten / free(8) / 14, 750 * ten, 750 * ten / free(5) / 14, within=-4e-4)
show("coma of ten minutes", coma_rms(150, 750, 750 * np.tan(ten)) / GREEN, within=1e-4)

# three screws: the plane through their heights, and a ray along the old axis reflected by the mirror's middle
ANGLES = np.radians([90, 210, 330])


def moved(heights, f=1200, radius=60):
    feet = np.stack([radius * np.cos(ANGLES), radius * np.sin(ANGLES), heights], -1)
    n = np.cross(feet[1] - feet[0], feet[2] - feet[0])
    n /= np.linalg.norm(n)
    gone = np.array([0, 0, -1]) - 2 * (np.array([0, 0, -1]) @ n) * n
    return f * gone[:2] / gone[2]


show("a turn of a screw", np.linalg.norm(moved([1e-6, 0, 0])) * 1e6, within=1e-3)
turns = optimize.fsolve(lambda h: [*(moved(h) + [3, -2]), np.sum(h)], np.zeros(3))
show("turns of three screws", turns, within=6e-6)


# the flat: a cone from the mirror's rim to the lit field, cut by a plane at 45 degrees
def cut(aperture, f, L, lit):
    """Needed minor axis, offset, and the section's own minor axis."""
    sag = aperture**2 / 16 / f
    g = (aperture - lit) / 2 / (f - sag)
    edge = lambda side: optimize.brentq(lambda x: x - (lit / 2 + g * (L + side * x)), 0, aperture)
    far, close = edge(1), edge(-1)
    offset = (far - close) / 2
    half = optimize.brentq(lambda y: np.hypot(offset, y) - (lit / 2 + g * (L + offset)), 0, aperture)
    return far + close, offset, 2 * half


needed, offset, narrow = cut(150, 1200, 200, 8)
show("flat for a field", needed, offset, narrow, needed * np.sqrt(2), offset * np.sqrt(2), 8 + 200 * 142 / 1200, within=-2e-5)
show("three flats", *[cut(*case)[:2] for case in ((200, 1200, 230, 12), (250, 1250, 260, 15), (150, 750, 180, 15))], within=-2e-4)
show("lit by a flat at hand", optimize.brentq(lambda lit: cut(150, 1200, 200, lit)[0] - 35, 0, 30))

GRID = (np.arange(2000) + 0.5) / 1000 - 1
GX, GY = np.meshgrid(GRID, GRID)
DISC = GX**2 + GY**2 <= 1


def past(f, aperture, L, minor, offset, hx, hy):
    """Share of a star's rays that meet the tilted ellipse."""
    p, d = off(f, GX[DISC] * aperture / 2, GY[DISC] * aperture / 2, hx, hy)
    t = (f - L + p[:, 0] - p[:, 2]) / (d[:, 2] - d[:, 0])
    x, y = p[:, 0] + t * d[:, 0], p[:, 1] + t * d[:, 1]
    return np.mean((x + offset) ** 2 + y**2 <= (minor / 2) ** 2)


def two_circles(h, f=1200, aperture=150, L=200, minor=35.0):
    """Area common to the flat and the patch of a star, row by row."""
    a, b, d = aperture * L / f / 2, minor / 2, h * (1 - L / f)
    chord = lambda x: 2 * np.sqrt(max(0, min(a * a - x * x, b * b - (x - d) ** 2)))
    return integrate.quad(chord, max(-a, d - b), min(a, d + b), limit=500, epsabs=1e-8)[0] / np.pi / a**2


show("across the field", [two_circles(h) for h in (8, 10, 12, 15, 20)], within=3e-5)
show("past the flat", *[[past(1200, 150, 200, 35, o, *h) for h in ((0, H), (H, 0), (-H, 0))]
                        for o, H in ((0.8859, 15), (0.8859, 20), (1.0084, 15))], within=1e-3)
show("without an offset", [past(1200, 150, 200, 35, 0, h, 0) for h in (-5, 8, -8)], within=1e-3)
show("magnitudes", [-2.5 * np.log10(1 - e * e) for e in (0.15, 0.2, 0.25, 0.3, 0.35)], within=-2e-4)

# the demo's invented telescope
f, L = 1198.3, 180 / 2 + 3 + 70 + 15
lit = optimize.brentq(lambda lit: cut(150, f, L, lit)[0] - 31, 0, 30)
print("the demo's telescope:", *(f"{v:.12g}~{w:g}" for v, w in (
    (f - L, 0.05), (cut(150, f, L, 8)[0], 0.051), (lit, 0.05), (cut(150, f, L, lit)[1], 0.006),
    (cut(150, f, L, lit)[1] * np.sqrt(2), 0.006), (31 / 150, 6e-4), (-2.5 * np.log10(1 - (31 / 150) ** 2), 6e-4),
    (two_circles(10.5, f, 150, L, 31.0), 0.0051), (150 + 2 * (f - L + 150) * 10.5 / f, 0.05))))

# the tube: moments about the bearing, and friction on two pads
masses = np.array([[2100, 60], [3200, 600], [350, 1095], [600, 1095], [400, 1000]])
whole, at = masses[:, 0].sum(), masses[:, 0] @ masses[:, 1] / masses[:, 0].sum()
pull = 0.3 * 9.80665 * (1095 - at) / 1000 * np.cos(np.radians(20))
rub = 0.15 * whole / 1000 * 9.80665 / np.cos(np.radians(35)) * 0.09
show("balance", at, pull, rub, within=-1e-4)
show("pull of an eyepiece", pull, within=-1e-4)
