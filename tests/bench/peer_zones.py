"""numpy's version of zones.bench.ts: the wavefronts that agree with the readings, weighed, drawn and judged in matrices."""
import numpy as np


def posterior(given):
    """10,000 draws; mean, standard deviation and 95 % interval of P-V, RMS, Strehl and conic, nm; u of the profile at the edge."""
    seen, wavefront = np.array(given["seen"]), np.array(given["wavefront"])
    profile = np.array(given["profile"])
    conic, places = np.array(given["conic"]), np.array(given["weights"])
    y, variance = np.array(given["y"]), np.array(given["variance"])
    dof, count, least = given["dof"], given["count"], given["leastShare"]
    kinds = [
        {**kind, "deviations": np.array(kind["deviations"]), "sizes": np.array(kind["sizes"])}
        for kind in given["kinds"]
    ]
    rows = np.vstack([wavefront, conic])
    turn = 2 * np.pi / given["wavelength"]
    line, n = seen[:, :2], len(y)

    def columns_of(kind):
        """The line's and this kind's."""
        return np.r_[0:2, kind["from"]:kind["from"] + len(kind["deviations"])]

    def weigh():
        """Log weight of every kind and size, all at once."""
        overlaps = []
        for kind in kinds:
            waves = seen[:, columns_of(kind)[2:]] * kind["deviations"]
            overlaps.append(kind["sizes"][:, None, None] ** 2 * (waves @ waves.T))
        lower = np.linalg.cholesky(np.concatenate(overlaps) + np.diag(variance))
        both = np.linalg.solve(lower, np.broadcast_to(np.column_stack([line, y]), (len(lower), n, 3)))
        flat, level = both[..., :2], both[..., 2]
        gram = flat.swapaxes(-1, -2) @ flat
        root = np.linalg.cholesky(gram)
        along = np.linalg.solve(root, (flat.swapaxes(-1, -2) @ level[..., None]))[..., 0]
        log_size = lambda m: np.log(np.diagonal(m, axis1=-2, axis2=-1)).sum(-1)
        t = np.concatenate([kind["sizes"] / kind["usual"] for kind in kinds])
        share = np.concatenate([np.full(len(kind["sizes"]), kind["share"]) for kind in kinds])
        fit = (level**2).sum(-1) - (along**2).sum(-1)
        return np.log(share * t) - t - log_size(lower) - log_size(root) - fit / 2

    def run():
        rng = np.random.default_rng(1)
        log_weight = weigh()
        share = np.exp(log_weight - log_weight.max())
        share /= share.sum()
        kept = np.flatnonzero(share > least)
        part = share[kept]
        ends = np.rint(np.cumsum(part) / part.sum() * count).astype(int)
        ends[-1] = count
        candidates = [(kind, size) for kind in kinds for size in kind["sizes"]]
        pv, rms, strehl, k = (np.empty(count) for _ in range(4))
        start, first, second = 0, 0.0, 0.0
        cuts = [round(0.025 * (count - 1)), round(0.975 * (count - 1))]
        for at, end in zip(kept, ends):
            kind, size = candidates[at]
            used = columns_of(kind)
            prior = np.concatenate([[0, 0], (kind["deviations"] * size) ** -2])
            here, profile_here, rows_here = seen[:, used], profile[:, used], rows[:, used]
            lower = np.linalg.cholesky((here.T / variance) @ here + np.diag(prior))
            both = np.linalg.solve(
                lower, np.column_stack([here.T @ (y / variance), rows_here.T, profile_here.T])
            )
            known, loose, open_ = both[:, 0], both[:, 1:len(rows) + 1], both[:, len(rows) + 1:]
            middle, level, wide = loose.T @ known, open_.T @ known, (open_**2).sum(0)
            first += share[at] * level
            second += share[at] * (level**2 + dof / (dof - 2) * wide)
            spread = (loose**2).sum(1)
            loose = loose[spread > 1e-6 * spread.max()]
            m = end - start
            z = rng.standard_normal((m, len(loose)))
            z *= np.sqrt(dof / rng.chisquare(dof, m))[:, None]
            thrown = middle + z @ loose
            w = thrown[:, :-1]
            pv[start:end] = w.max(1) - w.min(1)
            rms[start:end] = np.sqrt((w * w) @ places)
            phase = turn * w
            strehl[start:end] = (np.cos(phase) @ places) ** 2 + (np.sin(phase) @ places) ** 2
            k[start:end] = thrown[:, -1]
            start = end
        first, second = first / part.sum(), second / part.sum()
        edge = np.sqrt(second[-1] - first[-1] ** 2)
        told = []
        for x in (pv, rms, strehl, k):
            told += [x.mean(), x.std(), *np.partition(x, cuts)[cuts]]
        return told + [edge]

    return run
