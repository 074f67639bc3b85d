"""numpy's version of zones.bench.ts: the wavefronts of many makes of surface, drawn and judged in matrices."""
import numpy as np


def draws(given):
    """10,000 draws; mean, standard deviation and 95 % interval of P-V, RMS, Strehl and conic, nm."""
    makes = [
        (np.array(make["middle"]), np.array(make["columns"]), make["count"]) for make in given["makes"]
    ]
    places = np.array(given["weights"])
    turn, dof, count = 2 * np.pi / given["wavelength"], given["dof"], given["count"]

    def run():
        rng = np.random.default_rng(1)
        pv, rms, strehl, k = (np.empty(count) for _ in range(4))
        cuts = [round(0.025 * (count - 1)), round(0.975 * (count - 1))]
        all_, reached, start = sum(n for _, _, n in makes), 0, 0
        for middle, columns, n in makes:
            reached += n
            end = round(reached / all_ * count)
            m = end - start
            z = rng.standard_normal((m, len(columns)))
            z *= np.sqrt(dof / rng.chisquare(dof, m))[:, None]
            drawn = middle + z @ columns
            w = drawn[:, :-1]
            pv[start:end] = w.max(1) - w.min(1)
            rms[start:end] = np.sqrt((w * w) @ places)
            phase = turn * w
            strehl[start:end] = (np.cos(phase) @ places) ** 2 + (np.sin(phase) @ places) ** 2
            k[start:end] = drawn[:, -1]
            start = end
        told = []
        for x in (pv, rms, strehl, k):
            told += [x.mean(), x.std(), *np.partition(x, cuts)[cuts]]
        return told

    return run
