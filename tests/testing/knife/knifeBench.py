"""
Invented series of knife-edge photographs by another route than the fit: exact optical paths over the glass, the whole wave
carried by Fourier sums to the knife's plane, cut there for each point of the slit, and carried on to the mirror's image;
three colours, air that moves and air that stays, a phone's curve, distortion, shading, noise, eight bits.

    /usr/bin/python3 tests/testing/knife/knifeBench.py FIRST COUNT [WRONG]

Prints one JSON line for each bench: the glass on a square grid (nm), what the maker writes down, the pictures as base64.
WRONG is one of: mixed (two mirrors), reversed (the scale along the axis), side (the knife told from the other side),
cut (the disc by the picture's edge), burnt (overexposed).
"""

import base64
import json
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from phone import tone_curve

ACROSS = 144  # samples over the mirror
COLOURS = [(485.0, 0.2), (545.0, 0.5), (610.0, 0.3)]
GRID = 61


def terms(x, y):
    """Low shapes, mean square 1 over the disc, written out one by one: astigmatism, coma, threefold, fourfold, spherical."""
    q = x * x + y * y
    return {
        "a0": np.sqrt(6) * (x * x - y * y),
        "a45": np.sqrt(6) * 2 * x * y,
        "c0": np.sqrt(8) * (3 * q - 2) * x,
        "c90": np.sqrt(8) * (3 * q - 2) * y,
        "t0": np.sqrt(8) * (x**3 - 3 * x * y * y),
        "t30": np.sqrt(8) * (3 * x * x * y - y**3),
        "s": np.sqrt(5) * (6 * q * q - 6 * q + 1),
        "f0": np.sqrt(10) * (x**4 - 6 * x * x * y * y + y**4),
        "f22": np.sqrt(10) * 4 * (x**3 * y - x * y**3),
        "b0": np.sqrt(10) * (4 * q - 3) * (x * x - y * y),
        "b45": np.sqrt(10) * (4 * q - 3) * 2 * x * y,
    }


class Glass:
    """Height above the paraboloid, nm, at places of the unit disc."""

    def __init__(self, dice, departure):
        self.conic = dice.uniform(-0.35, 0.6) * min(1.0, 300 / departure) * departure  # nm at the rim, r^4
        size, way = dice.uniform(0, 45), dice.uniform(0, 2 * np.pi)
        if dice.uniform() < 0.25:
            size = 0.0
        rms = size / np.sqrt(6)
        self.low = {"a0": rms * np.cos(way), "a45": rms * np.sin(way)}
        for name, sigma in (("c0", 3), ("c90", 3), ("t0", 4), ("t30", 4), ("f0", 2.5), ("f22", 2.5), ("b0", 2), ("b45", 2)):
            self.low[name] = dice.normal(0, sigma)
        self.ring = (dice.normal(0, 18), dice.uniform(0.25, 0.8), dice.uniform(0.13, 0.25))
        self.middle = (dice.normal(0, 12), dice.uniform(0.15, 0.3))
        self.edge = (-dice.uniform(20, 120) if dice.uniform() < 0.5 else 0.0, dice.uniform(0.025, 0.07))
        count = 60  # rough glass: waves of 0.2 to 0.6 of the radius
        self.k = 2 * np.pi / dice.uniform(0.2, 0.6, size=count)
        self.way = dice.uniform(0, 2 * np.pi, size=count)
        self.phase = dice.uniform(0, 2 * np.pi, size=count)
        self.rough = dice.uniform(0.5, 2.5) * np.sqrt(2 / count)

    def __call__(self, x, y):
        r = np.hypot(x, y)
        out = self.conic * r**4
        low = terms(x, y)
        for name, value in self.low.items():
            out = out + value * low[name]
        out = out + self.ring[0] * np.exp(-((r - self.ring[1]) ** 2) / (2 * self.ring[2] ** 2))
        out = out + self.middle[0] * np.exp(-(r**2) / (2 * self.middle[1] ** 2))
        out = out + self.edge[0] * np.exp((np.minimum(r, 1.2) - 1) / self.edge[1])
        for k, way, phase in zip(self.k, self.way, self.phase):
            out = out + self.rough * np.cos(k * (x * np.cos(way) + y * np.sin(way)) + phase)
        return out


def behind_knife(paths, open_, u, out_u, distance, edges, weights):
    """
    Light on the mirror's image behind the knife, for sources whose images lie at `edges` before it: `paths` (mm) and
    `open_` over (u across the edge, v along it); light farther than each edge passes.
    """
    order = np.argsort(edges)[::-1]
    light = np.zeros((len(out_u), paths.shape[1]))
    for nm, share in COLOURS:
        wave = nm * 1e-6
        reach, step = 0.75, 0.0012
        at = np.arange(-reach, reach, step)
        field = (open_ * np.exp(2j * np.pi / wave * paths)).astype(np.complex64)
        turn = 2 * np.pi / (wave * distance)
        spectrum = np.exp(-1j * turn * np.outer(at, u)).astype(np.complex64) @ field
        scale = (u[1] - u[0]) * step / (wave * distance)
        back = (np.exp(1j * turn * np.outer(out_u, at)) * scale).astype(np.complex64)
        # each sample of the plane stands for a stretch: the edge cuts one of them in part
        amplitude, before = np.zeros(light.shape, np.complex64), np.zeros(len(at))
        for k in order:
            passed = np.clip((at - edges[k]) / step + 0.5, 0, 1)
            new = passed - before
            some = np.nonzero(new)[0]
            cut = slice(some[0], some[-1] + 1)
            amplitude = amplitude + (back[:, cut] * new[cut].astype(np.float32)) @ spectrum[cut]
            before = passed
            light += share * weights[k] * np.abs(amplitude) ** 2
    return light


def bilinear(values, x, y):
    i, j = np.floor(x).astype(int), np.floor(y).astype(int)
    i, j = np.clip(i, 0, values.shape[1] - 2), np.clip(j, 0, values.shape[0] - 2)
    a, b = np.clip(x - i, 0, 1), np.clip(y - j, 0, 1)
    return (
        values[j, i] * (1 - a) * (1 - b)
        + values[j, i + 1] * a * (1 - b)
        + values[j + 1, i] * (1 - a) * b
        + values[j + 1, i + 1] * a * b
    )


def bench(seed, wrong=""):
    dice = np.random.default_rng(seed)
    aperture, radius = [(150.0, 2400.0), (150.0, 2400.0), (114.0, 1824.0), (200.0, 2800.0)][seed % 4]
    half = aperture / 2
    departure = half**4 / (8 * radius**3) * 1e6
    glass = Glass(dice, departure)
    other = Glass(dice, departure)
    is_round = dice.uniform() < 0.3
    slit = dice.uniform(0.02, 0.05)
    said_slit = slit * (1 + dice.normal(0, 0.08))
    zero, zero_across = dice.uniform(-0.4, 0.4), dice.uniform(-0.03, 0.03, size=2)
    travel = half**2 / (2 * radius)
    places = np.linspace(-0.05, 1.15, 6) * travel
    kind, curve = tone_curve(dice)
    disc_px = dice.uniform(105, 150)
    width, height = 380, 340
    middle = np.array([width / 2, height / 2]) + dice.uniform(-8, 8, size=2)
    if wrong == "cut":
        middle[0] = disc_px * 0.72
    stretch = dice.normal(0, 0.002, size=2)
    barrel = dice.normal(0, 0.003)
    shade = dice.uniform(0.0, 0.2)
    lean = dice.uniform(-0.12, 0.12, size=2)
    exposure0, sky = dice.uniform(0.35, 0.58), dice.uniform(0.0005, 0.006)
    if wrong == "burnt":
        exposure0 *= 3
    grain = dice.uniform(0.006, 0.02)
    auto = dice.uniform() < 0.3
    turn0 = dice.normal(0, 0.4)  # the knife is not quite upright
    pixels_x, pixels_y = np.meshgrid(np.arange(width) + 0.5, np.arange(height) + 0.5)
    u = ((np.arange(ACROSS) + 0.5) / ACROSS * 2 - 1) * half * 1.0
    out = np.linspace(-1.12, 1.12, 170) * half
    shots = []
    for direction, degrees in enumerate((0.0, 90.0)):
        angle = np.radians(degrees + turn0 + dice.normal(0, 0.3))
        ux, uy = np.cos(angle), np.sin(angle)
        for n, place in enumerate(places):
            mirror = other if wrong == "mixed" and (n % 2) else glass
            true_at = place + dice.normal(0, 0.008)
            said_at = place + zero
            distance = radius + true_at
            uu, vv = np.meshgrid(u / half, u / half, indexing="ij")
            x, y = uu * ux - vv * uy, uu * uy + vv * ux
            r2 = (x * x + y * y) * half * half
            z = r2 / (2 * radius) + mirror(x, y) * 1e-6
            still = {name: dice.normal(0, 2.5) for name in ("a0", "a45", "c0", "c90", "t0", "t30", "s")}
            low = terms(x, y)
            base = 2 * np.sqrt(r2 + (distance - z) ** 2) - 2 * distance
            for name, value in still.items():
                base = base + value * 1e-6 * low[name]
            open_ = np.clip((1 - np.hypot(x, y)) * ACROSS / 2 + 0.5, 0, 1)
            # the maker pushes the knife in until about half of the light is gone, now more, now less
            inside = open_ > 0.5
            rays = (np.gradient(base, u, axis=0) * distance)[inside]
            wanted = np.quantile(rays, dice.uniform(0.3, 0.7)) + dice.normal(0, 0.004)
            said_across = wanted + zero_across[direction] + dice.normal(0, 0.003)
            frames, light = 3, 0
            for _ in range(frames):
                moving = sum(dice.normal(0, 6) * 1e-6 * low[name] for name in ("a0", "a45", "c0", "c90", "s"))
                shake = dice.normal(0, 0.0025)
                count = 11
                s = ((np.arange(count) + 0.5) / count - 0.5) * slit
                weight = np.sqrt(1 - (2 * s / slit) ** 2) if is_round else np.ones(count)
                weight = weight / weight.sum()
                light = light + behind_knife(
                    base + moving, open_, u, out, distance, wanted + shake + s, weight
                ) / frames
            # through the phone: place, stretch and barrel of the disc
            cx, cy = middle + dice.normal(0, 0.8, size=2)
            px = (pixels_x - cx) / disc_px
            py = -(pixels_y - cy) / disc_px
            bend = 1 + barrel * (((pixels_x - width / 2) ** 2 + (pixels_y - height / 2) ** 2) / (width / 2) ** 2)
            px, py = px * bend * (1 + stretch[0]), py * bend * (1 - stretch[0])
            px, py = px + stretch[1] * py, py + stretch[1] * px
            pu, pv = px * ux + py * uy, -px * uy + py * ux
            iu = (pu * half - out[0]) / (out[1] - out[0])
            iv = (pv * half - u[0]) / (u[1] - u[0])
            fine = bilinear(np.pad(light, ((1, 1), (1, 1))), iv + 1, iu + 1)
            far = (np.abs(pu) > 1.12) | (np.abs(pv) > 1.0)
            fine = np.where(far, 0, fine)
            rho2 = px**2 + py**2
            fine = fine * (1 - shade * rho2) * (1 + lean[0] * px + lean[1] * py)
            f, g = np.fft.fftfreq(width), np.fft.fftfreq(height)
            soft = dice.uniform(0.5, 1.0)
            mtf = np.exp(-2 * (np.pi * soft) ** 2 * (f[None, :] ** 2 + g[:, None] ** 2))
            fine = np.maximum(0, np.fft.ifft2(np.fft.fft2(fine) * mtf).real)
            gain = exposure0 / np.quantile(fine, 0.98) if auto else exposure0 * np.exp(dice.normal(0, 0.01))
            seen = gain * fine + sky
            seen = seen + grain * np.sqrt(seen + 0.01) * dice.normal(size=seen.shape) * 0.7
            grey = np.clip(np.round(255 * curve(seen)), 0, 255).astype(np.uint8)
            shots.append(
                {
                    "at": round(float(-said_at if wrong == "reversed" else said_at), 3),
                    "across": round(float(said_across), 3),
                    "knife": degrees + (180.0 if wrong == "side" else 0.0),
                    "grey": base64.b64encode(grey.tobytes()).decode(),
                }
            )
    line = np.linspace(-1, 1, GRID)
    gx, gy = np.meshgrid(line, line)
    heights = glass(gx, gy)
    return {
        "seed": seed,
        "aperture": aperture,
        "radius": radius,
        "slit": round(float(said_slit), 3),
        "round": bool(is_round),
        "tone": str(kind),
        "grid": GRID,
        "width": width,
        "height": height,
        "heights": [round(float(v), 3) for v in heights.ravel()],
        "photos": shots,
        "truth": {"disc": disc_px, "middle": [float(v) for v in middle], "zero": zero, "slit": slit},
    }


if __name__ == "__main__":
    first, count = int(sys.argv[1]), int(sys.argv[2])
    for number in range(first, first + count):
        print(json.dumps(bench(number, sys.argv[3] if len(sys.argv) > 3 else "")), flush=True)
