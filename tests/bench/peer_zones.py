"""numpy's version of zones.bench.ts: the wavefronts that agree with the readings, weighed, drawn and judged in matrices."""
import numpy as np


def posterior(given):
    """10,000 draws; median and standard deviation of P-V, RMS, Strehl and conic, nm; u of the profile at the edge."""
    seen, wavefront = np.array(given["seen"]), np.array(given["wavefront"])
    profile = np.array(given["profile"])
    conic, places = np.array(given["conic"]), np.array(given["weights"])
    frequencies, y = np.array(given["frequencies"]), np.array(given["y"])
    variance, dof, count = np.array(given["variance"]), given["dof"], given["count"]
    sizes, usual = np.array(given["sizes"]), given["usualSize"]
    rows = np.vstack([wavefront, conic])
    turn = 2 * np.pi / given["wavelength"]
    line, n = seen[:, :2], len(y)

    def sines_of(length):
        raw = (5 / length**2 + frequencies**2) ** -1.5
        return raw / np.sqrt(raw @ raw / 2)

    def weigh():
        """Log weight of every length and size, all at once."""
        all_sines = np.array([sines_of(length) for length in given["lengths"]])
        waves = seen[:, 2:] * all_sines[:, None, :]
        overlap = waves @ waves.transpose(0, 2, 1)
        spread = overlap[:, None] * sizes[:, None, None] ** 2 + np.diag(variance)
        lower = np.linalg.cholesky(spread)
        both = np.linalg.solve(lower, np.broadcast_to(np.column_stack([line, y]), spread.shape[:2] + (n, 3)))
        flat, level = both[..., :2], both[..., 2]
        gram = flat.swapaxes(-1, -2) @ flat
        root = np.linalg.cholesky(gram)
        along = np.linalg.solve(root, (flat.swapaxes(-1, -2) @ level[..., None]))[..., 0]
        log_size = lambda m: np.log(np.diagonal(m, axis1=-2, axis2=-1)).sum(-1)
        t = sizes / usual
        fit = (level**2).sum(-1) - (along**2).sum(-1)
        return all_sines, np.log(t) - t - log_size(lower) - log_size(root) - fit / 2

    def run():
        rng = np.random.default_rng(1)
        all_sines, log_weight = weigh()
        share = np.exp(log_weight - log_weight.max())
        share /= share.sum()
        kept = np.argwhere(share > 1e-3)
        part = share[tuple(kept.T)]
        ends = np.rint(np.cumsum(part) / part.sum() * count).astype(int)
        ends[-1] = count
        pv, rms, strehl, k = (np.empty(count) for _ in range(4))
        start, first, second = 0, 0.0, 0.0
        for (i, j), end in zip(kept, ends):
            prior = np.concatenate([[0, 0], (all_sines[i] * sizes[j]) ** -2])
            precision = (seen.T / variance) @ seen + np.diag(prior)
            lower = np.linalg.cholesky(precision)
            loose = np.linalg.solve(lower, rows.T)
            coefficients = np.linalg.solve(precision, seen.T @ (y / variance))
            middle = rows @ coefficients
            level, wide = profile @ coefficients, (np.linalg.solve(lower, profile.T) ** 2).sum(0)
            first += share[i, j] * level
            second += share[i, j] * (level**2 + dof / (dof - 2) * wide)
            size = (loose**2).sum(1)
            loose = loose[size > 1e-6 * size.max()]
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
        return [f(x) for x in (pv, rms, strehl, k) for f in (np.median, np.std)] + [edge]

    return run
