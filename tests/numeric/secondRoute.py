"""
Random words and splines by another route: Python's own integers, and scipy's cubic spline.

    /usr/bin/python3 tests/numeric/secondRoute.py

Each line is a key and its values; tests/secondRoutes.test.ts looks for them in the tests whose comment names the key.
"""

import numpy as np
from scipy.interpolate import CubicSpline

MASK = 0xFFFFFFFF


def scramble(z):
    z = (z + 0x9E3779B9) & MASK
    z = ((z ^ (z >> 16)) * 0x21F0AAAD) & MASK
    z = ((z ^ (z >> 15)) * 0x735A2D97) & MASK
    return z ^ (z >> 15)


def words(seed, count):
    """sfc32 after twelve idle turns."""
    a, b = scramble(seed & MASK), scramble(((seed >> 32) + 0x9E3779B9) & MASK)
    c, counter, out = scramble(a ^ b), 1, []
    for _ in range(12 + count):
        word = (a + b + counter) & MASK
        counter = (counter + 1) & MASK
        a, b, c = b ^ (b >> 9), (c + (c << 3)) & MASK, (((c << 21) | (c >> 11)) + word) & MASK
        out.append(word)
    return out[12:]


pairs = words(7, 6)
print("uniform numbers:", *(f"{((hi >> 5) * 67108864 + (lo >> 6)) / 2**53:.17g}" for hi, lo in zip(pairs[::2], pairs[1::2])))
print("words of a long seed:", *words(123456789012345, 4))
spline = CubicSpline([0, 10, 22, 31, 45, 58, 70], [0, 1.5, -0.7, 2.2, 3.1, 0.4, -1], bc_type="natural")
print("natural spline:", *(f"{v:.15g}" for v in (spline(5), spline(40), spline(26, 1), spline.integrate(0, 70))))
