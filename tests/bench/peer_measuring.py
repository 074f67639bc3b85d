"""numpy's versions of measuring.bench.ts: vectorised, one generator, no full sort where a partition will do."""
import numpy as np

from peer_quantity import summary


def radii(rng, n, given):
    """n draws of the weighted mean of three methods' radii, mm."""
    rim, chord, weights = given["rim"], given["chord"], given["weights"]
    leaf, tool, sun = given["leaves"], given["spherometer"], given["sun"]
    normal = rng.standard_normal

    full = leaf["depth"] + leaf["depthU"] * normal(n)
    more = rng.uniform(-leaf["tolerance"], leaf["tolerance"], (leaf["count"], n)).sum(0)
    more += rng.uniform(-leaf["film"], leaf["film"], (leaf["count"] - 1, n)).sum(0)
    whole = (rim * rim + full * full) / (2 * full)
    depth = chord * chord / (whole + np.sqrt((whole - chord) * (whole + chord))) + more
    half = chord + given["chordU"] * normal(n)
    by_leaves = (half * half + depth * depth) / (2 * depth)

    flat = tool["flat"] + tool["flatU"] * rng.standard_t(tool["flatDof"], n)
    mirror = tool["mirror"] + tool["mirrorU"] * rng.standard_t(tool["mirrorDof"], n)
    height = mirror - flat + rng.uniform(-tool["dial"], tool["dial"], (2, n)).sum(0)
    legs = tool["legs"] + tool["legsU"] * normal(n)
    ball = tool["ball"] + tool["ballU"] * normal(n)
    by_feet = (legs * legs + height * height) / (2 * height) + ball

    setting = sun["mean"] + sun["u"] * rng.standard_t(sun["dof"], n)
    by_sun = 2 * (setting + sun["rulerU"] * normal(n))
    return weights[0] * by_leaves + weights[1] * by_feet + weights[2] * by_sun


def curve_budget(given):
    """Whole arrays, as one writes it."""
    return lambda: summary(radii(np.random.default_rng(given["seed"]), given["trials"], given))


def curve_budget_blocks(given):
    """In blocks that stay in the processor's near memory, as one writes it after measuring."""
    n, block = given["trials"], 8192

    def run():
        rng, y = np.random.default_rng(given["seed"]), np.empty(n)
        for start in range(0, n, block):
            y[start:start + block] = radii(rng, min(block, n - start), given)
        return summary(y)

    return run


def curve_budget_first_order(given):
    """The law of propagation by the package uncertainties: each method's radius, their covariance, weights of least variance."""
    from uncertainties import covariance_matrix, ufloat, umath

    rim, chord = given["rim"], given["chord"]
    leaf, tool, sun = given["leaves"], given["spherometer"], given["sun"]
    even = 3**0.5

    def once():
        full = ufloat(leaf["depth"], leaf["depthU"])
        whole = (rim * rim + full * full) / (2 * full)
        depth = chord * chord / (whole + umath.sqrt((whole - chord) * (whole + chord)))
        for count, most in ((leaf["count"], leaf["tolerance"]), (leaf["count"] - 1, leaf["film"])):
            for _ in range(count):
                depth += ufloat(0, most / even)
        half = chord + ufloat(0, given["chordU"])
        by_leaves = (half * half + depth * depth) / (2 * depth)
        flat, mirror = ufloat(tool["flat"], tool["flatU"]), ufloat(tool["mirror"], tool["mirrorU"])
        height = mirror - flat + ufloat(0, tool["dial"] / even) + ufloat(0, tool["dial"] / even)
        legs = ufloat(tool["legs"], tool["legsU"])
        by_feet = (legs * legs + height * height) / (2 * height) + ufloat(tool["ball"], tool["ballU"])
        by_sun = 2 * (ufloat(sun["mean"], sun["u"]) + ufloat(0, sun["rulerU"]))
        radii = (by_leaves, by_feet, by_sun)
        inverse = np.linalg.inv(np.array(covariance_matrix(radii)))
        weights = inverse.sum(0) / inverse.sum()
        mean = sum(w * r for w, r in zip(weights, radii))
        shares = mean.error_components()
        return mean.nominal_value, mean.std_dev, shares

    def run():
        for _ in range(given["times"]):
            value, u, _ = once()
        return value, u

    return run
