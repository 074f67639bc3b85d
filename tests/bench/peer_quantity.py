"""numpy's versions of quantity.bench.ts."""
import numpy as np


def shortest(y, p):
    """Shortest interval that holds the share p: only the two tails outside it are put in order."""
    held = round(p * y.size)
    outside = y.size - held
    parted = np.partition(y, (outside - 1, held))
    low = np.sort(parted[:outside])
    high = np.sort(parted[held:])
    best = np.argmin(high - low)
    return low[best], high[best]


def summary(y):
    low, high = shortest(y, 0.95)
    return y.mean(), y.std(ddof=1), low, high


def radius(given):
    """Radius from a depth by Student's t and half a chord, mm."""
    n = given["trials"]

    def run():
        rng = np.random.default_rng(1)
        depth = 1.17 + 0.01 * rng.standard_t(5, n)
        half = 74 + 0.15 * rng.standard_normal(n)
        return summary((half * half + depth * depth) / (2 * depth))

    return run


def shortest_of_draws(given):
    """The given draws' shortest interval."""
    y = np.array(given)
    return lambda: shortest(y, 0.95)
