"""What an invented phone makes of light: for the benches of knife and star."""

import numpy as np


def tone_curve(dice, most=0.3):
    kind = dice.choice(["screen", "s-curve", "power"])
    strength = dice.uniform(0.1, most)
    gamma = dice.uniform(1.9, 2.5)

    def curve(x):
        x = np.maximum(0, x)
        if kind == "power":
            return x ** (1 / gamma)
        v = np.where(x <= 0.0031308, 12.92 * x, 1.055 * np.maximum(x, 1e-9) ** (1 / 2.4) - 0.055)
        if kind == "screen":
            return v
        v = np.minimum(1, v)
        return v + strength * v * (1 - v) * (2 * v - 1)

    return kind, curve
