"""
Invented photographs of Ronchi bands by another route than the fit: exact optical paths over the glass, the wave behind the grating as a sum of
copies of the pupil, each order's moved by its own shear; a wide lamp behind the same grating; a phone's curve, noise, eight bits.

    /usr/bin/python3 tests/testing/bands/bandsBench.py < BENCH

BENCH is JSON: aperture, radius (mm), lines (1/mm), seed, mirror and stand (lists of [n, height at the rim in nm, degrees from mark or top]: the
glass is higher by height (r / a)^n cos n (angle - degrees)), conic, views ([{mark, turn, offset}], deg counter-clockwise, mm).
Prints one JSON list of pictures: width, height, grey as base64.
"""

import base64
import json
import sys

import numpy as np

COLOURS = [(530.0, 0.3), (550.0, 0.4), (570.0, 0.3)]
ORDERS = 7
DUTY = 0.5


def picture(bench, view, dice):
    half, radius, lines = bench["aperture"] / 2, bench["radius"], bench["lines"]
    width, height, disc = 220, 200, 80.0
    fine = 2  # places in a pixel each way
    middle = (width / 2 + dice.uniform(-3, 3), height / 2 + dice.uniform(-3, 3))
    px, py = np.meshgrid((np.arange(width * fine) + 0.5) / fine, (np.arange(height * fine) + 0.5) / fine)
    x, y = (px - middle[0]) / disc * half, -(py - middle[1]) / disc * half
    turn = np.radians(view["turn"])
    distance = radius + view["offset"]

    def path(x, y):
        rho2 = (x * x + y * y) / half**2
        r2 = x * x + y * y
        from_top = np.degrees(np.arctan2(y, x)) - 90
        bumps = 0
        for faults, start in ((bench["mirror"], view["mark"]), (bench["stand"], 0.0)):
            for n, size, axis in faults:
                bumps = bumps + size * rho2 ** (n / 2) * np.cos(np.radians(n * (from_top - start - axis)))
        # a conic's sagitta, exactly
        z = r2 / (radius * (1 + np.sqrt(1 - (1 + bench["conic"]) * r2 / radius**2))) + bumps * 1e-6
        return 2 * np.sqrt(r2 + (distance - z) ** 2) - 2 * distance

    orders = np.arange(-ORDERS, ORDERS + 1)
    strength = DUTY * np.sinc(orders * DUTY)
    light = np.zeros(x.shape)
    for nm, share in COLOURS:
        wave = nm * 1e-6
        shear = wave * distance * lines
        copies = []
        for m, c in zip(orders, strength):
            # the wave that order m sends here left the pupil beside
            xs, ys = x - m * shear * np.cos(turn), y - m * shear * np.sin(turn)
            open_ = np.clip((half - np.hypot(xs, ys)) * disc * fine / half + 0.5, 0, 1)
            copies.append(c * open_ * np.exp(2j * np.pi / wave * path(xs, ys)))
        # a lamp behind the same lines: places of it an order's phase apart see one another as the lines are open
        see = np.sinc((orders[:, None] - orders[None, :]) * DUTY)
        for a in range(len(orders)):
            for b in range(a + 1):
                if abs(see[a, b]) < 1e-6:
                    continue
                both = (copies[a] * np.conj(copies[b])).real * see[a, b]
                light += share * (both if a == b else 2 * both)
    light = light.reshape(height, fine, width, fine).mean(axis=(1, 3))
    light = light / np.quantile(light, 0.98)
    seen = 0.7 * light + 0.01
    seen = seen + 0.008 * np.sqrt(seen + 0.01) * dice.normal(size=seen.shape)
    curve = np.where(seen <= 0.0031308, 12.92 * seen, 1.055 * np.maximum(seen, 1e-9) ** (1 / 2.4) - 0.055)
    grey = np.clip(np.round(255 * curve), 0, 255).astype(np.uint8)
    return {"width": width, "height": height, "grey": base64.b64encode(grey.tobytes()).decode()}


bench = json.load(sys.stdin)
dice = np.random.default_rng(bench["seed"])
print(json.dumps([picture(bench, view, dice) for view in bench["views"]]))
