"""
Zones, knife, bands, their noise and warm air by another route: vectors reflected at surfaces given by their equation,
scipy's quadrature, splines and quantiles, sums over a grating's orders. No line is shared with the library.

    /usr/bin/python3 tests/testing/secondRoute.py

Each line is a key and its values; tests/secondRoutes.test.ts looks for them in the tests whose comment names the key.
"""

import numpy as np
from scipy import integrate, interpolate, optimize, special, stats

GREEN = 550e-6  # mm


def flat(values):
    for v in values:
        yield from flat(v) if np.ndim(v) > 0 else (v,)


def show(key, *values, within=0):
    """`within` says how far a test's number may be, as a share of it where below 0."""
    near = lambda v: f"~{within if within > 0 else -within * abs(v):.3g}" if within else ""
    print(f"{key}:", *(f"{v:.12g}" + near(v) for v in flat(values)))


X, WX = np.polynomial.legendre.leggauss(200)
Q, W = (X + 1) / 2, WX / 2


def best_focus(waves, weights, q):
    """What is left when a constant and focus are taken out, by area."""
    a = np.stack([np.ones_like(q), q], 1)
    s = np.sqrt(weights)
    return waves - a @ np.linalg.lstsq(a * s[:, None], waves * s, rcond=None)[0]


def rms(waves, weights):
    mean = np.sum(weights * waves)
    return np.sqrt(np.sum(weights * (waves - mean) ** 2))


# the worked example: 150 mm, R 2400, lamp moving
EDGES, HALF, R, SIGMA = np.array([0, 30, 45, 57, 67, 75.0]), 75, 2400, 0.05
RADII = np.sqrt((EDGES[:-1] ** 2 + EDGES[1:] ** 2) / 2)
IDEAL = RADII**2 / 2 / R
LEFT = np.array([0.1, 0.35, 0.5, 0.75, 1.08]) - IDEAL
PLACES = (RADII / HALF) ** 2
show("effective radii", RADII)
show("middle of a window", (16.75**2 - 33.5**2 / 2) / 4800, within=5e-5)
show("ideal readings", IDEAL, LEFT)
PER_MM = HALF**2 / R**2 / GREEN  # waves a unit of integral of dL dq
FIT = np.linalg.pinv(np.stack([np.ones(5), PLACES], 1))  # rows: constant, slope
W040 = -PER_MM / 2 * FIT[1]  # of a mm in each zone
SHAPE = lambda q: q * q - q + 1 / 6
quarters = np.outer(SHAPE(np.array([0, 0.25, 0.5, 0.75, 1])), W040)
show("waves per mm", np.abs(quarters[0]))
show("covariance", np.diag(SIGMA**2 * quarters @ quarters.T)[:3], within=-3e-3)
show("deviations", SIGMA * np.linalg.norm(quarters, axis=1)[:3])
show("slope and aberration", SIGMA * np.linalg.norm(FIT[1]), SIGMA * np.linalg.norm(W040))
draws = np.random.default_rng(20260601).normal(0, SIGMA, (1_000_000, 5))
show("slope by draws", np.std(draws @ FIT[1]), within=2.5e-4)
show("RMS by draws", np.sqrt(np.mean((draws @ W040) ** 2)) / 6 / np.sqrt(5), within=2e-5)
line = FIT @ LEFT
show("line", line, W040 @ LEFT)


def pieces(knots, slope):
    """A surface of straight pieces, as waves of path at best focus: P-V at the corners and between, and RMS."""
    r = np.concatenate([np.linspace(a, b, 20001)[:-1] for a, b in zip(knots, knots[1:])] + [[knots[-1]]])
    height = np.interp(r, knots, np.concatenate([[0], np.cumsum(slope * np.diff(knots))]))
    q = (r / HALF) ** 2
    weights = np.gradient(q)
    weights[0], weights[-1] = (q[1] - q[0]) / 2, (q[-1] - q[-2]) / 2
    waves = best_focus(2 * height / GREEN, weights / weights.sum(), q)
    return np.ptp(waves), rms(waves, weights / weights.sum())


glass = lambda r, dl: -r * dl / R**2
corners = np.concatenate([[0], RADII, [HALF]])
held = np.concatenate([LEFT[:1], LEFT, LEFT[-1:]])
show("straight pieces", pieces(EDGES, glass(RADII, LEFT)),
     pieces(corners, (glass(corners[1:], held[1:]) + glass(corners[:-1], held[:-1])) / 2), within=3e-7)


def by(method, places, left, half, radius):
    """The textbook ways from departures to waves at best focus, on Gauss's places and a fine net."""
    fine = np.linspace(0, 1, 40001)
    if method == "spline":
        inner = interpolate.CubicSpline(places, left, bc_type="natural")
        low, high = inner(places[0], 1), inner(places[-1], 1)
        curve = lambda q: np.where(q < places[0], left[0] + low * (q - places[0]),
                                   np.where(q > places[-1], left[-1] + high * (q - places[-1]), inner(q)))
    else:
        curve = np.polynomial.polynomial.Polynomial(np.polynomial.polynomial.polyfit(places, left, method))
    values = curve(fine)
    total = interpolate.CubicSpline(fine, values).antiderivative()(fine)
    waves = -(half / radius) ** 2 / GREEN * total
    weights = np.full(len(fine), 1.0)
    weights[1:-1:2], weights[2:-1:2] = 4, 2
    weights /= weights.sum()
    left_over = best_focus(waves, weights, fine)
    strehl = abs(np.sum(weights * np.exp(2j * np.pi * left_over))) ** 2
    return np.ptp(left_over), rms(left_over, weights), strehl


one = by(1, PLACES, LEFT, HALF, R)
K = -1 - line[1] / (HALF**2 / 2 / R)
show("one set by a conic", K, one[1], one[0], one[2])
show("one set by polynomials", [by(n, PLACES, LEFT, HALF, R)[1] for n in (2, 3)])
show("their P-V", [by(n, PLACES, LEFT, HALF, R)[0] for n in (2, 3)], within=4e-5)
unit_rms = lambda n: SIGMA * np.linalg.norm([by(n, PLACES, row, HALF, R)[1] for row in np.eye(5)])
show("floor of noise", [unit_rms(n) for n in (1, 2, 3)], SIGMA * np.linalg.norm(FIT[1]) / (HALF**2 / 2 / R))


# the three reference mirrors
class Mirror:
    def __init__(self, half, radius, edges, conic, error=lambda r: 0 * r, tilt=lambda r: 0 * r, kinks=()):
        self.half, self.radius, self.edges, self.kinks = half, radius, edges, kinks
        root = lambda r: np.sqrt(1 - (1 + conic) * r * r / radius**2)
        self.height = lambda r: r * r / radius / (1 + root(r)) + error(r)
        self.slope = lambda r: r / radius / root(r) + tilt(r)

    def crossing(self, r):
        """Where the normal meets the axis, from R."""
        return self.height(r) + r / self.slope(r) - self.radius

    def readings(self):
        def mean(a, b):
            points = [k for k in self.kinks if a < k < b]
            return integrate.quad(lambda r: r * self.crossing(r), max(a, 1e-9), b, points=points or None,
                                  epsabs=1e-12, limit=200)[0] * 2 / (b * b - a * a)
        return [mean(a, b) for a, b in zip(self.edges, self.edges[1:])]

    def truth(self):
        q = (np.arange(20000) + 0.5) / 20000
        r = self.half * np.sqrt(np.concatenate([[0], q, [1]]))
        z = self.height(r)
        w = np.concatenate([[0], np.full(20000, 1 / 20000), [0]])
        path = lambda f: (f - np.hypot(r, f - z) + z) / GREEN
        least = optimize.minimize_scalar(lambda f: rms(path(f), w), bounds=(self.radius / 2 - 1, self.radius / 2 + 1),
                                         method="bounded", options={"xatol": 1e-7}).x
        low, mid, high = (rms(path(least + d), w) ** 2 for d in (-0.02, 0, 0.02))
        least += 0.02 * (low - high) / 2 / (low - 2 * mid + high)  # a square's least place is found only to its rounding's root
        waves = path(least)
        strehl = lambda f: -abs(np.sum(w * np.exp(2j * np.pi * path(f)))) ** 2
        most = optimize.minimize_scalar(strehl, bounds=(least - 0.3, least + 0.3), method="bounded").fun
        return np.ptp(waves), rms(waves, w), -most


edge = lambda r: np.maximum(r - 68, 0) / 12
bell = lambda r: 50e-6 * np.exp(-((r - 60) ** 2) / 242)
MIRRORS = [
    Mirror(90, 2340, [0, 37, 52, 64, 74, 82, 90], -0.7),
    Mirror(80, 2240, [0, 33, 46, 57, 65.5, 73, 80], -1, lambda r: -100e-6 * edge(r) ** 2, lambda r: -200e-6 * edge(r) / 12, (68,)),
    Mirror(110, 2420, [0, 38, 52, 64, 76, 87, 97, 110], -1, bell, lambda r: -bell(r) * (r - 60) / 121),
]
print("reference mirrors:", *(f"{v:.12g}~{3e-5 if (i, z) == (1, 4) else 4e-6:g}" for i, m in enumerate(MIRRORS)
                              for z, v in enumerate(m.readings())),
      *(f"{v:.12g}~{w:g}" for m in MIRRORS for v, w in zip(m.truth(), (6e-6, 1e-6, 6e-5))))


def missed(method):
    out = []
    for m in MIRRORS:
        e = np.array(m.edges)
        r = np.sqrt((e[:-1] ** 2 + e[1:] ** 2) / 2)
        got = by(method, (r / m.half) ** 2, np.array(m.readings()) - r * r / 2 / m.radius, m.half, m.radius)
        pv, spread, _ = m.truth()
        out += [100 * (got[0] / pv - 1), 100 * (got[1] / spread - 1)]
    return out


show("what methods miss", *[missed(method)[2:] for method in ("spline", 1, 2, 3, 4)], within=0.3)


# rays: off a surface by its equation to the plane of knife or grating
def ray(place, lamp, plane, radius, conic, error=lambda x, y: 0.0, step=1e-4):
    x, y = place
    z = lambda u, v: (u * u + v * v) / radius / (1 + np.sqrt(1 - (1 + conic) * (u * u + v * v) / radius**2)) + error(u, v)
    n = np.array([-(z(x + step, y) - z(x - step, y)) / 2 / step, -(z(x, y + step) - z(x, y - step)) / 2 / step, 1.0])
    n /= np.linalg.norm(n)
    p = np.array([x, y, z(x, y)])
    came = p - lamp
    came /= np.linalg.norm(came)
    gone = came - 2 * (came @ n) * n
    return (p + gone * (plane - p[2]) / gone[2])[:2]


ROWS = [(2400, 0, -5, 37.5), (2400, 0, -5, 75), (2400, -1, -3, 50), (2400, -1, -3, 100), (2400, -1, 3, 100),
        (2400, -0.5, -3, 100), (3200, -1, -5, 200)]
show("rays at the knife", *[[ray((x, 0.0), np.array([0, 0, radius + (knife if moves else 0)]), radius + knife, radius, conic, step=0.01)[0]
                            for moves in (True, False)] for radius, conic, knife, x in ROWS], within=2e-9)
tilted = []
for d in (-5, 5):
    at = lambda x, y: ray((x, y), np.array([0, 0, 2400.0 + d]), 2400 + d, 2400, 0, lambda u, v: 100e-6 * 2 * u * v / 75**2, 0.01)[0]
    slant = np.degrees(np.arctan(-(at(30, 20.5) - at(30, 19.5)) / (at(30.5, 20) - at(29.5, 20))))
    tilted += [f"{at(30, 20):.12g}~3e-9", f"{slant:.12g}~0.0002"]
print("astigmatism's bands:", *tilted)


def aspheric(i=12345):
    r, t = 100 * np.sqrt((i + 0.5) / 1e6), i * 2.399963229728653
    lamp = np.array([0.5, 0.2, 2400.0])
    way = np.array([r * np.cos(t), r * np.sin(t), 0]) - lamp
    height = lambda q: q / 4800 + 1e-13 * q**2 + 1e-19 * q**3
    s = optimize.brentq(lambda s: lamp[2] + s * way[2] - height((lamp[0] + s * way[0]) ** 2 + (lamp[1] + s * way[1]) ** 2), 0.5, 1.5,
                        xtol=1e-15, rtol=1e-15)
    p = lamp + s * way
    q = p[0] ** 2 + p[1] ** 2
    rise = 1 / 4800 + 2e-13 * q + 3e-19 * q**2
    n = np.array([-2 * p[0] * rise, -2 * p[1] * rise, 1])
    n /= np.linalg.norm(n)
    gone = way - 2 * (way @ n) * n
    return (p + gone * (2401 - p[2]) / gone[2])[0]


show("ray of a million", aspheric(), within=2e-12)


def tilt_seen(tilt=1e-7, r=100.0):
    """A tilt of the glass over what a straight line makes of the knife's move, lamp fixed at R."""
    def crossing(extra):
        z, slope = r * r / 4800, r / 2400 + extra
        n = np.array([-slope, 1]) / np.hypot(slope, 1)
        came = np.array([r, z - 2400]) / np.hypot(r, z - 2400)
        gone = came - 2 * (came @ n) * n
        return z - r * gone[1] / gone[0]
    return tilt / (-r * (crossing(tilt) - crossing(-tilt)) / 2 / (2 * 2400**2))


show("tilt at a fixed lamp", tilt_seen(), within=5e-6)

# the knife and the waves: Hilbert's transform of a chord, and the light past an edge in a perfect star
hilbert = lambda x, c: integrate.quad(lambda u: -1.0, -c, c, weight="cauchy", wvar=x)[0] / np.pi if x else 0.0
show("shadow of a perfect mirror", [abs(0.5 * (1 + 1j * hilbert(x, np.sqrt(75**2 - y * y)))) ** 2
                                    for x, y in ((25, 0), (50, 0), (70, 0), (30, 40))])
transfer = lambda v: 2 / np.pi * (np.arccos(v) - v * np.sqrt(1 - v * v))
show("past the knife", [0.5 + integrate.quad(lambda v: transfer(v) * 2 * x * np.sinc(2 * v * x), 0, 1)[0] for x in (0.25, 0.5, 1)])


fringe = lambda v: -sum((0.5 + part) ** 2 for part in special.fresnel(v)) / 2
show("brightest fringe", -optimize.minimize_scalar(fringe, bounds=(0.8, 1.6), method="bounded").fun)

# bands: orders of a grating of 4 lines in each mm, each a sheared image of the face
def bands(points, half, radius, conic, offset, middle=0.0, places=(0.0,)):
    L = radius + offset
    shear = GREEN * L * 4
    n = np.arange(-int(2 * half / shear) - 2, int(2 * half / shear) + 3)
    c = np.sinc(n / 2) / 2
    out = []
    for x, y in points:
        u = x - n * shear
        q = u * u + y * y
        z = q / radius / (1 + np.sqrt(1 - (1 + conic) * q / radius**2))
        field = np.where(q < half * half, np.exp(2j * np.pi * 2 * np.sqrt(q + (L - z) ** 2) / GREEN), 0)
        out.append(np.mean([abs(np.sum(c * np.exp(2j * np.pi * n * 4 * (middle + s)) * field)) ** 2 for s in places]))
    return out


POINTS = [(0, 0), (10, 0), (20, 0), (30, 0), (45, 20), (60, 0), (-30, 40)]
show("sheared apertures", bands(POINTS, 75, 2400, 0, -5), bands(POINTS, 100, 2400, -1, -3), bands(POINTS, 100, 2400, -1, -6))
LAMP = ((np.arange(400) + 0.5) / 400 - 0.5) / 8
LED = [(0, 0), (15, 0), (30, 0), (45, 0), (60, 0), (-30, 40)]
AT = [(0, 0), (10, 0), (21, 0), (30, 0), (45, 20), (60, 0), (-30, 40)]
show("sphere behind its own grating", bands(LED, 75, 2400, 0, -5, 0, LAMP))
show("behind the same grating", bands(LED, 75, 2400, 0, -5, 0, LAMP), bands(AT, 100, 2400, -1, -6, 0, LAMP),
     bands(AT, 100, 2400, -1, -6, 1 / 8, LAMP))
show("quarter wave", abs(np.sum(W * np.exp(2j * np.pi * (Q * Q - Q)))) ** 2)
sphere = Mirror(75, 2400, [0, 75], 0).truth()
show("a sphere's worth", sphere[0], sphere[1], within=3e-6)

# readings
five = np.array([12.31, 12.36, 12.27, 12.33, 12.38])
mean_u = five.std(ddof=1) / np.sqrt(5)
show("five readings", five.mean(), five.std(ddof=1), mean_u, stats.t.ppf(0.975, 4) * mean_u)


def factors(n):
    d = n - 1
    ends = [np.sqrt(d / stats.chi2.ppf(p, d)) for p in (0.975, 0.025)]
    c4 = np.sqrt(2 / d) * special.gamma(n / 2) / special.gamma(d / 2)
    d2 = integrate.quad(lambda x: 1 - stats.norm.cdf(x) ** n - stats.norm.sf(x) ** n, -9, 9, epsabs=1e-10)[0]
    return stats.t.ppf(0.975, d), stats.t.ppf(0.975, d) / np.sqrt(n), *ends, c4, d2


show("three to ten readings", *[factors(n) for n in (3, 4, 5, 6, 10)], within=6e-7)


# dry air: Ciddor's formulae, and those of Birch and Downs (1994)
def ciddor(t, nm=550, p=101325):
    k = (1000 / nm) ** 2
    z = lambda t: 1 - p / (t + 273.15) * (1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t) + (p / (t + 273.15)) ** 2 * 1.83e-11
    at15 = 1e-8 * (5792105 / (238.0185 - k) + 167917 / (57.362 - k))
    return at15 * (288.15 / (t + 273.15)) * z(15) / z(t)


def birch_downs(t, nm=550, p=101325):
    k = (1000 / nm) ** 2
    standard = 1e-8 * (8342.54 + 2406147 / (130 - k) + 15998 / (38.9 - k))
    return standard * p * (1 + 1e-8 * (0.601 - 0.00972 * t) * p) / 96095.43 / (1 + 0.0036610 * t)


slope = lambda t: (ciddor(t + 0.01) - ciddor(t - 0.01)) / 0.02
print("index of air:", f"{ciddor(15):.12g}~1e-10 {ciddor(20):.12g}~1e-10 {slope(15):.12g}~1e-11 {slope(20):.12g}~1e-11")
show("index by another formula", birch_downs(15), within=1e-10)
advance = -2 * slope(20) * 10 * 1e6
steep = advance * 1e-6 / 5 / np.sqrt(np.e)
print("warm air:", *(f"{v:.12g}~{w:g}" for v, w in ((advance, 3e-4), (advance / 550, 1e-6), (advance / 2, 2e-4), (steep, 5e-11),
                                                   (steep * 2400, 5e-6), (steep * 2400 * 4, 5e-5))))
show("warm air and the knife", *[[advance * 1e-6 / s / np.sqrt(np.e) * 2400**2 / 2 / r for r in (30, 70)] for s in (5, 3, 20)], within=6e-4)
