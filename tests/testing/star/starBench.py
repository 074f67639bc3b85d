"""
Invented star pairs by another route than the fit: direct Fourier sums over the pupil in numpy, air as moving
screens of Kolmogorov's spectrum, five colours, flat with vanes, a phone's curve, tracking, noise, eight bits.

    /usr/bin/python3 tests/testing/star/starBench.py FIRST COUNT [SEEING [wrong | moved]]

Prints one JSON line for each pair: what is true (waves of 550 nm, RMS over the whole disc), what the maker writes
down, and both pictures as base64 bytes. "wrong" makes both pictures outside focus and calls one inside, "moved" lets
the star run by three quarters of its disc while the first is taken.
"""

import base64
import json
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from phone import tone_curve

WAVELENGTH = 550.0
PUPIL = 80
COLOURS = [(480.0, 0.14), (520.0, 0.24), (550.0, 0.26), (585.0, 0.22), (625.0, 0.14)]


def noll(n, m, rho, theta):
    """Zernike terms of mean square 1, written out one by one."""
    c, s = np.cos(abs(m) * theta), np.sin(abs(m) * theta)
    angle = c if m >= 0 else s
    radial = {
        (2, 2): np.sqrt(6) * rho**2,
        (3, 1): np.sqrt(8) * (3 * rho**3 - 2 * rho),
        (3, 3): np.sqrt(8) * rho**3,
        (4, 0): np.sqrt(5) * (6 * rho**4 - 6 * rho**2 + 1),
        (4, 2): np.sqrt(10) * (4 * rho**4 - 3 * rho**2),
        (4, 4): np.sqrt(10) * rho**4,
        (5, 1): np.sqrt(12) * (10 * rho**5 - 12 * rho**3 + 3 * rho),
        (6, 0): np.sqrt(7) * (20 * rho**6 - 30 * rho**4 + 12 * rho**2 - 1),
    }[(n, abs(m))]
    return radial * angle


def screens(dice, size, per_r0):
    """Two independent Kolmogorov screens, rad, with `per_r0` places in r0, and slow parts added below the grid's own."""
    f = np.fft.fftfreq(size)
    fx, fy = np.meshgrid(f, f)
    k = np.hypot(fx, fy)
    k[0, 0] = np.inf
    spectrum = np.sqrt(0.023) * per_r0 ** (-5 / 6) * k ** (-11 / 6)
    noise = dice.normal(size=(size, size)) + 1j * dice.normal(size=(size, size))
    whole = np.fft.ifft2(noise * spectrum) * size * size / size
    out = [whole.real.copy(), whole.imag.copy()]
    y, x = np.mgrid[0:size, 0:size] / size
    for n in range(1, 4):
        step = 3.0**-n
        for a in (-1, 0, 1):
            for b in (-1, 0, 1):
                if a == 0 and b == 0:
                    continue
                kk = np.hypot(a, b) * step / size
                amp = np.sqrt(0.023) * per_r0 ** (-5 / 6) * kk ** (-11 / 6) * step / size
                turn = 2 * np.pi * step * (a * x + b * y)
                for one in out:
                    g = dice.normal(size=2)
                    one += amp * (g[0] * np.cos(turn) + g[1] * np.sin(turn))
    return out


def pair(seed, seeing_arcsec=None, fault=""):
    dice = np.random.default_rng(seed)
    aperture, focal = (150.0, 1200.0) if seed % 4 else (200.0, 1200.0)
    if seeing_arcsec is not None:
        aperture = 150.0
    ratio = focal / aperture
    seeing = dice.uniform(1.2, 3.0) if seeing_arcsec is None else seeing_arcsec
    grid = (np.arange(PUPIL) + 0.5) * 2 / PUPIL - 1
    x, y = np.meshgrid(grid, grid)  # x along columns, y upward along rows
    rho, theta = np.hypot(x, y), np.arctan2(y, x)
    truth = {
        "spherical": dice.uniform(-0.15, 0.15),
        "astigmatism": [0.0, 0.0],
        "coma": [0.0, 0.0],
        "threefold": [0.0, 0.0],
    }
    wave = truth["spherical"] * noll(4, 0, rho, theta)
    for name, (n, m), most in (
        ("astigmatism", (2, 2), 0.13),
        ("coma", (3, 1), 0.08),
        ("threefold", (3, 3), 0.06),
    ):
        size, way = dice.uniform(0, most), dice.uniform(0, 2 * np.pi)
        if dice.uniform() < 0.25:
            size = 0.0
        truth[name] = [size * np.cos(way), size * np.sin(way)]
        wave += truth[name][0] * noll(n, m, rho, theta) + truth[name][1] * noll(n, -m, rho, theta)
    for n, m in ((4, 2), (4, -2), (4, 4), (4, -4), (5, 1), (5, -1), (6, 0)):
        wave += dice.normal(0, 0.008) * noll(n, m, rho, theta)
    edge = -dice.uniform(0.1, 0.5) if dice.uniform() < 0.4 else 0.0
    width = dice.uniform(0.03, 0.07)
    raw = np.exp((rho - 1) / width)
    # what the edge adds to spherical over the whole disc belongs to it
    fine = (np.arange(20000) + 0.5) / 20000
    q = np.sqrt(fine)
    truth["spherical"] += float(edge * np.mean(np.exp((q - 1) / width) * np.sqrt(5) * (6 * fine**2 - 6 * fine + 1)))
    wave += edge * raw
    truth["edge"] = edge
    hole = dice.uniform(0.16, 0.3)
    off = dice.uniform(-0.015, 0.015, size=2)
    vanes = (np.abs(x) < 0.006) | (np.abs(y) < 0.006)

    def soft(r, edge_at):
        return np.clip((edge_at - r) * PUPIL / 2 + 0.5, 0, 1)

    open_ = soft(rho, 1.0) * (1 - soft(np.hypot(x - off[0], y - off[1]), hole))
    open_ = open_ * np.where(vanes, 1 - min(1.0, 0.012 / (2 / PUPIL)), 1.0)
    unit = WAVELENGTH * 1e-6 / (aperture / 2) * 206264.806  # arcseconds of one wave over the half width
    per_wave = 8 * WAVELENGTH * 1e-6 * ratio**2  # mm of travel
    r0 = 0.98 * WAVELENGTH * 1e-6 / (seeing / 206264.806)  # mm
    disc_px = dice.uniform(18, 40)
    kind, curve = tone_curve(dice, 0.35)
    zero = dice.normal(0, 0.04)
    written, defoci, images = [], [], []
    camera = None
    sides = [("inside", 1 if fault == "wrong" else -1), ("outside", 1)]
    for side, sign in sides:
        waves = dice.uniform(3.2, 5.5)
        defoci.append(sign * waves)
        said = waves * per_wave + sign * zero + dice.normal(0, 0.05)
        written.append(round(float(said), 2))
        if camera is None:
            camera = disc_px / (2 * waves)  # pixels in a slope unit
        radius_px = 2 * waves * camera
        half = int(np.ceil(2.3 * radius_px))
        twice = 2
        place = (np.arange(2 * half * twice) + 0.5) / twice - half
        shift = dice.uniform(-0.15, 0.15, size=2) * radius_px
        stretch = 1 + dice.normal(0, 0.002)
        tx = (place - shift[0]) * stretch / camera
        ty = (place - shift[1]) / camera
        light = np.zeros((len(place), len(place)))
        per_r0 = r0 / (aperture / PUPIL)
        a, b = screens(dice, 512, per_r0 * 2 ** (3 / 5))
        frames = int(dice.integers(24, 60))
        drift, walk = dice.normal(0, 0.15, size=2), np.zeros(2)
        if fault == "moved" and side == "inside":
            drift = np.array([1.5 * waves, 0.0])  # the disc is 4 x waves wide, the way twice the drift
        pa, pb = dice.integers(0, 512, size=2), dice.integers(0, 512, size=2)
        va, vb = dice.integers(-40, 40, size=2), dice.integers(-40, 40, size=2)
        for frame in range(frames):
            pa, pb = pa + va, pb + vb
            if frame % 10 == 9:  # wrapped paths would repeat
                pa, pb = dice.integers(0, 512, size=2), dice.integers(0, 512, size=2)
            ia = np.ix_((pa[0] + np.arange(PUPIL)) % 512, (pa[1] + np.arange(PUPIL)) % 512)
            ib = np.ix_((pb[0] + np.arange(PUPIL)) % 512, (pb[1] + np.arange(PUPIL)) % 512)
            air = (a[ia] + b[ib]) * WAVELENGTH / (2 * np.pi)  # nm
            walk = 0.7 * walk + dice.normal(0, 0.12, size=2)
            move = walk + drift * (frame / frames - 0.5) * 2
            colours = [COLOURS[(frame + k) % 5] for k in (0, 2)]
            for nm, share in colours:
                phase = 2 * np.pi / nm * ((wave + sign * waves * rho**2) * WAVELENGTH + air)
                field = open_ * np.exp(1j * phase)
                to = WAVELENGTH / nm
                ex = np.exp(-2j * np.pi * to * np.outer(tx - move[0], grid))
                ey = np.exp(-2j * np.pi * to * np.outer(ty - move[1], grid))
                light += share * to**2 * np.abs(ey @ field @ ex.T) ** 2
        # pixels, a little softness, rows from the top
        n = len(place) // twice
        light = light.reshape(n, twice, n, twice).sum(axis=(1, 3))
        f = np.fft.fftfreq(n)
        blur = dice.uniform(0.3, 0.8)
        mtf = np.exp(-2 * (np.pi * blur) ** 2 * (f[:, None] ** 2 + f[None, :] ** 2))
        light = np.maximum(0, np.fft.ifft2(np.fft.fft2(light) * mtf).real)[::-1]
        light /= np.quantile(light, 0.995)
        exposure = dice.uniform(0.35, 0.75)
        sky = dice.uniform(0.001, 0.012)
        grain = dice.uniform(0.004, 0.015)
        seen = exposure * light + sky
        seen = seen + grain * np.sqrt(seen + 0.02) * dice.normal(size=seen.shape)
        grey = np.clip(np.round(255 * curve(seen)), 0, 255).astype(np.uint8)
        images.append((grey, side))
    return {
        "seed": seed,
        "aperture": aperture,
        "focalLength": focal,
        "seeing": seeing,
        "truth": truth,
        "obstruction": hole,
        "defocusTrue": defoci,
        "tone": kind,
        "photos": [
            {
                "side": side,
                "defocus": written[k],
                "width": grey.shape[1],
                "height": grey.shape[0],
                "grey": base64.b64encode(grey.tobytes()).decode(),
            }
            for k, (grey, side) in enumerate(images)
        ],
    }


if __name__ == "__main__":
    first, count = int(sys.argv[1]), int(sys.argv[2])
    seeing = float(sys.argv[3]) if len(sys.argv) > 3 else None
    for seed in range(first, first + count):
        print(json.dumps(pair(seed, seeing, sys.argv[4] if len(sys.argv) > 4 else "")), flush=True)
