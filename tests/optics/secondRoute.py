"""
Light by another route: scipy's Bessel functions, roots and quadrature, vectors reflected at surfaces found as roots, and
matrices of films. No line is shared with the library.

    /usr/bin/python3 tests/optics/secondRoute.py

Each line is a key and its values; tests/secondRoutes.test.ts looks for them in the tests whose comment names the key.
"""

import numpy as np
from scipy import integrate, optimize, special

GREEN = 550e-6  # mm


def flat(values):
    for v in values:
        yield from flat(v) if np.ndim(v) > 0 else (v,)


def show(key, *values, within=0):
    """`within` says how far a test's number may be, where that is not half of its last digit."""
    print(f"{key}:", *(f"{v:.12g}" + (f"~{within:g}" if within else "") for v in flat(values)))


# the disc as Gauss's places in the square of the radius, and evenly round
NODES, WEIGHTS = np.polynomial.legendre.leggauss(400)
Q, W = (NODES + 1) / 2, WEIGHTS / 2
SPOKES = np.arange(96) * 2 * np.pi / 96


def radial_strehl(waves, weights=W):
    return abs(np.sum(weights * np.exp(2j * np.pi * waves))) ** 2


def rms(waves, weights=W):
    mean = np.sum(weights * waves)
    return np.sqrt(np.sum(weights * (waves - mean) ** 2))


def whole_disc(term, span):
    rho, theta = np.meshgrid(np.sqrt(Q), SPOKES, indexing="ij")
    waves = 0.25 * term(rho, theta) / span
    weights = np.repeat(W[:, None], len(SPOKES), 1) / len(SPOKES)
    return rms(waves, weights), radial_strehl(waves, weights)


show("quarter of astigmatism and coma", whole_disc(lambda r, t: r**2 * np.cos(2 * t), 2),
     whole_disc(lambda r, t: (3 * r**3 - 2 * r) * np.cos(t), 2))

best = lambda w040: w040 * (Q * Q - Q)
show("exponential form", [np.exp(-(2 * np.pi * rms(pv * Q)) ** 2) for pv in (0.125, 0.25, 0.5)],
     [np.exp(-(2 * np.pi * rms(best(w))) ** 2) for w in (0.5, 1, 2)])
show("defocus", *[(rms(pv * Q), radial_strehl(pv * Q)) for pv in (0.125, 0.25, 0.5)])
show("spherical", *[(rms(best(w)), radial_strehl(best(w))) for w in (0.5, 1, 2)])
show("paraxial", rms(0.25 * Q * Q), radial_strehl(0.25 * Q * Q))
show("quarter wave", radial_strehl(best(1)))
show("how much too high", np.exp(-(2 * np.pi * 0.149) ** 2) - radial_strehl(best(6 * np.sqrt(5) * 0.149)))
z11 = np.sqrt(5) * (6 * Q * Q - 6 * Q + 1)
z22 = np.sqrt(7) * (20 * Q**3 - 30 * Q * Q + 12 * Q - 1)
show("two terms", radial_strehl(0.05 * z11 + 0.03 * z22), np.exp(-(2 * np.pi * rms(0.05 * z11 + 0.03 * z22)) ** 2))


def behind_obstruction():
    low = 0.25**2
    q = low + (1 - low) * Q
    fit = np.polynomial.polynomial.polyfit(q, q * q, 1, w=np.sqrt(W))
    waves = q * q - np.polynomial.polynomial.polyval(q, fit)
    return rms(waves), radial_strehl(waves)


show("obstructed", behind_obstruction())

# a perfect star
show("dark rings", special.jn_zeros(1, 3) / np.pi)
show("zero of J0", special.jn_zeros(0, 1))
show("radii", 1000 * special.jn_zeros(1, 1)[0] / np.pi * GREEN * np.array([8, 6]))
E = np.array([0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4])
show("peak behind", (1 - E**2) ** 2, 1 - E**2)
inside = lambda v: 1 - special.j0(np.pi * v) ** 2 - special.j1(np.pi * v) ** 2
show("light inside", [inside(v) for v in special.jn_zeros(1, 3) / np.pi])
airy = lambda v: (2 * special.j1(np.pi * v) / (np.pi * v)) ** 2
bright = [optimize.minimize_scalar(lambda v: -airy(v), bounds=b, method="bounded", options={"xatol": 1e-10}).x
          for b in ((1.4, 1.9), (2.4, 2.9))]
# a maximum is found to the root of the rounding
show("bright rings", [airy(v) for v in bright], bright, 2 * optimize.brentq(lambda v: airy(v) - 0.5, 0.3, 0.7), within=2e-8)


def annular(v, e):
    x = np.pi * np.asarray(v, float)
    jinc = lambda y: np.where(y == 0, 1, 2 * special.j1(y) / np.where(y == 0, 1, y))
    return (jinc(x) - e * e * jinc(e * x)) / (1 - e * e)


def annular_ring(e):
    ring = optimize.brentq(lambda v: annular(v, e), 0.95, 1.25)
    light = integrate.quad(lambda v: annular(v, e) ** 2 * v, 0, ring, epsabs=1e-12)[0]
    return ring, light * np.pi**2 / 2 * (1 - e * e)


show("annular rings", *[annular_ring(e) for e in (0, *E)])


def contrast(nu, e):
    """Overlap of two rings moved apart by 2 nu, row by row."""
    half = lambda y, r: np.sqrt(np.maximum(r * r - y * y, 0))

    def both(y):
        def cover(centre):
            outer, inner = half(y, 1), half(y, e)
            return [(centre - outer, centre - inner), (centre + inner, centre + outer)]
        return sum(max(0, min(b, d) - max(a, c)) for a, b in cover(-nu) for c, d in cover(nu))

    breaks = [e, np.sqrt(max(0, 1 - nu * nu))]
    area = integrate.quad(both, 0, 1, points=breaks, limit=2000, epsabs=1e-9)[0] * 2
    return area / (np.pi * (1 - e * e))


show("contrast", *[[contrast(nu, e) for nu in (0.25, 0.5, 0.75)] for e in (0, 0.2, 0.25, 0.3, 0.35)])
show("contrast of detail", [contrast(0.37815, e) for e in (0, 0.2067, 1 / 3)], contrast(0.37815 * 150 / 119, 0), within=3e-5)

# surfaces: the point where a line parallel to the axis meets r^2 + (1 + K) z^2 = 2 R z, found as a root
def height(r, R, K):
    return optimize.brentq(lambda z: r * r + (1 + K) * z * z - 2 * R * z, 0, R / (1 + max(K, 0)) / 2, xtol=1e-15, rtol=1e-15)


def normal(r, R, K):
    z = height(r, R, K)
    n = np.array([-2 * r, 2 * R - 2 * (1 + K) * z])
    return z, n / np.linalg.norm(n)


def crossing(r, R, K, lamp):
    """Where the light of a zone crosses the axis, beyond R: lamp fixed at R, or beside the knife."""
    z, n = normal(r, R, K)
    if lamp == "moves":
        return z - n[1] / n[0] * r - R
    came = np.array([r, z - R])
    came /= np.linalg.norm(came)
    gone = came - 2 * (came @ n) * n
    return z - gone[1] / gone[0] * r - R


show("ellipsoid", height(100, 1600, -0.6))
RIMS = [(75, 2400), (100, 2400), (125, 2250), (200, 3200)]
show("sphere over paraboloid", [1e6 * (R - np.sqrt(R * R - r * r) - r * r / 2 / R) for r, R in RIMS])
show("two terms of it", [1e6 * (r**4 / 8 / R**3 + r**6 / 16 / R**5) for r, R in RIMS])
show("knife of paraboloids", *[[crossing(r, R, -1, lamp) for lamp in ("fixed", "moves")]
                              for R in (2400, 2250, 3200)
                              for r in {2400: (37.5, 75, 50, 100), 2250: (62.5, 125), 3200: (100, 200)}[R]])
show("knife of conics", *[[crossing(100, 1600, K, lamp) for lamp in ("fixed", "moves")] for K in (-0.6, -0.5, -1.3, 0.2)])
show("short of it", [r * r / R - crossing(r, R, -1, "fixed") for r, R in RIMS])
show("behind a mask", 100 * (2400 / 2390 - 1), ((75 * 2400 / 2390) ** 2 - 75**2) / 2400)


def beside(lamp, R):
    """Lamp and image on either side of the axis: where near rays of the plane of both meet, from the plane of R."""
    def ray(x):
        z = R - np.sqrt(R * R - x * x)
        n = np.array([-x, R - z]) / R
        came = np.array([x - lamp, z - R])
        came /= np.linalg.norm(came)
        gone = came - 2 * (came @ n) * n
        return np.array([x, z]), -gone
    h = 1e-3
    (p, u), (s, v) = ray(-h), ray(h)
    t = np.linalg.solve(np.array([u, -v]).T, s - p)
    return (p + t[0] * u)[1] - R


show("lamp beside the knife", beside(5, 2400), beside(10, 1200))


def path(aperture, ratio, K):
    """Exact path of a star's light off the surface to a focus, waves, over the rim's own; a function of the focus."""
    R = 2 * aperture * ratio
    r = aperture / 2 * np.sqrt(np.append(Q, 1.0))
    z = r * r / (R * (1 + np.sqrt(1 - (1 + K) * r * r / R / R)))
    return lambda focus: (np.hypot(r, focus - z) - focus + -z) / GREEN, R


def judged(aperture, ratio, K):
    waves, R = path(aperture, ratio, K)
    of = lambda shift: -waves(R / 2 + shift)
    err = lambda shift: rms(of(shift)[:-1])
    least = optimize.minimize_scalar(err, bounds=(-1, 1), method="bounded", options={"xatol": 1e-9}).x
    # the optimum of a square is found to the root of the rounding: one parabola through three places
    f = [err(least + d) ** 2 for d in (-0.01, 0, 0.01)]
    least += 0.01 * (f[0] - f[2]) / (2 * (f[0] - 2 * f[1] + f[2]))
    w = of(least)
    fine = np.linspace(0, 1, 20001)
    poly = np.polynomial.chebyshev.Chebyshev.fit(np.append(Q, 1.0), w, 12)(fine)
    strehl = -optimize.minimize_scalar(lambda s: -radial_strehl(of(s)[:-1]), bounds=(least - 0.6, least + 0.6),
                                       method="bounded", options={"xatol": 1e-8}).fun
    scan = max(radial_strehl(of(s)[:-1]) for s in np.linspace(least - 0.8, least + 0.8, 1601))
    return least, np.ptp(poly), rms(w[:-1]), max(strehl, scan), np.exp(-(2 * np.pi * rms(w[:-1])) ** 2), radial_strehl(w[:-1])


MIRRORS = [(114, 8, 0), (150, 8, 0), (150, 8, -0.97), (200, 6, 0), (200, 6, -0.7), (200, 6, -0.9), (200, 6, -1.1),
           (250, 5, -0.85), (250, 5, -0.8), (250, 4.5, -0.95), (400, 4, -0.98)]
print("mirrors:", *(f"{v:.12g}~{t:g}" for m in MIRRORS for v, t in zip(judged(*m)[:5], (2e-6, 3e-6, 2e-7, 3e-6, 2e-6))))
show("sphere of 200 f/6", judged(200, 6, 0)[5])
show("brightest elsewhere", [radial_strehl(6 * np.sqrt(5) * 0.2451862 * (Q * Q - k * Q)) for k in (1,)],
     max(radial_strehl(6 * np.sqrt(5) * 0.2451862 * (Q * Q - k * Q)) for k in np.linspace(0.5, 1.5, 4001)), within=1e-4)


def hill(r, R):
    """A ray off the paraboloid raised by 50 nm at r, to the same focus: the difference of path, nm."""
    z = r * r / 2 / R
    f = R / 2
    return 1e6 * ((np.hypot(r, f - z) - z) - (np.hypot(r, f - z - 50e-6) - z - 50e-6))


show("hill", hill(200, 3200), hill(100, 2400))

# where a sphere is enough
SIZES = [75, 100, 114.3, 125, 150, 175, 200, 250, 300]
formula = lambda D, pv=0.25: (D**4 / (2048 * GREEN * pv)) ** (1 / 3)
show("focal ratios", [formula(D) / D for D in SIZES])
exact = [optimize.brentq(lambda f, D=D: judged(D, f / D, 0)[1] - 0.25, formula(D) * 0.999, formula(D) * 1.002, xtol=1e-6)
         for D in SIZES]
print("focal lengths:", *(f"{formula(D):.12g} {f:.12g}~0.004 {formula(D, 0.125):.12g}" for D, f in zip(SIZES, exact)))
show("Strehl there", judged(150, formula(150) / 150, 0)[5])

# films: characteristic matrices
SILVER = np.array([(430.5, .04, 2.462), (450.9, .04, 2.657), (471.4, .05, 2.869), (495.9, .05, 3.093), (520.9, .05, 3.324),
                   (548.6, .06, 3.586), (582.1, .05, 3.858), (616.8, .06, 4.152), (659.5, .05, 4.483)])
ALUMINIUM = np.array([(413.28, .52135, 5.0008), (442.8, .6079, 5.3676), (476.87, .7278, 5.7781), (516.6, .8734, 6.2418),
                      (563.57, 1.0728, 6.7839), (619.93, 1.366, 7.4052), (652.25, 1.5724, 7.7354), (688.81, 1.8301, 8.0601)])
B, C = (1.03961212, 0.231792344, 1.01046945), (0.00600069867, 0.0200179144, 103.560653)


def crown(nm):
    s = (nm / 1000) ** 2
    return np.sqrt(1 + sum(b * s / (s - c) for b, c in zip(B, C)))


def metal(rows, nm):
    return np.interp(nm, rows[:, 0], rows[:, 1]) - 1j * np.interp(nm, rows[:, 0], rows[:, 2])


def film(rows, d, nm=550.0):
    n, g = metal(rows, nm), crown(nm)
    p = 2 * np.pi * n * d / nm
    m = np.array([[np.cos(p), 1j * np.sin(p) / n], [1j * n * np.sin(p), np.cos(p)]])
    b, c = m @ np.array([1, g])
    into = 4 * g / abs(b + c) ** 2
    return abs((b - c) / (b + c)) ** 2, into, into * (1 - ((g - 1) / (g + 1)) ** 2)


show("silver by thickness", [film(SILVER, d)[0] for d in (10, 20, 30, 50, 80, 100, 150)])
show("silver lets through", *[film(SILVER, d)[1:] for d in (20, 50, 100)])
show("films by colour", *[film(SILVER, 100, nm)[:2] for nm in (450, 650)], [film(ALUMINIUM, 100, nm)[0] for nm in (450, 550, 650)],
     film(ALUMINIUM, 20)[:2], film(ALUMINIUM, 50)[:2])
show("bare glass", [crown(nm) for nm in (486.1327, 587.5618, 656.2725, 546.074, 550)])

# a lamp's light through silver; two mirrors one after the other
into = lambda share: optimize.brentq(lambda d: film(SILVER, d)[1] - share, 20, 300)
show("silver by a lamp", [into(share) for share in (0.01, 1e-3, 1e-5)])
both = [film(rows, 100)[0] ** 2 for rows in (SILVER, ALUMINIUM)]
show("two mirrors", both, [b * (1 - 0.2333**2) for b in both])
ARCSEC = 180 * 3600 / np.pi
show("closest pairs", [special.jn_zeros(1, 1)[0] / np.pi * GREEN / D * ARCSEC for D in (150, 114, 250)])

# a single lens
D_LINE, F_LINE, C_LINE = 587.5618, 486.1327, 656.2725
focus = lambda nm: 1200 * (crown(D_LINE) - 1) / (crown(nm) - 1)
abbe = (crown(D_LINE) - 1) / (crown(F_LINE) - crown(C_LINE))
apart = focus(C_LINE) - focus(F_LINE)
least = 150 * apart / (focus(C_LINE) + focus(F_LINE))
show("single lens", focus(F_LINE), focus(C_LINE), apart, abbe, 1200 / abbe, least, least / 1200 * 206264.806)


def zernike(n, m, rho, theta):
    """By Jacobi's polynomials."""
    k = abs(m)
    radial = (-1) ** ((n - k) // 2) * rho**k * special.eval_jacobi((n - k) // 2, k, 0, 1 - 2 * rho**2)
    norm = np.sqrt(n + 1) if m == 0 else np.sqrt(2 * (n + 1))
    return norm * radial * (np.cos(k * theta) if m >= 0 else np.sin(k * theta))


TERMS = [(1, 1), (1, -1), (2, 0), (2, -2), (2, 2), (3, -1), (3, 1), (3, -3), (3, 3), (4, 0), (4, 2), (4, -2), (4, 4), (4, -4),
         (5, 1), (5, -1), (6, 0)]
show("zernike", [zernike(n, m, 0.6, 0.5) for n, m in TERMS])
along = lambda power, n: integrate.quad(lambda r: r**power * zernike(n, 0, r, 0) * 2 * r, 0, 1, epsabs=1e-13)[0]
show("powers", along(4, 0), along(4, 2), along(4, 4), along(6, 4), along(6, 6))
